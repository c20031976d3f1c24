"""Random docks: each ends in a design that adds up, or in faults at named fields."""

import os
import re
from dataclasses import replace
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimating.engine.design import design
from estimating.engine.outline import Box, box_of, overlap_in
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design, Piece
from estimating.engine.sources import SOURCES
from estimating.engine.spec import (
    Accessory,
    Anchor,
    Decking,
    DockSpec,
    FloatPlace,
    Flotation,
    Framing,
    Joint,
    Place,
    Ramp,
    Section,
    Water,
)
from estimating.engine.weights import weighted_items
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

EXAMPLES = int(os.environ.get("WHARFWRIGHT_TEST_EXAMPLES", "60"))
often = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
PATH = re.compile(
    r"(sections|joints|anchors|accessories)(\[\d+\][.\w\[\]]*)?|ramp(\.\w+)?|place[.\w\[\]]*|live_load_psf"
)


@st.composite
def sizes(draw, usual: list[float], least_in: int, most_in: int) -> float:
    """Sizes people ask for, any sixteenth between, and now and then nonsense."""
    if draw(st.integers(0, 40)) == 40:
        return draw(st.integers(-100, 16 * 400)) / 16
    odd = st.integers(16 * least_in, 16 * most_in).map(lambda n: n / 16)
    return draw(st.one_of(st.sampled_from(usual), odd))


lengths = sizes([72.0, 96.0, 120.0, 144.0, 192.0], 60, 192)
widths = sizes([36.0, 48.0, 60.0, 72.0, 96.0], 30, 120)


@st.composite
def choices(draw) -> dict[str, object]:
    spots = st.builds(FloatPlace, st.floats(-20, 260), st.floats(-20, 130), st.booleans())
    float_items = st.sampled_from([None, "24x36x16", "36x48x20"])
    return {
        "framing": Framing(
            stringer=draw(st.sampled_from([None, "2x6", "2x8", "2x10"])),
            stringer_count=draw(st.one_of(st.none(), st.integers(2, 9))),
            cross_spacing_in=draw(st.one_of(st.none(), st.floats(6, 120))),
        ),
        "decking": Decking(
            direction=draw(st.sampled_from(["across", "along"])),
            gap_in=draw(st.one_of(st.none(), st.floats(0, 0.5))),
            overhang_in=draw(st.sampled_from([0.0, 0.5, 1.0, 2.0])),
        ),
        "flotation": Flotation(
            item=draw(float_items),
            rows=draw(st.one_of(st.none(), st.integers(1, 4))),
            columns=draw(st.one_of(st.none(), st.integers(1, 5))),
            placed=tuple(draw(st.lists(spots, max_size=3))) if draw(st.integers(0, 4)) == 0 else (),
        ),
    }


@st.composite
def docks(draw) -> tuple[tuple[Section, ...], tuple[str, ...]]:
    """Straight runs, L, T, U and fingers of odd sizes, mostly left to the firm's choices, with the pairs that meet."""

    def section(mark: str, *sizes_and_place: float) -> Section:
        own = draw(choices()) if draw(st.integers(0, 3)) == 0 else {}
        return Section(mark, *sizes_and_place, **own)

    length, width = draw(lengths), draw(widths)
    walk = section("A", length, width)
    kind = draw(st.sampled_from(["one", "straight", "L", "T", "U", "fingers", "scattered"]))
    if kind == "one":
        return (walk,), ()
    if kind == "straight":
        count = draw(st.integers(1, 3))
        more = [section(mark, length, width, length * k) for k, mark in enumerate("BCD"[:count], 1)]
        return (walk, *more), ("AB", "BC", "CD")[:count]
    if kind in ("L", "T"):
        long_in, wide_in = draw(lengths), draw(widths)
        aside = 0.0 if kind == "L" else -draw(st.floats(0, 60))
        return (walk, section("B", long_in, wide_in, length, aside, True)), ("AB",)
    if kind == "U":
        berth, head = draw(st.floats(24, 100)), draw(widths)
        leg = section("B", length, width, 0, width + berth)
        return (walk, leg, section("C", 2 * width + berth, head, length, 0, True)), ("AC", "BC")
    if kind == "fingers":
        apart = draw(st.floats(40, 50))
        marks = "BCD"[: max(1, int(length / 50))]
        return (walk, *(section(m, draw(lengths), 36, apart * k, width, True) for k, m in enumerate(marks))), ()
    aside = draw(st.sampled_from([0, 200, 400]))
    return (walk, *(section(m, draw(lengths), draw(widths), 50, aside * k) for k, m in enumerate("BC", 1))), ()


