"""Docks put through the whole engine and floated. Catalogue and figures are invented, but for the check dock's."""

from dataclasses import replace

from estimating.engine.afloat.floating import float_proof
from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.design import design
from estimating.engine.parts import FirmRules
from estimating.engine.proof import FloatProof
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec, FloatPlace, Flotation, Framing, Joint, Ramp, Section
from tests.engine.catalogue_for_tests import CATALOGUE, FIRM

CHECK_SECTION = Section("A", 192, 72, framing=Framing(stringer_count=4), flotation=Flotation(rows=2, columns=3))
EVEN = Flotation(placed=tuple(FloatPlace(u, v) for u in (24, 96, 168) for v in (12, 60)))
STARTER, STARTER_RULES = starter_catalogue()


def asking(firm: FirmRules = FIRM, **choices: object) -> FirmRules:
    return replace(firm, flotation=replace(firm.flotation, **choices))


def dock(*sections: Section, joints: tuple[Joint, ...] = (), ramp: Ramp | None = None, psf: float = 20) -> DockSpec:
    return DockSpec("dock", sections, joints, ramp, live_load_psf=psf)


def laid(spec: DockSpec, rules: FirmRules = FIRM) -> Design:
    return design(spec, CATALOGUE, rules)


def floated(spec: DockSpec, rules: FirmRules = FIRM) -> FloatProof:
    return float_proof(laid(spec, rules), CATALOGUE, rules)
