"""Every address of the project, with every role."""

import logging
import re
from collections.abc import Callable, Iterator

import pytest
from django.core.exceptions import PermissionDenied
from django.test import Client, RequestFactory
from django.urls import URLPattern, get_resolver, resolve, reverse
from django.urls.resolvers import RegexPattern, RoutePattern

from contractor.company.access import has_gate, may_open
from contractor.company.models import Role, Staff
from tests.people import browser_of, person

pytestmark = pytest.mark.page

MADE_UP = ["999999", "nothing", "5f1a2a52-6f5a-4b06-8f0a-111111111111", "A", "csv", "pdf", "0123456789"]


def addresses() -> Iterator[tuple[str, Callable]]:
    """Every address, with made-up records in it, and the view behind it."""
    yield from _addresses(get_resolver(), "/")


def _addresses(resolver, before: str) -> Iterator[tuple[str, Callable]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLPattern):
            yield before + made_up(entry.pattern), entry.callback
        else:
            yield from _addresses(entry, before + made_up(entry.pattern))


def made_up(pattern: RoutePattern | RegexPattern) -> str:
    """The route with something fitting in the place of every blank: a record that is not there, the first choice."""
    if isinstance(pattern, RegexPattern):
        filled = re.sub(r"\(\?P<\w+>([^)]+)\)", lambda blank: fitting(blank[1]), str(pattern))
        return filled.strip("^$").replace("\\", "")
    return re.sub(r"<(?:\w+:)?(\w+)>", lambda blank: fitting(pattern.converters[blank[1]].regex), str(pattern))


def fitting(rule: str) -> str:
    return next(text for text in MADE_UP if re.fullmatch(rule, text))


@pytest.fixture(autouse=True)
def quiet_log():
    """Hundreds of refusals are what is asked for here; their log lines cost more than the answers."""
    logging.disable(logging.WARNING)
    yield
    logging.disable(logging.NOTSET)


@pytest.fixture
def browsers(db) -> dict[str | None, Client]:
    return {None: browser_of(None), **{role: browser_of(person(role)) for role in Role.values}}


def test_it_puts_a_gate_on_every_view():
    assert [address for address, view in addresses() if not has_gate(view)] == []


def refused_at_the_gate(address: str, somebody: Staff, method: str) -> bool:
    """The view itself is asked, so that hundreds of refusals need no page each."""
    request, found = RequestFactory().generic(method, address), resolve(address)
    request.staff, request.htmx = somebody, None
    try:
        found.func(request, *found.args, **found.kwargs)
    except PermissionDenied:
        return True
    return False


def test_it_lets_nobody_past_a_gate_that_is_not_theirs(browsers):
    door = reverse("company:login")
    people = [person(role) for role in Role.values]
    wrong = []
    for address, view in addresses():
        welcome = [somebody for somebody in people if may_open(view, somebody)]
        methods = ("GET",) if may_open(view, None) else ("GET", "POST")
        strangers = [browsers[None].generic(method, address) for method in methods]
        if not may_open(view, None):
            sent_off = [answer.status_code == 303 and answer["Location"].startswith(door) for answer in strangers]
            wrong += [] if all(sent_off) else [f"stranger {address}"]
        # Who may do most of those who may open it sees the most of it, who may do least has the most left out.
        most_and_least = {somebody.role for somebody in (*welcome[:1], *welcome[-1:])}
        answers = [browsers[role].get(address) for role in most_and_least] if welcome else strangers
        wrong += [f"{address}: {answer.status_code}" for answer in answers if answer.status_code in (403, 500)]
        wrong += [
            f"{somebody.role} {method} {address}"
            for somebody in people
            if somebody not in welcome
            for method in ("GET", "POST")
            if not refused_at_the_gate(address, somebody, method)
        ]
    assert wrong == []


def test_it_keeps_costs_from_the_crew(browsers):
    for name in ("company:profile", "company:staff", "company:log"):
        assert browsers[Role.CREW].get(reverse(name)).status_code == 403
        assert browsers[Role.CREW_LEAD].get(reverse(name)).status_code == 403
    assert browsers[Role.OFFICE].get(reverse("company:staff")).status_code == 403
    assert browsers[Role.OFFICE].get(reverse("company:profile")).status_code == 200


def test_it_sends_a_stranger_back_to_where_they_wanted_to_go(browsers):
    door = browsers[None].get("/company/log/?page=2")
    assert door["Location"] == "/login/?next=%2Fcompany%2Flog%2F%3Fpage%3D2"


def test_it_sends_an_expired_page_piece_to_sign_in_as_a_whole(browsers):
    headers = {"HX-Request": "true", "HX-Current-URL": "http://testserver/company/"}
    answer = browsers[None].get("/company/echo/?kind=length&text=6", headers=headers)
    assert answer.status_code == 204
    assert answer["HX-Redirect"] == "/login/?next=%2Fcompany%2F"


def test_it_says_in_our_words_that_a_page_is_not_yours(browsers):
    answer = browsers[Role.CREW].get("/company/")
    assert "This page is not yours to open" in answer.content.decode()
    assert "The firm</a>" not in answer.content.decode()
