"""A supplier's prices over time as a small drawing: steps, since a price holds until the next one."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from html import escape

from contractor.money import format_money
from estimating.catalogue.values import say_day

HEIGHT, LEFT, TOP, BOTTOM = 190, 8, 18, 34
WIDE, NAMES_WIDE = 560, 150
SMALL, NAMES_SMALL = 318, 112  # a second drawing for the phone, never the first one shrunk
INK, SECOND, RULE = "#14191B", "#3F484C", "#7C8589"
DASHES = ("", "7 4", "2 3", "11 3 2 3")
FONT = 'font-family="Barlow Semi Condensed, Barlow, sans-serif" font-size="14"'


@dataclass(frozen=True)
class PriceLine:
    """One supplier's prices, the earliest first."""

    name: str
    points: tuple[tuple[date, Decimal], ...]


def draw_price_lines(lines: Sequence[PriceLine], *, until: date, title: str, small: bool = False) -> str:
    """The drawing as SVG; empty when there is nothing that changes over time to show."""
    points = [point for line in lines for point in line.points]
    if len({day for day, _ in points}) < 2:
        return ""
    scale = _Scale(points, until, SMALL - NAMES_SMALL if small else WIDE - NAMES_WIDE)
    width, name = (SMALL, "small") if small else (WIDE, "wide")
    names = _names(lines, scale, 12 if small else 16)
    parts = [_frame(scale, small), *(_line(line, place, scale) for place, line in enumerate(lines)), *names]
    said = "; ".join(f"{line.name}: {_said(line)}" for line in lines)
    return (
        f'<svg class="dwg {name}" viewBox="0 0 {width} {HEIGHT}" width="{width}" role="img" '
        f'aria-labelledby="{name}-t {name}-d"><title id="{name}-t">{escape(title)}</title>'
        f'<desc id="{name}-d">{escape(said)}</desc>{"".join(parts)}</svg>'
    )


class _Scale:
    """Days to the right, amounts upward from a little under the lowest."""

    def __init__(self, points: list[tuple[date, Decimal]], until: date, right: int) -> None:
        self.right = right
        days, amounts = zip(*points, strict=True)
        self.first, self.last = min(days), max(*days, until)
        self.low, self.high = float(min(amounts)), float(max(amounts))
        room = (self.high - self.low) * 0.15 or self.high * 0.1
        self._from, self._to = self.low - room, self.high + room

    def x(self, day: date) -> float:
        share = (day - self.first).days / max((self.last - self.first).days, 1)
        return round(LEFT + share * (self.right - LEFT), 1)

    def y(self, amount: float | Decimal) -> float:
        share = (float(amount) - self._from) / (self._to - self._from)
        return round(HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM), 1)


def _frame(scale: _Scale, small: bool) -> str:
    base = HEIGHT - BOTTOM
    right = scale.x(scale.last)
    said = (lambda day: f"{day:%b %Y}") if small else say_day
    ends = ((scale.first, "start", LEFT), (scale.last, "end", right))
    days = "".join(
        f'<path d="M{x - 4} {base + 4}l8 -8" stroke="{INK}" stroke-width="1.15"/>'
        f'<text x="{x}" y="{base + 22}" text-anchor="{anchor}" fill="{SECOND}" {FONT}>{said(day)}</text>'
        for day, anchor, x in ends
    )
    return f'<path d="M{LEFT} {base}H{right}" stroke="{INK}" stroke-width="1.15" fill="none"/>{days}'


def _line(line: PriceLine, place: int, scale: _Scale) -> str:
    start, first = line.points[0]
    path = f"M{scale.x(start)} {scale.y(first)}" + "".join(
        f"H{scale.x(day)}V{scale.y(amount)}" for day, amount in line.points[1:]
    )
    path += f"H{scale.x(scale.last)}"
    dash = DASHES[place % len(DASHES)]
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    dots = "".join(
        f'<circle cx="{scale.x(day)}" cy="{scale.y(amount)}" r="2.6" fill="{INK}"/>' for day, amount in line.points
    )
    return f'<path d="{path}" fill="none" stroke="{INK}" stroke-width="1.8"{dashed}/>{dots}'


def _names(lines: Sequence[PriceLine], scale: _Scale, longest: int) -> list[str]:
    """The last price and its supplier beside the end of each line, kept apart where lines end close together."""
    x = scale.x(scale.last) + 10
    ends = sorted(((scale.y(line.points[-1][1]), line) for line in lines), key=lambda end: end[0])
    texts, lowest = [], 0.0
    for y, line in ends:
        lowest = max(y + 4, lowest + 17)
        amount = format_money(line.points[-1][1])
        texts.append(
            f'<text x="{x}" y="{lowest:.1f}" fill="{INK}" {FONT}><tspan font-weight="600">{amount}</tspan> '
            f"{escape(_short(line.name, longest))}</text>"
        )
    return texts


def _short(name: str, longest: int) -> str:
    return name if len(name) <= longest else f"{name[: longest - 1]}…"


def _said(line: PriceLine) -> str:
    return ", ".join(f"{format_money(amount)} on {say_day(day)}" for day, amount in line.points)
