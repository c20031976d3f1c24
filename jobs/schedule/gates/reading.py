"""From what is known to the earliest start of a stage and the one gate that governs it."""

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import get_args

from .days import FURTHEST, ONE_DAY, cancellation_ends, days_from, inside_windows
from .facts import Gate, Gates, Kind, PermitFacts, StageFacts

STAGE_NAMES = {
    "layout": "layout",
    "framing": "framing",
    "flotation": "flotation",
    "launch": "launch",
    "decking": "decking",
    "anchoring": "anchoring",
    "handover": "hand-over",
}
YARD_STAGES = frozenset({"layout", "framing"})
WATER_STAGES = frozenset({"launch", "anchoring"})
PEOPLE_ON_WATER = 2
RANK: dict[str, int] = {kind: place for place, kind in enumerate(get_args(Kind))}


def order_of(*, launch_first: bool) -> tuple[str, ...]:
    """The stages in the order they are built. Launch may fall before or after decking; the rest is fixed."""
    middle = ("launch", "decking") if launch_first else ("decking", "launch")
    return ("layout", "framing", "flotation", *middle, "anchoring", "handover")


def in_yard(stage: str, *, built_in_yard: bool) -> bool:
    """Prefabrication: it may start before the permit."""
    return built_in_yard and stage in YARD_STAGES


def in_water(stage: str, *, launch_first: bool) -> bool:
    """Work on the water: windows, ice, level, and never one person alone."""
    return stage in WATER_STAGES or (stage == "decking" and launch_first)


def read_gates(facts: StageFacts) -> Gates:
    """Every gate of a stage, the earliest start they leave, and the one that governs it.

    A gate that opens on a day of its own gives that day; a gate that comes and goes (windows, ice, level, a crew that
    is taken) gives the first day from there on that it allows. Source: COMMON_PRACTICE; the firm's own rules.
    """
    dated = [gate for read in _DATED for gate in read(facts)]
    unknown = [gate for gate in dated if gate.opens is None]
    if unknown:
        first = min(unknown, key=lambda gate: RANK[gate.kind])
        return Gates(None, first.words, first.kind, tuple(dated))
    return _past_recurring(facts, dated, _latest(dated, facts.today))


def _latest(dated: list[Gate], today: date) -> Gate:
    """The gate that opens last, from today on; of several on one day the first in the order of the trade."""
    nothing = Gate("today", today, "Nothing is in the way.", met=True)
    ahead = [gate for gate in dated if gate.opens and (gate.opens > today or (gate.opens == today and not gate.met))]
    return max([nothing, *ahead], key=lambda gate: (gate.opens, gate.kind != "today", -RANK[gate.kind]))


def _past_recurring(facts: StageFacts, dated: list[Gate], start: Gate) -> Gates:
    """Moves on from the day the dated gates leave until every recurring one allows it too."""
    recurring = _recurring(facts)
    day = begun = start.opens or facts.today
    governor, pushed = start, dict[str, Gate]()
    while shut := next((one for one in recurring if not one[1](day)), None):
        kind, allows, words = shut
        opens = next((later for later in days_from(day + ONE_DAY) if allows(later)), None)
        if opens is None or (opens - begun).days > FURTHEST:
            gate = Gate(kind, None, words(day, None))
            return Gates(None, gate.words, kind, (*dated, gate))
        pushed[kind] = Gate(kind, opens, words(day, opens))
        governor = pushed[kind] if kind != "workday" or governor.kind == "today" else governor
        day = opens
    settled = [
        pushed.get(kind) or Gate(kind, day, words(day, day), met=_is_sure(kind, facts))
        for kind, _, words in recurring
        if kind != "workday" or governor.kind == "workday"
    ]
    return Gates(day, governor.words, governor.kind, (*dated, *settled))


def _is_sure(kind: str, facts: StageFacts) -> bool:
    if kind == "ice":
        return all(one.seen for one in facts.ice if one.opens.year == facts.today.year)
    return kind != "level" or bool(facts.level and facts.level.measured)


# Gates that open once, on a day of their own.


def _signature(facts: StageFacts) -> Iterable[Gate]:
    if facts.signed_on is None:
        yield Gate("signature", None, "No quote is signed yet.")
        return
    yield Gate(
        "signature", facts.signed_on, f"Signed {facts.say_day(facts.signed_on)}.", met=facts.signed_on <= facts.today
    )
    last = cancellation_ends(facts.signed_on, facts.cancellation, facts.holidays)
    if last is None:
        return
    if "cancellation" in facts.waived:
        yield Gate("cancellation", facts.signed_on, "The owner starts before the time to cancel is over.", met=True)
        return
    words = f"The customer may cancel until {facts.say_day(last)}."
    over = last < facts.today
    yield Gate(
        "cancellation", last + ONE_DAY, f"The time to cancel ended {facts.say_day(last)}." if over else words, over
    )


