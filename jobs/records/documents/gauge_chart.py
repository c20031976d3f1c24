"""A gauge's year in one drawing: percentiles by month, how low and high it went, the season, the site's levels."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor
from xml.sax.saxutils import escape

from contractor.quantities import System, format_level
from estimating.engine.drawing.canvas import n
from estimating.engine.water import Envelope, MonthLevels, Season

INK, INK_2, RULE, WATER, WASH, DEEP, PAPER = "#14191B", "#3F484C", "#B9BFC0", "#07565A", "#E2EEEC", "#BFDAD7", "#FAF8F1"
FACE = "Barlow Semi Condensed, Barlow, sans-serif"
UNIT_IN = {"imperial": 12.0, "metric": 1000 / 25.4}
STEPS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DASHES = {"high": "10 4", "low": "3 3", "storm": "14 5 3 5"}
LABEL_GAP = 17.0


@dataclass(frozen=True, slots=True)
class Chart:
    """What is drawn, levels in inches: months with three percentiles each, the season and what it held, level lines."""

    title: str
    months: Sequence[MonthLevels]
    percents: tuple[float, float, float]
    lines: Sequence[tuple[str, float]]
    season: Season | None
    envelope: Envelope | None
    system: System = "imperial"

    def reach(self) -> tuple[float, float]:
        levels = [level for _, level in self.lines]
        levels += [level for month in self.months for level in (month.lowest_in, month.highest_in)]
        return min(levels), max(levels)


@dataclass(frozen=True, slots=True)
class Size:
    width: float
    height: float
    left: float
    right: float
    every: int  # a month's name at every so many months


WIDE = Size(900, 380, 56, 190, 1)
SMALL = Size(340, 320, 44, 96, 3)


def draw_gauge_chart(chart: Chart, *, size: Size, name: str, kind: str) -> str:
    """The chart as SVG; empty where the gauge has no reading. `name` makes its ids unique, `kind` is its class."""
    if not chart.months:
        return ""
    scale = _Scale.of(chart, size)
    parts = [_grid(scale), _bands(chart, scale), _season(chart, scale), _median(chart, scale), *_lines(chart, scale)]
    return (
        f'<svg class="dwg {kind}" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {n(size.width)} {n(size.height)}" '
        f'width="{n(size.width)}" height="{n(size.height)}" role="img" aria-labelledby="{name}-t {name}-d">'
        f'<title id="{name}-t">{escape(chart.title)}</title><desc id="{name}-d">{escape(_described(chart))}</desc>'
        f"{''.join(parts)}</svg>"
    )


@dataclass(frozen=True, slots=True)
class _Scale:
    size: Size
    bottom: float  # in shop units
    top: float
    step: float
    unit_in: float

    @classmethod
    def of(cls, chart: Chart, size: Size) -> "_Scale":
        unit_in = UNIT_IN[chart.system]
        low, high = (level / unit_in for level in chart.reach())
        step = next((step for step in STEPS if (high - low) / step <= 6), STEPS[-1])
        bottom = floor(low / step + 1e-9) * step
        top = max(ceil(high / step - 1e-9) * step, bottom + step)
        return cls(size, bottom, top, step, unit_in)

    def x(self, month: float) -> float:
        """From 1, the beginning of January, to 13, the end of December."""
        return self.size.left + (month - 1) / 12 * (self.size.width - self.size.left - self.size.right)

    def y(self, level: float) -> float:
        foot, head = self.size.height - 34, 14
        return foot - (level - self.bottom) / (self.top - self.bottom) * (foot - head)

    def y_of_in(self, level_in: float) -> float:
        return self.y(level_in / self.unit_in)


def _grid(scale: _Scale) -> str:
    size, parts = scale.size, []
    for count in range(round((scale.top - scale.bottom) / scale.step) + 1):
        level = scale.bottom + count * scale.step
        y = scale.y(level)
        parts.append(_line((size.left, y), (scale.x(13), y), RULE, 0.75))
        parts.append(_text((size.left - 8, y + 5), f"{round(level, 2):g}", INK_2, "end", weight=500))
    for month in range(0, 12, size.every):
        parts.append(_text((scale.x(month + 1.5), size.height - 10), MONTHS[month], INK_2, "middle", weight=500))
    return "".join(parts)


def _bands(chart: Chart, scale: _Scale) -> str:
    parts = []
    for month in chart.months:
        x0, x1 = scale.x(month.month) + 1, scale.x(month.month + 1) - 1
        low, _, high = month.levels_in
        for lowest, highest, fill in ((month.lowest_in, month.highest_in, WASH), (low, high, DEEP)):
            top, foot = scale.y_of_in(highest), scale.y_of_in(lowest)
            tall = max(foot - top, 1.0)
            parts.append(f'<rect x="{n(x0)}" y="{n(top)}" width="{n(x1 - x0)}" height="{n(tall)}" fill="{fill}"/>')
    return "".join(parts)


def _median(chart: Chart, scale: _Scale) -> str:
    return "".join(
        _line((scale.x(month.month) + 1, y), (scale.x(month.month + 1) - 1, y), WATER, 2.6)
        for month in chart.months
        for y in [scale.y_of_in(month.levels_in[1])]
    )


def _season(chart: Chart, scale: _Scale) -> str:
    """The season's lowest and highest as a bracket over its part of the year, in two pieces over New Year."""
    if chart.season is None or chart.envelope is None:
        return ""
    first, last = (scale.x(_place(*day)) for day in (chart.season.first, chart.season.last))
    whole = scale.x(1), scale.x(13)
    spans = [(first, last)] if first <= last else [(whole[0], last), (first, whole[1])]
    top, foot = scale.y_of_in(chart.envelope.highest_in), scale.y_of_in(chart.envelope.lowest_in)
    return "".join(
        f'<rect x="{n(a)}" y="{n(top)}" width="{n(b - a)}" height="{n(max(foot - top, 1.0))}" fill="none" '
        f'stroke="{INK}" stroke-width="1.15" stroke-dasharray="6 4"/>'
        for a, b in spans
    )


