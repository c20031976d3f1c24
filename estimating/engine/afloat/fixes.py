"""What would fix it: the cheapest other floats under which a failing case passes, each a spec that was proved again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimating.engine.design import design as design_dock
from estimating.engine.flotation.criteria import Level
from estimating.engine.flotation.layout_search import LayoutOption, find_layouts
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.proof import LEVELS, CaseProof, FloatProof
from estimating.engine.reasons import Amount, Sentence, SpecFaults
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec, Flotation

from .floating import float_proof
from .model import Model, model_of
from .remedies import Asked, float_cost, passes_alone, task_for, with_layout
from .widening import designed, wider_specs

MOST_GROUPS = 6  # groups changed at once
WAYS = ("across", "along")
WIDER_IN = 0.5  # less is not worth saying
MORE_THAN_ASKED = 3  # layouts looked at beyond those to give: some pass alone and not in the dock


@dataclass(frozen=True, slots=True)
class Fix:
    """One change that passes: the whole spec with it, what it says, what the floats then cost and how much more.

    level is of the case that failed, least_freeboard_in and most_tilt_deg how the dock then lies in it; `proof` is of
    the changed dock. Money is the floats' own price, in the catalogue's currency, without labour and margin.
    """

    spec: DockSpec
    words: Sentence
    sections: tuple[str, ...]
    item: str
    count: int
    floats_cost: Decimal
    more_cost: Decimal
    level: str
    least_freeboard_in: float
    most_tilt_deg: float
    proof: FloatProof
    wider_in: float = 0.0  # how much wider the deck is: lumber and work, which `more_cost` leaves out


def fixes(design: Design, catalogue: Catalogue, rules: FirmRules, case: CaseProof, *, best: int = 3) -> tuple[Fix, ...]:
    """The cheapest few changes of floats (which, how many, where) under which a case passes, cheapest first.

    First among those that leave nothing of it to a Check; if there are none, those that leave no Stop. Each is a spec
    that designs cleanly, proved again in full: the case passes, and no other case is worse than before. Where no
    floats do it under the deck there is, a single run of sections is offered wider. Empty if that does not do either.
    """
    model, before = model_of(design, catalogue, rules), float_proof(design, catalogue, rules)
    for allowed in (Level.FINE, Level.CHECK):
        if allowed is Level.CHECK and case.level != "stop":
            break
        seeker = _Seeker(design, model, catalogue, rules, before)
        found = tuple(seeker.fixes(case, allowed, best))
        if found:
            return tuple(sorted(found, key=lambda fix: (fix.floats_cost, -fix.least_freeboard_in))[:best])
    return _wider(design, catalogue, rules, case, before)


def _wider(
    design: Design, catalogue: Catalogue, rules: FirmRules, case: CaseProof, before: FloatProof
) -> tuple[Fix, ...]:
    """The least wider deck on the cheapest floats that pass, if one does."""
    for spec in wider_specs(design.spec):
        if designed(spec, catalogue, rules) is None:
            continue
        laid = propose_layout(spec, catalogue, rules)
        changed = designed(laid, catalogue, rules)
        if changed is None:
            continue
        proof = float_proof(changed, catalogue, rules)
        after = next(c for c in proof.cases if (c.kind, c.rule_set) == (case.kind, case.rule_set))
        if after.level == "fine" and no_worse(before, proof):
            return (_widened(design, changed, catalogue, after, proof),)
    return ()


def _widened(design: Design, changed: Design, catalogue: Catalogue, after: CaseProof, proof: FloatProof) -> Fix:
    cost, now = float_cost(changed, catalogue), float_cost(design, catalogue)
    width, was = (one.spec.sections[0].width_in for one in (changed, design))
    items = sorted({placed.item for placed in changed.floats})
    names = "” and “".join(catalogue.floats[code].name for code in items)
    count = len(changed.floats)
    return Fix(
        changed.spec,
        Sentence(
            "{0} wide where it is {1} now, on {2} of “{3}”",
            (Amount(width, "in"), Amount(was, "in"), Amount(count, "count"), names),
        ),
        tuple(section.mark for section in changed.spec.sections),
        ", ".join(items),
        count,
        cost,
        cost - now,
        after.level,
        after.least_freeboard_in or 0.0,
        after.most_tilt_deg or 0.0,
        proof,
        width - was,
    )


def no_worse(before: FloatProof, proof: FloatProof) -> bool:
    """Whether no case is worse than it was."""
    levels = {(case.kind, case.rule_set): LEVELS.index(case.level) for case in before.cases}
    return all(LEVELS.index(case.level) <= levels[case.kind, case.rule_set] for case in proof.cases)


def propose_layout(spec: DockSpec, catalogue: Catalogue, rules: FirmRules, *, sections: Sequence[str] = ()) -> DockSpec:
    """The spec with the cheapest floats that pass every case under these sections (or all), as floats put by hand.

    A section for which nothing passes keeps the floats it has. On request only: it takes up to a second a section.
    Raises SpecFaults as `design` does.
    """
    chosen = set(sections) or {section.mark for section in spec.sections}
    emptied = (
        replace(section, flotation=Flotation(section.flotation.item)) if section.mark in chosen else section
        for section in spec.sections
    )
    bare = replace(spec, sections=tuple(emptied))
    design = _designed_or(bare, spec, catalogue, rules)
    model = model_of(design, catalogue, rules)
    for body, members in enumerate(model.members):
        if chosen & set(members):
            option = _cheapest(model, catalogue, rules, body)
            if option is not None:
                spec = with_layout(spec, model, body, option)
    return spec


def _designed_or(bare: DockSpec, spec: DockSpec, catalogue: Catalogue, rules: FirmRules) -> Design:
    try:
        return design_dock(bare, catalogue, rules)
    except SpecFaults:
        return design_dock(spec, catalogue, rules)


def _cheapest(model: Model, catalogue: Catalogue, rules: FirmRules, body: int) -> LayoutOption | None:
    for allowed in (Level.FINE, Level.CHECK):
        task = task_for(model, catalogue, rules, Asked(body, allowed))
        found = find_layouts(task, best=1) if task.choices else ()
        if found:
            return found[0]
    return None


@dataclass(frozen=True, slots=True)
class _Seeker:
    design: Design
    model: Model
    catalogue: Catalogue
    rules: FirmRules
    before: FloatProof

    def fixes(self, case: CaseProof, allowed: Level, best: int) -> Iterator[Fix]:
        """Changes that keep right what is right now; failing that, changes that put all of the rule set right."""
        alike = [other for other in self.before.cases if other.rule_set == case.rule_set]
        kept = frozenset((c.rule_set, c.kind) for c in alike if c.level == "fine" or c.kind == case.kind)
        found = list(self._changes(case, allowed, best, kept))
        if not found:
            found = list(self._changes(case, allowed, best, frozenset((c.rule_set, c.kind) for c in alike)))
        yield from found

    def _changes(self, case: CaseProof, allowed: Level, best: int, kept: frozenset[tuple[str, str]]) -> Iterator[Fix]:
        groups = self._groups(case, allowed)
        options = {body: self._layouts(Asked(body, allowed, kept), best) for body in groups}
        if not groups or not all(options.values()):
            return
        given = 0
        for place in range(max(len(own) for own in options.values())):
            spec = self.design.spec
            chosen = {body: own[min(place, len(own) - 1)] for body, own in options.items()}
            for body, option in chosen.items():
                spec = with_layout(spec, self.model, body, option)
            fix = self._proved(spec, chosen, case, allowed)
            if fix is not None:
                yield fix
                given += 1
            if given == best:
                return

    def _groups(self, case: CaseProof, allowed: Level) -> list[int]:
        """The rigid groups to give other floats: the one the load stands on, or those that fail by themselves."""
        marks = {mark: body for body, members in enumerate(self.model.members) for mark in members}
        mark = case.where.split(",")[0]
        if mark in marks:
            return [marks[mark]]
        failing = [body for body in range(len(self.model.members)) if not self._passes(body, allowed, case)]
        if not failing and case.sections:
            lowest = min(case.sections, key=lambda section: section.least_freeboard_in).section
            failing = [marks[lowest]]
        return failing[:MOST_GROUPS]

    def _passes(self, body: int, allowed: Level, case: CaseProof) -> bool:
        if not self.model.floats[body]:
            return True
        asked = Asked(body, allowed, frozenset({(case.rule_set, case.kind)}))
        return passes_alone(self.model, body, task_for(self.model, self.catalogue, self.rules, asked))

    def _layouts(self, asked: Asked, best: int) -> tuple[LayoutOption, ...]:
        task = task_for(self.model, self.catalogue, self.rules, asked)
        return find_layouts(task, best=best + MORE_THAN_ASKED) if task.choices else ()

    def _proved(self, spec: DockSpec, chosen: dict[int, LayoutOption], case: CaseProof, allowed: Level) -> Fix | None:
        """The change as a Fix if it designs cleanly and the whole dock is better for it."""
        try:
            changed = design_dock(spec, self.catalogue, self.rules)
        except SpecFaults:
            return None
        proof = float_proof(changed, self.catalogue, self.rules)
        after = next(c for c in proof.cases if (c.kind, c.rule_set) == (case.kind, case.rule_set))
        if LEVELS.index(after.level) > LEVELS.index(allowed.value) or not no_worse(self.before, proof):
            return None
        sections = tuple(mark for body in chosen for mark in self.model.members[body])
        cost, now = float_cost(changed, self.catalogue), float_cost(self.design, self.catalogue)
        items = sorted({option.code for option in chosen.values()})
        count = sum(len(option.floats) for option in chosen.values())
        return Fix(
            spec,
            self._words(chosen, sections, changed),
            sections,
            ", ".join(items),
            count,
            cost,
            cost - now,
            after.level,
            after.least_freeboard_in or 0.0,
            after.most_tilt_deg or 0.0,
            proof,
        )

    def _words(self, chosen: dict[int, LayoutOption], sections: tuple[str, ...], changed: Design) -> Sentence:
        """Eight floats of a kind under a section, in place of six of another; or the same ones set wider apart."""
        had = [self.design.floats[n] for body in chosen for n in self.model.floats[body]]
        count = sum(len(option.floats) for option in chosen.values())
        codes = {option.code for option in chosen.values()}
        names = "” and “".join(self.catalogue.floats[code].name for code in sorted(codes))
        under = f"section {sections[0]}" if len(sections) == 1 else f"sections {', '.join(sections)}"
        apart, values = self._set_apart(sections, changed)
        if codes == {f.item for f in had} and count == len(had):
            text = f"The same {{0}} of “{{1}}” under {{2}}, {apart or 'set otherwise'}"
            return Sentence(_numbered(text, 3), (Amount(count, "count"), names, under, *values))
        text = "{0} of “{1}” under {2}, in place of the {3} there now" + (f", {apart}" if apart else "")
        return Sentence(_numbered(text, 4), (Amount(count, "count"), names, under, Amount(len(had), "count"), *values))

    def _set_apart(self, sections: tuple[str, ...], changed: Design) -> tuple[str, tuple[Amount, ...]]:
        """How much wider the outer floats of the section that gains most now stand; nothing where none gains."""
        gains = [
            (now - was, way, was, now)
            for mark in sections
            for way, was, now in zip(WAYS, self._spans(self.design, mark), self._spans(changed, mark), strict=True)
        ]
        gain, way, was, now = max(gains)
        if gain < WIDER_IN or not was:
            return "", ()
        return f"the outer ones {{a}} apart {way} where they are {{b}} now", (Amount(now, "in"), Amount(was, "in"))

    def _spans(self, design: Design, mark: str) -> tuple[float, float]:
        """Between the middles of a section's outermost floats: across it, and along it."""
        own = [f for f in design.floats if f.section == mark]
        x, y = (max(ends) - min(ends) if ends else 0.0 for ends in ([f.x_in for f in own], [f.y_in for f in own]))
        return (x, y) if self.model.deck(mark).turned else (y, x)


def _numbered(text: str, first: int) -> str:
    return text.replace("{a}", f"{{{first}}}").replace("{b}", f"{{{first + 1}}}")
