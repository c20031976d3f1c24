"""What a check that fails means in plain words, and what would put it right, with the figure it would come to."""

import re
from collections.abc import Iterator, Sequence
from math import ceil

from estimating.engine.frame_result import LiftSpan, MemberCheck
from estimating.engine.parts import Lumber
from estimating.engine.reasons import Amount, Finding, Sentence

from .decks import idle_checks
from .sections import Framed, rests, stock_of
from .stringers import bend_on_floats, stringer_checks
from .values import is_wood

MOST_MORE = 4
_NUMBERS = ("", "One", "Two", "Three", "Four")
_PLACE = re.compile(r"\{(\d+)\}")
_STRINGER_KINDS = (
    "stringer_bending",
    "stringer_shear",
    "stringer_bend",
    "span_bending",
    "span_shear",
    "span_deflection",
)
_CURES = {
    "idle_bending": "Put a row of floats under them.",
    "idle_shear": "Put a row of floats under them.",
    "idle_deflection": "Put a row of floats under them.",
    "board_bending": "Put a row of floats under the stringers between.",
    "board_deflection": "Put a row of floats under the stringers between.",
    "cross_bending": "Put the cross members closer, or use deeper ones.",
    "cross_shear": "Put the cross members closer, or use deeper ones.",
    "cross_deflection": "Put the cross members closer, or use deeper ones.",
}
# The design has said this already.
_SAID_ELSEWHERE = ("board_span",)


def and_then(text: str, values: Sequence[Amount | str], last: Sentence) -> Sentence:
    """A sentence that ends in another one.

    >>> and_then("{0}, with {end}.", ("Stringers",), Sentence("{0} on it", ("a horse",))).say()
    'Stringers, with a horse on it.'
    """
    moved = _PLACE.sub(lambda found: "{" + str(int(found[1]) + len(values)) + "}", last.text)
    return Sentence(text.replace("{end}", moved), (*values, *last.values))


def section_findings(
    marks: Sequence[str], framed: Framed, checks: Sequence[MemberCheck], shop: Sequence[Lumber], field: str
) -> list[Finding]:
    """One finding for each member of some like sections that is over or near its limit; the worst of its kinds."""
    worst: dict[str, MemberCheck] = {}
    for check in checks:
        if check.level != "fine" and check.kind not in _SAID_ELSEWHERE:
            family = "stringers" if check.kind in _STRINGER_KINDS else check.kind.split("_")[0]
            kept = worst.get(family)
            if kept is None or (check.level, check.utilisation) > (kept.level, kept.utilisation):
                worst[family] = check
    said = f"Section {marks[0]}" if len(marks) == 1 else f"Sections {', '.join(marks)}"
    return [_finding(said, check, framed, shop, field) for check in worst.values()]


def _finding(said: str, check: MemberCheck, framed: Framed, shop: Sequence[Lumber], field: str) -> Finding:
    if check.kind in _STRINGER_KINDS:
        return _worded(said, check, stringer_cure(framed, shop), field)
    return _worded(said, check, joint_cure(check) or Sentence(_CURES.get(check.kind, "")), field)


def joint_finding(check: MemberCheck) -> Finding:
    """A joint between sections that is over or near its limit."""
    return _worded("Between sections", check, joint_cure(check) or Sentence(""), "")


def _worded(said: str, check: MemberCheck, cure: Sentence, field: str) -> Finding:
    values = (said, check.name[0].lower() + check.name[1:], Amount(check.percent, "percent"))
    headline = and_then("{0}: {1}, at {2} of what is allowed, with {end}.", values, check.where)
    return Finding(check.level, headline, cure, field, check.reason.source, f"frame_{check.kind}")


def joint_cure(check: MemberCheck) -> Sentence | None:
    """More bolts, lags or screws, and what they bring it to."""
    counted = next((s for s in check.reason.steps if s.amount and s.label.text in _COUNTED), None)
    if counted is None:
        return None
    now = int(counted.amount.value)
    more = max(now + 1, ceil(now * check.utilisation - 1e-9)) - now
    percent = Amount(round(check.utilisation * now / (now + more) * 100), "percent")
    one, many = _COUNTED[counted.label.text]
    verb, what = ("brings", one) if more == 1 else ("bring", many)
    return Sentence("{0} more " + what + " there " + verb + " it to {1}.", (Amount(more, "count"), percent))


