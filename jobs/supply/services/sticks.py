"""The sticks a job's lumber is bought in: the cheapest that give all its pieces, with spares for the waste."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from contractor.company.current import firm
from contractor.company.models import Company
from estimating.catalogue.services import CatalogueNotReady, engine_catalogue
from estimating.engine.cutting import CutPlan, Piece, ShopRules, StockLength, exact_in, plan_cuts
from estimating.engine.needs import feet
from estimating.engine.parts import Catalogue
from estimating.engine.takeoff import spare_sticks

from .wanted import WOOD_GROUPS, Wanted

SECONDS_AN_ITEM = 3.0
BOARD = "board"


def shop_rules() -> ShopRules:
    """How the firm says it saws."""
    company = firm() or Company()
    return ShopRules(
        kerf_in=exact_in(company.kerf_in),
        end_trim_in=exact_in(company.end_trim_in),
        over_in=exact_in(company.stick_over_in),
        keep_from_in=exact_in(company.keep_offcut_in),
        offcuts_first=company.offcuts_first,
    )


def pieces_of(number: str, figures: Mapping[str, Any]) -> dict[str, list[Piece]]:
    """Every piece to saw of an estimate as plain JSON, by lumber item; `number` is the job's."""
    found: dict[str, list[Piece]] = defaultdict(list)
    for piece in figures["pieces"]:
        length = exact_in(piece["length_in"])
        found[piece["item"]].append(Piece(piece["mark"], length, job=number, section=piece["section"]))
    for run in figures["boards"]:
        board = Piece(BOARD, exact_in(run["length_in"]), job=number, section=run["section"])
        found[run["item"]] += [board] * run["count"]
    return dict(found)


def lengths_sold(code: str, catalogue: Catalogue) -> list[StockLength]:
    """The stock lengths of a lumber item at the day's prices."""
    item = catalogue.lumber.get(code)
    return [
        StockLength(
            exact_in(stick.length_in),
            stick.price.amount if stick.price and stick.price.currency == catalogue.currency else None,
        )
        for stick in (item.sticks if item else ())
    ]


def in_cheapest_sticks(wanted: Sequence[Wanted], figures: Mapping[str, Any] | None, *, on: date) -> tuple[Wanted, ...]:
    """What is wanted, its lumber in the cheapest sticks instead of those the takeoff was priced with.

    The yard's offcuts are left out: nobody can promise that they still lie there when the saw runs. An item whose
    pieces cannot all be cut from what is sold keeps its sticks of the takeoff.
    """
    wanted = tuple(wanted)
    lines = figures["takeoff"]["lines"] if figures else ()
    waste = {line["code"]: Decimal(str(line["waste_percent"])) for line in lines if line["group"] in WOOD_GROUPS}
    if not waste:
        return wanted
    try:
        catalogue = engine_catalogue(on=on)
    except CatalogueNotReady:
        return wanted
    rules, found = shop_rules(), {}
    for code, pieces in pieces_of("", figures).items():
        sold = lengths_sold(code, catalogue)
        plan = planned(tuple(pieces), tuple(sold), rules, code)
        if code in waste and not plan.too_long and not plan.short:
            in_takeoff = [one for one in wanted if one.code == code]
            found[code] = min(
                [one for _, one in to_buy(code, plan, waste[code])], in_takeoff, key=lambda ways: _cost(ways, sold)
            )
    rest = (one for one in wanted if one.code not in found)
    return (*rest, *(stick for sticks in found.values() for stick in sticks))


def _cost(sticks: Iterable[Wanted], sold: Iterable[StockLength]) -> tuple[bool, Decimal]:
    """What they cost, spares and all; with a length nobody quoted among them, more than any without."""
    prices = {float(one.length_in): one.price for one in sold}
    costs = [(prices.get(one.length_in), one.quantity) for one in sticks]
    return any(price is None for price, _ in costs), sum((price * n for price, n in costs if price), Decimal(0))


@lru_cache(maxsize=128)
def planned(pieces: tuple[Piece, ...], stock: tuple[StockLength, ...], rules: ShopRules, code: str) -> CutPlan:
    """The same question has the same answer: a spec is held against what stands many times."""
    return plan_cuts(pieces, stock, rules, item=code, seconds=SECONDS_AN_ITEM)


def to_buy(code: str, plan: CutPlan, waste_percent: Decimal) -> list[tuple[str, Wanted]]:
    """The plan's new sticks as goods, by job number; a shared one is for the job whose pieces take most of it.

    Spares for the waste of each stage, in its commonest length, are for the first job.
    """
    counts: dict[str, Counter[tuple[str, float]]] = defaultdict(Counter)
    net_in: Counter[str] = Counter()
    for stick in plan.sticks:
        stage = "decking" if all(piece.mark == BOARD for piece in stick.pieces) else "framing"
        share: Counter[str] = Counter()
        for piece in stick.pieces:
            share[piece.job] += piece.length_in
        net_in[stage] += sum(share.values())
        if not stick.stock.offcut:
            counts[stage][max(share, key=lambda job: (share[job], job)), float(stick.stock.length_in)] += 1
    for stage, bought in counts.items():
        lengths = [length for _, length in bought.elements()]
        spare_in, spares = spare_sticks(feet(float(net_in[stage])), waste_percent, lengths)
        bought[min(job for job, _ in bought), spare_in] += spares
    return [
        (job, Wanted(code, length_in, stage, "", Decimal(count)))
        for stage, bought in counts.items()
        for (job, length_in), count in bought.items()
    ]
