"""A first call is written down on one page: new people and places, or known ones, never two files for one house."""

import re
from datetime import date

import pytest
from django.test import Client as Browser
from django.utils import timezone

from contractor.company.models import Staff
from jobs.records.models import Client, Job, Site

from .conftest import make_job

CALL = {
    "names": "Ada Brandvold, Per Brandvold",
    "phones": "555 0177",
    "water_body": "Otterholm River",
    "site_name": "Mill Bend",
    "their_words": "Room for two kayaks.",
    "rough_size": "6 x 20",
    "called_on": "18 March 2026",
}


def write_down(desk: Browser, **typed: str):
    page = desk.get("/jobs/new/")
    key = re.search(r'name="once" value="([^"]+)"', page.content.decode())[1]
    return desk.post("/jobs/new/", {"once": key, **CALL, **typed}), key


def test_it_opens_a_job_with_a_new_client_and_a_new_place(desk: Browser, merrit: Staff) -> None:
    answer, _ = write_down(desk)
    job = Job.objects.get()
    assert answer.status_code == 303 and answer["Location"] == job.get_absolute_url()
    assert job.number == f"{timezone.localdate():%y}-001"
    assert job.client.signers == ["Ada Brandvold", "Per Brandvold"]
    assert (job.client.filed_under, str(job.site)) == ("Brandvold", "Mill Bend, Otterholm River")
    assert (job.their_words, job.called_on, job.owner) == ("Room for two kayaks.", date(2026, 3, 18), merrit)


def test_it_makes_one_job_of_a_double_click(desk: Browser) -> None:
    _, key = write_down(desk)
    again = desk.post("/jobs/new/", {"once": key, **CALL, "client": "new", "site": "new"})
    assert again["Location"] == Job.objects.get().get_absolute_url()
    assert (Client.objects.count(), Site.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    "typed", [{"names": "ILSE QUARRINGTON"}, {"names": "I. Q.", "phones": "(555) 0142"}, {"names": "quarr"}]
)
def test_it_asks_before_it_makes_a_second_file_of_a_known_client(desk: Browser, merrit: Staff, typed: dict) -> None:
    job = make_job(merrit)
    Client.objects.filter(pk=job.client_id).update(phones="555 0142")
    Client.objects.get().save()
    answer, _ = write_down(desk, **typed)
    assert answer.status_code == 422 and Job.objects.count() == 1
    assert "We know somebody like that. Choose one." in answer.content.decode()
    assert "Room for two kayaks." in answer.content.decode()


def test_it_opens_a_job_for_the_known_client_at_their_place(desk: Browser, merrit: Staff) -> None:
    known = make_job(merrit)
    answer, _ = write_down(desk, client=str(known.client_id), site=str(known.site_id))
    assert answer.status_code == 303
    new = Job.objects.exclude(pk=known.pk).get()
    assert (new.client, new.site) == (known.client, known.site)


def test_it_takes_a_new_client_of_the_same_name_when_told(desk: Browser, merrit: Staff) -> None:
    make_job(merrit)
    answer, _ = write_down(desk, names="Ilse Quarrington", client="new")
    assert answer.status_code == 303 and Client.objects.count() == 2


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"names": ""}, "Write who calls."),
        ({"water_body": ""}, "Name the lake, river or bay."),
        ({"called_on": "yesterday"}, "is not a day"),
        ({"called_on": ""}, "Type a day"),
        ({"client": "99999"}, "That one is not in the book any more."),
    ],
)
def test_it_says_what_is_missing_and_loses_nothing_typed(desk: Browser, typed: dict, sentence: str) -> None:
    answer, _ = write_down(desk, **typed)
    page = answer.content.decode()
    assert answer.status_code == 422 and sentence in page and "Room for two kayaks." in page
    assert not (Job.objects.exists() or Client.objects.exists() or Site.objects.exists())


def test_it_offers_known_clients_while_the_name_is_typed(desk: Browser, merrit: Staff) -> None:
    make_job(merrit)
    piece = desk.get("/jobs/new/known-clients/", {"names": "quarr"}, headers={"HX-Request": "true"}).content.decode()
    assert "Ilse Quarrington" in piece and "No, a new client" in piece and "<h1" not in piece
    assert 'role="alert"' not in piece


def test_it_offers_the_places_of_the_client_that_was_chosen(desk: Browser, merrit: Staff) -> None:
    job = make_job(merrit)
    asked = {"names": "quarr", "client": str(job.client_id), "water_body": "", "site_name": ""}
    piece = desk.get("/jobs/new/known-sites/", asked, headers={"HX-Request": "true"}).content.decode()
    assert "22 Heron Spit Road, Long Quillet Lake" in piece
