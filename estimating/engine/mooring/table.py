"""What the crew sets on a day: each anchor with its depth and chain at that day's level."""

from dataclasses import dataclass
from math import hypot

from estimating.engine.mooring_result import MooringProof
from estimating.engine.reasons import Amount, Sentence
from estimating.engine.result import Design, PlacedAnchor

LITTLE_IN = 12.0


@dataclass(frozen=True, slots=True)
class AnchorRow:
    """One anchor on a day. x and y are the weight's place in plan; aside the same from its corner.

    chain_length_in is all the chain, tie-off included; straight_in is corner to weight that day. Depth, straight and
    slack are None where the level cannot be set against normal.
    """

    anchor: str
    section: str
    x_in: float
    y_in: float
    aside_x_in: float
    aside_y_in: float
    depth_in: float | None
    chain_length_in: float
    straight_in: float | None
    slack_in: float | None
    slack: Sentence


def anchor_table(design: Design, mooring: MooringProof, level_in: float | None) -> tuple[AnchorRow, ...]:
    """A row an anchor for a day on which the water stands at `level_in` on the site's datum; None: at normal.

    Source: GEOMETRY.
    """
    normal = design.spec.place.water.normal_in
    rise = 0.0 if level_in is None else None if normal is None else level_in - normal
    tied = {hold.mark: hold.tie_off_in for hold in mooring.anchors}
    return tuple(_row(placed, tied[placed.mark], rise) for placed in design.anchors)


def _row(placed: PlacedAnchor, tie_off_in: float, rise_in: float | None) -> AnchorRow:
    aside = placed.x_in - placed.corner_x_in, placed.y_in - placed.corner_y_in
    depth = straight = slack = None
    if rise_in is not None:
        depth = max(placed.counted_depth_in + rise_in, 0.0)
        straight = hypot(*aside, depth)
        slack = placed.chain_length_in - tie_off_in - straight
    return AnchorRow(
        anchor=placed.mark,
        section=placed.section,
        x_in=placed.x_in,
        y_in=placed.y_in,
        aside_x_in=aside[0],
        aside_y_in=aside[1],
        depth_in=depth,
        chain_length_in=placed.chain_length_in,
        straight_in=straight,
        slack_in=slack,
        slack=_words(slack),
    )


def _words(slack_in: float | None) -> Sentence:
    if slack_in is None:
        return Sentence("level not known")
    if slack_in < 0:
        return Sentence("short by {0}: do not set", (Amount(-slack_in, "in"),))
    text = "{0} of slack" if slack_in >= LITTLE_IN else "{0} of slack, little"
    return Sentence(text, (Amount(slack_in, "in"),))
