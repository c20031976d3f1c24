"""Steps in order, tools and cautions of each stage. Common practice; every shop checks its own local rules."""

import re
from fractions import Fraction

from contractor.company import current
from estimating.quotes.documents.promises import people_limit

from .facts import Work, cut, pounds, tolerance

LOCAL = "Local rules and the supplier’s sheets go before this list."
BOLT_SIZE = re.compile(r"(\d+/\d+)\s*[x×]")  # in the name of a bolt: 1/2 × 2-1/2
MM = Fraction(254, 10)
HINGED = ("hinged_joint", "ramp_dock_end")
WOOD = "Treated wood: gloves, eye cover, dust mask. Never burn offcuts."


def steps_of(work: Work) -> tuple[str, ...]:
    """What to do, in order."""
    return STEPS[work.stage](work)


def tools_of(work: Work) -> str:
    return TOOLS[work.stage]


def safety_of(work: Work) -> tuple[str, ...]:
    """The caution that stands before anything else on the sheet."""
    return (*SAFETY[work.stage](work), LOCAL)


def _layout(work: Work) -> tuple[str, ...]:
    return (
        "Flat ground. Sort the sticks: best ones for the outer stringers.",
        "Mark every crown, and turn all crowns up.",
        "Lay out each section dry. Mark each piece with its letter.",
        "Mark the joints as drawn. Mates across a joint carry the same number.",
        f"Measure both diagonals: within {tolerance(0.25)}.",
        "Mark which face takes the plates. Tag the sections.",
    )


def _framing(work: Work) -> tuple[str, ...]:
    inch = current.units() == "imperial"
    tack, (plate, wood) = "3 in" if inch else "75 mm", _holes(work)
    hinged = any(joint.place in HINGED for joint in work.estimate.design.joints)
    return (
        "Best sticks outside, crowns up. Bevel the outside corners lightly.",
        f"Cut to the list. Tack with {tack} screws. Rack square.",
        "Clamp the plates as on the joint cards. Backers behind mates.",
        f"Plate holes are {plate}. Drill the wood {wood}.",
        "Bolts: round head out, lock washer and nut on each. Not tight yet.",
        f"Measure both diagonals: within {tolerance(0.25)}. Then tighten, and measure again.",
        *(("Check each hinge half against its card before it is bolted.",) if hinged else ()),
        "Tag every frame with the job and its letter.",
    )


def _holes(work: Work) -> tuple[str, str]:
    """Holes for the bolts this dock takes: 1/16 in wider through plates, 1/8 in through wood. Common practice."""
    inch = current.units() == "imperial"
    names = {work.name(joint.bolt) for joint in work.estimate.design.joints if joint.bolts}
    sizes = {found[1] for name in names if (found := BOLT_SIZE.search(name))}
    if len(sizes) != 1:
        plate, wood = ("1/16 in", "1/8 in") if inch else ("2 mm", "3 mm")
        return f"{plate} wider than the bolt", f"{wood} wider than the bolt"
    wide = Fraction(sizes.pop())
    plate, wood = (wide + Fraction(n, 16) for n in (1, 2))
    return (f"{plate} in", f"{wood} in") if inch else (f"{round(plate * MM)} mm", f"{round(wood * MM)} mm")


def _flotation(work: Work) -> tuple[str, ...]:
    return (
        "Frame upside down on blocks. The map is seen from above: mirror it.",
        "Set each float on its figures, tight to the cross members.",
        "A board between bit and float, a stop collar on the bit.",
        "Pilot holes into wood only. A lag in air holds nothing.",
        "A large flat washer under every lag. Snug, not crushed.",
        "Write down serials or lot. Photograph the underside.",
        "Turn it over with enough hands or the hoist.",
    )


def _launch(work: Work) -> tuple[str, ...]:
    return (
        "Read the water level and write it down.",
        "Life jackets, ring buoy, rescue boat: before anyone is on the water.",
        "Move section by section. Keep hands out from under.",
        "Watch each float for ten minutes: none may take water.",
        "Pin the joints, the same numbers facing each other.",
        "Tie up both ends. Nobody stays on an unanchored dock in wind.",
    )


