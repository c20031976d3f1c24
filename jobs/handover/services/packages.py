"""The package: made in one press from what was built, measured and found; signed once."""

import datetime
from dataclasses import asdict, dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.core.files import File
from django.db import transaction
from django.utils import timezone

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from estimating.catalogue.models import Item
from estimating.quotes.models import AcceptedBy
from jobs.fieldwork.documents.facts import Work
from jobs.fieldwork.models import Defect, Entry, WorkStage
from jobs.fieldwork.services import basis_of, worked_out
from jobs.fieldwork.services.basis import Basis, Worked
from jobs.handover.documents.package import Edition, Package, Told, package_kept, package_of
from jobs.handover.documents.papers import package_pdf
from jobs.handover.models import HandOver
from jobs.records.models import Job
from jobs.records.services import level_on

from .seasons import plan_visits

# The later sheet has the last word.
TOLD_BY = (WorkStage.LAUNCH, WorkStage.ANCHORING, WorkStage.HANDOVER)


class DefectsOpen(ValidationError):
    """A defect is open and nobody said why the dock is handed over with it."""


class AlreadySigned(ValidationError):
    """The customer has signed; the package is what it is."""


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signed, when, and what was agreed beside."""

    name: str
    on: datetime.date
    note: str = ""
    how: str = AcceptedBy.PAPER
    scan: File | None = None


def package_now(job: Job, *, on: datetime.date, open_why: str = "") -> tuple[Package, Work, Worked]:
    """The package as it would be made today. Raises NothingToBuild, SpecFaults."""
    basis = basis_of(job)
    worked = worked_out(basis.document, on=on)
    work = _work(job, basis, worked, on)
    edition = (job.hand_overs.newest_first().values_list("edition", flat=True).first() or 0) + 1
    made = package_of(work, worked, told_of(job), list(job.defects.all()), Edition(edition, on, open_why))
    return made, work, worked


@transaction.atomic
def make_package(job: Job, *, by: Staff, open_why: str = "") -> HandOver:
    """Another edition of the hand-over, with its paper; with a defect open only when `open_why` says why.

    Raises AlreadySigned, DefectsOpen, NothingToBuild, SpecFaults.
    """
    locked = Job.objects.select_for_update().in_full().get(pk=job.pk)
    _not_signed(locked)
    open_count, _ = defects_said(locked)
    why = open_why.strip() if open_count else ""
    if open_count and not why:
        raise DefectsOpen({"open_why": "Close the defects first, or say why it is handed over with them open."})
    package, _, _ = package_now(locked, on=timezone.localdate(), open_why=why)
    made = HandOver(
        job=locked,
        edition=package.edition,
        letter=package.letter,
        open_why=why,
        record=_record(package),
        pdf=package_pdf(package),
        made_by=by,
        made_by_name=by.name,
    )
    made.full_clean()
    made.save()
    log_made(made, by=by, facts={"edition": made.edition, "letter": made.letter, "open_why": why})
    return made


@transaction.atomic
def sign_package(made: HandOver, signature: Signature, *, seen_version: int, by: Staff) -> HandOver:
    """The customer's signature; the visits of the first season follow from it.

    Raises AlreadySigned, ChangedMeanwhile, ValidationError for a day before it was made or ahead.
    """
    job = Job.objects.select_for_update().get(pk=made.job_id)
    _not_signed(job)
    on = signature.on
    if on > timezone.localdate() or on < timezone.localtime(made.made_at).date():
        raise ValidationError({"on": "Signed between the day it was made and today."})
    changes: dict[str, Any] = {
        "signed_by_name": signature.name.strip(),
        "signed_on": on,
        "signed_how": signature.how,
        "note": signature.note.strip(),
    }
    signed = save_if_unchanged(made, seen_version, changes, by=by, did="signed")
    if signature.scan:
        signed.scan = signature.scan
        signed.save(update_fields=["scan"])
    plan_visits(job, from_day=on, by=by)
    return signed


def handed_over(job: Job) -> Package:
    """The package the customer signed; before that, as it would be made today. Raises NothingToBuild, SpecFaults."""
    signed = job.hand_overs.signed().values_list("record", flat=True).first()
    return package_kept(signed) if signed else package_now(job, on=timezone.localdate())[0]


def told_of(job: Job) -> Told:
    """The last entry under each blank of the sheets on the water."""
    entries: dict[str, Entry] = {}
    for stage in TOLD_BY:
        for entry in Entry.objects.of_job(job).filter(order__stage=stage).order_by("at", "pk"):
            entries[entry.key] = entry
    return Told(entries)


def defects_said(job: Job) -> tuple[int, int]:
    """How many defects are open, and how many were closed."""
    count = Defect.objects.filter(job=job)
    return count.open().count(), count.filter(signed_off_at__isnull=False).count()


def _not_signed(job: Job) -> None:
    signed = HandOver.objects.filter(job=job).signed().first()
    if signed is not None:
        raise AlreadySigned(f"{signed.signed_by_name} signed edition {signed.edition}. It stays as it is.")


def _work(job: Job, basis: Basis, worked: Worked, on: datetime.date) -> Work:
    place = ", ".join(part for part in (job.site.name or job.site.address.split("\n")[0], job.site.water_body) if part)
    found = level_on(job.site, on)
    return Work(
        job_number=job.number,
        client=job.client.filed_under,
        place=place,
        stage=WorkStage.HANDOVER,
        letter=basis.letter,
        sold=basis.sold,
        estimate=worked.estimate,
        catalogue=worked.catalogue,
        names=dict(Item.objects.values_list("code", "name")),
        people=(),
        level_in=found.value_in,
        level_words=found.words,
    )


def _record(package: Package) -> dict[str, Any]:
    facts = asdict(package)
    facts.pop("drawing")
    return {name: value.isoformat() if isinstance(value, datetime.date) else value for name, value in facts.items()}
