from itertools import pairwise

import pytest

from estimating.engine.design import design
from estimating.engine.frame import cross_lines, letters
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design
from estimating.engine.spec import Decking, DockSpec, FloatPlace, Flotation, Framing, Ramp, Section
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM


def lay(*sections: Section, **more: object) -> Design:
    return design(DockSpec("dock", sections, **({"live_load_psf": 20} | more)), CATALOGUE, FIRM)


def faults(*sections: Section, **more: object) -> dict[str, str]:
    with pytest.raises(SpecFaults) as refused:
        lay(*sections, **more)
    return {fault.field: str(fault.message) for fault in refused.value.faults}


def test_it_frames_a_section_with_rims_outside_and_headers_between() -> None:
    # By hand, 2x8: rims 8' 0"; headers 6' 0" less two rims; inner stringers 8' 0" less two headers.
    laid = lay(Section("A", 96, 72, framing=Framing(stringer_count=4)))
    cut = {piece.role: (piece.mark, piece.length_in) for piece in laid.pieces}
    assert cut["rim"] == ("a", 96)
    assert cut["inner stringer"] == ("b", 93)
    assert cut["header"] == ("c", 69)
    assert cut["cross member"] == ("d", 22)  # 72 less four stringers of 1 1/2, in three bays


def test_it_turns_a_section_by_swapping_its_axes() -> None:
    straight = lay(Section("A", 96, 72, x_in=10, y_in=20))
    turned = lay(Section("A", 96, 72, x_in=20, y_in=10, turned=True))
    swapped = {(p.y0_in, p.x0_in, p.y1_in, p.x1_in, p.mark, p.length_in) for p in turned.pieces}
    assert swapped == {(p.x0_in, p.y0_in, p.x1_in, p.y1_in, p.mark, p.length_in) for p in straight.pieces}
    assert (turned.overall_length_in, turned.overall_width_in) == (72, 96)


def test_it_gives_identical_pieces_one_mark_over_the_whole_dock() -> None:
    laid = lay(Section("A", 96, 72), Section("B", 96, 72, x_in=96), Section("C", 120, 72, x_in=192))
    rims = {piece.section: piece.mark for piece in laid.pieces if piece.role == "rim"}
    assert rims["A"] == rims["B"] != rims["C"]
    by_mark: dict[str, set] = {}
    for piece in laid.pieces:
        by_mark.setdefault(piece.mark, set()).add((piece.role, piece.item, piece.length_in))
    assert all(len(kinds) == 1 for kinds in by_mark.values())
    assert len(set(by_mark)) == len({kind for kinds in by_mark.values() for kind in kinds})


def test_it_letters_the_dock_before_the_ramp() -> None:
    laid = lay(Section("A", 96, 72), ramp=Ramp(96))
    marks = list(dict.fromkeys((piece.mark, piece.section) for piece in laid.pieces))
    assert marks == [("a", "A"), ("b", "A"), ("c", "A"), ("d", "A"), ("e", "ramp"), ("f", "ramp")]


def test_it_runs_out_of_letters_into_pairs() -> None:
    marks = [letters(k) for k in range(23 * 24)]
    assert len(set(marks)) == len(marks)
    assert not set("".join(marks)) & set("ilo")
    assert marks[23] == "aa" and marks[-1] == "zz"


def test_it_traps_both_ends_of_every_column_of_floats() -> None:
    laid = lay(Section("A", 192, 72, flotation=Flotation(rows=2, columns=3)))
    lines = {(piece.x0_in + piece.x1_in) / 2 for piece in laid.pieces if piece.role == "cross member"}
    ends = {f.x_in + side * f.size_x_in / 2 for f in laid.floats for side in (-1, 1)}
    assert lines == ends - {0, 192}  # headers trap the outer ends


def test_it_traps_floats_put_by_hand() -> None:
    spots = (FloatPlace(30, 12), FloatPlace(30, 60), FloatPlace(150, 12), FloatPlace(150, 60))
    laid = lay(Section("A", 192, 72, flotation=Flotation(placed=spots)))
    lines = {(piece.x0_in + piece.x1_in) / 2 for piece in laid.pieces if piece.role == "cross member"}
    assert {54, 126, 174} <= lines  # 6 in from the header, the header itself traps the outermost
    assert max(b - a for a, b in pairwise(sorted(lines))) <= 48


def test_it_makes_one_cross_member_of_two_traps_close_together() -> None:
    lines = cross_lines(length_in=192, header_in=1.5, spacing_in=96, float_ends=[2, 94, 98, 190])
    assert lines == (96,)


def test_it_sets_cross_members_no_further_apart_than_asked() -> None:
    laid = lay(Section("A", 192, 72, framing=Framing(cross_spacing_in=24)))
    lines = sorted({(piece.x0_in + piece.x1_in) / 2 for piece in laid.pieces if piece.role == "cross member"})
    stops = [0.75, *lines, 191.25]
    assert max(b - a for a, b in pairwise(stops)) <= 24 + 1e-9


@pytest.mark.parametrize(
    ("section", "field", "says"),
    [
        (Section("A", 252, 72), "sections[0].length_in", "252 in long; the longest 2x8 in the catalogue is 240 in"),
        (
            Section("A", 96, 200, framing=Framing(header="2x6"), decking=Decking(direction="along")),
            "sections[0].width_in",
            "longest 2x6",
        ),
        (Section("A", 200, 72, decking=Decking(direction="along")), "sections[0].length_in", "longest 5/4x6"),
        (Section("A", 180, 192, decking=Decking(overhang_in=1)), "sections[0].width_in", "194 in long"),
    ],
)
def test_it_refuses_pieces_longer_than_any_stock(section: Section, field: str, says: str) -> None:
    assert says in faults(section)[field]


def test_it_takes_a_piece_as_long_as_the_stock() -> None:
    laid = lay(Section("A", 240, 72), live_load_psf=10)
    assert max(piece.length_in for piece in laid.pieces) == 240


def test_it_refuses_more_stringers_than_fit() -> None:
    told = faults(Section("A", 96, 36, framing=Framing(stringer_count=20)))
    assert told == {"sections[0].framing.stringer_count": "20 stringers do not fit in a width of 36 in."}


def test_it_warns_of_shallow_stringers_and_deep_headers() -> None:
    # Trade rule: stringers at least 6 in nominal.
    laid = lay(Section("A", 96, 72, framing=Framing(stringer="2x6", header="2x8")))
    assert "deep_member" in {finding.code for finding in laid.findings}
    assert "shallow_stringer" not in {finding.code for finding in laid.findings}


def test_it_lets_headers_and_cross_members_follow_the_stringers() -> None:
    (section,) = lay(Section("A", 96, 72, framing=Framing(stringer="2x10"))).spec.sections
    assert (section.framing.header, section.framing.cross_member) == ("2x10", "2x10")
