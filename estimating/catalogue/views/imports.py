from collections.abc import Iterable

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company.access import office_only
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.forms.imports import UploadForm
from estimating.catalogue.models import Import, ImportState
from estimating.catalogue.sheet.columns import COLUMNS
from estimating.catalogue.sheet.reading import LARGEST_FILE, MOST_ROWS
from estimating.catalogue.sheet.writing import Row, csv_bytes, xlsx_bytes

PAGE = "estimating/catalogue/imports.html"
PREVIEW = "estimating/catalogue/preview.html"
WRITERS = {"csv": csv_bytes, "xlsx": xlsx_bytes}
CONTENT_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
SHOWN_AT_MOST = 200


@office_only
@require_http_methods(["GET", "POST"])
def imports(request: HttpRequest) -> HttpResponse:
    form = UploadForm(request.POST or None, request.FILES or None)
    if request.method == "GET":
        return _page(request, UploadForm())
    if not form.is_valid():
        return _page(request, form, status=422)
    upload = form.cleaned_data["file"]
    if upload.size > LARGEST_FILE:
        form.add_error("file", f"The file is larger than {LARGEST_FILE // 1024 // 1024} MB. Split it.")
        return _page(request, form, status=422)
    try:
        kept = services.keep_upload(file_name=upload.name, content=upload.read(), by=request.staff)
    except services.ImportRefused as refused:
        form.add_error("file", str(refused))
        return _page(request, form, status=422)
    return go(request, "catalogue:import", kept.pk)


@office_only
@require_GET
def preview(request: HttpRequest, import_id: int) -> HttpResponse:
    return _preview(request, get_object_or_404(Import, pk=import_id))


@office_only
@require_POST
def take_in(request: HttpRequest, import_id: int) -> HttpResponse:
    upload = get_object_or_404(Import, pk=import_id)
    try:
        services.apply_import(upload, seen=request.POST.get("seen", ""), by=request.staff)
    except services.ImportRefused as refused:
        return _preview(request, Import.objects.get(pk=import_id), refused=str(refused), status=409)
    return go(request, "catalogue:import", import_id)


@office_only
@require_POST
def drop(request: HttpRequest, import_id: int) -> HttpResponse:
    upload = get_object_or_404(Import, pk=import_id)
    try:
        services.drop_import(upload, by=request.staff)
    except services.ImportRefused as refused:
        return _preview(request, Import.objects.get(pk=import_id), refused=str(refused), status=409)
    return go(request, "catalogue:imports")


@office_only
@require_GET
def template(request: HttpRequest, ending: str) -> HttpResponse:
    return _file("catalogue-template", ending, [])


@office_only
@require_GET
def export(request: HttpRequest, ending: str) -> HttpResponse:
    name = f"catalogue-{timezone.localdate().isoformat()}"
    return _file(name, ending, services.catalogue_rows(history=request.GET.get("history") == "yes"))


def _file(name: str, ending: str, rows: Iterable[Row]) -> HttpResponse:
    if ending not in WRITERS:
        raise Http404
    response = HttpResponse(WRITERS[ending](rows), content_type=CONTENT_TYPES[ending])
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.{ending}"'
    response.headers["Cache-Control"] = "private, no-store"
    return response


def _page(request: HttpRequest, form: UploadForm, *, status: int = 200) -> HttpResponse:
    recent = Import.objects.select_related("uploaded_by", "decided_by").defer("sheet")[:10]
    shown = {"form": form, "columns": COLUMNS, "recent": recent, "most_rows": MOST_ROWS}
    return fragment(request, PAGE, shown, status=status)


def _preview(request: HttpRequest, upload: Import, *, refused: str = "", status: int = 200) -> HttpResponse:
    shown = {"upload": upload, "refused": refused, "shown_at_most": SHOWN_AT_MOST}
    if upload.state == ImportState.WAITING:
        shown["seen"] = services.catalogue_digest()
        shown["plan"] = plan = services.plan_of(upload)
        shown["outcome"] = services.outcome_of(plan)
        shown["bad"] = len(plan.bad_cells)
        lists = ("bad_cells", "new_items", "changed_items", "prices")
        shown["cut"] = {name: len(getattr(plan, name)) > SHOWN_AT_MOST for name in lists}
    return fragment(request, PREVIEW, shown, status=status)
