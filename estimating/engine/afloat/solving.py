"""The load cases solved exactly, all in one go, and judged by what the firm has chosen to ask."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np

from estimating.engine.flotation.criteria import (
    FIRM_START,
    RULE_SETS,
    Dimensions,
    Measure,
    RuleSet,
    Verdict,
    changed,
    judge,
)
from estimating.engine.flotation.equilibrium import DockAfloat
from estimating.engine.flotation.figures import describe
from estimating.engine.flotation.immersion import Array
from estimating.engine.flotation.loads import CaseKind, LoadCase, dead_weights, live_weights
from estimating.engine.flotation.prepared import Settled
from estimating.engine.flotation.results import BodyLevel, Equilibrium
from estimating.engine.parts import FirmRules, FlotationRules
from estimating.engine.proof import LEVELS, CaseProof, CaseVerdict, CornerAfloat, FloatAfloat, SectionAfloat, Turn

from .asking import called, firm_loadings
from .model import CORNER_NAMES, Model
from .places import Edge, Loading, dead_loadings, finger_ends, free_edges, heavy, spread
from .screening import Stiffness, worst_places

KINDS = {
    "dead_wet": CaseKind.DEAD,
    "dead_seasoned": CaseKind.DEAD,
    "spread": CaseKind.SPREAD,
    "half": CaseKind.HALF,
    "edge": CaseKind.EDGE,
    "end": CaseKind.END,
    "point": CaseKind.POINT,
    "finger_end": CaseKind.FINGER_END,
    "ramp": CaseKind.RAMP,
}
UNITS = {Measure.AFLOAT: "", Measure.TILT_DEG: "deg"}


def rule_sets(rules: FlotationRules) -> tuple[RuleSet, ...]:
    """The rule sets the firm has chosen, its own with its own tilt."""
    own = changed(FIRM_START, firm_tilt=rules.tilt_deg)
    criteria = tuple(
        replace(c, words=f"Tilts no more than {rules.tilt_deg:g} degrees") if c.id == "firm-tilt" else c
        for c in own.criteria
    )
    own = replace(own, criteria=criteria)
    return tuple(own if name == own.id else RULE_SETS[name] for name in rules.rule_sets)


def loadings(model: Model, rules: FirmRules, stiffness: Stiffness) -> tuple[Loading, ...]:
    """Every load case, each at its worst places: dead first, then the firm's own, then those of chosen authorities."""
    edges = free_edges(model)
    dead = [called(loading, rules.flotation) for loading in dead_loadings()]
    live = (*firm_loadings(model, rules, edges), *authority_loadings(model, rules, edges))
    picked = worst_places(stiffness, live) if live else ()
    order = [*KINDS, *(own.key for own in rules.flotation.own_cases)]
    sets = {name: place for place, name in enumerate(("firm", *rules.flotation.rule_sets))}
    return tuple(sorted((*dead, *picked), key=lambda one: (sets[one.rule_set], order.index(one.kind))))


def authority_loadings(model: Model, rules: FirmRules, edges: tuple[Edge, ...]) -> Iterator[Loading]:
    """The loads that go with the rules of each authority the firm has chosen, at all their places."""
    for rule_set in rule_sets(rules.flotation):
        choices = rule_set.choices
        kinds = {kind for criterion in rule_set.criteria for kind in criterion.kinds}
        if rule_set.id == FIRM_START.id:
            continue
        if CaseKind.SPREAD in kinds and choices.spread_psf:
            yield spread(model, choices.spread_psf, rule_set.id)
        if CaseKind.POINT in kinds and choices.point_lb:
            yield from heavy(model, choices.point_lb, choices.point_inset_in, rule_set.id)
        if CaseKind.FINGER_END in kinds and choices.end_point_lb:
            yield from finger_ends(edges, choices.end_point_lb, choices.end_point_inset_in, rule_set.id)


def load_case(model: Model, loading: Loading) -> LoadCase:
    frames = model.seasoned if loading.dry else model.wet
    return LoadCase(loading.where, loading.loads, (), frames, model.water, KINDS[loading.like])


@dataclass(frozen=True, slots=True)
class Solved:
    """A loading with its equilibrium."""

    loading: Loading
    level: Equilibrium


def solve(dock: DockAfloat, model: Model, loads: Sequence[Loading]) -> tuple[Solved, ...]:
    """Each loading's exact equilibrium. Raises DidNotSettle."""
    levels = dock.solve([load_case(model, loading) for loading in loads])
    return tuple(Solved(loading, level) for loading, level in zip(loads, levels, strict=True))


