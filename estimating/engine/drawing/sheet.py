"""Composes the sheet: picks a scale, stacks plan over elevation on one x axis, adds the scale bar and the words."""

from dataclasses import dataclass, replace
from xml.sax.saxutils import escape

from estimating.engine.drawing import symbols, words
from estimating.engine.drawing.canvas import PAPER, PHONE, SCREEN, Canvas, View
from estimating.engine.drawing.elevation import LADDER_ABOVE_IN, Side, draw_elevation
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.ground import UNKNOWN_BELOW_IN, Ground, survey
from estimating.engine.drawing.paper_scale import bar_steps
from estimating.engine.drawing.plan import Plan, draw_plan, letter_plan
from estimating.engine.drawing.plan_dimensions import dimension_plan
from estimating.engine.drawing.scene import Scene, Trim, stage
from estimating.engine.reasons import plain
from estimating.engine.result import Design

PX_PER_INCH_OF_PAPER = 96.0
FEET_SCALES = ("3/4", "1/2", "3/8", "1/4", "3/16", "1/8", "3/32", "1/16", "1/32")
FEET_TO_THE_INCH = (40, 50, 60, 80, 100, 200)
METRIC_SCALES = (10, 20, 25, 40, 50, 75, 100, 150, 200, 250, 400, 500, 1000)
EDGE = 12.0
PAD_PX = 64.0
PAPER_PAD_PX = 30.0
BETWEEN_PX = 58.0
LETTERED_PX = 150.0
TALLEST = 0.85
LEAST_SCALE = 0.02
BLEED = 2.0
FINE_BELOW = 0.45  # px per inch: under this the usual weights would run together


