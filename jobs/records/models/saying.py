"""A site's facts in the words a colleague would use, the unknown named as unknown."""

from collections.abc import Iterable
from datetime import date

from django.utils import timezone

from contractor.company.current import firm, units
from contractor.company.days import format_day
from contractor.company.models import DateStyle
from contractor.quantities import System, format_amount, format_length, format_level, say

from .levels import BottomKind, DepthPoint, LevelRange, LevelReading
from .limits import DockLimits
from .permits import Permit, PermitState, WindowKind, WorkWindow
from .sites import Ice, Salt, ShoreKind, Site, Wake, WaterKind

LIMIT_WORDS = (
    ("most_width_in", "width {} at most", "in"),
    ("most_area_sqft", "area {} at most", "sqft"),
    ("most_reach_in", "reach {} at most", "in"),
    ("most_walkway_width_in", "walkway {} wide at most", "in"),
    ("least_setback_in", "{} from each side line at least", "in"),
    ("least_clearance_in", "{} of water under the floats at least", "in"),
    ("least_deck_open_percent", "{} of the deck open at least", "percent"),
)


def levels_said(levels: LevelRange, system: System) -> str:
    known = [f"{word} {format_level(level, system)}" for word, level in levels.named() if level is not None]
    if not known:
        return "Unknown."
    return sentence([*known], f"on {levels.datum}")


def reading_said(reading: LevelReading) -> str:
    """A reading in a few words: 3.7 ft, 4 May 2026, on causeway staff."""
    read_on = timezone.localtime(reading.read_at).date()
    return f"{format_level(reading.value_in, units())}, {day_said(read_on)}, on {reading.datum}"


def depths_said(points: Iterable[DepthPoint], levels: LevelRange, system: System) -> str:
    said = []
    for point in points:
        below = point.below_normal_in(levels)
        said.append(f"{point.label} {'unknown' if below is None else format_level(below, system)}")
    return sentence(said) or "Unknown."


def bottoms_said(points: Iterable[DepthPoint], levels: LevelRange, system: System) -> str:
    """The bottom at each depth on the site's datum, whatever the water stood at that day; empty if none is known."""
    known = [(point.label, bottom) for point in points if (bottom := point.bottom_in(levels)) is not None]
    return sentence([f"{label} {format_level(bottom, system)}" for label, bottom in known], f"on {levels.datum}")


def bottom_said(site: Site, points: Iterable[DepthPoint], system: System) -> str:
    """The bottom by its kinds and where each was found; what was not felt is said to be unknown."""
    places: dict[str, list[str]] = {}
    for point in points:
        soft = f" ({format_level(point.soft_depth_in, system)} soft)" if point.soft_depth_in else ""
        places.setdefault(point.bottom, []).append(f"{point.label}{soft}")
    said = [f"{kind} at {_and(labels)}" for kind, labels in places.items()]
    if site.bottom != BottomKind.UNKNOWN and site.bottom not in places:
        said.insert(0, site.bottom)
    return sentence(said) or "Unknown."


def land_access_said(site: Site, system: System) -> str:
    known = [
        _length(site.gate_width_in, "{} gate", system),
        _count(site.steps, "no steps", "{} steps"),
        _zero(site.carry_in, "no carry") or _length(site.carry_in, "carry {}", system),
        _yes_no(site.overhead_wires, "overhead wires", "no overhead wires"),
        _yes_no(site.island, "on an island", ""),
    ]
    unknown = [
        name
        for name, value in (
            ("gate width", site.gate_width_in),
            ("steps", site.steps),
            ("carry", site.carry_in),
            ("overhead wires", site.overhead_wires),
        )
        if value is None
    ]
    return _with_unknown(sentence([site.access_notes.strip().rstrip("."), *known]), unknown)


def water_access_said(site: Site, system: System) -> str:
    stops = site.launch_stops_below_in
    return sentence(
        [
            f"launch at {site.launch_place}" if site.launch_place else "",
            f"which stops working below {format_level(stops, system)}" if stops is not None else "",
            f"tow {format_amount(site.tow_miles, 'distance', system)}" if site.tow_miles is not None else "",
            _yes_no(site.barge_needed, "barge needed", "no barge needed"),
        ]
    )


def shore_said(site: Site, system: System) -> str:
    hinge = site.hinge_level_in
    return sentence(
        [
            "" if site.shore_kind == ShoreKind.UNKNOWN else site.shore_kind,
            _length(site.bank_height_in, "bank {} high", system),
            "" if hinge is None else f"ramp hinge or dock top at {format_level(hinge, system)}",
        ]
    )


def exposure_said(site: Site, system: System) -> str:
    fetch = site.fetch_miles
    direction = f" to the {site.fetch_direction}" if site.fetch_direction else ""
    known = [
        "" if fetch is None else f"{format_amount(fetch, 'distance', system)} of open water{direction}",
        "" if site.wake == Wake.UNKNOWN else f"{site.wake} wakes",
        "" if site.current_knots is None else _current(site.current_knots),
        "" if site.salt == Salt.UNKNOWN else f"{site.salt} water",
    ]
    unknown = [
        name
        for name, is_unknown in (
            ("open water", fetch is None),
            ("wakes", site.wake == Wake.UNKNOWN),
            ("current", site.current_knots is None and "river" in site.water_kind),
        )
        if is_unknown
    ]
    return _with_unknown(sentence(known), unknown)


