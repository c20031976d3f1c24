"""What to gather and what goes on the truck."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from estimating.engine.needs import needs
from jobs.supply.services.wanted import WOOD_GROUPS

from .facts import STAGE_WORDS, STAGES, Work, cut, pounds
from .steps import TOOLS

NO_SHELF = "no shelf noted"
ROAD_SAFETY = "Straps and bags checked before the gate and after the first mile. Flag on anything that sticks out."


@dataclass(frozen=True, slots=True)
class PickLine:
    name: str
    stage: str
    count: str
    packs: str
    substitute: str


@dataclass(frozen=True, slots=True)
class PickList:
    """Goods by shelf, so that nobody walks twice."""

    job_number: str
    client: str
    letter: str
    shelves: tuple[tuple[str, tuple[PickLine, ...]], ...]


@dataclass(frozen=True, slots=True)
class LoadLine:
    what: str
    count: str
    each: str
    total: str
    total_lb: float


@dataclass(frozen=True, slots=True)
class LoadList:
    """What goes on the truck, heaviest first: that is the order of loading."""

    job_number: str
    client: str
    place: str
    letter: str
    lines: tuple[LoadLine, ...]
    total: str
    trailer: str
    tools: tuple[tuple[str, str], ...]
    papers: tuple[str, ...]
    safety: str


def pick_list(work: Work, *, shelves: Mapping[str, str], substitutes: Mapping[str, str]) -> PickList:
    """Every good of the job by shelf and stage; what has no shelf comes last."""
    by_shelf: dict[str, list[PickLine]] = {}
    for line in _lines(work, substitutes):
        by_shelf.setdefault(shelves.get(line[0], "") or NO_SHELF, []).append(line[1])
    ordered = sorted(by_shelf.items(), key=lambda pair: (pair[0] == NO_SHELF, pair[0]))
    return PickList(work.job_number, work.client, work.letter, tuple((shelf, tuple(rows)) for shelf, rows in ordered))


def _lines(work: Work, substitutes: Mapping[str, str]) -> Iterator[tuple[str, PickLine]]:
    bought = {line.code: line for line in work.estimate.takeoff.lines}
    for line in work.estimate.takeoff.lines:
        if line.group in WOOD_GROUPS:
            count = f"{line.packs:g}"
            stage = STAGE_WORDS.get(line.stage, line.stage)
            yield line.code, PickLine(work.name(line.code), stage, count, line.pack, substitutes.get(line.code, ""))
    for need in needs(work.estimate.design, work.catalogue):
        by_stage: Counter[str] = Counter()
        for entry in need.entries:
            by_stage[entry.stage] += float(entry.quantity)
        for stage in sorted(by_stage, key=STAGES.index):
            line = bought.get(need.code)
            packs = f"{line.packs:g} × {line.pack} in all" if line and line.pack not in ("each", "") else ""
            count = _count(work, need.code, by_stage[stage])
            name, swap = work.name(need.code), substitutes.get(need.code, "")
            yield need.code, PickLine(name, STAGE_WORDS[stage], count, packs, swap)


def load_list(work: Work) -> LoadList:
    """The whole job's goods with their weights, lumber wet as it leaves the yard."""
    lines = sorted(_weighed(work), key=lambda line: -line.total_lb)
    afloat = work.estimate.afloat
    trailer = ""
    if afloat and afloat.lifts:
        heavy = max(afloat.lifts, key=lambda lift: lift.bare_lb)
        trailer = (
            f"Built in the yard, the dock is {pounds(afloat.trailer_lb)} on the trailer. "
            f"The heaviest bare frame is {pounds(heavy.bare_lb)}, {heavy.hands_bare} people."
        )
    return LoadList(
        work.job_number,
        work.client,
        work.place,
        work.letter,
        tuple(lines),
        pounds(sum(line.total_lb for line in lines)),
        trailer,
        tuple((STAGE_WORDS[stage].capitalize(), TOOLS[stage]) for stage in STAGES),
        ("Work orders of the day", "Permit, to post in sight of the water", "Care sheet and hand-over papers"),
        ROAD_SAFETY,
    )


def _weighed(work: Work) -> Iterator[LoadLine]:
    catalogue = work.catalogue
    for line in work.estimate.takeoff.lines:
        lumber, floated, good = (of.get(line.code) for of in (catalogue.lumber, catalogue.floats, catalogue.goods))
        if lumber is not None:
            feet = float(line.bought) / max(float(line.packs), 1.0)
            yield _load(line.name, float(line.packs), line.pack, feet * lumber.wet_lb_per_ft)
        elif floated is not None:
            yield _load(work.name(line.code), float(line.net), "", floated.weight_lb)
        elif good is not None:
            yield _load(work.name(line.code), float(line.net), "ft" if good.use_unit == "ft" else "", good.weight_lb)


def _load(name: str, count: float, unit: str, each_lb: float) -> LoadLine:
    said = cut(count * 12) if unit == "ft" else f"{count:g}"
    what = f"{name}, {unit}" if unit not in ("", "ft") else name
    each = pounds(each_lb) if each_lb >= 1 else "light"
    return LoadLine(
        what.replace("x", "×", 1) if what[:1].isdigit() else what, said, each, pounds(count * each_lb), count * each_lb
    )


def _count(work: Work, code: str, count: float) -> str:
    good = work.catalogue.goods.get(code)
    return cut(count * 12) if good is not None and good.use_unit == "ft" else f"{count:g}"
