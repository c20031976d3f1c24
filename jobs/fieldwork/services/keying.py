"""What the crew wrote, kept: added beside what stands, never over it."""

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from contractor.company.models import Staff
from jobs.fieldwork.documents.blanks import OTHERS_HOURS, OTHERS_NAME, Blank, Box, blanks_of, boxes_of
from jobs.fieldwork.documents.facts import Work
from jobs.fieldwork.documents.judging import Trouble, troubles
from jobs.fieldwork.models import Defect, Entry, Source, WorkOrder

from .basis import Worked, work_of, worked_out
from .defects import Found, open_defect

AFLOAT_STAGES = ("anchoring", "handover")  # freeboards are asked for there


@dataclass(frozen=True, slots=True)
class Keyed:
    """What one person keeps with one press: figures in engine units and words, by the keys of the blanks."""

    figures: Mapping[str, float]
    words: Mapping[str, str]
    day: datetime.date
    source: str = Source.PHONE


@dataclass(frozen=True, slots=True)
class Kept:
    """What came of it."""

    entries: tuple[Entry, ...]
    defects: tuple[Defect, ...]
    troubles: tuple[Trouble, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands under one blank: every different value, the last one first. More than one is a conflict."""

    key: str
    label: str
    kind: str
    entries: tuple[Entry, ...]

    @property
    def differ(self) -> bool:
        return len(self.entries) > 1

    @property
    def last(self) -> Entry:
        return self.entries[0]


def page_of(order: WorkOrder) -> tuple[Work, Worked]:
    """What the order's page asks. Raises SpecFaults."""
    afloat = order.stage in AFLOAT_STAGES
    worked = worked_out(order.document, on=timezone.localtime(order.printed_at).date(), proof=afloat)
    return work_of(order, worked), worked


@transaction.atomic
def key_in(order: WorkOrder, keyed: Keyed, *, work: Work, by: Staff) -> Kept:
    """Add what was written; open a defect for every measure that is out, and for what was said to be not right."""
    locked = WorkOrder.objects.select_for_update().get(pk=order.pk)
    blanks, batch = blanks_of(work), uuid.uuid4()
    boxes = boxes_of(blanks)
    found = _out(order, blanks, keyed)
    entries = tuple(_entry(locked, boxes[key], keyed, batch, by) for key in _said(boxes, keyed))
    defects = [
        open_defect(order.job, Found(one.words, one.place, one.key), stage=order.stage, by=by, order=locked)
        for one in found
    ]
    if keyed.words.get("defect", "").strip():
        written = Found(keyed.words["defect"].strip())
        defects.append(open_defect(order.job, written, stage=order.stage, by=by, order=locked))
    return Kept(entries, tuple(defects), found)


def standing_entries(order: WorkOrder) -> dict[str, Standing]:
    """What stands under each blank of a sheet, by key, with every letter it was printed under."""
    found: dict[str, list[Entry]] = {}
    same_sheet = Entry.objects.filter(order__job_id=order.job_id, order__stage=order.stage)
    for entry in same_sheet.select_related("order").newest_first():
        slot = found.setdefault(_slot(entry), [])
        if not any(_same(entry, other) for other in slot):
            slot.append(entry)
    return {slot: Standing(slot, alike[0].label, alike[0].kind, tuple(alike)) for slot, alike in found.items()}


def hours_of(job) -> dict[str, float]:
    """Hours worked by stage: the last word on each person's day counts once."""
    last: dict[tuple, Entry] = {}
    for entry in Entry.objects.of_job(job).hours().select_related("order").order_by("at", "pk"):
        last[entry.order.stage, entry.key, entry.day, entry.person_name if entry.key == OTHERS_HOURS else ""] = entry
    totals: dict[str, float] = {}
    for (stage, *_), entry in last.items():
        totals[stage] = totals.get(stage, 0.0) + (entry.number or 0.0)
    return totals


def _said(boxes: Mapping[str, Box], keyed: Keyed) -> list[str]:
    given = {**keyed.figures, **{key: words for key, words in keyed.words.items() if words.strip()}}
    return [key for key in boxes if key in given and key != OTHERS_NAME]


def _out(order: WorkOrder, blanks: tuple[Blank, ...], keyed: Keyed) -> tuple[Trouble, ...]:
    """Judges what was keyed in now; the other half of a pair may stand from before."""
    known = {key: one.last.number for key, one in standing_entries(order).items() if one.last.number is not None}
    touched = [blank for blank in blanks if any(box.key in keyed.figures for box in blank.boxes)]
    now = {box.key for blank in touched for box in blank.boxes if box.key in keyed.figures}
    found = troubles(touched, {**known, **keyed.figures})
    return tuple(one for one in found if one.key in now or one.key.endswith(".diagonals"))


def _entry(order: WorkOrder, box: Box, keyed: Keyed, batch: uuid.UUID, by: Staff) -> Entry:
    entry = Entry(
        order=order,
        batch=batch,
        key=box.key,
        label=box.label[:120],
        kind=box.kind,
        number=keyed.figures.get(box.key),
        words=keyed.words.get(box.key, "").strip(),
        expected=box.expected,
        day=keyed.day,
        person_id=box.person.staff if box.person else None,
        person_name=_whose(box, keyed),
        source=keyed.source,
        by=by,
        by_name=by.name,
    )
    entry.full_clean()
    entry.save()
    return entry


def _whose(box: Box, keyed: Keyed) -> str:
    if box.person:
        return box.person.name
    return keyed.words.get(OTHERS_NAME, "").strip()[:120] if box.key == OTHERS_HOURS else ""


def _slot(entry: Entry) -> str:
    if entry.kind != "hours":
        return entry.key
    who = f" {entry.person_name}" if entry.key == OTHERS_HOURS else ""
    return f"{entry.key} {entry.day.isoformat()}{who}"


def _same(one: Entry, other: Entry) -> bool:
    if one.number is None or other.number is None:
        return one.number == other.number and one.words == other.words
    return abs(one.number - other.number) < 1e-6
