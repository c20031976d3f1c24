"""Leaning the dock further: the righting moment of a dock of one rigid group, on request."""

from dataclasses import dataclass

from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.righting import RightingCurve, Side, righting_curve
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.result import Design

from .model import Model, model_of
from .places import Loading, dead_loadings, spread
from .solving import load_case


@dataclass(frozen=True, slots=True)
class Righting:
    """The righting curve of a case (dead_wet or spread) leaned to one side of the plan (left, right, lake, shore)."""

    kind: str
    side: str
    curve: RightingCurve


SIDES = {"left": Side.LEFT, "right": Side.RIGHT, "lake": Side.OUT, "shore": Side.SHORE}


def righting_curves(design: Design, catalogue: Catalogue, rules: FirmRules) -> tuple[Righting, ...]:
    """Curves for the wet dock alone and under its design load, to all four sides.

    Empty for hinged docks, which have no one curve; a case that sinks the dock has none. Raises DidNotSettle.
    Source: GEOMETRY.
    """
    model = model_of(design, catalogue, rules)
    if len(model.assembly.bodies) > 1:
        return ()
    dock = DockAfloat(model.assembly)
    psf = design.spec.live_load_psf or 0.0
    loads = (dead_loadings()[0], *([spread(model, psf)] if psf else ()))
    return tuple(
        Righting(one.kind, side, righting_curve(dock, load_case(model, one), toward))
        for one in loads
        if not _sinks(dock, model, one)
        for side, toward in SIDES.items()
    )


def _sinks(dock: DockAfloat, model: Model, loading: Loading) -> bool:
    weight = model.wet[0].weight_lb + model.assembly.bodies[0].floats_weight_lb + loading.live_lb
    return weight >= dock.prepared.groups[0].full_lift_in3 * model.water.lb_per_in3
