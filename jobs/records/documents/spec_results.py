"""What the spec page shows beside the form: the dock worked out, each figure with its reason."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from hashlib import sha1

from django.conf import settings

from contractor.company.current import units
from contractor.company.models import ChangeLog
from contractor.quantities import say
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.drawing import Ray, Sheet, draw, slope_fan, trims
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import Amount, Fault, Finding, Reason, Sentence, SpecFaults, Step
from estimating.engine.result import Design, Estimate
from estimating.engine.slope import Slope, ramp_slope
from estimating.engine.spec import DockSpec
from estimating.engine.weights import yard_lb

from .spec_float import Flotation, flotation
from .spec_float_carry import Carrying, carrying
from .spec_mooring import Mooring, mooring
from .spec_strength import Strength, strength

WIDE_PX, SMALL_PX = 756.0, 326.0
PREFIX = "dock"
LATELY = 64
UNSETTLED = Sentence("How it floats could not be worked out: no level was found at which it stays. Change its floats.")


@dataclass(frozen=True, slots=True)
class Books:
    """The catalogue and the firm's rules of one day."""

    catalogue: Catalogue
    rules: FirmRules
    on: date


@dataclass(frozen=True, slots=True)
class Ramping:
    """How steep the ramp gets, with the picture and the ledger of the steepest."""

    slopes: tuple[Slope, ...]
    picture: str
    reason: Reason

    @property
    def steepest(self) -> Slope:
        return max(self.slopes, key=lambda slope: abs(slope.drop_in))


@dataclass(frozen=True, slots=True)
class Said:
    """A finding on the page; `key` tells one from another for as long as it says the same."""

    finding: Finding
    key: str
    kept: str = ""

    @property
    def id(self) -> str:
        """A short name for addresses and boxes."""
        return sha1(self.key.encode(), usedforsecurity=False).hexdigest()[:10]

    @property
    def of_the_site(self) -> bool:
        """Whether the cure is a fact of the site, which is written on a page of its own."""
        return self.finding.field.startswith("place.")

    @property
    def may_be_kept(self) -> bool:
        return self.finding.level == "check" and not self.kept


@dataclass(frozen=True, slots=True)
class Worked:
    """A spec worked out. Money is there only for those who see it."""

    estimate: Estimate
    afloat: Flotation
    carrying: Carrying
    strength: Strength
    ramping: Ramping | None
    weight_wet_lb: float
    weight_yard_lb: float
    weight_seasoned_lb: float
    floats_lb: float
    weight_reason: Reason
    board_count: int
    board_reason: Reason
    price_reason: Reason | None
    findings: tuple[Said, ...]
    prices_of: date

    @property
    def design(self) -> Design:
        return self.estimate.design

    @property
    def wide(self) -> str:
        """Plan and side elevation at the trim the dock has, for the office screen; drawn when it is asked for."""
        return self._drawn(WIDE_PX, f"{PREFIX}-wide", wide=True)

    @property
    def small(self) -> str:
        """The same, simpler, for the phone."""
        return self._drawn(SMALL_PX, f"{PREFIX}-small", wide=False)

    def _drawn(self, width_px: float, prefix: str, *, wide: bool) -> str:
        lying = trims(self.afloat.at_rest.case)
        sheet = Sheet(width_px, speak, prefix=prefix, wide=wide, metric=units() == "metric", trims=lying)
        return draw(self.design, sheet).svg

    @property
    def mooring(self) -> Mooring:
        """What holds it; the drawings are made when they are asked for."""
        return mooring(self.design, self.estimate.mooring, speak, prefix=PREFIX)

    @property
    def float_count(self) -> int:
        return len(self.design.floats)

    @property
    def has_money(self) -> bool:
        return self.price_reason is not None

    @property
    def loudest(self) -> str:
        """The level of the gravest finding."""
        levels = [said.finding.level for said in self.findings if not said.kept]
        return next((level for level in ("stop", "check", "note") if level in levels), "")

    @property
    def stage_hours(self) -> tuple[tuple[str, Decimal], ...]:
        return tuple((stage, hours) for stage, hours in self.estimate.labour.stage_hours if hours)


def speak(amount: Amount) -> str:
    """A figure in the firm's units."""
    return say(amount.value, amount.unit, units())


def open_books(*, on: date) -> Books:
    """The books of a day, read anew only after something was written: every change enters the log."""
    # Several lines, not the newest alone: a change that took its number first may be committed last.
    lately = tuple(ChangeLog.objects.order_by("-pk").values_list("pk", "at")[:LATELY])
    if not lately:
        return _read_books(on)
    key = (settings.DATABASES["default"]["NAME"], on, lately)
    books = _open.get(key)
    if books is None:
        books = _read_books(on)
        _open.clear()
        _open[key] = books
    return books


# One entry, replaced as a whole: what another process writes shows in the log it shares with this one.
_open: dict[tuple, Books] = {}


def _read_books(on: date) -> Books:
    return Books(engine_catalogue(on=on), firm_rules(on=on), on)


