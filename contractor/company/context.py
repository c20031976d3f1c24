"""What every page knows: the firm, who reads it, and where they may go."""

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import NoReverseMatch, resolve, reverse
from django.utils.functional import SimpleLazyObject

from contractor.company import access, current
from contractor.company.models import Staff


@dataclass(frozen=True)
class Place:
    """One word of the main navigation."""

    word: str
    address: str
    here: bool


def firm(request: HttpRequest) -> dict[str, Any]:
    """Gives `firm` (or None), `units`, `staff`, `money_visible`, `places` (the navigation) and `find_address`."""
    person: Staff | None = getattr(request, "staff", None)
    return {
        "firm": SimpleLazyObject(current.firm),
        "units": SimpleLazyObject(current.units),
        "staff": person,
        "money_visible": bool(person and person.has_money),
        "places": _places(request, person) if person else [],
        "find_address": _address("records:find") if person else "",
    }


def _places(request: HttpRequest, person: Staff) -> list[Place]:
    match = request.resolver_match
    rooms = set(match.namespaces) if match else set()
    found = []
    for word, name in settings.MAIN_NAV:
        address = _address(name)
        if address and access.may_open(resolve(address).func, person):
            room = name.partition(":")[0]
            # A room with two words in the navigation is told by its address.
            alone = sum(other.startswith(f"{room}:") for _, other in settings.MAIN_NAV) == 1
            found.append(Place(word, address, room in rooms and (alone or request.path.startswith(address))))
    return found


def _address(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""
