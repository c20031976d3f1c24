"""Adjustment factors of the NDS, and reference values adjusted by them for one member in its service.

Each factor is dimensionless. Those for wet service, incising and load duration are from memory; their bending and
stiffness parts are borne out by the published joist spans.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

from .values import DesignValues, Listed

LOAD_DURATION = {
    "permanent": 0.9,
    "ten years": 1.0,
    "two months": 1.15,
    "seven days": 1.25,
    "ten minutes": 1.6,
    "impact": 2.0,
}
REPETITIVE = 1.15
REPETITIVE_LEAST = 3
REPETITIVE_SPACING_IN = 24.0
INCISED_STRESS, INCISED_STIFFNESS = 0.80, 0.95
WET_STIFFNESS = 0.9
_WET_FB_LIMIT_PSI, _WET_FC_LIMIT_PSI = 1150.0, 750.0
# Least true width, inches, and the factor from there on.
_SIZE_FB = ((0.0, 1.5), (4.4, 1.4), (5.4, 1.3), (6.6, 1.2), (8.5, 1.1), (10.5, 1.0), (12.5, 0.9))
_SIZE_FC = ((0.0, 1.15), (4.4, 1.1), (6.6, 1.05), (8.5, 1.0), (12.5, 0.9))
_FLAT_USE = ((0.0, 1.0), (3.4, 1.1), (5.4, 1.15), (8.5, 1.2))
# Species whose treated lumber is incised as a rule: the assumption printed with the published joist spans.
INCISED_SPECIES = ("Douglas Fir-Larch", "Hem-Fir", "Spruce-Pine-Fir")
_UNTREATED = ("", "none", "untreated")


def size_factor(width_in: float) -> float:
    """CF on Fb for lumber 2 and 3 in thick by true width, inches; taken for 4 in too, where it is on the safe side.

    Source: NDS_FACTORS (Table 4A; grading rules, section 8, Table A).

    >>> [size_factor(width) for width in (3.5, 4.5, 5.5, 7.25, 9.25, 11.25, 13.25)]
    [1.5, 1.4, 1.3, 1.2, 1.1, 1.0, 0.9]
    """
    return _step(_SIZE_FB, width_in)


def size_factor_compression(width_in: float) -> float:
    """CF on Fc by true width, inches. Source: NDS_FACTORS.

    >>> [size_factor_compression(width) for width in (3.5, 5.5, 7.25, 9.25, 13.25)]
    [1.15, 1.1, 1.05, 1.0, 0.9]
    """
    return _step(_SIZE_FC, width_in)


def flat_use_factor(width_in: float) -> float:
    """Cfu for lumber 2 in thick laid flat, by true width, inches; also taken for 5/4 boards. Source: NDS_FACTORS.

    >>> flat_use_factor(3.5), flat_use_factor(5.5), flat_use_factor(9.25)
    (1.1, 1.15, 1.2)
    """
    return _step(_FLAT_USE, width_in)


def repetitive_factor(*, count: int, spacing_in: float) -> float:
    """Cr: 1.15 for three or more members not more than 24 in apart under one deck. Source: NDS_FACTORS.

    >>> repetitive_factor(count=4, spacing_in=23.5), repetitive_factor(count=2, spacing_in=16)
    (1.15, 1.0)
    """
    return REPETITIVE if count >= REPETITIVE_LEAST and spacing_in <= REPETITIVE_SPACING_IN + 1e-6 else 1.0


def wet_bending_factor(fb_cf_psi: float) -> float:
    """CM on Fb: 0.85, but 1.0 where Fb x CF is 1150 psi or less. From memory, borne out by DCA_6.

    >>> wet_bending_factor(900 * 1.3), wet_bending_factor(900 * 1.2)
    (0.85, 1.0)
    """
    return 0.85 if fb_cf_psi > _WET_FB_LIMIT_PSI + 1e-9 else 1.0


def wet_compression_factor(fc_cf_psi: float) -> float:
    """CM on Fc: 0.8, but 1.0 where Fc x CF is 750 psi or less. From memory.

    >>> wet_compression_factor(1350), wet_compression_factor(700)
    (0.8, 1.0)
    """
    return 0.8 if fc_cf_psi > _WET_FC_LIMIT_PSI + 1e-9 else 1.0


WET_SHEAR, WET_BEARING = 0.97, 0.67


def effective_length_in(*, unbraced_in: float, depth_in: float) -> float:
    """The length le that CL asks for, inches, for any load on a single span or cantilever. From memory (NDS 3.3.3).

    >>> [round(effective_length_in(unbraced_in=length, depth_in=7.25), 2) for length in (48, 72, 120)]
    [98.88, 139.11, 220.8]
    """
    slender = unbraced_in / depth_in
    if slender < 7:
        return 2.06 * unbraced_in
    return 1.63 * unbraced_in + 3 * depth_in if slender <= 14.3 else 1.84 * unbraced_in


@dataclass(frozen=True, slots=True)
class Slender:
    """A beam between its sideways holds: true size and unbraced length in inches."""

    thickness_in: float
    depth_in: float
    unbraced_in: float

    @property
    def ratio(self) -> float:
        """RB, dimensionless."""
        length = effective_length_in(unbraced_in=self.unbraced_in, depth_in=self.depth_in)
        return sqrt(length * self.depth_in / self.thickness_in**2)


def beam_stability_factor(*, fb_star_psi: float, e_min_psi: float, beam: Slender) -> float:
    """CL, how much of Fb is left for a beam that may buckle sideways. Stresses in psi, adjusted but for CL.

    The standard allows no beam of RB over 50; here its factor is simply small. Raises ValueError for stresses not
    above zero. From memory for the form.

    >>> beam = Slender(1.5, 7.25, 48)
    >>> round(beam.ratio, 2), round(beam_stability_factor(fb_star_psi=925, e_min_psi=459e3, beam=beam), 3)
    (17.85, 0.951)
    """
    if min(fb_star_psi, e_min_psi) <= 0:
        raise ValueError("stresses must be above zero")
    if beam.unbraced_in <= 0 or beam.depth_in <= beam.thickness_in:
        return 1.0
    x = 1.20 * e_min_psi / beam.ratio**2 / fb_star_psi
    half = (1 + x) / 1.9
    return half - sqrt(half * half - x / 0.95)


def is_incised(species: str, treatment: str) -> bool:
    """Whether treated lumber of a species is taken as incised. Unknown species are, once treated. Source: DCA_6.

    >>> is_incised("Hem-Fir", "ground contact"), is_incised("Southern Pine", "ground contact"), is_incised("", "none")
    (True, False, False)
    """
    words = treatment.lower().strip()
    if words in _UNTREATED:
        return False
    return "incis" in words or species in INCISED_SPECIES


@dataclass(frozen=True, slots=True)
class Service:
    """How a member serves; duration is a key of LOAD_DURATION. unbraced_in 0: held sideways along its whole length."""

    treatment: str = ""
    wet: bool = True
    repetitive: float = 1.0
    duration: str = "ten years"
    flat: bool = False
    unbraced_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Adjusted:
    """Adjusted values of one row, psi, and the factors that gave Fb', in the order they are written."""

    species: str
    fb_psi: float
    fv_psi: float
    fc_perp_psi: float
    e_psi: float
    reference_fb_psi: float
    factors: tuple[tuple[str, float], ...]


