"""Deck board supports: IRC Table R507.7, boards at right angles to the joists, 16 in for 5/4 and 24 in for 2 in."""

from dataclasses import replace

import pytest

from estimating.engine.design import design
from estimating.engine.spec import Decking, DockSpec, Framing, Section
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM, lumber

SHOP = replace(CATALOGUE, lumber=CATALOGUE.lumber | {"2x6 deck": replace(lumber("2x6", 8, 16, support_in=24.0))})
SHOP.lumber["2x6 deck"] = replace(SHOP.lumber["2x6 deck"], code="2x6 deck")
PUBLISHED_IN = {"5/4x6": 16.0, "2x6 deck": 24.0}


def dock(board: str, direction: str, **framing: float) -> DockSpec:
    section = Section("A", 192, 72, framing=Framing(**framing), decking=Decking(board, direction))
    return DockSpec("one section", (section,))


@pytest.mark.parametrize("direction", ["across", "along"])
@pytest.mark.parametrize("board", PUBLISHED_IN)
def test_it_spaces_supports_within_the_table_when_left_open(board: str, direction: str) -> None:
    laid = design(dock(board, direction), SHOP, FIRM)
    assert laid.boards[0].support_spacing_in <= PUBLISHED_IN[board]
    assert not [finding for finding in laid.findings if finding.code == "board_support"]


@pytest.mark.parametrize(
    ("board", "direction", "framing"),
    [
        ("5/4x6", "across", {"stringer_count": 5}),  # 70.5 in over four bays: 17 5/8 in
        ("2x6 deck", "across", {"stringer_count": 3}),  # 35 1/4 in
        ("5/4x6", "along", {"cross_spacing_in": 48}),
    ],
)
def test_it_warns_beyond_the_table_and_builds_it_all_the_same(board: str, direction: str, framing: dict) -> None:
    laid = design(dock(board, direction, **framing), SHOP, FIRM)
    (finding,) = [finding for finding in laid.findings if finding.code == "board_support"]
    assert (finding.level, finding.source) == ("check", "IRC_R507_7")
    assert f"{PUBLISHED_IN[board]:g} in" in str(finding.headline)


def test_it_takes_supports_at_exactly_the_table_spacing() -> None:
    wide = Section("A", 192, 49.5, framing=Framing(stringer_count=4), decking=Decking("5/4x6"))  # 48 in over three bays
    laid = design(DockSpec("exact", (wide,)), SHOP, FIRM)
    assert laid.boards[0].support_spacing_in == 16
    assert not [finding for finding in laid.findings if finding.code == "board_support"]
