"""What a revision changes against the quote sent before it, and by how much."""

from decimal import Decimal
from typing import Any

from contractor.money import format_money
from estimating.quotes.models import Quote

from .speech import length
from .worked import WorkedQuote


def what_changed(before: Quote, worked: WorkedQuote) -> list[str]:
    """Sentences for the customer and the shop: the price first, then the dock, then the options."""
    figures = before.figures or {}
    now = worked.total
    was = before.total or Decimal(0)
    if now == was:
        said = [f"The price stays {format_money(now)}."]
    else:
        more = "more" if now > was else "less"
        said = [f"The price was {format_money(was)} and is {format_money(now)}: {format_money(abs(now - was))} {more}."]
    return [*said, *_dock(figures, worked), *_options(before, worked)]


def _dock(figures: dict[str, Any], worked: WorkedQuote) -> list[str]:
    design = worked.estimate.design
    old = {section["mark"]: section for section in figures.get("spec", {}).get("sections", [])}
    new = {section.mark: section for section in design.spec.sections}
    said = [f"Section {mark} is left out." for mark in old if mark not in new]
    for mark, section in new.items():
        size = f"{length(section.width_in)} × {length(section.length_in)}"
        if mark not in old:
            said.append(f"Section {mark} is added, {size}.")
        elif (old[mark]["width_in"], old[mark]["length_in"]) != (section.width_in, section.length_in):
            was = f"{length(old[mark]['width_in'])} × {length(old[mark]['length_in'])}"
            said.append(f"Section {mark} was {was} and is {size}.")
    return [*said, *_counts(figures, worked)]


def _counts(figures: dict[str, Any], worked: WorkedQuote) -> list[str]:
    design = worked.estimate.design
    pairs = [
        ("floats", len(figures.get("floats", [])), len(design.floats)),
        ("anchors", len(figures.get("anchors", [])), len(design.anchors)),
        ("accessories", len(figures.get("accessories", [])), len(design.accessories)),
    ]
    said = [f"{was} {name} before, {now} now." for name, was, now in pairs if was != now]
    return [*said, *_materials(figures, worked)]


def _materials(figures: dict[str, Any], worked: WorkedQuote) -> list[str]:
    old = {line["code"]: line["name"] for line in figures.get("takeoff", {}).get("lines", [])}
    new = {line.code: line.name for line in worked.estimate.takeoff.lines}
    gone = [name for code, name in old.items() if code not in new]
    come = [name for code, name in new.items() if code not in old]
    said = [f"No longer: {', '.join(gone)}."] if gone else []
    return [*said, *([f"New: {', '.join(come)}."] if come else [])]


def _options(before: Quote, worked: WorkedQuote) -> list[str]:
    old = {option.name: option.amount for option in before.options.all()}
    new = {worked_option.option.name: worked_option.amount for worked_option in worked.options}
    said = [f"Option no longer offered: {name}." for name in old if name not in new]
    for name, amount in new.items():
        if name not in old:
            said.append(f"New option: {name}, {format_money(amount)}.")
        elif old[name] != amount:
            said.append(f"Option {name}: {format_money(old[name])} before, {format_money(amount)} now.")
    return said
