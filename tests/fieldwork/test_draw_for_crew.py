"""Drawings for the crew: mirror-correct halves, figures that saw right, floats and boards where they belong."""

import re
from collections.abc import Iterator
from math import hypot
from xml.etree import ElementTree

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.drawing.board_layout import board_layout
from estimating.engine.drawing.dock_plan import dock_plan
from estimating.engine.drawing.float_map import float_map, float_spots
from estimating.engine.drawing.frame_plan import diagonal_in, frame_plan
from estimating.engine.drawing.joint_card import hand_of, joint_cards, pairs_of_mates
from estimating.engine.drawing.paper_scale import CrewSheet, lying
from estimating.engine.outline import box_of
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec, Joint, Section
from tests.quotes.making import l_shape, straight, with_ramp

CATALOGUE, RULES = starter_catalogue()
SHEET = CrewSheet()


def laid(spec: DockSpec) -> Design:
    return design(spec, CATALOGUE, RULES)


def hinged(*, turned: bool = False) -> Design:
    """Two sections hinged end to end, running out from the shore or along it."""
    second = Section("B", 120.0, 72.0, **({"y_in": 96.0} if turned else {"x_in": 96.0}), turned=turned)
    return laid(DockSpec("two", (Section("A", 96.0, 72.0, turned=turned), second), (Joint("A", "B", "hinged"),)))


def parts(svg: str, name: str, of: str = "") -> Iterator[ElementTree.Element]:
    for mark in ElementTree.fromstring(svg).iter():
        if mark.get("data-part") == name and (not of or mark.get("data-of") == of):
            yield mark


def boxes(svg: str, name: str, of: str = "") -> set[tuple[float, ...]]:
    found = ([float(m.get(key)) for key in ("x", "y", "width", "height")] for m in parts(svg, name, of))
    return {tuple(round(v, 1) + 0.0 for v in (x, y, x + wide, y + high)) for x, y, wide, high in found}


def lines(svg: str, name: str) -> set[tuple[float, ...]]:
    return {tuple(float(mark.get(key)) for key in ("x1", "y1", "x2", "y2")) for mark in parts(svg, name)}


def flipped(shapes: set[tuple[float, ...]], *, over: str) -> set[tuple[float, ...]]:
    if over == "x":
        return {(-x1 + 0.0, y0, -x0 + 0.0, y1) for x0, y0, x1, y1 in shapes}
    return {(x0, -y1 + 0.0, x1, -y0 + 0.0) for x0, y0, x1, y1 in shapes}


@pytest.mark.parametrize("turned", [False, True])
def test_it_draws_a_hinged_joint_with_halves_that_mirror_each_other(turned: bool):
    dock = hinged(turned=turned)
    [card] = [card for card in joint_cards(dock, CATALOGUE, SHEET) if card.place == "hinged_joint"]
    for name in ("leaf", "backer", "wood"):
        first, second = boxes(card.svg, name, "A"), boxes(card.svg, name, "B")
        assert first and flipped(first, over="x") == second  # the mate is the mirror image
        assert flipped(first, over="y") == first  # and the lower kit that of the upper
    assert len(list(parts(card.svg, "pin"))) == 2
    assert len(lines(card.svg, "bolt")) * card.high == card.bolts == 32


@pytest.mark.parametrize("turned", [False, True])
def test_it_letters_mates_on_the_same_line(turned: bool):
    dock = hinged(turned=turned)
    [card] = [card for card in joint_cards(dock, CATALOGUE, SHEET) if card.place == "hinged_joint"]
    at = {
        m.text: (float(m.get("x")), float(m.get("y")))
        for m in ElementTree.fromstring(card.svg).iter()
        if m.get("font-size")
    }
    mates = pairs_of_mates(dock)
    assert len(mates) == 2 and all(first[1:] == second[1:] for first, second in mates)
    for first, second in mates:
        assert at[first][1] == at[second][1] and at[first][0] == -at[second][0]
    # Seen from above, shore to the left or at the top: the mark further left (or up) in the plan stands higher.
    corner = {j.mark: (j.x_in, j.y_in) for j in dock.joints if j.place == "outer_corner"}
    ours = [first for first, _ in mates]
    higher = min(ours, key=lambda mark: at[mark][1])
    assert higher == max(ours, key=lambda mark: -corner[mark][0] if turned else corner[mark][1])


