"""The quote on paper: the customer's copy without a single cost, the shop's copy with all of them."""

import base64
from dataclasses import dataclass
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import mark_safe

from contractor.company import current
from contractor.company.models import Company, Staff, Units
from contractor.pdf import render_pdf
from estimating.engine.drawing import Drawing, Sheet, draw
from estimating.engine.result_file import CAUTION
from estimating.quotes.models import QuoteOption

from . import words
from .reading import build_up, finding_lines, material_groups, stage_rows
from .speech import speak
from .worked import WorkedQuote

DRAWING_PX = {"letter": 705, "a4": 690}
DRAWING_TALL_PX = 420
STYLESHEETS = ("css/print.css",)


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The firm at the head of a paper."""

    name: str
    lines: tuple[str, ...]
    logo: str = ""  # as data, so that a paper fetches nothing


def customer_html(worked: WorkedQuote, *, changes: list[str], by: Staff) -> str:
    """The customer's copy as a page for the press. No cost, hour, margin or reason is in its context."""
    company = current.firm()
    context = _customer_context(worked, company=company, changes=changes, by=by)
    return render_to_string("print/quotes/customer.html", context)


def customer_paper(worked: WorkedQuote, *, changes: list[str], by: Staff) -> bytes:
    html = customer_html(worked, changes=changes, by=by)
    return render_pdf(html, stylesheets=STYLESHEETS, page_size=current.firm().paper)


def shop_html(worked: WorkedQuote, *, changes: list[str], by: Staff) -> str:
    """The shop's copy: the build-up in its order, materials, hours, findings, and why."""
    company = current.firm()
    context = {
        **_heading(worked, company=company, by=by),
        "changes": changes,
        "build": build_up(worked),
        "price": worked.estimate.price,
        "materials": material_groups(worked),
        "stages": stage_rows(worked),
        "findings": finding_lines(worked),
        "options": worked.options,
        "below_floor_reason": worked.quote.below_floor_reason,
        "caution": CAUTION,
    }
    return render_to_string("print/quotes/shop.html", context)


def shop_paper(worked: WorkedQuote, *, changes: list[str], by: Staff) -> bytes:
    html = shop_html(worked, changes=changes, by=by)
    return render_pdf(html, stylesheets=STYLESHEETS, page_size=current.firm().paper)


def quote_drawing(worked: WorkedQuote, *, width_px: float, style: str, prefix: str, tall_px: float | None) -> Drawing:
    """Plan and side elevation of the quoted dock."""
    metric = current.units() == Units.METRIC
    sheet = Sheet(width_px=width_px, speak=speak, style=style, prefix=prefix, metric=metric, max_height_px=tall_px)
    return draw(worked.estimate.design, sheet)


def letterhead(company: Company) -> Letterhead:
    contact = ", ".join(part for part in (*company.address_lines, company.phone, company.email) if part)
    lines = tuple(part for part in (contact, ". ".join(_registered(company))) if part)
    return Letterhead(company.name, lines, _logo(company))


def _customer_context(worked: WorkedQuote, *, company: Company, changes: list[str], by: Staff) -> dict[str, Any]:
    drawing = quote_drawing(
        worked, width_px=DRAWING_PX[company.paper], style="paper", prefix="q", tall_px=DRAWING_TALL_PX
    )
    price = worked.estimate.price
    columns = words.level_columns(worked)
    return {
        **_heading(worked, company=company, by=by),
        "drawing": mark_safe(drawing.svg),
        "scale_words": drawing.scale_words,
        "scope": words.scope(worked),
        "columns": columns,
        "has_ramp_words": any(column.ramp for column in columns),
        "has_depth_words": any(column.under for column in columns),
        "inclusions": words.inclusions(worked),
        "price_line": words.price_line(worked),
        "price": price.price,
        "taxes": price.sales_taxes,
        "tax_line": "" if price.sales_taxes else words.tax_line(worked),
        "total": price.total,
        "currency": price.currency,
        "options": [_offered(option.option, option.amount) for option in worked.options],
        "payments": price.payments,
        "exclusions": words.exclusion_lines(worked),
        "assumptions": words.assumptions(worked),
        "people": words.people_words(worked),
        "changes": changes,
        "permit_words": worked.facts.permit_words,
        "caution": CAUTION,
    }


def _offered(option: QuoteOption, amount: Any) -> dict[str, Any]:
    return {"name": option.name, "words": option.words, "amount": amount}


def _heading(worked: WorkedQuote, *, company: Company, by: Staff) -> dict[str, Any]:
    return {
        "head": letterhead(company),
        "quote": worked.quote,
        "facts": worked.facts,
        "on": worked.on,
        "by": by.name,
    }


def _registered(company: Company) -> list[str]:
    return [part for part in (company.registration_line, company.insurance_line) if part]


def _logo(company: Company) -> str:
    if not company.logo:
        return ""
    with company.logo.open("rb") as picture:
        return "data:image/png;base64," + base64.b64encode(picture.read()).decode()
