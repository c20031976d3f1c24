"""The days of a job's stages on its spine, wherever that is drawn."""

from dataclasses import replace
from datetime import date

from jobs.records.models.saying import day_said
from jobs.records.services import Standing
from jobs.schedule.models import BuildStage, JobStage

NAMES = {value: str(label) for value, label in BuildStage.choices if value != "launch"}  # it has no place of its own


def line_of(stage: JobStage) -> str:
    """When it was done, or is to begin; empty while it has no day."""
    if stage.done_on:
        return f"done {day_said(stage.done_on, short=True)}"
    return day_said(stage.starts_on, short=True) if stage.starts_on else ""


def with_days(standing: Standing, on: date) -> Standing:
    """The standing of a job with the days of its stages."""
    stages = JobStage.objects.filter(job=standing.job, stage__in=NAMES)
    said = {NAMES[stage.stage]: line for stage in stages if (line := line_of(stage))}
    return replace(standing, days_said=said) if said else standing
