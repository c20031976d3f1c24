"""What is on record about a job, gathered for its gates."""

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from decimal import Decimal
from functools import cache

from django.db.models import Prefetch, prefetch_related_objects

from contractor.company import current
from contractor.quantities import format_level
from estimating.quotes.models import Quote
from jobs.records.models import Ice, Job, Permit, ShoreKind, Site, WindowKind, WorkWindow
from jobs.records.services import level_on
from jobs.schedule.gates import (
    DepositFacts,
    HoldFacts,
    IceFacts,
    LevelFacts,
    PermitFacts,
    PreviousFacts,
    StageFacts,
    YearRange,
    in_water,
)
from jobs.schedule.models import DepositIn, JobPlan, JobStage, Waiver
from jobs.supply.models import Hold

from .goods import Goods, goods_of
from .shop import YEARS_AHEAD, Shop, Team

HEAVY = ("figures", "customer_pdf", "shop_pdf", "spec_document", "what_changed", "paper_words")
KEPT = (
    "accepted_quotes",
    "money_in",
    "risks_taken",
    "stages_here",
    "holds_here",
    "goods_here",
    "_prefetched_objects_cache",
)
ICY = (Ice.LIGHT, Ice.HEAVY, Ice.MOVING)
LEVEL_STAGES = ("launch", "anchoring")
DEPOSIT_TRIGGER = "signing"


def with_facts(jobs: Iterable[Job]) -> list[Job]:
    """The jobs with everything their gates are read from."""
    found = list(jobs)
    prefetch_related_objects(
        found,
        Prefetch("quotes", Quote.objects.filter(state="accepted").defer(*HEAVY), to_attr="accepted_quotes"),
        "plan",
        "permits__work_windows",
        "site__work_windows",
        Prefetch("deposits_in", DepositIn.objects.filter(struck_out=False), to_attr="money_in"),
        Prefetch("waivers", Waiver.objects.filter(struck_out=False), to_attr="risks_taken"),
        Prefetch("holds", Hold.objects.filter(cleared_on=None), to_attr="holds_here"),
        Prefetch("build_stages", JobStage.objects.select_related("crew").order_by("position"), to_attr="stages_here"),
    )
    return found


def read_afresh(job: Job) -> Job:
    """The job with its facts as they stand now, whatever it was read with."""
    for kept in KEPT:
        job.__dict__.pop(kept, None)
    return with_facts([job])[0]


def plan_of(job: Job) -> JobPlan:
    """How the job is to be built; the usual way where nobody said."""
    return getattr(job, "plan", None) or JobPlan(job=job)


def launches_first(job: Job) -> bool:
    """Hook-up to a fixed dock comes before the boards; elsewhere as the plan says."""
    return job.site.shore_kind == ShoreKind.FIXED_DOCK or plan_of(job).launch_first


def stage_facts(stage: JobStage, shop: Shop, *, days: int | None = None) -> StageFacts:
    """The facts of one stage. Its job comes from `with_facts`; a stage on the board is asked about its own crew."""
    job = stage.job
    quote = next(iter(job.accepted_quotes), None)
    team = shop.team_of(stage.crew_id)
    launch_first = launches_first(job)
    wet = in_water(stage.stage, launch_first=launch_first)
    kinds = shop.kinds_for(stage.stage)
    needed = shop.people_needed((stage.stage,), launch_first=launch_first)
    skills = shop.skills_for(stage.stage)
    lacking = sorted(team.lacks_on(stage.starts_on or shop.today, skills)) if team else []
    return StageFacts(
        stage=stage.stage,
        today=shop.today,
        days=days or days_of(stage, shop),
        signed_on=quote.accepted_on if quote else None,
        cancellation=shop.cancellation,
        holidays=shop.cancellation_holidays,
        deposit=deposit_of(job),
        permits=_permits(job),
        windows=_windows(job) if wet else (),
        ice=_ice(job.site, shop) if wet else (),
        previous=_previous(stage),
        materials=_goods(job).of(stage.stage),
        level=_level(job.site, stage.stage, shop.today),
        work_days=shop.work_days,
        crew_name=team.crew.name if team else "",
        crew_free=_crew_free(stage, shop, team, needed, skills),
        people=len(team.people) if team else needed,
        people_needed=needed,
        lacking_skill=", ".join(lacking),
        boat_kind=kinds[0] if kinds else "",
        boat_free=_boat_free(stage, shop, kinds) if kinds else None,
        held_why=stage.held_why,
        holds=_holds(job, stage.stage),
        waived=_waived(job, stage.stage),
        built_in_yard=plan_of(job).built_in_yard,
        launch_first=launch_first,
        done_on=stage.done_on,
        say_day=shop.say_day,
    )


def days_of(stage: JobStage, shop: Shop) -> int:
    """Working days the stage stands on the board, or would take."""
    if stage.starts_on and stage.ends_on:
        span = (stage.starts_on + timedelta(days=n) for n in range((stage.ends_on - stage.starts_on).days + 1))
        return max(1, sum(shop.work_days.works(day) for day in span))
    return shop.days_for(stage.planned_hours, shop.usual_people(), shop.today)


def deposit_of(job: Job) -> DepositFacts:
    """What is due at signing and what of it has cleared. The job comes from `with_facts`."""
    due = due_at_signing(next(iter(job.accepted_quotes), None))
    cleared, cleared_on = Decimal(0), None
    for payment in job.money_in:
        cleared += payment.amount
        if cleared >= due and cleared_on is None:
            cleared_on = payment.cleared_on
    return DepositFacts(due, cleared, cleared_on)


