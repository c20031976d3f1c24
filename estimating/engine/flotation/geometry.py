"""What floats: floats, rigid bodies, hinges and loads, in inches and pounds, knowing nothing of any spec.

One plan frame serves all bodies, as they lie level before launch: x and y in plan, z upwards from any datum that
is common to all of them (the top of the frame, say).
"""

import math
from dataclasses import dataclass
from enum import StrEnum

IN3_PER_FT3 = 1728.0

Point = tuple[float, float, float]


class FlotationInputError(ValueError):
    """A value that no dock can have; `field` names it and the message says what would do."""

    def __init__(self, field: str, message: str):
        self.field = field
        super().__init__(f"{field}: {message}")


def _finite(owner: object, *names: str) -> None:
    for name in names:
        if not math.isfinite(getattr(owner, name)):
            raise FlotationInputError(name, "must be an ordinary number")


def _above_zero(owner: object, *names: str) -> None:
    for name in names:
        value = getattr(owner, name)
        if not (math.isfinite(value) and value > 0):
            raise FlotationInputError(name, f"must be more than zero; it is {value:g}")


def _not_negative(owner: object, *names: str) -> None:
    for name in names:
        value = getattr(owner, name)
        if not (math.isfinite(value) and value >= 0):
            raise FlotationInputError(name, f"cannot be less than zero; it is {value:g}")


@dataclass(frozen=True, slots=True)
class WaterDensity:
    """Weight of water in lb per cubic foot.

    Fresh 62.4 and salt 64.0 lie within 0.3 % of TEOS-10 and IAPWS from 4 to 20 degrees C (source FRESH_WATER).

    >>> round(WaterDensity(62.4).lb_per_in3 * 1728, 6)
    62.4
    """

    lb_per_ft3: float

    def __post_init__(self) -> None:
        _above_zero(self, "lb_per_ft3")

    @property
    def lb_per_in3(self) -> float:
        return self.lb_per_ft3 / IN3_PER_FT3


FRESH = WaterDensity(62.4)
BRACKISH = WaterDensity(63.2)
SALT = WaterDensity(64.0)


class FloatShape(StrEnum):
    BOX = "box"
    ROUND = "round"


@dataclass(frozen=True, slots=True)
class FloatBody:
    """One float: a box, or a round float lying on its side with its axis along its length.

    x_in, y_in are its centre in plan and bottom_in its lowest level, in the common frame; turn_deg turns its length
    from the x axis towards y. Of a round float the width and the height are both its diameter.
    buoyancy_factor scales the lift of its gross volume, so that it agrees with the maker's sheet
    (see `buoyancy_factor_from_rating`). A part of the frame whose own buoyancy is to count is a float too, a
    `frame_part`: it lifts where it is wet, but its top need not stay dry.
    Raises FlotationInputError for a size, weight or factor no float can have.

    >>> FloatBody(48, 24, 16, own_weight_lb=46).gross_volume_in3
    18432
    """

    length_in: float
    width_in: float
    height_in: float
    x_in: float = 0.0
    y_in: float = 0.0
    bottom_in: float = 0.0
    own_weight_lb: float = 0.0
    buoyancy_factor: float = 1.0
    turn_deg: float = 0.0
    shape: FloatShape = FloatShape.BOX
    frame_part: bool = False

    def __post_init__(self) -> None:
        _above_zero(self, "length_in", "width_in", "height_in", "buoyancy_factor")
        _not_negative(self, "own_weight_lb")
        _finite(self, "x_in", "y_in", "bottom_in", "turn_deg")
        if self.shape is FloatShape.ROUND and self.width_in != self.height_in:
            raise FlotationInputError("width_in", "must equal the height: both are the diameter of a round float")

    @property
    def gross_volume_in3(self) -> float:
        if self.shape is FloatShape.ROUND:
            return math.pi / 4 * self.height_in**2 * self.length_in
        return self.length_in * self.width_in * self.height_in

    @property
    def centre(self) -> Point:
        return (self.x_in, self.y_in, self.bottom_in + self.height_in / 2)

    def full_lift_lb(self, water: WaterDensity = FRESH) -> float:
        """What the water holds up when the float is just under, own weight included, in lb."""
        return self.buoyancy_factor * self.gross_volume_in3 * water.lb_per_in3


def buoyancy_factor_from_rating(
    *, net_lift_lb: float, own_weight_lb: float, gross_volume_in3: float, water: WaterDensity = FRESH
) -> float:
    """How much of a float's gross volume really lifts, so that it is just awash under its rated net lift.

    Of a box this makes draft = height x (load + own weight) / (net lift + own weight), the trade's rule
    (source COMMON_PRACTICE). `water` is the water of the rating. Raises FlotationInputError if lift or volume is
    not above zero.

    >>> round(buoyancy_factor_from_rating(net_lift_lb=600, own_weight_lb=46, gross_volume_in3=48 * 24 * 16), 4)
    0.9706
    """
    if net_lift_lb <= 0:
        raise FlotationInputError("net_lift_lb", f"must be more than zero; it is {net_lift_lb:g}")
    if own_weight_lb < 0:
        raise FlotationInputError("own_weight_lb", f"cannot be less than zero; it is {own_weight_lb:g}")
    if gross_volume_in3 <= 0:
        raise FlotationInputError("gross_volume_in3", f"must be more than zero; it is {gross_volume_in3:g}")
    return (net_lift_lb + own_weight_lb) / (gross_volume_in3 * water.lb_per_in3)


