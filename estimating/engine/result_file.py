"""A whole estimate as plain JSON: design, takeoff, hours and price, every figure with its reason in words.

    {"wharfwright_estimate": 1, "spec": {...}, "design": {...}, "pieces": [...], "boards": [...], "joints": [...],
     "bolts": {...}, "floats": [...], "ramp": {...}, "anchors": [...], "accessories": [...], "weights": [...],
     "level": [...], "afloat": {...}, "frame": {...}, "mooring": {...}, "takeoff": {...}, "hours": {...},
     "price": {...}, "warnings": [...], "sources": {...}}

Lengths in inches, weights in pounds, money and quantities as decimal text. Reasons name their source by id; `sources`
gives its title. It is an answer, not an input: the spec inside it is what another program should read back.

`mooring`: levels (name, level_in on the site's datum, rise_in above normal), anchors (place, depth, bottom, weights,
chain, then a row a level with slack, wander, worst pull, tension and uplift; a tension of null cannot be given: the
chain is too short), docks (pushes and drifts from sixteen sides, from_deg from the lake towards the left), pulls
(chain hanging on the floats), resets (the level from which a chain has to be taken up), crossed, exposure.
"""

import math
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from .afloat.righting import Righting
from .mooring_result import MooringProof
from .proof import FloatProof
from .reasons import Amount, Reason, Sentence, Step
from .result import Design, Estimate, Weight
from .sources import SOURCES
from .spec_file import dump_spec
from .weights import yard_lb

KEY = "wharfwright_estimate"
VERSION = 1
CAUTION = "Check on site. Not a substitute for an engineer where one is required."


def estimate_as_dict(estimate: Estimate, *, righting: Sequence[Righting] = ()) -> dict[str, Any]:
    """The whole answer, ready for json.dumps; with righting curves where they were asked for."""
    design = estimate.design
    answer = {
        KEY: VERSION,
        "caution": CAUTION,
        "spec": dump_spec(design.spec),
        "design": _summary(design),
        "pieces": _plain(design.pieces),
        "boards": _plain(design.boards),
        "joints": _plain(design.joints),
        "section_joints": _plain(design.edges),
        "bolts": {
            "dock": design.bolt_count,
            "ramp": design.ramp_bolt_count,
            "dock_reason": _plain(design.bolt_reason),
            "ramp_reason": _plain(design.ramp_bolt_reason),
        },
        "floats": _plain(design.floats),
        "ramp": _plain(design.ramp),
        "anchors": _plain(design.anchors),
        "accessories": _plain(design.accessories),
        "weights": [_weight(weight) for weight in design.weights],
        "level": _plain(design.level),
        "afloat": _afloat(estimate.afloat, righting),
        "frame": _frame(estimate),
        "mooring": _mooring(estimate.mooring),
        "takeoff": {
            "lines": _plain(estimate.takeoff.lines),
            "sticks": [{"item": code, **_plain(stick)} for code, stick in estimate.takeoff.sticks],
            "materials_cost": _plain(estimate.takeoff.materials_cost),
        },
        "hours": _plain(estimate.labour),
        "price": _plain(estimate.price),
        "warnings": _plain(estimate.findings),
        "sources": {source.id: {"title": source.title, "kind": source.kind} for source in SOURCES.values()},
    }
    answer["hours"]["stage_hours"] = {stage: _plain(hours) for stage, hours in estimate.labour.stage_hours}
    del answer["price"]["findings"]
    return answer


def _afloat(proof: FloatProof | None, righting: Sequence[Righting]) -> dict[str, Any] | None:
    """The flotation proof; its findings stand among the warnings."""
    if proof is None:
        return None
    answer = _plain(proof)
    del answer["findings"]
    every = zip((*proof.cases, *proof.aside), (*answer["cases"], *answer["aside"]), strict=True)
    for case, said in every:
        said.update(
            verdict=case.level,
            least_freeboard_in=_plain(case.least_freeboard_in),
            most_tilt_deg=_plain(case.most_tilt_deg),
            least_float_top_in=_plain(case.least_top_in),
        )
    return {"verdict": proof.level, "caution": CAUTION, **answer, "righting": _plain(tuple(righting))}


def _frame(estimate: Estimate) -> dict[str, Any] | None:
    """The frame proof, preliminary; its findings stand among the warnings."""
    if estimate.frame is None:
        return None
    answer = _plain(estimate.frame)
    del answer["findings"]
    return {"verdict": estimate.frame.level, **answer, "engineer": _plain(estimate.engineer)}


def _mooring(proof: MooringProof | None) -> dict[str, Any] | None:
    """The mooring proof, preliminary; its findings stand among the warnings."""
    if proof is None:
        return None
    answer = _plain(proof)
    del answer["findings"]
    for anchor, said in zip(proof.anchors, answer["anchors"], strict=True):
        said["verdict"] = said.pop("level")
        said.update(
            most_tension_lb=_plain(anchor.most_tension_lb),
            most_wander_in=_plain(anchor.most_wander_in),
            least_slack_in=_plain(anchor.least_slack_in),
        )
    return {"verdict": proof.level, **answer}


def _weight(weight: Weight) -> dict[str, Any]:
    answer = _plain(weight)
    for part in ("frame", "deck"):
        answer[f"{part}_yard_lb"] = yard_lb(answer[f"{part}_wet_lb"], answer[f"{part}_seasoned_lb"])
    return answer


def _summary(design: Design) -> dict[str, Any]:
    return {
        "deck_area_sqft": design.deck_area_sqft,
        "overall_length_in": design.overall_length_in,
        "overall_width_in": design.overall_width_in,
        "section_count": len(design.spec.sections),
        "piece_count": len(design.pieces),
        "board_count": sum(run.count for run in design.boards),
        "float_count": len(design.floats),
        "joint_count": len(design.joints),
    }


def _plain(value: Any) -> Any:
    if isinstance(value, (str, bool, int, type(None))):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, (tuple, list)) and not hasattr(value, "_fields"):
        return [_plain(inner) for inner in value]
    return _record(value)


def _record(value: Any) -> Any:
    if isinstance(value, Sentence):
        return value.say()
    if isinstance(value, Amount):
        return {"value": _plain(value.value), "unit": value.unit}
    if isinstance(value, Reason):
        return {"rule": value.rule.say(), "source": value.source, "steps": [_step(step) for step in value.steps]}
    if is_dataclass(value):
        return {name: _plain(getattr(value, name)) for name in _names(type(value))}
    if isinstance(value, tuple):
        return {name: _plain(inner) for name, inner in value._asdict().items()}
    return value.isoformat() if isinstance(value, date) else str(value)


def _step(step: Step) -> dict[str, Any]:
    said = {"label": step.label.say(), "amount": _plain(step.amount)}
    return {**said, "total": True} if step.total else said


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))
