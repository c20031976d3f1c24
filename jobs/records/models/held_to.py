"""What a job is held to: the rules at its site and its permits' limits and days, for the engine to check a dock by."""

from collections.abc import Callable
from typing import Any, Protocol

from estimating.engine.outline import box_of
from estimating.engine.permitted import (
    PermitDays,
    PermitLimits,
    SideLines,
    Verdict,
    Window,
    limit_findings,
    verdicts,
)
from estimating.engine.reasons import Finding, Sentence
from estimating.engine.result import Design
from estimating.engine.spec import DockSpec
from estimating.engine.spec_file import load_spec

from . import saying
from .permits import WorkWindow
from .sites import Site

THE_SITE = "The rules at the site"
ASK_AGAIN = Sentence(
    "Most authorities ask to approve any change of the plan: ask them, and note the spec they approve."
)


class HeldJob(Protocol):
    site: Site
    permits: Any  # the permits noted for it


def limits_of(job: HeldJob) -> tuple[PermitLimits, ...]:
    """The rules at the site, then each permit that is needed, with who set them."""
    permits = [permit for permit in job.permits.all() if permit.needed]
    return (job.site.limits_by(THE_SITE), *(permit.limits_by(permit.authority) for permit in permits))


def lines_of(site: Site) -> SideLines:
    return SideLines(site.setback_left_in, site.setback_right_in, site.frontage_in)


def verdicts_on(dock: Design, job: HeldJob) -> tuple[Verdict, ...]:
    """The dock held against every limit the job is held to."""
    return verdicts(dock, limits_of(job), lines_of(job.site))


def windows_of(job: HeldJob) -> tuple[Window, ...]:
    """Work dates at the site and in each permit that is needed."""
    permits = [permit for permit in job.permits.all() if permit.needed]
    given = [(THE_SITE, job.site.work_windows.all())]
    given += [(permit.authority, permit.work_windows.all()) for permit in permits]
    return tuple(_window(by, window) for by, windows in given for window in windows)


def permit_days_of(job: HeldJob) -> tuple[PermitDays, ...]:
    return tuple(permit.days for permit in job.permits.all())


def against(job: HeldJob) -> Callable[[Design], tuple[Finding, ...]]:
    """What the authorities have against a dock: limits it breaks, and permits that show another plan."""
    limits, lines = limits_of(job), lines_of(job.site)
    approved = [
        (permit.authority, permit.approved_revision)
        for permit in job.permits.all()
        if permit.needed and permit.approved_revision is not None
    ]

    def found(dock: Design) -> tuple[Finding, ...]:
        plan = _plan(dock.spec)
        changed = [
            Finding(
                "check",
                Sentence("{0} approved spec {1}; this dock is laid out otherwise.", (by, revision.letter)),
                ASK_AGAIN,
                source="FIRM",
                code="not_as_approved",
            )
            for by, revision in approved
            if _plan(load_spec(revision.document)) != plan
        ]
        return (*limit_findings(verdicts(dock, limits, lines)), *changed)

    return found


def _window(by: str, window: WorkWindow) -> Window:
    words = " to ".join(saying.month_day_said(*day) for day in (window.days.first, window.days.last))
    return Window(by, window.kind, window.days, window.note, words)


def _plan(spec: DockSpec) -> tuple[object, ...]:
    """What an authority sees of a dock: where its sections lie, and how long its ramp is."""
    ramp = (spec.ramp.length_in, spec.ramp.edge) if spec.ramp else None
    return (*(box_of(section) for section in spec.sections), ramp)
