"""One address, a whole page or one named piece of it: decided here and nowhere else."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render, resolve_url
from django.utils.cache import patch_vary_headers


def fragment(
    request: HttpRequest, template: str, context: Mapping[str, Any] | None = None, *, status: int = 200
) -> HttpResponse:
    """Answer with the piece named after `#` to htmx, with the whole page to everybody else.

    `template` is "company/staff.html#list". Give 422 when what was typed is refused, 409 when somebody saved first.
    """
    page, _, piece = template.partition("#")
    name = template if piece and wants_piece(request) else page
    response = render(request, name, dict(context or {}), status=status)
    patch_vary_headers(response, ("HX-Request",))
    return response


def go(request: HttpRequest, to: Any, *args: Any, **kwargs: Any) -> HttpResponse:
    """Send the browser on, after a save: to a record with an address, a URL name, or a path."""
    address = resolve_url(to, *args, **kwargs)
    if wants_piece(request):
        return HttpResponse(status=204, headers={"HX-Redirect": address})
    response = HttpResponseRedirect(address)
    response.status_code = 303
    return response


def wants_piece(request: HttpRequest) -> bool:
    """True for htmx asking for part of a page; a boosted link or a restored history wants the whole."""
    htmx = getattr(request, "htmx", None)
    return bool(htmx) and not htmx.boosted and not htmx.history_restore_request
