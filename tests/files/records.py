"""Random specs, catalogues and rules for round trips: any value the files can carry, sensible or not."""

from datetime import date
from decimal import Decimal

from hypothesis import strategies as st

from estimating.engine import parts, spec

# Sixteenths and raw floats alike must come back as they went.
SIZES = st.one_of(
    st.integers(1, 1200 * 16).map(lambda n: n / 16), st.floats(0.001, 60_000, allow_nan=False, allow_infinity=False)
)
GAPS = st.one_of(st.just(0.0), SIZES)
PLACES = st.floats(-1e6, 1e6, allow_nan=False)
MONEY = st.decimals(0, 10**9, places=4)
PERCENT = st.decimals(0, 100, places=3)
MARGIN = st.decimals(0, Decimal("99.9"), places=3)
ABOVE_ZERO = st.decimals(Decimal("0.001"), 10**6, places=3)
CODES = st.text(min_size=1, max_size=12)
WORDS = st.text(max_size=30)
NAMES = st.text(min_size=1, max_size=30)
MARKS = st.text(min_size=1, max_size=5)
EDGES = st.sampled_from(["shore", "lake", "left", "right"])
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))
COUNTS = st.integers(1, 60)


def maybe(values):
    return st.none() | values


def several(values, least: int = 0):
    return st.lists(values, min_size=least, max_size=3).map(tuple)


FRAMINGS = st.builds(spec.Framing, maybe(CODES), maybe(COUNTS), maybe(CODES), maybe(CODES), maybe(SIZES))
DECKINGS = st.builds(spec.Decking, maybe(CODES), st.sampled_from(["across", "along"]), maybe(GAPS), GAPS)
FLOAT_PLACES = st.builds(spec.FloatPlace, PLACES, PLACES, st.booleans(), maybe(CODES))
FLOTATIONS = st.builds(spec.Flotation, maybe(CODES), maybe(COUNTS), maybe(COUNTS), several(FLOAT_PLACES))
SECTIONS = st.builds(spec.Section, MARKS, SIZES, SIZES, PLACES, PLACES, st.booleans(), FRAMINGS, DECKINGS, FLOTATIONS)
JOINTS = st.builds(spec.Joint, MARKS, MARKS, st.sampled_from(["hinged", "rigid"]))
RAMPS = st.builds(
    spec.Ramp, SIZES, SIZES, maybe(MARKS), EDGES, maybe(GAPS), maybe(PLACES), WORDS, maybe(CODES), st.booleans()
)
CORNERS = st.sampled_from(["shore-left", "shore-right", "lake-left", "lake-right"])
ANCHORS = st.builds(
    spec.Anchor,
    *(MARKS, MARKS, CORNERS, maybe(CODES), maybe(CODES), maybe(PLACES), maybe(PLACES), maybe(GAPS), maybe(SIZES)),
)
ACCESSORIES = st.builds(spec.Accessory, CODES, st.integers(1, 999), maybe(MARKS), EDGES, maybe(GAPS))
WATERS = st.builds(
    spec.Water, st.sampled_from(["fresh", "brackish", "salt"]), WORDS, maybe(PLACES), maybe(PLACES), maybe(PLACES)
)
DEPTHS = st.builds(spec.DepthPoint, WORDS, PLACES, PLACES, WORDS)
SITES = st.builds(
    spec.Place,
    *(WATERS, several(DEPTHS), WORDS, maybe(PLACES), st.booleans()),
    *(maybe(st.floats(0, 120_000)), maybe(st.floats(20, 110)), maybe(st.floats(0, 5000))),
)
HIRES = st.builds(spec.Hire, NAMES, MONEY, MONEY)
SUMS = st.builds(spec.Allowance, NAMES, MONEY)
WORKS = st.builds(
    spec.Work,
    *(st.integers(1, 50), maybe(st.integers(0, 99)), maybe(MONEY), maybe(MONEY)),
    *(several(HIRES), several(SUMS), several(SUMS), maybe(PERCENT)),
)
BOATS = st.builds(spec.Boat, st.floats(1, 999), maybe(st.floats(1, 99_999)), st.integers(1, 40))
SPECS = st.builds(
    spec.DockSpec,
    *(WORDS, several(SECTIONS, 1), several(JOINTS), maybe(RAMPS), several(ANCHORS), several(ACCESSORIES)),
    *(SITES, WORKS, maybe(st.floats(0.1, 999)), several(BOATS)),
)

PRICES = st.builds(parts.Price, MONEY, st.sampled_from(["USD", "CAD"]), DAYS, WORDS, maybe(DAYS), st.booleans())
RATES = st.builds(
    parts.LabourRate,
    *(st.sampled_from(["layout", "float", "key_in"]), st.sampled_from(["layout", "framing", "handover"])),
    *(NAMES, MONEY, NAMES, st.sampled_from(["STARTER_HOURS", "FIRM"])),
)
FACTORS = st.builds(
    parts.LabourFactor, st.sampled_from(["island", "carry_over_100_ft", "water_below_50_f"]), NAMES, ABOVE_ZERO
)
MODES = st.sampled_from(
    ["shop_is_end_user", "separated_materials", "whole_price", "end_user_and_whole_price", "exempt"]
)
TAXES = st.builds(parts.TaxMode, MODES, several(st.tuples(NAMES, PERCENT)), PERCENT, st.just("Certificate 12"))
DEPOSITS = st.builds(
    parts.DepositRule,
    st.sampled_from(["none", "percent", "lesser_of_percent_and_cap", "greater_of_percent_and_special_order"]),
    *(PERCENT, MONEY, WORDS, maybe(DAYS)),
)
MOORINGS = st.builds(
    parts.MooringRules,
    *(st.floats(0, 120), st.floats(0, 120), st.floats(0, 20), st.floats(0, 2400), st.floats(0, 250), st.floats(0, 250)),
    *(st.floats(0.1, 5), st.floats(0.1, 5), st.floats(0, 600), st.floats(1, 100), st.floats(1, 10)),
)
RULES = st.builds(
    parts.FirmRules,
    labour_rates=several(RATES),
    labour_factors=several(FACTORS),
    wage_per_hour=MONEY,
    burden_percent=PERCENT,
    mileage_rate=MONEY,
    overhead_per_hour=MONEY,
    overhead_percent=st.none(),
    margin_percent=MARGIN,
    floor_margin_percent=MARGIN,
    contingency_percent=PERCENT,
    contingency_unknown_percent=PERCENT,
    rounding_step=MONEY,
    tax=TAXES,
    deposit=DEPOSITS,
    instalments=st.just((parts.Instalment("Handed over", Decimal(100)),)),
    hours_rounding=ABOVE_ZERO,
    live_load_psf=st.floats(0.1, 999),
    person_lb=st.floats(0.1, 999),
    freight=MONEY,
    leftovers_to_stock=st.booleans(),
    day_hours=ABOVE_ZERO,
    travel_mph=ABOVE_ZERO,
    mooring=MOORINGS,
)