def _decking(work: Work) -> tuple[str, ...]:
    gap = next((run.gap_in for run in work.estimate.design.boards), 0.125)
    return (
        "Hook up to a fixed dock first, before any board.",
        "Start where the drawing says, square to the frame. Crown up.",
        f"Gap {cut(gap)} for dry boards. Wet boards tight: they shrink to a gap.",
        "Two screws at each crossing, heads just below the surface.",
        "Boards over a joint: screws only, no glue, marked. They come up again.",
        "Rip the last board as the table says. Sand the sawn edge.",
    )


def _anchoring(work: Work) -> tuple[str, ...]:
    return (
        "Read the water level and write it down.",
        "Go or stay: wind, lightning, sight, water temperature, rescue boat.",
        f"Bolt the retainers as on the card, holes in wood {_holes(work)[1]}.",
        "Sound the depth at each place before the weight goes over.",
        "Lower the weight; never throw it. Nobody stands in the chain’s loop.",
        "Lay the chain out as the table says. Every chain slack.",
        "Seat the link, tie the spare end, mark the link.",
        "Measure the freeboards with nobody aboard.",
    )


def _handover(work: Work) -> tuple[str, ...]:
    return (
        "Walk the dock with the customer. Write down what is not right.",
        "Read the water level. Measure every corner with nobody aboard.",
        f"Tell the limits: people, boats, ice. {_limit(work)}",
        "Give the care sheet. Say when the first check is.",
        "Photograph the dock from both sides and from the shore.",
        "Customer signs.",
    )


def _limit(work: Work) -> str:
    proof = work.estimate.afloat
    if proof is None:
        return "Post the limit on the dock."
    return f"Post on the dock: {people_limit(proof) or 'nobody on it.'}"


STEPS = {
    "layout": _layout,
    "framing": _framing,
    "flotation": _flotation,
    "launch": _launch,
    "decking": _decking,
    "anchoring": _anchoring,
    "handover": _handover,
}
TOOLS = {
    "layout": "Two long tapes, square, string line, lumber crayon, blocks.",
    "framing": "Saw, drill, bits, clamps, sockets and ratchet, torque by hand, long tape, square, plane.",
    "flotation": "Drill, pilot bit with stop collar, guard board, socket, blocks, hoist or hands, paint pen.",
    "launch": "Trailer or rollers, lines, fenders, pins, mallet, life jackets, ring buoy, rescue boat.",
    "decking": "Saw, driver and spare bits, spacers, string line, square, pry bar.",
    "anchoring": "Workboat, winch or davit, sounding line, tape, shackle key, wire, gloves, life jackets, ring buoy.",
    "handover": "Tape, level staff, camera, care sheet, limit plate, pens.",
}


def _bare(work: Work) -> str:
    lifts = work.estimate.afloat.lifts if work.estimate.afloat else ()
    if not lifts:
        return ""
    heavy = max(lifts, key=lambda lift: lift.bare_lb)
    return f"A bare frame is up to {pounds(heavy.bare_lb)}: {heavy.hands_bare} people or the hoist."


def _whole(work: Work) -> str:
    lifts = work.estimate.afloat.lifts if work.estimate.afloat else ()
    if not lifts:
        return ""
    heavy = max(lifts, key=lambda lift: lift.whole_lb)
    return f"A section is up to {pounds(heavy.whole_lb)}: the hoist, or {heavy.hands_whole} people."


def _on_the_water() -> tuple[str, ...]:
    line, apart = ("90 ft", "200 ft") if current.units() == "imperial" else ("27 m", "60 m")
    return (
        "Life jackets on, looked over before and after. Never alone.",
        f"Ring buoy with {line} of line, at most {apart} apart. Rescue boat at hand, its operator named.",
        "Off the water for lightning, poor sight, or wind over the shop’s limit. Cold water takes useful hands "
        "in about ten minutes.",
    )


SAFETY = {
    "layout": lambda work: (WOOD, _bare(work)),
    "framing": lambda work: ("Eyes and ears covered.", WOOD, _bare(work)),
    "flotation": lambda work: (_whole(work), "Nobody under a frame that hangs or leans."),
    "launch": lambda work: (*_on_the_water(), _whole(work)),
    "decking": lambda work: ("Eyes and ears covered.", WOOD, "Afloat: life jackets on, never alone."),
    "anchoring": lambda work: (*_on_the_water(), "Weights by winch, hands clear of the chain."),
    "handover": lambda work: (
        "Life jackets on near the edge. Crowded docks tip: keep within the limit.",
        "Power at the dock is for a licensed electrician. Nobody swims near a powered dock.",
    ),
}
