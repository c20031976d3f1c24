"""Drawings to scale of a design: plan and side elevation as SVG, for screen, phone and paper."""

from estimating.engine.drawing.afloat import Outline, corner_plan, trims
from estimating.engine.drawing.fan import Ray, slope_fan
from estimating.engine.drawing.scene import Trim, level_trims
from estimating.engine.drawing.sheet import Drawing, Sheet, draw, plan_and_elevation

__all__ = [
    "Drawing",
    "Outline",
    "Ray",
    "Sheet",
    "Trim",
    "corner_plan",
    "draw",
    "level_trims",
    "plan_and_elevation",
    "slope_fan",
    "trims",
]
