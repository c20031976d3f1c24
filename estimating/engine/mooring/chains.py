"""Chain: what it may carry by grade and size, and what it weighs in the water."""

from estimating.engine.parts import Good

STEEL_LB_PER_CUFT = 490.0
# Working load limit, pounds, by grade and nominal size in inches. 5/16 in is from memory.
WORKING_LOAD_LB = {
    "30": {0.25: 1300.0, 0.3125: 1900.0, 0.375: 2650.0, 0.4375: 3700.0, 0.5: 4500.0},
    "43": {0.25: 2600.0, 0.3125: 3900.0, 0.375: 5400.0, 0.4375: 7200.0, 0.5: 9200.0},
}
GRADES = {"30": "Grade 30, proof coil", "43": "Grade 43, high test"}
BREAKING_TIMES = {"30": 4.0, "43": 3.0}
# Rough weight by geometry of the link, pounds a foot in air for a bar of one inch, ±15 %.
_LB_PER_FT_OF_INCH = 9.8


def listed_working_load_lb(*, grade: str, size_in: float) -> float | None:
    """The working load limit of a chain of this grade and size, or None where the table has none. Source: CHAIN_LIMITS.

    >>> listed_working_load_lb(grade="30", size_in=0.375), listed_working_load_lb(grade="43", size_in=0.5)
    (2650.0, 9200.0)
    """
    sizes = WORKING_LOAD_LB.get(grade, {})
    return next((load for size, load in sizes.items() if abs(size - size_in) < 1 / 64), None)


def working_load_lb(chain: Good) -> float | None:
    """What a catalogue chain may carry: its own figure, or that of the table for its grade and size; None: unknown."""
    if chain.working_load_lb is not None:
        return chain.working_load_lb
    if chain.chain_size_in is None:
        return None
    return listed_working_load_lb(grade=chain.chain_grade, size_in=chain.chain_size_in)


def wet_lb_per_in(chain: Good, *, water_lb_per_cuft: float) -> float:
    """What an inch of the chain weighs in the water. A weight the catalogue leaves open is taken from its size.

    Raises ValueError where neither weight nor size is known. Sources: ARCHIMEDES, and geometry of the link.

    >>> from decimal import Decimal
    >>> chain = Good("c", "c", "chain", "ft", Decimal(1), None, 1.1)
    >>> round(wet_lb_per_in(chain, water_lb_per_cuft=62.4) * 12, 3)
    0.96
    """
    dry = chain.weight_lb or _LB_PER_FT_OF_INCH * (chain.chain_size_in or 0.0) ** 2
    if dry <= 0:
        raise ValueError("give the chain its weight, or its size")
    return dry / 12 * (1 - water_lb_per_cuft / STEEL_LB_PER_CUFT)
