"""What the sections weigh to carry and to haul, and how they would meet at their hinges if each floated by itself."""

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.engine.proof import FloatProof, HingeLine, SectionLift
from estimating.engine.reasons import Amount, Reason, Sentence, Step

HINGE_RULE = Sentence(
    "Each section let float by itself, lumber wet, nobody aboard, and the two decks compared where they meet. "
    "The hinge takes the difference out by force."
)


@dataclass(frozen=True, slots=True)
class Meeting:
    """One hinge: how far its second section would stand above its first. None: one of them would not float alone."""

    hinge: HingeLine
    reason: Reason | None

    @property
    def name(self) -> str:
        return f"{self.hinge.first} to {self.hinge.second}"

    @property
    def step_in(self) -> float | None:
        """The worse end, however it leans; to the tenth."""
        return None if self.hinge.step_in is None else abs(round(self.hinge.step_in, 1))

    @property
    def higher(self) -> str:
        return self.hinge.second if (self.hinge.step_in or 0.0) > 0 else self.hinge.first


@dataclass(frozen=True, slots=True)
class Carrying:
    """Hands, trailer and hinges. No heaviest section, or no meetings: not worked out, or there is none."""

    heaviest: SectionLift | None
    trailer_lb: float
    trailer_reason: Reason
    meetings: tuple[Meeting, ...]

    @property
    def worst(self) -> Meeting | None:
        """The hinge that is most out of line; one with a section that sinks comes before all."""
        return max(self.meetings, key=lambda one: float("inf") if one.step_in is None else one.step_in, default=None)

    @property
    def others(self) -> Sequence[Meeting]:
        return [one for one in self.meetings if one is not self.worst]


def carrying(proof: FloatProof) -> Carrying:
    """What the proof says of sections out of the water, and apart."""
    heaviest = max(proof.lifts, key=lambda lift: lift.whole_lb, default=None)
    meetings = tuple(Meeting(hinge, _meeting_reason(hinge)) for hinge in proof.hinges)
    return Carrying(heaviest, proof.trailer_lb, proof.trailer_reason, meetings)


def _meeting_reason(hinge: HingeLine) -> Reason | None:
    if hinge.start_in is None or hinge.end_in is None:
        return None
    above = f"{hinge.second} above {hinge.first}, at"
    steps = (
        Step(Sentence(f"{above} one end of the hinge"), Amount(round(hinge.start_in, 1), "in_small")),
        Step(Sentence(f"{above} its other end"), Amount(round(hinge.end_in, 1), "in_small")),
    )
    return Reason(HINGE_RULE, "ARCHIMEDES", steps)
