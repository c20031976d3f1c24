"""A sheet of SVG in the making. Marks carry presentation attributes only, so that paper and screen read the same."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

INK = "#14191B"
INK_2 = "#3F484C"
WATER = "#07565A"
WASH = "#E2EEEC"
RULE = "#7C8589"
TIMBER = "#EFE0BF"
GRAIN = "#6B4E1E"
FONT = "Barlow Semi Condensed, Barlow, sans-serif"

HIDDEN = "6 4"
HIGH = "10 4"
LOW = "3 3"
CHAIN = "1 3.2"

Box = tuple[float, float, float, float]
Point = tuple[float, float]

_NARROW = frozenset(" .,:;'′ijlI|!()")
_SLIM = frozenset('″"1frt-/')
_BROAD = frozenset("mwMW½¼¾")


@dataclass(frozen=True, slots=True)
class Pen:
    """Line weights in px, the ground drawn on, and the two sizes of lettering."""

    cut: float
    outline: float
    thin: float
    hair: float
    ground: str
    figure: float
    note: float


SCREEN = Pen(cut=2.6, outline=1.8, thin=1.15, hair=0.75, ground="#FAF8F1", figure=14, note=13)
PHONE = Pen(cut=2.6, outline=1.8, thin=1.15, hair=0.75, ground="#FAF8F1", figure=13, note=13)
PAPER = Pen(cut=1.9, outline=1.35, thin=0.95, hair=0.5, ground="#FFFFFF", figure=13, note=13)


def n(value: float) -> str:
    """A coordinate to a hundredth, without idle zeros.

    >>> n(12.0), n(0.504), n(-0.001)
    ('12', '0.5', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def text_width(text: str, size: float) -> float:
    """About how wide the lettering sets, in px; errs on the wide side."""
    ems = sum(0.25 if c in _NARROW else 0.38 if c in _SLIM else 0.77 if c in _BROAD else 0.53 for c in text)
    return ems * size


def touches(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _attributes(given: dict[str, object]) -> str:
    return "".join(
        f" {name.rstrip('_').replace('_', '-')}={quoteattr(n(value) if isinstance(value, float) else str(value))}"
        for name, value in given.items()
        if value is not None
    )


@dataclass(slots=True)
class Canvas:
    """Collects marks in drawing order, remembers how far they reach and where lettering stands."""

    pen: Pen
    parts: list[str] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    bounds: list[float] = field(default_factory=lambda: [1e9, 1e9, -1e9, -1e9])

    def reach(self, x0: float, y0: float, x1: float, y1: float) -> None:
        bounds = self.bounds
        bounds[:] = [min(bounds[0], x0), min(bounds[1], y0), max(bounds[2], x1), max(bounds[3], y1)]

    def line(self, start: Point, end: Point, *, width: float, stroke: str = INK, **more: object) -> None:
        (x1, y1), (x2, y2) = start, end
        self.reach(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
        self.parts.append(
            f'<line x1="{n(x1)}" y1="{n(y1)}" x2="{n(x2)}" y2="{n(y2)}" stroke="{stroke}"'
            f' stroke-width="{n(width)}"{_attributes(more)}/>'
        )

    def lines(
        self, segments: Iterable[tuple[Point, Point]], *, width: float, stroke: str = INK, **more: object
    ) -> None:
        """Many strokes alike as one path: a deck of boards is one mark, not eighty."""
        path = []
        for (x1, y1), (x2, y2) in segments:
            self.reach(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
            path.append(f"M{n(x1)} {n(y1)}L{n(x2)} {n(y2)}")
        if path:
            self.path("".join(path), width=width, stroke=stroke, **more)

    def rect(self, box: Box, *, width: float, fill: str = "none", stroke: str = INK, **more: object) -> None:
        x0, y0, x1, y1 = box
        self.reach(*box)
        self.parts.append(
            f'<rect x="{n(x0)}" y="{n(y0)}" width="{n(x1 - x0)}" height="{n(y1 - y0)}" fill="{fill}"'
            f' stroke="{stroke}" stroke-width="{n(width)}"{_attributes(more)}/>'
        )

    def rects(self, boxes: Iterable[Box], *, width: float, fill: str, stroke: str = INK, **more: object) -> None:
        """Many boxes alike as one path."""
        path = []
        for x0, y0, x1, y1 in boxes:
            self.reach(x0, y0, x1, y1)
            path.append(f"M{n(x0)} {n(y0)}H{n(x1)}V{n(y1)}H{n(x0)}Z")
        if path:
            self.path("".join(path), width=width, fill=fill, stroke=stroke, **more)

    def circle(self, centre: Point, radius: float, *, width: float, fill: str = "none", **more: object) -> None:
        x, y = centre
        self.reach(x - radius, y - radius, x + radius, y + radius)
        stroke = more.pop("stroke", INK)
        self.parts.append(
            f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(radius)}" fill="{fill}" stroke="{stroke}"'
            f' stroke-width="{n(width)}"{_attributes(more)}/>'
        )

    def polygon(self, points: Sequence[Point], *, width: float, fill: str, **more: object) -> None:
        self._points(f'<polygon fill="{fill}"', points, width, more)

    def polyline(self, points: Sequence[Point], *, width: float, **more: object) -> None:
        self._points('<polyline fill="none"', points, width, more)

    def _points(self, start: str, points: Sequence[Point], width: float, more: dict[str, object]) -> None:
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        self.reach(min(xs), min(ys), max(xs), max(ys))
        drawn = " ".join(f"{n(x)},{n(y)}" for x, y in points)
        stroke = more.pop("stroke", INK)
        self.parts.append(
            f'{start} points="{drawn}" stroke="{stroke}" stroke-width="{n(width)}"'
            f' stroke-linejoin="round"{_attributes(more)}/>'
        )

    def path(self, d: str, *, width: float, **more: object) -> None:
        """A path whose reach the caller knows to lie within what is already drawn."""
        fill, stroke = more.pop("fill", "none"), more.pop("stroke", INK)
        self.parts.append(
            f'<path d="{d}" fill="{fill}" stroke="{stroke}" stroke-width="{n(width)}"{_attributes(more)}/>'
        )

    def text(self, at: Point, words: str, label: "Lettering") -> None:
        """Letter a line of words; it takes its room on the sheet."""
        box = label.box(at, words)
        self.reach(*box)
        self.taken.append(box)
        x, y = at
        turn = f' transform="rotate(-90 {n(x)} {n(y)})"' if label.upright else ""
        common = (
            f'<text x="{n(x)}" y="{n(y)}" font-family="{FONT}" font-size="{n(label.size)}"'
            f' font-weight="{label.weight}" text-anchor="{label.anchor}"{turn}'
        )
        body = escape(words)
        if label.halo:
            self.parts.append(
                f'{common} fill="{label.halo}" stroke="{label.halo}" stroke-width="5"'
                f' stroke-linejoin="round" aria-hidden="true">{body}</text>'
            )
        self.parts.append(f'{common} fill="{label.fill}">{body}</text>')

    def text_where_free(
        self, spots: Iterable[tuple[Point, "Lettering"]], words: str, *, clear_of: Sequence[Box] = ()
    ) -> bool:
        """Letter the words at the first spot where nothing stands; say whether there was one."""
        for spot, label in spots:
            box = label.box(spot, words)
            if self.is_free(box) and not any(touches(box, other) for other in clear_of):
                self.text(spot, words, label)
                return True
        return False

    def is_free(self, box: Box) -> bool:
        """Whether no lettering stands there."""
        return not any(touches(box, other) for other in self.taken)


@dataclass(frozen=True, slots=True)
class Lettering:
    size: float
    weight: int = 500
    anchor: str = "start"
    fill: str = INK_2
    halo: str = ""
    upright: bool = False

    def box(self, at: Point, words: str) -> Box:
        """The room the words take around their anchor point."""
        x, y = at
        wide = text_width(words, self.size)
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        if self.upright:
            return (x - 0.78 * self.size, y - wide + back, x + 0.22 * self.size, y + back)
        return (x - back, y - 0.78 * self.size, x - back + wide, y + 0.22 * self.size)


@dataclass(frozen=True, slots=True)
class View:
    """Inches onto the sheet: x runs right, y (or z) runs up from `base_px`."""

    scale: float  # px per inch
    left_px: float
    base_px: float

    def x(self, x_in: float) -> float:
        return self.left_px + x_in * self.scale

    def y(self, y_in: float) -> float:
        return self.base_px - y_in * self.scale

    def at(self, x_in: float, y_in: float) -> Point:
        return self.x(x_in), self.y(y_in)

    def box(self, x0_in: float, y0_in: float, x1_in: float, y1_in: float) -> Box:
        return self.x(x0_in), self.y(y1_in), self.x(x1_in), self.y(y0_in)
