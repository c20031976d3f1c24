"""What changed between two dock specs, said fact by fact."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import reduce
from typing import Any

from estimating.engine.reasons import Amount, Sentence
from estimating.engine.spec import Accessory, Anchor, DepthPoint, DockSpec, Joint, Section

OPEN = "left to the firm’s choice"
UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of a record: where it stands, what it is called, its engine unit, and how its absence reads."""

    path: str
    words: str
    unit: str = ""
    absent: str = OPEN


SECTION = (
    Fact("length_in", "length", "in"),
    Fact("width_in", "width", "in"),
    Fact("x_in", "distance out", "in"),
    Fact("y_in", "distance to the left", "in"),
    Fact("turned", "turned"),
    Fact("framing.stringer", "stringers"),
    Fact("framing.stringer_count", "number of stringers", "count"),
    Fact("framing.header", "end frames"),
    Fact("framing.cross_member", "cross members"),
    Fact("framing.cross_spacing_in", "cross member spacing", "in"),
    Fact("decking.board", "deck boards"),
    Fact("decking.direction", "boards run"),
    Fact("decking.gap_in", "board gap", "in"),
    Fact("decking.overhang_in", "board overhang", "in"),
    Fact("flotation.item", "floats"),
    Fact("flotation.rows", "rows of floats", "count"),
    Fact("flotation.columns", "columns of floats", "count"),
)
RAMP = (
    Fact("length_in", "length", "in"),
    Fact("width_in", "width", "in"),
    Fact("section", "lands on section", absent="the section nearest the shore"),
    Fact("edge", "lands on the edge"),
    Fact("offset_in", "place along the edge", "in", "the middle"),
    Fact("hinge_level_in", "hinge height", "ft_level", UNKNOWN),
    Fact("shore_fixing", "shore fixing", absent="not said"),
    Fact("bought_item", "bought ramp", absent="none, built of lumber"),
    Fact("rails", "rails"),
    Fact("accessible", "accessible route"),
    Fact("slips", "slips", "count", UNKNOWN),
)
ANCHOR = (
    Fact("section", "holds section"),
    Fact("corner", "holds the corner"),
    Fact("item", "weight"),
    Fact("chain", "chain"),
    Fact("dx_in", "offset out", "in"),
    Fact("dy_in", "offset to the left", "in"),
    Fact("depth_in", "depth", "ft_level", UNKNOWN),
    Fact("chain_length_in", "chain length", "in", "worked out"),
)
ACCESSORY = (Fact("quantity", "number", "count"),)
PLACE = (
    Fact("water.kind", "water"),
    Fact("water.datum", "levels measured from", absent=UNKNOWN),
    Fact("water.low_in", "low water", "ft_level", UNKNOWN),
    Fact("water.normal_in", "normal water", "ft_level", UNKNOWN),
    Fact("water.high_in", "high water", "ft_level", UNKNOWN),
    Fact("water.storm_in", "storm water", "ft_level", UNKNOWN),
    Fact("bottom", "bottom"),
    Fact("bank_height_in", "bank height", "in", UNKNOWN),
    Fact("island", "island"),
    Fact("carry_in", "carry by hand", "in", UNKNOWN),
    Fact("water_temp_f", "water temperature", "°F", UNKNOWN),
    Fact("one_way_miles", "miles one way", "mi", UNKNOWN),
    Fact("current_kn", "current", "kn", UNKNOWN),
    Fact("fetch_mi", "open water", "mi", UNKNOWN),
    Fact("moving_ice", "moving ice", absent=UNKNOWN),
)
DEPTH = (
    Fact("distance_in", "distance from shore", "in"),
    Fact("depth_in", "depth at normal level", "ft_level"),
    Fact("bottom", "bottom"),
)
WORK = (
    Fact("crew_size", "crew", "count"),
    Fact("trips", "trips", "count"),
    Fact("travel_hours", "travel hours", "h"),
    Fact("launch_hours", "launch hours", "h"),
    Fact("contingency_percent", "contingency", "percent"),
)
ALLOWANCE = (Fact("amount", "sum", "money"),)
HIRE = (Fact("days", "days", "count"), Fact("rate_per_day", "rate a day", "money"))


