"""What stands at the head and the foot of a quote, both copies."""

import base64
from dataclasses import dataclass
from typing import Any

from contractor.company import current
from contractor.company.models import Company, Staff
from estimating.engine.result_file import CAUTION

from .worked import WorkedQuote


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The firm at the head of a paper."""

    name: str
    lines: tuple[str, ...]
    logo: str = ""  # as data, so that a paper fetches nothing


def heading(worked: WorkedQuote, *, by: Staff) -> dict[str, Any]:
    """What stands at the head and the foot of both copies."""
    return {
        "head": letterhead(current.firm()),
        "quote": worked.quote,
        "facts": worked.facts,
        "on": worked.on,
        "by": by.name,
        "caution": CAUTION,
    }


def letterhead(company: Company) -> Letterhead:
    contact = ", ".join(part for part in (*company.address_lines, company.phone, company.email) if part)
    registered = ". ".join(part.rstrip(".") for part in (company.registration_line, company.insurance_line) if part)
    return Letterhead(company.name, tuple(part for part in (contact, registered) if part), _logo(company))


def _logo(company: Company) -> str:
    if not company.logo:
        return ""
    with company.logo.open("rb") as picture:
        return "data:image/png;base64," + base64.b64encode(picture.read()).decode()
