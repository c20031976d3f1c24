"""Dressed lumber: true sizes, board feet, and what wood weighs."""

import re

FRESH_WATER_LB_PER_CUFT = 62.4

# PS 20 as tabulated in the NDS Supplement, Tables 1A and 1B: nominal inches to dressed inches, dry.
_DIMENSION_WIDTH_IN = {2: 1.5, 3: 2.5, 4: 3.5, 5: 4.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25, 14: 13.25, 16: 15.25}
_DIMENSION_THICKNESS_IN = {"2": 1.5, "2 1/2": 2.0, "3": 2.5, "3 1/2": 3.0, "4": 3.5, "5/4": 1.0}
_TIMBER_FROM_IN = 5  # 5 in and thicker dress 1/2 in under nominal both ways

# NDS, specific gravity on oven-dry weight and volume.
SPECIFIC_GRAVITY = {
    "Southern Pine": 0.55,
    "Douglas Fir-Larch": 0.50,
    "Douglas Fir-Larch (North)": 0.49,
    "Hem-Fir": 0.43,
    "Hem-Fir (North)": 0.46,
    "Spruce-Pine-Fir": 0.42,
    "Spruce-Pine-Fir (South)": 0.36,
    "Western Cedars": 0.36,
    "Redwood": 0.37,
    "Northern Species": 0.35,
    "Northern White Cedar": 0.31,
    "Ponderosa Pine": 0.43,
    "Eastern White Pine": 0.36,
    "Mixed Southern Pine": 0.51,
}


def dressed_size_in(nominal: str) -> tuple[float, float]:
    """True thickness and width, inches, of a nominal size such as 2x8, 5/4x6 or 6x8.

    Lumber 2 to 4 in thick and timbers 5 in and thicker dress by different rules. 5/4 decking is from memory.
    Raises ValueError for a size the standard does not list. Source: PS20.

    >>> dressed_size_in("2x8"), dressed_size_in("6x8"), dressed_size_in("5/4x6")
    ((1.5, 7.25), (5.5, 7.5), (1.0, 5.5))
    """
    found = re.fullmatch(r"\s*(5/4|\d+(?: 1/2)?)\s*[x×]\s*(\d+)\s*", nominal)
    if not found:
        raise ValueError(f"{nominal!r} is not a nominal size such as 2x8")
    thickness, width = found[1], int(found[2])
    if thickness.isdigit() and int(thickness) >= _TIMBER_FROM_IN:
        if width < int(thickness):
            raise ValueError(f"{nominal!r} is not a listed size")
        return int(thickness) - 0.5, width - 0.5
    try:
        return _DIMENSION_THICKNESS_IN[thickness], _DIMENSION_WIDTH_IN[width]
    except KeyError:
        raise ValueError(f"{nominal!r} is not a listed size") from None


def board_feet(*, thickness_in: float, width_in: float, length_ft: float, pieces: int = 1) -> float:
    """Board feet from nominal thickness and width in inches and length in feet.

    Common rule of the lumber trade: thickness x width x length / 12. Raises ValueError below zero.

    >>> round(board_feet(thickness_in=2, width_in=4, length_ft=8), 2)
    5.33
    """
    if min(thickness_in, width_in, length_ft, pieces) < 0:
        raise ValueError("sizes and counts must not be below zero")
    return thickness_in * width_in * length_ft / 12 * pieces


def wood_density_lb_per_cuft(*, specific_gravity: float, moisture_percent: float) -> float:
    """Pounds per cubic foot of wood at a moisture content in percent of dry weight.

    Holds below about 30 % moisture; wood fresh from treatment is heavier. Raises ValueError outside 0 < G < 1.5 or
    below zero moisture. Source: NDS_DENSITY.

    >>> round(wood_density_lb_per_cuft(specific_gravity=0.55, moisture_percent=19), 2)
    37.33
    """
    if not 0 < specific_gravity < 1.5 or not 0 <= moisture_percent <= 300:
        raise ValueError("specific gravity must be between 0 and 1.5, moisture not below zero")
    swollen = 1 + 0.009 * specific_gravity * moisture_percent
    return FRESH_WATER_LB_PER_CUFT * specific_gravity / swollen * (1 + moisture_percent / 100)


def weight_lb_per_ft(*, thickness_in: float, width_in: float, density_lb_per_cuft: float) -> float:
    """Pounds per running foot of a stick of true size in inches. Geometry. Raises ValueError below zero.

    >>> round(weight_lb_per_ft(thickness_in=1.5, width_in=7.25, density_lb_per_cuft=48), 3)
    3.625
    """
    if min(thickness_in, width_in, density_lb_per_cuft) < 0:
        raise ValueError("sizes and density must not be below zero")
    return thickness_in * width_in / 144 * density_lb_per_cuft
