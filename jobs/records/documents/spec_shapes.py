"""The usual shapes of a dock: from a few sizes to sections and joints, and back again.

All lengths in inches; x from shore to lake, y to the left. The main walk starts at the shore with its right edge at
y 0. Long runs are split into equal sections that can still be moved: up to 16 ft (5 m) unless a count is asked for.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from math import ceil

from contractor.company.letters import revision_letter
from contractor.quantities import parse_length
from estimating.engine.outline import box_of, near_pairs, shared_line
from estimating.engine.spec import DockSpec, Joint, Section

SECTION_UP_TO_IN = 197.0  # 16 ft, or 5 m
SAME_IN = 1e-6
FREE = "free"


@dataclass(frozen=True, slots=True)
class Sizes:
    """What somebody types to describe a dock of a usual shape; what the shape has no use for stays as it is."""

    shape: str = "straight"
    width_in: float = 72.0
    length_in: float = 192.0
    count: int | None = None  # sections of the main run; None: as few as can be moved
    leg_length_in: float = 144.0
    leg_width_in: float = 72.0
    leg_side: str = "right"
    head_length_in: float = 192.0
    head_width_in: float = 72.0
    fingers: int = 2  # on each side that has them
    finger_length_in: float = 192.0
    finger_width_in: float = 48.0
    finger_sides: str = "both"
    from_shore_in: float = 600.0


def usual_sizes(units: str) -> Sizes:
    """What each size starts with, in round figures of these units."""
    lengths = {name: value for name, value in asdict(Sizes()).items() if name.endswith("_in")}
    return replace(Sizes(), **{name: rounded(value, units) for name, value in lengths.items()})


def rounded(length_in: float, units: str) -> float:
    """A size to start from in round figures: in metres up to the next 0.1 m, so that the same floats fit in."""
    if units != "metric":
        return length_in
    tenths = ceil(length_in * 0.254)
    return parse_length(f"{tenths // 10}.{tenths % 10} m")


@dataclass(frozen=True, slots=True)
class Laid:
    """A section with the sizes that made its length and its width, and the run it is part of."""

    section: Section
    length_from: str
    width_from: str
    run: str


@dataclass(frozen=True, slots=True)
class Spot:
    x_in: float
    y_in: float
    turned: bool = False


def lay_out(sizes: Sizes) -> tuple[Laid, ...]:
    """The sections of a usual shape, marked in building order. Raises KeyError for a shape that is none of them."""
    laid = _SHAPES[sizes.shape](sizes)
    marked = enumerate(laid, start=1)
    return tuple(replace(one, section=replace(one.section, mark=revision_letter(n))) for n, one in marked)


def touching(sections: Sequence[Section]) -> list[tuple[str, str]]:
    """The pairs of sections whose edges meet, each named in building order."""
    boxes = [box_of(section) for section in sections]
    pairs = sorted((i, j) for i, j in near_pairs(boxes) if shared_line(boxes[i], boxes[j]) is not None)
    return [(sections[i].mark, sections[j].mark) for i, j in pairs]


def usual_joints(laid: Sequence[Laid]) -> tuple[Joint, ...]:
    """Hinged along a run, bolted rigid where another run begins and within a head. Source: common practice."""
    run_of = {one.section.mark: one.run for one in laid}
    return tuple(
        Joint(first, second, "hinged" if run_of[first] == run_of[second] != "head" else "rigid")
        for first, second in touching([one.section for one in laid])
    )


def recognise(spec: DockSpec) -> Sizes | None:
    """The sizes that lay out exactly these sections; None for a dock placed section by section."""
    for guess in _GUESSES:
        sizes = guess(spec.sections)
        if sizes is not None and _lays_out(sizes, spec.sections):
            bare = replace(sizes, count=None)
            return bare if _lays_out(bare, spec.sections) else sizes
    return None


def keep_exact(section: Section, saved: Sequence[Section]) -> Section:
    """The section with the very numbers it was saved with, where they are the same to a millionth of an inch."""
    before = next((s for s in saved if s.mark == section.mark), None)
    if before is None or before.turned != section.turned or not _same_place(before, section):
        return section
    return replace(section, length_in=before.length_in, width_in=before.width_in, x_in=before.x_in, y_in=before.y_in)


# Laying out


def _split(length_in: float, count: int | None = None) -> list[tuple[float, float]]:
    """Where each section of a run starts, and its length."""
    parts = count or max(1, ceil(length_in / SECTION_UP_TO_IN - 1e-9))
    each = length_in / parts
    return [(each * n, each) for n in range(parts)]


def _run(
    name: str, sizes: tuple[str, str], parts: Sequence[tuple[float, float]], width_in: float, at: Callable[..., Spot]
) -> Iterator[Laid]:
    for start, length in parts:
        place = at(start, length)
        section = Section("", length, width_in, x_in=place.x_in, y_in=place.y_in, turned=place.turned)
        yield Laid(section, *sizes, name)


def _main(sizes: Sizes) -> list[Laid]:
    parts = _split(sizes.length_in, sizes.count)
    return list(_run("main", ("length", "width"), parts, sizes.width_in, lambda start, _: Spot(start, 0.0)))


def _ell(sizes: Sizes) -> list[Laid]:
    x = sizes.length_in - sizes.leg_width_in

    def at(start: float, length: float) -> Spot:
        y = sizes.width_in + start if sizes.leg_side == "left" else -start - length
        return Spot(x, y, turned=True)

    leg = _run("leg", ("leg_length", "leg_width"), _split(sizes.leg_length_in), sizes.leg_width_in, at)
    return [*_main(sizes), *leg]


def _tee(sizes: Sizes) -> list[Laid]:
    foot = sizes.width_in / 2 - sizes.head_length_in / 2
    head = _run(
        "head",
        ("head_length", "head_width"),
        _split(sizes.head_length_in),
        sizes.head_width_in,
        lambda start, _: Spot(sizes.length_in, foot + start, turned=True),
    )
    return [*_main(sizes), *head]


def _ewe(sizes: Sizes) -> list[Laid]:
    back = _run(
        "main",
        ("length", "width"),
        _split(sizes.length_in, sizes.count),
        sizes.width_in,
        lambda start, _: Spot(0.0, start, turned=True),
    )
    laid = list(back)
    for side, y in (("right leg", 0.0), ("left leg", sizes.length_in - sizes.leg_width_in)):
        parts = _split(sizes.leg_length_in)
        laid += _run(
            side,
            ("leg_length", "leg_width"),
            parts,
            sizes.leg_width_in,
            lambda start, _, y=y: Spot(sizes.width_in + start, y),
        )
    return laid


def _fingered(sizes: Sizes) -> list[Laid]:
    """Fingers from the lake end inward, evenly along the main walk."""
    laid = _main(sizes)
    pitch = sizes.length_in / sizes.fingers
    sides = ("left", "right") if sizes.finger_sides == "both" else (sizes.finger_sides,)
    for n in range(sizes.fingers):
        x = sizes.length_in - sizes.finger_width_in - n * pitch
        for side in sides:

            def at(start: float, length: float, x: float = x, side: str = side) -> Spot:
                return Spot(x, sizes.width_in + start if side == "left" else -start - length, turned=True)

            parts = _split(sizes.finger_length_in)
            sized_by = ("finger_length", "finger_width")
            laid += _run(f"finger {n} {side}", sized_by, parts, sizes.finger_width_in, at)
    return laid


def _platform(sizes: Sizes) -> list[Laid]:
    section = Section("", sizes.length_in, sizes.width_in, x_in=sizes.from_shore_in)
    return [Laid(section, "length", "width", "main")]


_SHAPES: dict[str, Callable[[Sizes], list[Laid]]] = {
    "straight": _main,
    "ell": _ell,
    "tee": _tee,
    "ewe": _ewe,
    "fingers": _fingered,
    "platform": _platform,
}


# And back


def _length(sections: Sequence[Section]) -> float:
    return sum(section.length_in for section in sections)


def _walk_and_rest(sections: Sequence[Section]) -> tuple[list[Section], list[Section]]:
    walk = [section for section in sections if not section.turned]
    return walk, [section for section in sections if section.turned]


def _walk_sizes(shape: str, walk: Sequence[Section]) -> Sizes:
    return Sizes(shape, walk[0].width_in, _length(walk), len(walk))


def _guess_straight(sections: Sequence[Section]) -> Sizes | None:
    return _walk_sizes("straight", sections)


def _guess_platform(sections: Sequence[Section]) -> Sizes | None:
    one = sections[0]
    return Sizes("platform", one.width_in, one.length_in, None, from_shore_in=one.x_in) if len(sections) == 1 else None


def _guess_ell(sections: Sequence[Section]) -> Sizes | None:
    walk, leg = _walk_and_rest(sections)
    if not walk or not leg:
        return None
    side = "left" if leg[0].y_in > 0 else "right"
    sizes = _walk_sizes("ell", walk)
    return replace(sizes, leg_length_in=_length(leg), leg_width_in=leg[0].width_in, leg_side=side)


def _guess_tee(sections: Sequence[Section]) -> Sizes | None:
    walk, head = _walk_and_rest(sections)
    if not walk or not head:
        return None
    return replace(_walk_sizes("tee", walk), head_length_in=_length(head), head_width_in=head[0].width_in)


def _guess_ewe(sections: Sequence[Section]) -> Sizes | None:
    legs, back = _walk_and_rest(sections)
    if not legs or not back:
        return None
    right = [leg for leg in legs if abs(leg.y_in) < SAME_IN]
    return replace(_walk_sizes("ewe", back), leg_length_in=_length(right), leg_width_in=legs[0].width_in)


def _guess_fingers(sections: Sequence[Section]) -> Sizes | None:
    walk, fingers = _walk_and_rest(sections)
    if not walk or not fingers:
        return None
    left = [finger for finger in fingers if finger.y_in > 0]
    right = [finger for finger in fingers if finger.y_in < 0]
    one_side = left or right
    if not one_side:
        return None
    first = [finger for finger in one_side if abs(finger.x_in - one_side[0].x_in) < SAME_IN]
    return replace(
        _walk_sizes("fingers", walk),
        fingers=len(one_side) // len(first),
        finger_length_in=_length(first),
        finger_width_in=first[0].width_in,
        finger_sides="both" if left and right else "left" if left else "right",
    )


_GUESSES = (_guess_straight, _guess_platform, _guess_ell, _guess_tee, _guess_ewe, _guess_fingers)


def _lays_out(sizes: Sizes, sections: Sequence[Section]) -> bool:
    try:
        laid = lay_out(sizes)
    except ZeroDivisionError:
        return False
    return len(laid) == len(sections) and all(
        one.section.mark == section.mark and one.section.turned == section.turned and _same_place(one.section, section)
        for one, section in zip(laid, sections, strict=True)
    )


def _same_place(one: Section, other: Section) -> bool:
    pairs = ("length_in", "width_in", "x_in", "y_in")
    return all(abs(getattr(one, name) - getattr(other, name)) < SAME_IN for name in pairs)
