"""One stage moved by hand: what it breaks and what else would move, before anything does."""

from dataclasses import dataclass, replace
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from contractor.company.journal import log_change
from contractor.company.models import Staff
from jobs.schedule.gates import Gate, read_gates
from jobs.schedule.models import Crew, DelayLog, JobStage
from jobs.schedule.planner.problem import Change, Start
from jobs.schedule.planner.solve import moved

from .facts import stage_facts
from .problem import Asked, StageDays, Work, days_of_visit, open_work, with_change
from .putting import BoardChanged, OffTheBoard, hold_board, mark_of_board, put_stages, take_off
from .shop import Shop, span_of
from .visits import Visit

SHIFTING = ("crew", "boat", "previous", "workday")  # gates that others make way for, or that are checked here


class NotThere(ValidationError):
    """The stage cannot stand there, whatever the reason given."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A move as it was asked for."""

    stage: JobStage
    crew: Crew
    start: date
    pin: bool = True


@dataclass(frozen=True, slots=True)
class Shift:
    """What another visit would do: its stages' new days, and why."""

    visit: Visit
    crew: Crew
    days: tuple[StageDays, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Preview:
    """A move worked out, not made. `mark` is the board it was worked out on."""

    wanted: Wanted
    days: tuple[StageDays, ...]
    shifts: tuple[Shift, ...]
    off: tuple[OffTheBoard, ...]
    broken: tuple[Gate, ...]
    mark: str

    @property
    def is_silent(self) -> bool:
        """Nothing else moves."""
        return not self.shifts and not self.off


@dataclass(frozen=True, slots=True)
class Said:
    """Why it is moved; needed where a gate is broken, kept as a delay where it starts later."""

    cause: str = "other"
    words: str = ""


def preview_move(wanted: Wanted, *, on: date) -> Preview:
    """What moving a stage to a day and crew would do. Raises NotThere."""
    if wanted.stage.is_done:
        raise NotThere("It is done already.")
    if wanted.start < on:
        raise NotThere({"start": f"Today is {Shop(on=on).say_day(on)}: work cannot be put on a day that is over."})
    work = open_work(on=on, asked=Asked(split=wanted.stage.key, as_it_stands=True))
    visit = work.visits[wanted.stage.key]
    days = _own_days(work, visit, wanted)
    problem = with_change(
        work, visit.key, start=wanted.start, crew=str(wanted.crew.pk), days=_worked(work, wanted, days)
    )
    starts = [start for start in work.standing.starts if start.stage != visit.key]
    own = Start(visit.key, visit.job.number, str(wanted.crew.pk), days[0].first, days[-1].last)
    told = moved(problem, _with(work, [*starts, own]), Change(visit.key, wanted.start, str(wanted.crew.pk)))
    shifts, off = [], []
    for one in told:
        other = work.visits[one.stage]
        if one.now is not None:
            team = work.shop.team_of(int(one.now.crew))
            shifts.append(Shift(other, team.crew, days_of_visit(other, one.now, work.shop), one.why))
        elif other.pinned_on:
            raise NotThere(f"{other.job.client.filed_under}, {other.name}, {one.why}. Move or unpin that first.")
        else:
            off += [OffTheBoard(stage, one.why) for stage in other.stages]
    broken = _broken(work, visit, days, wanted)
    return Preview(wanted, days, tuple(shifts), tuple(off), broken, mark_of_board())


@transaction.atomic
def move_stage(wanted: Wanted, *, seen_mark: str, said: Said, by: Staff, on: date) -> Preview:
    """Move a stage and all that was shown to move with it.

    Raises BoardChanged when the board is not the one that was looked at, NotThere, and ValidationError when a gate is
    broken and no reason is given.
    """
    hold_board()
    if mark_of_board() != seen_mark:
        raise BoardChanged
    preview = preview_move(wanted, on=on)
    if preview.broken and not said.words.strip():
        raise ValidationError({"words": "Say why it stands there before it may."})
    was = wanted.stage.starts_on
    pins = frozenset(one.stage.pk for one in preview.days) if wanted.pin else frozenset()
    put_stages(preview.days, by=by, pinned=pins)
    for shift in preview.shifts:
        put_stages(shift.days, by=by, did="moved with another")
    take_off([one.stage for one in preview.off], by=by)
    _log(wanted, was, said, preview, by)
    return preview


def _own_days(work: Work, visit: Visit, wanted: Wanted) -> tuple[StageDays, ...]:
    shop = work.shop
    team = shop.team_of(wanted.crew.pk)
    if team is None or not team.people:
        raise NotThere({"crew": f"{wanted.crew.name} has nobody in it."})
    if not shop.works(team, wanted.start):
        why = shop.holidays.get(wanted.start)
        raise NotThere(
            {"start": f"{wanted.crew.name} does not work on {shop.say_day(wanted.start)}{f': {why}' if why else ''}."}
        )
    count = shop.days_for(visit.hours, len(team.people), wanted.start)
    span = span_of(team, shop, wanted.start, count)
    start = Start(visit.key, visit.job.number, str(wanted.crew.pk), span[0], span[-1])
    return days_of_visit(visit, start, shop)


def _worked(work: Work, wanted: Wanted, days: tuple[StageDays, ...]) -> int:
    team = work.shop.team_of(wanted.crew.pk)
    assert team is not None
    span = (days[-1].last - days[0].first).days + 1
    return sum(work.shop.works(team, date.fromordinal(days[0].first.toordinal() + n)) for n in range(span))


def _with(work: Work, starts: list[Start]):
    return replace(work.standing, starts=tuple(starts))


def _broken(work: Work, visit: Visit, days: tuple[StageDays, ...], wanted: Wanted) -> tuple[Gate, ...]:
    """The gates each stage would stand before. People on the water are no matter of reasons."""
    found: dict[str, Gate] = {}
    for one in days:
        stage = one.stage
        stage.crew, stage.starts_on, stage.ends_on = wanted.crew, one.first, one.last
        for gate in read_gates(stage_facts(stage, work.shop)).all:
            if gate.kind == "people":
                raise NotThere({"crew": gate.words})
            if gate.kind not in SHIFTING and (gate.opens is None or gate.opens > one.first):
                found.setdefault(gate.words, gate)
        stage.refresh_from_db(fields=["crew", "starts_on", "ends_on"])
    found |= _before_its_turn(visit, days, work.shop)
    return tuple(found.values())


def _before_its_turn(visit: Visit, days: tuple[StageDays, ...], shop: Shop) -> dict[str, Gate]:
    first = days[0]
    before = [one for one in visit.job.stages_here if one.position < first.stage.position and not one.is_done]
    if not before:
        return {}
    last = before[-1]
    if last.ends_on is None:
        words = f"{last.get_stage_display().capitalize()} comes first, and has no day yet."
    elif last.ends_on > first.first:
        words = f"{last.get_stage_display().capitalize()} ends {shop.say_day(last.ends_on)}."
    else:
        return {}
    return {words: Gate("previous", None, words)}


def _log(wanted: Wanted, was: date | None, said: Said, preview: Preview, by: Staff) -> None:
    words = said.words.strip()
    if not words:
        return
    stage = wanted.stage
    if was is not None and wanted.start > was:
        DelayLog.objects.create(
            job=stage.job,
            stage=stage.stage,
            was_on=was,
            now_on=wanted.start,
            cause=said.cause,
            words=words,
            by=by,
            by_name=by.name,
        )
    after = {"why": words, "before": [gate.words for gate in preview.broken]}
    log_change(stage, did="said why it stands there", by=by, after=after)
