"""What the frame proof answers: how much of its strength each member and joint uses, and how sections may be lifted.

Preliminary always: a check for a competent builder, not engineering.
"""

from dataclasses import dataclass

from .proof import LEVELS
from .reasons import Amount, Finding, Reason, Sentence

CAUTION = "Check on site. Not a substitute for an engineer where one is required."


@dataclass(frozen=True, slots=True)
class MemberCheck:
    """One member or joint under its worst load. `value` and `limit` are in one unit: psi, lb, or in.

    kind: stringer_bending, stringer_shear, stringer_bend (how far it curves), span_bending, span_shear,
    span_deflection (as a simple beam between float centres), idle_stringer, board_span, board_bending,
    board_deflection, cross_bending, cross_shear, cross_deflection, cross_end, tee, corner, hinged_joint, rigid_joint,
    ramp_joint, float_lags. `where` says the load. utilisation is value / limit.
    """

    section: str
    kind: str
    name: str
    where: Sentence
    value: Amount
    limit: Amount
    utilisation: float
    level: str  # fine, check, stop
    reason: Reason

    @property
    def percent(self) -> int:
        return round(self.utilisation * 100)


@dataclass(frozen=True, slots=True)
class LiftSpan:
    """How one section may be lifted, wet, on two slings under all its stringers, evenly about its middle.

    state: bare (frame and hardware) or whole. longest_between_in and shortest_between_in bound the distance between
    slings; both None where no two places will do. longest_at_ends_in is how long such a section could be and still
    be lifted at its ends.
    """

    section: str
    state: str
    weight_lb: float
    length_in: float
    longest_between_in: float | None
    shortest_between_in: float | None
    longest_at_ends_in: float
    level: str
    reason: Reason

    @property
    def at_ends(self) -> bool:
        return self.longest_between_in is not None and self.longest_between_in >= self.length_in - 1e-6


@dataclass(frozen=True, slots=True)
class FrameProof:
    """The whole proof. Checks come section by section in the spec's order, then the joints between sections."""

    live_load_psf: float
    checks: tuple[MemberCheck, ...]
    lifts: tuple[LiftSpan, ...]
    findings: tuple[Finding, ...]
    caution: str = CAUTION
    preliminary: bool = True

    @property
    def level(self) -> str:
        """The gravest of its checks and lifts."""
        return max((row.level for row in (*self.checks, *self.lifts)), key=LEVELS.index, default="fine")

    def governing(self, section: str | None = None) -> MemberCheck | None:
        """The check nearest to its limit, or furthest over it; of one section if named."""
        rows = [check for check in self.checks if section in (None, check.section)]
        return max(rows, key=lambda check: check.utilisation, default=None)