def compare_specs(before: DockSpec, after: DockSpec, *, names: Mapping[str, str] | None = None) -> tuple[Sentence, ...]:
    """Every difference, in the order of the spec; empty if the two say the same.

    `names` turns catalogue codes into the words of the shop. The sentences carry amounts in engine units.
    """
    say = _Speaker(names or {})
    return (
        *say.whole(before, after),
        *say.lists("Section {0}", before.sections, after.sections, _mark, SECTION),
        *say.placed_floats(before, after),
        *say.joints(before.joints, after.joints),
        *say.one("Ramp", before.ramp, after.ramp, RAMP),
        *say.lists("Anchor {0}", before.anchors, after.anchors, _mark, ANCHOR),
        *say.lists("{0}", before.accessories, after.accessories, say.accessory_key, ACCESSORY),
        *say.one("Site", before.place, after.place, PLACE),
        *say.lists("Depth at {0}", before.place.depths, after.place.depths, _label, DEPTH),
        *say.one("Work", before.work, after.work, WORK),
        *say.lists("Hire of {0}", before.work.equipment, after.work.equipment, _name, HIRE),
        *say.lists("Subcontract {0}", before.work.subcontracts, after.work.subcontracts, _name, ALLOWANCE),
        *say.lists("Permit fee {0}", before.work.permit_fees, after.work.permit_fees, _name, ALLOWANCE),
    )


class _Speaker:
    def __init__(self, names: Mapping[str, str]) -> None:
        self.names = names

    def whole(self, before: DockSpec, after: DockSpec) -> Iterable[Sentence]:
        facts = (Fact("title", "title"), Fact("live_load_psf", "live load", "psf"))
        return self._changes("The dock", before, after, facts)

    def one(self, name: str, before: Any, after: Any, facts: tuple[Fact, ...]) -> Iterable[Sentence]:
        """A thing there is at most one of."""
        if before is None and after is None:
            return ()
        if before is None or after is None:
            return (Sentence("{0}: " + ("added" if before is None else "taken away"), (name,)),)
        return self._changes(name, before, after, facts)

    def lists(
        self, pattern: str, before: tuple, after: tuple, key: Callable[[Any], str], facts: tuple[Fact, ...]
    ) -> Iterable[Sentence]:
        """Things with names: what went, what came, what changed."""
        old, new = _keyed(before, key), _keyed(after, key)
        for name in [*old, *(name for name in new if name not in old)]:
            yield from self.one(pattern.format(name), old.get(name), new.get(name), facts)

    def placed_floats(self, before: DockSpec, after: DockSpec) -> Iterable[Sentence]:
        old = {section.mark: section.flotation.placed for section in before.sections}
        for section in after.sections:
            was, now = old.get(section.mark), section.flotation.placed
            if was is None or was == now:
                continue
            moved = "Section {0}: floats placed by hand moved"
            counted = "Section {0}: floats placed by hand {1} to {2}"
            counts = (Amount(len(was), "count"), Amount(len(now), "count"))
            yield Sentence(moved if len(was) == len(now) else counted, (section.mark, *counts))

    def joints(self, before: tuple[Joint, ...], after: tuple[Joint, ...]) -> Iterable[Sentence]:
        return self.lists("Joint {0}", before, after, _pair, (Fact("kind", "kind"),))

    def accessory_key(self, accessory: Accessory) -> str:
        place = f" on section {accessory.section}" if accessory.section else ""
        spot = "" if accessory.offset_in is None else f", {accessory.offset_in:g} in along"
        return f"{self._name(accessory.item)}{place}, {accessory.edge} edge{spot}"

    def _changes(self, name: str, before: Any, after: Any, facts: tuple[Fact, ...]) -> Iterable[Sentence]:
        for fact in facts:
            was, now = _read(before, fact.path), _read(after, fact.path)
            if was != now:
                yield Sentence(
                    "{0}: {1} {2} to {3}", (name, fact.words, self._value(was, fact), self._value(now, fact))
                )

    def _value(self, value: Any, fact: Fact) -> Amount | str:
        if value is None or value == "":
            return fact.absent
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, str):
            return self._name(value)
        return Amount(value, fact.unit)

    def _name(self, code: str) -> str:
        return self.names.get(code, code)


def _read(record: Any, path: str) -> Any:
    return reduce(getattr, path.split("."), record)


def _keyed(records: tuple, key: Callable[[Any], str]) -> dict[str, Any]:
    """By name; a second of the same name is told apart by a count."""
    found: dict[str, Any] = {}
    for record in records:
        name, times = key(record), 2
        while name in found:
            name, times = f"{key(record)} ({times})", times + 1
        found[name] = record
    return found


def _mark(record: Section | Anchor) -> str:
    return record.mark


def _label(record: DepthPoint) -> str:
    return record.label


def _name(record: Any) -> str:
    return record.name


def _pair(joint: Joint) -> str:
    return " to ".join(sorted((joint.first, joint.second)))