_COUNTED = {
    "Bolts that carry": ("bolt in each member", "bolts in each member"),
    "Lags": ("lag", "lags"),
    "Screws in an end": ("screw in each end", "screws in each end"),
}


def stringer_cure(framed: Framed, shop: Sequence[Lumber]) -> Sentence:
    """The fewest more stringers, and the least deeper lumber of the shop, that bring all their checks within limits."""
    words = [*_more_stringers(framed), *_deeper(framed, shop)]
    if not words:
        return Sentence("Neither four more stringers nor deeper ones do it: put floats closer, or have it engineered.")
    if len(words) == 1:
        return Sentence(words[0][0] + ".", words[0][1])
    (first, ones), (second, others) = words
    return and_then(first + "; or {end}.", ones, Sentence(second[0].lower() + second[1:], others))


def worst_use(framed: Framed) -> float:
    """The greatest share of any limit that the stringers use."""
    held = rests(framed)
    rows = (*stringer_checks(framed, held, bend_on_floats([(framed, held)])[0]), *idle_checks(framed, held))
    return max((row.utilisation for row in rows), default=0.0)


def _more_stringers(framed: Framed) -> Iterator[tuple[str, tuple[Amount | str, ...]]]:
    count = len(framed.centres_in)
    for more in range(1, MOST_MORE + 1):
        if (framed.width_in - framed.stringer.thickness_in) / (count + more - 1) < framed.stringer.thickness_in + 1:
            return
        used = worst_use(framed.with_stringers(count + more))
        if used <= 1:
            many = "stringer brings" if more == 1 else "stringers bring"
            yield f"{_NUMBERS[more]} more {many} it to {{0}}", (Amount(round(used * 100), "percent"),)
            return


def _deeper(framed: Framed, shop: Sequence[Lumber]) -> Iterator[tuple[str, tuple[Amount | str, ...]]]:
    now = framed.stringer
    choices = [
        item
        for item in shop
        if not item.decking
        and is_wood(item.species)
        and abs(item.thickness_in - now.thickness_in) < 0.01
        and item.width_in > now.depth_in + 0.01
        and any(stick.length_in + item.trusted_over_in >= framed.length_in for stick in item.sticks)
    ]
    for item in sorted(choices, key=lambda item: item.width_in):
        used = worst_use(framed.with_stock(stock_of(item)))
        if used <= 1:
            yield "Stringers of {0} bring it to {1}", (item.name, Amount(round(used * 100), "percent"))
            return


def lift_finding(marks: Sequence[str], lift: LiftSpan, field: str) -> Finding | None:
    """How to lift like sections that are not to be lifted at their ends."""
    if lift.at_ends:
        return None
    said = f"Section {marks[0]}" if len(marks) == 1 else f"Sections {', '.join(marks)}"
    state = "with its floats and deck" if lift.state == "whole" else "as a bare frame"
    weight = Amount(round(lift.weight_lb), "lb")
    if lift.longest_between_in is None:
        text = "{0}, {1}, {2} wet: no two slings lift it without overstress."
        cure = Sentence("Lift it bare, on more slings, or on a beam that holds it along its length.")
        return Finding("stop", Sentence(text, (said, state, weight)), cure, field, "STATICS", "frame_lift")
    text = "{0}, {1}, {2} wet: lifted at its ends it is overstressed."
    # Rounded inwards to whole inches, so that the words are never past the figure.
    near, far = ceil(lift.shortest_between_in), int(lift.longest_between_in)
    cure = Sentence("Put the two slings between {0} and {1} apart.", (Amount(near, "in"), Amount(far, "in")))
    return Finding("note", Sentence(text, (said, state, weight)), cure, field, "STATICS", "frame_lift")
