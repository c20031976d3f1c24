"""Moving a stage by hand: what else would move is shown first, and nothing moves silently."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from contractor.company.models import ChangeLog
from jobs.schedule import services
from jobs.schedule.models import DelayLog, JobStage
from jobs.schedule.services.shop import Shop
from tests.schedule.conftest import crew_of, next_monday, signed_job


def stage_of(job, stage: str) -> JobStage:
    services.stages_of(job)
    return JobStage.objects.select_related("job__client", "job__site").get(job=job, stage=stage)


def put(job, stage, crew, day, by, **said):
    wanted = services.Wanted(stage_of(job, stage), crew, day)
    mark = services.mark_of_board()
    return services.move_stage(wanted, seen_mark=mark, said=services.Said(**said), by=by, on=timezone.localdate())


def starts(job) -> dict:
    return {stage.stage: stage.starts_on for stage in services.stages_of(job)}


@pytest.fixture
def other(owner, job):
    return signed_job(owner, names="Amadi Okafor")


def test_it_puts_a_visit_on_a_day_and_pins_it(job, crew, owner):
    monday = next_monday()
    put(job, "layout", crew, monday, owner)
    layout, framing, flotation, *_ = services.stages_of(job)
    assert (layout.starts_on, layout.ends_on, layout.crew_id, layout.pinned) == (monday, monday, crew.pk, True)
    assert (framing.starts_on, framing.pinned) == (monday, True)
    assert flotation.starts_on is None
    entry = ChangeLog.objects.about(layout).newest_first()[0]
    assert (entry.did, entry.by_name, entry.after["starts_on"]) == ("moved", "Merrit Dowsing", monday.isoformat())


def test_it_shows_what_else_would_move_before_anything_does(desk, job, other, crew, owner):
    monday = next_monday()
    put(job, "layout", crew, monday, owner)
    JobStage.objects.filter(job=job).update(pinned=False)
    stage = stage_of(other, "layout")
    address = reverse("schedule:move", args=[stage.pk])
    page = desk.get(f"{address}?start={monday}&crew={crew.pk}&pin=on").content.decode()
    assert page.count("Quarrington") >= 2 and "Move as shown" in page
    assert starts(job)["layout"] == monday and starts(other)["layout"] is None
    mark = services.mark_of_board()
    answer = desk.post(address, {"start": monday, "crew": crew.pk, "pin": "on", "mark": mark, "words": ""})
    assert answer.status_code == 303
    assert starts(other)["layout"] == monday
    assert starts(job)["layout"] == monday + timedelta(days=1)
    moved_along = ChangeLog.objects.about(stage_of(job, "layout")).newest_first()[0]
    assert moved_along.did == "moved with another"


def test_it_refuses_a_move_worked_out_on_another_board(desk, job, other, crew, owner):
    monday = next_monday()
    stage = stage_of(job, "layout")
    mark = services.mark_of_board()
    put(other, "layout", crew, monday, owner)
    address = reverse("schedule:move", args=[stage.pk])
    answer = desk.post(address, {"start": monday + timedelta(days=1), "crew": crew.pk, "mark": mark, "words": "kept"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody moved work since you looked" in page and 'value="kept"' in page
    assert starts(job)["layout"] is None


def test_it_leaves_a_pinned_stage_where_it_is(job, other, crew, owner):
    monday = next_monday()
    put(job, "layout", crew, monday, owner)
    with pytest.raises(services.NotThere, match="Quarrington"):
        put(other, "layout", crew, monday, owner)
    assert starts(job)["layout"] == monday


def test_it_wants_a_reason_before_a_stage_stands_before_it_may(desk, owner, crew):
    job = signed_job(owner, signed=timezone.localdate())
    stage = stage_of(job, "layout")
    day = Shop(on=timezone.localdate()).work_days.next_from(timezone.localdate())
    address = reverse("schedule:move", args=[stage.pk])
    typed = {"start": day, "crew": crew.pk, "mark": services.mark_of_board()}
    refused = desk.post(address, typed)
    assert refused.status_code == 422
    assert "Say why it stands there before it may." in refused.content.decode()
    assert desk.post(address, {**typed, "words": "They signed away the right."}).status_code == 303


def test_it_keeps_a_later_start_in_the_log_of_delays(job, crew, owner):
    monday = next_monday()
    put(job, "layout", crew, monday, owner)
    put(job, "layout", crew, monday + timedelta(days=2), owner, cause="goods", words="Lumber came wet.")
    line = DelayLog.objects.get()
    assert (line.was_on, line.now_on, line.cause) == (monday, monday + timedelta(days=2), "goods")


def test_it_sends_nobody_out_alone_nor_on_a_day_that_is_not_worked(job, owner):
    alone = crew_of("Vail Corrin", name="Vail alone", by=owner)
    monday = next_monday()
    with pytest.raises(services.NotThere, match="2 are needed on the water"):
        put(job, "anchoring", alone, monday, owner, words="in a hurry")
    with pytest.raises(services.NotThere, match="does not work"):
        put(job, "layout", alone, monday + timedelta(days=5), owner)
    with pytest.raises(services.NotThere, match="over"):
        put(job, "layout", alone, timezone.localdate() - timedelta(days=1), owner)


def test_it_lets_a_plan_move_a_stage_again_once_unpinned(desk, job, crew, owner):
    put(job, "layout", crew, next_monday(), owner)
    stage = stage_of(job, "layout")
    unpin = reverse("schedule:unpin", args=[stage.pk])
    assert desk.post(unpin, {"version": stage.version - 1}).status_code == 409
    assert desk.post(unpin, {"version": stage.version}).status_code == 303
    stage.refresh_from_db()
    assert not stage.pinned


def test_it_shifts_work_past_a_pinned_stage_not_onto_it(job, other, crew, owner):
    third = signed_job(owner, names="Petra Vanterpool")
    monday = next_monday()
    put(job, "layout", crew, monday + timedelta(days=1), owner)
    put(other, "layout", crew, monday, owner)
    JobStage.objects.filter(job=other).update(pinned=False)
    put(third, "layout", crew, monday, owner)
    assert [starts(one)["layout"] for one in (third, job, other)] == [monday + timedelta(days=n) for n in range(3)]
