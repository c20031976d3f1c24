"""Lengths typed on the spec page stay what they were, however often the page is sent and whatever the firm's units."""

from html.parser import HTMLParser

import pytest
from django.test import Client

from contractor.company.models import Company
from jobs.records import services
from jobs.records.models import SpecRevision
from tests.spec_page.test_show_spec import keep

# Inches, exact: sixteenths by hand, and 1 in = 25.4 mm by definition (international yard and pound agreement, 1959).
TYPED = {
    "imperial": ({"width": "5'9 3/16", "length": "15-11 15/16", "gap": "1/16"}, (69.1875, 191.9375, 0.0625)),
    "metric": ({"width": "1755 mm", "length": "4.877 m", "gap": "5"}, (1755 / 25.4, 4877 / 25.4, 5 / 25.4)),
}


class Boxes(HTMLParser):
    """What a browser would post from the page's main form."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.posted: dict[str, list[str]] = {}
        self.inside, self.choice = False, ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = dict(attrs)
        if tag == "form":
            self.inside = has.get("id") == "spec-form"
        elif self.inside and tag == "select":
            self.choice = has["name"]
        elif self.inside and tag == "option" and "selected" in has:
            self.posted.setdefault(self.choice, []).append(has.get("value") or "")
        elif self.inside and tag == "input" and has.get("name") and sent(has):
            self.posted.setdefault(has["name"], []).append(has.get("value") or "")


def sent(box: dict[str, str | None]) -> bool:
    return box.get("type") not in ("checkbox", "radio") or "checked" in box


def sizes(revision: SpecRevision) -> tuple[float, float, float]:
    (section,) = services.spec_of(SpecRevision.objects.get(pk=revision.pk)).sections
    return section.width_in, section.length_in, section.decking.gap_in


@pytest.mark.parametrize("system", TYPED)
def test_it_keeps_lengths_exactly_through_edits_and_unit_switches(
    office: Client, revision: SpecRevision, system: str
) -> None:
    typed, exact = TYPED[system]
    Company.objects.update(units=system)
    assert keep(office, revision, **typed).status_code == 303
    assert sizes(revision) == exact
    for round_no, units in enumerate(("metric", "imperial", "metric", "imperial"), 1):
        Company.objects.update(units=units)
        page = office.get(revision.get_absolute_url()).content.decode()
        posted = Boxes(page).posted | {"title": [f"Round {round_no}"], "do": ["keep"]}
        assert posted["width"] != [""]
        assert office.post(revision.get_absolute_url(), posted).status_code == 303
        assert services.spec_of(SpecRevision.objects.get()).title == f"Round {round_no}"
        assert sizes(revision) == exact
