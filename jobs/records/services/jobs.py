"""Jobs are opened, followed, copied and ended. A number is given once and never again."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.db import transaction

from contractor.company.journal import log_change, log_made
from contractor.company.models import Staff
from contractor.company.numbers import next_number
from contractor.company.versions import save_if_unchanged
from jobs.records.models import Client, Ending, Job, JobNote, NoteKind, Site, Stage

from .clients import record_client
from .sites import record_site
from .specs import copy_spec


class JobHasEnded(Exception):
    """The job has ended; open it again first."""


@transaction.atomic
def open_job(*, client: Client, site: Site, facts: Mapping[str, Any], by: Staff, on: date) -> Job:
    """Open a job on a day and give it the next number of that year; without an owner among the facts it is `by`'s.

    Raises ValidationError.
    """
    sequence = next_number(f"job {on.year}")
    job = Job(
        **{"called_on": on, "owner": by, **facts},
        number=f"{on.year % 100:02d}-{sequence:03d}",
        year=on.year,
        sequence=sequence,
        client=client,
        site=site,
        stage_since=on,
    )
    job.stage = Stage.VISIT if job.visit_on else Stage.ENQUIRY
    job.full_clean()
    job.save()
    log_made(job, by=by, facts={"number": job.number, "client": client, "site": site, **facts})
    return job


@transaction.atomic
def take_enquiry(
    *, client: Client | Mapping[str, Any], site: Site | Mapping[str, Any], facts: Mapping[str, Any], by: Staff, on: date
) -> Job:
    """Write down a first call: the client and the site, known or new, and the job. Raises ValidationError."""
    known = client if isinstance(client, Client) else record_client(facts=client, by=by)
    place = site if isinstance(site, Site) else record_site(facts=site, by=by)
    return open_job(client=known, site=place, facts=facts, by=by, on=on)


@transaction.atomic
def save_job(job: Job, *, seen_version: int, changes: Mapping[str, Any], by: Staff, on: date) -> Job:
    """Change what is known of a job; a visit that is booked moves an enquiry on. Raises ChangedMeanwhile."""
    moves = {"stage": Stage.VISIT, "stage_since": on} if job.stage == Stage.ENQUIRY and changes.get("visit_on") else {}
    return save_if_unchanged(job, seen_version, {**changes, **moves}, by=by)


@transaction.atomic
def log_call(job: Job, *, words: str, by: Staff, kind: str = NoteKind.CALL) -> JobNote:
    """Add what was said. Raises ValidationError if nothing was."""
    note = JobNote(job=job, words=words.strip(), kind=kind, by=by, by_name=by.name)
    note.full_clean()
    note.save()
    job.save(update_fields=["find_text"])
    return note


@transaction.atomic
def end_job(job: Job, *, ending: str, reason: str, by: Staff, on: date) -> Job:
    """Close a job as refused, declined, cancelled or finished. Raises JobHasEnded, ValidationError."""
    standing = Job.objects.select_for_update().get(pk=job.pk)
    if not standing.is_open:
        raise JobHasEnded(standing.number)
    changes = {"ending": ending, "ended_on": on, "ended_reason": reason.strip()}
    return save_if_unchanged(standing, standing.version, changes, by=by, did=Ending(ending).value)


@transaction.atomic
def reopen_job(job: Job, *, by: Staff) -> Job:
    """Take an ended job up again. Does nothing to an open one."""
    standing = Job.objects.select_for_update().get(pk=job.pk)
    changes = {"ending": Ending.OPEN, "ended_on": None, "ended_reason": ""}
    return save_if_unchanged(standing, standing.version, changes, by=by, did="opened again")


@transaction.atomic
def copy_job(job: Job, *, by: Staff, on: date, client: Client | None = None, site: Site | None = None) -> Job:
    """A new job like this one, with a number of its own and the newest spec as its revision A."""
    facts = {
        "owner": job.owner,
        "rough_size": job.rough_size,
        "boats": job.boats,
        "their_words": f"Like job {job.number}.",
    }
    new = open_job(client=client or job.client, site=site or job.site, facts=facts, by=by, on=on)
    newest = job.spec_revisions.newest_first().first()
    if newest is not None:
        copy_spec(newest, to=new, by=by)
    log_change(new, did="copied", by=by, before={"job": job.number}, after={"job": new.number})
    new.refresh_from_db()
    return new
