"""Who sees what on the pages of a job: the crew sees the work and never the money."""

from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.utils import timezone

from contractor.company.models import Staff
from contractor.company.once import new_key
from estimating.catalogue.services import load_starter
from jobs.records import services
from jobs.records.models import Job, Site
from tests.people import the_firm

from .conftest import make_job, make_site
from .test_say_what_waits import quote


@pytest.fixture
def folder(merrit: Staff) -> Job:
    """A job with something in every part of its folder."""
    the_firm()
    load_starter(by=merrit)
    site = make_site(gate_code="GATE-4417", carry_in=1680.0, least_setback_in=180.0)
    job = make_job(merrit, site=site, budget=Decimal("7777"), their_words="For the kids.", on=timezone.localdate())
    levels = {"datum": "dock pin", "low_in": 18.0, "normal_in": 42.0}
    services.save_levels(site, seen_version=0, changes=levels, by=merrit)
    services.save_depths(site, seen_version=1, rows=[{"label": "ramp end", "depth_in": 50.4}], by=merrit)
    services.record_permit(job, facts={"authority": "Town", "fee": Decimal("125"), "most_width_in": 60.0}, by=merrit)
    services.log_call(job, words="Agreed on 6,750 on the phone", by=merrit)
    services.start_spec(job, by=merrit)
    quote(job, merrit, valid_until=timezone.localdate())
    return Job.objects.in_full().get(pk=job.pk)


def pages(job: Job) -> list[str]:
    return [
        "/",
        "/jobs/",
        "/jobs/?show=all",
        "/jobs/?show=quoted",
        "/jobs/?show=ended",
        "/find/?q=quarr",
        "/find/",
        f"/jobs/{job.number}/",
    ]


def office_pages(job: Job) -> list[str]:
    permit = job.permits.get()
    return [
        "/jobs/new/",
        f"/jobs/{job.number}/edit/",
        f"/jobs/{job.number}/end/",
        f"/jobs/{job.number}/permits/new/",
        f"/jobs/{job.number}/permits/{permit.pk}/",
        f"/jobs/{job.number}/specs/read-file/",
        f"/jobs/{job.number}/specs/compare/?a=A&b=A",
        f"/jobs/{job.number}/specs/A/copy/",
        f"/clients/{job.client_id}/",
        f"/sites/{job.site_id}/",
        f"/sites/{job.site_id}/water/",
    ]


@pytest.mark.page
def test_it_opens_every_page_for_the_office_with_one_heading(desk: Browser, folder: Job) -> None:
    for address in [*pages(folder), *office_pages(folder)]:
        answer = desk.get(address)
        assert (address, answer.status_code, answer.content.decode().count("<h1")) == (address, 200, 1)


@pytest.mark.page
def test_it_shows_the_crew_the_job_without_money_or_gate_code(crew: Browser, folder: Job) -> None:
    for address in pages(folder):
        page = crew.get(address).content.decode()
        assert page.count("<h1") == 1, address
        for secret in ("6,750", "7,777", "125.00", "GATE-4417", "/edit/", "Quotes"):
            assert secret not in page, f"{secret} on {address}"
    page = crew.get(f"/jobs/{folder.number}/").content.decode()
    assert "Ramp end 4.2 ft." in page and "carry 140′ 0″" in page.lower() and "<svg" in page


@pytest.mark.page
def test_it_keeps_office_pages_from_the_crew(crew: Browser, folder: Job) -> None:
    assert {crew.get(address).status_code for address in office_pages(folder)} == {403}


@pytest.mark.page
def test_it_shows_the_office_money_levels_and_the_gate_code(desk: Browser, folder: Job) -> None:
    page = desk.get(f"/jobs/{folder.number}/").content.decode()
    for words in ("6,750.00", "7,777.00", "GATE-4417", "Low 1.5", "Town", "Agreed on 6,750 on the phone"):
        assert words in page


@pytest.mark.page
def test_it_says_where_the_dock_is_over_a_limit(desk: Browser, folder: Job) -> None:
    page = desk.get(f"/jobs/{folder.number}/").content.decode()
    assert "Town: 5′ 0″ wide at most; this dock is 6′ 0″." in page