def _deposit(facts: StageFacts) -> Iterable[Gate]:
    deposit = facts.deposit
    if deposit.due <= 0:
        return
    if deposit.is_in:
        cleared = deposit.cleared_on or facts.today
        yield Gate("deposit", cleared, f"The deposit cleared {facts.say_day(cleared)}.", met=cleared <= facts.today)
    elif "deposit" in facts.waived:
        yield Gate("deposit", facts.today, "The owner starts without the deposit.", met=True)
    else:
        owed = deposit.due - deposit.cleared
        yield Gate("deposit", None, f"The deposit: {owed:,.2f} has not cleared.")


def _permit(facts: StageFacts) -> Iterable[Gate]:
    if in_yard(facts.stage, built_in_yard=facts.built_in_yard):
        return
    if facts.permits is None:
        yield Gate("permit", None, "Nobody noted whether a permit is needed.")
        return
    for permit in facts.permits:
        if permit.needed:
            yield _one_permit(permit, facts)


def _one_permit(permit: PermitFacts, facts: StageFacts) -> Gate:
    of, say = f"the permit of {permit.authority}", facts.say_day
    if permit.issued_on is None:
        if permit.applied_on is None:
            return Gate("permit", None, f"Waiting for {of}: not applied for.")
        if permit.expected_on is None:
            return Gate("permit", None, f"Waiting for {of}: applied for, no date given.")
        opens = max(permit.expected_on, permit.starts_on or permit.expected_on)
        if opens < facts.today:
            return Gate("permit", None, f"Waiting for {of}: it was expected {say(permit.expected_on)}.")
        return Gate("permit", opens, f"Waiting for {of}, expected {say(opens)}.")
    if permit.expires_on and permit.expires_on < facts.today:
        return Gate("permit", None, f"The permit of {permit.authority} expired {say(permit.expires_on)}.")
    opens = permit.starts_on or permit.issued_on
    words = f"The permit of {permit.authority} is in force from {say(opens)}."
    return Gate("permit", opens, words, met=opens <= facts.today)


def _hold(facts: StageFacts) -> Iterable[Gate]:
    if facts.held_why:
        yield Gate("hold", None, f"Held: {facts.held_why}")
    for hold in facts.holds:
        ahead = hold.until if hold.until and hold.until >= facts.today else None
        yield Gate("hold", ahead, f"Held: {hold.words}")


def _previous(facts: StageFacts) -> Iterable[Gate]:
    before = facts.previous
    if before is None:
        return
    name = STAGE_NAMES[before.stage].capitalize()
    if before.done_on is not None:
        yield Gate("previous", before.done_on, f"{name} was done {facts.say_day(before.done_on)}.", met=True)
    elif before.ends_on is not None:
        ends = max(before.ends_on, facts.today)
        opens = ends if before.same_crew else ends + ONE_DAY
        yield Gate("previous", opens, f"{name} ends {facts.say_day(ends)}.")
    else:
        yield Gate("previous", None, f"{name} comes first, and has no day yet.")


def _materials(facts: StageFacts) -> Iterable[Gate]:
    goods = facts.materials
    if goods is None:
        return
    if goods.ready:
        yield Gate("materials", facts.today, goods.words or "The materials are here.", met=True)
    elif "materials" in facts.waived:
        yield Gate("materials", facts.today, "The owner starts without all materials.", met=True)
    elif goods.expected_on is None or goods.expected_on < facts.today:
        yield Gate("materials", None, goods.words or "Waiting for materials, no date given.")
    else:
        words = goods.words or f"Waiting for materials, expected {facts.say_day(goods.expected_on)}."
        yield Gate("materials", facts.work_days.after(goods.expected_on), words)


def _people(facts: StageFacts) -> Iterable[Gate]:
    wet = in_water(facts.stage, launch_first=facts.launch_first)
    least = max(facts.people_needed, PEOPLE_ON_WATER if wet else 1)
    if not facts.crew_name:
        return
    if facts.people < least:
        where = "on the water" if wet else "for this"
        yield Gate("people", None, f"{facts.crew_name} has {facts.people}, and {least} are needed {where}.")
    if facts.lacking_skill:
        yield Gate("people", None, f"Nobody in {facts.crew_name} can: {facts.lacking_skill}.")


def _boat(facts: StageFacts) -> Iterable[Gate]:
    if facts.boat_kind and not facts.boat_known:
        yield Gate("boat", None, f"There is no {facts.boat_kind} for it.")


_DATED: tuple[Callable[[StageFacts], Iterable[Gate]], ...] = (
    _signature,
    _deposit,
    _permit,
    _hold,
    _previous,
    _materials,
    _people,
    _boat,
)