@st.composite
def specs(draw) -> DockSpec:
    sections, pairs = draw(docks())
    names = [s.mark for s in sections]
    marks = st.sampled_from(names)
    edges = st.sampled_from(["shore", "lake", "left", "right"])
    maybe = st.one_of(st.none(), st.floats(-50, 250))
    ramp = st.builds(
        Ramp,
        st.floats(24, 250),
        st.floats(24, 60),
        st.one_of(st.none(), marks),
        st.one_of(st.just("shore"), st.just("shore"), edges),
        st.one_of(st.none(), st.none(), st.floats(0, 100)),
        st.one_of(st.none(), st.floats(-20, 200)),
        bought_item=st.sampled_from([None, "steel-ramp"]),
    )
    corners = st.sampled_from(["lake-left", "lake-right", "shore-left", "shore-right"])
    depth = st.one_of(st.none(), st.floats(0, 600))
    anchors = st.lists(st.tuples(marks, corners, depth, maybe), max_size=3)
    accessories = st.builds(Accessory, st.sampled_from(["cleat", "ladder"]), st.integers(1, 5), edge=edges)
    levels = sorted(draw(st.lists(st.floats(-50, 100), min_size=3, max_size=3)))
    kinds = st.sampled_from(["hinged", "rigid"])
    if draw(st.integers(0, 19)) == 19:
        pairs = (draw(marks) + draw(marks),)
    joints = [Joint(*pair, draw(kinds)) for pair in pairs if draw(st.booleans())]
    return DockSpec(
        "any",
        sections,
        joints=tuple(joints),
        ramp=draw(st.one_of(st.none(), ramp)),
        anchors=tuple(
            Anchor(str(k), mark, corner, depth_in=deep, dx_in=aside)
            for k, (mark, corner, deep, aside) in enumerate(draw(anchors))
        ),
        accessories=tuple(draw(st.lists(accessories, max_size=2))),
        place=Place(Water(draw(st.sampled_from(["fresh", "brackish", "salt"])), "", *levels)),
        live_load_psf=draw(st.one_of(st.floats(1, 20), st.floats(1, 60))),
    )


def designed(spec: DockSpec) -> Design | None:
    """The design, or None where the spec was refused with faults at fields that exist."""
    try:
        return design(spec, CATALOGUE, FIRM)
    except SpecFaults as refused:
        assert refused.faults
        for fault in refused.faults:
            assert PATH.fullmatch(fault.field), fault.field
            assert str(fault.message).endswith(".")
        return None


@often
@given(specs())
def test_it_designs_any_dock_or_names_the_fields(spec: DockSpec) -> None:
    laid = designed(spec)
    if laid is None:
        return
    pieces_fit(laid)
    areas_and_lengths_add_up(laid)
    floats_fit(laid)
    figures_make_sense(laid)
    weights_add_up(laid)


@often
@given(specs())
def test_it_designs_the_same_from_the_spec_it_filled_in(spec: DockSpec) -> None:
    laid = designed(spec)
    if laid is None:
        return
    again = design(laid.spec, CATALOGUE, FIRM)
    assert again.spec == laid.spec
    assert replace(again, findings=()) == replace(laid, findings=())


def pieces_fit(laid: Design) -> None:
    boxes = {section.mark: box_of(section) for section in laid.spec.sections}
    by_section: dict[str, list[Piece]] = {}
    for piece in laid.pieces:
        by_section.setdefault(piece.section, []).append(piece)
        thickness = CATALOGUE.lumber[piece.item].thickness_in
        size_x, size_y = piece.x1_in - piece.x0_in, piece.y1_in - piece.y0_in
        short, long = sorted((size_x, size_y))
        assert abs(piece.length_in - (long if abs(short - thickness) < 1e-6 else short)) < 1e-5
        assert {True} == {
            abs(side - thickness) < 1e-6 or abs(side - piece.length_in) < 1e-5 for side in (size_x, size_y)
        }
        if piece.section != "ramp":
            box = boxes[piece.section]
            assert box.x0 - 1e-6 <= piece.x0_in < piece.x1_in <= box.x1 + 1e-6
            assert box.y0 - 1e-6 <= piece.y0_in < piece.y1_in <= box.y1 + 1e-6
    for pieces in by_section.values():
        ordered = sorted(pieces, key=lambda piece: piece.x0_in)
        for n, piece in enumerate(ordered):
            for other in ordered[n + 1 :]:
                if other.x0_in >= piece.x1_in - 1e-6:
                    break
                assert overlap_in(_box(piece), _box(other)) < 1e-6, (piece, other)


def _box(piece: Piece) -> Box:
    return Box(piece.x0_in, piece.y0_in, piece.x1_in, piece.y1_in)


