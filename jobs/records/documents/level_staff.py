"""The site's water levels drawn on a staff, as one would read them standing in the lake."""

from dataclasses import dataclass
from math import ceil, floor
from xml.sax.saxutils import escape

from contractor.quantities import System, format_level

INK, INK_2, WATER, WASH, PAPER = "#14191B", "#3F484C", "#07565A", "#E2EEEC", "#FAF8F1"
FACE = "Barlow Semi Condensed, Barlow, sans-serif"
UNIT_IN = {"imperial": 12.0, "metric": 1000 / 25.4}
STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)
WIDTH, HEIGHT, TOP_Y, FOOT_Y = 300, 300, 14, 290
STAFF_X, STAFF_RIGHT, LABEL_GAP = 70, 94, 17


@dataclass(frozen=True, slots=True)
class Staff:
    """Levels in inches on one datum; None is unknown. `reading` is the last one on that datum, with its words."""

    datum: str
    low_in: float | None = None
    normal_in: float | None = None
    high_in: float | None = None
    storm_in: float | None = None
    hinge_in: float | None = None
    reading_in: float | None = None
    reading_words: str = ""
    system: System = "imperial"

    def known(self) -> list[float]:
        levels = (self.low_in, self.normal_in, self.high_in, self.storm_in, self.hinge_in, self.reading_in)
        return [level for level in levels if level is not None]


def draw_level_staff(staff: Staff, *, name: str) -> str:
    """The drawing as SVG; empty if no level is known. `name` makes its ids unique on the page."""
    known = staff.known()
    if not known:
        return ""
    scale = _Scale.around(known, UNIT_IN[staff.system])
    parts = [
        _water(staff, scale),
        _staff(scale),
        *_level_lines(staff, scale),
        *_marks(staff, scale),
    ]
    return (
        f'<svg class="dwg" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" '
        f'height="{HEIGHT}" role="img" aria-labelledby="{name}-t {name}-d"><title id="{name}-t">'
        f"{escape(f'Water levels on {staff.datum}' if staff.datum else 'Water levels')}</title>"
        f'<desc id="{name}-d">{escape(_described(staff))}</desc>{"".join(parts)}</svg>'
    )


@dataclass(frozen=True, slots=True)
class _Scale:
    bottom: float  # in shop units
    top: float
    step: float
    unit_in: float

    @classmethod
    def around(cls, levels_in: list[float], unit_in: float) -> "_Scale":
        low, high = min(levels_in) / unit_in, max(levels_in) / unit_in
        step = next((step for step in STEPS if (high - low) / step <= 7), STEPS[-1])
        bottom = (floor(low / step + 1e-9) - 1) * step
        return cls(bottom, (ceil(high / step - 1e-9) + 0.5) * step, step, unit_in)

    def y(self, level: float) -> float:
        return round(FOOT_Y - (level - self.bottom) / (self.top - self.bottom) * (FOOT_Y - TOP_Y), 2)

    def y_of_in(self, level_in: float) -> float:
        return self.y(level_in / self.unit_in)


def _water(staff: Staff, scale: _Scale) -> str:
    surface = staff.reading_in if staff.reading_in is not None else staff.normal_in
    if surface is None:
        return ""
    top = scale.y_of_in(surface)
    parts = [f'<rect x="{STAFF_X}" y="{top}" width="230" height="{HEIGHT - 6 - top:.2f}" fill="{WASH}"/>']
    y, gap, dash = top + 14, 16.0, 26
    while y < FOOT_Y and dash > 4:
        parts.append(_line((104, y), (296, y), _Pen(WATER, 0.75, f"{dash} {38 - dash // 2}")))
        y, gap, dash = y + gap, gap * 1.35, dash - 5
    return "".join(parts)


def _staff(scale: _Scale) -> str:
    parts = [
        f'<rect x="{STAFF_X}" y="{TOP_Y}" width="24" height="{FOOT_Y - TOP_Y}" fill="#FFFFFF" '
        f'stroke="{INK}" stroke-width="1.8"/>'
    ]
    tenth = scale.step / 10
    for block in range(round((scale.top - scale.bottom) / tenth)):
        level = scale.bottom + block * tenth
        if block % 2 and block % 10 != 9:
            upper, lower = scale.y(level + tenth), scale.y(level)
            parts.append(f'<rect x="82" y="{upper}" width="12" height="{lower - upper:.2f}" fill="{INK}"/>')
    for count in range(int((scale.top - scale.bottom) / scale.step) + 1):
        level = scale.bottom + count * scale.step
        parts.append(_line((STAFF_X, scale.y(level)), (STAFF_RIGHT, scale.y(level)), _Pen(INK, 1.15)))
        parts.append(_text((62, scale.y(level) + 5), f"{round(level, 2):g}", INK_2, "end", look='font-weight="500"'))
    return "".join(parts)


