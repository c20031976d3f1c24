"""From what the estimator asks for to a proof that it floats and a price, in five steps."""

from dataclasses import replace
from functools import partial

from .afloat.findings import merged
from .afloat.floating import float_proof
from .design import design
from .flotation.descent import DidNotSettle
from .labour import labour
from .mooring.proof import exposure_of, prove_mooring
from .parts import Catalogue, FirmRules
from .price import price
from .proof import FloatProof
from .reasons import Finding, Sentence, SpecFaults
from .result import Design, Estimate
from .spec import DockSpec
from .structure.engineer import SiteFacts, engineer_triggers
from .structure.frame_proof import prove_frame
from .takeoff import takeoff
from .water.grounding import grounding, grounding_findings
from .work_checks import work_faults


def estimate(spec: DockSpec, catalogue: Catalogue, rules: FirmRules, *, proof: bool = True) -> Estimate:
    """Design, flotation and frame proof, takeoff, hours and price of one spec, each figure with its reason.

    Without `proof` the dock is only priced. Raises SpecFaults when the spec cannot be worked out, every fault at its
    field; a dock that sinks is no fault, but a result.
    """
    drawn = _drawn(spec, catalogue, rules)
    afloat = frame = moor = None
    engineer: tuple[Finding, ...] = ()
    if proof:
        drawn, afloat = _proved(drawn, catalogue, rules)
        load = drawn.spec.live_load_psf if drawn.spec.live_load_psf is not None else rules.live_load_psf
        frame = partial(prove_frame, drawn, catalogue, rules, live_load_psf=load)
        engineer = engineer_triggers(drawn.spec, _site_facts(drawn.spec, rules))
        moor = partial(prove_mooring, drawn, catalogue, rules)
    bought = takeoff(drawn, catalogue, rules.saw)
    worked = labour(drawn, catalogue, rules)
    priced = price(drawn, bought, worked, rules, catalogue)
    return Estimate(drawn, bought, worked, priced, afloat, engineer, frame, moor)


def _site_facts(spec: DockSpec, rules: FirmRules) -> SiteFacts:
    place, sea = spec.place, exposure_of(spec.place, rules.mooring.wave_wind_mph)
    weights = [boat.weight_lb for boat in spec.boats if boat.weight_lb is not None]
    return SiteFacts(
        boat_length_in=max((boat.length_in for boat in spec.boats), default=None),
        boat_lb=max(weights, default=None),
        current_kn=place.current_kn,
        wave_in=None if sea is None else sea.height_in,
        fetch_mi=place.fetch_mi,
        moving_ice=place.moving_ice,
    )


def _proved(drawn: Design, catalogue: Catalogue, rules: FirmRules) -> tuple[Design, FloatProof | None]:
    """The design with what its proof has to say; a solver that finds no equilibrium is said, as a Stop."""
    try:
        afloat = float_proof(drawn, catalogue, rules)
    except DidNotSettle:
        headline = Sentence("How this dock floats could not be worked out.")
        stuck = Finding("stop", headline, Sentence("Change a float or its place, and try again."), "", code="unsettled")
        return replace(drawn, findings=(stuck, *drawn.findings)), None
    return replace(drawn, findings=merged(drawn.findings, afloat)), afloat


def _drawn(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design:
    faults = work_faults(spec)
    try:
        drawn = design(spec, catalogue, rules)
    except SpecFaults as refused:
        raise SpecFaults((*refused.faults, *faults)) from None
    if faults:
        raise SpecFaults(faults)
    at_low = grounding(drawn, level="low", level_in=spec.place.water.low_in)
    return replace(
        drawn, findings=(*drawn.findings, *grounding_findings(at_low, clearance_in=rules.range.clearance_in))
    )
