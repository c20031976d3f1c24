"""Photos: taken in only as pictures, handed out only as files."""

from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_POST

from contractor.company.access import signed_in
from contractor.csp import hand_out
from contractor.htmx import fragment, go
from jobs.fieldwork import services
from jobs.fieldwork.forms.defects import PhotoForm
from jobs.fieldwork.models import Photo, WorkOrder


@signed_in
@require_POST
def add(request: HttpRequest, number: str, letter: str) -> HttpResponse:
    order = get_object_or_404(WorkOrder.objects.in_full(), number=number, letter=letter)
    form = PhotoForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            services.keep_photo(
                order, form.cleaned_data["file"], by=request.staff, caption=form.cleaned_data["caption"]
            )
            return go(request, f"{order.get_absolute_url()}#photos")
        except services.PhotoRefused as refused:
            form.add_error("file", str(refused))
    return fragment(request, "jobs/fieldwork/photo_again.html", {"order": order, "form": form}, status=422)


@signed_in
@require_GET
def photo(request: HttpRequest, photo_id: int) -> FileResponse:
    found = get_object_or_404(Photo, pk=photo_id)
    name = f"photo-{found.pk}.jpg"
    response = hand_out(found.file, as_attachment=True, content_type="image/jpeg", filename=name)
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Cache-Control"] = "private, no-store"
    return response