def adjust(row: DesignValues, size_in: tuple[float, float], service: Service) -> Adjusted:
    """One row's values for a stick of true thickness and width, inches, in its service.

    Raises KeyError for a duration not listed. Source: NDS_FACTORS.

    >>> from .values import BASE_VALUES
    >>> fir = adjust(BASE_VALUES["Douglas Fir-Larch"], (1.5, 5.5), Service("ground contact", repetitive=1.15))
    >>> round(fir.fb_psi, 2), fir.factors
    (914.94, (('CF', 1.3), ('CM', 0.85), ('Ci', 0.8), ('Cr', 1.15)))
    """
    thickness, width = size_in
    size = 1.0 if row.sized else size_factor(width)
    incised = is_incised(row.species, service.treatment)
    cut, soft = (INCISED_STRESS, INCISED_STIFFNESS) if incised else (1.0, 1.0)
    last = LOAD_DURATION[service.duration]
    named = [
        ("CF", size),
        ("CM", wet_bending_factor(row.fb_psi * size) if service.wet else 1.0),
        ("Ci", cut),
        ("Cr", service.repetitive),
        ("Cfu", flat_use_factor(width) if service.flat else 1.0),
        ("CD", last),
    ]
    fb = row.fb_psi
    for _, factor in named:
        fb *= factor
    stiff = (WET_STIFFNESS if service.wet else 1.0) * soft
    if service.unbraced_in > 0 and not service.flat:
        beam = Slender(thickness, width, service.unbraced_in)
        stable = beam_stability_factor(fb_star_psi=fb, e_min_psi=row.e_min_psi * stiff, beam=beam)
        named.append(("CL", stable))
        fb *= stable
    return Adjusted(
        row.species,
        fb,
        row.fv_psi * (WET_SHEAR if service.wet else 1.0) * cut * last,
        row.fc_perp_psi * (WET_BEARING if service.wet else 1.0),
        row.e_psi * stiff,
        row.fb_psi,
        tuple((name, factor) for name, factor in named if factor != 1.0),
    )


@lru_cache(maxsize=512)
def least_adjusted(listed: Listed, size_in: tuple[float, float], service: Service) -> Adjusted:
    """The least of each adjusted value over the rows that may hold; the factors are those of the row least in bending.

    >>> from .values import design_values
    >>> listed = design_values("DF-L / HF / SPF and hem-fir", 1.5, 5.5)
    >>> least_adjusted(listed, (1.5, 5.5), Service("ground contact", repetitive=1.15)).species
    'Douglas Fir-Larch'
    """
    rows = [adjust(row, size_in, service) for row in listed.rows]
    weakest = min(rows, key=lambda row: row.fb_psi)
    return Adjusted(
        weakest.species,
        weakest.fb_psi,
        min(row.fv_psi for row in rows),
        min(row.fc_perp_psi for row in rows),
        min(row.e_psi for row in rows),
        weakest.reference_fb_psi,
        weakest.factors,
    )


def _step(table: tuple[tuple[float, float], ...], width_in: float) -> float:
    if width_in <= 0:
        raise ValueError("width must be above zero")
    return next(factor for least, factor in reversed(table) if width_in >= least)
