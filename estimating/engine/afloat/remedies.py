"""The cheapest floats for one rigid group, out of the catalogue, that pass what the firm asks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimating.engine.flotation.criteria import Dimensions, Level, judge, worst_level
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.geometry import Assembly, FloatShape
from estimating.engine.flotation.layout_search import Bay, FloatChoice, LayoutOption, LayoutTask
from estimating.engine.flotation.loads import LoadCase
from estimating.engine.parts import Catalogue, FirmRules, FloatItem
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec, FloatPlace, Flotation

from .asking import firm_loadings
from .model import Deck, Model
from .places import Loading, dead_loadings, free_edges
from .solving import authority_loadings, load_case, rule_sets


def choices(catalogue: Catalogue) -> tuple[FloatChoice, ...]:
    """Catalogue floats that have a price in the catalogue's currency and lift something."""
    return tuple(
        FloatChoice(
            item.code,
            item.length_in,
            item.width_in,
            item.height_in,
            item.weight_lb,
            item.net_lift_lb,
            item.price.amount,
            FloatShape.ROUND if item.round else FloatShape.BOX,
        )
        for item in catalogue.floats.values()
        if _can_be_bought(item, catalogue.currency)
    )


def _can_be_bought(item: FloatItem, currency: str) -> bool:
    return item.price is not None and item.price.currency == currency and item.net_lift_lb > 0


@dataclass(frozen=True, slots=True)
class Asked:
    """What floats are looked for: under which body, for which cases (rule set and kind; None: all), how strictly."""

    body: int
    allowed: Level
    cases: frozenset[tuple[str, str]] | None = None

    def covers(self, loading: Loading) -> bool:
        return self.cases is None or loading.kind == "dead_wet" or (loading.rule_set, loading.kind) in self.cases

    def rules(self, rule_set: str) -> bool:
        return self.cases is None or any(rule_set == name for name, _ in self.cases)


def task_for(model: Model, catalogue: Catalogue, rules: FirmRules, asked: Asked) -> LayoutTask:
    """What the floats of one body are to carry, the body by itself."""
    body = asked.body
    decks, rigid = model.decks_of(body), model.assembly.bodies[body]
    loads = [one for one in body_loadings(model, rules, body) if asked.covers(one)]
    chosen = [rule_set for rule_set in rule_sets(rules.flotation) if asked.rules(rule_set.id)]
    criteria = tuple(criterion for rule_set in chosen for criterion in rule_set.criteria)
    depth = max(deck.frame_depth_in for deck in decks)
    return LayoutTask(
        replace(rigid, floats=tuple(f for f in rigid.floats if f.frame_part)),
        tuple(Bay(*deck.box) for deck in decks),
        choices(catalogue),
        tuple(_alone(model, one, body) for one in loads),
        criteria,
        Dimensions(max(deck.frame_depth_in + deck.top_in for deck in decks)),
        -depth,
        gap_in=0.0,
        allowed=asked.allowed,
    )


def body_loadings(model: Model, rules: FirmRules, body: int) -> Iterator[Loading]:
    """Every load case that touches one body, at all its places, with only the loads that stand on it."""
    edges = tuple(edge for edge in free_edges(model) if edge.deck.body == body)
    every = *dead_loadings(), *firm_loadings(model, rules, edges), *authority_loadings(model, rules, edges)
    for loading in every:
        own = tuple(replace(load, body=0) for load in loading.loads if load.body == body)
        if own or not loading.loads:
            yield replace(loading, loads=own)


def _alone(model: Model, loading: Loading, body: int) -> LoadCase:
    case = load_case(model, loading)
    return replace(case, frames=(case.frames[body],))


def passes_alone(model: Model, body: int, task: LayoutTask) -> bool:
    """Whether the floats a body has now do what the task asks."""
    results = DockAfloat(Assembly((model.assembly.bodies[body],))).solve(task.cases)
    level = worst_level(judge(task.criteria, results, task.dimensions))
    return list(Level).index(level) <= list(Level).index(task.allowed)


def with_layout(spec: DockSpec, model: Model, body: int, option: LayoutOption) -> DockSpec:
    """The spec with a layout's floats put by hand under the sections of a body."""
    places = {deck.mark: [] for deck in model.decks_of(body)}
    for placed in option.floats:
        deck = _under(model.decks_of(body), placed.x_in, placed.y_in)
        u, v = placed.x_in - deck.box.x0, placed.y_in - deck.box.y0
        u, v = (v, u) if deck.turned else (u, v)
        places[deck.mark].append(FloatPlace(u, v, (placed.turn_deg == 90) != deck.turned, option.code))
    sections = tuple(
        replace(section, flotation=Flotation(option.code, None, None, tuple(places[section.mark])))
        if places.get(section.mark)
        else section
        for section in spec.sections
    )
    return replace(spec, sections=sections)


def _under(decks: Sequence[Deck], x: float, y: float) -> Deck:
    return next((deck for deck in decks if deck.box.covers(x, y)), decks[0])


def float_cost(design: Design, catalogue: Catalogue) -> Decimal:
    """What the floats of a design cost, without their fixings; floats without a price count nothing."""
    prices = (catalogue.floats[f.item].price for f in design.floats)
    return sum((price.amount for price in prices if price is not None), start=Decimal(0))
