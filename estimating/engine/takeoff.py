"""From net need to what is bought: waste on top, then whole packs and whole sticks, at the day's price."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_UP, Decimal

from .cents import ZERO, cents, exact
from .needs import STAGES, Cuts, Need, cuts, feet, needs
from .packing import Packing, Stock, pack
from .parts import Catalogue, FloatItem, Good, Lumber, Price, SawRules, Stick
from .price_findings import no_stick_long_enough, not_in_catalogue, price_findings
from .reasons import Amount, Finding, Reason, Sentence, Step
from .result import Design, StickCut, Takeoff, TakeoffLine

GROUPS = (
    "framing lumber",
    "decking",
    "floats",
    "hardware",
    "fasteners",
    "anchors and chain",
    "accessories",
    "ramp",
)
GOOD_GROUPS = {
    "hardware": "hardware",
    "fastener": "fasteners",
    "chain": "anchors and chain",
    "anchor": "anchors and chain",
    "accessory": "accessories",
    "ramp": "ramp",
}
PACK_WORDS = {"chain": "drum", "fastener": "box"}
# A stick nobody quoted is taken only where no priced one is long enough.
UNPRICED = Decimal(1_000_000)


@dataclass(frozen=True, slots=True)
class Bought:
    """A line of the takeoff with the price it rests on, before anyone judges that price."""

    line: TakeoffLine
    price: Price | None


def takeoff(design: Design, catalogue: Catalogue, saw: SawRules | None = None) -> Takeoff:
    """What to buy for a design, line by line, with costs and what is doubtful about the prices.

    Rule: net need, plus the item's waste, rounded up to whole packs or sticks; cost is packs times the pack's price
    (COMMON_PRACTICE). An item without a usable price costs 0 and stops the quote by a finding.
    """
    saw = saw or SawRules()
    bought: list[Bought] = []
    sticks: list[tuple[str, StickCut]] = []
    findings: list[Finding] = []
    for sawn in cuts(design):
        item = catalogue.lumber[sawn.code]
        packing = _with_spares(sawn, item, pack(sawn.pieces, _stock(item, catalogue, saw)))
        bought += _lumber_lines(sawn, item, packing, saw)
        sticks += [(item.code, stick) for stick in packing.sticks]
        findings += [no_stick_long_enough(design.spec, item, cut) for cut in _once_each(packing.too_long)]
    for need in needs(design, catalogue):
        item = catalogue.floats.get(need.code) or catalogue.goods.get(need.code)
        if item is None:
            findings.append(not_in_catalogue(need.code))
        else:
            bought.append(_pack_line(need, item))
    bought.sort(key=lambda one: _place(one.line))
    lines = tuple(_at_price(one, catalogue) for one in bought)
    findings += price_findings([(b.line, b.price) for b in bought], catalogue, design.spec)
    total = sum((line.cost for line in lines), ZERO)
    return Takeoff(lines, tuple(sticks), total, tuple(findings))


def _place(line: TakeoffLine) -> tuple[int, int, str]:
    return GROUPS.index(line.group), STAGES.index(line.stage), line.code


def _at_price(one: Bought, catalogue: Catalogue) -> TakeoffLine:
    price = one.price
    if price is None or price.currency != catalogue.currency:
        return one.line
    return replace(
        one.line,
        unit_cost=price.amount,
        cost=cents(one.line.packs * price.amount),
        price_dated=price.dated.isoformat(),
        price_supplier=price.supplier,
    )


def _stock(item: Lumber, catalogue: Catalogue, saw: SawRules) -> list[Stock]:
    over_in = item.trusted_over_in - saw.end_trim_in
    return [Stock(s.length_in, _stick_cost(s, catalogue), over_in, saw.kerf_in) for s in item.sticks]


def _stick_cost(stick: Stick, catalogue: Catalogue) -> Decimal:
    if stick.price is None or stick.price.currency != catalogue.currency:
        return UNPRICED + exact(stick.length_in)
    return stick.price.amount


def _once_each(pieces: Iterable[tuple[str, float]]) -> Iterator[tuple[str, float]]:
    seen: set[float] = set()
    for mark, length in pieces:
        if length not in seen:
            seen.add(length)
            yield mark, length


def _with_spares(sawn: Cuts, item: Lumber, packing: Packing) -> Packing:
    if not packing.sticks:
        return packing
    lengths = [stick.stock_length_in for stick in packing.sticks]
    spare_in, count = spare_sticks(sawn.feet, item.waste_percent, lengths)
    return replace(packing, sticks=packing.sticks + (StickCut(spare_in, (), spare_in),) * count)


def spare_sticks(net_ft: Decimal, waste_percent: Decimal, lengths_in: Sequence[float]) -> tuple[float, int]:
    """Whole sticks on top until what is bought covers the need with its waste: bad sticks are sent back late.

    Their length in inches, the commonest of those bought (the longer of two), and how many. Source COMMON_PRACTICE.

    >>> spare_sticks(Decimal(60), Decimal(10), [192.0] * 4)
    (192.0, 1)
    """
    spare_in = max(set(lengths_in), key=lambda length: (lengths_in.count(length), length))
    short = _with_waste(net_ft, waste_percent) - feet(sum(lengths_in))
    return spare_in, int(_whole(short / feet(spare_in))) if short > 0 else 0


def _with_waste(net: Decimal, percent: Decimal) -> Decimal:
    return (net * (100 + percent) / 100).quantize(Decimal("0.01"), ROUND_UP)


def _lumber_lines(sawn: Cuts, item: Lumber, packing: Packing, saw: SawRules) -> Iterator[Bought]:
    group = "decking" if item.decking else "framing lumber"
    steps = (*sawn.steps, *_stick_steps(item, packing))
    rule = Sentence("Cuts packed into stock lengths, {0} lost per cut.", (Amount(saw.kerf_in, "in"),))
    reason = Reason(rule, "COMMON_PRACTICE", steps)
    for stick in sorted(item.sticks, key=lambda s: s.length_in):
        count = sum(1 for one in packing.sticks if one.stock_length_in == stick.length_in)
        if not count:
            continue
        net = _feet_cut(packing, stick.length_in)
        bought = feet(stick.length_in * count)
        yield Bought(
            TakeoffLine(
                code=item.code,
                name=item.name,
                group=group,
                stage=sawn.stage,
                net=net,
                unit="ft",
                waste_percent=item.waste_percent,
                with_waste=_with_waste(net, item.waste_percent),
                pack=stick_words(stick.length_in),
                packs=Decimal(count),
                bought=bought,
                left_over=bought - net,
                unit_cost=ZERO,
                cost=ZERO,
                price_dated="",
                price_supplier="",
                reason=reason,
            ),
            stick.price,
        )


def stick_words(length_in: float) -> str:
    """A stock length as the yard says it.

    >>> stick_words(192.0), stick_words(94.5)
    ('16 ft stick', '94.5 in stick')
    """
    return f"{length_in / 12:g} ft stick" if length_in % 12 == 0 else f"{length_in:g} in stick"


def _feet_cut(packing: Packing, stock_length_in: float) -> Decimal:
    pieces = (length for s in packing.sticks if s.stock_length_in == stock_length_in for _, length in s.cuts)
    return feet(sum(pieces))


def _stick_steps(item: Lumber, packing: Packing) -> Iterator[Step]:
    for stick in item.sticks:
        alike = [one for one in packing.sticks if one.stock_length_in == stick.length_in]
        if alike:
            spares = sum(1 for one in alike if not one.cuts)
            words = "{0} × {1}, {2} of them spare" if spares else "{0} × {1}"
            values = (Amount(len(alike), "count"), stick_words(stick.length_in), Amount(spares, "count"))
            yield Step(Sentence(words, values), Amount(feet(stick.length_in * len(alike)), "ft"))
    bought = sum(stick.stock_length_in for stick in packing.sticks)
    yield Step(Sentence("Bought"), Amount(feet(bought), "ft"), total=True)


def _pack_line(need: Need, item: FloatItem | Good) -> Bought:
    is_float = isinstance(item, FloatItem)
    waste = Decimal(0) if is_float else item.waste_percent
    size = Decimal(1) if is_float else item.pack_size
    unit = "each" if is_float else item.use_unit
    wanted = _with_waste(need.net, waste) if unit == "ft" else _whole(need.net * (100 + waste) / 100)
    packs = _whole(wanted / size)
    bought = packs * size
    line = TakeoffLine(
        code=item.code,
        name=item.name,
        group="floats" if is_float else GOOD_GROUPS[item.kind],
        stage=need.stage,
        net=need.net,
        unit=unit,
        waste_percent=waste,
        with_waste=wanted,
        pack=unit if is_float else pack_words(item),
        packs=packs,
        bought=bought,
        left_over=bought - need.net,
        unit_cost=ZERO,
        cost=ZERO,
        price_dated="",
        price_supplier="",
        reason=Reason(Sentence(*_pack_rule(waste, size)), _rule_source(item), need.steps),
    )
    return Bought(line, item.price)


def _pack_rule(waste: Decimal, size: Decimal) -> tuple[str, tuple[Amount, ...]]:
    if waste:
        return "Net need, {0} more for waste, in packs of {1}.", (Amount(waste, "percent"), Amount(size, "count"))
    if size != 1:
        return "Net need in packs of {0}.", (Amount(size, "count"),)
    return "Net need, bought by the piece.", ()


def _rule_source(item: FloatItem | Good) -> str:
    return "FIRM_JOINTS" if isinstance(item, Good) and item.kind in ("hardware", "fastener") else "GEOMETRY"


def _whole(quantity: Decimal) -> Decimal:
    return quantity.to_integral_value(ROUND_UP)


def pack_words(good: Good) -> str:
    """How a good is sold, in words: each, box of 25, drum of 100 ft."""
    unit = "" if good.use_unit == "each" else f" {good.use_unit}"
    if good.pack_size == 1:
        return good.use_unit
    return f"{PACK_WORDS.get(good.kind, 'pack')} of {good.pack_size.normalize():f}{unit}"
