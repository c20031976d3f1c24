"""The catalogue file: what the shop buys and the firm's rules, as versioned JSON. Shape: `schemas/catalogue-1.json`.

`{"wharfwright_catalogue": 1, "currency": "USD", "on": "2026-04-01", "lumber": [...], "floats": [...], "goods": [...],
"joint_rules": [...], "standing": {...}, "rules": {...}}` with the names of `parts.py`. Items refer to each other by
code. `on` is the day its prices are looked at unless the reader names another.
"""

import json
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from .json_records import check_shape, field_path, from_plain, to_plain
from .parts import Catalogue, FirmRules, FloatItem, Good, JointRule, Lumber, StandingChoices
from .reasons import Amount, Fault, Sentence, SpecFaults

KEY = "wharfwright_catalogue"
VERSION = 1
STARTER = Path(__file__).parent / "starter" / "catalogue.json"
SHELVES = {"lumber": Lumber, "floats": FloatItem, "goods": Good}
STANDING_SHELVES = {"float_item": "floats", "anchor": "goods", "chain": "goods"}


def load_catalogue(document: Any, *, on: date | None = None) -> tuple[Catalogue, FirmRules]:
    """Catalogue and firm rules from a document, prices looked at on the file's own day or on another.

    Raises SpecFaults with every wrong field named by its path, also for a code used but not listed or listed twice.
    """
    check_shape(document, "catalogue-1")
    faults = [*_listed_twice(document), *_unlisted(document), *_at_odds(document["rules"])]
    if faults:
        raise SpecFaults(faults)
    shelves = {
        shelf: {record["code"]: from_plain(kind, record, (shelf, i)) for i, record in enumerate(document[shelf])}
        for shelf, kind in SHELVES.items()
    }
    catalogue = Catalogue(
        **shelves,
        joint_rules=from_plain(tuple[JointRule, ...], document["joint_rules"], ("joint_rules",)),
        standing=from_plain(StandingChoices, document["standing"], ("standing",)),
        currency=document["currency"],
        on=on or from_plain(date, document["on"], ("on",)),
        **({"stale_after_days": document["stale_after_days"]} if "stale_after_days" in document else {}),
    )
    return catalogue, from_plain(FirmRules, document["rules"], ("rules",))


def dump_catalogue(catalogue: Catalogue, rules: FirmRules) -> dict[str, Any]:
    """The document for a catalogue and its rules, ready for json.dumps; `load_catalogue` gives both back."""
    plain = to_plain(catalogue)
    for shelf in SHELVES:
        plain[shelf] = list(plain[shelf].values())
    return {KEY: VERSION, **plain, "rules": to_plain(rules)}


@cache
def starter_catalogue(*, on: date | None = None) -> tuple[Catalogue, FirmRules]:
    """The catalogue shipped with the program: trade sizes, invented round prices, starter hours.

    >>> starter_catalogue()[0].lumber["2x8"].width_in
    7.25
    """
    return load_catalogue(_starter_document(), on=on)


@cache
def _starter_document() -> dict[str, Any]:
    return json.loads(STARTER.read_text(encoding="utf-8"))


def _listed_twice(document: dict[str, Any]) -> Iterator[Fault]:
    seen: set[str] = set()
    for shelf in SHELVES:
        for index, record in enumerate(document[shelf]):
            if record["code"] in seen:
                words = Sentence("The code {0} is used twice.", (record["code"],))
                yield Fault(field_path((shelf, index, "code")), words)
            seen.add(record["code"])


def _unlisted(document: dict[str, Any]) -> Iterator[Fault]:
    codes = {shelf: {record["code"] for record in document[shelf]} for shelf in SHELVES}
    for path, code, shelf in _references(document):
        if code not in codes[shelf]:
            words = "No item under {0} has the code {1}." if code else "Name an item here; {0} has them."
            yield Fault(field_path(path), Sentence(words, (shelf, code)))


def _references(document: dict[str, Any]) -> Iterator[tuple[tuple[str | int, ...], str, str]]:
    for name, code in document["standing"].items():
        if isinstance(code, str):
            yield ("standing", name), code, STANDING_SHELVES.get(name, "lumber")
    for shelf in ("floats", "goods"):
        yield from _uses(document[shelf], (shelf,), ("fixings",))
    yield from _uses(document["joint_rules"], ("joint_rules",), ("parts", "per_bolt"))
    for index, rule in enumerate(document["joint_rules"]):
        if rule.get("bolts") or rule.get("bolt"):
            yield ("joint_rules", index, "bolt"), rule.get("bolt", ""), "goods"


def _uses(records: list[dict[str, Any]], path: tuple[str | int, ...], names: tuple[str, ...]):
    for index, record in enumerate(records):
        for name in names:
            for place, use in enumerate(record.get(name, ())):
                yield (*path, index, name, place, "code"), use["code"], "goods"


def _at_odds(rules: dict[str, Any]) -> Iterator[Fault]:
    if (rules.get("overhead_per_hour") is None) == (rules.get("overhead_percent") is None):
        yield Fault(
            "rules.overhead_per_hour", Sentence("Give overhead by the hour or as a percent of cost: one of the two.")
        )
    if rules["tax"]["mode"] == "exempt" and not rules["tax"].get("exemption", "").strip():
        yield Fault("rules.tax.exemption", Sentence("An exempt customer needs a certificate number here."))
    shares = sum(float(part["percent_of_rest"]) for part in rules["instalments"])
    if rules["instalments"] and abs(shares - 100) > 0.1:
        words = "The instalments share out {0} of what is left; they must come to 100 %."
        yield Fault("rules.instalments", Sentence(words, (Amount(shares, "percent"),)))
