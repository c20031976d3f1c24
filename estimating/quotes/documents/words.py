"""The plain words of a quote, made from the design, for the estimator to keep or overwrite."""

import re
from collections import Counter
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from contractor.company.models import Company
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Amount
from estimating.engine.result import Design
from estimating.engine.spec import Section
from estimating.quotes.facts import JobFacts

from .speech import capital, count, inside, length, listed, number_word, size_name, speak, trade_name, unbroken
from .worked import WorkedQuote

CHANGES = "Any change in price, size or date is written and signed by both of us first."
TIMING = "We give you the dates in writing when you accept; floats and hardware are ordered then."
MOST_SIZES = 4
SAME_LINE_IN = 0.5


def starting_words(facts: JobFacts, company: Company, document: Mapping[str, Any]) -> dict[str, str]:
    """The words a new draft starts with. Scope, inclusions and assumptions stay empty: they follow the spec."""
    place = facts.water_body or facts.place
    title = f"A floating dock for {place}" if place else str(document.get("title") or "A floating dock")
    return {
        "title": title[:200],
        "exclusions": company.exclusions,
        "timing": TIMING,
        "changes_text": " ".join(part for part in (company.terms or CHANGES, company.warranty) if part),
        "cancellation": company.cancellation_notice,
    }


def scope(worked: WorkedQuote) -> str:
    """One plain paragraph: what is built, how large, on what."""
    return worked.quote.scope.strip() or scope_words(worked.estimate.design)


def scope_words(design: Design) -> str:
    held = [count(len(design.floats), "float")]
    held += [count(len(design.anchors), "anchor")] if design.anchors else []
    return f"A timber dock {_size(design)}, on {listed(held)}{_ramp(design)}."


def _size(design: Design) -> str:
    sections = design.spec.sections
    many = count(len(sections), "section")
    if len(sections) == 1:
        return f"{length(sections[0].width_in)} wide and {length(sections[0].length_in)} long"
    if _in_one_line(sections):
        whole = f"{length(sections[0].width_in)} wide and {length(design.overall_length_in)} long"
        return f"{whole}, in {many}"
    sizes = Counter((section.width_in, section.length_in) for section in sections)
    if len(sizes) > MOST_SIZES:
        return f"in {many}, {speak(Amount(design.deck_area_sqft, 'sqft'))} of deck"
    if len(sizes) == 1:
        return f"in {many} of {_sides(*next(iter(sizes)))}"
    said = [f"{number_word(n)} of {_sides(*size)}" if n > 1 else _sides(*size) for size, n in sizes.items()]
    return f"in {many}, {listed(said)}"


def _sides(wide_in: float, long_in: float) -> str:
    return f"{length(wide_in)}\u00a0×\u00a0{length(long_in)}"


def _in_one_line(sections: tuple[Section, ...]) -> bool:
    """Sections of one width, end to end, from shore to lake."""
    row = sorted(sections, key=lambda section: section.x_in)
    alike = {(section.width_in, section.y_in, section.turned) for section in row}
    touching = all(abs(a.x_in + a.length_in - b.x_in) < SAME_LINE_IN for a, b in pairwise(row))
    return len(alike) == 1 and not row[0].turned and touching


def _ramp(design: Design) -> str:
    if design.ramp is None:
        return ""
    fixing = design.spec.ramp.shore_fixing.strip() if design.spec.ramp else ""
    return f", with a {length(design.ramp.length_in)} ramp{f' from your {fixing}' if fixing else ''}"


def inclusions(worked: WorkedQuote) -> list[str]:
    """What they get, a line each."""
    return lines(worked.quote.inclusions) or inclusion_lines(worked.estimate.design, worked.catalogue)


def inclusion_lines(design: Design, catalogue: Catalogue) -> list[str]:
    fittings = Counter({placed.item: 0 for placed in design.accessories})
    for placed in design.accessories:
        fittings[placed.item] += placed.quantity
    fixed = ["Plates, hinges and bolts, hot-dip galvanized"] if design.joints else []
    return [
        *_timber(design, catalogue),
        *fixed,
        *_floats(design, catalogue),
        *_anchors(design, catalogue),
        *_ramp_line(design, catalogue),
        *(_so_many(number, catalogue.goods[code].name) for code, number in fittings.items()),
        "Delivery, launching, setting in place and clearing up",
    ]


def _timber(design: Design, catalogue: Catalogue) -> list[str]:
    used = Counter(piece.item for piece in design.pieces if piece.section != "ramp")
    frame = [catalogue.lumber[code] for code, _ in used.most_common()]
    sizes = list(dict.fromkeys(trade_name(item.nominal) for item in frame))
    treated = f", {frame[0].treatment}" if frame and frame[0].treatment not in ("", "none") else ""
    boards = dict.fromkeys(run.item for run in design.boards if run.section != "ramp")
    framed = [f"Frame of {listed(sizes)} lumber{treated}"] if frame else []
    return [*framed, *(f"Deck of {inside(catalogue.lumber[code].name)}" for code in boards)]


def _floats(design: Design, catalogue: Catalogue) -> list[str]:
    placed = Counter(one.item for one in design.floats)
    return [
        f"{capital(count(number, 'float'))}, {size_name(catalogue.floats[code])}, "
        f"{speak(Amount(catalogue.floats[code].net_lift_lb, 'lb'))} lift each"
        for code, number in placed.items()
    ]


def _anchors(design: Design, catalogue: Catalogue) -> list[str]:
    goods, placed = catalogue.goods, Counter((anchor.item, anchor.chain) for anchor in design.anchors)
    return [
        f"{_so_many_anchors(number, goods[item].name)}, {inside(goods[chain].name)}"
        for (item, chain), number in placed.items()
    ]


def _so_many_anchors(number: int, name: str) -> str:
    """
    >>> _so_many_anchors(2, "Concrete anchor 350 lb"), _so_many_anchors(1, "Block 350 lb")
    ('Two concrete anchors 350 lb', 'One anchor: block 350 lb')
    """
    if re.search(r"\banchor\b", name):
        named = re.sub(r"\banchor\b", "anchor" if number == 1 else "anchors", inside(name), count=1)
        return f"{capital(number_word(number))} {named}"
    return f"{capital(count(number, 'anchor'))}: {inside(name)}"


def _ramp_line(design: Design, catalogue: Catalogue) -> list[str]:
    ramp = design.ramp
    if ramp is None:
        return []
    size = f"{length(ramp.length_in)} long and {length(ramp.width_in)} wide"
    if ramp.bought_item:
        return [f"Ramp {size}: {inside(catalogue.goods[ramp.bought_item].name)}"]
    return [f"Ramp {size}, of timber"]


def _so_many(number: int, name: str) -> str:
    """
    >>> _so_many(1, "Swim ladder, four steps"), _so_many(4, "Cleat 8 in")
    ('Swim ladder, four steps', 'Cleat 8 in, four of them')
    """
    return f"{capital(trade_name(name))}{'' if number == 1 else f', {number_word(number)} of them'}"


def exclusion_lines(worked: WorkedQuote) -> list[str]:
    return lines(worked.quote.exclusions)


def assumptions(worked: WorkedQuote) -> list[str]:
    """Depth, bottom, access and level the price rests on, as measured; typed words win."""
    return [unbroken(line) for line in lines(worked.quote.assumptions) or worked.facts.assumptions]


def lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]
