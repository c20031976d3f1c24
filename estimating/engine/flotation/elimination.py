"""Newton's step for a tree of hinged bodies at a cost that grows with the bodies, not with their square.

Near any attitude the energy is a quadratic in the small changes of every body's attitude. From the outermost bodies
inwards each hinge's angle is solved for in terms of its parent's attitude and taken out, which leaves the parent a
stiffness and a force that stand for all it carries; at the root three coordinates are left. Then the changes are
carried outwards again. The factors met on the way are the pivots of the curvature matrix: it curves up everywhere
just when all of them do. A pivot that curves down is taken by its size, so that the step runs downhill there too.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np

from .immersion import Array
from .linkage import Bend, Linkage, apply

_FLOOR = 1e-9


@dataclass(frozen=True, slots=True)
class _TakenOut:
    """The hinges of one level, each (rows, hinges, ...): how the child moves with its angle, how the angle hangs on the
    parent, the force along it, its pivot, and the pivot used."""

    bend: Bend
    moves: Array
    hangs: Array
    force: Array
    pivot: Array
    used: Array


@dataclass(frozen=True, slots=True)
class Step:
    """Of each row, scaled to inches: the downhill step and the curvature along it (in-lb), the least pivot or root
    curvature (lb per inch), and the root's own curvatures with everything else free to follow (rows, 3, 3)."""

    step: Array
    along: Array
    least: Array
    root: Array


@dataclass(frozen=True, slots=True)
class Elimination:
    """All angles taken out. slope is of the energy, (rows, freedoms), scaled to inches."""

    linkage: Linkage
    levels: list[_TakenOut]
    slope: Array
    root_slopes: Array
    root_force: Array
    root: Array
    floor: Array

    @classmethod
    def of(
        cls, linkage: Linkage, state: Array, bends: list[Bend], attitude: Array, pull: tuple[Array, Array, Array]
    ) -> Self:
        """pull: slope (rows, bodies, 4) and curvature (rows, bodies, 4, 4) of each body's energy in its attitude, and
        the stiffness (rows) that pivots are measured against."""
        push, stiffness, stiff = pull
        floor = _FLOOR * stiff
        slope = np.empty((len(state), linkage.freedoms))
        total, force, stiffness = push.copy(), push.copy(), stiffness.copy()
        levels = []
        for bend in reversed(bends):
            taken, own = _take_out(bend, attitude, (total, force, stiffness), linkage.reach_in, floor)
            slope[:, bend.level.columns] = own
            levels.append(taken)
        root_slopes = linkage.root_slopes(state)
        slope[:, :3] = (total[:, :1] @ root_slopes)[:, 0]
        root = np.swapaxes(root_slopes, 1, 2) @ stiffness[:, 0] @ root_slopes
        upright = (total[:, :1, :3] @ state[:, :3, None])[:, 0, 0]
        root[:, 1, 1] -= upright
        root[:, 2, 2] -= upright
        reach = linkage.reach_in
        root_force = (force[:, :1] @ root_slopes)[:, 0] / reach[:3]
        scaled = root / (reach[:3, None] * reach[:3])
        return cls(linkage, levels, slope / reach, root_slopes, root_force, scaled, floor)

    def newton(self) -> Step:
        """The step to the bottom of the quadratic, or downhill where it has none."""
        values, vectors = np.linalg.eigh(self.root)
        used = np.maximum(np.abs(values), self.floor[:, None])
        along = -(self.root_force[:, None] @ vectors)[:, 0] / used
        step = self._outward(apply(vectors, along), None)
        reach = self.linkage.reach_in
        curved = -(step * self.slope).sum(1) - ((used - values) * along * along).sum(1)
        least = values[:, 0]
        for taken in self.levels:
            columns = taken.bend.level.columns
            angle = step[:, columns] / reach[columns]
            curved -= ((taken.used - taken.pivot) * angle * angle).sum(1)
            least = np.minimum(least, (taken.pivot / reach[columns] ** 2).min(1))
        return Step(step, curved, least, self.root)

    def escape(self) -> Array:
        """A unit step along which the energy curves down, (rows, freedoms), downhill if there is a slope."""
        values, vectors = np.linalg.eigh(self.root)
        reach = self.linkage.reach_in
        pivots = np.concatenate([values[:, :1], *(t.pivot / reach[t.bend.level.columns] ** 2 for t in self.levels)], 1)
        columns = np.concatenate([[-1], *(t.bend.level.columns for t in self.levels)]).astype(int)
        worst = columns[pivots.argmin(1)]
        step = self._outward(np.where(worst[:, None] < 0, vectors[:, :, 0], 0.0), worst)
        step /= np.sqrt((step * step).sum(1))[:, None]
        return step * np.where((step * self.slope).sum(1) > 0, -1.0, 1.0)[:, None]

    def _outward(self, root: Array, only: Array | None) -> Array:
        """Carry a step of the root out along the tree, scaled; with `only`, of no force but a turn of that column."""
        linkage = self.linkage
        step = np.empty_like(self.slope)
        step[:, :3] = root
        moved = np.empty((len(step), linkage.bodies, 4))
        moved[:, 0] = apply(self.root_slopes, root / linkage.reach_in[:3])
        for taken in reversed(self.levels):
            level = taken.bend.level
            before = moved[:, level.parents]
            push = (taken.hangs * before).sum(2)
            angle = -(push + taken.force if only is None else push) / taken.used
            if only is not None:
                angle = np.where(level.columns == only[:, None], 1.0, angle)
            moved[:, level.children] = apply(taken.bend.turn, before) + angle[..., None] * taken.moves
            step[:, level.columns] = angle * linkage.reach_in[level.columns]
        return step


def _take_out(
    bend: Bend, attitude: Array, held: tuple[Array, Array, Array], reach_in: Array, floor: Array
) -> tuple[_TakenOut, Array]:
    """Take one level's angles out of what its bodies hold, and hand the rest to their parents. Also their slopes."""
    total, force, stiffness = held
    level, turn = bend.level, bend.turn
    back, parent = np.swapaxes(turn, 2, 3), attitude[:, level.parents]
    moves = apply(bend.slope, parent)
    below, pushed = total[:, level.children], force[:, level.children]
    stiff = stiffness[:, level.children]
    resists = apply(stiff, moves)
    pivot = (moves * resists).sum(2) + (below * apply(bend.curve, parent)).sum(2)
    hangs = apply(back, resists) + apply(np.swapaxes(bend.slope, 2, 3), below)
    along = (pushed * moves).sum(2)
    used = np.maximum(np.abs(pivot), floor[:, None] * reach_in[level.columns] ** 2)
    level.gather(total, apply(back, below))
    level.gather(force, apply(back, pushed) - hangs * (along / used)[..., None])
    level.gather(stiffness, back @ stiff @ turn - hangs[..., :, None] * (hangs / used[..., None])[..., None, :])
    return _TakenOut(bend, moves, hangs, along, pivot, used), (below * moves).sum(2)
