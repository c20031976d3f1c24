"""What the schedule asks of the yard and tells it."""

from datetime import date

from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.schedule.gates import MaterialsFacts
from jobs.supply import services as supply


def materials_for(job: Job, *, stage: str) -> MaterialsFacts | None:
    """Whether the goods of a stage are here and set aside, and if not, when they are expected."""
    ask = getattr(supply, "materials_for", None)
    if ask is None:
        return None
    standing = ask(job, stage=stage)
    return MaterialsFacts(standing.ready, standing.expected_on, standing.words)


def tell_starts(job: Job, *, starts: dict[str, date], by: Staff | None) -> None:
    """The days by which goods are needed follow the days of the stages."""
    tell = getattr(supply, "retime_needs", None)
    if tell is not None and starts:
        tell(job=job, starts=starts, by=by)
