"""What kept a stage from starting earlier, or from being placed at all, in words."""

from .board import Board
from .calendar import Work


def governor_of(board: Board, work: Work) -> str:
    """The one thing that kept a placed stage from starting earlier."""
    calendar, stage, standing = board.calendar, work.stage, board.at[work.number]
    assert standing is not None
    if stage.pinned is not None:
        return "put on this day by hand"
    released, reason = _released(board, work)
    crew = calendar.crews[standing.crew]
    worked = [day for day in crew.worked if day >= released]
    if worked and worked[0] >= standing.first:
        return reason
    starts = next((slots.starts for slots in work.slots if slots.crew == standing.crew), 0)
    low = crew.place_of[min(released, calendar.days)]
    open_days = (starts >> low) << low
    first_open = crew.worked[(open_days & -open_days).bit_length() - 1] if open_days else standing.first
    if first_open >= standing.first:
        return _closed_days(work, crew.crew.name)
    return _in_the_way(board, work)


def why_not_placed(board: Board, work: Work) -> str:
    """Why a stage stands on no day."""
    stage, calendar = work.stage, board.calendar
    if stage.pinned is not None:
        return "it is pinned on a day outside the plan, or on a crew that is gone"
    missing = [kind for kind in stage.boats if kind not in calendar.boats]
    if missing:
        return f"there is no {missing[0]}"
    if not work.slots:
        return _no_slot(board, work)
    waiting = [calendar.works[number] for number in work.after if board.at[number] is None]
    if waiting:
        return f"{_name(waiting[0])} is not placed"
    return f"no crew or boat is free before {_day(board, calendar.days - 1)}"


def _no_slot(board: Board, work: Work) -> str:
    stage, calendar = work.stage, board.calendar
    if stage.earliest is not None and calendar.number(stage.earliest) >= calendar.days:
        return stage.governor or "it may start only after the plan ends"
    crews = [days.crew for days in calendar.crews if stage.crew in ("", days.crew.key)]
    if not crews:
        return "its crew is gone"
    if not any(crew.people >= stage.people for crew in crews):
        return f"no crew has {stage.people} people"
    skilled = [crew for crew in crews if stage.skills <= crew.skills]
    if not skilled:
        return f"no crew has the skill: {', '.join(sorted(stage.skills))}"
    return "no run of open days is long enough for it"


def _released(board: Board, work: Work) -> tuple[int, str]:
    calendar, stage = board.calendar, work.stage
    released, reason = 0, "nothing: it starts as soon as the plan does"
    if stage.earliest is not None and calendar.number(stage.earliest) > 0:
        released, reason = calendar.number(stage.earliest), stage.governor or f"not before {_day(board, released)}"
    for number in work.after:
        before = board.at[number]
        if before is not None and before.last + 1 > released:
            released, reason = before.last + 1, f"after {_name(calendar.works[number])}"
    return released, reason


def _closed_days(work: Work, crew: str) -> str:
    stage = work.stage
    if stage.windows:
        return "the days on which it may be done"
    if stage.not_on:
        return "days on which no work may lie"
    return f"days on which {crew} has the people for it"


def _in_the_way(board: Board, work: Work) -> str:
    """The stage the crew did just before; where it did none, a boat."""
    calendar, standing = board.calendar, board.at[work.number]
    assert standing is not None
    earlier = [number for day, number in board.orders[standing.crew] if day < standing.first]
    crew = calendar.crews[standing.crew].crew
    if not earlier:
        return f"a free {work.stage.boats[0]}" if work.stage.boats else f"{crew.name} is not free"
    before = calendar.works[earlier[-1]]
    job = calendar.problem.jobs[before.job]
    return f"{crew.name} is on {_name(before)}, {job.name}, until {_day(board, board.at[before.number].last)}"


def _day(board: Board, number: int) -> str:
    day = board.calendar.day(number)
    return f"{day.day} {day:%B}"


def _name(work: Work) -> str:
    return work.stage.name or work.stage.key
