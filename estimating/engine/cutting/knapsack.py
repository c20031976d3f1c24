"""The most valuable patterns for given piece values: exact, by dynamic programming in whole numbers."""

from collections.abc import Iterator

import numpy as np

from .whole import Column, Pattern, Whole


class Values:
    """What the pieces of every length and shorter are worth at most in every room. Values are whole numbers."""

    def __init__(self, whole: Whole, worth: list[int]):
        self.whole = whole
        self.worth = worth
        self._best = [np.zeros(whole.room + 1, dtype=np.int64)]
        for size, count, value in zip(reversed(whole.sizes), reversed(whole.counts), reversed(worth), strict=True):
            self._best.append(_with_pieces(self._best[-1], size, min(count, whole.room // size), value))
        self._best.reverse()
        self._shortest = [min(whole.sizes[place:], default=0) for place in range(len(whole.sizes) + 1)]

    def most(self, room: int) -> int:
        """The value of the best pattern for a room."""
        return int(self._best[0][room])

    def pattern(self, room: int) -> Pattern:
        """A pattern of that value, with as many of the long pieces as any."""
        taken = []
        for place, (size, count) in enumerate(zip(self.whole.sizes, self.whole.counts, strict=True)):
            times = min(count, room // size)
            while self.worth[place] * times + self._best[place + 1][room - times * size] < self._best[place][room]:
                times -= 1
            taken.append(times)
            room -= times * size
        return tuple(taken)

    def at_least(self, least: list[int]) -> Iterator[Column]:
        """Every full pattern worth at least `least[bin]`: full means that no wanted piece fits beside it."""
        for number, one in enumerate(self.whole.bins):
            if self.most(one.room) >= least[number]:
                yield from (Column(number, found) for found in self._down(0, one.room, least[number], ()))

    def _down(self, place: int, room: int, least: int, taken: Pattern) -> Iterator[Pattern]:
        sizes = self.whole.sizes
        if place == len(sizes) or room < self._shortest[place]:
            found = taken + (0,) * (len(sizes) - place)
            if least <= 0 and any(found) and self._full(found, room):
                yield found
            return
        size, value, below = sizes[place], self.worth[place], self._best[place + 1]
        for times in range(min(self.whole.counts[place], room // size), -1, -1):
            if value * times + below[room - times * size] >= least:
                yield from self._down(place + 1, room - times * size, least - value * times, (*taken, times))

    def _full(self, pattern: Pattern, room: int) -> bool:
        rest = zip(self.whole.sizes, self.whole.counts, pattern, strict=True)
        return all(size > room or taken == count for size, count, taken in rest)


def _with_pieces(best: np.ndarray, size: int, count: int, value: int) -> np.ndarray:
    best = best.copy()
    chunk = 1
    while count > 0 and value > 0:
        chunk = min(chunk, count)
        shift = chunk * size
        if shift < len(best):
            np.maximum(best[shift:], best[:-shift] + chunk * value, out=best[shift:])
        count -= chunk
        chunk *= 2
    return best
