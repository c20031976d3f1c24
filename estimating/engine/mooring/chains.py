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
UNKNOWN_LB_PER_FT = 1.1  # 5/16 in galvanized chain, common practice


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


def dry_lb_per_ft(chain: Good) -> float | None:
    """What a foot of the chain weighs dry: its own figure, or by geometry of a link of its size; None: unknown."""
    if chain.weight_lb > 0:
        return chain.weight_lb
    return None if chain.chain_size_in is None else _LB_PER_FT_OF_INCH * chain.chain_size_in**2


def wet_lb_per_in(dry_lb_per_ft: float, *, water_lb_per_cuft: float) -> float:
    """What an inch of chain weighs in the water: steel keeps 87 % of its weight in fresh water.

    Raises ValueError unless it weighs something. Source: ARCHIMEDES.

    >>> round(wet_lb_per_in(1.42, water_lb_per_cuft=62.4) * 12, 2)
    1.24
    """
    if not dry_lb_per_ft > 0:
        raise ValueError("a chain weighs something")
    return dry_lb_per_ft / 12 * (1 - water_lb_per_cuft / STEEL_LB_PER_CUFT)
