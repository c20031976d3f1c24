"""Dock specs: started, changed, frozen, carried on under the next letter, copied, exported and read back."""

import datetime
import json
import re
from functools import lru_cache
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.company.current import units
from contractor.company.journal import log_change, log_made
from contractor.company.letters import revision_letter
from contractor.company.models import ChangeLog, Staff
from contractor.quantities import LengthNotUnderstood, format_length, parse_length
from estimating.catalogue.models import Item
from estimating.engine.reasons import Sentence
from estimating.engine.spec import DockSpec, Place
from estimating.engine.spec_file import dump_spec, load_spec
from estimating.quotes.services import follow_spec
from jobs.records.documents.spec_shapes import Sizes, lay_out, rounded, usual_joints
from jobs.records.models import Job, Site, SpecRevision, Stage

from .comparing import compare_specs
from .placing import spec_at_site, spec_for_job

USUAL_SIZE_IN = (72.0, 192.0)
LONGEST_ROUGH_IN = 9600.0


class SpecFrozen(Exception):
    """This revision was quoted and stays as it is; carry on under the next letter."""


class SpecChangedMeanwhile(Exception):
    """Somebody saved this revision first; nothing was saved.

    `version` is the one to send with the next try, `theirs` and `yours` say what each changed since it was read.
    """

    def __init__(self, revision: SpecRevision, seen_version: int, yours: DockSpec) -> None:
        super().__init__(f"{revision} was changed meanwhile")
        since = _entries_since(revision, seen_version)
        read = load_spec(since[-1].before["document"]) if since else spec_of(revision)
        self.revision = revision
        self.version: int = revision.version
        self.by_name: str = since[0].by_name if since else "Somebody"
        self.at: datetime.datetime | None = since[0].at if since else None
        self.theirs: tuple[Sentence, ...] = compare_specs(read, spec_of(revision))
        self.yours: tuple[Sentence, ...] = compare_specs(read, yours)


def spec_of(revision: SpecRevision) -> DockSpec:
    """The engine's spec of a revision."""
    return _read(json.dumps(revision.document))


@lru_cache(maxsize=256)
def _read(text: str) -> DockSpec:
    """Every page of a job reads its spec, some several times; a spec is frozen, so all may have the same."""
    return load_spec(json.loads(text))


@transaction.atomic
def start_spec(job: Job, *, by: Staff, spec: DockSpec | None = None, note: str = "") -> SpecRevision:
    """The next revision of a job from this spec, or from the rough size they named; the job is then being estimated."""
    locked = Job.objects.select_for_update().in_full().get(pk=job.pk)
    revision = _add(locked, spec or _rough_spec(locked.rough_size), by=by, note=note)
    if locked.stage in (Stage.ENQUIRY, Stage.VISIT):
        locked.stage, locked.stage_since = Stage.ESTIMATING, timezone.localdate()
        locked.version += 1
        locked.save(update_fields=["stage", "stage_since", "version"])
        log_change(locked, did="estimating", by=by, after={"stage": locked.stage, "version": locked.version})
    return revision


@transaction.atomic
def save_spec(
    revision: SpecRevision, *, spec: DockSpec, seen_version: int, by: Staff, note: str | None = None
) -> SpecRevision:
    """Write a spec into an open revision, standing at its job's site.

    Raises SpecFrozen, SpecChangedMeanwhile.
    """
    locked = SpecRevision.objects.select_for_update().select_related("job__site").get(pk=revision.pk)
    if locked.frozen:
        raise SpecFrozen(str(locked))
    placed = spec_for_job(spec, locked.job)
    if locked.version != seen_version:
        raise SpecChangedMeanwhile(locked, seen_version, placed)
    document = dump_spec(placed)
    note = locked.note if note is None else note
    if (document, note) == (locked.document, locked.note):
        return locked
    changed = SpecRevision.objects.filter(pk=locked.pk, version=seen_version, frozen=False)
    if not changed.update(document=document, note=note, version=seen_version + 1):
        raise SpecChangedMeanwhile(SpecRevision.objects.get(pk=locked.pk), seen_version, placed)
    after = {"document": document, "note": note, "version": seen_version + 1}
    before = {"document": locked.document, "note": locked.note}
    log_change(locked, did="changed", by=by, before=before, after=after)
    locked.refresh_from_db()
    _tell_quote(locked, by=by)
    return locked


@transaction.atomic
def freeze_spec(revision: SpecRevision, *, by: Staff | None) -> SpecRevision:
    """From here on the revision stays as it is. Does nothing twice."""
    open_still = SpecRevision.objects.filter(pk=revision.pk, frozen=False)
    if open_still.update(frozen=True, frozen_at=timezone.now()):
        log_change(revision, did="froze", by=by)
    revision.refresh_from_db()
    return revision


