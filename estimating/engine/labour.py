"""Worker-hours by stage and task: the firm's rates, times what the design asks for, times what the site does to it."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, ROUND_UP, Decimal

from .cents import HUNDREDTH, exact, up_to_step
from .needs import STAGES
from .parts import Catalogue, FirmRules, LabourFactor, LabourRate
from .reasons import Amount, Fault, Reason, Sentence, SpecFaults, Step
from .result import Design, Labour, LabourLine
from .spec import Place

STAGE_WORDS = {"handover": "Hand-over"}
WATER_STAGES = ("launch", "anchoring")
FRAME_BOLT_PLACES = ("outer_corner", "inner_corner", "tee", "rigid_joint")
CARRY_OVER_IN = 1200.0
COLD_BELOW_F = 50.0
LAUNCH_FIRST_LB = 1000.0
WATER_CREW = 2
ONE = Decimal(1)
NONE = Decimal(0)


@dataclass(frozen=True, slots=True)
class Task:
    """So much of a task at the firm's rate for it."""

    rate: LabourRate
    quantity: Decimal
    rule: Sentence
    typed: bool = False  # hours the estimator gave: no factor touches them


def labour(design: Design, catalogue: Catalogue, rules: FirmRules) -> Labour:
    """Hours by stage and task, the hours as priced, and the hours on the road.

    Rule: hours per unit times quantity, times the factors the site asks for, each line to 0.01 h; the sum is rounded
    up to the firm's step. Raises SpecFaults for a rate the engine has no quantity for. Source: STARTER_HOURS until the
    firm's own records replace them.
    """
    factors = _factors_by_stage(design.spec.place, rules)
    lines = [_line(task, factors[task.rate.stage]) for task in _tasks(design, catalogue, rules) if task.quantity > 0]
    before = sum((line.hours for line in lines), NONE)
    days = working_days(before, design.spec.work.crew_size, rules)
    key_in = _rate(rules, "key_in")
    if key_in and days:
        words = Sentence(
            "{0} of work for a crew of {1}.", (Amount(before, "h"), Amount(design.spec.work.crew_size, "count"))
        )
        lines.append(_line(Task(key_in, Decimal(days), words), ()))
    lines.sort(key=lambda line: STAGES.index(line.stage))
    net = sum((line.hours for line in lines), NONE)
    stages = tuple((stage, sum((line.hours for line in lines if line.stage == stage), NONE)) for stage in STAGES)
    hours = up_to_step(net, rules.hours_rounding)
    travel = travel_hours(design, net, stages, rules)
    return Labour(tuple(lines), stages, net, hours, travel, _reason(stages, net, hours))


def working_days(hours: Decimal, crew_size: int, rules: FirmRules) -> int:
    """Days a crew needs for so many worker-hours, the last one begun counted whole."""
    return int((hours / (crew_size * rules.day_hours)).to_integral_value(ROUND_UP))


def trips(design: Design, net_hours: Decimal, rules: FirmRules) -> int:
    """Trips to the site as the estimator gave them, or one for each working day."""
    work = design.spec.work
    return work.trips if work.trips is not None else working_days(net_hours, work.crew_size, rules)


def travel_hours(
    design: Design, net_hours: Decimal, stages: tuple[tuple[str, Decimal], ...], rules: FirmRules
) -> Decimal:
    """Worker-hours on the road: as given, or trips there and back at the firm's speed for everyone in the truck.

    A crew of one takes a second person along on the days of work on the water. Rounded up to the firm's step.
    """
    work, miles = design.spec.work, design.spec.place.one_way_miles
    if work.travel_hours is not None:
        return work.travel_hours
    if not miles:
        return NONE
    count = trips(design, net_hours, rules)
    seats = count * work.crew_size
    if design.anchors and work.crew_size < WATER_CREW:
        anchoring = dict(stages)["anchoring"]
        seats += min(count, working_days(anchoring, WATER_CREW, rules)) * (WATER_CREW - work.crew_size)
    return up_to_step(seats * 2 * exact(miles) / rules.travel_mph, rules.hours_rounding)


def _tasks(design: Design, catalogue: Catalogue, rules: FirmRules) -> list[Task]:
    quantities = _quantities(design)
    tasks = []
    for index, rate in enumerate(rules.labour_rates):
        if rate.code == "key_in":
            continue
        if rate.code not in quantities:
            words = Sentence("The engine counts nothing it could multiply the rate “{0}” by.", (rate.code,))
            raise SpecFaults([Fault(f"rules.labour_rates[{index}].code", words)])
        quantity, rule = quantities[rate.code]
        tasks.append(Task(rate, quantity, rule))
    if design.spec.work.launch_hours is not None:
        tasks = [task for task in tasks if task.rate.stage != "launch"]
        given = LabourRate("launch", "launch", "Launch", design.spec.work.launch_hours, "job", "FIRM")
        tasks.append(Task(given, ONE, Sentence("Hours as given on the spec."), typed=True))
    return tasks + _fitting(design, catalogue)