def ice_said(site: Site) -> str:
    if site.ice == Ice.UNKNOWN:
        return "Unknown."
    return sentence(
        [
            "no ice" if site.ice == Ice.NONE else f"{site.ice} ice",
            f"usually out {site.ice_out_usual}" if site.ice_out_usual else "",
            f"in {site.ice_in_usual}" if site.ice_in_usual else "",
        ]
    )


def neighbours_said(site: Site, system: System) -> str:
    known = [
        _length(site.setback_left_in, "{} to the left line", system),
        _length(site.setback_right_in, "{} to the right line", system),
        _length(site.frontage_in, "{} of frontage", system),
    ]
    return sentence(known) or "Unknown."


def limits_said(limits: DockLimits, system: System) -> str:
    return sentence(
        words.format(say(getattr(limits, field), unit, system))
        for field, words, unit in LIMIT_WORDS
        if getattr(limits, field) is not None
    )


def windows_said(windows: Iterable[WorkWindow]) -> str:
    """Work dates in one sentence, the allowed before the barred."""
    ranges = {kind: [_range(window) for window in windows if window.kind == kind] for kind in WindowKind.values}
    return " ".join(
        f"In-water work {words} {' or '.join(ranges[kind])}."
        for kind, words in ((WindowKind.ALLOWED, "only from"), (WindowKind.BARRED, "not from"))
        if ranges[kind]
    )


def permit_said(permit: Permit, *, on: date) -> str:
    """Where a permit stands on a day."""
    name = " ".join(filter(None, [permit.authority, permit.kind]))
    number = f" {permit.number}" if permit.number else ""
    state = permit.state(on=on)
    if state == PermitState.IN_FORCE:
        until = f" until {day_said(permit.expires_on)}" if permit.expires_on else ""
        return f"{name}{number}: in force{until}."
    if state == PermitState.ISSUED:
        return f"{name}{number}: issued, in force from {day_said(permit.starts_on)}."
    if state == PermitState.EXPIRED:
        return f"{name}{number}: expired {day_said(permit.expires_on)}."
    if state == PermitState.APPLIED:
        expected = f", answer expected {day_said(permit.expected_on)}" if permit.expected_on else ""
        return f"{name}: applied for {day_said(permit.applied_on)}{expected}."
    return f"{name}: {state.label}."


def day_said(day: date, *, short: bool = False, weekday: bool = False) -> str:
    """A day with its month as a word, in the firm's order; `short` leaves the year out.

    >>> day_said(date(2026, 5, 7)), day_said(date(2026, 5, 7), short=True, weekday=True)
    ('7 May 2026', 'Thu 7 May')
    """
    named = firm()
    return format_day(day, named.date_style if named else DateStyle.DAY_FIRST, weekday=weekday, year=not short)


def month_day_said(month: int, day: int) -> str:
    return day_said(date(2024, month, day), short=True)  # a leap year, so that 29 February reads


def water_said(site: Site) -> str:
    """The water by name and kind, without saying "lake" twice."""
    if site.water_kind == WaterKind.UNKNOWN or site.water_kind.split()[-1] in site.water_body.lower():
        return site.water_body
    return f"{site.water_body}, {site.get_water_kind_display()}"


def sentence(parts: Iterable[str], *tail: str) -> str:
    """The parts that say something, as one sentence; empty if none does.

    >>> sentence(["driveway", "", "4 ft gate"]), sentence([])
    ('Driveway, 4 ft gate.', '')
    """
    said = ", ".join(part for part in parts if part)
    if not said:
        return ""
    return " ".join([f"{said[:1].upper()}{said[1:]}", *tail]).rstrip(".") + "."


def _with_unknown(known: str, unknown: list[str]) -> str:
    missing = sentence([f"{_and(unknown)} not known"]) if unknown else ""
    return " ".join(filter(None, [known, missing]))


def _length(length_in: float | None, words: str, system: System) -> str:
    return "" if length_in is None else words.format(format_length(length_in, system))


def _zero(value: float | None, words: str) -> str:
    return words if value == 0 else ""


def _count(count: int | None, none: str, some: str) -> str:
    return "" if count is None else some.format(count) if count else none


def _yes_no(answer: bool | None, yes: str, no: str) -> str:
    return "" if answer is None else yes if answer else no


def _current(knots: float) -> str:
    return f"current {knots:g} knots" if knots else "no current"


def _and(words: list[str]) -> str:
    return " and ".join(filter(None, [", ".join(words[:-1]), words[-1]]))


def _range(window: WorkWindow) -> str:
    first = month_day_said(window.first_month, window.first_day)
    return f"{first} to {month_day_said(window.last_month, window.last_day)}"
