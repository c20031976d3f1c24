"""The lumber of a job's papers in the sticks that were bought for it, so that the crew finds what the sheet names."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from estimating.engine.needs import feet
from estimating.engine.result import StickCut, Takeoff, TakeoffLine
from estimating.engine.takeoff import stick_words
from jobs.records.models import Job
from jobs.supply.models import Need
from jobs.supply.services.cutting import CutWork, cut_work
from jobs.supply.services.wanted import WOOD_GROUPS

from .basis import Worked


def as_bought(worked: Worked, job: Job, *, letter: str) -> Worked:
    """The same estimate with the takeoff's sticks put in place by those of the job's goods, cut as the cut list has it.

    Nothing changes for a sheet of another letter than the customer accepted, or while the job has no sticks.
    Raises SpecFaults.
    """
    work = cut_work([job], on=worked.catalogue.on)
    if not work.bought or work.jobs[0].letter != letter:
        return worked
    takeoff = worked.estimate.takeoff
    others = tuple(line for line in takeoff.lines if line.group not in WOOD_GROUPS)
    lines = (*_lumber(job, takeoff), *others)
    return replace(worked, estimate=replace(worked.estimate, takeoff=replace(takeoff, lines=lines, sticks=_cut(work))))


def _lumber(job: Job, takeoff: Takeoff) -> Iterator[TakeoffLine]:
    """One line for each stage and length of stick among the job's goods."""
    needs = Need.objects.standing().of_sticks().filter(job=job)
    counts: Counter[tuple[str, str, float]] = Counter()
    for code, stage, length_in, count in needs.values_list(
        "stock__item__code", "stage", "stock__length_in", "quantity"
    ):
        counts[code, stage, length_in] += int(count)
    for (code, stage, length_in), count in sorted(counts.items()):
        line = next((one for one in takeoff.lines if one.code == code and one.group in WOOD_GROUPS), None)
        if line is not None:
            bought = feet(length_in * count)
            yield replace(line, stage=stage, pack=stick_words(length_in), packs=Decimal(count), bought=bought)


def _cut(work: CutWork) -> tuple[tuple[str, StickCut], ...]:
    return tuple(
        (
            one.plan.item,
            StickCut(
                float(stick.stock.length_in),
                tuple((piece.mark, float(piece.length_in)) for piece in stick.pieces),
                float(stick.left_in),
            ),
        )
        for one in work.items
        for stick in one.plan.sticks
    )
