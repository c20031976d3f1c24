"""Whether the figures and words of a spec make sense one by one, before anything is laid out."""

from itertools import pairwise

from . import limits
from .limits import Inspector
from .outline import CORNERS, EDGES
from .parts import Catalogue
from .spec import Anchor, DockSpec, FloatPlace, Place, Ramp, Section

RESERVED_MARKS = ("ramp",)
DIRECTIONS = ("across", "along")
JOINT_KINDS = ("hinged", "rigid")
FLOAT_SHAPES = ("box", "cylinder")
WATER_KINDS = ("fresh", "brackish", "salt")


def check_sizes(spec: DockSpec, catalogue: Catalogue, inspector: Inspector) -> None:
    """Every figure within its limit, every word and code known, every name said once."""
    if not spec.sections:
        inspector.fault("sections", "Give the dock at least one section.")
    _check_marks([s.mark for s in spec.sections], "sections", "section", inspector)
    for i, section in enumerate(spec.sections):
        _check_section(f"sections[{i}]", section, inspector)
    marks = tuple(section.mark for section in spec.sections)
    _check_joints(spec, marks, inspector)
    if spec.ramp is not None:
        _check_ramp(spec.ramp, marks, catalogue, inspector)
    _check_marks([anchor.mark for anchor in spec.anchors], "anchors", "anchor", inspector)
    for i, anchor in enumerate(spec.anchors):
        _check_anchor(f"anchors[{i}]", anchor, marks, inspector)
    _check_accessories(spec, marks, catalogue, inspector)
    _check_place(spec.place, inspector)
    inspector.measure_if_given("live_load_psf", spec.live_load_psf, limits.LIVE_LOAD)


def _check_marks(marks: list[str], field: str, noun: str, inspector: Inspector) -> None:
    seen: dict[str, int] = {}
    for i, mark in enumerate(marks):
        path = f"{field}[{i}].mark"
        if not isinstance(mark, str) or not mark.strip():
            inspector.fault(path, "Give this {0} a mark.", noun)
        elif mark.lower() in RESERVED_MARKS:
            inspector.fault(path, "“{0}” is kept for the ramp. Give this {1} another mark.", mark, noun)
        elif mark in seen:
            inspector.fault(path, "Mark {0} is used twice. Give each {1} its own.", mark, noun)
        seen[mark] = i


def _check_section(path: str, section: Section, inspector: Inspector) -> None:
    whose = f"section {section.mark}"
    inspector.measure(f"{path}.length_in", section.length_in, limits.SECTION_LENGTH, whose)
    inspector.measure(f"{path}.width_in", section.width_in, limits.SECTION_WIDTH, whose)
    inspector.measure(f"{path}.x_in", section.x_in, limits.POSITION, whose)
    inspector.measure(f"{path}.y_in", section.y_in, limits.POSITION, whose)
    framing, decking, flotation = section.framing, section.decking, section.flotation
    inspector.whole_if_given(f"{path}.framing.stringer_count", framing.stringer_count, limits.STRINGERS, whose)
    spacing = framing.cross_spacing_in
    inspector.measure_if_given(f"{path}.framing.cross_spacing_in", spacing, limits.CROSS_SPACING, whose)
    inspector.one_of(f"{path}.decking.direction", decking.direction, DIRECTIONS, "Board direction")
    inspector.measure_if_given(f"{path}.decking.gap_in", decking.gap_in, limits.GAP, whose)
    inspector.measure(f"{path}.decking.overhang_in", decking.overhang_in, limits.OVERHANG, whose)
    inspector.whole_if_given(f"{path}.flotation.rows", flotation.rows, limits.ROWS, whose)
    inspector.whole_if_given(f"{path}.flotation.columns", flotation.columns, limits.COLUMNS, whose)
    for k, spot in enumerate(flotation.placed):
        _check_float_place(f"{path}.flotation.placed[{k}]", spot, f"float {k + 1}", inspector)


def _check_float_place(path: str, spot: FloatPlace, whose: str, inspector: Inspector) -> None:
    inspector.measure(f"{path}.u_in", spot.u_in, limits.POSITION, whose)
    inspector.measure(f"{path}.v_in", spot.v_in, limits.POSITION, whose)
    if spot.shape is not None:
        inspector.one_of(f"{path}.shape", spot.shape, FLOAT_SHAPES, "Shape of the float")
    for name in ("length_in", "width_in", "height_in"):
        inspector.measure_if_given(f"{path}.{name}", getattr(spot, name), limits.FLOAT_SIZE, whose)
    inspector.measure_if_given(f"{path}.weight_lb", spot.weight_lb, limits.FLOAT_WEIGHT, whose)
    inspector.measure_if_given(f"{path}.lift_lb", spot.lift_lb, limits.FLOAT_LIFT, whose)


