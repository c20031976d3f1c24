"""The dock of a spec drawn for the job's page, with the few figures that stand under it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

from contractor.company.current import units
from contractor.quantities import say
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.design import design
from estimating.engine.drawing import plan_and_elevation
from estimating.engine.reasons import Amount, SpecFaults
from estimating.engine.result import Design
from jobs.records.models import Job, SpecRevision
from jobs.records.models.held_to import against

from .specs import spec_of

WIDE_PX, PHONE_PX = 926, 356


@dataclass(frozen=True, slots=True)
class Picture:
    """Plan and elevation for the screen and for the phone, or in words why the spec can't be drawn."""

    wide: str = ""
    small: str = ""
    facts: tuple[str, ...] = ()
    over_limits: tuple[tuple[str, str], ...] = ()  # (fact, cure)
    trouble: tuple[str, ...] = ()


def picture_of(revision: SpecRevision, *, on: date) -> Picture:
    """The spec drawn with the catalogue of a day."""
    speak = _speaker()
    try:
        dock = design(spec_of(revision), engine_catalogue(on=on), firm_rules(on=on))
    except SpecFaults as faults:
        return Picture(trouble=tuple(fault.message.say(speak) for fault in faults.faults))
    wanted = {"speak": speak, "metric": units() == "metric"}
    return Picture(
        wide=plan_and_elevation(dock, width_px=WIDE_PX, prefix="dock-w", **wanted),
        small=plan_and_elevation(dock, width_px=PHONE_PX, prefix="dock-s", wide=False, **wanted),
        facts=tuple(_facts(dock)),
        over_limits=tuple(_over(dock, revision.job)),
    )


def _facts(dock: Design) -> list[str]:
    system, boards = units(), [level.freeboard_wet_in for level in dock.level]
    facts = [f"{say(dock.deck_area_sqft, 'sqft', system)} of deck, {len(dock.floats)} floats, {dock.bolt_count} bolts"]
    if boards:
        low, high = say(min(boards), "in_small", system), say(max(boards), "in_small", system)
        spread = low if low == high else f"{low} to {high}"
        facts.insert(0, f"{spread} of freeboard lying level, wet, nobody aboard")
    wet_lb = sum(level.dead_wet_lb for level in dock.level)
    if wet_lb:
        facts.append(f"{say(wet_lb, 'lb', system)} wet, all told")
    return facts


def _over(dock: Design, job: Job) -> Iterator[tuple[str, str]]:
    speak = _speaker()
    for finding in against(job)(dock):
        yield finding.headline.say(speak), finding.cure.say(speak)


def _speaker() -> Callable[[Amount], str]:
    system = units()
    return lambda amount: say(amount.value, amount.unit, system)
