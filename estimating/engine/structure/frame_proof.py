"""The frame proof of a whole design: every section's members, joints, lags and lifting, then the joints between them.

Like sections are worked out once. Preliminary: a check for a competent builder, not engineering.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from estimating.engine.frame_result import FrameProof, LiftSpan, MemberCheck
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.reasons import Finding, Sentence
from estimating.engine.result import Design, JointPoint

from .cures import joint_finding, lift_finding, section_findings
from .decks import board_checks, cross_checks, idle_checks
from .joining import Bolted, Side, bolted, end_checks, joint_check, lag_check, ramp_check
from .lifting import lift_span
from .sections import Framed, Framing, Rest, rests
from .stringers import bend_on_floats, stringer_checks
from .values import design_values

_BETWEEN = ("hinged_joint", "rigid_joint")


def prove_frame(design: Design, catalogue: Catalogue, rules: FirmRules, *, live_load_psf: float) -> FrameProof:
    """Whether the frame of a design is strong enough for so many pounds of people per square foot.

    Raises ValueError for a live load below zero. Sources: NDS_VALUES, NDS_FACTORS, DCA_6, NDS_YIELD, NDS_WITHDRAWAL.
    """
    if not live_load_psf >= 0:
        raise ValueError("the live load must not be below zero")
    return _Proof(design, catalogue, rules, live_load_psf).proof()


@dataclass(frozen=True, slots=True)
class _Fixed:
    """What joins one section's pieces."""

    tee: Bolted | None
    corner: Bolted | None
    ramp: Bolted | None
    screws: int
    floats: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Key:
    """What makes sections alike."""

    framed: Framed
    fixed: _Fixed
    bare_lb: float
    whole_lb: float


@dataclass(frozen=True, slots=True)
class _Like:
    """What like sections share."""

    checks: tuple[MemberCheck, ...]
    lifts: tuple[LiftSpan, ...]


