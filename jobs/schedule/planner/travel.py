"""How far it is between two places, and the least that any plan must drive."""

from collections.abc import Sequence
from itertools import pairwise
from math import asin, cos, radians, sin, sqrt

from .problem import YARD, Place, PlanProblem

EARTH_MI = 3958.8  # mean radius, IUGG


class Roads:
    """Miles between places by key: by road from the yard; between two known positions the straight way.

    Without positions the way leads past the yard. An unknown place lies at the yard.
    """

    def __init__(self, problem: PlanProblem) -> None:
        self._places = {place.key: place for place in problem.places}
        self._known: dict[str, dict[str, float]] = {}  # asked for millions of times

    def miles(self, start: str, end: str) -> float:
        try:
            return self._known[start][end]
        except KeyError:
            miles = 0.0 if start == end else self._measure(*sorted((start, end)))
            self._known.setdefault(start, {})[end] = miles
            return miles

    def along(self, places: Sequence[str]) -> float:
        """From the yard through the places in order and back to the yard."""
        way = [YARD, *places, YARD]
        try:
            return sum([self._known[start][end] for start, end in pairwise(way)])
        except KeyError:
            return sum(self.miles(start, end) for start, end in pairwise(way))

    def least(self, places: set[str]) -> float:
        """No set of round trips from the yard to all these places is shorter: they and the yard hang together."""
        away = sorted(places - {YARD})
        nearest = {place: self.miles(YARD, place) for place in away}
        tree = 0.0
        while nearest:
            place = min(nearest, key=lambda key: (nearest[key], key))
            tree += nearest.pop(place)
            for other in nearest:
                nearest[other] = min(nearest[other], self.miles(place, other))
        return tree

    def _measure(self, start: str, end: str) -> float:
        one, other = self._places.get(start, Place(start)), self._places.get(end, Place(end))
        if YARD in (start, end):
            return one.from_yard_mi if end == YARD else other.from_yard_mi
        straight = _straight_mi(one, other)
        past_the_yard = one.from_yard_mi + other.from_yard_mi
        return past_the_yard if straight is None else min(straight, past_the_yard)


def _straight_mi(one: Place, other: Place) -> float | None:
    """Great-circle distance, haversine formula."""
    if one.latitude is None or one.longitude is None or other.latitude is None or other.longitude is None:
        return None
    lat, lat_other = radians(one.latitude), radians(other.latitude)
    across = radians(other.longitude - one.longitude)
    half = sin((lat_other - lat) / 2) ** 2 + cos(lat) * cos(lat_other) * sin(across / 2) ** 2
    return 2 * EARTH_MI * asin(sqrt(half))
