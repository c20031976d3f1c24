"""A small invented catalogue: enough lumber, floats and hardware to lay out any dock in these tests."""

from datetime import date
from decimal import Decimal

from estimating.engine.lumber import dressed_size_in, weight_lb_per_ft
from estimating.engine.parts import (
    Catalogue,
    DepositRule,
    FirmRules,
    FloatItem,
    Good,
    JointRule,
    Lumber,
    StandingChoices,
    Stick,
    TaxMode,
    Use,
)

WET, SEASONED = 50.0, 37.5  # lb per cu ft: usual yard lumber, and lumber after a summer


def lumber(nominal: str, *stock_ft: int, support_in: float | None = None) -> Lumber:
    thickness, width = dressed_size_in(nominal)
    per_ft = {"thickness_in": thickness, "width_in": width}
    return Lumber(
        code=nominal,
        name=nominal,
        nominal=nominal,
        **per_ft,
        sticks=tuple(Stick(feet * 12.0) for feet in stock_ft),
        wet_lb_per_ft=weight_lb_per_ft(**per_ft, density_lb_per_cuft=WET),
        seasoned_lb_per_ft=weight_lb_per_ft(**per_ft, density_lb_per_cuft=SEASONED),
        weight_source="invented",
        decking=support_in is not None,
        support_spacing_in=support_in,
    )


def float_item(code: str, size: tuple[float, float, float], weight_lb: float, net_lb: float) -> FloatItem:
    fixings = (Use("lag", Decimal(8)), Use("flat-washer", Decimal(8)))
    return FloatItem(code, f"Float {code}", *size, weight_lb, net_lb, True, "invented", date(2026, 4, 6), None, fixings)


def good(code: str, kind: str, weight_lb: float, **more: object) -> Good:
    return Good(code, code.replace("-", " "), kind, "each", Decimal(1), None, weight_lb, **more)


def use(code: str, quantity: int) -> Use:
    return Use(code, Decimal(quantity))


LOCK = (use("lock-washer", 1),)
RULES = (
    JointRule(
        "outer_corner", "inside plate", (use("inside-plate", 1), use("backer", 2)), 4, "bolt", LOCK, dock_to_in=144
    ),
    JointRule(
        "outer_corner",
        "inside and outside plates",
        (use("inside-plate", 1), use("outside-plate", 1)),
        8,
        "bolt",
        LOCK,
        dock_over_in=144,
    ),
    JointRule("inner_corner", "inside corner", (use("inside-plate", 1),), 4, "bolt", LOCK),
    JointRule("tee", "tee plate", (use("tee-plate", 1), use("backer", 1)), 4, "bolt", LOCK),
    JointRule("cross_end", "screws", (use("screw-3", 3),)),
    JointRule("hinged_joint", "two hinge kits", (use("hinge-kit", 2),), 32, "bolt", LOCK),
    JointRule("rigid_joint", "bolted through", (use("backer", 4),), 8, "bolt", LOCK),
    JointRule("ramp_dock_end", "two hinge kits", (use("hinge-kit", 2),), 32, "bolt", LOCK),
    JointRule("ramp_shore_end", "pad plate", (use("pad-plate", 1),)),
    JointRule("board_crossing", "two screws", (use("deck-screw", 2),)),
    JointRule("chain_retainer", "retainer", (use("retainer", 1),), 2, "bolt", LOCK),
)

_WEIGHTS = {
    "inside-plate": 1.5,
    "outside-plate": 2.0,
    "backer": 0.5,
    "tee-plate": 1.0,
    "hinge-kit": 6.0,
    "pad-plate": 4.0,
    "retainer": 3.0,
}
_SMALL = {"bolt": 0.2, "lock-washer": 0.02, "screw-3": 0.015, "deck-screw": 0.008, "lag": 0.1, "flat-washer": 0.05}

CATALOGUE = Catalogue(
    lumber={
        item.code: item
        for item in (
            lumber("2x6", 8, 10, 12, 14, 16),
            lumber("2x8", 8, 10, 12, 14, 16, 20),
            lumber("2x10", 8, 10, 12, 14, 16, 20),
            lumber("5/4x6", 8, 10, 12, 14, 16, support_in=16.0),
        )
    },
    floats={
        item.code: item
        for item in (
            float_item("24x48x16", (48, 24, 16), 46, 600),
            float_item("24x36x16", (36, 24, 16), 36, 450),
            float_item("36x48x20", (48, 36, 20), 70, 1100),
        )
    },
    goods={
        item.code: item
        for item in (
            *(good(code, "hardware", lb) for code, lb in _WEIGHTS.items()),
            *(good(code, "fastener", lb) for code, lb in _SMALL.items()),
            good("chain", "chain", 1.1),
            good("block", "anchor", 350.0, submerged_weight_lb=204.0),
            good("cleat", "accessory", 2.0, symbol="cleat", fixings=(use("bolt", 4), use("backer", 1))),
            good("ladder", "accessory", 25.0, symbol="ladder"),
            good("steel-ramp", "ramp", 520.0, width_in=48.0, length_in=240.0),
        )
    },
    joint_rules=RULES,
    standing=StandingChoices(
        stringer="2x8",
        header="2x8",
        cross_member="2x8",
        board="5/4x6",
        float_item="24x48x16",
        anchor="block",
        chain="chain",
        ramp_stringer="2x8",
        ramp_board="5/4x6",
    ),
    currency="USD",
    on=date(2026, 4, 6),
)

FIRM = FirmRules(
    labour_rates=(),
    labour_factors=(),
    wage_per_hour=Decimal(26),
    burden_percent=Decimal(38),
    mileage_rate=Decimal("0.70"),
    overhead_per_hour=Decimal(16),
    overhead_percent=None,
    margin_percent=Decimal(12),
    floor_margin_percent=Decimal(8),
    contingency_percent=Decimal(5),
    contingency_unknown_percent=Decimal(15),
    rounding_step=Decimal(50),
    tax=TaxMode("exempt"),
    deposit=DepositRule("none"),
    instalments=(),
)