@dataclass(frozen=True, slots=True)
class Mass:
    """A weight in lb at its centre of gravity, inches in the common frame."""

    weight_lb: float
    x_in: float = 0.0
    y_in: float = 0.0
    z_in: float = 0.0

    def __post_init__(self) -> None:
        _not_negative(self, "weight_lb")
        _finite(self, "x_in", "y_in", "z_in")


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A weight in lb set on one body (its place in the assembly), at a point of the common frame in inches.

    People act at the deck, where their feet are: whoever stands upright keeps his weight above them.
    """

    body: int
    weight_lb: float
    x_in: float
    y_in: float
    z_in: float

    def __post_init__(self) -> None:
        _not_negative(self, "weight_lb")
        _finite(self, "x_in", "y_in", "z_in")


@dataclass(frozen=True, slots=True)
class RigidBody:
    """A section, or sections bolted stiffly together: floats, own weight without the floats, and its deck outline.

    `deck` is the outline of the deck's top, corner after corner (three or more), in inches. The floats' own weights
    are taken at the middles of the floats. A body may have no float and hang between hinges.
    Raises FlotationInputError for too few corners.
    """

    name: str
    floats: tuple[FloatBody, ...]
    frame: Mass
    deck: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.deck) < 3:
            raise FlotationInputError("deck", f"the deck of {self.name} needs at least three corners")

    def full_lift_lb(self, water: WaterDensity = FRESH) -> float:
        return sum(f.full_lift_lb(water) for f in self.floats)

    @property
    def floats_weight_lb(self) -> float:
        return sum(f.own_weight_lb for f in self.floats)


@dataclass(frozen=True, slots=True)
class Hinge:
    """Two bodies share the line from (x0, y0) to (x1, y1) at level z_in and turn freely about it. Inches."""

    first: int
    second: int
    x0_in: float
    y0_in: float
    x1_in: float
    y1_in: float
    z_in: float = 0.0

    def __post_init__(self) -> None:
        _finite(self, "x0_in", "y0_in", "x1_in", "y1_in", "z_in")
        if self.first == self.second:
            raise FlotationInputError("second", "a hinge joins two different bodies")
        if math.hypot(self.x1_in - self.x0_in, self.y1_in - self.y0_in) <= 0:
            raise FlotationInputError("x1_in", "the hinge line has no length")

    @property
    def ends(self) -> tuple[Point, Point]:
        return (self.x0_in, self.y0_in, self.z_in), (self.x1_in, self.y1_in, self.z_in)


@dataclass(frozen=True, slots=True)
class Assembly:
    """Bodies and the hinges between them.

    Raises FlotationInputError for a hinge to a body that is not there, or when no body has a float.
    """

    bodies: tuple[RigidBody, ...]
    hinges: tuple[Hinge, ...] = ()

    def __post_init__(self) -> None:
        if not any(body.floats for body in self.bodies):
            raise FlotationInputError("bodies", "there is no float to stand on")
        for hinge in self.hinges:
            if not (0 <= hinge.first < len(self.bodies) and 0 <= hinge.second < len(self.bodies)):
                raise FlotationInputError("hinges", f"a hinge names body {max(hinge.first, hinge.second)}, not there")

    @property
    def float_count(self) -> int:
        return sum(len(b.floats) for b in self.bodies)


def join_rigidly(name: str, bodies: tuple[RigidBody, ...], deck: tuple[Point, ...]) -> RigidBody:
    """One body out of several bolted together: all floats, the summed weight at its common centre of gravity.

    `deck` is the outline of the whole, inches. Raises FlotationInputError when there is nothing to join.
    """
    if not bodies:
        raise FlotationInputError("bodies", "there is nothing to join")
    floats = tuple(f for body in bodies for f in body.floats)
    return RigidBody(name, floats, combine_masses(tuple(b.frame for b in bodies)), deck)


def combine_masses(masses: tuple[Mass, ...]) -> Mass:
    """The total weight in lb at the common centre of gravity; at the plain mean of the places if all weigh nothing.

    >>> combine_masses((Mass(100, 0, 0, 0), Mass(300, 8, 0, 4)))
    Mass(weight_lb=400, x_in=6.0, y_in=0.0, z_in=3.0)
    """
    total = sum(m.weight_lb for m in masses)
    shares = [m.weight_lb / total if total else 1 / len(masses) for m in masses]
    x, y, z = (
        sum(s * v for s, v in zip(shares, column, strict=True))
        for column in zip(*((m.x_in, m.y_in, m.z_in) for m in masses), strict=True)
    )
    return Mass(total, x, y, z)
