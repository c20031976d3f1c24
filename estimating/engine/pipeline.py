"""From what the estimator asks for to a proof that it floats and a price, in five steps."""

from dataclasses import replace

from .afloat.findings import merged
from .afloat.floating import float_proof
from .design import design
from .labour import labour
from .parts import Catalogue, FirmRules
from .price import price
from .reasons import SpecFaults
from .result import Design, Estimate
from .spec import DockSpec
from .takeoff import takeoff
from .work_checks import work_faults


def estimate(spec: DockSpec, catalogue: Catalogue, rules: FirmRules, *, proof: bool = True) -> Estimate:
    """Design, flotation proof, takeoff, hours and price of one spec, each figure with its reason.

    Without `proof` the dock is only priced. Raises SpecFaults when the spec cannot be worked out, every fault at its
    field; a dock that sinks is no fault, but a result.
    """
    drawn = _drawn(spec, catalogue, rules)
    afloat = float_proof(drawn, catalogue, rules) if proof else None
    if afloat is not None:
        drawn = replace(drawn, findings=merged(drawn.findings, afloat))
    bought = takeoff(drawn, catalogue)
    worked = labour(drawn, catalogue, rules)
    priced = price(drawn, bought, worked, rules, currency=catalogue.currency)
    return Estimate(drawn, bought, worked, priced, afloat)


def _drawn(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design:
    faults = work_faults(spec)
    try:
        drawn = design(spec, catalogue, rules)
    except SpecFaults as refused:
        raise SpecFaults((*refused.faults, *faults)) from None
    if faults:
        raise SpecFaults(faults)
    return drawn
