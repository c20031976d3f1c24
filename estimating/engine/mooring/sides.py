"""The sixteen sides a load may come from, and how much of a dock each of them sees."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from estimating.engine.outline import Box

Array = NDArray[np.float64]
FROM_DEG = tuple(22.5 * k for k in range(16))
WORDS = (
    *("the lake", "the lake, a little left", "the lake and the left", "the left, a little lakeward"),
    *("the left", "the left, a little shoreward", "the shore and the left", "the shore, a little left"),
    *("the shore", "the shore, a little right", "the shore and the right", "the right, a little shoreward"),
    *("the right", "the right, a little lakeward", "the lake and the right", "the lake, a little right"),
)
_RADIANS = np.radians(FROM_DEG)
TOWARDS = np.stack([-np.cos(_RADIANS), -np.sin(_RADIANS)], axis=1).round(12)  # where the load pushes
ACROSS = np.stack([-np.sin(_RADIANS), np.cos(_RADIANS)], axis=1).round(12)


@dataclass(frozen=True, slots=True)
class Seen:
    """How wide boxes look from each side: one row a side. `own` has one column a box; `whole` counts none twice."""

    own: Array
    whole: Array

    @property
    def shares(self) -> Array:
        """How much of its own width counts for each box, where others stand before it, one figure a side."""
        return self.whole / np.maximum(self.own.sum(axis=1), 1e-12)


def seen(boxes: Sequence[Box]) -> Seen:
    """Widths of boxes in plan seen from the sixteen sides, inches. Source: GEOMETRY.

    >>> wide = seen([Box(0, 0, 192, 72), Box(192, 0, 384, 72)])
    >>> float(wide.whole[0]), float(wide.whole[4]), wide.own[0].tolist()
    (72.0, 384.0, [72.0, 72.0])
    """
    corners = np.array(boxes, dtype=float).reshape(-1, 4)
    middle = (corners[:, :2] + corners[:, 2:]) / 2
    size = corners[:, 2:] - corners[:, :2]
    own = np.abs(ACROSS) @ size.T
    at = ACROSS @ middle.T
    starts, ends = at - own / 2, at + own / 2
    order = np.argsort(starts, axis=1)
    starts, ends = np.take_along_axis(starts, order, 1), np.take_along_axis(ends, order, 1)
    before = np.concatenate([starts[:, :1], np.maximum.accumulate(ends, axis=1)[:, :-1]], axis=1)
    return Seen(own, np.maximum(ends - np.maximum(starts, before), 0.0).sum(axis=1))