def _lines(chart: Chart, scale: _Scale) -> list[str]:
    ordered = sorted(chart.lines, key=lambda line: -line[1])
    ys = [scale.y_of_in(level) for _, level in ordered]
    end = scale.x(13)
    parts = []
    for (word, level), y, label_y in zip(ordered, ys, _apart(ys), strict=True):
        width = 1.8 if word == "normal" else 1.15
        parts.append(_line((scale.size.left, y), (end + 8, y), INK, width, DASHES.get(word, "")))
        said = f"{word.capitalize()} {format_level(level, chart.system).rsplit(' ', 1)[0]}"
        parts.append(_text((end + 13, label_y + 5), said, INK, "start"))
    return parts


def _apart(ys: list[float]) -> list[float]:
    placed: list[float] = []
    for y in ys:
        placed.append(max(y, placed[-1] + LABEL_GAP) if placed else y)
    return placed


def _place(month: int, day: int) -> float:
    start = date(2024, month, 1)
    days = (date(2024 + month // 12, month % 12 + 1, 1) - start).days
    return month + (day - 1) / days


def _described(chart: Chart) -> str:
    low, _, high = chart.percents
    months = "; ".join(
        f"{MONTHS[month.month - 1]} {' to '.join(format_level(level, chart.system) for level in month.levels_in[::2])}"
        for month in chart.months
    )
    lines = "".join(f" {word.capitalize()} {format_level(level, chart.system)}." for word, level in chart.lines)
    return f"Percentiles {low:g} and {high:g} by month: {months}.{lines}"


def _line(start: tuple[float, float], end: tuple[float, float], colour: str, width: float, dash: str = "") -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{n(start[0])}" y1="{n(start[1])}" x2="{n(end[0])}" y2="{n(end[1])}" stroke="{colour}" '
        f'stroke-width="{width}"{dashes}/>'
    )


def _text(at: tuple[float, float], words: str, colour: str, anchor: str, *, weight: int = 600) -> str:
    return (
        f'<text x="{n(at[0])}" y="{n(at[1])}" font-family="{FACE}" font-size="14" font-weight="{weight}" '
        f'text-anchor="{anchor}" fill="{colour}">{escape(words)}</text>'
    )