@transaction.atomic
def next_revision(revision: SpecRevision, *, by: Staff, note: str = "") -> SpecRevision:
    """The same dock under the job's next letter, open to change."""
    job = Job.objects.select_for_update().in_full().get(pk=revision.job_id)
    return _add(job, spec_of(revision), by=by, note=note, made_from=revision)


@transaction.atomic
def copy_spec(revision: SpecRevision, *, to: Job, by: Staff) -> SpecRevision:
    """The dock of one job as the next revision of another, standing at that job's site."""
    new = start_spec(to, spec=spec_of(revision), by=by, note=f"Copied from {revision.job.number} {revision.letter}")
    new.made_from = revision
    new.save(update_fields=["made_from"])
    return new


@transaction.atomic
def import_spec(job: Job, *, document: Any, by: Staff) -> tuple[SpecRevision, tuple[Sentence, ...]]:
    """A spec file as the job's next revision, and what the site says otherwise than the file: there the site rules.

    Raises SpecFaults with every wrong field named by its path.
    """
    given = load_spec(document)
    revision = start_spec(job, spec=given, by=by, note="Read from a file")
    return revision, _overruled(given, spec_of(revision))


def export_spec(revision: SpecRevision) -> dict[str, Any]:
    """The revision as the file that `manage.py estimate` reads."""
    return dump_spec(spec_of(revision))


@transaction.atomic
def follow_site(site: Site, *, by: Staff | None) -> list[SpecRevision]:
    """Bring the open specs of the open jobs at a site to what the site says now.

    Their version stays: saving a spec takes the place from the site anyway, so nobody's work is overtaken.
    """
    followed = []
    for revision in SpecRevision.objects.open_to_change().filter(job__site=site, job__ending=""):
        document = dump_spec(spec_at_site(spec_of(revision), site))
        if document != revision.document:
            revision.document = document
            revision.save(update_fields=["document"])
            _tell_quote(revision, by=by)
            followed.append(revision)
    return followed


def catalogue_names() -> dict[str, str]:
    """What the shop calls each item, by its code."""
    return dict(Item.objects.values_list("code", "name"))


def _add(job: Job, spec: DockSpec, *, by: Staff, note: str = "", made_from: SpecRevision | None = None) -> SpecRevision:
    last = job.spec_revisions.newest_first().values_list("position", flat=True).first() or 0
    revision = SpecRevision(
        job=job,
        letter=revision_letter(last + 1),
        position=last + 1,
        document=dump_spec(spec_for_job(spec, job)),
        note=note,
        made_from=made_from,
        created_by=by,
    )
    revision.full_clean()
    revision.save()
    log_made(revision, by=by, facts={"letter": revision.letter, "document": revision.document, "note": note})
    _tell_quote(revision, by=by)
    return revision


def _tell_quote(revision: SpecRevision, *, by: Staff | None) -> None:
    """A quote that was not sent yet follows the newest revision of its job."""
    if not SpecRevision.objects.filter(job_id=revision.job_id, position__gt=revision.position).exists():
        follow_spec(revision.job, spec_letter=revision.letter, spec_document=revision.document, by=by)


def _rough_spec(rough_size: str) -> DockSpec:
    """A straight dock of the size they named, or of the usual one, in sections that can still be moved."""
    width_in, length_in = _rough_size_in(rough_size)
    laid = lay_out(Sizes(width_in=width_in, length_in=length_in))
    size = " × ".join(format_length(side_in, units()) for side_in in (width_in, length_in))
    return DockSpec(title=f"{size} dock", sections=tuple(one.section for one in laid), joints=usual_joints(laid))


def _rough_size_in(rough_size: str) -> tuple[float, float]:
    usual_in = tuple(rounded(side_in, units()) for side_in in USUAL_SIZE_IN)
    sides = re.split(r"\s*(?:[x×*]|\bby\b)\s*", rough_size.strip().lower())
    if len(sides) != 2:
        return usual_in
    try:
        width_in, length_in = sorted(parse_length(side, system=units()) for side in sides)
    except LengthNotUnderstood:
        return usual_in
    return (width_in, length_in) if width_in > 0 and length_in < LONGEST_ROUGH_IN else usual_in


def _overruled(given: DockSpec, placed: DockSpec) -> tuple[Sentence, ...]:
    return () if given.place == Place() else compare_specs(given, placed)


def _entries_since(revision: SpecRevision, seen_version: int) -> list[ChangeLog]:
    entries = ChangeLog.objects.about(revision).newest_first().filter(did="changed")
    return [entry for entry in entries[:50] if entry.after.get("version", 0) > seen_version]
