"""A worked quote arranged for the people of the shop: the build-up, the goods, the hours, what to look at."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimating.engine.reasons import Finding, Reason
from estimating.engine.result import LabourLine, PriceLine, TakeoffLine
from estimating.engine.sources import source

from .checks import findings_of
from .speech import capital, say, speak
from .worked import OptionWorked, WorkedQuote

# These stand in the build-up even when they come to nothing.
ALWAYS_SAID = {"materials", "labour", "contingency", "overhead", "profit", "rounding"}
STAGE_WORDS = {"handover": "hand-over"}
RANKS = {"stop": 0, "check": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class Why:
    """A reason in words: its rule, its ledger rows, the line under the rule, its source."""

    rule: str
    rows: tuple[tuple[str, str], ...]
    total_label: str
    total: str
    source: str


@dataclass(frozen=True, slots=True)
class BuildLine:
    line: PriceLine
    why: Why


@dataclass(frozen=True, slots=True)
class MaterialGroup:
    name: str
    lines: tuple[TakeoffLine, ...]
    cost: Decimal


@dataclass(frozen=True, slots=True)
class TaskRow:
    task: str
    how: str
    hours: Decimal


@dataclass(frozen=True, slots=True)
class StageRow:
    """A stage of the work, its hours and the tasks that make them."""

    stage: str
    hours: Decimal
    tasks: tuple[TaskRow, ...]


@dataclass(frozen=True, slots=True)
class HoursTable:
    """Hours by stage; `net` and `rounded_up` make `priced`."""

    stages: tuple[StageRow, ...]
    net: Decimal
    rounded_up: Decimal
    priced: Decimal
    travel: Decimal


@dataclass(frozen=True, slots=True)
class OptionLine:
    """An option for the shop: what it adds to the price, and what it costs the shop to give it, where that is known."""

    name: str
    how: str
    amount: Decimal
    costs: Decimal | None


@dataclass(frozen=True, slots=True)
class FindingLine:
    level: str
    head: str
    body: str
    code: str
    field: str
    kept: str = ""  # who keeps this Check as it is, when and why


def why(reason: Reason) -> Why:
    """The reason in the firm's units, its last total line apart."""
    said = [(say(step.label), speak(step.amount) if step.amount else "", step.total) for step in reason.steps]
    totals = [(label, amount) for label, amount, total in said if total]
    rows = tuple((label, amount) for label, amount, total in said if not total)
    total_label, total = totals[-1] if totals else ("", "")
    return Why(say(reason.rule), rows, total_label, total, source(reason.source).title)


def build_up(worked: WorkedQuote) -> list[BuildLine]:
    """The price line by line; costs of nothing stay out, sums always stand."""
    lines = worked.estimate.price.lines
    shown = [line for line in lines if line.kind != "cost" or line.amount or line.code in ALWAYS_SAID]
    return [BuildLine(line, why(line.reason)) for line in shown]


def material_groups(worked: WorkedQuote) -> list[MaterialGroup]:
    groups: dict[str, list[TakeoffLine]] = defaultdict(list)
    for line in worked.estimate.takeoff.lines:
        groups[line.group].append(line)
    return [
        MaterialGroup(capital(name), tuple(lines), sum((line.cost for line in lines), Decimal(0)))
        for name, lines in groups.items()
    ]


def hours_table(worked: WorkedQuote) -> HoursTable:
    labour = worked.estimate.labour
    tasks: dict[str, list[TaskRow]] = defaultdict(list)
    for line in labour.lines:
        tasks[line.stage].append(_task(line))
    stages = tuple(
        StageRow(capital(STAGE_WORDS.get(stage, stage)), hours, tuple(tasks[stage]))
        for stage, hours in labour.stage_hours
        if hours
    )
    return HoursTable(stages, labour.net_hours, labour.hours - labour.net_hours, labour.hours, labour.travel_hours)


def _task(line: LabourLine) -> TaskRow:
    how = ", ".join(say(step.label) for step in line.reason.steps if not step.total)
    return TaskRow(line.task, how, line.hours)


def option_lines(worked: WorkedQuote) -> list[OptionLine]:
    return [_option(one, worked) for one in worked.options]


def _option(one: OptionWorked, worked: WorkedQuote) -> OptionLine:
    if one.estimate is None:
        return OptionLine(one.option.name, "a typed sum", one.amount, None)
    costs = one.estimate.price.break_even - worked.estimate.price.break_even
    return OptionLine(one.option.name, "worked out as the difference", one.amount, costs)


def finding_lines(worked: WorkedQuote) -> list[FindingLine]:
    """Stops first, then checks, then notes, each once."""
    found = sorted(findings_of(worked), key=lambda finding: RANKS[finding.level])
    return list(dict.fromkeys(_finding(finding, worked.facts.kept_checks) for finding in found))


def _finding(finding: Finding, kept: Mapping[str, str]) -> FindingLine:
    return FindingLine(
        level=finding.level,
        head=say(finding.headline),
        body=say(finding.cure),
        code=finding.code,
        field=finding.field,
        kept=kept.get(finding.key, ""),
    )
