"""Open jobs with their papers: read in full only when something on them changed since they were last read."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from jobs.board.asked import JOBS, PERMITS, QUOTES, SPECS, Row, by_first
from jobs.records.models import Job
from jobs.records.services import with_papers
from jobs.schedule.services.facts import due_at_signing

Mark = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Ending:
    """A day on which a paper of the job runs out."""

    on: date
    what: str


@dataclass(frozen=True, slots=True)
class Papers:
    """A job as it was read in full. `mark` is everything its sentence may say; another mark means: read it again."""

    job: Job
    mark: Mark
    endings: tuple[Ending, ...]
    deposit: Decimal  # due at signing


@dataclass(frozen=True, slots=True)
class Folder:
    """Every open job with its papers, by id, newest first, and the rows that said so."""

    raw: tuple[list[Row], ...] = ()
    papers: dict[int, Papers] = field(default_factory=dict)


def folder_now(before: Folder) -> Folder:
    """The open jobs as they stand; those whose rows are the same as `before` are not read again."""
    raw = tuple(question.rows() for question in (JOBS, QUOTES, SPECS, PERMITS))
    if raw == before.raw:
        return before
    known, marks = before.papers, _marks(raw)
    changed = {pk for pk, mark in marks.items() if pk not in known or known[pk].mark != mark}
    jobs = with_papers(Job.objects.open().on_the_board().filter(pk__in=changed)) if changed else []
    read = {job.pk: Papers(job, marks[job.pk], _endings(job), deposit_of(job)) for job in jobs}
    papers = {pk: read[pk] if pk in read else known[pk] for pk in marks if pk in read or pk not in changed}
    return Folder(raw, papers)


def _marks(raw: tuple[list[Row], ...]) -> dict[int, Mark]:
    jobs, *papers = raw
    of_job = [by_first(rows) for rows in papers]
    return {row[0]: (row, *(rows.get(row[0]) for rows in of_job)) for row in jobs}


def _endings(job: Job) -> tuple[Ending, ...]:
    quotes = [(one.valid_until, f"price of quote {one.letter} ends") for one in job.quotes.all() if one.state == "sent"]
    permits = [(one.expires_on, f"permit of {one.authority} ends") for one in job.permits.all() if one.needed]
    return tuple(Ending(on, what) for on, what in (*quotes, *permits) if on)


def deposit_of(job: Job) -> Decimal:
    """What was to be paid at signing, by the quote that was accepted."""
    return due_at_signing(next((quote for quote in job.quotes.all() if quote.state == "accepted"), None))
