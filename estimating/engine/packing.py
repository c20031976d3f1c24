"""Which sticks to buy for a list of cuts: the longest piece first into the stick that costs least for what it holds.

n pieces from one stick need n - 1 cuts. Pieces all of one length are packed at the least cost there is; mixed lengths
by the rule above, tried against single stock lengths and each length on its own, the cheapest answer taken.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import itemgetter

from .result import StickCut

KERF_IN = 0.125
SLACK_IN = 1e-6  # float dust; far below a saw's reach

Pattern = tuple[tuple[float, int], ...]


@dataclass(frozen=True, slots=True, eq=False)  # told apart by identity: looked up for every stick
class Stock:
    """A stock length that can be bought, what one costs, and what the shop trusts it to run over its name."""

    length_in: float
    cost: Decimal
    over_in: float = 0.0
    kerf_in: float = KERF_IN

    def holds(self, length_in: float) -> int:
        """How many pieces of one length it gives."""
        return int((self.room_in + SLACK_IN) // (length_in + self.kerf_in))

    @property
    def room_in(self) -> float:
        """What pieces with a kerf each may take up together."""
        return self.length_in + self.over_in + self.kerf_in


@dataclass(frozen=True, slots=True)
class Packing:
    sticks: tuple[StickCut, ...]
    too_long: tuple[tuple[str, float], ...]  # pieces no stick is long enough for


def pack(cuts: Sequence[tuple[str, float]], stock: Sequence[Stock]) -> Packing:
    """Sticks with their cuts for pieces given as (mark, length in inches).

    Rule: a kerf between pieces, 1/8 in unless the stock says otherwise (COMMON_PRACTICE). Pieces longer than every
    stock come back as `too_long`.
    Raises ValueError for a length not above zero.

    >>> packing = pack([("a", 95.75)] * 10, [Stock(192, Decimal(20))])
    >>> len(packing.sticks), packing.sticks[0].left_in
    (5, 0.375)
    """
    if any(length <= 0 for _, length in cuts):
        raise ValueError("every piece must be longer than zero")
    longest = max((s.length_in + s.over_in for s in stock), default=0.0) + SLACK_IN
    marks: dict[float, list[str]] = {}
    for mark, length in sorted(cuts, key=lambda cut: -cut[1]):
        if length <= longest:
            marks.setdefault(length, []).append(mark)
    counts = {length: len(names) for length, names in marks.items()}
    for names in marks.values():
        names.reverse()
    sticks = tuple(_saw(stick, pattern, marks) for stick, pattern in _cheapest(counts, stock))
    return Packing(sticks, tuple(cut for cut in cuts if cut[1] > longest))


def _saw(stick: Stock, pattern: Pattern, marks: dict[float, list[str]]) -> StickCut:
    cuts = tuple((marks[length].pop(), length) for length, count in pattern for _ in range(count))
    used = sum(length for _, length in cuts) + stick.kerf_in * (len(cuts) - 1)
    return StickCut(stick.length_in, cuts, max(0.0, round(stick.length_in - used, 6)))


def _cheapest(counts: dict[float, int], stock: Sequence[Stock]) -> list[tuple[Stock, Pattern]]:
    if not counts:
        return []
    if len(counts) == 1:
        [(length, count)] = counts.items()
        return _all_alike(length, count, stock)
    apart = [stick for length, count in counts.items() for stick in _all_alike(length, count, stock)]
    answers = [_longest_first(counts, stock), apart]
    longest = max(counts)
    answers += [_longest_first(counts, [s]) for s in stock if s.holds(longest)]
    return min((_fit_down(answer, stock) for answer in answers), key=_cost)


def _cost(answer: Iterable[tuple[Stock, Pattern]]) -> tuple[Decimal, float]:
    sticks = [stick for stick, _ in answer]
    return sum((s.cost for s in sticks), Decimal(0)), sum(s.length_in for s in sticks)


def _longest_first(counts: dict[float, int], stock: Sequence[Stock]) -> list[tuple[Stock, Pattern]]:
    left = dict(counts)
    answer: list[tuple[Stock, Pattern]] = []
    while left:
        stick, pattern = min(_fillings(left, stock), key=_worth)
        times = min(left[length] // count for length, count in pattern)
        answer += [(stick, pattern)] * times
        for length, count in pattern:
            left[length] -= count * times
        left = {length: count for length, count in left.items() if count}
    return answer


def _fillings(left: dict[float, int], stock: Sequence[Stock]) -> Iterable[tuple[Stock, Pattern]]:
    longest = next(iter(left))
    return ((stick, _fill(stick, left)) for stick in stock if stick.holds(longest))


def _fill(stick: Stock, left: dict[float, int]) -> Pattern:
    room = stick.room_in + SLACK_IN
    pattern = []
    for length, count in left.items():
        taken = min(count, int(room // (length + stick.kerf_in)))
        if taken:
            pattern.append((length, taken))
            room -= taken * (length + stick.kerf_in)
    return tuple(pattern)


def _worth(filling: tuple[Stock, Pattern]) -> tuple[float, float]:
    stick, pattern = filling
    return float(stick.cost) / sum(length * count for length, count in pattern), stick.length_in


def _fit_down(answer: list[tuple[Stock, Pattern]], stock: Sequence[Stock]) -> list[tuple[Stock, Pattern]]:
    fitted: dict[tuple[Stock, Pattern], Stock] = {}
    for stick, pattern in answer:
        if (stick, pattern) not in fitted:
            need = sum((length + stick.kerf_in) * count for length, count in pattern)
            holding = [s for s in stock if s.room_in + SLACK_IN >= need]
            fitted[stick, pattern] = min([stick, *holding], key=lambda s: (s.cost, s.length_in))
    return [(fitted[one], one[1]) for one in answer]


def _all_alike(length: float, count: int, stock: Sequence[Stock]) -> list[tuple[Stock, Pattern]]:
    """The least cost of 1, 2, 3 ... pieces, each answer one stick more than an earlier one.

    Of many pieces all but the last few come from the stick that is cheapest by the piece: among as many other sticks
    as it holds pieces, some together hold a whole number of its loads and may be had from it for no more.
    """
    fitting = [(float(s.cost), s.length_in, s.holds(length), s) for s in stock if s.holds(length)]
    _, _, held, stick = min(fitting, key=lambda one: (one[0] / one[2], one[1] / one[2]))
    tried = (held - 1) * max(one[2] for one in fitting) + held
    bulk = max(0, count - tried) // held
    return [(stick, ((length, held),))] * bulk + _few_alike(length, count - bulk * held, fitting)


def _few_alike(
    length: float, count: int, fitting: Sequence[tuple[float, float, int, Stock]]
) -> list[tuple[Stock, Pattern]]:
    best: list[tuple[float, float]] = [(0.0, 0.0)]
    choice: list[tuple[Stock, int]] = []
    for need in range(1, count + 1):
        answers = []
        for cost, long_in, held, stick in fitting:
            before = best[need - held] if need > held else best[0]
            answers.append((before[0] + cost, before[1] + long_in, held, stick))
        least = min(answers, key=itemgetter(0, 1))
        best.append(least[:2])
        choice.append((least[3], least[2]))
    answer = []
    while count:
        stick, held = choice[count - 1]
        answer.append((stick, ((length, min(held, count)),)))
        count = max(0, count - held)
    return answer
