"""From a dock spec to a design: laid out, framed, decked, joined, floated and weighed, every figure with its reason."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .boards import board_findings, overhang_findings, section_boards
from .defaults import Picked
from .edges import dock_groups, separate_docks
from .float_places import Spot, float_findings, landing_findings, place_floats
from .floats import Burden, FloatLayer, net_lift_lb
from .frame import FrameMaker, Marks, frame_findings, section_cross_lines
from .gangway import gangway_findings
from .joints import JointFinder, count_bolts
from .layout import Layout, lay_out
from .level import Afloat, Tub, level_float
from .level_checks import hinge_findings, lift_findings
from .limits import Inspector
from .listing import said_once
from .outline import own_axes
from .parts import Catalogue, FirmRules
from .ramp import finish_ramp
from .reasons import Finding
from .result import BoardRun, Design, LevelFloat, Piece, PlacedFloat, RampDesign, Weight
from .rulebook import Rulebook
from .sizes import check_sizes
from .slope import ramp_range, slope_findings
from .soft_limits import size_findings
from .spec import DockSpec
from .weights import section_weights, weighted_items

LEVELS = ("stop", "check", "note")


def design(spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design:
    """Lay a dock out in full.

    Raises SpecFaults with every fault found, each at its field, when the spec cannot be built.
    """
    return _Drafting(spec, catalogue, rules).design()


@dataclass(frozen=True, slots=True)
class _Built:
    """Stage two: one section's frame, deck and floats."""

    picked: Picked  # rows and columns of floats filled
    pieces: list[Piece]
    boards: BoardRun
    floats: list[PlacedFloat]
    spots: tuple[Spot, ...]