def _level_lines(staff: Staff, scale: _Scale) -> list[str]:
    rows = (
        ("Storm", staff.storm_in, 1.15, "14 5 3 5"),
        ("High", staff.high_in, 1.15, "10 4"),
        ("Normal", staff.normal_in, 1.8, ""),
        ("Low", staff.low_in, 1.15, "3 3"),
    )
    known = [(word, level, width, dash) for word, level, width, dash in rows if level is not None]
    ys = [scale.y_of_in(level) for _, level, _, _ in known]
    parts = []
    for (word, level, width, dash), y, label_y in zip(known, ys, _apart(ys), strict=True):
        parts.append(_line((STAFF_RIGHT, y), (216, y), _Pen(WATER, width, dash)))
        parts.append(_halo_text((296, label_y + 5), f"{word} {_figure(level, staff.system)}", WATER, "end"))
    return parts


def _marks(staff: Staff, scale: _Scale) -> list[str]:
    parts = []
    if staff.hinge_in is not None:
        y = scale.y_of_in(staff.hinge_in)
        parts.append(_line((STAFF_RIGHT, y), (128, y), _Pen(INK_2, 0.75)))
        parts.append(_halo_text((132, y + 5), f"ramp hinge {_figure(staff.hinge_in, staff.system)}", INK_2, "start"))
    if staff.reading_in is not None:
        y = scale.y_of_in(staff.reading_in)
        parts.append(_line((STAFF_X - 2, y), (150, y), _Pen(WATER, 1.8)))
        parts.append(
            f'<polygon points="102,{y - 9:.2f} 114,{y - 9:.2f} 108,{y}" fill="{PAPER}" stroke="{WATER}" '
            'stroke-width="1.15" stroke-linejoin="round"/>'
        )
        words = f"{_figure(staff.reading_in, staff.system)} {staff.reading_words}".strip()
        parts.append(_halo_text((120, y - 4), words, INK, "start"))
    return parts


def _apart(ys: list[float]) -> list[float]:
    """Label heights, top first, pushed down where two would touch."""
    placed: list[float] = []
    for y in ys:
        placed.append(max(y, placed[-1] + LABEL_GAP) if placed else y)
    return placed


def _described(staff: Staff) -> str:
    rows = (
        ("low", staff.low_in),
        ("normal", staff.normal_in),
        ("high", staff.high_in),
        ("storm", staff.storm_in),
        ("ramp hinge", staff.hinge_in),
        ("last reading", staff.reading_in),
    )
    said = ", ".join(f"{word} {format_level(level, staff.system)}" for word, level in rows if level is not None)
    return f"{said[:1].upper()}{said[1:]}."


def _figure(level_in: float, system: System) -> str:
    return format_level(level_in, system).rsplit(" ", 1)[0]


@dataclass(frozen=True, slots=True)
class _Pen:
    colour: str
    width: float
    dash: str = ""


def _line(start: tuple[float, float], end: tuple[float, float], pen: _Pen) -> str:
    dashes = f' stroke-dasharray="{pen.dash}"' if pen.dash else ""
    return (
        f'<line x1="{start[0]:g}" y1="{start[1]:g}" x2="{end[0]:g}" y2="{end[1]:g}" stroke="{pen.colour}" '
        f'stroke-width="{pen.width}"{dashes}/>'
    )


def _text(at: tuple[float, float], words: str, colour: str, anchor: str, *, look: str = 'font-weight="600"') -> str:
    return (
        f'<text x="{at[0]:g}" y="{at[1]:g}" font-family="{FACE}" font-size="14" text-anchor="{anchor}" '
        f'fill="{colour}" {look}>{escape(words)}</text>'
    )


def _halo_text(at: tuple[float, float], words: str, colour: str, anchor: str) -> str:
    halo = f'font-weight="600" stroke="{PAPER}" stroke-width="5" stroke-linejoin="round"'
    return _text(at, words, PAPER, anchor, look=halo) + _text(at, words, colour, anchor)
