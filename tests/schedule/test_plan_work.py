"""A plan for all open work: it breaks no gate, and moves nothing before somebody says so."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.records.services import record_permit, set_work_windows
from jobs.schedule import services
from jobs.schedule.models import JobStage, RunState
from tests.schedule.conftest import crew_of, next_monday, signed_job
from tests.schedule.test_move_stage import put, starts


@pytest.fixture
def shop(owner, crew, job):
    """Three jobs, two crews, one boat, a window, an absence and a permit that is awaited."""
    today = timezone.localdate()
    second = crew_of("Falk Hedder", "Bly Sorn", "Arlind Pask", name="Falk’s crew", by=owner)
    services.add_equipment(facts={"name": "Pelican", "kind": "boat", "stages": ["launch", "anchoring"]}, by=owner)
    hand = services.name_skill(name="runs the boat", stages=["anchoring"], by=owner)
    services.set_skills(second.members.first(), skills=(hand,), by=owner)
    away = {"member": second.members.last(), "first_on": today, "last_on": today + timedelta(days=9), "why": "leave"}
    services.note_absence(facts=away, by=owner)
    okafor = signed_job(owner, names="Amadi Okafor", wanted_by=today + timedelta(days=12))
    awaited = {"authority": "Power company", "applied_on": today, "expected_on": today + timedelta(days=20)}
    record_permit(okafor, facts=awaited, by=owner)
    opens = today + timedelta(days=30)
    until = opens + timedelta(days=100)  # a window that may well cross New Year
    window = {"kind": "allowed", "first_month": opens.month, "first_day": min(opens.day, 28)}
    set_work_windows(job.site, windows=[{**window, "last_month": until.month, "last_day": 28}], by=owner)
    held = signed_job(owner, names="Petra Vanterpool")
    services.hold_stage(held, "flotation", "a float leaks", owner)
    return job, okafor, held


def planned(owner, seconds=1):
    run = services.start_run(by=owner, on=timezone.localdate(), seconds=seconds)
    return services.work_run(run.pk)


def test_it_proposes_no_start_that_breaks_a_gate_and_says_why_not_earlier(shop, owner):
    run = planned(owner)
    assert run.state == RunState.DONE and run.words
    assert run.best_cost >= run.bound >= 0
    assert not JobStage.objects.placed().exists()
    assert all(visit.governor for visit in services.proposed(run))
    assert services.fix_run(run, by=owner) > 0
    for job in shop:
        for stage in services.stages_of(job):
            if stage.starts_on is None:
                continue
            gates = services.gates_of(job, stage.stage)
            assert gates.earliest is not None and gates.earliest <= stage.starts_on, (stage, gates.governor)
    held = {stage.stage: stage.starts_on for stage in services.stages_of(shop[2])}
    assert held["framing"] and held["flotation"] is None and held["anchoring"] is None
    assert any("a float leaks" in one["why"] for one in run.answer["unplaced"])
    assert services.fix_run(run, by=owner) == 0  # a second press moves nothing


def test_it_leaves_a_pin_where_the_owner_put_it(shop, owner, crew):
    monday = next_monday()
    put(shop[1], "layout", crew, monday, owner)
    run = planned(owner)
    services.fix_run(run, by=owner)
    assert starts(shop[1])["layout"] == monday


def test_it_refuses_a_plan_for_a_board_that_was_changed(desk, job, owner, crew):
    run = planned(owner)
    put(job, "layout", crew, next_monday(), owner)
    before = starts(job)
    answer = desk.post(reverse("schedule:fix_run", args=[run.pk]))
    assert answer.status_code == 409
    assert "The board was changed since" in answer.content.decode()
    assert starts(job) == before


def test_it_keeps_the_best_so_far_when_stopped(desk, shop, owner):
    run = services.start_run(by=owner, on=timezone.localdate(), seconds=30)
    assert services.start_run(by=owner, on=timezone.localdate()) == run  # one search at a time
    page = desk.get(run.get_absolute_url()).content.decode()
    assert "Still looking" in page and "every 1s" in page
    assert desk.post(reverse("schedule:stop_run", args=[run.pk])).status_code == 303
    stopped = services.work_run(run.pk)
    assert stopped.state == RunState.STOPPED
    assert services.proposed(stopped)
    page = desk.get(run.get_absolute_url()).content.decode()
    assert "It was stopped before its time." in page and "every 1s" not in page


def test_it_says_that_there_is_no_crew_yet(desk, owner):
    answer = desk.post(reverse("schedule:plan"), {"seconds": "5"})
    assert answer.status_code == 422
    assert "There is no crew" in answer.content.decode()