def areas_and_lengths_add_up(laid: Design) -> None:
    area = sum(section.length_in * section.width_in for section in laid.spec.sections) / 144
    assert abs(laid.deck_area_sqft - area) < 1e-6
    for run in laid.boards:
        board = CATALOGUE.lumber[run.item]
        wood = sum(end - start for start, end in run.edges_in)
        covered = wood + run.gap_in * (run.count - 1)
        across_x, across_y = run.x1_in - run.x0_in, run.y1_in - run.y0_in
        ran, length = (across_x, across_y) if abs(across_y - run.length_in) < 1e-6 else (across_y, across_x)
        assert abs(length - run.length_in) < 1e-6
        assert ran - run.gap_in - 1e-5 <= covered <= ran + 1e-5
        assert len(run.edges_in) == run.count and 0 < run.last_width_in <= board.width_in
        assert abs(run.wet_lb - wood / board.width_in * length / 12 * board.wet_lb_per_ft) < 1e-6
        assert all(b[0] >= a[1] - 1e-9 for a, b in pairwise(run.edges_in))
    for section in laid.spec.sections:
        mine = [piece for piece in laid.pieces if piece.section == section.mark]
        rims = [piece for piece in mine if piece.role == "rim"]
        assert len(rims) == 2 and all(abs(rim.length_in - section.length_in) < 1e-6 for rim in rims)
        stringers = rims + [piece for piece in mine if piece.role == "inner stringer"]
        assert len(stringers) == section.framing.stringer_count
        cross = [piece for piece in mine if piece.role == "cross member"]
        assert len(cross) % (len(stringers) - 1) == 0


def floats_fit(laid: Design) -> None:
    boxes = {section.mark: box_of(section) for section in laid.spec.sections}
    by_section: dict[str, list] = {}
    for f in laid.floats:
        box = boxes[f.section]
        assert box.x0 - 0.07 <= f.x_in - f.size_x_in / 2 and f.x_in + f.size_x_in / 2 <= box.x1 + 0.07
        assert box.y0 - 0.07 <= f.y_in - f.size_y_in / 2 and f.y_in + f.size_y_in / 2 <= box.y1 + 0.07
        by_section.setdefault(f.section, []).append(f)
    assert set(by_section) == set(boxes)
    for floats in by_section.values():
        for n, one in enumerate(floats):
            for other in floats[n + 1 :]:
                apart_x = abs(one.x_in - other.x_in) - (one.size_x_in + other.size_x_in) / 2
                apart_y = abs(one.y_in - other.y_in) - (one.size_y_in + other.size_y_in) / 2
                assert max(apart_x, apart_y) > -0.07


def figures_make_sense(laid: Design) -> None:
    sections = laid.spec.sections
    assert len([joint for joint in laid.joints if joint.place == "outer_corner"]) == 4 * len(sections)
    assert len({joint.mark for joint in laid.joints if joint.place != "chain_retainer"}) == len(
        [joint for joint in laid.joints if joint.place != "chain_retainer"]
    )
    assert sorted(mark for level in laid.level for mark in level.sections) == sorted(s.mark for s in sections)
    for level in laid.level:
        assert level.draft_seasoned_in <= level.draft_wet_in < level.draft_live_in
        assert level.freeboard_live_in < level.freeboard_wet_in <= level.freeboard_seasoned_in
        sinks = [f for f in laid.findings if f.code == "sinks"]
        assert bool(sinks) or level.spare_lift_lb >= 0
        assert level.reason.steps and level.reason.source in SOURCES
    open_ones = [s for s in sections if not s.flotation.placed]
    assert all(s.flotation.rows and s.flotation.columns for s in open_ones)
    for finding in laid.findings:
        assert finding.source in SOURCES and finding.level in ("stop", "check", "note")
        assert str(finding.headline) and "{" not in str(finding.headline) + str(finding.cure)
    assert all(anchor.chain_length_in > 0 for anchor in laid.anchors)


def weights_add_up(laid: Design) -> None:
    items = weighted_items(laid, CATALOGUE)
    sticks = sum(piece.wet_lb for piece in laid.pieces if piece.section != "ramp")
    boards = sum(run.wet_lb for run in laid.boards if run.section != "ramp")
    floats = sum(f.weight_lb for f in laid.floats)
    for what, pounds in (("piece", sticks), ("board", boards), ("float", floats)):
        assert abs(sum(item.wet_lb for item in items if item.what == what) - pounds) < 1e-6
    carried = sum(level.dead_wet_lb for level in laid.level) + floats
    assert abs(sum(item.wet_lb for item in items) - carried) <= 3 * len(laid.weights) + 1