def _check_joints(spec: DockSpec, marks: tuple[str, ...], inspector: Inspector) -> None:
    seen: set[frozenset[str]] = set()
    for i, joint in enumerate(spec.joints):
        path = f"joints[{i}]"
        inspector.one_of(f"{path}.kind", joint.kind, JOINT_KINDS, "Kind of joint")
        _check_mark_known(f"{path}.first", joint.first, marks, inspector)
        _check_mark_known(f"{path}.second", joint.second, marks, inspector)
        pair = frozenset((joint.first, joint.second))
        if joint.first == joint.second:
            inspector.fault(f"{path}.second", "A joint needs two sections; {0} is named twice.", str(joint.first))
        elif pair in seen:
            inspector.fault(f"{path}.second", "Sections {0} and {1} are joined twice.", joint.first, joint.second)
        seen.add(pair)


def _check_mark_known(path: str, mark: str | None, marks: tuple[str, ...], inspector: Inspector) -> None:
    if mark not in marks:
        inspector.fault(path, "There is no section {0}.", str(mark))


def _check_ramp(ramp: Ramp, marks: tuple[str, ...], catalogue: Catalogue, inspector: Inspector) -> None:
    inspector.measure("ramp.length_in", ramp.length_in, limits.RAMP_LENGTH)
    inspector.measure("ramp.width_in", ramp.width_in, limits.RAMP_WIDTH)
    inspector.one_of("ramp.edge", ramp.edge, EDGES, "Edge the ramp lands on")
    inspector.measure_if_given("ramp.offset_in", ramp.offset_in, limits.OFFSET)
    inspector.measure_if_given("ramp.hinge_level_in", ramp.hinge_level_in, limits.LEVEL, "the shore hinge")
    if ramp.section is not None:
        _check_mark_known("ramp.section", ramp.section, marks, inspector)
    if ramp.bought_item is not None:
        inspector.good("ramp.bought_item", ramp.bought_item, catalogue.goods, "ramp")


def _check_anchor(path: str, anchor: Anchor, marks: tuple[str, ...], inspector: Inspector) -> None:
    whose = f"anchor {anchor.mark}"
    _check_mark_known(f"{path}.section", anchor.section, marks, inspector)
    inspector.one_of(f"{path}.corner", anchor.corner, CORNERS, "Corner")
    inspector.measure_if_given(f"{path}.dx_in", anchor.dx_in, limits.REACH, whose)
    inspector.measure_if_given(f"{path}.dy_in", anchor.dy_in, limits.REACH, whose)
    inspector.measure_if_given(f"{path}.depth_in", anchor.depth_in, limits.DEPTH, whose)
    inspector.measure_if_given(f"{path}.chain_length_in", anchor.chain_length_in, limits.CHAIN, whose)


def _check_accessories(spec: DockSpec, marks: tuple[str, ...], catalogue: Catalogue, inspector: Inspector) -> None:
    for i, accessory in enumerate(spec.accessories):
        path = f"accessories[{i}]"
        inspector.known(f"{path}.item", accessory.item, catalogue.goods, "Accessory")
        inspector.whole_if_given(f"{path}.quantity", accessory.quantity, limits.QUANTITY)
        if accessory.quantity is None:
            inspector.measure(f"{path}.quantity", accessory.quantity, limits.QUANTITY)
        inspector.one_of(f"{path}.edge", accessory.edge, EDGES, "Edge")
        inspector.measure_if_given(f"{path}.offset_in", accessory.offset_in, limits.OFFSET)
        if accessory.section is not None:
            _check_mark_known(f"{path}.section", accessory.section, marks, inspector)


def _check_place(place: Place, inspector: Inspector) -> None:
    water = place.water
    inspector.one_of("place.water.kind", water.kind, WATER_KINDS, "Water")
    named = [(name, getattr(water, f"{name}_in")) for name in ("low", "normal", "high", "storm")]
    sound = [inspector.measure_if_given(f"place.water.{n}_in", v, limits.LEVEL, f"{n} water") for n, v in named]
    given = [(name, level) for name, level in named if level is not None]
    if all(sound):
        for (lesser, below), (greater, above) in pairwise(given):
            if below > above:
                text = "{0} water cannot be above {1} water: check both levels."
                inspector.fault(f"place.water.{lesser}_in", text, lesser.capitalize(), greater)
    inspector.measure_if_given("place.bank_height_in", place.bank_height_in, limits.BANK)
    inspector.measure_if_given("place.carry_in", place.carry_in, limits.CARRY)
    inspector.measure_if_given("place.water_temp_f", place.water_temp_f, limits.WATER_F)
    inspector.measure_if_given("place.one_way_miles", place.one_way_miles, limits.MILES)
    inspector.measure_if_given("place.current_kn", place.current_kn, limits.CURRENT_KN)
    inspector.measure_if_given("place.fetch_mi", place.fetch_mi, limits.FETCH_MI)
    for i, point in enumerate(place.depths):
        inspector.measure(f"place.depths[{i}].distance_in", point.distance_in, limits.POSITION, point.label)
        inspector.measure(f"place.depths[{i}].depth_in", point.depth_in, limits.SOUNDING, point.label)
