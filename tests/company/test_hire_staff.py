import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from contractor.company import services
from contractor.company.models import ChangeLog, Role, Staff
from contractor.company.once import new_key
from tests.people import PASSWORD, person

NEW = {"name": "Tolliver Ames", "role": "crew_lead", "login": "tolliver", "phone": "555 0117", "password": PASSWORD}


def test_it_hires_somebody_once_however_often_the_button_is_pressed(at_desk, owner):
    once = new_key()
    for _ in range(2):
        assert at_desk.post("/company/staff/hire/", {**NEW, "once": once}).status_code == 303
    tolliver = Staff.objects.get(login="tolliver")
    assert tolliver.has_money is False
    entry = ChangeLog.objects.about(tolliver).get()
    assert (entry.by, entry.did, entry.after["role"]) == (owner, "made", "crew_lead")
    assert PASSWORD not in str(entry.after) and "password" not in entry.after


def test_it_refuses_a_form_without_its_key(at_desk):
    assert at_desk.post("/company/staff/hire/", NEW).status_code == 400
    assert not Staff.objects.filter(login="tolliver").exists()


def test_it_frees_the_key_of_a_refused_form(at_desk):
    once = new_key()
    taken = at_desk.post("/company/staff/hire/", {**NEW, "login": "merrit", "once": once})
    assert taken.status_code == 422 and "Somebody else has this login name." in taken.content.decode()
    assert at_desk.post("/company/staff/hire/", {**NEW, "once": once}).status_code == 303
    assert Staff.objects.filter(login="tolliver").exists()


@pytest.mark.parametrize("changes", [{"role": Role.OFFICE}, {"active": False}])
def test_it_keeps_an_owner_who_may_sign_in(owner, changes):
    with pytest.raises(ValidationError, match="only owner"):
        services.edit_staff(owner, seen_version=1, changes=changes, by=owner)
    person(Role.OWNER, "second")
    services.edit_staff(owner, seen_version=1, changes=changes, by=owner)


def test_it_says_at_the_box_that_this_is_the_only_owner(at_desk, owner):
    typed = {"name": owner.name, "role": "office", "login": owner.login, "active": "on", "version": 1}
    answer = at_desk.post(f"/company/staff/{owner.pk}/", typed)
    assert answer.status_code == 422
    assert "Merrit Dowsing is the only owner." in answer.content.decode()


def test_it_gives_a_new_password_to_somebody(at_desk, crew):
    assert at_desk.post(f"/company/staff/{crew.pk}/password/", {"new": "another sentence"}).status_code == 303
    crew.refresh_from_db()
    assert crew.check_password("another sentence")
    entry = ChangeLog.objects.about(crew).get()
    assert entry.did == "set a new password for" and entry.after == {}


@pytest.mark.parametrize(
    "broken", [{"login": "Upper"}, {"login": ""}, {"name": ""}, {"role": "king"}], ids=lambda broken: str(broken)
)
def test_it_holds_its_rules_in_the_database_too(db, broken):
    with pytest.raises(IntegrityError), transaction.atomic():
        Staff.objects.create(**{"login": "dov", "name": "Dov", "role": "crew", **broken})


def test_it_shows_money_to_owner_and_office_only():
    assert {role for role in Role.values if Staff(role=role).has_money} == {"owner", "office"}
