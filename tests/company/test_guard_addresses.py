"""Every address of the project, with every role."""

from collections.abc import Callable, Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from contractor.company.access import has_gate, may_open
from contractor.company.models import Role
from tests.people import browser_of, person

MADE_UP = {
    "int": 999_999,
    "str": "nothing",
    "slug": "nothing",
    "uuid": "5f1a2a52-6f5a-4b06-8f0a-111111111111",
    "path": "x",
}


def addresses() -> Iterator[tuple[str, Callable]]:
    """Every address, with made-up records in it, and the view behind it."""
    yield from _addresses(get_resolver(), "/")


def _addresses(resolver, before: str) -> Iterator[tuple[str, Callable]]:
    for entry in resolver.url_patterns:
        route = before + str(entry.pattern)
        if isinstance(entry, URLPattern):
            for name, converter in entry.pattern.converters.items():
                kind = type(converter).__name__.removesuffix("Converter").lower()
                for written in (f"<{kind}:{name}>", f"<{name}>"):
                    route = route.replace(written, str(MADE_UP.get(kind, "nothing")))
            yield route, entry.callback
        else:
            yield from _addresses(entry, route)


@pytest.fixture
def browsers(db) -> dict[str | None, Client]:
    return {None: browser_of(None), **{role: browser_of(person(role)) for role in Role.values}}


def test_it_puts_a_gate_on_every_view():
    assert [address for address, view in addresses() if not has_gate(view)] == []


def test_it_lets_nobody_past_a_gate_that_is_not_theirs(browsers):
    wrong = []
    for address, view in addresses():
        for role, browser in browsers.items():
            for answer in (browser.get(address), browser.post(address, {})):
                if role is None and not may_open(view, None):
                    ok = answer.status_code == 303 and answer["Location"].startswith(reverse("company:login"))
                elif role and not may_open(view, person(role)):
                    ok = answer.status_code == 403
                else:
                    ok = answer.status_code not in (403, 500)
                if not ok:
                    wrong.append(f"{role} {answer.request['REQUEST_METHOD']} {address}: {answer.status_code}")
            if role and address == reverse("company:logout"):
                browser.force_login(person(role))
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
