"""The spec page: typed left, worked out right, redrawn as it changes."""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import PermissionDenied, ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import OFFICE, office_only, signed_in
from contractor.company.once import address_of, remember_address, use_key
from contractor.company.views.firm import seen
from contractor.htmx import fragment, go, wants_piece
from contractor.money import MoneyNotUnderstood, parse_money
from estimating.catalogue.services import CatalogueNotReady
from estimating.engine.design import design
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import DockSpec
from estimating.quotes.models import Quote
from estimating.quotes.services import DraftExists, draft_quote
from jobs.records import services
from jobs.records.documents.spec_drawing import drawing_pdf
from jobs.records.documents.spec_float_fixes import cheapest_floats
from jobs.records.documents.spec_float_fixes import put_right as find_fixes
from jobs.records.documents.spec_float_views import Lying, Under, lying, stepped
from jobs.records.documents.spec_range import Ranging
from jobs.records.documents.spec_results import Books, Worked, open_books, speak, work_out
from jobs.records.forms.spec import SpecForm, Trouble
from jobs.records.forms.spec_crowd import asked_crowd
from jobs.records.forms.spec_typed import typed_spec
from jobs.records.models import Job, SpecRevision
from jobs.records.models.held_to import verdicts_on
from jobs.records.services.kept_checks import keep_check as write_down
from jobs.records.services.kept_checks import kept_checks
from jobs.records.services.placing import spec_for_job
from jobs.records.services.ranging import range_of
from jobs.records.services.spec_page import last_saved, limit_checks

PAGE = "jobs/records/spec.html"
LIES = "lies"
RANGE, RANGE_PIECE = "range", "jobs/records/spec_range.html"
KEEP, KEEP_BESIDE, TO_QUOTE = "keep", "keep-beside", "quote"