@dataclass(frozen=True, slots=True)
class Sheet:
    """How the drawing is wanted. `width_px` is CSS px; style is "screen" or "paper"; `wide` False gives the phone's.

    On paper the scale is a standard one, the largest that fits the width (and `max_height_px` where given).
    `metric` chooses metric scales and bar; the figures themselves come from `speak`.
    """

    width_px: float
    speak: Speak = plain
    style: str = "screen"
    prefix: str = "dwg"
    wide: bool = True
    metric: bool = False
    max_height_px: float | None = None
    trims: tuple[Trim, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    svg: str
    scale_words: str  # empty on screen
    width_px: float
    height_px: float


def plan_and_elevation(design: Design, **wanted: object) -> str:
    """Plan over side elevation as one SVG; takes the fields of `Sheet` by name."""
    return draw(design, Sheet(**wanted)).svg


def draw(design: Design, sheet: Sheet) -> Drawing:
    """Draw a design to scale. Every mark lies inside the viewBox; ids start with the sheet's prefix."""
    scene = stage(design, sheet.trims)
    layout = _Layout(design, scene, sheet)
    scale = layout.first_scale()
    for _ in range(6):
        canvas = layout.compose(scale)
        smaller = layout.next_scale(canvas, scale)
        if smaller is None:
            break
        scale = smaller
    return layout.finish(canvas, scale)


@dataclass(frozen=True, slots=True)
class _Layout:
    design: Design
    scene: Scene
    sheet: Sheet

    # How big

    def first_scale(self) -> float:
        left, right = self._margins()
        wide_in = self.scene.x1 - min(self.scene.x0, self._ramp_x())
        fit = (self.sheet.width_px - left - right) / wide_in
        tall_in = self._top_y() - self.scene.y0 + self._highest_z() - self._floor_z()
        room = (self.sheet.max_height_px or TALLEST * self.sheet.width_px) - LETTERED_PX
        return self._standard(max(LEAST_SCALE, min(fit, max(room, 60.0) / tall_in)))

    def next_scale(self, canvas: Canvas, scale: float) -> float | None:
        """A smaller scale when something stands outside the sheet, else None."""
        x0, y0, x1, y1 = canvas.bounds
        over = max(x1 - x0 + 2 * BLEED - self.sheet.width_px, 0.0)
        if self.sheet.max_height_px:
            over = max(over, y1 - y0 + 2 * EDGE - self.sheet.max_height_px)
        if over <= 0.01 or scale <= LEAST_SCALE:
            return None
        shrunk = scale * max(0.5, 1 - over / self.sheet.width_px) * 0.99
        return self._standard(max(LEAST_SCALE, shrunk))

    def _standard(self, scale: float) -> float:
        if self.sheet.style != "paper":
            return scale
        return next((s for s, _ in self._standards() if s <= scale + 1e-9), scale)

    def _standards(self) -> list[tuple[float, str]]:
        """Standard paper scales, px per inch of dock, largest first, with their words."""
        if self.sheet.metric:
            return [(PX_PER_INCH_OF_PAPER / s, f"1:{s} at full size") for s in METRIC_SCALES]
        close = [(_fraction(s) * PX_PER_INCH_OF_PAPER / 12, f"{s} inch to the foot at full size") for s in FEET_SCALES]
        far = [(PX_PER_INCH_OF_PAPER / 12 / s, f"1 inch to {s} feet at full size") for s in FEET_TO_THE_INCH]
        return close + far

    # Where

    def _margins(self) -> tuple[float, float]:
        shore = self.scene.walk is not None and self.scene.walk.edge == "shore"
        if not self.sheet.wide:
            return EDGE + (14 if shore else 16), 78.0
        if self.sheet.style == "paper":
            return EDGE + (PAPER_PAD_PX if shore else 48.0), 158.0
        return EDGE + (PAD_PX if shore else 48.0), 207.0

    def _water_px(self) -> float:
        """How far the water runs on past the dock."""
        if not self.sheet.wide:
            return 8.0
        return 54.0 if self.sheet.style == "paper" else 97.0

    def _ramp_x(self) -> float:
        return self.scene.walk.box[0] if self.scene.walk else self.scene.x0

    def _top_y(self) -> float:
        return max(self.scene.y1, self.scene.walk.box[3]) if self.scene.walk else self.scene.y1

    def _bottom_y(self) -> float:
        return min(self.scene.y0, self.scene.walk.box[1]) if self.scene.walk else self.scene.y0

    def _highest_z(self) -> float:
        scene = self.scene
        decks = [max(d.near_z(d.x0), d.near_z(d.x1)) for d in scene.decks]
        ladder = LADDER_ABOVE_IN if any(a.symbol == "ladder" for a in self.design.accessories) else 0
        high = max((level.z for level in scene.levels), default=0.0)
        hinge = scene.walk.hinge_z if scene.walk else 0.0
        bank = scene.bank_z if scene.shore_x is not None else 0.0
        return max(max(decks) + max(ladder, high), hinge, bank)

    def _floor_z(self) -> float:
        """How far down the drawing goes: the bottom, or a cut below the floats where the water is deep."""
        scene = self.scene
        low = min((level.z for level in scene.levels), default=0.0)
        under = [
            deck.near_z(f.x_in) - deck.deck_in - deck.frame_in - f.height_in
            for deck in scene.decks
            for f in self.design.floats
            if f.section == deck.mark
        ]
        needed = min([low - 6.0, *under])
        if not scene.bottom:
            return needed - UNKNOWN_BELOW_IN
        deepest = min(z for _, z in scene.bottom)
        return max(deepest, min(needed - 24.0, -0.45 * (scene.x1 - self._ramp_x())))

    # The marks

    def compose(self, scale: float) -> Canvas:
        sheet, scene = self.sheet, self.scene
        pen = PAPER if sheet.style == "paper" else SCREEN if sheet.wide else PHONE
        canvas = Canvas(replace(pen, cut=1.7, outline=1.2, thin=0.8, hair=0.5) if scale < FINE_BELOW else pen)
        left, right = self._margins()
        span = (scene.x1 - self._ramp_x()) * scale
        spare = max(0.0, sheet.width_px - left - right - span)
        start = left + spare / 2 - self._ramp_x() * scale
        view = View(scale, start, self._top_y() * scale)
        plan = Plan(canvas, view, scene, self.design, sheet.speak, sheet.wide, left - EDGE)
        draw_plan(plan)
        dimension_plan(plan)
        letter_plan(plan)
        self._elevate(canvas, view)
        return canvas

    def _elevate(self, canvas: Canvas, plan_view: View) -> None:
        scene, sheet = self.scene, self.sheet
        below = max(canvas.bounds[3] + 22, plan_view.y(self._bottom_y()) + (BETWEEN_PX if sheet.wide else 40))
        view = replace(plan_view, base_px=below + self._highest_z() * plan_view.scale)
        left_px, _ = self._margins()
        from_x = (view.x(self._ramp_x()) - left_px + EDGE - view.left_px) / view.scale
        to_x = (view.x(scene.x1) + self._water_px() - view.left_px) / view.scale
        ground = survey(scene, from_x, to_x, self._floor_z())
        draw_elevation(Side(canvas, view, scene, self.design, ground, sheet.speak, sheet.wide))
        self._scale_bar(canvas, view, ground)

    def _scale_bar(self, canvas: Canvas, view: View, ground: Ground) -> None:
        """Bottom left, under the bank where there is one, clear of the ground line and of all lettering."""
        step_in, marks = bar_steps(view.scale, metric=self.sheet.metric)
        lowest, x = canvas.bounds[3], view.x(self._ramp_x()) - self._margins()[0] + EDGE
        reach_in = 4 * step_in + 24 / view.scale
        under = min(ground.z_at(ground.from_x + reach_in * part / 8) for part in range(9))
        y = max(lowest - 8, view.y(under) + 34) if self.scene.shore_x is not None else lowest + 26
        while not canvas.is_free((x, y - 18, x + 4 * step_in * view.scale + 20, y + 6)):
            y += 4
        symbols.scale_bar(canvas, (x, y), step_in * view.scale, marks)

    # The wrapping

    def finish(self, canvas: Canvas, scale: float) -> Drawing:
        sheet, (x0, y0, x1, y1) = self.sheet, canvas.bounds
        top, height = y0 - 10, y1 - y0 + 20
        left = min(max(0.0, x1 + BLEED - sheet.width_px), x0 - BLEED)
        width = max(sheet.width_px, x1 + BLEED - left)
        prefix = sheet.prefix
        kind = ("wide" if sheet.wide else "small") if sheet.style == "screen" else "wide"
        head = (
            f'<svg class="dwg {kind}" xmlns="http://www.w3.org/2000/svg"'
            f' viewBox="{left:.2f} {top:.2f} {width:.2f} {height:.2f}" width="{width:.2f}" height="{height:.2f}"'
            f' role="img" aria-labelledby="{prefix}-title {prefix}-desc" data-scale="{scale:.6f}">'
            f'<title id="{prefix}-title">{escape(words.title_of(self.design))}</title>'
            f'<desc id="{prefix}-desc">{escape(words.description_of(self.design, self.scene, sheet.speak))}</desc>'
        )
        return Drawing(f"{head}{''.join(canvas.parts)}</svg>", self._scale_words(scale), width, height)

    def _scale_words(self, scale: float) -> str:
        if self.sheet.style != "paper":
            return ""
        return next((said for s, said in self._standards() if abs(s - scale) < 1e-6), "not to a standard scale")


def _fraction(text: str) -> float:
    over, under = text.split("/")
    return int(over) / int(under)
