"""Frozen dataclasses to and from plain JSON values, and what is wrong with a file said at its field.

The shape of a file is its JSON Schema in `schemas/`; `title` there is the field's name in messages and `must_be`
(ours, ignored by other readers) the words for what it takes. Decimals travel as text, dates as year-month-day;
a field that is None is left out.
"""

import json
import math
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from types import NoneType, UnionType
from typing import TYPE_CHECKING, Any, get_args, get_origin, get_type_hints

from .reasons import Amount, Fault, Sentence, SpecFaults

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError

SCHEMAS = Path(__file__).parent / "schemas"
UNITS = {"_in": "in", "_lb": "lb", "_psf": "psf", "_percent": "percent", "_miles": "mi"}
LIMITS = {"maximum": "{0} must be at most {1}.", "exclusiveMaximum": "{0} must be below {1}."}
COUNTS = {"minItems": "{0}: at least {1} needed.", "maxItems": "{0}: at most {1} allowed."}


@cache
def schema(name: str) -> dict[str, Any]:
    """The JSON Schema shipped under this name, such as `spec-1`."""
    return json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))


@cache
def _validator(name: str) -> "Draft202012Validator":
    from jsonschema import Draft202012Validator  # slow to load, and only files need it

    return Draft202012Validator(schema(name))


def check_shape(document: Any, name: str) -> None:
    """Compare a document with a schema. Raises SpecFaults with every fault found, each at its field's path."""
    found: dict[str, Fault] = {}
    for error in sorted(_validator(name).iter_errors(document), key=lambda e: [str(p) for p in e.absolute_path]):
        for fault in _faults_of(error, schema(name)):
            found.setdefault(fault.field, fault)
    for path, value in _numbers(document, ()):
        if not math.isfinite(value):
            found.setdefault(field_path(path), _fault(path, "{0} must be a number.", _label(path, schema(name))))
    if found:
        raise SpecFaults(tuple(found.values()))


def field_path(path: tuple[str | int, ...]) -> str:
    """How a field is named in messages.

    >>> field_path(("sections", 0, "width_in"))
    'sections[0].width_in'
    """
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return text.removeprefix(".")


def _fault(path: tuple[str | int, ...], text: str, *values: Amount | str) -> Fault:
    return Fault(field_path(path), Sentence(text, values))


def _faults_of(error: "ValidationError", root: dict[str, Any]) -> list[Fault]:
    path = tuple(error.absolute_path)
    if error.validator == "required":
        return [_missing((*path, name), root) for name in error.validator_value if name not in error.instance]
    if error.validator == "additionalProperties":
        known = error.schema["properties"]
        return [_unknown(path, name, list(known)) for name in error.instance if name not in known]
    label = _label(path, root)
    if error.validator in LIMITS:
        return [_fault(path, LIMITS[error.validator], label, _limit(path, error.validator_value))]
    if error.validator in COUNTS:
        return [_fault(path, COUNTS[error.validator], label, Amount(error.validator_value, "count"))]
    if error.validator == "enum":
        choices = ", ".join(str(value) or "nothing" for value in error.validator_value)
        return [_fault(path, "{0} must be one of: {1}.", label, choices)]
    if error.validator == "const":
        wanted, said = str(error.validator_value), str(error.instance)
        return [_fault(path, "{0} must be {1}; this file says {2}.", label, wanted, said)]
    return [_fault(path, "{0} must be {1}.", label, error.schema["must_be"])]


def _missing(path: tuple[str | int, ...], root: dict[str, Any]) -> Fault:
    label = _label(path, root)
    many = label.endswith("s") and not label.endswith("ss")
    return _fault(path, "{0} are missing." if many else "{0} is missing.", label)


def _unknown(path: tuple[str | int, ...], name: str, known: list[str]) -> Fault:
    near = get_close_matches(name, known, n=1)
    if near:
        return _fault((*path, name), "There is no field {0} here. Did you mean {1}?", name, near[0])
    return _fault((*path, name), "There is no field {0} here.", name)


