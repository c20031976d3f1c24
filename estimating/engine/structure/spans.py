"""How far a joist may span and overhang, inches: bending, stiffness, shear and bearing of a simple beam.

The recipe that gives the published deck joist spans of DCA 6, Table 2, is `deck_joist`.
"""

from dataclasses import dataclass
from math import sqrt

from .factors import REPETITIVE, Adjusted, Service, adjust
from .values import BASE_VALUES, DesignValues, southern_pine

LONGEST_JOIST_IN = 216.0
TIP_POINT_LB = 220.0
TIP_RATIO = 180.0
# Not printed with the table: it follows from the fit of all its overhangs.
OVERHANG_OFF_IN = 3.0
DECK_GROUPS = {
    "Southern Pine": ("Southern Pine",),
    "Douglas Fir-Larch, Hem-Fir, Spruce-Pine-Fir": ("Douglas Fir-Larch", "Hem-Fir", "Spruce-Pine-Fir"),
    "Redwood, Western Cedars, Ponderosa Pine, Red Pine": ("Redwood", "Western Cedars", "Northern Species"),
}


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A true cross-section, inches, bent about its strong axis when depth is the greater."""

    thickness_in: float
    depth_in: float

    @property
    def area_sqin(self) -> float:
        return self.thickness_in * self.depth_in

    @property
    def modulus_in3(self) -> float:
        return self.thickness_in * self.depth_in**2 / 6

    @property
    def inertia_in4(self) -> float:
        return self.thickness_in * self.depth_in**3 / 12


def span_by_bending_in(*, fb_psi: float, modulus_in3: float, load_lb_per_in: float) -> float:
    """The longest simple span by bending, inches, under an even load: L = sqrt(8 Fb' S / w). Source: STATICS.

    >>> round(span_by_bending_in(fb_psi=1345.5, modulus_in3=13.14, load_lb_per_in=40 * 16 / 144) / 12, 2)
    14.87
    """
    return sqrt(8 * fb_psi * modulus_in3 / load_lb_per_in)


def span_by_deflection_in(*, e_psi: float, inertia_in4: float, load_lb_per_in: float, ratio: float) -> float:
    """The longest simple span that sags at most its length / ratio, inches, under an even load. Source: STATICS.

    >>> round(span_by_deflection_in(e_psi=1.5e6, inertia_in4=47.63, load_lb_per_in=30 * 16 / 144, ratio=360) / 12, 2)
    13.83
    """
    return (384 * e_psi * inertia_in4 / (5 * load_lb_per_in * ratio)) ** (1 / 3)


def span_by_shear_in(*, fv_psi: float, area_sqin: float, load_lb_per_in: float) -> float:
    """The longest simple span by shear, inches: V = w L / 2 against 2/3 A Fv'. Source: STATICS.

    >>> round(span_by_shear_in(fv_psi=150, area_sqin=10.875, load_lb_per_in=40 * 16 / 144) / 12, 2)
    40.78
    """
    return 4 / 3 * area_sqin * fv_psi / load_lb_per_in


def span_by_bearing_in(*, fc_perp_psi: float, bearing_sqin: float, load_lb_per_in: float) -> float:
    """The longest simple span by bearing on its supports, inches. Source: STATICS.

    >>> round(span_by_bearing_in(fc_perp_psi=405, bearing_sqin=3, load_lb_per_in=40 * 16 / 144) / 12, 2)
    45.56
    """
    return 2 * fc_perp_psi * bearing_sqin / load_lb_per_in


def overhang_by_tip_in(*, e_psi: float, inertia_in4: float, span_in: float) -> float:
    """The longest overhang past a span, inches, whose tip sags its length / 180 under 220 lb.

    a (L + a) = 3 E' I / (180 x 220 lb). Source: DCA_6.

    >>> round(overhang_by_tip_in(e_psi=1.26e6, inertia_in4=47.63, span_in=141.88), 2)
    26.93
    """
    reach = 3 * e_psi * inertia_in4 / (TIP_RATIO * TIP_POINT_LB)
    return sqrt(span_in**2 / 4 + reach) - span_in / 2


@dataclass(frozen=True, slots=True)
class JoistSpan:
    """What a deck joist may do, inches. governed_by: bending, deflection, or stock length."""

    span_in: float
    uncapped_in: float
    governed_by: str
    species: str
    overhang_in: float
    overhang_by: str  # tip or quarter of the span


@dataclass(frozen=True, slots=True)
class DeckLoad:
    """What the deck carries, pounds per square foot, and how stiff it must be under the live load."""

    live_psf: float = 40.0
    dead_psf: float = 10.0
    ratio: float = 360.0


def deck_joist(group: str, section: Rectangle, *, spacing_in: float, load: DeckLoad = DeckLoad()) -> JoistSpan:
    """The span and overhang of a No.2 deck joist by the recipe of DCA 6, Table 2, unrounded inches.

    Wet service, repetitive use, incised where the group is treated that way. The table rounds to the nearest inch.
    Raises KeyError for a group that is not in DECK_GROUPS. Source: DCA_6.

    >>> joist = deck_joist("Southern Pine", Rectangle(1.5, 7.25), spacing_in=16)
    >>> round(joist.span_in, 1), joist.governed_by, round(joist.overhang_in)
    (141.9, 'bending', 24)
    """
    options = [_one_species(_row(name, section), section, spacing_in, load) for name in DECK_GROUPS[group]]
    shortest = min(options, key=lambda option: option.uncapped_in)
    least = min(options, key=lambda option: option.overhang_in)
    span, why = shortest.uncapped_in, shortest.governed_by
    if span > LONGEST_JOIST_IN:
        span, why = LONGEST_JOIST_IN, "stock length"
    return JoistSpan(span, shortest.uncapped_in, why, shortest.species, *_overhang(least, span))


def _overhang(least: JoistSpan, span_in: float) -> tuple[float, str]:
    quarter = span_in / 4
    return (quarter, "quarter of the span") if quarter < least.overhang_in else (least.overhang_in, "tip")


def _row(species: str, section: Rectangle) -> DesignValues:
    return southern_pine(section.depth_in) if species == "Southern Pine" else BASE_VALUES[species]


def _one_species(row: DesignValues, section: Rectangle, spacing_in: float, load: DeckLoad) -> JoistSpan:
    service = Service("ground contact", repetitive=REPETITIVE)
    own: Adjusted = adjust(row, (section.thickness_in, section.depth_in), service)
    live, whole = (psf * spacing_in / 144 for psf in (load.live_psf, load.live_psf + load.dead_psf))
    bent = span_by_bending_in(fb_psi=own.fb_psi, modulus_in3=section.modulus_in3, load_lb_per_in=whole)
    sagging = span_by_deflection_in(
        e_psi=own.e_psi, inertia_in4=section.inertia_in4, load_lb_per_in=live, ratio=load.ratio
    )
    span = min(bent, sagging)
    by = "bending" if bent <= sagging else "deflection"
    capped = min(span, LONGEST_JOIST_IN)
    tip = overhang_by_tip_in(e_psi=own.e_psi, inertia_in4=section.inertia_in4, span_in=capped) - OVERHANG_OFF_IN
    return JoistSpan(capped, span, by, row.species, tip, "tip")
