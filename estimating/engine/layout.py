"""The first half of a design: sections, joints, ramp, anchors and accessories fitting together in plan."""

from dataclasses import dataclass

from .accessories import place_accessories
from .anchors import Anchored, place_anchors
from .boards import check_boards
from .defaults import Picked, pick_sections
from .edges import dock_groups, meet
from .frame import check_frame, fill_stringers
from .limits import Inspector
from .parts import Catalogue, MooringRules
from .ramp import RampBuild, build_ramp
from .reasons import Finding
from .result import PlacedAccessory, SharedEdge
from .rulebook import Rulebook
from .spec import Accessory, DockSpec, Joint


@dataclass(frozen=True, slots=True)
class Layout:
    """Sections, joints and what hangs on the edges; `docks` are the section indices joined into one dock each."""

    picked: tuple[Picked, ...]
    joints: tuple[Joint, ...]
    edges: tuple[SharedEdge, ...]
    docks: list[list[int]]
    ramp: RampBuild | None
    anchored: Anchored
    accessories: tuple[PlacedAccessory, ...]
    filled_accessories: tuple[Accessory, ...]
    findings: list[Finding]

    @property
    def host(self) -> Picked | None:
        """The section the ramp lands on."""
        return next((p for p in self.picked if self.ramp and p.mark == self.ramp.section), None)

    @property
    def dock_lengths_in(self) -> list[float]:
        """For each section, the length of the dock it belongs to, out or along the shore, whichever is more."""
        lengths = [0.0] * len(self.picked)
        for dock in self.docks:
            boxes = [self.picked[i].box for i in dock]
            out = max(box.x1 for box in boxes) - min(box.x0 for box in boxes)
            along = max(box.y1 for box in boxes) - min(box.y0 for box in boxes)
            for i in dock:
                lengths[i] = max(out, along)
        return lengths


def lay_out(spec: DockSpec, *, catalogue: Catalogue, rulebook: Rulebook, mooring: MooringRules) -> Layout:
    """Raises SpecFaults with everything that does not fit together in plan, each at its field."""
    inspector = Inspector()
    spacing = catalogue.standing.stringer_spacing_in
    picked = tuple(fill_stringers(p, spacing) for p in pick_sections(spec, catalogue, inspector))
    joints, edges, findings = meet(spec, picked, inspector)
    for p in picked:
        check_frame(p, inspector)
        check_boards(p, inspector)
    ramp = build_ramp(spec.ramp, picked, catalogue, inspector) if spec.ramp else None
    anchored = place_anchors(spec, picked, catalogue, mooring, inspector)
    accessories, filled = place_accessories(spec, picked, catalogue, rulebook, inspector)
    inspector.stop_here()
    docks = dock_groups(picked, joints, rigid_only=False)
    return Layout(picked, joints, edges, docks, ramp, anchored, accessories, filled, findings)
