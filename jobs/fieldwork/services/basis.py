"""What a job's sheets are made from: the accepted quote's spec, else the newest one, worked out for a day."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from estimating.catalogue.models import Item
from estimating.catalogue.services import engine_catalogue, firm_rules
from estimating.engine.parts import Catalogue, FirmRules
from estimating.engine.pipeline import estimate
from estimating.engine.result import Estimate
from estimating.engine.spec_file import dump_spec, load_spec
from estimating.quotes.services import spec_as_accepted
from jobs.fieldwork.documents.facts import Work
from jobs.fieldwork.models import WorkOrder
from jobs.records.models import Job

from .planned import day_said, plan_of, stages_done


class NothingToBuild(Exception):
    """The job has no spec yet."""


@dataclass(frozen=True, slots=True)
class Basis:
    """A revision to build from. `sold` is whether a customer accepted it."""

    job: Job
    letter: str
    position: int
    document: Mapping[str, Any]
    sold: bool


@dataclass(frozen=True, slots=True)
class Worked:
    """A document worked out with a day's catalogue."""

    estimate: Estimate
    catalogue: Catalogue
    rules: FirmRules


def basis_of(job: Job) -> Basis:
    """The accepted quote's spec with the options that were taken, else the newest revision. Raises NothingToBuild."""
    accepted = job.quotes.filter(state="accepted").first()
    revisions = {revision.letter: revision for revision in job.spec_revisions.all()}
    if accepted is not None:
        known = revisions.get(accepted.spec_letter)
        position = known.position if known else len(revisions)
        taken = spec_as_accepted(accepted)
        document = accepted.spec_document if taken is None else dump_spec(taken)
        return Basis(job, accepted.spec_letter, position, document, True)
    newest = max(revisions.values(), key=lambda revision: revision.position, default=None)
    if newest is None:
        raise NothingToBuild(job.number)
    return Basis(job, newest.letter, newest.position, newest.document, False)


def worked_out(document: Mapping[str, Any], *, on: datetime.date, proof: bool = True) -> Worked:
    """The document as the engine works it out; without `proof` nothing is known of how it floats. Raises SpecFaults."""
    catalogue, rules = engine_catalogue(on=on), firm_rules(on=on)
    return Worked(estimate(load_spec(document), catalogue, rules, proof=proof), catalogue, rules)


def work_of(order: WorkOrder, worked: Worked, *, before: tuple[str, ...] = ()) -> Work:
    """What the order's sheet and its page are made from."""
    job = order.job
    planned = plan_of(job, order.stage)
    place = ", ".join(part for part in (job.site.name or job.site.address.split("\n")[0], job.site.water_body) if part)
    return Work(
        job_number=job.number,
        client=job.client.filed_under,
        place=place,
        stage=order.stage,
        letter=order.letter,
        sold=order.sold,
        estimate=worked.estimate,
        catalogue=worked.catalogue,
        names=dict(Item.objects.values_list("code", "name")),
        people=planned.people,
        crew=planned.crew,
        planned_on=planned.on,
        day_words=day_said(planned.on) if planned.on else "",
        done=stages_done(job),
        level_in=order.level_in,
        level_words=order.level_words,
        before=before,
    )
