"""The shop's copy on paper: the build-up in its order, hours, goods, what to look at, and why. Never the customer's."""

from collections.abc import Sequence

from django.template.loader import render_to_string

from contractor.company import current
from contractor.company.models import Staff
from contractor.pdf import render_pdf

from .checks import is_below_floor
from .letterhead import heading
from .paper import STYLESHEETS
from .reading import build_up, finding_lines, hours_table, material_groups, option_lines
from .worked import WorkedQuote


def shop_html(worked: WorkedQuote, *, changes: Sequence[str], by: Staff) -> str:
    context = {
        **heading(worked, by=by),
        "changes": changes,
        "build": build_up(worked),
        "price": worked.estimate.price,
        "payments": worked.estimate.price.payments,
        "materials": material_groups(worked),
        "hours": hours_table(worked),
        "findings": finding_lines(worked),
        "options": option_lines(worked),
        "below_floor": is_below_floor(worked),
    }
    return render_to_string("print/quotes/shop.html", context)


def shop_paper(worked: WorkedQuote, *, changes: Sequence[str], by: Staff) -> bytes:
    html = shop_html(worked, changes=changes, by=by)
    return render_pdf(html, stylesheets=STYLESHEETS, page_size=current.firm().paper)
