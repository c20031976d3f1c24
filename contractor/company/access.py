"""Who may open what. Every view carries its gate; one without a gate is open to nobody but the signed-in."""

import functools
from collections.abc import Callable
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import resolve_url
from django.utils.http import url_has_allowed_host_and_scheme, urlencode

from contractor.company import current
from contractor.company.models import Role, Staff
from contractor.htmx import go

View = Callable[..., HttpResponse]

EVERYBODY = frozenset(Role.values)
OFFICE = frozenset({Role.OWNER, Role.OFFICE})
OWNER = frozenset({Role.OWNER})


def public(view: View) -> View:
    """Open to anybody: the sign-in page, the first visit, a customer's link."""
    view.gate = None  # type: ignore[attr-defined]
    return view


def signed_in(view: View) -> View:
    """Open to everybody of the firm."""
    return _gated(view, EVERYBODY)


def office_only(view: View) -> View:
    """Open to owner and office, who see money."""
    return _gated(view, OFFICE)


def owner_only(view: View) -> View:
    return _gated(view, OWNER)


def may_open(view: View, person: Staff | None) -> bool:
    """Whether this view lets this person in; the tests walk over every address with it."""
    gate = getattr(view, "gate", EVERYBODY)
    return gate is None or (person is not None and person.role in gate)


def has_gate(view: View) -> bool:
    return hasattr(view, "gate")


def to_the_door(request: HttpRequest) -> HttpResponse:
    """Send a stranger to sign in and then back here; on an empty database, to name the firm."""
    if current.firm() is None:
        return go(request, "company:welcome")
    htmx = getattr(request, "htmx", None)
    here = htmx.current_url_abs_path if htmx else request.get_full_path() if request.method == "GET" else ""
    door = resolve_url("company:login")
    return go(request, f"{door}?{urlencode({'next': here})}" if here and here != "/" else door)


def way_back(request: HttpRequest, fallback: str) -> str:
    """The page the stranger came from, if it is one of ours."""
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if ours else fallback


def _gated(view: View, roles: frozenset[str]) -> View:
    @functools.wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        person = request.staff  # type: ignore[attr-defined]
        if person is None:
            return to_the_door(request)
        if person.role not in roles:
            raise PermissionDenied
        return view(request, *args, **kwargs)

    guarded.gate = roles  # type: ignore[attr-defined]
    return guarded
