"""The calendar a crew's phone reads: right days in every zone, a secret address, nothing private."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from jobs.schedule import services
from jobs.schedule.documents.feed import crew_calendar
from jobs.schedule.models import CrewFeed, JobStage


@pytest.fixture
def placed(job, crew):
    services.stages_of(job)
    stage = JobStage.objects.select_related("job__client", "job__site").get(job=job, stage="framing")
    stage.crew = crew
    return stage


# Clocks change on 8 March and 1 November 2026 in the US, on 29 March and 25 October in Europe.
@pytest.mark.parametrize("day", [date(2026, 3, 8), date(2026, 11, 1), date(2026, 3, 29), date(2026, 12, 31)])
def test_it_shows_whole_local_days_over_a_change_of_clocks(placed, crew, day):
    placed.starts_on, placed.ends_on = day, day + timedelta(days=1)
    for zone in ("America/New_York", "Europe/Oslo", "Pacific/Auckland"):
        with timezone.override(ZoneInfo(zone)):
            text = crew_calendar(crew, [placed], now=timezone.now(), firm_name="Dowsing Dockworks")
        [event] = Calendar.from_ical(text).walk("VEVENT")
        assert event.decoded("dtstart") == day
        assert event.decoded("dtend") == day + timedelta(days=2)  # RFC 5545, 3.6.1: the end is not included
        assert event["summary"] == "Quarrington 26-001: framing"


def test_it_opens_to_whoever_has_the_address_until_it_is_taken_back(desk, job, crew, owner, placed):
    job.site.gate_code = "4711"
    job.site.save()
    day = timezone.localdate() + timedelta(days=3)
    JobStage.objects.filter(pk=placed.pk).update(crew=crew, starts_on=day, ends_on=day)
    manage = reverse("schedule:crew_calendar", args=[crew.pk])
    desk.post(manage, {"what": "open"})
    first = CrewFeed.objects.open().get()
    stranger = Client()
    answer = stranger.get(first.get_absolute_url())
    assert answer.status_code == 200 and answer["Content-Type"].startswith("text/calendar")
    [event] = Calendar.from_ical(answer.content).walk("VEVENT")
    assert event.decoded("dtstart") == day
    assert b"4711" not in answer.content and b"6750" not in answer.content
    assert "no-store" in answer["Cache-Control"]
    desk.post(manage, {"what": "open"})
    assert stranger.get(first.get_absolute_url()).status_code == 404
    second = CrewFeed.objects.open().get()
    assert len(second.secret) == 48 and second.secret != first.secret
    desk.post(manage, {"what": "close"})
    assert stranger.get(second.get_absolute_url()).status_code == 404
