"""Where every open job stands, worked out again only for the jobs that something changed for.

Everything a sentence is made of is asked each time, in a fixed number of light questions; a job whose facts are those
of the last time keeps the sentence it had. So the answer never depends on anybody saying what changed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from contractor.company.current import firm
from jobs.board.asked import MOST_LISTED, VISITS, WARNED
from jobs.board.ground import Ground, ground_now, ground_of
from jobs.board.papers import Folder, Mark, Papers, deposit_of, folder_now
from jobs.handover.models import SeasonVisit
from jobs.handover.services import dates_now
from jobs.records.services import Standing, standing_of
from jobs.supply.services.advice import Awaited, Named, RollUp, kept_words, most_awaited, rolled


@dataclass(eq=False, slots=True)
class Stood:
    """A job's standing with everything it was worked out from; `pages` keeps how it was written."""

    papers: Papers
    by_papers: Standing
    mark: Mark
    standing: Standing
    pages: dict[Any, str] = field(default_factory=dict)


@dataclass(eq=False, slots=True)
class Note:
    """A thing that several jobs wait for, with everything its words were worked out from."""

    mark: Mark
    words: RollUp
    pages: dict[Any, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Visits:
    """The first visits of the season that are due: one more than are shown, if there are more."""

    mark: Mark = ()
    first: tuple[SeasonVisit, ...] = ()


@dataclass(frozen=True, slots=True)
class Today:
    """All that the home page speaks of, as it stands on a day."""

    of: Mark = ()  # the day and the firm
    folder: Folder = field(default_factory=Folder)
    ground: Ground = field(default_factory=Ground)
    jobs: dict[int, Stood] = field(default_factory=dict)
    notes: dict[int, Note] = field(default_factory=dict)
    visits: Visits = field(default_factory=Visits)


class Standings:
    """What was worked out last. Two readers at once each work on their own copy; the later one is kept."""

    def __init__(self) -> None:
        self._last = Today()

    def on(self, day: date) -> Today:
        """Every open job and every note, as of a day."""
        self._last = _today(day, self._last)
        return self._last


def refined(standing: Standing, on: date) -> Standing:
    """One job's standing by its papers, with all that the other rooms know of it; for all jobs see `Standings`."""
    if standing.group == "ended":
        return standing
    job = standing.job
    return ground_of(job.pk, on).standing_of(Papers(job, (), (), deposit_of(job)), standing, on)


def _today(day: date, last: Today) -> Today:
    company = firm()
    named = (company.pk, company.version, company.units) if company else ()
    of = (day, named)
    if last.of[1:] != of[1:]:
        last = Today()
    folder, ground = folder_now(last.folder), ground_now(last.ground, day)
    visits = _visits(day, last.visits)
    if folder is last.folder and ground is last.ground and visits is last.visits and of == last.of:
        return last
    known = last.jobs if of == last.of else {}
    jobs = {pk: _stood(papers, ground, day, known.get(pk)) for pk, papers in folder.papers.items()}
    return Today(of, folder, ground, jobs, dict(_noted(folder, ground, day, last.notes)), visits)


def _visits(day: date, last: Visits) -> Visits:
    mark = (day, VISITS.rows(), WARNED.rows())
    if mark == last.mark:
        return last
    due = SeasonVisit.objects.due_by(day + timedelta(days=dates_now().remind_days))
    return Visits(mark, tuple(due.in_full()[: MOST_LISTED + 1]))


def _stood(papers: Papers, ground: Ground, day: date, old: Stood | None) -> Stood:
    mark, same_papers = ground.mark_of(papers.job.pk), old is not None and old.papers is papers
    if old and same_papers and old.mark == mark:
        return old
    by_papers = old.by_papers if old and same_papers else standing_of(papers.job, on=day)
    return Stood(papers, by_papers, mark, ground.standing_of(papers, by_papers, day))


def _noted(folder: Folder, ground: Ground, day: date, known: dict[int, Note]) -> Iterable[tuple[int, Note]]:
    needs = [need for served in ground.served.values() for need in served.needs if need.job_id in folder.papers]
    shared, kept = most_awaited(needs), None
    for pk, rows in shared.items():
        jobs = {row.job_id: folder.papers[row.job_id].job for row in rows}
        names = {number: Named(job.number, job.client.filed_under) for number, job in jobs.items()}
        served = ground.served[pk]
        mark = (day, ground.called[pk], rows, served.free, served.owed, names)
        old = known.get(pk)
        if old and old.mark == mark:
            yield pk, old
        else:
            kept = kept_words(shared) if kept is None else kept
            awaited = Awaited(ground.stocks[pk], rows, served.free, served.owed)
            yield pk, Note(mark, rolled(awaited, jobs=names, on=day, kept=kept))
