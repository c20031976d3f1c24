"""Every address of the project, with every role."""

import logging
import re
from collections.abc import Callable, Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse
from django.urls.resolvers import RegexPattern, RoutePattern

from contractor.company.access import has_gate, may_open
from contractor.company.models import Role
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


def test_it_lets_nobody_past_a_gate_that_is_not_theirs(browsers):
    door = reverse("company:login")
    wrong = []
    for address, view in addresses():
        for role, browser in browsers.items():
            welcome = may_open(view, person(role) if role else None)
            asked = [browser.get(address)] if welcome else [browser.get(address), browser.post(address)]
            for answer in asked:
                if welcome:
                    right = answer.status_code not in (403, 500)
                elif role is None:
                    right = answer.status_code == 303 and answer["Location"].startswith(door)
                else:
                    right = answer.status_code == 403
                if not right:
                    wrong.append(f"{role} {answer.request['REQUEST_METHOD']} {address}: {answer.status_code}")
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
