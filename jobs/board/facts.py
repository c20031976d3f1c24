"""What the board says, ready to be printed on a page or a sheet."""

from dataclasses import dataclass
from datetime import date

from jobs.records.models import Job
from jobs.records.services import Standing
from jobs.supply.services.advice import RollUp


@dataclass(frozen=True, slots=True)
class Row:
    standing: Standing
    days: int


@dataclass(frozen=True, slots=True)
class Group:
    title: str
    rows: tuple[Row, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Closing:
    """A date after which something no longer holds."""

    on: date
    days: int
    job: Job
    what: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A filter of the board: its word in the address, how it reads, how many jobs it shows."""

    name: str
    words: str
    count: int


@dataclass(frozen=True, slots=True)
class Board:
    summary: str  # one sentence of totals; empty when no job was ever opened
    groups: tuple[Group, ...]  # of this page
    closing: tuple[Closing, ...]
    rolled: tuple[RollUp, ...]  # things that several jobs wait for
    filters: tuple[Shown, ...]
    shown: str
    page: int
    pages: int
    is_new: bool

    @property
    def before(self) -> int | None:
        return self.page - 1 if self.page > 1 else None

    @property
    def after(self) -> int | None:
        return self.page + 1 if self.page < self.pages else None
