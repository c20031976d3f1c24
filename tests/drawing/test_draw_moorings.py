"""Anchors, chains and drift, from above: to scale, lettered, inside the sheet."""

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.drawing.moorings import Moored, mooring_plan, moved
from estimating.engine.mooring.proof import prove_mooring
from estimating.engine.reasons import plain
from tests.benchmarks.test_mooring_speed import eight_lines
from tests.drawing.reading import coordinates, parse, parts, rect_box, texts, view_box

CATALOGUE, RULES = starter_catalogue()
LAID = design(eight_lines(), CATALOGUE, RULES)
PROOF = prove_mooring(LAID, CATALOGUE, RULES)


@pytest.fixture(params=[560.0, 300.0], ids=["office", "phone"])
def svg(request) -> str:
    return mooring_plan(LAID, PROOF, Moored(request.param, plain, "m"))


def test_every_mark_lies_inside(svg):
    x0, y0, x1, y1 = view_box(svg)
    assert all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in coordinates(svg))
    assert float(parse(svg).get("width")) <= 560


def test_chains_run_to_scale_from_their_corners_to_their_weights(svg):
    decks = [rect_box(mark) for mark in parts(svg, "section")]
    scale = (decks[0][2] - decks[0][0]) / 192
    chains, weights = parts(svg, "chain"), parts(svg, "anchor")
    assert len(chains) == len(weights) == 8
    for chain, weight, placed in zip(chains, weights, LAID.anchors, strict=True):
        assert float(chain.get("x2")) - float(chain.get("x1")) == pytest.approx(
            (placed.x_in - placed.corner_x_in) * scale, abs=0.3
        )
        assert float(weight.get("cx")) == pytest.approx(float(chain.get("x2")), abs=0.01)


def test_the_dock_is_drawn_where_it_drifts_furthest_and_the_load_points_there(svg):
    furthest = PROOF.docks[0].furthest()
    outlines = parts(svg, "drifted")
    assert len(outlines) == 3
    first = outlines[0].get("points").split()[0].split(",")
    deck = rect_box(parts(svg, "section")[0])
    scale = (deck[2] - deck[0]) / 192
    x, y = moved(PROOF.docks[0], furthest, 0.0, 0.0)
    assert (float(first[0]), float(first[1])) == (
        pytest.approx(deck[0] + x * scale, abs=0.3),
        pytest.approx(deck[3] - y * scale, abs=0.3),
    )
    (arrow,) = parts(svg, "load")
    pushes_right = float(arrow.get("x2")) - float(arrow.get("x1"))
    assert pushes_right * furthest.dx_in >= -1.0


def test_anchors_are_named_and_the_words_say_the_same(svg):
    assert any(text.startswith("1") for text in texts(svg))
    assert "8 anchors: 1, " in svg and "water, A, B and C drifts" in svg


def test_a_dock_without_anchors_has_no_such_plan():
    bare = design(eight_lines().__class__("bare", eight_lines().sections), CATALOGUE, RULES)
    assert mooring_plan(bare, prove_mooring(bare, CATALOGUE, RULES), Moored(560.0, plain, "m")) == ""
