"""Papers and drawings of a spec for others: the sketch set of a permit, the DXF, the anchors on a day."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET

from contractor.company.access import signed_in
from contractor.htmx import fragment, go
from estimating.catalogue.services import CatalogueNotReady
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import DockSpec
from jobs.records import services
from jobs.records.documents.anchor_day import AnchorDay, anchor_day_pdf
from jobs.records.documents.permit_set import PAPERS, day_level, dxf_of, permit_set_pdf
from jobs.records.documents.spec_range import asked_day
from jobs.records.documents.spec_results import Books, open_books
from jobs.records.models import SpecRevision

NOT_READY = "jobs/records/spec_not_ready.html"


@dataclass(frozen=True, slots=True)
class Asked:
    """A revision, its dock and the books to work it out with; the day somebody asked about and its level."""

    revision: SpecRevision
    spec: DockSpec
    books: Books
    day: datetime.date | None
    level: services.LevelOn | None

    @property
    def level_in(self) -> float | None:
        return self.level.value_in if self.level else None


Paper = Callable[[HttpRequest, Asked], HttpResponse]


def of_spec(paper: Paper) -> Callable[..., HttpResponse]:
    """Look the spec up; one that cannot be worked out sends its reader to the page that says why."""

    @wraps(paper)
    def answer(request: HttpRequest, number: str, letter: str, **more: Any) -> HttpResponse:
        found = SpecRevision.objects.select_related("job__client", "job__site__level_range")
        revision = get_object_or_404(found, job__number=number, letter=letter)
        try:
            return paper(request, _asked(request, revision))
        except CatalogueNotReady as lacking:
            return fragment(request, NOT_READY, {"job": revision.job, "gaps": lacking.missing})
        except SpecFaults:
            return go(request, revision)

    return answer


@signed_in
@require_GET
@of_spec
def permit_set(request: HttpRequest, asked: Asked) -> HttpResponse:
    paper = request.GET.get("paper", "")
    chosen = paper if paper in PAPERS else None
    day = day_level(asked.day, asked.level_in)
    pdf = permit_set_pdf(asked.revision, asked.spec, asked.books, paper=chosen, day=day)
    return _file(pdf, "application/pdf", f'inline; filename="permit-sketches-{_named(asked)}.pdf"')


@signed_in
@require_GET
@of_spec
def dxf(request: HttpRequest, asked: Asked) -> HttpResponse:
    text = dxf_of(asked.revision, asked.spec, asked.books, day=day_level(asked.day, asked.level_in))
    return _file(text.encode(), "image/vnd.dxf", f'attachment; filename="dock-{_named(asked)}.dxf"')


@signed_in
@require_GET
@of_spec
def anchor_day(request: HttpRequest, asked: Asked) -> HttpResponse:
    day = asked.day or timezone.localdate()
    level = asked.level or services.level_on(asked.revision.job.site, day)
    faults = services.planned_date_faults(asked.revision.job, day)
    on = AnchorDay(day, level.value_in, level.words, tuple((fault.headline, fault.kept) for fault in faults))
    pdf = anchor_day_pdf(asked.revision, asked.spec, asked.books, on)
    return _file(pdf, "application/pdf", f'inline; filename="anchors-{_named(asked)}.pdf"')


def _asked(request: HttpRequest, revision: SpecRevision) -> Asked:
    today = timezone.localdate()
    day = asked_day(request.GET.get("on", ""), today=today).day
    level = services.level_on(revision.job.site, day) if day else None
    return Asked(revision, services.spec_of(revision), open_books(on=today), day, level)


def _named(asked: Asked) -> str:
    return f"{asked.revision.job.number}-{asked.revision.letter}"


def _file(content: bytes, kind: str, disposition: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    response.headers["Content-Disposition"] = disposition
    return response