def _quantities(design: Design) -> dict[str, tuple[Decimal, Sentence]]:
    """What each rate is multiplied by, and how it was counted."""
    sections, joints, ramp = design.spec.sections, design.joints, design.ramp
    area = sum(section.length_in * section.width_in for section in sections) / 144
    bolts = sum(joint.bolts for joint in joints if joint.place in FRAME_BOLT_PLACES)
    built, bought = bool(ramp and not ramp.bought_item), bool(ramp and ramp.bought_item)
    over_ft = max(0.0, ramp.length_in / 12 - 4) if ramp and built else 0.0
    load = launch_lb(design)
    further = max(0.0, load - LAUNCH_FIRST_LB) / 1000
    crew = Amount(WATER_CREW, "count")
    return {
        "layout": (Decimal(len(sections)), Sentence("One for each section.")),
        "frame_area": (
            exact(area, 2),
            Sentence("Length × width of every frame: cutting, tacking and squaring grow with its size."),
        ),
        "frame_bolt": (
            Decimal(bolts),
            Sentence("Bolts at corners, tees and rigid joints; hinges have their own rate."),
        ),
        "hinged_joint": (
            Decimal(sum(joint.place == "hinged_joint" for joint in joints)),
            Sentence("One for each hinged joint, its bolts included."),
        ),
        "ramp": (Decimal(built), Sentence("One for a ramp built of lumber, its hinge bolts included.")),
        "ramp_over_4_ft": (exact(over_ft, 2), Sentence("The ramp's length beyond 4 ft.")),
        "ramp_bought": (Decimal(bought), Sentence("One for a bought ramp.")),
        "float": (Decimal(len(design.floats)), Sentence("One for each float.")),
        "launch": (ONE, Sentence("Covers the first {0}.", (Amount(LAUNCH_FIRST_LB, "lb"),))),
        "launch_more": (
            exact(further, 2),
            Sentence("The dock weighs {0} wet at launch.", (Amount(round(load), "lb"),)),
        ),
        "decking": (exact(design.deck_area_sqft, 2), Sentence("Deck area.")),
        "anchor": (
            Decimal(len(design.anchors)),
            Sentence("One for each anchor. At least {0} people on the water, never one alone.", (crew,)),
        ),
        "handover": (ONE, Sentence("Once a job.")),
    }


def launch_lb(design: Design) -> float:
    """What goes into the water, wet, without the people: every section with its floats, hardware and accessories."""
    return sum(w.frame_wet_lb + w.deck_wet_lb + w.hardware_lb + w.accessories_lb + w.floats_lb for w in design.weights)


def _fitting(design: Design, catalogue: Catalogue) -> list[Task]:
    counts: dict[str, int] = {}
    for placed in design.accessories:
        counts[placed.item] = counts.get(placed.item, 0) + placed.quantity
    tasks = []
    for code, count in counts.items():
        good = catalogue.goods[code]
        rate = LabourRate(code, "decking", f"Fit {good.name}", good.labour_h, "piece", "FIRM")
        tasks.append(Task(rate, Decimal(count) if good.labour_h else NONE, Sentence("One for each piece.")))
    return tasks


def _rate(rules: FirmRules, code: str) -> LabourRate | None:
    return next((rate for rate in rules.labour_rates if rate.code == code), None)


def _factors_by_stage(place: Place, rules: FirmRules) -> dict[str, tuple[LabourFactor, ...]]:
    asked = {
        "island": place.island,
        "carry_over_100_ft": (place.carry_in or 0) > CARRY_OVER_IN,
        "water_below_50_f": place.water_temp_f is not None and place.water_temp_f < COLD_BELOW_F,
    }
    return {
        stage: tuple(
            factor
            for factor in rules.labour_factors
            if asked[factor.when] and (factor.when != "water_below_50_f" or stage in WATER_STAGES)
        )
        for stage in STAGES
    }


def _line(task: Task, factors: tuple[LabourFactor, ...]) -> LabourLine:
    factors = () if task.typed else factors
    factor = ONE
    for one in factors:
        factor *= one.factor
    rate = task.rate
    hours = (rate.hours_per_unit * task.quantity * factor).quantize(HUNDREDTH, ROUND_HALF_UP)
    words = Sentence(
        "{0} {1} × {2} h", (Amount(task.quantity, "count"), rate.unit, f"{rate.hours_per_unit.normalize():f}")
    )
    plain = (rate.hours_per_unit * task.quantity).quantize(HUNDREDTH, ROUND_HALF_UP)
    steps = (
        Step(words, Amount(plain, "h")),
        *(Step(Sentence("{0}: × {1}", (one.name, f"{one.factor.normalize():f}"))) for one in factors),
        Step(Sentence("Hours"), Amount(hours, "h"), total=True),
    )
    reason = Reason(task.rule, rate.source, steps)
    return LabourLine(rate.stage, rate.task, task.quantity, rate.unit, rate.hours_per_unit, factor, hours, reason)


def _reason(stages: tuple[tuple[str, Decimal], ...], net: Decimal, hours: Decimal) -> Reason:
    steps = [
        Step(Sentence(STAGE_WORDS.get(stage, stage.capitalize())), Amount(amount, "h"))
        for stage, amount in stages
        if amount
    ]
    if hours != net:
        steps.append(Step(Sentence("Rounded up"), Amount(hours - net, "h")))
    steps.append(Step(Sentence("Hours as priced"), Amount(hours, "h"), total=True))
    return Reason(Sentence("Hours by stage, rounded up by the firm's step."), "STARTER_HOURS", tuple(steps))
