"""The plain words of a quote, made from the design, for the estimator to keep or overwrite."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.company.models import Company
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from estimating.engine.slope import Slope, ramp_slope
from estimating.quotes.facts import JobFacts

from .speech import capital, count, length, listed, speak
from .worked import WorkedQuote

CHANGES = "Any change in price, size or date is written and signed by both of us first."
EASY, STEEP = 6.0, 4.0


def starting_words(facts: JobFacts, company: Company, document: Mapping[str, Any]) -> dict[str, str]:
    """The words a new draft starts with. Scope, inclusions and assumptions stay empty: they follow the spec."""
    place = facts.water_body or facts.place
    title = f"A floating dock for {place}" if place else str(document.get("title") or "A floating dock")
    return {
        "title": title[:200],
        "exclusions": company.exclusions,
        "timing": timing_words(facts),
        "changes_text": " ".join(part for part in (company.terms or CHANGES, company.warranty) if part),
        "cancellation": company.cancellation_notice,
    }


def timing_words(facts: JobFacts) -> str:
    return "We give you the dates in writing when you accept; floats and hardware are ordered then."


def scope(worked: WorkedQuote) -> str:
    """One plain paragraph: what is built, how large, on what."""
    return worked.quote.scope or scope_words(worked.estimate.design)


def scope_words(design: Design) -> str:
    sections = design.spec.sections
    if len(sections) == 1:
        only = sections[0]
        size = f"{length(only.width_in)} wide and {length(only.length_in)} long"
    else:
        listed_sizes = listed([f"{s.mark} {length(s.width_in)} × {length(s.length_in)}" for s in sections[:6]])
        size = (
            f"in {count(len(sections), 'section')}, {listed_sizes}"
            if len(sections) <= 6
            else (f"in {count(len(sections), 'section')}, {speak(Amount(design.deck_area_sqft, 'sqft'))} of deck")
        )
    held = [count(len(design.floats), "float")]
    if design.anchors:
        held.append(count(len(design.anchors), "anchor"))
    ramp = ""
    if design.ramp:
        fixing = (
            f" from your {design.spec.ramp.shore_fixing}" if design.spec.ramp and design.spec.ramp.shore_fixing else ""
        )
        ramp = f", with a {length(design.ramp.length_in)} ramp{fixing}"
    return f"A timber dock {size}, on {listed(held)}{ramp}."


def inclusions(worked: WorkedQuote) -> list[str]:
    """What they get, a line each."""
    if worked.quote.inclusions.strip():
        return _lines(worked.quote.inclusions)
    return inclusion_lines(worked.estimate.design, worked.catalogue)


def inclusion_lines(design: Design, catalogue: Catalogue) -> list[str]:
    lumber = Counter(piece.item for piece in design.pieces if piece.section != "ramp")
    frame = [catalogue.lumber[code] for code, _ in lumber.most_common()]
    lines = []
    if frame:
        treated = f", {frame[0].treatment}" if frame[0].treatment else ""
        lines.append(f"Frame of {listed([item.nominal.replace('x', '×') for item in frame])} lumber{treated}")
    boards = Counter(run.item for run in design.boards)
    lines += [f"Deck of {catalogue.lumber[code].name}" for code in boards]
    if design.joints:
        lines.append("Plates, hinges and bolts, hot-dip galvanized")
    floats = Counter(placed.item for placed in design.floats)
    lines += [_float_line(catalogue, code, number) for code, number in floats.items()]
    anchors = Counter((anchor.item, anchor.chain) for anchor in design.anchors)
    for (item, chain), number in anchors.items():
        lines.append(f"{capital(count(number, 'anchor'))}: {catalogue.goods[item].name}, {catalogue.goods[chain].name}")
    if design.ramp:
        lines.append(f"Ramp {length(design.ramp.length_in)} long and {length(design.ramp.width_in)} wide")
    lines += [f"{capital(catalogue.goods[a.item].name)}, {a.quantity}" for a in design.accessories]
    return [*lines, "Delivery, launching, setting in place and clearing up"]


def _float_line(catalogue: Catalogue, code: str, number: int) -> str:
    item = catalogue.floats[code]
    return f"{capital(count(number, 'float'))}: {item.name}, {speak(Amount(item.net_lift_lb, 'lb'))} lift each"


def exclusion_lines(worked: WorkedQuote) -> list[str]:
    return _lines(worked.quote.exclusions)


def assumptions(worked: WorkedQuote) -> list[str]:
    """Depth, bottom, access and level the price rests on, as measured; typed words win."""
    return _lines(worked.quote.assumptions) or list(worked.facts.assumptions)


@dataclass(frozen=True, slots=True)
class LevelColumn:
    """One water level: its name, deck height, ramp slope and depth under the outer floats, in words."""

    name: str
    level: str
    deck: str
    ramp: str
    under: str


def level_columns(worked: WorkedQuote) -> list[LevelColumn]:
    """The water's usual levels, low to high; empty when none is known."""
    design = worked.estimate.design
    return [_column(design, name, level_in) for name, level_in in worked.facts.level_rows]


