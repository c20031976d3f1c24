"""From pieces and stock lengths to the cheapest cutting plan."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import reduce
from itertools import groupby
from math import gcd, lcm

from estimating.engine.reasons import Amount, Reason, Sentence, Step

from .asked import FINEST, Piece, ShopRules, StockLength
from .fewest import Group, fewest
from .least import least
from .plan import Alike, CutPlan, Stick, TooLong
from .whole import Bin, Whole

MOST_UNITS = 120_000  # of room in a stick; finer lengths than that are counted in 64ths
SECONDS = 8.0


def plan_cuts(
    pieces: Iterable[Piece],
    stock: Iterable[StockLength],
    rules: ShopRules | None = None,
    *,
    item: str = "",
    seconds: float = SECONDS,
) -> CutPlan:
    """The cheapest sticks for the pieces and how to cut each; then fewest different sticks among equal costs.

    n pieces that fill a stick need n - 1 cuts (COMMON_PRACTICE). The cost is proven least, or `least_cost` says how
    low it could be. The same pieces give the same plan every time, unless `seconds` run out first. Sticks nobody
    quoted are taken only for pieces longer than every other.

    >>> from decimal import Decimal
    >>> ten = [Piece(f"j{n}", Fraction(383, 4)) for n in range(10)]
    >>> plan = plan_cuts(ten, [StockLength(Fraction(192), Decimal(20))])
    >>> plan.to_buy, plan.cost, plan.words
    (((Fraction(192, 1), 5),), Decimal('100'), 'the least possible')
    """
    rules = rules or ShopRules()
    wanted = sorted(pieces, key=lambda piece: (-piece.length_in, piece.job, piece.section, piece.mark))
    offered = _offered(stock, rules)
    longest = max((rules.usable_in(one) for one in offered), default=Fraction(0))
    quoted = [one for one in offered if one.price is not None]
    reach = max((rules.usable_in(one) for one in quoted), default=Fraction(0))
    name = max((one.length_in for one in offered), default=None)
    too_long = tuple(TooLong(piece, name) for piece in wanted if piece.length_in > longest)
    priced = _part([p for p in wanted if p.length_in <= reach], quoted, rules, seconds)
    rest = [p for p in wanted if reach < p.length_in <= longest]
    unpriced = _part(rest, [one for one in offered if one.price is None], rules, seconds)
    return _plan(item, rules, (priced, unpriced), too_long)


@dataclass(frozen=True, slots=True)
class _Part:
    """The pieces that quoted stock can give, or those that only unquoted stock can."""

    groups: tuple[Alike, ...] = ()
    cost: Decimal = Decimal(0)
    least_cost: Decimal = Decimal(0)
    proven: bool = True
    fewest: bool = True
    short: tuple[Piece, ...] = ()


def _offered(stock: Iterable[StockLength], rules: ShopRules) -> list[StockLength]:
    usable = [one for one in stock if one.limit != 0 and rules.usable_in(one) > 0]
    if not rules.offcuts_first:
        usable = [one for one in usable if not one.offcut]
    return sorted(usable, key=lambda one: (one.length_in, one.price or 0, not one.offcut, one.limit or 0))


def _part(pieces: list[Piece], stock: list[StockLength], rules: ShopRules, seconds: float) -> _Part:
    if not pieces:
        return _Part()
    lengths = sorted({piece.length_in for piece in pieces}, reverse=True)
    counts = Counter(piece.length_in for piece in pieces)
    whole, share = _whole(lengths, [counts[one] for one in lengths], stock, rules)
    found = least(whole, seconds=seconds)
    cut = fewest(whole, found.answer, found.near)
    groups, short = _handed_out(cut.groups, pieces, lengths, stock, rules)
    cost = sum((group.stock.price or Decimal(0) for group in groups for _ in group.sticks), Decimal(0))
    lost = found.cost - found.bound
    return _Part(groups, cost, max(Decimal(0), cost - lost * share), found.proven, cut.proven and found.proven, short)


def _whole(
    lengths: list[Fraction], counts: list[int], stock: list[StockLength], rules: ShopRules
) -> tuple[Whole, Decimal]:
    """The problem in whole numbers, and the money one unit of its cost stands for."""
    rooms = [rules.usable_in(one) + rules.kerf_in for one in stock]
    sizes = [length + rules.kerf_in for length in lengths]
    unit = lcm(*(length.denominator for length in (*rooms, *sizes)))
    if max(rooms) * unit > MOST_UNITS:
        unit = FINEST
    prices = [one.price if one.price is not None else Decimal(float(one.length_in)) for one in stock]
    share, costs = _shares(prices)
    bins = [Bin(int(room * unit), cost, one.limit) for room, cost, one in zip(rooms, costs, stock, strict=True)]
    units = [-(-size.numerator * unit // size.denominator) for size in sizes]
    return Whole(tuple(units), tuple(counts), (*bins, *_missing(units, sum(counts), bins))), share


def _shares(prices: Sequence[Decimal]) -> tuple[Decimal, list[int]]:
    grain = Decimal(1).scaleb(min(0, *(price.normalize().as_tuple().exponent for price in prices)))
    grains = [int(price / grain) for price in prices]
    common = reduce(gcd, grains) or 1
    return grain * common, [one // common for one in grains]


def _missing(sizes: list[int], pieces: int, bins: list[Bin]) -> list[Bin]:
    """A stick that does not exist, dearer than any plan, where a piece fits limited stock only: it may run out."""
    endless = max((one.room for one in bins if one.limit is None), default=0)
    if sizes[0] <= endless:
        return []
    return [Bin(sizes[0], (1 + max(one.cost for one in bins)) * pieces)]


def _handed_out(
    cut: Iterable[Group], pieces: list[Piece], lengths: list[Fraction], stock: list[StockLength], rules: ShopRules
) -> tuple[tuple[Alike, ...], tuple[Piece, ...]]:
    queues = {length: iter(list(alike)) for length, alike in groupby(pieces, key=lambda piece: piece.length_in)}
    groups: list[Alike] = []
    short: list[Piece] = []
    for group in sorted(cut, key=lambda one: (-one.bin, -one.times, tuple(-count for count in one.pattern))):
        chosen = tuple(length for length, count in zip(lengths, group.pattern, strict=True) for _ in range(count))
        handed = [tuple(next(queues[length]) for length in chosen) for _ in range(group.times)]
        if group.bin == len(stock):
            short += [piece for one in handed for piece in one]
        else:
            groups.append(_alike(stock[group.bin], chosen, handed, rules))
    return tuple(groups), tuple(short)


def _alike(
    stock: StockLength, lengths: tuple[Fraction, ...], handed: list[tuple[Piece, ...]], rules: ShopRules
) -> Alike:
    left = rules.left_in(stock, lengths)
    kept = left >= rules.keep_from_in and left > 0
    return Alike(stock, lengths, tuple(Stick(stock, pieces, left, kept) for pieces in handed))


def _plan(item: str, rules: ShopRules, parts: tuple[_Part, _Part], too_long: tuple[TooLong, ...]) -> CutPlan:
    groups = tuple(group for part in parts for group in part.groups)
    return CutPlan(
        item=item,
        groups=groups,
        cost=parts[0].cost,
        least_cost=parts[0].least_cost,
        proven=all(part.proven for part in parts),
        fewest=all(part.fewest for part in parts),
        too_long=too_long,
        short=tuple(piece for part in parts for piece in part.short),
        unpriced=bool(parts[1].groups),
        reason=_reason(groups, rules),
    )


def _reason(groups: tuple[Alike, ...], rules: ShopRules) -> Reason:
    rule = Sentence(
        "Cheapest sticks for the pieces, {0} lost per cut; then fewest different sticks.",
        (Amount(float(rules.kerf_in), "in"),),
    )
    return Reason(rule, "COMMON_PRACTICE", tuple(_steps(groups)))


def _steps(groups: tuple[Alike, ...]) -> Iterator[Step]:
    taken: dict[StockLength, int] = {}
    for group in groups:
        taken[group.stock] = taken.get(group.stock, 0) + group.times
    for stock, times in taken.items():
        words = "offcuts of {0}" if stock.offcut else "sticks of {0}"
        yield Step(Sentence(words, (Amount(float(stock.length_in), "in"),)), Amount(times, "count"))
    pieces = sum(len(group.lengths) * group.times for group in groups)
    cut_in = sum(sum(group.lengths) * group.times for group in groups)
    stick_in = sum(group.stock.length_in * group.times for group in groups)
    yield Step(Sentence("pieces"), Amount(pieces, "count"))
    yield Step(Sentence("length cut"), Amount(float(cut_in), "in"))
    yield Step(Sentence("length of the sticks"), Amount(float(stick_in), "in"), total=True)
