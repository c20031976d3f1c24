"""Starts the owner put on a day: they stay, and every gate they break is said."""

from collections.abc import Iterator

from .board import Board, Standing
from .calendar import Work, able, allowed
from .problem import Broken


def put_pins(board: Board) -> None:
    """Every pinned stage on its day, before anything else is planned."""
    for number in board.calendar.in_order:
        work = board.calendar.works[number]
        if work.stage.pinned is not None:
            standing = _pinned(board, work)
            if standing is not None:
                board.put(number, standing)


def broken_by_pins(board: Board) -> tuple[Broken, ...]:
    """What the pins break, once everything is on the board."""
    return tuple(
        Broken(work.stage.key, why)
        for work in board.calendar.works
        if work.stage.pinned is not None
        for why in dict.fromkeys(_faults(board, work))
    )


def _pinned(board: Board, work: Work) -> Standing | None:
    calendar, stage = board.calendar, work.stage
    first = calendar.number(stage.pinned) if stage.pinned else 0
    if not 0 <= first < calendar.days:
        return None
    wanted = stage.crew or stage.current_crew
    crews = [n for n, days in enumerate(calendar.crews) if wanted in ("", days.crew.key)]
    if not crews:
        return None
    answers = [_days_from(board, work, crew, first) for crew in crews]
    return min(answers, key=lambda one: (bool(one.crew_bits & board.busy[one.crew]), one.last, one.crew))


def _days_from(board: Board, work: Work, crew: int, first: int) -> Standing:
    """From the day on, whatever the crew's calendar says of the first; the rest on days it works."""
    days = board.calendar.crews[crew]
    slot = days.place_of[first]
    rest = [day for day in days.worked[slot:] if day > first][: work.stage.duration_days - 1]
    taken = [first, *rest]
    begins = slot + (slot < len(days.worked) and days.worked[slot] != first)
    count = len(taken) - (begins != slot)
    crew_bits = ((1 << count) - 1) << slot
    calendar_bits = sum(1 << day for day in taken)
    return Standing(crew, first, taken[-1], _boats(board, work, calendar_bits), crew_bits, calendar_bits)


def _boats(board: Board, work: Work, bits: int) -> tuple[str, ...]:
    """Free boats first; one that is taken rather than none, told as broken afterwards."""
    found: list[str] = []
    for kind in work.stage.boats:
        of_kind = [boat.key for boat in board.calendar.boats.get(kind, ()) if boat.key not in found]
        if of_kind:
            found.append(min(of_kind, key=lambda key: bool(board.boat_busy[key] & bits)))
    return tuple(found)


def _faults(board: Board, work: Work) -> Iterator[str]:
    calendar, stage = board.calendar, work.stage
    standing = board.at[work.number]
    if standing is None:
        yield "its day lies outside the plan, or its crew is gone"
        return
    crew = calendar.crews[standing.crew]
    for number in work.after:
        before = board.at[number]
        if before is not None and before.last >= standing.first:
            yield f"{_name(calendar.works[number])} ends no earlier"
    yield from _gate_faults(board, work, standing)
    others = (o for n, o in enumerate(board.at) if o is not None and n != work.number and o.crew == standing.crew)
    if any(other.calendar_bits & standing.calendar_bits for other in others):
        yield f"{crew.crew.name} has other work then"
    if len(standing.boats) < len(stage.boats) or any(
        _boat_clash(board, work, boat, standing) for boat in standing.boats
    ):
        yield "no boat is free then"


def _gate_faults(board: Board, work: Work, standing: Standing) -> Iterator[str]:
    calendar, stage = board.calendar, work.stage
    crew = calendar.crews[standing.crew]
    if stage.earliest is not None and calendar.day(standing.first) < stage.earliest:
        yield stage.governor or f"not before {stage.earliest.day} {stage.earliest:%B}"
    for number in range(standing.first, standing.last + 1):
        if not standing.calendar_bits >> number & 1:
            continue
        day = calendar.day(number)
        if number not in crew.worked:
            yield f"{crew.crew.name} does not work on {day.day} {day:%B}"
        if (stage.earliest is None or day >= stage.earliest) and not allowed(stage, day):
            yield f"{day.day} {day:%B} is outside the days on which it may be done"
        if not able(crew.crew, stage, day):
            yield f"{crew.crew.name} has too few people or lacks a skill on {day.day} {day:%B}"


def _boat_clash(board: Board, work: Work, boat: str, standing: Standing) -> bool:
    if board.calendar.boat_out[boat] & standing.calendar_bits:
        return True
    others = (o for n, o in enumerate(board.at) if o is not None and n != work.number and boat in o.boats)
    return any(other.calendar_bits & standing.calendar_bits for other in others)


def _name(work: Work) -> str:
    return work.stage.name or work.stage.key
