"""What a quote needs to know of the job it is for. The job's room fills it; this room never asks where from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Protocol

from contractor.company.models import Staff
from estimating.engine.reasons import Finding
from estimating.engine.result import Design


def nothing(dock: Design) -> tuple[Finding, ...]:
    return ()


@dataclass(frozen=True, slots=True)
class JobFacts:
    """The job in the words that stand on a quote."""

    number: str
    filed_under: str
    signers: tuple[str, ...]
    billing_address: tuple[str, ...]
    place: str  # road or lot
    water_body: str
    assumptions: tuple[str, ...]  # depth, bottom, access, level, as measured and when
    level_rows: tuple[tuple[str, float], ...]  # (name, inches on the datum), low to high
    datum: str
    tax_exempt_certificate: str = ""
    tax_exempt_until: date | None = None
    permit_words: str = ""
    against: Callable[[Design], tuple[Finding, ...]] = field(default=nothing, compare=False)  # what authorities say
    kept_checks: Mapping[str, str] = field(default_factory=dict)  # by what a Check says: who kept it, when and why


class QuotedJob(Protocol):
    """What the job's side answers to. Each hook runs inside the transaction that changed the quote."""

    pk: Any
    number: str

    def quote_facts(self) -> JobFacts: ...
    def spec_to_quote(self) -> tuple[str, Mapping[str, Any]]: ...
    def quote_was_sent(self, quote, *, by: Staff) -> None: ...
    def quote_was_accepted(self, quote, *, by: Staff) -> None: ...
    def quote_was_refused(self, quote, *, by: Staff) -> None: ...
