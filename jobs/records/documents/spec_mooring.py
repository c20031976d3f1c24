"""What holds the dock, as the spec page says it: anchors and chains at every level, and where the dock drifts."""

from dataclasses import dataclass

from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.moorings import Moored, mooring_plan
from estimating.engine.mooring.holding import NOTHING_HOLDS
from estimating.engine.mooring.sides import FROM_DEG, WORDS
from estimating.engine.mooring_result import AnchorHold, DockHeld, Drift, MooringProof
from estimating.engine.reasons import Amount, Sentence
from estimating.engine.result import Design

from .spec_float import LEVEL_WORDS

WIDE_PX, SMALL_PX = 560.0, 300.0


@dataclass(frozen=True, slots=True)
class Held:
    """A row of the table of anchors."""

    anchor: AnchorHold
    slack: Sentence

    @property
    def level(self) -> str:
        return self.anchor.level

    @property
    def word(self) -> str:
        return LEVEL_WORDS[self.anchor.level]

    @property
    def hold_used(self) -> str:
        return _share(self.anchor.holding_share)

    @property
    def chain_used(self) -> str:
        return "not known" if self.anchor.chain_share is None else _share(self.anchor.chain_share)

    @property
    def wander_in(self) -> int:
        return round(self.anchor.levels[0].wander_in)


@dataclass(frozen=True, slots=True)
class Drifting:
    """How far one dock goes at one level, and from which side."""

    dock: str
    drift: Drift

    @property
    def drift_in(self) -> int:
        return round(self.drift.drift_in)

    @property
    def turned_deg(self) -> float:
        return abs(round(self.drift.yaw_deg, 1))

    @property
    def turned_words(self) -> str:
        """Which way its lake end goes."""
        return "left" if self.drift.yaw_deg > 0 else "right"

    @property
    def from_words(self) -> str:
        return WORDS[FROM_DEG.index(self.drift.from_deg)]


@dataclass(frozen=True, slots=True)
class Mooring:
    """Everything the page says about anchors."""

    proof: MooringProof
    rows: tuple[Held, ...]
    drifts: tuple[Drifting, ...]
    wide: str
    small: str

    @property
    def pushed(self) -> tuple[DockHeld, ...]:
        return self.proof.docks

    @property
    def several_docks(self) -> bool:
        return len(self.proof.docks) > 1


def mooring(design: Design, proof: MooringProof, speak: Speak, *, prefix: str) -> Mooring:
    """The mooring proof for the page."""
    drifts = tuple(
        Drifting(" ".join(held.sections), drift)
        for held in proof.docks
        for level in proof.levels
        if (drift := held.furthest(level.name)) is not None
    )
    return Mooring(
        proof=proof,
        rows=tuple(Held(anchor, _slack(anchor)) for anchor in proof.anchors),
        drifts=drifts,
        wide=mooring_plan(design, proof, Moored(WIDE_PX, speak, f"{prefix}-moored")),
        small=mooring_plan(design, proof, Moored(SMALL_PX, speak, f"{prefix}-moored-small", tallest_px=300.0)),
    )


def _share(share: float) -> str:
    """Of what is allowed: percent, or how many times where it is far over.

    >>> _share(0.254), _share(4.49), _share(1e9)
    ('25%', '4.5 times', 'no hold')
    """
    if share >= NOTHING_HOLDS:
        return "no hold"
    return f"{share:.0%}" if share < 2 else f"{share:.1f} times" if share < 10 else f"{share:.0f} times"


def _slack(anchor: AnchorHold) -> Sentence:
    tightest = min(anchor.levels, key=lambda row: row.slack_in - row.short_in)
    if tightest.short_in > 0:
        return Sentence("{0} short at {1}", (_in(tightest.short_in), tightest.level))
    return Sentence("{0} at {1}", (_in(tightest.slack_in), tightest.level))


def _in(value: float) -> Amount:
    return Amount(round(value), "in")