def _column(design: Design, name: str, level_in: float) -> LevelColumn:
    boards = [level.freeboard_wet_in for level in design.level]
    least, most = (speak(Amount(round(figure, 0), "in_small")) for figure in (min(boards), max(boards)))
    return LevelColumn(
        name=name,
        level=speak(Amount(level_in, "ft_level")),
        deck=least if least == most else f"{least} to {most}",
        ramp=_ramp_words(design, level_in),
        under=_depth_words(design, level_in),
    )


def _ramp_words(design: Design, level_in: float) -> str:
    asked = design.spec.ramp
    if design.ramp is None or asked is None or asked.hinge_level_in is None:
        return ""
    freeboard = next(level.freeboard_wet_in for level in design.level if design.ramp.section in level.sections)
    slope = ramp_slope(
        level="", hinge_in=asked.hinge_level_in, deck_in=level_in + freeboard, length_in=design.ramp.length_in
    )
    return _steepness(slope)


def _steepness(slope: Slope) -> str:
    if slope.out_in is None:
        return "does not reach"
    if slope.one_in > 15:
        return "nearly flat"
    how = "easy" if slope.one_in >= EASY else "moderate" if slope.one_in >= STEEP else "steep"
    return f"{how}, 1 in {slope.one_in:.1f}"


def _depth_words(design: Design, level_in: float) -> str:
    water, depths = design.spec.place.water, design.spec.place.depths
    if water.normal_in is None or not depths:
        return ""
    outer = max(depths, key=lambda point: point.distance_in)
    under = outer.depth_in + level_in - water.normal_in - max(level.draft_wet_in for level in design.level)
    return speak(Amount(under, "ft_level")) if under > 0 else "on the bottom"


def people_words(worked: WorkedQuote) -> str:
    """How many people, spread out; the posted figure is two thirds of what puts float tops under, rounded down."""
    groups = worked.estimate.design.level
    posted = sum(level.awash_people * 2 // 3 for level in groups)
    weight = speak(Amount(worked.rules.person_lb, "lb"))
    return (
        f"Up to {posted} adults of {weight} at once, spread out. A crowd at one edge can tip a floating dock: "
        "keep people apart, and children in life jackets."
    )


def price_line(worked: WorkedQuote) -> str:
    """What the price covers, in one line."""
    design = worked.estimate.design
    parts = ["Dock"]
    parts += ["ramp"] if design.ramp else []
    parts += ["anchors"] if design.anchors else []
    parts += ["permit"] if design.spec.work.permit_fees else []
    return f"{', '.join(parts)}, delivery and all work"


def tax_line(worked: WorkedQuote) -> str:
    """What the quote says of sales tax when no tax is added."""
    mode = worked.rules.tax.mode
    if mode == "exempt":
        return f"Sales tax: exempt, certificate {worked.facts.tax_exempt_certificate}"
    return "Sales tax: none on this quote; tax on materials is in the price"


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]