def solve_beside(
    dock: DockAfloat, model: Model, loads: Sequence[Loading], others: Array
) -> tuple[tuple[Solved, ...], Settled]:
    """As `solve`, with more rows of weights settled in the same go. Raises DidNotSettle."""
    cases = [load_case(model, loading) for loading in loads]
    dead = {
        id(frames): dead_weights(dock.assembly, LoadCase("", frames=frames)) for frames in (model.wet, model.seasoned)
    }
    weights = np.stack([dead[id(case.frames)] + live_weights(dock.assembly, case.live) for case in cases])
    water = np.full(len(cases) + len(others), model.water.lb_per_in3)
    settled = dock.settle(np.concatenate([weights, others]), water)
    own, rest = (_part(settled, rows) for rows in (slice(0, len(cases)), slice(len(cases), None)))
    levels = describe(dock.prepared, cases, weights[:, :, 3], water[: len(cases)], own)
    return tuple(Solved(loading, level) for loading, level in zip(loads, levels, strict=True)), rest


def _part(settled: Settled, rows: slice) -> Settled:
    return Settled(*(getattr(settled, column.name)[rows] for column in fields(Settled)))


def worst_of_each(solved: Sequence[Solved]) -> tuple[tuple[Solved, ...], ...]:
    """Solved places gathered by rule set and kind, the worst first: by outcome, then by least freeboard."""
    gathered: dict[tuple[str, str], list[Solved]] = {}
    for one in solved:
        gathered.setdefault((one.loading.rule_set, one.loading.kind), []).append(one)
    return tuple(tuple(sorted(alike, key=_badness, reverse=True)) for alike in gathered.values())


def _badness(one: Solved) -> tuple[int, float]:
    return one.level.outcome.severity, -(one.level.least_freeboard_in or 0.0)


@dataclass(frozen=True, slots=True)
class Judge:
    """Puts solved cases into the words of the proof."""

    model: Model
    sets: tuple[RuleSet, ...]
    dead: Equilibrium

    def case(self, alike: Sequence[Solved], turns: tuple[Turn, ...]) -> CaseProof:
        """The worst of places alike, with the verdicts over all of them."""
        worst, level = alike[0].loading, alike[0].level
        return CaseProof(
            worst.kind,
            worst.name,
            worst.where,
            worst.rule_set,
            worst.people,
            worst.live_lb,
            level.weight_lb,
            level.outcome.value,
            turns,
            tuple(self._sections(level)),
            tuple(self._floats(level)),
            level.reserve_lb,
            level.gm_across_in,
            level.gm_along_in,
            tuple(self._verdicts(alike)),
        )

    def _verdicts(self, alike: Sequence[Solved]) -> Iterator[CaseVerdict]:
        kind, of_set = alike[0].loading.kind, alike[0].loading.rule_set
        dead = kind in ("dead_wet", "dead_seasoned")
        depth = Dimensions(max(deck.frame_depth_in + deck.top_in for deck in self.model.decks))
        for rule_set in self.sets:
            if dead or rule_set.id == of_set:
                results = [self.dead, *(one.level for one in alike)]
                for criterion in rule_set.criteria:
                    if alike[0].level.case.kind in criterion.kinds:
                        found = judge((criterion,), results[1:] if dead else results, depth)
                        yield from (_verdict(each, rule_set) for each in found)

    def _sections(self, level: Equilibrium) -> Iterator[SectionAfloat]:
        corners = {body: list(own.corners) for body, own in enumerate(level.bodies)}
        for deck in self.model.decks if level.bodies else ():
            body: BodyLevel = level.bodies[deck.body]
            own, corners[deck.body] = corners[deck.body][:4], corners[deck.body][4:]
            named = (
                CornerAfloat(name, c.x_in, c.y_in, c.freeboard_in, c.draft_in)
                for name, c in zip(CORNER_NAMES, own, strict=True)
            )
            yield SectionAfloat(deck.mark, body.heel_deg, body.trim_deg, body.tilt_deg, tuple(named))

    def _floats(self, level: Equilibrium) -> Iterator[FloatAfloat]:
        placed = self.model.design.floats
        found = [
            (number, own)
            for body, numbers in zip(level.bodies, self.model.floats, strict=False)
            for number, own in zip(numbers, body.floats, strict=True)
        ]
        for number, own in sorted(found, key=lambda pair: pair[0]):
            f = placed[number]
            figures = own.carried_lb, own.buoyancy_lb, own.immersed_share, own.draft_in, own.top_clearance_in
            yield FloatAfloat(number, f.section, f.x_in, f.y_in, *figures)


def _verdict(verdict: Verdict, rule_set: RuleSet) -> CaseVerdict:
    criterion = verdict.criterion
    unit = UNITS.get(criterion.measure, "in_small")
    level = LEVELS[LEVELS.index(verdict.level.value)]
    return CaseVerdict(
        criterion.id, criterion.words, rule_set.id, criterion.source, level, verdict.value, criterion.limit, unit
    )