class _Drafting:
    def __init__(self, spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> None:
        self.catalogue, self.rules = catalogue, rules
        self.inspector = Inspector()
        check_sizes(spec, catalogue, self.inspector)
        self.inspector.stop_here()
        psf = rules.live_load_psf if spec.live_load_psf is None else spec.live_load_psf
        self.spec = replace(spec, live_load_psf=psf)
        self.psf = psf
        density = rules.density_lb_per_cuft
        self.lift_ratio = density[spec.place.water.kind] / density["fresh"]
        self.rulebook, self.marks = Rulebook(catalogue), Marks()

    def design(self) -> Design:
        layout = lay_out(self.spec, catalogue=self.catalogue, rulebook=self.rulebook, mooring=self.rules.mooring)
        finder = JointFinder(layout.picked, layout.dock_lengths_in, self.rulebook)
        frames = [FrameMaker(p, self.marks) for p in layout.picked]
        ramp = self._first_joints(layout, finder, frames)
        built = self._build(layout, finder, frames, ramp)
        return self._sum_up(layout, finder, built, ramp)

    def _first_joints(self, layout: Layout, finder: JointFinder, frames: Sequence[FrameMaker]) -> RampDesign | None:
        """Joints that do not wait for the floats, and the ramp, whose weight they complete."""
        finder.corners(layout.edges)
        for p, frame in zip(layout.picked, frames, strict=True):
            finder.tees(p, frame)
        finder.section_joints(layout.edges)
        finder.retainers(layout.anchored.anchors)
        if layout.ramp is None:
            return None
        finder.ramp(layout.ramp)
        aboard = [j for j in finder.joints if j.sections == ("ramp",) and j.place != "ramp_shore_end"]
        return finish_ramp(layout.ramp, sum(self.rulebook.joint_lb(joint) for joint in aboard))

    def _build(
        self, layout: Layout, finder: JointFinder, frames: Sequence[FrameMaker], ramp: RampDesign | None
    ) -> list[_Built]:
        hung = self._hung_lb(layout, finder)
        built = []
        for p, frame in zip(layout.picked, frames, strict=True):
            pieces, deck = frame.main_pieces(), section_boards(p, frame.centres, ())
            fixed = hung[p.mark] + sum(piece.wet_lb for piece in pieces) + deck.wet_lb
            burden = self._burden(finder, frame, deck, fixed)
            if ramp is not None and ramp.section == p.mark:
                burden = self._with_ramp(burden, p, ramp)
            floated = FloatLayer(p, burden, self.inspector).lay()
            if floated is None:
                continue
            lines = section_cross_lines(p, floated.ends)
            if deck.direction == "along":
                deck = section_boards(p, frame.centres, lines)
            finder.board_crossings(deck, p)
            finder.cross_ends(p, frame, lines)
            flotation = replace(p.section.flotation, rows=floated.rows, columns=floated.columns)
            filled = replace(p, section=replace(p.section, flotation=flotation))
            pieces += frame.cross_pieces(lines)
            built.append(_Built(filled, pieces, deck, place_floats(p, floated.spots), floated.spots))
        self.inspector.stop_here()
        return built

    def _hung_lb(self, layout: Layout, finder: JointFinder) -> dict[str, float]:
        """Hardware so far and accessories, by section."""
        hung = {p.mark: 0.0 for p in layout.picked}
        for joint in finder.joints:
            sections = [mark for mark in joint.sections if mark != "ramp"]
            for mark in sections:
                hung[mark] += self.rulebook.joint_lb(joint) / len(sections)
        for accessory in layout.accessories:
            hung[accessory.section] += accessory.weight_lb
        return hung

    def _burden(self, finder: JointFinder, frame: FrameMaker, deck: BoardRun, fixed_lb: float) -> Burden:
        picked = frame.picked
        crossing = deck.count * self.rulebook.take_lb("board_crossing", finder.take("board_crossing", picked))
        end = self.rulebook.take_lb("cross_end", finder.take("cross_end", picked))
        per_line = frame.cross_line_lb() + end * 2 * (len(frame.centres) - 1)
        across = deck.direction == "across"
        area = picked.section.length_in * picked.section.width_in / 144
        return Burden(
            fixed_lb=fixed_lb + crossing * (deck.supports_crossed if across else 2),
            per_line_lb=per_line + (0.0 if across else crossing),
            live_lb=self.psf * area,
            fixings_lb=self.rulebook.uses_lb(picked.float_item.fixings),
            lift_ratio=self.lift_ratio,
        )

    def _with_ramp(self, burden: Burden, picked: Picked, ramp: RampDesign) -> Burden:
        u, _ = own_axes(picked.section, ramp.dock_x_in, ramp.dock_y_in)
        return replace(
            burden,
            fixed_lb=burden.fixed_lb + ramp.reaction_lb,
            live_lb=burden.live_lb + self._ramp_live_lb(ramp),
            ramp_lb=ramp.reaction_lb,
            landing_u=u,
        )

    def _ramp_live_lb(self, ramp: RampDesign | None) -> float:
        return self.psf * ramp.length_in * ramp.width_in / 144 / 2 if ramp else 0.0

    def _sum_up(self, layout: Layout, finder: JointFinder, built: Sequence[_Built], ramp: RampDesign | None) -> Design:
        sticks = layout.ramp.pieces if layout.ramp else ()
        ramp_pieces = [replace(s, mark=self.marks.of(s.role, s.item, s.length_in)) for s in sticks]
        ramp_boards = (layout.ramp.boards,) if layout.ramp and layout.ramp.boards else ()
        own = [joint for joint in finder.joints if "ramp" not in joint.sections]
        of_ramp = [joint for joint in finder.joints if "ramp" in joint.sections]
        bolts, bolt_reason = count_bolts(own)
        ramp_bolts, ramp_bolt_reason = count_bolts(of_ramp)
        boxes = [p.box for p in layout.picked]
        bare = Design(
            spec=self._filled_spec(layout, built),
            pieces=(*(piece for b in built for piece in b.pieces), *ramp_pieces),
            boards=(*(b.boards for b in built), *ramp_boards),
            floats=tuple(f for b in built for f in b.floats),
            joints=tuple(finder.joints),
            edges=layout.edges,
            ramp=ramp,
            anchors=layout.anchored.anchors,
            accessories=layout.accessories,
            weights=(),
            level=(),
            deck_area_sqft=sum(p.section.length_in * p.section.width_in for p in layout.picked) / 144,
            overall_length_in=max(box.x1 for box in boxes) - min(box.x0 for box in boxes),
            overall_width_in=max(box.y1 for box in boxes) - min(box.y0 for box in boxes),
            bolt_count=bolts,
            ramp_bolt_count=ramp_bolts,
            bolt_reason=bolt_reason,
            ramp_bolt_reason=ramp_bolt_reason,
            findings=(),
        )
        items = weighted_items(bare, self.catalogue, self.rulebook)
        weighed = replace(bare, weights=section_weights(bare, items), weighed=items)
        whole = replace(weighed, level=tuple(self._levels(weighed, layout, built)))
        findings = said_once(self._findings(whole, layout, built))
        return replace(whole, findings=tuple(sorted(findings, key=lambda f: LEVELS.index(f.level))))

    def _filled_spec(self, layout: Layout, built: Sequence[_Built]) -> DockSpec:
        return replace(
            self.spec,
            sections=tuple(b.picked.section for b in built),
            joints=layout.joints,
            ramp=layout.ramp.ramp if layout.ramp else None,
            anchors=layout.anchored.filled,
            accessories=layout.filled_accessories,
        )

    def _levels(self, bare: Design, layout: Layout, built: Sequence[_Built]) -> list[LevelFloat]:
        weights = {weight.section: weight for weight in bare.weights}
        levels = []
        for group in dock_groups(layout.picked, layout.joints, rigid_only=True):
            members = [built[i] for i in group]
            marks = tuple(b.picked.mark for b in members)
            wet = sum(_dead(weights[mark], seasoned=False) for mark in marks)
            dry = sum(_dead(weights[mark], seasoned=True) for mark in marks)
            ramp = bare.ramp if bare.ramp and bare.ramp.section in marks else None
            reaction = round(ramp.reaction_lb) if ramp else 0
            area = sum(b.picked.section.length_in * b.picked.section.width_in for b in members) / 144
            levels.append(
                level_float(
                    Afloat(
                        sections=marks,
                        tubs=tuple(self._tub(spot) for b in members for spot in b.spots),
                        dead_wet_lb=wet + reaction,
                        dead_seasoned_lb=dry + (round(ramp.seasoned_lb / 2) if ramp else 0),
                        live_lb=round(self.psf * area + self._ramp_live_lb(ramp)),
                        deck_area_sqft=area,
                        above_tubs_in=min(_above_tubs_in(b.picked) for b in members),
                        person_lb=self.rules.person_lb,
                        live_psf=self.psf,
                        ramp_wet_lb=reaction,
                    )
                )
            )
        return levels

    def _tub(self, spot: Spot) -> Tub:
        item = spot.item
        return Tub(item.height_in, item.weight_lb, net_lift_lb(item, self.lift_ratio), item.round)

    def _findings(self, whole: Design, layout: Layout, built: Sequence[_Built]) -> list[Finding]:
        found = [*size_findings(layout.picked, whole.deck_area_sqft), *layout.findings]
        found += separate_docks(layout.picked, layout.docks)
        by_mark = {b.picked.mark: b for b in built}
        for b in built:
            found += frame_findings(b.picked)
            found += board_findings(b.boards, b.picked.board, f"{b.picked.path}.decking")
            found += overhang_findings(b.picked, whole.edges)
            found += float_findings(b.picked, b.spots)
        for level in whole.level:
            first = by_mark[level.sections[0]]
            above = min(_above_tubs_in(by_mark[mark].picked) for mark in level.sections)
            field, tub = f"{first.picked.path}.flotation", self._tub(first.spots[0])
            found += lift_findings(level, psf=self.psf, above_in=above, tub=tub, field=field)
        found += hinge_findings(whole.level, whole.edges)
        if layout.ramp is not None and layout.host is not None:
            found += self._ramp_findings(whole, layout)
        return [*found, *layout.anchored.findings, *self.rulebook.findings()]

    def _ramp_findings(self, whole: Design, layout: Layout) -> list[Finding]:
        ramp, host = layout.ramp.ramp, layout.host
        freeboard = next(level.freeboard_wet_in for level in whole.level if host.mark in level.sections)
        slopes = slope_findings(ramp, whole.ramp, whole.spec.place.water, freeboard, self.rules.range)
        walked = gangway_findings(ramp, ramp_range(whole, self.rules.range))
        return [*layout.ramp.findings, *landing_findings(ramp, host, whole.floats), *slopes, *walked]


def _dead(weight: Weight, *, seasoned: bool) -> float:
    lumber = (
        weight.frame_seasoned_lb + weight.deck_seasoned_lb if seasoned else weight.frame_wet_lb + weight.deck_wet_lb
    )
    return lumber + weight.hardware_lb + weight.accessories_lb


def _above_tubs_in(picked: Picked) -> float:
    return picked.stringer.width_in + picked.board.thickness_in
