"""How the catalogue is said on its pages: an item in a line, a price with its doubts, a joint rule as a sentence."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from contractor.company.current import units
from contractor.money import format_money
from contractor.quantities import format_amount, format_length
from estimating.catalogue.facts import FACTS, facts_of, label_of
from estimating.catalogue.models import Item, JointRule, JointRulePart, Kind, LiftBasis, Place
from estimating.catalogue.models.items import FloatShape
from estimating.catalogue.services import lumber_weights
from estimating.catalogue.services.prices import PriceNow
from estimating.catalogue.values import WeightPerFoot, short

PER_FOOT = WeightPerFoot()
NO_BREAK = "\u00a0"
TIMES = f"{NO_BREAK}×{NO_BREAK}"


@dataclass(frozen=True)
class SaidPrice:
    """The price of an item in a list: one figure or from lowest to highest, its day, and why to doubt it."""

    figure: str
    per: str
    supplier: str
    age: str
    doubts: list[str]


def _age(days: int) -> str:
    return {0: "of today", 1: "of yesterday"}.get(days, f"{days} days old")


@dataclass(frozen=True)
class SaidFact:
    label: str
    said: str


def item_line(item: Item) -> str:
    """The item's size in one line: `1 1/2″ × 7 1/4″, 8′ 0″ to 20′ 0″`; `24 × 48 × 16 in, lifts 600 lb net`."""
    if item.is_wood:
        treated = "" if item.treatment.lower() == "none" else item.treatment
        return ", ".join(part for part in (_section(item), _lengths(item), treated) if part)
    if item.kind == Kind.FLOAT:
        lift = format_amount(item.rated_lift_lb, "weight", units())
        return f"{_size(item)}, lifts {lift} {item.lift_basis if item.lift_basis != LiftBasis.UNKNOWN else 'gross?'}"
    parts = [_size(item), "" if item.weight_lb is None else _weight(item)]
    if item.pack_size != 1 or item.use_unit != "each":
        parts.append(f"pack of {short(item.pack_size)} {item.use_unit}".removesuffix(" each"))
    return ", ".join(part for part in parts if part)


def said_price(item: Item, now: Iterable[PriceNow]) -> SaidPrice | None:
    """What the list says of an item's prices; None if it has none."""
    found = list(now)
    if not found:
        return None
    amounts = sorted(each.price.amount for each in found)
    oldest = max(found, key=lambda each: each.age_days)
    low, high = format_money(amounts[0]), format_money(amounts[-1])
    suppliers = sorted({each.price.supplier.name for each in found if each.price.supplier})
    return SaidPrice(
        figure=low if low == high else f"{low} to {high}",
        per=_per(item),
        supplier=", ".join(suppliers),
        age=_age(oldest.age_days),
        doubts=list(dict.fromkeys(doubt for each in (oldest, *found) for doubt in each.doubts)),
    )


def said_facts(item: Item) -> list[SaidFact]:
    """Every fact of the item that is known, in words; a weight that is worked out says so."""
    system = units()
    said = []
    for fact in facts_of(item.kind):
        value = getattr(item, fact.key)
        if fact.key not in ("name", "notes") and value not in (None, "") and value != fact.empty:
            said.append(SaidFact(label_of(item.kind, fact.key), fact.value.say(value, system)))
    if item.is_wood:
        said += _worked_out_weights(item)
    if item.kind not in (Kind.LUMBER, Kind.DECKING, Kind.FLOAT) and item.pack_size == 1:
        said.append(SaidFact("Bought", f"one by one, counted in {item.use_unit}".replace(", counted in each", "")))
    return said


@dataclass(frozen=True)
class SaidRule:
    """A joint rule as a sentence, in pieces the page can set in weight."""

    rule: JointRule
    docks: str
    takes: str
    each_bolt: str


