"""Reference design values of sawn lumber, No.2, by species and size, psi, before any adjustment.

Southern Pine: NDS Supplement Table 4B, effective June 1, 2013, by width with the size factor inside. The rest: Table
4A, without it. Each row says whether it was read in a published listing or is from memory; a value the listing lacks
is None. Timbers 5 in and thicker are graded by another table, which is not here.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

PUBLISHED, MEMORY = "published", "from memory"
WEAKEST = "Weakest listed"
TIMBER_FROM_IN = 4.5  # true thickness; thinner is dimension lumber


@dataclass(frozen=True, slots=True)
class DesignValues:
    """One row: psi, and specific gravity; `sized` tells that Fb and Fc already hold the size factor."""

    species: str
    fb_psi: float
    ft_psi: float | None
    fv_psi: float
    fc_perp_psi: float
    fc_psi: float
    e_psi: float
    e_min_psi: float
    gravity: float
    mark: str
    sized: bool = False
    note: str = ""


# Least true width this row holds from, inches: (Fb, Ft, Fc). The metric edition read for Fb agrees; the rest is
# from memory.
_SOUTHERN_PINE = ((2.0, 1100, 675, 1450), (4.4, 1000, 600, 1400), (6.0, 925, 550, 1350), (8.5, 800, 475, 1300))
_SOUTHERN_PINE_WIDEST = (10.5, 750, 450, 1250)

_BASE = (
    DesignValues("Douglas Fir-Larch", 900, 575, 180, 625, 1350, 1.6e6, 580e3, 0.50, PUBLISHED),
    DesignValues("Hem-Fir", 850, 525, 150, 405, 1300, 1.3e6, 470e3, 0.43, PUBLISHED),
    DesignValues("Spruce-Pine-Fir", 875, 450, 135, 425, 1150, 1.4e6, 510e3, 0.42, PUBLISHED),
    DesignValues("Western Cedars", 700, 425, 155, 425, 650, 1.0e6, 370e3, 0.36, MEMORY),
    DesignValues("Redwood", 725, 425, 160, 425, 700, 1.0e6, 370e3, 0.37, MEMORY),
    DesignValues("Northern Species", 625, None, 110, 350, 850, 1.1e6, 400e3, 0.35, MEMORY),
)
BASE_VALUES: dict[str, DesignValues] = {row.species: row for row in _BASE}
SPECIES = ("Southern Pine", *BASE_VALUES)

# Words a catalogue may use, lower case, letters only; longer names first, so that a part of one is not taken for it.
_NAMES = (
    ("mixed southern pine", None),
    ("southern yellow pine", "Southern Pine"),
    ("southern pine", "Southern Pine"),
    ("syp", "Southern Pine"),
    ("douglas fir larch north", None),
    ("douglas fir south", None),
    ("douglas fir", "Douglas Fir-Larch"),
    ("df l", "Douglas Fir-Larch"),
    ("dfl", "Douglas Fir-Larch"),
    ("hem fir north", None),
    ("hem fir", "Hem-Fir"),
    ("spruce pine fir south", None),
    ("spf south", None),
    ("spf s", None),
    ("spruce pine fir", "Spruce-Pine-Fir"),
    ("spf", "Spruce-Pine-Fir"),
    ("northern white cedar", None),
    ("eastern white cedar", None),
    ("western red cedar", "Western Cedars"),
    ("western cedar", "Western Cedars"),
    ("redwood", "Redwood"),
    ("northern species", "Northern Species"),
    ("red pine", "Northern Species"),
)
_NO_WOOD = ("composite", "plastic", "aluminum", "aluminium", "steel", "pvc", "vinyl")


def southern_pine(width_in: float) -> DesignValues:
    """Southern Pine No.2 of a true width in inches, size factor inside; wider than 12 in nominal takes a tenth off.

    Raises ValueError for a width not above zero. Source: NDS_VALUES.

    >>> southern_pine(7.25).fb_psi, southern_pine(11.25).fb_psi, southern_pine(13.25).fb_psi
    (925, 750, 675.0)
    """
    if width_in <= 0:
        raise ValueError("width must be above zero")
    rows = (*_SOUTHERN_PINE, _SOUTHERN_PINE_WIDEST)
    _, fb, ft, fc = next((row for row in reversed(rows) if width_in >= row[0]), rows[0])
    wide = 0.9 if width_in > 12 else 1
    return DesignValues("Southern Pine", fb * wide, ft * wide, 175, 565, fc * wide, 1.4e6, 510e3, 0.55, MEMORY, True)


def is_wood(species: str) -> bool:
    """False for what is named as composite, plastic or metal: wood's values say nothing about it.

    >>> is_wood("wood-plastic composite"), is_wood("southern pine"), is_wood("")
    (False, True, True)
    """
    return not any(word in species.lower() for word in _NO_WOOD)


def species_named(species: str) -> tuple[str, ...]:
    """The listed species a catalogue's words name; empty when they name none, or any that is not listed.

    >>> species_named("SPF / hem-fir"), species_named("southern pine"), species_named("oak")
    (('Hem-Fir', 'Spruce-Pine-Fir'), ('Southern Pine',), ())
    >>> species_named("SPF and mixed southern pine")
    ()
    """
    words = " " + re.sub(r"[^a-z]+", " ", species.lower()).strip() + " "
    found: list[str] = []
    for name, listed in _NAMES:
        match = re.search(rf" {name}s? ", words)
        if not match:
            continue
        if listed is None:
            return ()
        found.append(listed)
        words = words.replace(match[0], " ")
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class Listed:
    """The rows that may hold for a stick; the least of each value, once adjusted, is what counts."""

    name: str
    rows: tuple[DesignValues, ...]
    known: bool
    note: str = ""

    @property
    def mark(self) -> str:
        return PUBLISHED if all(row.mark == PUBLISHED for row in self.rows) else MEMORY


@lru_cache(maxsize=256)
def design_values(species: str, thickness_in: float, width_in: float) -> Listed:
    """Reference values for a catalogue's species and true size in inches; the stick is taken as No.2.

    Several species named together all count. Unknown words, and timbers, take every row, that is the weakest listed,
    and the note says so. Raises ValueError for a size not above zero. Source: NDS_VALUES.

    >>> design_values("southern pine", 1.5, 7.25).rows[0].fb_psi
    925
    >>> design_values("oak", 1.5, 7.25).note
    "The species 'oak' is not listed: the weakest listed is taken."
    """
    if min(thickness_in, width_in) <= 0:
        raise ValueError("sizes must be above zero")
    if thickness_in >= TIMBER_FROM_IN:
        return _weakest(width_in, "Timbers are graded by another table")
    names = species_named(species)
    if not names:
        said = f"The species {species.strip()!r} is not listed" if species.strip() else "The species is not given"
        return _weakest(width_in, said)
    rows = tuple(southern_pine(width_in) if name == "Southern Pine" else BASE_VALUES[name] for name in names)
    note = "Several species are named: the least of each value is taken." if len(rows) > 1 else ""
    return Listed(" or ".join(names), rows, True, note)


def _weakest(width_in: float, said: str) -> Listed:
    return Listed(WEAKEST, (*_BASE, southern_pine(width_in)), False, f"{said}: the weakest listed is taken.")
