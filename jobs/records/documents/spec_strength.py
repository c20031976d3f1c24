"""How near the frame comes to its strength, section by section: the governing check first, the rest behind it."""

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.engine.frame_result import FrameProof, LiftSpan, MemberCheck
from estimating.engine.reasons import Finding
from estimating.engine.result import Design

LEVEL_WORDS = {"fine": "fine", "check": "Check", "stop": "Stop"}


@dataclass(frozen=True, slots=True)
class SectionStrength:
    """One section: the check that is nearest to its limit, and all others, the most used first."""

    name: str
    governing: MemberCheck
    others: tuple[MemberCheck, ...]

    @property
    def rows(self) -> int:
        return len(self.others)


@dataclass(frozen=True, slots=True)
class Lift:
    span: LiftSpan

    @property
    def word(self) -> str:
        return LEVEL_WORDS[self.span.level]


@dataclass(frozen=True, slots=True)
class Strength:
    """What the page says of the frame's strength, and what of the job is beyond any builder's check."""

    proof: FrameProof
    sections: tuple[SectionStrength, ...]
    lifts: tuple[Lift, ...]
    engineer: tuple[Finding, ...]

    @property
    def beyond(self) -> list[Finding]:
        """What asks for an engineer, the worst first."""
        return sorted((one for one in self.engineer if one.level != "note"), key=lambda one: one.level != "stop")


def strength(design: Design, proof: FrameProof, engineer: Sequence[Finding] = ()) -> Strength:
    """The proof in the order of the sections; joints between sections are under their own name."""
    names = [section.mark for section in design.spec.sections]
    others = dict.fromkeys(check.section for check in proof.checks if check.section not in names)
    sections = (_section(name, proof) for name in (*names, *others))
    found = tuple(one for one in sections if one)
    return Strength(proof, found, tuple(map(Lift, proof.lifts)), tuple(engineer))


def _section(name: str, proof: FrameProof) -> SectionStrength | None:
    checks = sorted((check for check in proof.checks if check.section == name), key=lambda check: -check.utilisation)
    if not checks:
        return None
    return SectionStrength(name, checks[0], tuple(checks[1:]))