def _limit(path: tuple[str | int, ...], limit: float) -> Amount | str:
    name = next((part for part in reversed(path) if isinstance(part, str)), "")
    unit = next((unit for end, unit in UNITS.items() if name.endswith(end)), None)
    return Amount(limit, unit) if unit else f"{limit:g}"


def _label(path: tuple[str | int, ...], root: dict[str, Any]) -> str:
    node, label = root, "The file"
    for part in path:
        node = _follow(node, root)
        if isinstance(part, int):
            places = node.get("prefixItems", ())
            node = places[part] if part < len(places) else node.get("items", {})
            label = node.get("title", f"{label}, entry {part + 1},")
        else:
            node = node.get("properties", {}).get(part, {})
            label = node.get("title", part)
    return label


def _follow(node: dict[str, Any], root: dict[str, Any]) -> dict[str, Any]:
    return root["$defs"][node["$ref"].rsplit("/", 1)[1]] if "$ref" in node else node


def _numbers(value: Any, path: tuple[str | int, ...]):
    if isinstance(value, float):
        yield path, value
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _numbers(inner, (*path, name))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _numbers(inner, (*path, index))


def to_plain(value: Any) -> Any:
    """A dataclass, or anything it holds, as JSON values. None and endless bounds are left out of dataclasses."""
    if is_dataclass(value):
        pairs = ((f.name, getattr(value, f.name)) for f in fields(value))
        return {name: to_plain(inner) for name, inner in pairs if inner is not None and inner != math.inf}
    if isinstance(value, (tuple, list)):
        return [to_plain(inner) for inner in value]
    if isinstance(value, dict):
        return {name: to_plain(inner) for name, inner in value.items()}
    if isinstance(value, Decimal):
        return format(value, "f")
    return value.isoformat() if isinstance(value, date) else value


def from_plain(kind: Any, value: Any, path: tuple[str | int, ...] = ()) -> Any:
    """Build a `kind` from JSON values whose shape has been checked. Raises SpecFaults for a day that is not one."""
    origin = get_origin(kind)
    if origin is UnionType:
        inner = next(arg for arg in get_args(kind) if arg is not NoneType)
        return None if value is None else from_plain(inner, value, path)
    if origin is tuple:
        return _tuple_from_plain(get_args(kind), value, path)
    if origin is dict:
        return {name: from_plain(get_args(kind)[1], inner, (*path, name)) for name, inner in value.items()}
    if is_dataclass(kind):
        return _record_from_plain(kind, value, path)
    return _single_from_plain(kind, value, path)


def _tuple_from_plain(kinds: tuple[Any, ...], value: list[Any], path: tuple[str | int, ...]) -> tuple[Any, ...]:
    if kinds[-1] is Ellipsis:
        kinds = (kinds[0],) * len(value)
    return tuple(from_plain(k, inner, (*path, i)) for i, (k, inner) in enumerate(zip(kinds, value, strict=True)))


def _record_from_plain(kind: Any, value: dict[str, Any], path: tuple[str | int, ...]) -> Any:
    given = {name: from_plain(hint, value[name], (*path, name)) for name, hint in _hints(kind) if name in value}
    left_open = {name: None for name in required_fields(kind) - set(given)}
    return kind(**left_open, **given)


@cache
def _hints(kind: Any) -> tuple[tuple[str, Any], ...]:
    hints = get_type_hints(kind)
    return tuple((f.name, hints[f.name]) for f in fields(kind))


def _single_from_plain(kind: Any, value: Any, path: tuple[str | int, ...]) -> Any:
    if kind is Decimal:
        return Decimal(value if isinstance(value, str) else repr(value))
    if kind is float:
        return float(value)
    if kind is int:
        return int(value)
    if kind is date:
        return _day(value, path)
    return value


def _day(value: str, path: tuple[str | int, ...]) -> date:
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise SpecFaults([_fault(path, "There is no day {0}.", value)]) from None


@cache
def required_fields(kind: Any) -> frozenset[str]:
    """The fields a dataclass has no default for; a schema may leave only those open that can be None."""
    return frozenset(f.name for f in fields(kind) if f.default is MISSING and f.default_factory is MISSING)
