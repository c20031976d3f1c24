"""From what the estimator asks for to a price, in four steps."""

from .design import design
from .labour import labour
from .parts import Catalogue, FirmRules
from .price import price
from .reasons import SpecFaults
from .result import Design, Estimate
from .spec import DockSpec
from .takeoff import takeoff
from .work_checks import work_faults


def estimate(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Estimate:
    """Design, takeoff, hours and price of one spec, each figure with its reason.

    Raises SpecFaults when the spec cannot be worked out, every fault at its field.
    """
    drawn = _drawn(spec, catalogue, rules)
    bought = takeoff(drawn, catalogue)
    worked = labour(drawn, catalogue, rules)
    return Estimate(drawn, bought, worked, price(drawn, bought, worked, rules, currency=catalogue.currency))


def _drawn(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design:
    faults = work_faults(spec)
    try:
        drawn = design(spec, catalogue, rules)
    except SpecFaults as refused:
        raise SpecFaults((*refused.faults, *faults)) from None
    if faults:
        raise SpecFaults(faults)
    return drawn
