from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from contractor.company.access import office_only
from contractor.htmx import fragment, go
from estimating.catalogue import services
from estimating.catalogue.models import Item

# With prices in, the first page says what to do next; without, the way on is to put some in.
NEXT = {"starter": "/", "import": "catalogue:imports", "empty": "catalogue:items"}


@office_only
@require_http_methods(["GET", "POST"])
def start(request: HttpRequest) -> HttpResponse:
    """The first visit: begin with the starter catalogue, with a file, or with nothing."""
    way = request.POST.get("way", "")
    if request.method == "POST" and way in NEXT:
        _begin(request, way)
        return go(request, NEXT[way])
    shown = {"items": Item.objects.count(), "refused": request.method == "POST"}
    return fragment(request, "estimating/catalogue/start.html", shown, status=422 if shown["refused"] else 200)


@transaction.atomic
def _begin(request: HttpRequest, way: str) -> None:
    if way == "starter":
        services.load_starter(by=request.staff)
    else:
        services.load_starter_hours()
