"""What is wrong with what holds a dock, in plain words, and what puts it right."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, sqrt

from estimating.engine.listing import several
from estimating.engine.mooring_result import AnchorHold, MooringProof, PullDown
from estimating.engine.parts import MooringRules
from estimating.engine.reasons import Amount, Finding, Sentence

from .bottoms import CONCRETE_LB_PER_CUFT, grip_of
from .chains import UNKNOWN_LB_PER_FT
from .holding import NEAR

WORTH_SAYING_IN = 1.0
MUCH_OF_FREEBOARD = 0.25
UPLIFT_SHARE = 0.5  # of the weight under water, from here on an anchor is nearly lifted: common practice, no source
BLOCK_STEP_LB = 50.0
FALL_WORTH_A_VISIT_IN = 24.0


def mooring_findings(proof: MooringProof, rules: MooringRules, water_lb_per_cuft: float) -> MooringProof:
    """The proof with its findings, gravest first."""
    found = [
        *_dragging(proof.anchors, rules, water_lb_per_cuft),
        *_lifted(proof.anchors),
        *_chain_loads(proof.anchors, rules),
        *_pulled_down(proof.pulls),
        *_unheld(proof),
        *_unsettled(proof),
        *_dry(proof.anchors),
        *_bottoms(proof.anchors),
        *_waves(proof, rules),
        *_resets(proof, rules),
        *_crossed(proof),
    ]
    order = ("stop", "check", "note")
    return replace(proof, findings=tuple(sorted(found, key=lambda finding: order.index(finding.level))))


def _dragging(anchors: Sequence[AnchorHold], rules: MooringRules, water_lb: float) -> Iterator[Finding]:
    over = [anchor for anchor in anchors if anchor.holding_share > 1 + 1e-9 and not _short(anchor)]
    if not over:
        return
    worst = max(over, key=lambda anchor: anchor.holding_share)
    row = worst.at(worst.worst)
    drags = worst.holding_share > rules.holding_factor + 1e-9
    held_lb = row.pull_lb * rules.holding_factor / worst.holding_share
    said = "{0} drag" if drags else "{0} hold with little to spare"
    said = said if len(over) > 1 else said.replace(" drag", " drags").replace(" hold", " holds")
    text = said + " in a wind of {1}: {2} pull on anchor {3}, and pulled that way it holds {4}."
    values = (_named(over), Amount(rules.wind_mph, "mph"), _lb(row.pull_lb), worst.mark, _lb(held_lb))
    cure = Sentence(
        "It holds in about {0}. Lay its chain flatter, set about {1} of concrete, or have others set piles or cables.",
        (_wind(rules.wind_mph * sqrt(held_lb / row.pull_lb)), _lb(_weight_wanted_lb(worst, rules, water_lb))),
    )
    level = "stop" if drags else "check"
    yield Finding(level, Sentence(text, values), cure, "anchors", "DM_7_02", "anchor_drags")


def _wind(speed_mph: float) -> Amount:
    return Amount(round(speed_mph), "mph")


def _lb(value: float) -> Amount:
    return Amount(round(value), "lb")


def _weight_wanted_lb(anchor: AnchorHold, rules: MooringRules, water_lb: float) -> float:
    """Dry concrete that resists this anchor's worst pull by the firm's factor, rounded up to 50 lb."""
    row = anchor.at(anchor.worst)
    sunk = rules.holding_factor * (row.pull_lb / anchor.friction + (row.uplift_lb or 0.0))
    return BLOCK_STEP_LB * ceil(sunk / (1 - water_lb / CONCRETE_LB_PER_CUFT) / BLOCK_STEP_LB)


def _lifted(anchors: Sequence[AnchorHold]) -> Iterator[Finding]:
    lifted = [a for a in anchors if not _short(a) and _most_uplift(a) > UPLIFT_SHARE * a.under_water_lb]
    if lifted:
        worst = max(lifted, key=lambda anchor: _most_uplift(anchor) / max(anchor.under_water_lb, 1e-9))
        off = _most_uplift(worst) >= worst.under_water_lb
        values = (worst.mark, _lb(_most_uplift(worst)), _lb(worst.under_water_lb))
        text = "The chain lifts anchor {0} by {1}; under water it weighs {2}."
        cure = Sentence("Lay the chain flatter and longer, so that its end lies on the bottom, or set more weight.")
        level = "stop" if off else "check"
        yield Finding(level, Sentence(text, values), cure, "anchors", "CATENARY", "anchor_lifted")


def _chain_loads(anchors: Sequence[AnchorHold], rules: MooringRules) -> Iterator[Finding]:
    if any(not anchor.chain_weighed for anchor in anchors):
        headline = Sentence(
            "What the chain weighs is not in the catalogue: {0} is taken.", (Amount(UNKNOWN_LB_PER_FT, "lb_per_ft"),)
        )
        cure = Sentence("Weigh a few feet of it, or give its size there.")
        yield Finding("check", headline, cure, "", "COMMON_PRACTICE", "chain_weight_unknown")
    unknown = [anchor for anchor in anchors if anchor.chain_share is None]
    if unknown:
        headline = Sentence("What the chain may carry is not in the catalogue.")
        cure = Sentence("Give the chain its grade and size there, or its working load limit.")
        yield Finding("check", headline, cure, "", "CHAIN_LIMITS", "chain_limit_unknown")
    over = [a for a in anchors if a.chain_share is not None and a.chain_share > NEAR and not _short(a)]
    if over:
        worst = max(over, key=lambda anchor: anchor.chain_share)
        allowed = worst.working_load_lb * rules.chain_share_percent / 100
        values = (worst.mark, _lb(worst.most_tension_lb or 0.0), _lb(allowed))
        cure = Sentence("Take a heavier chain or a higher grade, and lay it flatter.")
        headline = Sentence("The chain of anchor {0} is pulled with {1}; it may carry {2}.", values)
        level = "stop" if worst.chain_share > 1 + 1e-9 else "check"
        yield Finding(level, headline, cure, "anchors", "CHAIN_LIMITS", "chain_overloaded")


def _pulled_down(pulls: Sequence[PullDown]) -> Iterator[Finding]:
    for pull in pulls:
        if pull.lower_in < WORTH_SAYING_IN:
            continue
        marks = several(pull.sections)
        values = (_lb(pull.worst_lb), marks, Amount(round(pull.lower_in, 1), "in_small"), pull.level)
        text = "Chains pull {1} down with {0} at {3} water: it floats {2} lower."
        cure = Sentence(
            "Wet and empty it has {0} of freeboard without them. Lighter chain, or floats near its corners.",
            (Amount(round(pull.freeboard_in, 1), "in_small"),),
        )
        yield Finding(_pull_level(pull), Sentence(text, values), cure, "anchors", "ARCHIMEDES", "chain_pulls_down")


def _pull_level(pull: PullDown) -> str:
    if pull.worst_lb > max(pull.spare_lb, 0.0) or pull.lower_in > pull.freeboard_in:
        return "stop"
    return "check" if pull.lower_in > MUCH_OF_FREEBOARD * pull.freeboard_in else "note"


def _unheld(proof: MooringProof) -> Iterator[Finding]:
    loose = [dock for dock in proof.docks if not dock.anchors]
    if proof.anchors and loose:
        marks = several([mark for dock in loose for mark in dock.sections])
        headline = Sentence("No anchor holds {0}.", (f"section{'' if len(marks) == 1 else 's'} {marks}",))
        cure = Sentence("Give every separate dock two anchors or more, or say what holds it.")
        yield Finding("check", headline, cure, "anchors", "COMMON_PRACTICE", "dock_unheld")


def _unsettled(proof: MooringProof) -> Iterator[Finding]:
    lost = [drift for dock in proof.docks for drift in dock.drifts if not drift.settled]
    if lost:
        levels = several(list(dict.fromkeys(drift.level for drift in lost)))
        headline = Sentence("Where the dock would lie at {0} water could not be worked out for every wind.", (levels,))
        cure = Sentence("Its figures there are rough. Spread the anchors, or have an engineer look at it.")
        yield Finding("check", headline, cure, "anchors", "STATICS", "mooring_unsettled")


def _dry(anchors: Sequence[AnchorHold]) -> Iterator[Finding]:
    dry = [anchor for anchor in anchors if anchor.levels[0].depth_in <= 0]
    if dry:
        words = "falls" if len(dry) == 1 else "fall"
        headline = Sentence("{0} " + words + f" dry at {dry[0].levels[0].level} water.", (_named(dry),))
        cure = Sentence("Set further out, or mark the place: somebody will run onto it.")
        yield Finding("check", headline, cure, "anchors", "COMMON_PRACTICE", "anchor_dry")


def _bottoms(anchors: Sequence[AnchorHold]) -> Iterator[Finding]:
    for bottom in dict.fromkeys(anchor.bottom for anchor in anchors):
        grip = grip_of(bottom)
        if grip.words is not None:
            on = [anchor for anchor in anchors if anchor.bottom == bottom]
            text = "Bottom at {0}: {1}. It is reckoned to rub by {2}, no more."
            headline = Sentence(text, (_named(on).lower(), bottom, Amount(grip.friction, "count")))
            field = "place.bottom" if bottom == "unknown" else "anchors"
            yield Finding("check", headline, grip.words, field, grip.source, "bottom_unsure")


def _waves(proof: MooringProof, rules: MooringRules) -> Iterator[Finding]:
    sea = proof.exposure
    if sea is None or not proof.anchors:
        return
    if sea.height_in > rules.waves_in + 1e-9:
        values = (Amount(round(sea.height_in, 1), "in_small"), Amount(rules.wave_wind_mph, "mph"))
        text = "Waves of {0} in a wind of {1}: more than the slack the chains have for waves."
        cure = Sentence("Put more slack for waves in the firm's rules, or longer chain here, and use heavier joints.")
        yield Finding("check", Sentence(text, values), cure, "anchors", "CEM_WAVES", "waves_over_slack")


def _resets(proof: MooringProof, rules: MooringRules) -> Iterator[Finding]:
    if not proof.resets:
        return
    if -proof.levels[0].rise_in < FALL_WORTH_A_VISIT_IN:
        return
    first, limit = min(proof.resets, key=lambda reset: reset.fall_in), Amount(rules.wander_in, "in")
    headline = Sentence("From normal level down a corner can wander more than {0}.", (limit,))
    if first.fall_in > 0:
        text = "From {1} below normal a corner can wander more than {0}."
        headline = Sentence(text, (limit, Amount(first.fall_in, "ft_level")))
    cure = Sentence("Plan visits to take up chain as the water falls, and to let it out before it comes back.")
    yield Finding("note", headline, cure, "anchors", "COMMON_PRACTICE", "reset_chains")


def _crossed(proof: MooringProof) -> Iterator[Finding]:
    if proof.crossed:
        pairs = several([f"{one} and {other}" for one, other in proof.crossed])
        headline = Sentence("Chains cross: {0}.", (pairs,))
        cure = Sentence(
            "Crossed under the dock they curb its wander. Keep them deep enough for propellers and swimmers."
        )
        yield Finding("note", headline, cure, "anchors", "COMMON_PRACTICE", "chains_cross")


def _short(anchor: AnchorHold) -> bool:
    """Too short to be slack: that is said where chain is measured, and what it holds is no longer the question."""
    return any(row.short_in > 0 for row in anchor.levels)


def _most_uplift(anchor: AnchorHold) -> float:
    return max(row.uplift_lb or 0.0 for row in anchor.levels)


def _named(anchors: Sequence[AnchorHold]) -> str:
    marks = [anchor.mark for anchor in anchors]
    return f"Anchor{'' if len(marks) == 1 else 's'} {several(marks)}"