def work_out(
    spec: DockSpec,
    books: Books,
    *,
    with_money: bool,
    kept: Mapping[str, str] | None = None,
    limits: Callable[[Design], Sequence[Finding]] = lambda dock: (),
) -> Worked:
    """The dock worked out and drawn. Raises SpecFaults when it cannot be, or finds no level to float at.

    `kept` are the Checks somebody decided to live with: what was said, and who kept it when and why. `limits` says
    what the authorities have against the dock.
    """
    worked = estimate(spec, books.catalogue, books.rules)
    if worked.afloat is None:
        raise SpecFaults([Fault("", UNSETTLED)])
    design = worked.design
    findings = (*limits(design), *(worked.findings if with_money else design.findings))
    boards = [run for run in design.boards if run.section != "ramp"]
    return Worked(
        estimate=worked,
        afloat=flotation(design, worked.afloat, speak, prefix=PREFIX),
        carrying=carrying(worked.afloat),
        strength=strength(design, worked.frame, worked.engineer),
        ramping=_ramping(design, PREFIX),
        weight_wet_lb=sum(_loads(design, "wet")),
        weight_yard_lb=yard_lb(sum(_loads(design, "wet")), sum(_loads(design, "seasoned"))),
        weight_seasoned_lb=sum(_loads(design, "seasoned")),
        floats_lb=sum(weight.floats_lb for weight in design.weights),
        weight_reason=_weight_reason(design),
        board_count=sum(run.count for run in boards),
        board_reason=boards[0].reason,
        price_reason=_price_reason(worked) if with_money else None,
        findings=_said(findings, kept or {}),
        prices_of=books.on,
    )


def _said(findings: Iterable[Finding], kept: Mapping[str, str]) -> tuple[Said, ...]:
    """Stops first, then Checks nobody has kept, then those kept, then notes."""
    said = [Said(finding, finding.key, kept.get(finding.key, "")) for finding in findings]
    order = {"stop": 0, "check": 1, "note": 3}
    return tuple(sorted(said, key=lambda one: order[one.finding.level] + (1 if one.kept else 0)))


def _loads(design: Design, state: str) -> list[float]:
    return [
        getattr(weight, f"frame_{state}_lb")
        + getattr(weight, f"deck_{state}_lb")
        + weight.hardware_lb
        + weight.accessories_lb
        for weight in design.weights
    ]


def _weight_reason(design: Design) -> Reason:
    weights = design.weights
    if len(weights) == 1:
        return weights[0].reason
    wet = _loads(design, "wet")
    steps = [
        Step(Sentence("Section {0}", (weight.section,)), Amount(load, "lb"))
        for weight, load in zip(weights, wet, strict=True)
    ]
    steps.append(Step(Sentence("Dock on its floats, wet"), Amount(sum(wet), "lb"), total=True))
    steps.append(Step(Sentence("Floats"), Amount(sum(weight.floats_lb for weight in weights), "lb")))
    return Reason(weights[0].reason.rule, weights[0].reason.source, tuple(steps))


def _price_reason(worked: Estimate) -> Reason:
    steps = tuple(
        Step(Sentence(line.name), Amount(line.amount, "money"), total=line.kind != "cost")
        for line in worked.price.lines
    )
    rule = Sentence("Always in this order. Profit is a margin on the price, not a markup on the cost.")
    return Reason(rule, "FIRM", steps)


def _ramping(design: Design, prefix: str) -> Ramping | None:
    ramp, asked, water = design.ramp, design.spec.ramp, design.spec.place.water
    if ramp is None or asked is None or asked.hinge_level_in is None:
        return None
    deck = next(group.freeboard_wet_in for group in design.level if ramp.section in group.sections)
    levels = [("high", water.high_in), ("normal", water.normal_in), ("low", water.low_in)]
    known = [(name, level) for name, level in levels if level is not None]
    if not known:
        return None
    hinge = asked.hinge_level_in
    slopes = tuple(
        ramp_slope(level=name, hinge_in=hinge, deck_in=level + deck, length_in=ramp.length_in) for name, level in known
    )
    rays = [Ray(s.level, s.drop_in / s.out_in, s.words) for s in slopes if s.out_in]
    picture = slope_fan(rays, prefix=f"{prefix}-slope") if rays else ""
    return Ramping(slopes, picture, _slope_reason(slopes, hinge, dict(known), deck))


def _slope_reason(slopes: Sequence[Slope], hinge_in: float, levels: Mapping[str, float], deck_in: float) -> Reason:
    steep = max(slopes, key=lambda slope: abs(slope.drop_in))
    hinge, level, deck = (round(value, 1) for value in (hinge_in, levels[steep.level], deck_in))
    steps = (
        Step(Sentence("Hinge on the site’s datum"), Amount(hinge, "in_small")),
        Step(Sentence("Less {0} water", (steep.level,)), Amount(-level, "in_small")),
        Step(Sentence("Less the deck above it, wet, nobody aboard"), Amount(-deck, "in_small")),
        Step(
            Sentence("Drop at {0} water", (steep.level,)),
            Amount(round(hinge - level - deck, 1), "in_small"),
            total=True,
        ),
    )
    rule = Sentence("The slope is how far the ramp reaches in plan for one of drop.")
    return Reason(rule, "GEOMETRY", steps)
