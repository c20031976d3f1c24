"""A wider deck, where no floats under the one there is put a load right: its floats stand further apart."""

from collections.abc import Iterator
from dataclasses import replace

from estimating.engine.design import design as design_dock
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec

STEP_IN, STEPS = 12.0, 4
MOST_SECTIONS = 3


def wider_specs(spec: DockSpec) -> Iterator[DockSpec]:
    """The dock a foot wider, two, up to four. Nothing of a dock that is no single run: there a width moves neighbours.

    >>> from estimating.engine.spec import Section
    >>> run = DockSpec("run", (Section("A", 192, 72), Section("B", 192, 72, x_in=192)))
    >>> [wide.sections[1].width_in for wide in wider_specs(run)]
    [84.0, 96.0, 108.0, 120.0]
    """
    first = spec.sections[0]
    alike = all((s.y_in, s.width_in, s.turned) == (first.y_in, first.width_in, False) for s in spec.sections)
    if not alike or len(spec.sections) > MOST_SECTIONS:
        return
    for step in range(1, STEPS + 1):
        wide = (replace(section, width_in=section.width_in + step * STEP_IN) for section in spec.sections)
        yield replace(spec, sections=tuple(wide))


def designed(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design | None:
    try:
        return design_dock(spec, catalogue, rules)
    except SpecFaults:
        return None
