"""Every page of the schedule, for who may see it."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from contractor.company.models import Role
from jobs.schedule import services
from tests.people import browser_of, person


@pytest.fixture
def pages(job, crew):
    stage = services.stages_of(job)[0]
    open_to_all = [
        reverse("schedule:board"),
        f"{reverse('schedule:board')}?from=2026-12-28",
        reverse("schedule:job", args=[job.number]),
        reverse("schedule:crews"),
        crew.get_absolute_url(),
        reverse("schedule:log"),
    ]
    office = [
        f"{reverse('schedule:board')}?move={stage.pk}",
        reverse("schedule:plan"),
        reverse("schedule:rules"),
        reverse("schedule:move", args=[stage.pk]),
    ]
    return open_to_all, office, stage


@pytest.mark.page
def test_it_opens_every_page_for_the_owner_with_one_heading(desk, pages):
    for address in (*pages[0], *pages[1]):
        answer = desk.get(address)
        assert answer.status_code == 200, address
        assert answer.content.decode().count("<h1") == 1, address


def test_it_lets_the_crew_read_the_board_and_mark_a_stage_done_but_never_move(job, pages):
    lead = browser_of(person(Role.CREW_LEAD))
    open_to_all, office, stage = pages
    for address in open_to_all:
        body = lead.get(address)
        assert body.status_code == 200
        assert "/move/" not in body.content.decode()
    assert lead.get(office[0]).content.decode().count("Moving.") == 0
    for address in office[1:]:
        assert lead.get(address).status_code == 403
    moved = lead.post(reverse("schedule:move", args=[stage.pk]), {"start": "2030-01-07", "crew": "1"})
    assert moved.status_code == 403
    done = reverse("schedule:done", args=[job.number, "layout"])
    today = timezone.localdate()
    assert lead.post(done, {"layout-on": today.isoformat()}).status_code == 303
    stage.refresh_from_db()
    assert (stage.done_on, stage.done_by_name) == (today, "Tolliver Ames")
    spine = lead.get(job.get_absolute_url()).content.decode().partition('class="spine')[2].partition("</ol>")[0]
    assert '<li class="done">' in spine and f"done {today.day} {today:%B}" in spine


@pytest.mark.page
def test_it_says_at_the_field_why_a_stage_is_not_done_yet(desk, job, pages):
    address = reverse("schedule:done", args=[job.number, "framing"])
    answer = desk.post(address, {"framing-on": timezone.localdate().isoformat()})
    assert answer.status_code == 422
    assert "Layout comes first and is not done yet." in answer.content.decode()
    tomorrow = timezone.localdate() + timedelta(days=1)
    answer = desk.post(reverse("schedule:done", args=[job.number, "layout"]), {"layout-on": tomorrow.isoformat()})
    assert answer.status_code == 422
    assert "today or was done earlier" in answer.content.decode()


def test_it_keeps_risks_for_the_owner(job):
    office = browser_of(person(Role.OFFICE))
    answer = office.post(reverse("schedule:risk", args=[job.number]), {"risk-gate": "deposit", "risk-reason": "friend"})
    assert answer.status_code == 403
    with pytest.raises(PermissionError):
        services.take_risk(job, gate="deposit", reason="friend", by=person(Role.OFFICE))
