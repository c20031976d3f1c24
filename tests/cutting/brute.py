"""Cutting by going through everything: slow, simple, and written apart from the way under test."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from functools import cache

from estimating.engine.cutting import Piece, ShopRules, StockLength

BARE = ShopRules(kerf_in=Fraction(0))


def pieces(*counts: tuple[float, int]) -> list[Piece]:
    return [Piece(f"{length}-{n}", Fraction(length)) for length, count in counts for n in range(count)]


def sticks(*prices: tuple[float, str], limit: int | None = None) -> list[StockLength]:
    return [StockLength(Fraction(length), Decimal(price), limit) for length, price in prices]


def fillings(lengths: tuple[Fraction, ...], room: Fraction, kerf: Fraction) -> Iterator[tuple[Fraction, ...]]:
    """Every choice of pieces that has the first one and goes into a stick, n - 1 cuts between n pieces."""

    def grow(chosen: tuple[Fraction, ...], rest: tuple[Fraction, ...]) -> Iterator[tuple[Fraction, ...]]:
        if sum(chosen) + kerf * (len(chosen) - 1) > room:
            return
        yield chosen
        for place, length in enumerate(rest):
            if place == 0 or length != rest[place - 1]:
                yield from grow((*chosen, length), rest[place + 1 :])

    yield from grow(lengths[:1], lengths[1:])


def without(lengths: tuple[Fraction, ...], gone: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    left = list(lengths)
    for length in gone:
        left.remove(length)
    return tuple(left)


def least_cost(wanted: list[Piece], stock: list[StockLength], rules: ShopRules) -> Decimal | None:
    """The least any plan costs; None if limited stock cannot give every piece."""

    @cache
    def cost(lengths: tuple[Fraction, ...], left: tuple[int | None, ...]) -> Decimal | None:
        if not lengths:
            return Decimal(0)
        found = []
        for number, one in enumerate(stock):
            if left[number] == 0:
                continue
            after = tuple(n - 1 if place == number and n is not None else n for place, n in enumerate(left))
            for filling in set(fillings(lengths, rules.usable_in(one), rules.kerf_in)):
                rest = cost(without(lengths, filling), after)
                if rest is not None:
                    found.append(one.price + rest)
        return min(found, default=None)

    return cost(tuple(sorted((p.length_in for p in wanted), reverse=True)), tuple(one.limit for one in stock))


def fewest_kinds(wanted: list[Piece], stock: list[StockLength], rules: ShopRules, cost: Decimal) -> int:
    """The fewest different sticks among all plans of that cost. Endless stock only."""

    def plans(lengths: tuple[Fraction, ...], money: Decimal) -> Iterator[frozenset]:
        if not lengths:
            yield frozenset()
            return
        for number, one in enumerate(stock):
            if one.price > money:
                continue
            for filling in set(fillings(lengths, rules.usable_in(one), rules.kerf_in)):
                for rest in plans(without(lengths, filling), money - one.price):
                    yield rest | {(number, filling)}

    return min(len(plan) for plan in plans(tuple(sorted((p.length_in for p in wanted), reverse=True)), cost))
