"""Drawings to scale of a design: plan and side elevation as SVG, for screen, phone and paper."""

from estimating.engine.drawing.afloat import Outline, corner_plan, trims
from estimating.engine.drawing.fan import Ray, slope_fan
from estimating.engine.drawing.scene import Trim, level_trims
from estimating.engine.drawing.sheet import Drawing, Sheet, draw, plan_and_elevation
from estimating.engine.drawing.tilt import Standing, end_view, most_heeled, side_view, standing

__all__ = [
    "Drawing",
    "Outline",
    "Ray",
    "Sheet",
    "Standing",
    "Trim",
    "corner_plan",
    "draw",
    "end_view",
    "level_trims",
    "most_heeled",
    "plan_and_elevation",
    "side_view",
    "slope_fan",
    "standing",
    "trims",
]
