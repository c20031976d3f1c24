"""What bolts, lags and wood screws carry, pounds: single shear by the six yield modes, and withdrawal.

Values are for side grain and full end, edge and row distances. Wet service and end grain are from memory.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import sqrt

BOLT_YIELD_PSI = 45_000.0
PLATE_IN, PLATE_PSI = 0.25, 87_000.0
WET_CONNECTION = 0.7  # lateral, and withdrawal of lags and wood screws; from memory
END_GRAIN_WITHDRAWAL, END_GRAIN_LATERAL = 0.75, 0.67
SMALL_DOWEL_IN = 0.25  # thinner dowels bear alike in every direction of grain

# Lag screws: diameter to length of the tapered tip, inches (from memory but for 1/2 in, which a solved example shows).
_LAG_TIP_IN = {0.25: 5 / 32, 0.3125: 3 / 16, 0.375: 7 / 32, 0.4375: 9 / 32, 0.5: 5 / 16, 0.625: 3 / 8, 0.75: 7 / 16}
# Wood screws: gauge to diameter and root diameter, inches; root and yield strength from memory.
WOOD_SCREW_IN = {8: (0.164, 0.131), 10: (0.190, 0.152), 12: (0.216, 0.171), 14: (0.242, 0.196)}
SCREW_YIELD_PSI = ((0.142, 100_000.0), (0.177, 90_000.0), (0.236, 80_000.0), (0.273, 70_000.0))


def lag_withdrawal_lb_per_in(*, gravity: float, diameter_in: float) -> float:
    """Withdrawal of a lag from side grain, pounds per inch of thread without the tip: W = 1800 G^1.5 D^0.75.

    Raises ValueError for a gravity or diameter not above zero. Source: NDS_WITHDRAWAL (Eq. 12.2-1, Table 12.2A).

    >>> round(lag_withdrawal_lb_per_in(gravity=0.55, diameter_in=0.5))
    437
    """
    _above_zero(gravity, diameter_in)
    return 1800 * gravity**1.5 * diameter_in**0.75


def screw_withdrawal_lb_per_in(*, gravity: float, diameter_in: float) -> float:
    """Withdrawal of a wood screw from side grain, pounds per inch of thread: W = 2850 G^2 D. Never from end grain.

    Raises ValueError for a gravity or diameter not above zero. Source: NDS_WITHDRAWAL (Eq. 12.2-2).

    >>> round(screw_withdrawal_lb_per_in(gravity=0.55, diameter_in=0.190))
    164
    """
    _above_zero(gravity, diameter_in)
    return 2850 * gravity**2 * diameter_in


@dataclass(frozen=True, slots=True)
class Lag:
    """A lag by diameter and length under its head, inches."""

    diameter_in: float
    length_in: float

    @property
    def tip_in(self) -> float:
        near = min(_LAG_TIP_IN, key=lambda listed: abs(listed - self.diameter_in))
        return _LAG_TIP_IN[near]

    @property
    def thread_in(self) -> float:
        """Length of thread with the tip: the lesser of length / 2 + 1/2 in and all; up to 6 in. From memory."""
        return min(self.length_in, min(self.length_in / 2 + 0.5, 6.0))

    def grip_in(self, through_in: float) -> float:
        """Thread in the wood without the tip, inches, when so much of something else is under the head.

        >>> Lag(0.5, 4).grip_in(1.5)
        2.1875
        """
        return max(0.0, min(self.thread_in, self.length_in - through_in) - self.tip_in)


def lag_withdrawal_lb(lag: Lag, *, gravity: float, through_in: float, wet: bool = True) -> float:
    """What one lag holds against pulling straight out of side grain, pounds. Source: NDS_WITHDRAWAL.

    >>> round(lag_withdrawal_lb(Lag(0.5, 4), gravity=0.55, through_in=1.5, wet=False))
    955
    """
    per_in = lag_withdrawal_lb_per_in(gravity=gravity, diameter_in=lag.diameter_in)
    return per_in * lag.grip_in(through_in) * (WET_CONNECTION if wet else 1.0)


def bearing_along_psi(gravity: float) -> float:
    """Dowel bearing along the grain, psi, for 1/4 in and thicker: 11200 G, to 50 psi as tabulated.

    Source: NDS_YIELD.

    >>> bearing_along_psi(0.5)
    5600.0
    """
    return _tabulated(11200 * gravity)


def bearing_across_psi(gravity: float, diameter_in: float) -> float:
    """Dowel bearing across the grain, psi, for 1/4 in and thicker: 6100 G^1.45 / sqrt(D), to 50 psi as tabulated.

    Source: NDS_YIELD.

    >>> bearing_across_psi(0.55, 0.5)
    3650.0
    """
    return _tabulated(6100 * gravity**1.45 / sqrt(diameter_in))


@dataclass(frozen=True, slots=True)
class Lapped:
    """Two members on one dowel: thickness or penetration in inches, dowel bearing in psi; the side member first."""

    side_in: float
    main_in: float
    side_psi: float
    main_psi: float


@dataclass(frozen=True, slots=True)
class SingleShear:
    """What one dowel carries across one joint plane, pounds, and by which mode it yields."""

    lb: float
    mode: str
    modes: tuple[tuple[str, float], ...]


def single_shear(
    lapped: Lapped, *, diameter_in: float, yield_psi: float = BOLT_YIELD_PSI, most_angle_deg: float = 0.0
) -> SingleShear:
    """The least of the six yield modes of a dowel in single shear, pounds.

    `most_angle_deg` is the greatest angle of load to grain in either member: it raises the reduction terms by
    K = 1 + 0.25 angle / 90. Raises ValueError for anything not above zero. Source: NDS_YIELD (Table 12.3.1A).

    >>> pine = bearing_along_psi(0.55)
    >>> bolt = single_shear(Lapped(1.5, 1.5, pine, pine), diameter_in=0.5)
    >>> round(bolt.lb), bolt.mode
    (531, 'II')
    """
    d, fyb = diameter_in, yield_psi
    ls, lm, fs, fm = lapped.side_in, lapped.main_in, lapped.side_psi, lapped.main_psi
    _above_zero(d, fyb, ls, lm, fs, fm)
    re_, rt = fm / fs, lm / ls
    small = reduction_small(d)
    turn = 1 + 0.25 * most_angle_deg / 90
    r1, r2, r3 = (small,) * 3 if small else (4 * turn, 3.6 * turn, 3.2 * turn)
    k1 = (sqrt(re_ + 2 * re_**2 * (1 + rt + rt**2) + rt**2 * re_**3) - re_ * (1 + rt)) / (1 + re_)
    k2 = -1 + sqrt(2 * (1 + re_) + 2 * fyb * (1 + 2 * re_) * d**2 / (3 * fm * lm**2))
    k3 = -1 + sqrt(2 * (1 + re_) / re_ + 2 * fyb * (2 + re_) * d**2 / (3 * fm * ls**2))
    modes = (
        ("Im", d * lm * fm / r1),
        ("Is", d * ls * fs / r1),
        ("II", k1 * d * ls * fs / r2),
        ("IIIm", k2 * d * lm * fm / ((1 + 2 * re_) * r3)),
        ("IIIs", k3 * d * ls * fm / ((2 + re_) * r3)),
        ("IV", d**2 / r3 * sqrt(2 * fm * fyb / (3 * (1 + re_)))),
    )
    mode, least = min(modes, key=lambda each: each[1])
    return SingleShear(least, mode, modes)


def reduction_small(diameter_in: float) -> float:
    """KD for dowels under 1/4 in: 2.2 up to 0.17 in, then 10 D + 0.5; 0 for thicker ones. From memory (12.3.1B)."""
    if diameter_in >= SMALL_DOWEL_IN:
        return 0.0
    return 2.2 if diameter_in <= 0.17 else 10 * diameter_in + 0.5


@lru_cache(maxsize=256)
def bolt_shear_lb(*, gravity: float, diameter_in: float, thickness_in: float = 1.5, across: str = "both") -> float:
    """One bolt through two members of one species and thickness, pounds, dry. across: none, one or both to the grain.

    Raises ValueError for a word not listed. Source: NDS_YIELD (Table 12A).

    >>> [round(bolt_shear_lb(gravity=0.55, diameter_in=0.5, across=each)) for each in ("none", "one", "both")]
    [531, 335, 252]
    """
    along, over = bearing_along_psi(gravity), bearing_across_psi(gravity, diameter_in)
    pairs = {"none": (along, along), "one": (over, along), "both": (over, over)}
    if across not in pairs:
        raise ValueError(f"across is none, one or both, not {across!r}")
    side, main = pairs[across]
    lapped = Lapped(thickness_in, thickness_in, side, main)
    return single_shear(lapped, diameter_in=diameter_in, most_angle_deg=0.0 if across == "none" else 90.0).lb


@lru_cache(maxsize=256)
def plate_bolt_lb(*, gravity: float, diameter_in: float, thickness_in: float = 1.5) -> float:
    """One bolt through a 1/4 in steel plate and a member loaded across its grain, pounds, dry; steel bears 87,000 psi.

    Source: NDS_YIELD (Table 12B form; the steel's figure is from memory).

    >>> round(plate_bolt_lb(gravity=0.55, diameter_in=0.5))
    346
    """
    lapped = Lapped(PLATE_IN, thickness_in, PLATE_PSI, bearing_across_psi(gravity, diameter_in))
    return single_shear(lapped, diameter_in=diameter_in, most_angle_deg=90.0).lb


@lru_cache(maxsize=256)
def screw_shear_lb(*, gravity: float, gauge: int, length_in: float, side_in: float) -> float:
    """One wood screw through a side member into a main one, pounds, dry, in side grain, by its root diameter.

    Less than ten diameters of penetration take it down in proportion; less than six carry nothing. Raises KeyError
    for a gauge not listed. From memory but for the yield modes.

    >>> round(screw_shear_lb(gravity=0.55, gauge=10, length_in=3, side_in=1.5))
    101
    """
    full_in, root_in = WOOD_SCREW_IN[gauge]
    into = length_in - side_in
    if into < 6 * full_in:
        return 0.0
    bearing = 16600 * gravity**1.84
    strength = next(psi for most, psi in SCREW_YIELD_PSI if full_in <= most)
    lapped = Lapped(side_in, into, bearing, bearing)
    shear = single_shear(lapped, diameter_in=root_in, yield_psi=strength)
    return shear.lb * min(1.0, into / (10 * full_in))


_SIZE = re.compile(r"(\d+(?:[- ]\d+/\d+)?|\d+/\d+)\s*(?:in)?\s*[x×]\s*(\d+(?:[- ]\d+/\d+)?|\d+/\d+)(?![\d/])")


@lru_cache(maxsize=512)
def size_in_name(name: str) -> tuple[float, float] | None:
    """Diameter and length, inches, as a fastener's name says them; None where it does not.

    >>> size_in_name("Carriage bolt 1/2 x 2-1/2 in"), size_in_name("Lag 3/8 x 4 in"), size_in_name("bolt")
    ((0.5, 2.5), (0.375, 4.0), None)
    """
    found = _SIZE.search(name)
    if not found:
        return None
    diameter, length = (_inches(words) for words in found.groups())
    return (diameter, length) if 0 < diameter <= 1.5 and length > diameter else None


def _inches(words: str) -> float:
    return float(sum(Fraction(part) for part in re.split(r"[- ]", words)))


def _tabulated(psi: float) -> float:
    return 50.0 * round(psi / 50)


def _above_zero(*values: float) -> None:
    if not min(values) > 0:
        raise ValueError("gravity, sizes and strengths must be above zero")