def say_rule(rule: JointRule) -> SaidRule:
    """`docks over 12′ 0″`: `1 inside plate, 1 outside plate, 8 bolts 1/2 x 2-1/2`; `1 lock washer, 1 nut`."""
    parts = list(rule.parts.all())
    takes = [_counted(part) for part in parts if not part.per_bolt]
    if rule.bolts:
        takes.append(f"{rule.bolts}{TIMES}{_within_sentence(rule.bolt.name)}")
    each_bolt = [_counted(part) for part in parts if part.per_bolt]
    return SaidRule(rule, _docks(rule), _listed(takes), _listed(each_bolt))


def rules_by_place(rules: Iterable[JointRule]) -> list[tuple[Place, list[SaidRule]]]:
    """Every place with its rules, shortest docks first; a place without a rule has an empty list."""
    said = [say_rule(rule) for rule in rules]
    return [
        (place, sorted((each for each in said if each.rule.place == place), key=lambda each: each.rule.dock_over_in))
        for place in Place
    ]


def said_length(length_in: float) -> str:
    """A length in the firm's units that does not break over a line."""
    return format_length(length_in, units()).replace(" ", NO_BREAK)


def _docks(rule: JointRule) -> str:
    over = said_length(rule.dock_over_in)
    if rule.dock_to_in is None:
        return f"docks over {over}" if rule.dock_over_in else "every dock"
    to = said_length(rule.dock_to_in)
    return f"docks over {over} and up to {to}" if rule.dock_over_in else f"docks up to {to}"


def _counted(part: JointRulePart) -> str:
    return f"{short(part.quantity)}{TIMES}{_within_sentence(part.item.name)}"


def _listed(said: list[str]) -> str:
    """Parted by commas, or by semicolons where a name has a comma of its own."""
    return ("; " if any("," in each for each in said) else ", ").join(said)


def _within_sentence(name: str) -> str:
    """Without its capital, unless it is a word of capitals."""
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def _section(item: Item) -> str:
    return f"{said_length(item.thickness_in)} × {said_length(item.width_in)}".replace(" ", NO_BREAK)


def _lengths(item: Item) -> str:
    lengths = [stick.length_in for stick in item.sticks.all() if stick.offered]
    if not lengths:
        return ""
    shortest, longest = (said_length(length_in) for length_in in (min(lengths), max(lengths)))
    return shortest if len(lengths) == 1 else f"{shortest} to {longest}"


def _size(item: Item) -> str:
    if item.shape == FloatShape.CYLINDER:
        through, long = (
            f"{size * 25.4:.0f}{NO_BREAK}mm" if units() == "metric" else f"{size:g}{NO_BREAK}in"
            for size in (item.width_in, item.length_in)
        )
        return f"{through} through, {long} long"
    sizes = [size for size in (item.width_in, item.length_in, item.height_in) if size is not None]
    if not sizes:
        return ""
    if units() == "metric":
        return " × ".join(f"{size * 25.4:.0f}" for size in sizes).replace(" ", NO_BREAK) + f"{NO_BREAK}mm"
    return " × ".join(f"{size:g}" for size in sizes).replace(" ", NO_BREAK) + f"{NO_BREAK}in"


def _weight(item: Item) -> str:
    weight = FACTS["weight_lb"].value.say(item.weight_lb, units())
    return weight if item.use_unit == "each" else f"{weight} a {item.use_unit}"


def _per(item: Item) -> str:
    if item.is_wood:
        return "a stick"
    if item.pack_size == Decimal(1):
        return "each" if item.use_unit == "each" else f"a {item.use_unit}"
    return f"for {short(item.pack_size)} {item.use_unit}".removesuffix(" each")


def _worked_out_weights(item: Item) -> list[SaidFact]:
    typed = (item.wet_lb_per_ft, item.seasoned_lb_per_ft)
    names = ("Weight wet, worked out", "Weight seasoned, worked out")
    return [
        SaidFact(name, PER_FOOT.say(weight, units()))
        for name, weight, given in zip(names, lumber_weights(item), typed, strict=True)
        if given is None
    ]