def when_ready(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Say what the catalogue still lacks, instead of the page, before a dock can be worked out at all."""

    @functools.wraps(view)
    def ready(request: HttpRequest, number: str, letter: str, **more: Any) -> HttpResponse:
        try:
            return view(request, number, letter, **more)
        except CatalogueNotReady as lacking:
            shown = {"job": _revision(number, letter).job, "gaps": lacking.missing}
            return fragment(request, "jobs/records/spec_not_ready.html", shown)

    return ready


@dataclass(frozen=True)
class Look:
    """What one look at a spec came to: worked out, or in trouble."""

    spec: DockSpec | None
    worked: Worked | None
    troubles: tuple[Trouble, ...] = ()
    lying: Lying | None = None
    ranging: Ranging | None = None


@signed_in
@require_GET
def now(request: HttpRequest, number: str) -> HttpResponse:
    """The newest revision, or a place to start one."""
    job = get_object_or_404(Job.objects.in_full(), number=number)
    newest = job.spec_revisions.newest_first().first()
    if newest is None:
        return fragment(request, "jobs/records/spec_none.html", {"job": job})
    return go(request, newest)


@signed_in
@require_http_methods(["GET", "POST"])
@when_ready
def spec(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    if request.method == "GET":
        base = services.spec_of(revision)
        form = SpecForm(typed_spec(base), base=base, catalogue=books.catalogue)
        look = _work_out(request, revision, books, base, form)
        return _page(request, revision, form, look)
    if request.staff.role not in OFFICE:
        raise PermissionDenied
    form = _typed(request, revision, books)
    look = _look(request, revision, books, form)
    if form.asked == KEEP_BESIDE and look.spec is not None:
        return _keep_beside(request, revision, look.spec, note=form.note)
    if form.asked in (KEEP, TO_QUOTE) and look.worked is not None:
        return _keep(request, revision, form, look)
    return _page(request, revision, form, look, status=422 if look.troubles else 200)


@office_only
@require_POST
@when_ready
def preview(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    """The right column for what stands in the boxes now; nothing is kept."""
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    form = _typed(request, revision, books)
    under = _stepped(request, revision, books, form) if request.htmx.target == LIES else None
    if under is not None:
        return fragment(request, f"{PAGE}#{LIES}", {"under": under})
    look = _look(request, revision, books, form)
    if request.htmx.target == RANGE and look.ranging is not None:
        return fragment(request, RANGE_PIECE, _shown(request, revision, form, look))
    return _answer(request, revision, form, look)


@office_only
@require_POST
@when_ready
def keep_check(request: HttpRequest, number: str, letter: str, check: str) -> HttpResponse:
    """Keep one Check of what stands in the boxes, with the reason written beside it."""
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    form = _typed(request, revision, books)
    look = _look(request, revision, books, form)
    said = next((one for one in look.worked.findings if one.id == check), None) if look.worked else None
    if said is None or not said.may_be_kept:
        return _answer(request, revision, form, look)
    reason = request.POST.get(f"why-{check}", "")
    try:
        headline = said.finding.headline.say(speak)
        write_down(revision, key=said.key, headline=headline, reason=reason, by=request.staff)
    except ValidationError:
        return _answer(request, revision, form, look, unreasoned=check, status=422)
    return _answer(request, revision, form, _look(request, revision, books, form))


@office_only
@require_POST
@when_ready
def put_right(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    """Other floats under which the gravest load passes, each as the boxes would then read."""
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    form = _typed(request, revision, books)
    look = _look(request, revision, books, form)
    if look.worked is None:
        return _answer(request, revision, form, look)
    found = find_fixes(look.worked, books)
    offers = [(fix, list(typed_spec(fix.spec).lists())) for fix in found.fixes]
    if wants_piece(request):
        shown = {**_shown(request, revision, form, look), "found": found, "offers": offers}
        return fragment(request, f"{PAGE}#fixes", shown)
    return _page(request, revision, form, look, found=found, offers=offers)


@office_only
@require_POST
@when_ready
def lay_out_floats(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    """The boxes with the cheapest floats that pass; nothing is kept."""
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    form = _typed(request, revision, books)
    look = _look(request, revision, books, form)
    if look.worked is None:
        return _page(request, revision, form, look, status=422)
    proposed = cheapest_floats(look.spec, books)
    if proposed == look.spec:
        return _page(request, revision, form, look, laid_out="as they were")
    text = typed_spec(proposed)
    text["note"] = form.note
    form = SpecForm(text, base=services.spec_of(revision), catalogue=books.catalogue)
    return _page(request, revision, form, _work_out(request, revision, books, proposed, form), laid_out="anew")


@signed_in
@require_GET
@when_ready
def drawing(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    """The drawing on paper."""
    revision, books = _revision(number, letter), open_books(on=timezone.localdate())
    try:
        pdf = drawing_pdf(revision, services.spec_of(revision), books)
    except SpecFaults:
        return go(request, revision)
    response = HttpResponse(pdf, content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="drawing-{number}-{letter}.pdf"'
    return response


def _revision(number: str, letter: str) -> SpecRevision:
    found = SpecRevision.objects.select_related("job__client", "job__site__level_range").prefetch_related(
        "job__permits"
    )
    return get_object_or_404(found, job__number=number, letter=letter)


def _typed(request: HttpRequest, revision: SpecRevision, books: Books) -> SpecForm:
    return SpecForm(request.POST, base=services.spec_of(revision), catalogue=books.catalogue)


def _look(request: HttpRequest, revision: SpecRevision, books: Books, form: SpecForm) -> Look:
    if not form.is_valid():
        return Look(None, None, tuple(form.troubles()))
    placed = spec_for_job(form.spec(), revision.job)
    return _work_out(request, revision, books, placed, form)


def _stepped(request: HttpRequest, revision: SpecRevision, books: Books, form: SpecForm) -> Under | None:
    """So many people at an edge of the dock as it stands in the boxes; None if that takes more than one load."""
    if not form.is_valid():
        return None
    placed = spec_for_job(form.spec(), revision.job)
    try:
        return stepped(design(placed, books.catalogue, books.rules), books, asked_crowd(request.POST))
    except SpecFaults:
        return None


def _work_out(request: HttpRequest, revision: SpecRevision, books: Books, spec: DockSpec, form: SpecForm) -> Look:
    kept = {key: check.words for key, check in kept_checks(revision).items()}
    try:
        limits = limit_checks(revision.job)
        worked = work_out(spec, books, with_money=request.staff.has_money, kept=kept, limits=limits)
    except SpecFaults as wrong:
        return Look(spec, None, tuple(form.blame(wrong.faults)))
    asked = asked_crowd(request.POST or request.GET)
    ranged = range_of(worked.design, books.rules.range, revision.job, (request.POST or request.GET).get("range-on", ""))
    return Look(spec, worked, lying=lying(worked, books, asked), ranging=ranged)


def _keep(request: HttpRequest, revision: SpecRevision, form: SpecForm, look: Look) -> HttpResponse:
    try:
        kept = services.save_spec(
            revision, spec=look.spec, seen_version=seen(request), by=request.staff, note=form.note
        )
    except services.SpecChangedMeanwhile as conflict:
        return _page(request, conflict.revision, form, look, conflict=conflict, status=409)
    except services.SpecFrozen:
        return _page(request, _revision(revision.job.number, revision.letter), form, look, frozen=True, status=409)
    return go(request, _quote(request, kept) if form.asked == TO_QUOTE else kept)


def _quote(request: HttpRequest, revision: SpecRevision) -> Quote:
    """The quote being written for this job, begun from this revision if there is none."""
    facts = {"spec_letter": revision.letter, "spec_document": revision.document}
    try:
        return draft_quote(revision.job, **facts, by=request.staff, on=timezone.localdate())
    except DraftExists as being_written:
        return being_written.quote


def _keep_beside(request: HttpRequest, revision: SpecRevision, spec: DockSpec, *, note: str) -> HttpResponse:
    """What was typed becomes the job's next revision; the one it was typed over stays as it is."""
    key = request.POST.get("once", "")
    with transaction.atomic():
        if not use_key(key):
            return go(request, address_of(key) or revision)
        beside = services.start_spec(revision.job, spec=spec, by=request.staff, note=note)
        remember_address(key, beside.get_absolute_url())
    return go(request, beside)


def _page(
    request: HttpRequest, revision: SpecRevision, form: SpecForm, look: Look, *, status: int = 200, **more: Any
) -> HttpResponse:
    if request.htmx.target == RANGE and look.ranging is not None:
        return fragment(request, RANGE_PIECE, _shown(request, revision, form, look))
    form.show(look.troubles, speak)
    before = revision.job.spec_revisions.filter(position__lt=revision.position).newest_first().first()
    shown = {**_shown(request, revision, form, look), "saved_at": last_saved(revision), "before": before, **more}
    if request.htmx.target == LIES and look.lying is not None:
        return fragment(request, f"{PAGE}#{LIES}", {"under": look.lying.under})
    return fragment(request, PAGE, shown, status=status)


def _answer(
    request: HttpRequest, revision: SpecRevision, form: SpecForm, look: Look, *, status: int = 200, **more: Any
) -> HttpResponse:
    """The parts of the page that changed, the typed boxes left alone."""
    if not wants_piece(request) or (request.htmx.target == LIES and look.lying is not None):
        return _page(request, revision, form, look, status=422 if look.troubles else status, **more)
    faulted = [trouble.box.auto_id for trouble in look.troubles if trouble.box is not None]
    before = set(request.POST.get("faulted", "").split())
    shown = {
        **_shown(request, revision, form, look),
        "regions": form.regions_to_draw(),
        "cleared": sorted(before - set(faulted)),
        "oob": True,
        **more,
    }
    response = fragment(request, f"{PAGE}#answer", shown, status=422 if look.troubles else status)
    if look.worked is None:
        # The last drawing stays in sight: only the list of what is wrong changes above it.
        response.headers["HX-Retarget"], response.headers["HX-Reswap"] = "#faults", "outerHTML"
    return response


def _shown(request: HttpRequest, revision: SpecRevision, form: SpecForm, look: Look) -> dict[str, Any]:
    office = request.staff.role in OFFICE
    day = look.ranging.asked.day if look.ranging else None
    return {
        "revision": revision,
        "job": revision.job,
        "form": form,
        "worked": look.worked,
        "lying": look.lying,
        "ranging": look.ranging,
        "day_faults": services.planned_date_faults(revision.job, day) if day else [],
        "limits": verdicts_on(look.worked.design, revision.job) if look.worked else (),
        "troubles": look.troubles,
        "signatures": form.signatures(),
        "editable": office and revision.job.is_open and (not revision.frozen or request.method == "POST"),
        "office": office,
        "was": _price_before(request, look),
    }


def _price_before(request: HttpRequest, look: Look) -> Decimal | None:
    """The price the page was opened with, for those who see money."""
    if not request.staff.has_money:
        return None
    if request.method == "GET":
        return look.worked.estimate.price.price if look.worked else None
    try:
        return parse_money(request.POST.get("was", ""))
    except MoneyNotUnderstood:
        return None
