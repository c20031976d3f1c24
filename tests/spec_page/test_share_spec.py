"""Two people, one spec; a spec that was quoted; people who may look and not touch."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from contractor.company.models import ChangeLog, Staff
from jobs.records import services
from jobs.records.models import KeptCheck, SpecRevision
from tests.spec_page.conftest import page, typed
from tests.spec_page.test_show_spec import HTMX, keep, marks


@pytest.fixture
def overtaken(revision: SpecRevision, boss: Staff) -> SpecRevision:
    """Somebody else made the dock 20 ft long after the page was opened."""
    oona = Staff.objects.create_user("oona", "a long password", name="Oona Vail", role="office")
    longer = page(revision, typed(revision, length="20")).spec()
    services.save_spec(revision, spec=longer, seen_version=1, by=oona)
    return revision


def test_it_tells_a_later_saver_who_changed_what_and_loses_nothing(office: Client, overtaken: SpecRevision) -> None:
    response = keep(office, overtaken, width="8", title="My words")
    body = response.content.decode().replace("\u00a0", " ")
    assert response.status_code == 409
    assert "Oona Vail saved this revision" in body
    assert "Section A: length 16′ 0″ to 10′ 0″" in body and "Section A: width 6′ 0″ to 8′ 0″" in body
    assert 'name="width" value="8"' in body and 'value="My words"' in body
    assert 'name="version" value="2"' in body
    overtaken.refresh_from_db()
    assert services.spec_of(overtaken).sections[0].width_in == 72


def test_it_saves_mine_over_theirs_when_told_to(office: Client, overtaken: SpecRevision) -> None:
    body = keep(office, overtaken, width="8").content.decode()
    version = re.search(r'name="version" value="(\d+)"', body)[1]
    assert keep(office, overtaken, width="8", length="16", version=version).status_code == 303
    overtaken.refresh_from_db()
    assert services.spec_of(overtaken).sections[0].width_in == 96
    both = [entry.by_name for entry in ChangeLog.objects.about(overtaken).filter(did="changed")]
    assert sorted(both) == ["Merrit Vale", "Oona Vail"]


def test_it_keeps_mine_beside_theirs_once_however_often_it_is_pressed(office: Client, overtaken: SpecRevision) -> None:
    body = keep(office, overtaken, width="8").content.decode()
    once = re.search(r'name="once" value="([^"]+)"', body)[1]
    for _ in range(2):
        response = keep(office, overtaken, width="8", do="keep-beside", once=once)
        assert response.status_code == 303 and response["Location"].endswith("/spec/B/")
    mine = SpecRevision.objects.get(letter="B")
    assert services.spec_of(mine).sections[0].width_in == 96
    assert SpecRevision.objects.count() == 2


def test_it_refuses_to_change_a_spec_that_went_out_meanwhile(
    office: Client, revision: SpecRevision, boss: Staff
) -> None:
    services.freeze_spec(revision, by=boss)
    response = keep(office, revision, width="8")
    body = response.content.decode()
    assert response.status_code == 409 and "stays as it is" in body and 'name="width" value="8"' in body
    assert 'value="keep-beside"' in body


@pytest.mark.page
def test_it_shows_a_quoted_spec_without_boxes(office: Client, revision: SpecRevision, boss: Staff) -> None:
    services.freeze_spec(revision, by=boss)
    body = office.get(revision.get_absolute_url()).content.decode()
    assert (
        'id="spec-form"' not in body and "Carry on under the next letter" in body and "Price, before sales tax" in body
    )


@pytest.mark.page
def test_it_shows_a_crew_the_dock_and_no_money(crew: Client, revision: SpecRevision) -> None:
    body = crew.get(revision.get_absolute_url()).content.decode()
    assert 'class="dwg wide"' in body and "Hours" in body and "16′ 0″" in body.replace("\u00a0", " ")
    for word in ("Price", "margin", "Profit", "Margin", "spec-form", "starter price", "Compare"):
        assert word not in body
    assert crew.get(reverse("records:spec_drawing", args=[revision.job.number, "A"])).status_code == 200


def test_it_lets_no_crew_change_or_look_at_a_price(crew: Client, revision: SpecRevision) -> None:
    data = typed(revision).dict()
    assert crew.post(revision.get_absolute_url(), data | {"do": "keep"}).status_code == 403
    preview = reverse("records:spec_preview", args=[revision.job.number, "A"])
    assert crew.post(preview, data).status_code == 403
    check = reverse("records:spec_keep_check", args=[revision.job.number, "A", "0" * 10])
    assert crew.post(check, data).status_code == 403


@pytest.mark.page
def test_it_sends_a_stranger_to_the_door(client: Client, revision: SpecRevision) -> None:
    assert "login" in client.get(revision.get_absolute_url())["Location"]


def first_check(body: str) -> str:
    return re.search(r'keep-check/([0-9a-f]{10})/"', body)[1]


def test_it_keeps_a_check_with_name_day_and_reason(office: Client, revision: SpecRevision) -> None:
    check = first_check(office.get(revision.get_absolute_url()).content.decode())
    address = reverse("records:spec_keep_check", args=[revision.job.number, "A", check])
    data = typed(revision, title="still here").dict() | {"mark": marks(revision)}
    body = office.post(address, {**data, f"why-{check}": "our usual gap"}, **HTMX).content.decode()
    assert "Kept as it is." in body and "Merrit Vale" in body and "our usual gap" in body
    kept = KeptCheck.objects.get()
    assert (kept.revision, kept.reason, kept.by_name) == (revision, "our usual gap", "Merrit Vale")
    assert "our usual gap" in office.get(revision.get_absolute_url()).content.decode()


@pytest.mark.page
def test_it_asks_for_the_reason_and_keeps_nothing_without(office: Client, revision: SpecRevision) -> None:
    check = first_check(office.get(revision.get_absolute_url()).content.decode())
    address = reverse("records:spec_keep_check", args=[revision.job.number, "A", check])
    response = office.post(address, typed(revision).dict() | {f"why-{check}": "  "}, **HTMX)
    assert response.status_code == 422 and "Say why it is kept" in response.content.decode()
    assert not KeptCheck.objects.exists()


def test_it_keeps_a_check_without_scripts_and_what_was_typed_stays(office: Client, revision: SpecRevision) -> None:
    check = first_check(office.get(revision.get_absolute_url()).content.decode())
    address = reverse("records:spec_keep_check", args=[revision.job.number, "A", check])
    data = typed(revision, title="still here").dict() | {f"why-{check}": "our usual gap"}
    body = office.post(address, data).content.decode()
    assert 'value="still here"' in body and "our usual gap" in body


def test_it_opens_a_kept_check_again_when_the_fact_changes(office: Client, revision: SpecRevision) -> None:
    steep = keep_ramp_check(office, revision)
    address = reverse("records:spec_preview", args=[revision.job.number, "A"])
    data = typed(revision, ramp__kind="built", ramp__length="12").dict() | {"mark": marks(revision)}
    assert steep in office.post(address, data, **HTMX).content.decode()
    data |= {"ramp-length": "11"}
    assert steep not in office.post(address, data, **HTMX).content.decode()


def keep_ramp_check(office: Client, revision: SpecRevision) -> str:
    """Live with a steep 12 ft ramp; the words it is kept with."""
    preview = reverse("records:spec_preview", args=[revision.job.number, "A"])
    data = typed(revision, ramp__kind="built", ramp__length="12").dict() | {"mark": marks(revision)}
    body = office.post(preview, data, **HTMX).content.decode()
    ramp = body[body.index("Ramp is") :]
    check = first_check(ramp)
    address = reverse("records:spec_keep_check", args=[revision.job.number, "A", check])
    office.post(address, {**data, f"why-{check}": "low water is rare"}, **HTMX)
    return "low water is rare"


def test_it_carries_a_kept_check_to_the_next_revision(office: Client, revision: SpecRevision, boss: Staff) -> None:
    check = first_check(office.get(revision.get_absolute_url()).content.decode())
    address = reverse("records:spec_keep_check", args=[revision.job.number, "A", check])
    office.post(address, typed(revision).dict() | {f"why-{check}": "our usual gap"}, **HTMX)
    following = services.next_revision(revision, by=boss)
    assert "our usual gap" in office.get(following.get_absolute_url()).content.decode()