def due_at_signing(quote: Quote | None) -> Decimal:
    """The deposit that the accepted quote asks for."""
    payments = quote.payments if quote else ()
    return sum((Decimal(one["amount"]) for one in payments if one["trigger"] == DEPOSIT_TRIGGER), Decimal(0))


def _permits(job: Job) -> tuple[PermitFacts, ...] | None:
    permits = list(job.permits.all())
    return tuple(_permit(permit) for permit in permits) if permits else None


def _permit(permit: Permit) -> PermitFacts:
    return PermitFacts(
        permit.authority,
        permit.needed,
        permit.applied_on,
        permit.issued_on,
        permit.starts_on,
        permit.expires_on,
        permit.expected_on,
    )


def _windows(job: Job) -> tuple[YearRange, ...]:
    found = [_range(window, "the site") for window in job.site.work_windows.all()]
    for permit in job.permits.all():
        if permit.needed:
            found += [_range(window, permit.authority) for window in permit.work_windows.all()]
    return tuple(found)


def _range(window: WorkWindow, of: str) -> YearRange:
    first, last = (window.first_month, window.first_day), (window.last_month, window.last_day)
    return YearRange(window.kind == WindowKind.ALLOWED, first, last, of)


def _ice(site: Site, shop: Shop) -> tuple[IceFacts, ...]:
    if site.ice not in ICY:
        return ()
    return tuple(_ice_of(site, year, shop) for year in range(shop.today.year, shop.today.year + YEARS_AHEAD))


def _ice_of(site: Site, year: int, shop: Shop) -> IceFacts:
    rules, known = shop.rules, shop.ice.get((site.water_body.casefold(), year))
    margin = timedelta(days=rules.ice_margin_days)
    out = (known and known.out_on) or _in_year(year, rules.ice_out_month, rules.ice_out_day)
    back = (known and known.in_on) or _in_year(year, rules.ice_in_month, rules.ice_in_day)
    return IceFacts(out + margin, back - margin, bool(known and known.seen and known.out_on))


def _in_year(year: int, month: int, day: int) -> date:
    """That day, or the last of its month where there is none such."""
    while True:
        try:
            return date(year, month, day)
        except ValueError:
            day -= 1


def _previous(stage: JobStage) -> PreviousFacts | None:
    before = [one for one in stage.job.stages_here if one.position < stage.position]
    if not before:
        return None
    last = before[-1]
    same = stage.crew_id is None or last.crew_id == stage.crew_id
    return PreviousFacts(last.stage, last.done_on, last.ends_on, same)


def _holds(job: Job, stage: str) -> tuple[HoldFacts, ...]:
    """What somebody said the job waits for, where it blocks this stage; one that names no stage blocks all."""
    blocking = [hold for hold in job.holds_here if not hold.stages or stage in hold.stages]
    return tuple(HoldFacts(f"{hold.words.rstrip('.')}. {hold.who_acts} acts.", hold.promised_on) for hold in blocking)


def _goods(job: Job) -> Goods:
    if "goods_here" not in job.__dict__:
        job.goods_here = goods_of(job)
    return job.goods_here


def levels_at(site: Site, *, today: date) -> Callable[[date], float | None]:
    """The level of a site on a day, each asked once."""
    moves = site.calendar_levels.exists() or site.gauges.standing().exists()

    @cache
    def read(day: date) -> float | None:
        return level_on(site, day, today=today).value_in

    def at(day: date) -> float | None:
        # Without calendar or gauge every later day is answered alike, so one question does for all.
        return read(day if moves or day <= today else today + timedelta(days=1))

    return at


def _level(site: Site, stage: str, today: date) -> LevelFacts | None:
    least = site.launch_stops_below_in
    if least is None or stage not in LEVEL_STAGES:
        return None
    at = levels_at(site, today=today)

    def suits(day: date) -> bool:
        level = at(day)
        return level is None or level >= least

    return LevelFacts(suits, f"The water must stand at {say_level(least)} at least to launch.")


def say_level(level_in: float) -> str:
    return format_level(level_in, current.units())


def _waived(job: Job, stage: str) -> frozenset[str]:
    return frozenset(one.gate for one in job.risks_taken if one.stage in ("", stage))


def _crew_free(
    stage: JobStage, shop: Shop, team: Team | None, needed: int, skills: frozenset[str]
) -> Callable[[date], bool] | None:
    teams = (team,) if team else shop.teams
    if not teams:
        return None
    others = [one for one in shop.standing if one.job_id != stage.job_id]

    def free(day: date) -> bool:
        return any(
            not _is_taken(one, day, others) and len(one.there_on(day)) >= needed and not one.lacks_on(day, skills)
            for one in teams
        )

    return free


def _is_taken(team: Team, day: date, others: list[JobStage]) -> bool:
    return any(one.crew_id == team.crew.pk and one.starts_on <= day <= one.ends_on for one in others)


def _boat_free(stage: JobStage, shop: Shop, kinds: tuple[str, ...]) -> Callable[[date], bool]:
    others = [one for one in shop.standing if one.job_id != stage.job_id]

    def free(day: date) -> bool:
        return all(_boats_left(kind, day, shop, others) > 0 for kind in kinds)

    return free


def _boats_left(kind: str, day: date, shop: Shop, others: list[JobStage]) -> int:
    used = sum(kind in shop.kinds_for(one.stage) and one.starts_on <= day <= one.ends_on for one in others)
    return shop.boats_of(kind, day) - used
