"""The drawing in words: its title and description carry the same facts."""

from collections.abc import Iterator

from estimating.engine.drawing import figures
from estimating.engine.drawing.figures import Speak
from estimating.engine.drawing.scene import Scene, outer_corners
from estimating.engine.reasons import Amount
from estimating.engine.result import Design


def title_of(design: Design) -> str:
    name = design.spec.title.strip()
    return f"Plan and side elevation of {name}, to scale" if name else "Plan and side elevation, to scale"


def description_of(design: Design, scene: Scene, speak: Speak) -> str:
    """The dock, its ramp, anchors, freeboard, water and bottom, a sentence each."""
    said = [_overall(design, scene, speak), *_sizes(design, speak), *_joints(design)]
    said += [s for s in (_ramp(design, scene, speak), _anchors(design), _accessories(design)) if s]
    said += [*_freeboards(design, scene, speak), _water(scene, speak), _bottom(design, speak)]
    said.append("Plan above, side elevation below, shore to the left, lake to the right.")
    return " ".join(said)


def listed(words: list[str]) -> str:
    """A, B and C.

    >>> listed(["A"]), listed(["A", "B", "C"])
    ('A', 'A, B and C')
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _overall(design: Design, scene: Scene, speak: Speak) -> str:
    count = len(design.spec.sections)
    out, across = figures.length(speak, scene.x1 - scene.x0), figures.length(speak, scene.y1 - scene.y0)
    parts = f"{count} section{'' if count == 1 else 's'}"
    return f"A floating dock {out} out from the shore side and {across} across, in {parts}."


def _sizes(design: Design, speak: Speak) -> list[str]:
    by_size: dict[tuple[float, float], list[str]] = {}
    for section in design.spec.sections:
        by_size.setdefault((section.length_in, section.width_in), []).append(section.mark)
    return [
        f"Section{'s' if len(marks) > 1 else ''} {listed(marks)}: "
        f"{figures.length(speak, length)} by {figures.length(speak, width)}."
        for (length, width), marks in by_size.items()
    ]


def _joints(design: Design) -> list[str]:
    said = []
    for kind, how in (("hinged", "hinged"), ("rigid", "bolted rigid")):
        pairs = [f"{edge.first} to {edge.second}" for edge in design.edges if edge.kind == kind]
        if pairs:
            said.append(f"{listed(pairs)} {how}.")
    return said


def _ramp(design: Design, scene: Scene, speak: Speak) -> str:
    ramp, walk = design.ramp, scene.walk
    if ramp is None or walk is None:
        return ""
    start = f" from {walk.fixing}" if walk.fixing else ""
    known = "" if walk.hinge_known else ", hinge height not known"
    size = f"{figures.length(speak, ramp.length_in)} long and {figures.length(speak, ramp.width_in)} wide"
    return f"A ramp {size}{start} to the {ramp.edge} edge of section {ramp.section}{known}."


def _anchors(design: Design) -> str:
    count = len(design.anchors)
    if not count:
        return ""
    held = listed([f"{a.mark} on section {a.section}" for a in design.anchors])
    return f"{count} anchor{'s' if count > 1 else ''} on chain: {held}."


def _accessories(design: Design) -> str:
    counted: dict[str, int] = {}
    for item in design.accessories:
        name = item.symbol or "other fitting"
        counted[name] = counted.get(name, 0) + item.quantity
    if not counted:
        return ""
    return "Fitted: " + listed([f"{count} {name}{'s' if count > 1 else ''}" for name, count in counted.items()]) + "."


def _freeboards(design: Design, scene: Scene, speak: Speak) -> Iterator[str]:
    decks = {deck.mark: deck for deck in scene.decks}
    for group in design.level:
        name = listed(list(group.sections))
        heights = {
            f"{end} end {side}": speak(Amount(z, "in_small"))
            for _, (end, side), z in outer_corners([decks[mark] for mark in group.sections])
        }
        if len(set(heights.values())) == 1:
            yield f"Deck of {name} {next(iter(heights.values()))} above the water, wet, nobody aboard."
        else:
            said = listed([f"{corner} {height}" for corner, height in heights.items()])
            yield f"Deck of {name} above the water, wet, nobody aboard: {said}."


def _water(scene: Scene, speak: Speak) -> str:
    if not scene.levels:
        return "Water levels not known."
    levels = [f"{level.name.lower()} {figures.level(speak, level.value_in)}" for level in scene.levels]
    return f"Water levels: {listed(levels)}."


def _bottom(design: Design, speak: Speak) -> str:
    if not design.spec.place.depths:
        return "Bottom not measured."
    depths = [
        f"{figures.level(speak, p.depth_in)} at {figures.length(speak, p.distance_in)} from shore"
        for p in sorted(design.spec.place.depths, key=lambda p: p.distance_in)
    ]
    return f"Depth at normal level: {listed(depths)}."
