"""Dimensions around the plan: section lengths, the overall on the outside, widths on the lake side, the ramp."""

from itertools import pairwise

from estimating.engine.drawing import dimensions, figures
from estimating.engine.drawing.plan import Plan, anchor_ends
from estimating.engine.drawing.scene import Walk

FIRST_ROW = 20.0
NEXT_ROW = 26.0
RAMP_ROW = 21.0


def dimension_plan(plan: Plan) -> None:
    """All the plan's dimensions; the small drawing carries the overall ones only."""
    _lengths(plan)
    _widths(plan)
    if plan.scene.walk is not None:
        _ramp_length(plan, plan.scene.walk)


def _say(plan: Plan, length_in: float) -> str:
    return figures.length(plan.speak, length_in)


def _top(plan: Plan) -> float:
    """The highest thing the rows must clear: decks, a ramp to the left, chains that run up between the ends."""
    tops = [box[1] for box in plan.solids]
    left, right = plan.view.x(plan.scene.x0) - 8, plan.view.x(plan.scene.x1) + 8
    for anchor in plan.design.anchors:
        _, (x, y), _ = anchor_ends(plan, anchor)
        if left < x < right:
            tops.append(y - 8)
    return min(tops)


def _lengths(plan: Plan) -> None:
    scene, view, canvas = plan.scene, plan.view, plan.canvas
    marks = dimensions.breaks([e for d in scene.decks for e in (d.x0, d.x1)])
    row = _top(plan) - FIRST_ROW

    def foot(x_in: float) -> float:
        return min(view.y(d.y1) for d in scene.decks if min(abs(d.x0 - x_in), abs(d.x1 - x_in)) <= 1)

    if plan.wide and dimensions.chain_fits(marks, lambda v: _say(plan, v), view.scale, canvas.pen.figure):
        for a, b in pairwise(marks):
            ends = (view.x(a), view.x(b))
            dimensions.across(canvas, ends, row, _say(plan, b - a), foot=(foot(a), foot(b)))
        row -= NEXT_ROW
    ends = (view.x(marks[0]), view.x(marks[-1]))
    feet = (foot(marks[0]), foot(marks[-1]))
    if row < _top(plan) - FIRST_ROW:
        feet = (row + NEXT_ROW, row + NEXT_ROW)
    dimensions.across(canvas, ends, row, _say(plan, marks[-1] - marks[0]), foot=feet)


def _widths(plan: Plan) -> None:
    scene, view, canvas = plan.scene, plan.view, plan.canvas
    marks = dimensions.breaks([e for d in scene.decks for e in (d.y0, d.y1)])
    edge = view.x(scene.x1)
    x = edge + (64 if plan.wide else 12)

    if plan.wide and dimensions.chain_fits(marks, lambda v: _say(plan, v), view.scale, canvas.pen.figure):
        for a, b in pairwise(marks):
            dimensions.upright(canvas, (view.y(a), view.y(b)), x, _say(plan, b - a), foot=edge)
        edge, x = x, x + NEXT_ROW
    ends = (view.y(marks[0]), view.y(marks[-1]))
    words = _say(plan, marks[-1] - marks[0])
    if plan.wide:
        dimensions.upright(canvas, ends, x, words, foot=edge)
    else:
        dimensions.upright_beside(canvas, ends, x, words, foot=edge)


def _ramp_length(plan: Plan, walk: Walk) -> None:
    x0, y0, x1, y1 = plan.view.box(*walk.box)
    words = f"{_say(plan, walk.length)} ramp"
    if walk.along_x:
        row = min(y0 - RAMP_ROW, _top(plan) - 8.4) if plan.wide else _top(plan) - FIRST_ROW
        dimensions.across(plan.canvas, (x0, x1), row, words, foot=(y0, y0))
    else:
        dimensions.upright(plan.canvas, (y1, y0), x0 - 14, words, foot=x0)
