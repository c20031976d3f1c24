"""What the mooring proof answers: loads, every chain and anchor at every level, and where the dock lies under them.

Preliminary always: a check for a competent builder, not engineering. Inches, pounds, degrees. Directions are where the
load comes from, in degrees from the lake towards the left of someone looking out; levels are low, normal, high, storm.
"""

from dataclasses import dataclass

from .proof import LEVELS
from .reasons import Finding, Reason

CAUTION = "Check on site. Not a substitute for an engineer where one is required."


@dataclass(frozen=True, slots=True)
class WaterLevel:
    """A level the dock is held at; level_in is on the site's datum, None where that is unknown."""

    name: str
    level_in: float | None
    rise_in: float  # above normal


@dataclass(frozen=True, slots=True)
class Push:
    """What one dock is pushed with from one side, before the shallow-water increase of the current at a level."""

    from_deg: float
    words: str
    wind_lb: float
    boats_lb: float
    current_lb: float

    @property
    def total_lb(self) -> float:
        return self.wind_lb + self.boats_lb + self.current_lb


@dataclass(frozen=True, slots=True)
class ChainAtLevel:
    """One chain at one level: where the dock was set, then under the worst load.

    Slack is chain over the straight line, never below zero; short_in says how much is missing instead. Wander is how
    far the corner may drift with nothing pulling. A tension of None: too short to reach, it pulls the dock under.
    """

    level: str
    depth_in: float
    slack_in: float
    short_in: float
    wander_in: float
    hanging_lb: float  # straight down on the dock with no load
    pull_lb: float
    tension_lb: float | None
    uplift_lb: float | None
    holding_lb: float
    from_words: str


@dataclass(frozen=True, slots=True)
class AnchorHold:
    """One anchor with its chain. Shares are of what is allowed; 1 is the limit."""

    mark: str
    section: str
    corner_x_in: float
    corner_y_in: float
    x_in: float
    y_in: float
    depth_in: float  # below normal; as counted
    depth_known: bool
    bottom: str
    friction: float
    dry_lb: float
    under_water_lb: float
    chain_length_in: float  # all of it
    tie_off_in: float  # of it
    chain_lb_per_ft: float  # in the water
    chain_weighed: bool  # whether the catalogue knows its weight or size
    working_load_lb: float | None
    levels: tuple[ChainAtLevel, ...]
    worst: str  # the level at which it is asked most
    chain_share: float | None  # of the working load limit, None where that is unknown
    holding_share: float  # of the holding less the firm's factor; 1e9 where nothing holds
    level: str  # fine, check, stop
    holding_reason: Reason
    chain_reason: Reason

    def at(self, level: str) -> ChainAtLevel:
        """The row of a level. Raises KeyError for one the site does not have."""
        for row in self.levels:
            if row.level == level:
                return row
        raise KeyError(level)

    @property
    def most_tension_lb(self) -> float | None:
        """None where it is too short at some level."""
        tensions = [row.tension_lb for row in self.levels]
        return None if None in tensions else max(tensions)

    @property
    def most_wander_in(self) -> float:
        return max(row.wander_in for row in self.levels)

    @property
    def least_slack_in(self) -> float:
        """Below zero where it is short."""
        return min(row.slack_in - row.short_in for row in self.levels)


@dataclass(frozen=True, slots=True)
class Drift:
    """Where the dock lies at a level under a load from one side; tensions in the order of the dock's anchors."""

    level: str
    from_deg: float
    dx_in: float
    dy_in: float
    yaw_deg: float  # positive turns the lake end to the left
    settled: bool
    tensions_lb: tuple[float | None, ...]

    @property
    def drift_in(self) -> float:
        return (self.dx_in**2 + self.dy_in**2) ** 0.5


@dataclass(frozen=True, slots=True)
class DockHeld:
    """One dock of sections joined, its loads and where it goes. `middle` is what `yaw` turns about."""

    sections: tuple[str, ...]
    anchors: tuple[int, ...]  # indices into MooringProof.anchors
    middle_x_in: float
    middle_y_in: float
    pushes: tuple[Push, ...]
    load_reason: Reason
    drifts: tuple[Drift, ...]

    def furthest(self, level: str | None = None) -> Drift | None:
        """The furthest drift, of one level if named; None for a dock without anchors."""
        rows = [drift for drift in self.drifts if level in (None, drift.level)]
        return max(rows, key=lambda drift: drift.drift_in, default=None)


@dataclass(frozen=True, slots=True)
class PullDown:
    """What the chains on one rigid group weigh on it at the highest level, and how much lower it floats for that."""

    sections: tuple[str, ...]
    level: str
    hanging_lb: float
    worst_lb: float  # with the worst load pulling
    lower_in: float
    freeboard_in: float  # wet, before the chains
    spare_lb: float  # lift to spare with nobody aboard
    reason: Reason


@dataclass(frozen=True, slots=True)
class Reset:
    """Where a chain wanders more than the firm allows: the level from which it has to be taken up."""

    mark: str
    level_in: float | None  # on the site's datum
    fall_in: float  # below normal


@dataclass(frozen=True, slots=True)
class Exposure:
    """Waves by wind and fetch; words: sheltered, moderate, exposed, open."""

    words: str
    height_in: float
    period_s: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class MooringProof:
    """The whole proof. `anchors` are in the design's order; `exposure` is None where the fetch is unknown."""

    levels: tuple[WaterLevel, ...]
    anchors: tuple[AnchorHold, ...]
    docks: tuple[DockHeld, ...]
    pulls: tuple[PullDown, ...]
    resets: tuple[Reset, ...]
    crossed: tuple[tuple[str, str], ...]
    exposure: Exposure | None
    findings: tuple[Finding, ...]
    caution: str = CAUTION
    preliminary: bool = True

    @property
    def level(self) -> str:
        """The gravest of its anchors."""
        return max((anchor.level for anchor in self.anchors), key=LEVELS.index, default="fine")

    def anchor(self, mark: str) -> AnchorHold:
        """Raises KeyError for a mark no anchor has."""
        for anchor in self.anchors:
            if anchor.mark == mark:
                return anchor
        raise KeyError(mark)
