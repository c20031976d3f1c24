"""What the crew wrote on a sheet, kept: added, never overwritten."""

import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from contractor.company.models import Role, Staff
from contractor.company.versions import ChangedMeanwhile
from jobs.fieldwork import services
from jobs.fieldwork.models import Defect, EntriesStay, Entry, WorkOrder
from jobs.records.models import Job
from jobs.records.services import next_revision
from jobs.schedule.models import JobStage
from jobs.schedule.services import hold_stage
from tests.people import browser_of, person

from .conftest import sheet


def post(browser: Client, order: WorkOrder, **typed: str):
    day = f"{timezone.localdate():%Y-%m-%d}"
    data = {"once": str(uuid.uuid4()), "day": day, "source": "phone", **typed}
    return browser.post(order.get_absolute_url(), data)


def ten_feet(sixteenths: int, diagonal: str) -> dict[str, str]:
    """A diagonal of the 8 by 6 ft sections, ten feet and so many sixteenths."""
    return {f"{diagonal}_0": "10", f"{diagonal}_1": "0", f"{diagonal}_2": str(sixteenths)}


def test_it_keeps_what_was_written_and_says_so(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "framing", lead)
    page = truck.get(order.get_absolute_url()).content.decode()
    assert page.index("Section A, after bolting") < page.index("Bolts in") < page.index("Hours") < page.index("Sign")
    mine = f"hours_p{lead.pk}"
    typed = {**ten_feet(1, "A_diagonal_1"), **ten_feet(3, "A_diagonal_2"), mine: "7.5", "not_done": "Two bolts at B2"}
    assert post(truck, order, **typed).status_code == 303
    entries = {entry.key: entry for entry in Entry.objects.all()}
    assert entries["A.diagonal_1"].number == 120.0625 and entries["A.diagonal_2"].number == 120.1875
    assert entries[f"hours.p{lead.pk}"].person == lead
    assert services.hours_of(job) == {"framing": 7.5}
    assert Defect.objects.count() == 0
    again = truck.get(order.get_absolute_url()).content.decode()
    assert "10′\u00a00\u00a01/16″" in again and "Two bolts at B2" in again


def test_it_opens_a_defect_out_of_tolerance_and_holds_the_next_stage(truck: Client, job: Job, lead: Staff):
    JobStage.objects.create(job=job, stage="framing", position=2, planned_hours=8)
    flotation = JobStage.objects.create(job=job, stage="flotation", position=3, planned_hours=3)
    order = sheet(job, "framing", lead)
    post(truck, order, **ten_feet(0, "A_diagonal_1"), **ten_feet(5, "A_diagonal_2"))
    [defect] = services.holding_defects(job, "flotation")
    assert defect.words == "Section A is out of square: its diagonals are 5/16″ apart."
    flotation.refresh_from_db()
    assert flotation.held_why == f"{defect.words} A defect, not signed off yet."
    let_go = browser_of(person(Role.OFFICE)).post(f"/schedule/jobs/{job.number}/flotation/let-go/")
    assert let_go.status_code == 422 and "stays held: Section A is out of square" in let_go.content.decode()
    empty = truck.post(defect.get_absolute_url(), {"reason": " ", "version": defect.version})
    assert empty.status_code == 422 and services.open_defects(job)
    answer = truck.post(defect.get_absolute_url(), {"reason": "Racked square, 1/16 apart", "version": defect.version})
    assert answer.status_code == 303 and services.open_defects(job) == ()
    defect.refresh_from_db()
    flotation.refresh_from_db()
    assert (defect.signed_off_by_name, flotation.held_why) == (lead.name, "")
    hold_stage(job, "flotation", "the hoist is lent out", lead)
    second = services.open_defect(job, services.Found("A plate is bent."), stage="framing", by=lead)
    flotation.refresh_from_db()
    assert flotation.held_why == "the hoist is lent out. Also: A plate is bent. A defect, not signed off yet."
    services.sign_off(second, reason="Straightened", seen_version=1, by=lead)
    flotation.refresh_from_db()
    assert flotation.held_why == "the hoist is lent out"
    with pytest.raises(ChangedMeanwhile):
        services.sign_off(defect, reason="again", seen_version=1, by=lead)


