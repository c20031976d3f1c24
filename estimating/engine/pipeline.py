"""From what the estimator asks for to a price, in four steps."""

from .design import design
from .labour import labour
from .parts import Catalogue, FirmRules
from .price import price
from .result import Estimate
from .spec import DockSpec
from .takeoff import takeoff


def estimate(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Estimate:
    """Design, takeoff, hours and price of one spec, each figure with its reason.

    Raises SpecFaults when the spec cannot be worked out, every fault at its field.
    """
    drawn = design(spec, catalogue, rules)
    bought = takeoff(drawn, catalogue)
    worked = labour(drawn, catalogue, rules)
    return Estimate(drawn, bought, worked, price(drawn, bought, worked, rules, currency=catalogue.currency))