# Gates that come and go: each says whether a stage may start on a day, all its days considered.

Allows = Callable[[date], bool]
Words = Callable[[date, date | None], str]


def _recurring(facts: StageFacts) -> list[tuple[Kind, Allows, Words]]:
    found: list[tuple[Kind, Allows, Words]] = [
        ("workday", facts.work_days.works, lambda day, opens: f"{facts.say_day(day)} is not worked.")
    ]
    if not in_yard(facts.stage, built_in_yard=facts.built_in_yard):
        found += _permits_that_end(facts)
    if in_water(facts.stage, launch_first=facts.launch_first):
        found += _wet(facts)
    if facts.crew_free:
        found.append(("crew", _on_all(facts, facts.crew_free), _taken(facts.crew_name or "the crew", facts)))
    if facts.boat_free:
        found.append(("boat", _on_all(facts, facts.boat_free), _taken(f"the {facts.boat_kind}", facts)))
    return found


def _wet(facts: StageFacts) -> list[tuple[Kind, Allows, Words]]:
    found: list[tuple[Kind, Allows, Words]] = []
    if facts.windows:
        inside = _on_all(facts, lambda day: inside_windows(day, facts.windows))
        found.append(("window", inside, _window_words(facts)))
    if facts.ice:
        found.append(("ice", _on_all(facts, lambda day: _is_open(day, facts)), _ice_words(facts)))
    if facts.level:
        found.append(("level", _on_all(facts, facts.level.suits), lambda day, opens: facts.level.words))
    return found


def _on_all(facts: StageFacts, allows: Allows) -> Allows:
    """Whether the days of work that begin on a day are all allowed."""

    def on_all(day: date) -> bool:
        return all(allows(one) for one in facts.work_days.span(day, facts.days))

    return on_all


def _permits_that_end(facts: StageFacts) -> list[tuple[Kind, Allows, Words]]:
    ends = [(one.expires_on, one.authority) for one in facts.permits or () if one.needed and one.expires_on]
    if not ends:
        return []
    last, authority = min(ends)
    words = f"The permit of {authority} ends {facts.say_day(last)}, before this could be done."
    in_force = f"The permit of {authority} holds until {facts.say_day(last)}."
    return [
        (
            "permit",
            _on_all(facts, lambda day: day <= last),
            lambda day, opens: words if opens is None else in_force,
        )
    ]


def _is_open(day: date, facts: StageFacts) -> bool:
    return any(one.opens <= day and (one.closes is None or day <= one.closes) for one in facts.ice)


def _window_words(facts: StageFacts) -> Words:
    def words(day: date, opens: date | None) -> str:
        if opens is None:
            return "No day of the year is open for work in the water."
        if day == opens:
            return "The work dates allow it."
        return f"Work in the water is not allowed before {facts.say_day(opens)}."

    return words


def _ice_words(facts: StageFacts) -> Words:
    def words(day: date, opens: date | None) -> str:
        if opens is None:
            return "The season before the ice is too short for it."
        if day == opens:
            return "The water is open."
        sure = any(one.seen and one.opens == opens for one in facts.ice)
        return f"Ice: the water is {'open' if sure else 'usually open'} from {facts.say_day(opens)}, margin included."

    return words


def _taken(who: str, facts: StageFacts) -> Words:
    def words(day: date, opens: date | None) -> str:
        if opens is None:
            return f"{who.capitalize() if who.startswith('the') else who} is not free."
        name = f"{who[:1].upper()}{who[1:]}"
        return (
            f"{name} is free." if day == opens else f"{name} is taken until {facts.say_day(opens - timedelta(days=1))}."
        )

    return words


def allows_day(facts: StageFacts, day: date) -> bool:
    """Whether work of this stage may stand on a day, by windows, ice, level and the permit's end; crews aside."""
    if not in_yard(facts.stage, built_in_yard=facts.built_in_yard):
        ends = [one.expires_on for one in facts.permits or () if one.needed and one.expires_on]
        if any(day > last for last in ends):
            return False
    if not in_water(facts.stage, launch_first=facts.launch_first):
        return True
    wet = not facts.windows or inside_windows(day, facts.windows)
    return wet and (not facts.ice or _is_open(day, facts)) and (facts.level is None or facts.level.suits(day))


def opens_by_itself(facts: StageFacts) -> Gates:
    """The gates of a stage that do not depend on other work: what was signed, paid, permitted, delivered."""
    own = [gate for read in _DATED if read is not _previous for gate in read(facts)]
    unknown = [gate for gate in own if gate.opens is None]
    if unknown:
        first = min(unknown, key=lambda gate: RANK[gate.kind])
        return Gates(None, first.words, first.kind, tuple(own))
    last = _latest(own, facts.today)
    return Gates(last.opens, last.words, last.kind, tuple(own))