@pytest.mark.page
def test_it_tells_a_limit_missed_by_less_than_an_inch(desk: Browser, folder: Job, merrit: Staff) -> None:
    # a 1.20 m rule against 4 ft, which is 1.219 m
    permit = folder.permits.get()
    services.save_permit(permit, seen_version=1, changes={"most_width_in": 1200 / 25.4}, by=merrit)
    spec = folder.spec_revisions.get()
    document = {**spec.document, "sections": [{**spec.document["sections"][0], "width_in": 48.0}]}
    spec.document = document
    spec.save()
    assert "Town: 3′ 11 1/4″ wide at most; this dock is 4′ 0″." in desk.get(f"/jobs/{folder.number}/").content.decode()


@pytest.mark.page
def test_it_says_in_words_why_a_spec_cannot_be_drawn(desk: Browser, folder: Job) -> None:
    spec = folder.spec_revisions.get()
    spec.document = {**spec.document, "sections": [{"mark": "A", "length_in": 192.0, "width_in": 10.0}]}
    spec.save()
    answer = desk.get(f"/jobs/{folder.number}/")
    assert answer.status_code == 200 and "Plan and side elevation" not in answer.content.decode()
    assert "Check." in answer.content.decode()


def test_it_offers_only_the_jobs_of_a_stage(desk: Browser, folder: Job, merrit: Staff) -> None:
    make_job(merrit, on=timezone.localdate())
    assert 'class="who"' not in desk.get("/jobs/?show=quoted").content.decode()
    folder.quote_was_sent(folder.quotes.get(), by=merrit)
    assert desk.get("/jobs/?show=quoted").content.decode().count('class="who"') == 1
    assert desk.get("/jobs/?show=open").content.decode().count('class="who"') == 2
    assert desk.get("/jobs/?show=lost").status_code == 404


def test_it_saves_and_reads_a_spec_file(desk: Browser, folder: Job) -> None:
    saved = desk.get(f"/jobs/{folder.number}/specs/A/file/")
    assert 'filename="spec-' in saved["Content-Disposition"]
    address = f"/jobs/{folder.number}/specs/read-file/"
    bad = saved.content.replace(b'"width_in": 72.0', b'"width_in": "wide"', 1)
    refused = desk.post(address, {"once": new_key(), "file": SimpleUploadedFile("s.json", bad)})
    assert refused.status_code == 422 and "sections[0].width_in" in refused.content.decode()
    not_json = desk.post(address, {"once": new_key(), "file": SimpleUploadedFile("s.json", b"{\n'a'")})
    assert not_json.status_code == 422 and "Look at line 2." in not_json.content.decode()
    key = new_key()
    for _ in range(2):
        read = desk.post(address, {"once": key, "file": SimpleUploadedFile("s.json", saved.content)})
        assert read["Location"].endswith("/B/")
    assert [spec.letter for spec in folder.spec_revisions.all()] == ["A", "B"]


def test_it_copies_a_spec_only_to_an_open_job(desk: Browser, folder: Job, merrit: Staff) -> None:
    other, address = make_job(merrit, on=timezone.localdate()), f"/jobs/{folder.number}/specs/A/copy/"
    assert "There is no job 99-1" in desk.post(address, {"once": new_key(), "to": "99-1"}).content.decode()
    assert desk.post(address, {"once": new_key(), "to": other.number}).status_code == 303
    assert other.spec_revisions.get().made_from.job == folder
    services.end_job(other, ending="finished", reason="", by=merrit, on=timezone.localdate())
    answer = desk.post(address, {"once": new_key(), "to": other.number})
    assert answer.status_code == 422 and "has ended" in answer.content.decode()


@pytest.mark.page
def test_it_compares_two_revisions_in_plain_words(desk: Browser, folder: Job, merrit: Staff) -> None:
    services.next_revision(folder.spec_revisions.get(), by=merrit)
    Site.objects.filter(pk=folder.site_id).update(version=9)
    services.save_site(folder.site, seen_version=9, changes={"miles_from_yard": 23.0}, by=merrit)
    services.freeze_spec(folder.spec_revisions.get(letter="A"), by=merrit)
    services.save_site(folder.site, seen_version=10, changes={"miles_from_yard": 30.0}, by=merrit)
    page = desk.get(f"/jobs/{folder.number}/specs/compare/?a=A&b=B").content.decode()
    assert "Site: miles one way 23.0 mi to 30.0 mi" in page
    assert desk.get(f"/jobs/{folder.number}/specs/compare/?a=A&b=Z").status_code == 404