def test_it_judges_a_pair_of_diagonals_keyed_in_by_two_people(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "layout", lead)
    post(truck, order, **ten_feet(0, "A_diagonal_1"))
    post(browser_of(person(Role.OFFICE)), order, **ten_feet(4, "A_diagonal_2"))
    assert services.open_defects(job) == ()
    post(truck, order, **ten_feet(5, "A_diagonal_2"))
    assert [one.key for one in services.open_defects(job)] == ["A.diagonals"]


def test_it_lets_two_values_stand_side_by_side(truck: Client, job: Job, lead: Staff):
    order, office = sheet(job, "layout", lead), browser_of(person(Role.OFFICE))
    post(truck, order, **ten_feet(0, "A_diagonal_1"))
    post(office, order, **ten_feet(2, "A_diagonal_1"))
    standing = services.standing_entries(order)["A.diagonal_1"]
    assert [entry.number for entry in standing.entries] == [120.125, 120.0]
    page = truck.get(order.get_absolute_url()).content.decode()
    assert "Two values." in page and "Both stay." in page
    with pytest.raises(EntriesStay):
        standing.last.save()
    with pytest.raises(EntriesStay):
        standing.last.delete()


def test_it_takes_a_form_once_however_often_it_is_pressed(truck: Client, job: Job, lead: Staff):
    order, key = sheet(job, "layout", lead), str(uuid.uuid4())
    for _ in range(2):
        post(truck, order, once=key, not_done="Section B")
    assert Entry.objects.count() == 1


def test_it_counts_the_last_word_on_a_persons_day(truck: Client, job: Job, lead: Staff):
    order, mine = sheet(job, "layout", lead), f"hours_p{lead.pk}"
    yesterday = f"{timezone.localdate() - timedelta(days=1):%Y-%m-%d}"
    post(truck, order, **{mine: "4"})
    post(truck, order, **{mine: "4.5"})
    post(truck, order, day=yesterday, **{mine: "2"})
    assert services.hours_of(job) == {"layout": 6.5}
    assert Entry.objects.count() == 3
    nobody = post(truck, order, hours_other="3")
    assert nobody.status_code == 422 and "Type whose hours these are." in nobody.content.decode()
    for name in ("Nat Orrin", "Vesper Coyle", "Nat Orrin"):
        post(truck, order, hours_other="3", hours_other_name=name)
    assert services.hours_of(job) == {"layout": 12.5}
    assert "Vesper Coyle 3.00 h" in truck.get(order.get_absolute_url()).content.decode()


WRONG = (
    ({"A_diagonal_1_0": "ten"}, "“ten” is not a number"),
    ({"A_diagonal_1_0": "10", "A_diagonal_1_1": "12"}, "Inches run up to 11"),
    ({"A_diagonal_1_2": "16"}, "Sixteenths run up to 15"),
    ({"not_done": "x", "day": "31 February"}, "There is no 31 February"),
    ({"not_done": "x", "day": "1 January 2199"}, "has not come yet"),
)


def test_it_says_what_is_wrong_and_loses_nothing(truck: Client, job: Job, lead: Staff):
    order = sheet(job, "layout", lead)
    for typed, words in WRONG:
        answer = post(truck, order, ran_out="screws, 3 in", **typed)
        page = answer.content.decode()
        assert answer.status_code == 422 and words in page
        assert all(value in page for value in ("screws, 3 in", *typed.values()))
    assert "Nothing is written yet" in post(truck, order).content.decode()
    assert Entry.objects.count() == 0


def test_it_warns_on_a_sheet_of_an_older_letter(truck: Client, job: Job, owner: Staff):
    old = sheet(job, "framing", owner)
    next_revision(job.spec_revisions.get(letter="A"), by=owner)
    new = sheet(job, "framing", owner)
    assert (old.number, old.letter, new.letter) == (new.number, "A", "B")
    assert "Revision B has taken this one’s place" in truck.get(old.get_absolute_url()).content.decode()
    assert "has taken this one’s place" not in truck.get(new.get_absolute_url()).content.decode()
    post(truck, old, not_done="done to the old paper")
    post(truck, new, not_done="done to the new paper")
    assert "2" in {str(len(one.entries)) for one in services.standing_entries(new).values()}
    found = truck.get("/sheets/find/", {"number": f" {new.number} "})
    assert found.status_code == 303 and found["Location"] == new.get_absolute_url()
    assert truck.get("/sheets/find/", {"number": f"{old.number} a"})["Location"] == old.get_absolute_url()
    assert truck.get("/sheets/find/", {"number": "99-999-9"}).status_code == 422
