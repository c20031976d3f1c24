"""A worked quote arranged for the people of the shop: the build-up, the goods, the hours, what to look at."""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from estimating.engine.reasons import Amount, Finding, Reason
from estimating.engine.result import PriceLine, TakeoffLine
from estimating.engine.sources import source

from .speech import say, speak
from .worked import WorkedQuote


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
class StageRow:
    """A stage of the work, its hours and the tasks they are for."""

    stage: str
    hours: Decimal
    tasks: str


@dataclass(frozen=True, slots=True)
class FindingLine:
    level: str
    head: str
    body: str
    code: str
    field: str


def why(reason: Reason) -> Why:
    """The reason in the firm's units, its last total line apart."""
    said = [(say(step.label), speak(step.amount) if step.amount else "", step.total) for step in reason.steps]
    totals = [(label, amount) for label, amount, total in said if total]
    rows = tuple((label, amount) for label, amount, total in said if not total)
    total_label, total = totals[-1] if totals else ("", "")
    return Why(say(reason.rule), rows, total_label, total, source(reason.source).title)


def build_up(worked: WorkedQuote) -> list[BuildLine]:
    """The price line by line; the lines of nothing stay out, sums always stand."""
    shown = [line for line in worked.estimate.price.lines if line.kind != "cost" or line.amount or line.code in KEPT]
    return [BuildLine(line, why(line.reason)) for line in shown]


KEPT = {"materials", "labour", "contingency", "overhead", "profit", "rounding"}


def material_groups(worked: WorkedQuote) -> list[MaterialGroup]:
    groups: dict[str, list[TakeoffLine]] = defaultdict(list)
    for line in worked.estimate.takeoff.lines:
        groups[line.group].append(line)
    return [
        MaterialGroup(name, tuple(lines), sum((x.cost for x in lines), Decimal(0))) for name, lines in groups.items()
    ]


STAGE_WORDS = {"handover": "hand-over"}


def stage_rows(worked: WorkedQuote) -> list[StageRow]:
    tasks: dict[str, list[str]] = defaultdict(list)
    for line in worked.estimate.labour.lines:
        tasks[line.stage].append(f"{line.task} {speak(Amount(line.hours, 'h'))}")
    return [
        StageRow(STAGE_WORDS.get(stage, stage), hours, "; ".join(tasks[stage]))
        for stage, hours in worked.estimate.labour.stage_hours
        if hours
    ]


ORDER = {"stop": 0, "check": 1, "note": 2}


def finding_lines(worked: WorkedQuote) -> list[FindingLine]:
    """Stops first, then checks, then notes, each once."""
    found = sorted(worked.estimate.findings, key=lambda finding: ORDER[finding.level])
    return list(dict.fromkeys(_finding(finding) for finding in found))


def _finding(finding: Finding) -> FindingLine:
    return FindingLine(finding.level, say(finding.headline), say(finding.cure), finding.code, finding.field)