class _Proof:
    def __init__(self, design: Design, catalogue: Catalogue, rules: FirmRules, live_load_psf: float) -> None:
        self.design, self.catalogue, self.live = design, catalogue, live_load_psf
        self.framing = Framing(design, catalogue, rules, live_load_psf)
        self.framed = dict(self.framing.all())
        self.fields = {section.mark: f"sections[{n}].framing" for n, section in enumerate(design.spec.sections)}
        self.joints = _first_joints(design.joints)
        self.likes: dict[_Key, _Like] = {}
        self.marks: dict[_Key, list[str]] = defaultdict(list)

    def proof(self) -> FrameProof:
        keys = {mark: self._key(mark, framed) for mark, framed in self.framed.items()}
        for mark, key in keys.items():
            self.marks[key].append(mark)
        self._work_out(list(self.marks))
        checks: list[MemberCheck] = []
        lifts: list[LiftSpan] = []
        for mark, key in keys.items():
            like = self.likes[key]
            checks += [replace(check, section=mark) for check in like.checks]
            lifts += [replace(lift, section=mark) for lift in like.lifts]
        between = list(self._between())
        findings = (*self._findings(), *_joint_findings(between), *self._unproved())
        return FrameProof(self.live, (*checks, *between), tuple(lifts), findings)

    def _key(self, mark: str, framed: Framed) -> _Key:
        weight = self.framing.weights[mark]
        bare = weight.frame_wet_lb + weight.hardware_lb
        whole = bare + weight.deck_wet_lb + weight.accessories_lb + weight.floats_lb
        return _Key(framed, self._fixed(mark), bare, whole)

    def _work_out(self, keys: Sequence[_Key]) -> None:
        held = [rests(key.framed) for key in keys]
        bent = bend_on_floats([(key.framed, own) for key, own in zip(keys, held, strict=True)])
        for key, own, curves in zip(keys, held, bent, strict=True):
            states = ("bare", key.bare_lb), ("whole", key.whole_lb)
            lifts = tuple(lift_span(key.framed, state, pounds) for state, pounds in states if pounds > 0)
            checks = (*stringer_checks(key.framed, own, curves), *self._checks(key.framed, key.fixed, own))
            self.likes[key] = _Like(checks, lifts)

    def _checks(self, framed: Framed, fixed: _Fixed, held: Sequence[Rest]) -> Iterator[MemberCheck]:
        yield from idle_checks(framed, held)
        yield from board_checks(framed)
        yield from cross_checks(framed, fixed.screws)
        yield from end_checks(framed, held, fixed.tee, fixed.corner)
        yield from ramp_check(framed, fixed.ramp)
        yield from lag_check(framed, [self.catalogue.floats[code] for code in fixed.floats], self.catalogue)

    def _fixed(self, mark: str) -> _Fixed:
        tee, corner, ramp, end = (
            self.joints.get((place, mark)) for place in ("tee", "outer_corner", "ramp_dock_end", "cross_end")
        )
        return _Fixed(
            bolted(tee, self.catalogue) if tee else None,
            bolted(corner, self.catalogue) if corner else None,
            bolted(ramp, self.catalogue) if ramp else None,
            self._screws(end) if end else 0,
            self.framing.float_items(mark),
        )

    def _screws(self, joint: JointPoint) -> int:
        goods = self.catalogue.goods
        return sum(
            int(quantity)
            for code, quantity in joint.parts
            if "screw" in (f"{code} {goods[code].name}" if code in goods else code).lower()
        )

    def _between(self) -> Iterator[MemberCheck]:
        sections = self.framing.sections
        for joint in self.design.joints:
            if joint.place not in _BETWEEN or not all(mark in self.framed for mark in joint.sections):
                continue
            bolts = bolted(joint, self.catalogue, through=joint.place == "rigid_joint")
            sides = tuple(Side(sections[mark], self.framed[mark]) for mark in joint.sections)
            row = joint_check(joint, sides, bolts) if bolts else None
            if row is not None:
                yield row

    def _findings(self) -> Iterator[Finding]:
        shop = tuple(self.catalogue.lumber.values())
        for key, like in self.likes.items():
            marks, field = self.marks[key], self.fields[self.marks[key][0]]
            yield from section_findings(marks, key.framed, like.checks, shop, field)
            for lift in like.lifts:
                found = lift_finding(marks, lift, field)
                if found is not None:
                    yield found

    def _unproved(self) -> Iterator[Finding]:
        """What this proof took for want of better, and what it leaves out."""
        notes: dict[str, str] = {}
        for mark, framed in self.framed.items():
            for stock in (framed.stringer, framed.header, framed.cross):
                listed = design_values(stock.species, stock.thickness_in, stock.depth_in)
                if not listed.known:
                    notes.setdefault(f"{stock.name}: {listed.note}", self.fields[mark])
        for text, field in notes.items():
            cure = Sentence("Enter the species in the catalogue, as stamped on the lumber.")
            yield Finding("note", Sentence("{0}", (text,)), cure, field, "NDS_VALUES", "frame_species")
        places = {joint.place for joint in self.design.joints if not joint.bolts}
        for place, words in (("tee", "Stringer ends"), ("outer_corner", "Corners"), *_NAMES_BETWEEN):
            if place in places:
                headline = Sentence("{0} take no bolts by the firm's rule: their strength is not worked out.", (words,))
                yield Finding("note", headline, source="FIRM_JOINTS", code=f"frame_no_bolts_{place}")
        if any(joint.place == "rigid_joint" and joint.bolts for joint in self.design.joints):
            headline = Sentence("Rigid joints are checked in shear alone: bending across them is not worked out.")
            cure = Sentence("A hinge lets the sections move, or have the joint engineered.")
            yield Finding("note", headline, cure, "", "COMMON_PRACTICE", "frame_rigid_bending")


_NAMES_BETWEEN = (("hinged_joint", "Hinges"), ("rigid_joint", "Rigid joints"))


def _first_joints(joints: Iterable[JointPoint]) -> dict[tuple[str, str], JointPoint]:
    first: dict[tuple[str, str], JointPoint] = {}
    for joint in joints:
        for mark in joint.sections:
            first.setdefault((joint.place, mark), joint)
    return first


def _joint_findings(rows: Iterable[MemberCheck]) -> Iterator[Finding]:
    worst: dict[str, MemberCheck] = {}
    for row in rows:
        if row.level != "fine" and (row.kind not in worst or row.utilisation > worst[row.kind].utilisation):
            worst[row.kind] = row
    for row in worst.values():
        yield joint_finding(row)
