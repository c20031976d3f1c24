"""How far the building of each job has come, by what the schedule knows: stages done, under way, held, paid for."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

from django.db.models import Sum

from jobs.records.models.saying import day_said
from jobs.records.services import Standing
from jobs.schedule.gates import CancellationRule, cancellation_ends
from jobs.schedule.models import BuildStage, DepositIn, JobStage, Waiver
from jobs.schedule.services.shop import Shop
from jobs.supply.services.waiting import SPINE, Built

NAMES = {value: str(label) for value, label in BuildStage.choices}
SOON = timedelta(days=7)  # a client has so long to pay before somebody asks


class StageAt(NamedTuple):
    """One stage as it stands in the schedule."""

    stage: str
    done_on: date | None
    starts_on: date | None
    ends_on: date | None
    held_why: str
    held_since: date | None
    crew: str | None


@dataclass(frozen=True, slots=True)
class Progress:
    stages: tuple[StageAt, ...] = ()
    deposit_in: Decimal = Decimal(0)
    waived: frozenset[str] = frozenset()  # gates whose risk the owner took

    @property
    def done(self) -> frozenset[str]:
        return frozenset(one.stage for one in self.stages if one.done_on)

    @property
    def next(self) -> StageAt | None:
        return next((one for one in self.stages if not one.done_on), None)

    @property
    def last(self) -> StageAt | None:
        return next((one for one in reversed(self.stages) if one.done_on), None)


def progress_of(jobs: Iterable[int] | None = None) -> dict[int, Progress]:
    """How far each open job has come; of these jobs only, if given. Three questions, however many jobs."""
    of = {"job__ending": ""} if jobs is None else {"job__in": list(jobs)}
    stages: dict[int, list[StageAt]] = defaultdict(list)
    facts = ("stage", "done_on", "starts_on", "ends_on", "held_why", "held_since", "crew__name")
    for job_id, *row in JobStage.objects.filter(**of).order_by("job_id", "position").values_list("job_id", *facts):
        stages[job_id].append(StageAt(*row))
    money = DepositIn.objects.filter(**of, struck_out=False).order_by().values("job_id").annotate(s=Sum("amount"))
    paid = dict(money.values_list("job_id", "s"))
    waived: dict[int, set[str]] = defaultdict(set)
    for job_id, gate in Waiver.objects.filter(**of, struck_out=False).values_list("job_id", "gate"):
        waived[job_id].add(gate)
    known = {*stages, *paid, *waived}
    return {pk: Progress(tuple(stages[pk]), paid.get(pk, Decimal(0)), frozenset(waived[pk])) for pk in known}


def built_of(papers: Standing, progress: Progress, *, deposit: Decimal, on: date) -> Built:
    """What the schedule adds to a signed job: the stages done, those somebody holds, the deposit before the first."""
    waits = [(one.stage, _held(papers, one)) for one in progress.stages if one.held_why and not one.done_on]
    owes = deposit > progress.deposit_in and "deposit" not in progress.waived
    if owes and "layout" not in progress.done and papers.before.startswith("Signed"):
        waits.append(("layout", _unpaid(papers, on)))
    return Built(progress.done, tuple(waits))


def _held(papers: Standing, stage: StageAt) -> Standing:
    more = {"since": stage.held_since or papers.since, "after": ".", "act": "schedule", "act_on": None, "when": "today"}
    who = f"{papers.job.owner.first_name} lets it go on"
    return replace(papers, group="today", awaited=stage.held_why.rstrip("."), about="", who=who, **more)


def _unpaid(papers: Standing, on: date) -> Standing:
    signed_on = next(quote.accepted_on for quote in papers.job.quotes.all() if quote.state == "accepted")
    asks_on = signed_on + SOON
    owner, more = papers.job.owner.first_name, {"since": signed_on, "after": ", not cleared.", "about": "customer"}
    if asks_on > on:
        who = {"group": "waiting", "who": "The client pays", "when": f"{owner} asks {_short(asks_on)}", "act": ""}
    else:
        who = {"group": "today", "who": f"{owner} asks for it", "when": "today", "act": "schedule"}
    return replace(papers, awaited="the deposit", act_on=None, **more, **who)


@dataclass(frozen=True, slots=True)
class TimeToCancel:
    """How long a customer may think better of it, by the firm's rules."""

    rule: CancellationRule = field(default_factory=CancellationRule)
    holidays: frozenset[date] = frozenset()

    def ends(self, signed_on: date) -> date | None:
        return cancellation_ends(signed_on, self.rule, self.holidays)


def time_to_cancel(on: date) -> TimeToCancel:
    shop = Shop(on=on)
    return TimeToCancel(shop.cancellation, shop.cancellation_holidays)


def may_cancel(standing: Standing, progress: Progress, time: TimeToCancel, *, on: date) -> Standing:
    """With nothing else in the way, a job waits until the customer can cancel no more."""
    begun = "layout" in progress.done or "cancellation" in progress.waived
    last = None if begun or standing.group != "clear" else time.ends(standing.since)
    if last is None or last < on:
        return standing
    more = {"awaited": "the time to cancel to end", "after": f", {_short(last)}.", "about": "customer"}
    return replace(standing, group="waiting", who="Nobody", when="it ends by itself", **more)


def placed(standing: Standing, progress: Progress, *, on: date) -> Standing:
    """The sentence with the last stage done, and where the building stands."""
    last, following = progress.last, progress.next
    if last and standing.before.startswith("Signed"):
        standing = replace(standing, before=f"{NAMES[last.stage].capitalize()} done {_short(last.done_on)}.")
    if not progress.stages:
        return standing
    if following is None:
        standing = replace(standing, at="Every stage is done")
        return _all_done(standing) if standing.group == "clear" else standing
    if following.starts_on is None:
        return (
            standing if standing.held or not progress.done else replace(standing, at=f"Next {NAMES[following.stage]}")
        )
    return _planned(standing, following, on)


def _planned(standing: Standing, stage: StageAt, on: date) -> Standing:
    name = NAMES[stage.stage]
    begins, ends = _short(stage.starts_on), _short(stage.ends_on)
    if stage.starts_on > on:
        at, when = f"{name.capitalize()} from {begins}", begins
    else:
        days = (stage.ends_on - stage.starts_on).days + 1
        part = min(max((on - stage.starts_on).days * 100 // days // 5 * 5, 5), 95)
        late = stage.ends_on < on
        at = f"{name.capitalize()} was to be done {ends}" if late else f"{name.capitalize()} under way until {ends}"
        standing = replace(standing, now=SPINE.get(stage.stage, stage.stage), part=part)
        when = f"until {ends}"
    if standing.group == "clear" and stage.crew:
        standing = replace(standing, who=f"{stage.crew} works", when=when)
    return replace(standing, at=at)


def _all_done(standing: Standing) -> Standing:
    who = f"{standing.job.owner.first_name} hands it over"
    return replace(standing, after="Every stage is done.", who=who, when="or ends the job")


def _short(day: date) -> str:
    return day_said(day, short=True, weekday=True)