@pytest.mark.parametrize("spec", [straight, with_ramp, l_shape])
def test_it_gives_the_two_corners_of_an_end_different_hands(spec):
    dock = laid(spec())
    corners = [j for j in dock.joints if j.place == "outer_corner"]
    lies = {section.mark: section.turned for section in dock.spec.sections}
    for one in corners:
        for other in corners:
            same_section = one.sections == other.sections and one is not other
            facing = frozenset((one.mark, other.mark)) in {frozenset(p) for p in pairs_of_mates(dock)}
            apart = hypot(one.x_in - other.x_in, one.y_in - other.y_in)
            section = next(s for s in dock.spec.sections if s.mark == one.sections[0])
            if same_section and apart == pytest.approx(diagonal_in(section)):
                assert hand_of(dock, one) == hand_of(dock, other)  # across the diagonal: turned, not mirrored
            elif same_section or (facing and lies[one.sections[0]] == lies[other.sections[0]]):
                assert hand_of(dock, one) != hand_of(dock, other)


def test_it_draws_corners_left_and_right_as_mirror_images_with_every_bolt():
    [card] = [card for card in joint_cards(laid(straight()), CATALOGUE, SHEET) if card.place == "outer_corner"]
    for name in ("wood", "plate"):
        assert flipped(boxes(card.svg, name, "left"), over="x") == boxes(card.svg, name, "right")
    assert len(lines(card.svg, "bolt")) / 2 * card.high == card.bolts == 8
    assert len(card.drawn) == len(card.mirrored) == 2
    assert dict(card.parts)["lock-washer"] == 8


def test_it_never_shows_a_turned_section_from_below():
    section = Section("B", 192.0, 72.0, x_in=168.0, y_in=72.0, turned=True)
    box = box_of(section)
    east, north = (lying(section, *at) for at in ((box.x0 + 1, box.y0), (box.x0, box.y0 + 1)))
    origin = lying(section, box.x0, box.y0)
    (a, b), (c, d) = ((p[0] - origin[0], p[1] - origin[1]) for p in (east, north))
    assert a * d - b * c == pytest.approx(1.0)  # a turn keeps its sense; a mirror image would give -1


def test_it_letters_the_true_diagonal():
    # Pythagoras: 8 by 6 ft gives 10 ft; 16 by 6 ft gives 205.0561 in, 17 ft 1 1/16 in to the sixteenth.
    assert diagonal_in(Section("A", 96.0, 72.0)) == 120.0
    assert diagonal_in(Section("A", 192.0, 72.0)) == pytest.approx((192**2 + 72**2) ** 0.5, abs=1e-12)
    plan = frame_plan(laid(straight()), "A", SHEET).svg
    assert "Both diagonals 205.056 in_cut" in plan
    members = list(parts(plan, "member"))
    assert len(members) == len(laid(straight()).pieces)


def test_it_numbers_floats_as_the_proof_does_and_gives_their_places():
    dock = laid(l_shape())
    for section in dock.spec.sections:
        spots = float_spots(dock, section.mark)
        assert [dock.floats[spot.number - 1].section for spot in spots] == [section.mark] * len(spots)
        for spot in spots:
            placed = dock.floats[spot.number - 1]
            middle = spot.from_end_in + spot.along_in / 2, spot.from_edge_in + spot.across_in / 2
            assert middle == pytest.approx(lying(section, placed.x_in, placed.y_in))
            assert spot.from_end_in + 0.01 >= 0 and spot.from_end_in + spot.along_in <= section.length_in + 0.01
        drawn = float_map(dock, section.mark, SHEET)
        assert len(list(parts(drawn, "float"))) == len(spots)


@pytest.mark.parametrize("spec", [straight, with_ramp, l_shape])
def test_it_keeps_every_drawing_within_the_paper_and_its_letters_big(spec):
    dock = laid(spec())
    marks = [section.mark for section in dock.spec.sections]
    drawn = [dock_plan(dock, SHEET), *(frame_plan(dock, mark, SHEET).svg for mark in marks)]
    drawn += [float_map(dock, mark, SHEET) for mark in marks] + [board_layout(dock, mark, SHEET) for mark in marks]
    for svg in drawn:
        wide = float(re.search(r' width="([\d.]+)"', svg)[1])
        assert wide <= SHEET.width_px
        assert min(float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)) >= 18.66  # 14 pt
        assert set(re.findall(r"#[0-9A-Fa-f]{6}", svg)) <= {"#000000", "#FFFFFF"}
