"""What holds a deadweight: its weight under water, and how the bottom rubs. Pounds."""

from dataclasses import dataclass

from estimating.engine.reasons import Sentence

CONCRETE_LB_PER_CUFT = 150.0
# Mass concrete cast on soil, lesser and greater tan δ. A block set down on the bottom may do worse.
FRICTION = {
    "clean sound rock": (0.70, 0.70),
    "clean gravel, gravel-sand, coarse sand": (0.55, 0.60),
    "clean fine to medium sand, silty medium to coarse sand, silty or clayey gravel": (0.45, 0.55),
    "clean fine sand, silty or clayey fine to medium sand": (0.35, 0.45),
    "fine sandy silt, nonplastic silt": (0.30, 0.35),
    "very stiff and hard clay": (0.40, 0.50),
    "medium stiff and stiff clay, silty clay": (0.30, 0.35),
}
LEDGE = 0.35
_LEAST = min(lesser for lesser, _ in FRICTION.values())
_ROWS = {
    "sand": "clean fine sand, silty or clayey fine to medium sand",
    "gravel": "clean gravel, gravel-sand, coarse sand",
    "clay": "medium stiff and stiff clay, silty clay",
}


@dataclass(frozen=True, slots=True)
class Grip:
    """How a bottom rubs: tan δ, from which source, and what to say about it; `sure` where the table covers it."""

    friction: float
    source: str
    sure: bool
    words: Sentence | None = None


def grip_of(bottom: str) -> Grip:
    """The lesser figure of the row for a bottom; what no row covers gets the least of the table, and says so.

    Source: DM_7_02; ledge is common practice, no source.

    >>> grip_of("sand").friction, grip_of("ledge").friction, grip_of("mud").sure, grip_of("unknown").friction
    (0.35, 0.35, False, 0.3)
    """
    if bottom in _ROWS:
        return Grip(FRICTION[_ROWS[bottom]][0], "DM_7_02", True)
    if bottom == "ledge":
        return Grip(
            LEDGE, "COMMON_PRACTICE", False, Sentence("A block slides on ledge. Pin it, or lay it in a pocket.")
        )
    if bottom == "mud":
        words = Sentence(
            "Soft mud is in no table: it may swallow a block and hold it, or let it creep. Ask what holds."
        )
    elif bottom in ("weed", "boulders"):
        words = Sentence("Weed and boulders are in no table: a block may lie on them and hold little.")
    else:
        words = Sentence("Probe the bottom where the anchor goes.")
    return Grip(_LEAST, "DM_7_02", False, words)


def under_water_lb(*, dry_lb: float, water_lb_per_cuft: float, own_lb_per_cuft: float = CONCRETE_LB_PER_CUFT) -> float:
    """What a block weighs under water: W (1 − γw/γ). Raises ValueError unless it sinks. Source: ARCHIMEDES.

    >>> [round(under_water_lb(dry_lb=1000, water_lb_per_cuft=water)) for water in (62.4, 64.0)]
    [584, 573]
    """
    if not (dry_lb >= 0 and 0 < water_lb_per_cuft < own_lb_per_cuft):
        raise ValueError("an anchor is heavier than water and weighs zero or more")
    return dry_lb * (1 - water_lb_per_cuft / own_lb_per_cuft)


def holding_lb(*, under_water_lb: float, uplift_lb: float, friction: float) -> float:
    """What a deadweight resists before it slides: (W − uplift) tan δ, never below zero. Source: DM_7_02.

    >>> round(holding_lb(under_water_lb=584, uplift_lb=0, friction=0.45), 1)
    262.8
    >>> round(holding_lb(under_water_lb=584, uplift_lb=60, friction=0.45), 1)
    235.8
    """
    return max(under_water_lb - uplift_lb, 0.0) * friction
