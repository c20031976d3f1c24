"""What the board says, ready to be printed on a page or a sheet."""

from dataclasses import dataclass
from datetime import date

from jobs.board.asked import MOST_LISTED
from jobs.board.standings import Note, Stood
from jobs.handover.models import SeasonVisit
from jobs.records.models import Job
from jobs.records.services import Standing

MOST_CLOSING = 8


@dataclass(frozen=True, slots=True)
class Row:
    """A job on the board; `shown` is the kind of thing it is asked for, empty for whatever comes first."""

    stood: Stood
    shown: str
    day: date

    @property
    def standing(self) -> Standing:
        found = self.stood.standing
        return found.by_kind[self.shown] if self.shown else found

    @property
    def days(self) -> int:
        return self.standing.days(on=self.day)


@dataclass(frozen=True, slots=True)
class Due:
    """A visit of the season that comes up, or is late when the days are below zero."""

    visit: SeasonVisit
    days: int

    @property
    def late_days(self) -> int:
        return max(0, -self.days)


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
    visits: tuple[Due, ...]  # the first few that are due, and one more if there are more
    notes: tuple[Note, ...]  # things that several jobs wait for
    filters: tuple[Shown, ...]
    shown: str
    page: int
    pages: int
    is_new: bool

    @property
    def has_notes(self) -> bool:
        return bool(self.closing or self.notes or self.visits)

    @property
    def first_closing(self) -> tuple[Closing, ...]:
        return self.closing[:MOST_CLOSING]

    @property
    def later_closing(self) -> tuple[Closing, ...]:
        return self.closing[MOST_CLOSING:]

    @property
    def first_visits(self) -> tuple[Due, ...]:
        return self.visits[:MOST_LISTED]

    @property
    def has_more_visits(self) -> bool:
        return len(self.visits) > MOST_LISTED

    @property
    def before(self) -> int | None:
        return self.page - 1 if self.page > 1 else None

    @property
    def after(self) -> int | None:
        return self.page + 1 if self.page < self.pages else None
