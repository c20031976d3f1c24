import threading

import pytest
from django.core.exceptions import ValidationError
from django.db import connection, transaction

from contractor.company import services
from contractor.company.models import ChangeLog, Company, FormKey
from contractor.company.numbers import next_number
from contractor.company.once import NoFormKey, address_of, new_key, remember_address, use_key
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged

FACTS = {"name": "Dowsing Dockworks", "phone": "555 0100", "email": "", "address": "", "version": 1}


def test_it_refuses_a_stale_save_and_tells_both_values(firm, office, owner):
    services.save_company(firm, seen_version=1, changes={"phone": "555 0199"}, by=office)
    with pytest.raises(ChangedMeanwhile) as caught:
        services.save_company(firm, seen_version=1, changes={"phone": "555 0100", "name": firm.name}, by=owner)
    conflict = caught.value
    assert (conflict.by_name, conflict.version) == ("Oona Tarrant", 2)
    [difference] = conflict.differences
    assert (difference.label, difference.before, difference.theirs, difference.yours) == (
        "phone", "nothing", "555 0199", "555 0100",
    )  # fmt: skip
    assert Company.objects.get().phone == "555 0199"


def test_it_keeps_what_was_typed_and_saves_mine_when_told(at_desk, firm, office):
    services.save_company(firm, seen_version=1, changes={"phone": "555 0199"}, by=office)
    refused = at_desk.post("/company/block/facts/", FACTS)
    page = refused.content.decode()
    assert refused.status_code == 409
    assert "Oona Tarrant saved this" in page and 'value="555 0100"' in page and "555 0199" in page
    again = {**FACTS, "version": 2, "stands": "mine", "theirs": "phone", "left": ""}
    assert at_desk.post("/company/block/facts/", again).status_code == 303
    assert Company.objects.get().phone == "555 0100"


def test_it_keeps_theirs_and_the_rest_of_mine_when_told(at_desk, firm, office):
    services.save_company(firm, seen_version=1, changes={"phone": "555 0199"}, by=office)
    again = {**FACTS, "email": "shop@dowsing.example", "version": 2, "stands": "theirs", "theirs": "phone", "left": ""}
    assert at_desk.post("/company/block/facts/", again).status_code == 303
    company = Company.objects.get()
    assert (company.phone, company.email) == ("555 0199", "shop@dowsing.example")


def test_it_never_undoes_what_only_the_other_one_touched(at_desk, firm, office):
    services.save_company(firm, seen_version=1, changes={"phone": "555 0199"}, by=office)
    mine = {**FACTS, "phone": "", "email": "shop@dowsing.example"}
    refused = at_desk.post("/company/block/facts/", mine).content.decode()
    assert 'name="left" value="phone"' in refused and "Save mine as well" in refused
    assert 'value="555 0199"' in refused and 'value="shop@dowsing.example"' in refused
    at_desk.post("/company/block/facts/", {**mine, "version": 2, "stands": "mine", "theirs": "phone", "left": "phone"})
    company = Company.objects.get()
    assert (company.phone, company.email) == ("555 0199", "shop@dowsing.example")


def test_it_writes_nothing_when_nothing_changed(firm, owner):
    saved = save_if_unchanged(firm, 1, {"name": firm.name}, by=owner)
    assert saved.version == 1 and not ChangeLog.objects.exists()


def test_it_checks_the_records_own_rules(firm, owner):
    with pytest.raises(ValidationError, match="lowest margin"):
        save_if_unchanged(firm, 1, {"floor_margin_percent": 50}, by=owner)
    assert Company.objects.get().version == 1


def test_it_rolls_back_with_the_change_it_belongs_to(firm, owner):
    with pytest.raises(RuntimeError), transaction.atomic():
        save_if_unchanged(firm, 1, {"phone": "555 0100"}, by=owner)
        raise RuntimeError
    assert not ChangeLog.objects.exists() and Company.objects.get().version == 1


@pytest.mark.django_db
def test_it_uses_a_key_once_and_remembers_where_it_led():
    key = new_key()
    assert [use_key(key), use_key(key)] == [True, False]
    remember_address(key, "/jobs/7/")
    assert address_of(key) == "/jobs/7/"
    for wrong in ("", "abc", None):
        with pytest.raises(NoFormKey):
            use_key(wrong)


@pytest.mark.django_db
def test_it_gives_a_number_back_when_the_save_fails():
    with transaction.atomic():
        assert next_number("job 2026") == 1
    with pytest.raises(RuntimeError), transaction.atomic():
        next_number("job 2026")
        raise RuntimeError
    with transaction.atomic():
        assert [next_number("job 2026"), next_number("quote", first=100)] == [2, 100]


@pytest.mark.django_db(transaction=True)
def test_it_gives_no_number_outside_a_transaction():
    with pytest.raises(transaction.TransactionManagementError):
        next_number("job 2026")


def at_once(work, times: int = 6) -> list:
    """What `work` answers when it is done by several at the same moment."""
    answers, start = [], threading.Barrier(times)

    def one() -> None:
        start.wait()
        try:
            answers.append(work())
        finally:
            connection.close()

    hands = [threading.Thread(target=one) for _ in range(times)]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()
    return answers


@pytest.mark.django_db(transaction=True)
def test_it_never_repeats_or_skips_a_number_under_many_hands():
    def take() -> int:
        with transaction.atomic():
            return next_number("job 2026")

    assert sorted(at_once(take)) == [1, 2, 3, 4, 5, 6]


@pytest.mark.django_db(transaction=True)
def test_it_makes_one_record_of_many_clicks():
    key = new_key()

    def click() -> bool:
        with transaction.atomic():
            return use_key(key)

    assert sorted(at_once(click)) == [False] * 5 + [True]
    assert FormKey.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_it_lets_one_of_many_savers_through():
    firm = Company.objects.create(id=1, name="Dowsing Dockworks")

    def save() -> str:
        try:
            save_if_unchanged(firm, 1, {"phone": threading.current_thread().name}, by=None)
            return "saved"
        except ChangedMeanwhile:
            return "refused"

    assert sorted(at_once(save)) == ["refused"] * 5 + ["saved"]
    assert Company.objects.get().version == 2
