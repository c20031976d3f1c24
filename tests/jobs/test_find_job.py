"""One box finds a job by anything written about it, however it is spelled."""

import pytest
from django.test import Client as Browser

from contractor.company.models import Staff
from jobs.records import services
from jobs.records.models import Job
from jobs.records.services.finding import find_jobs

from .conftest import make_client, make_job, make_site


@pytest.fixture
def two(merrit: Staff) -> tuple[Job, Job]:
    ishibashi = make_job(
        merrit,
        client=make_client(names="Søren Ishibashi-O’Neil", phones="(555) 010-0199", email="soren@example.test"),
        site=make_site(water_body="Lac à l’Étang", name="Lot 4, North Arm"),
        their_words="Replace the old crib dock",
    )
    return ishibashi, make_job(merrit)


@pytest.mark.parametrize(
    "typed",
    [
        "ishibashi",
        "SOREN",
        "oneil",
        "o'neil",
        "lac etang",
        "l'etang",
        "north arm",
        "555-010-0199",
        "5550100199",
        "soren@example.test",
        "crib",
        "ishi étang crib",
        "26-001 soren",
    ],
)
def test_it_finds_by_any_name_place_phone_or_word(two: tuple[Job, Job], typed: str) -> None:
    assert find_jobs(typed).jobs == [two[0]]


@pytest.mark.parametrize("typed", ["soren heron", "ishibashi zebra", "%", "_____", "12'; --"])
def test_it_needs_every_word_and_takes_no_wildcards(two: tuple[Job, Job], typed: str) -> None:
    assert set(find_jobs(typed).jobs) - set(two) == set()
    assert two[0] not in find_jobs(typed).jobs or not typed.strip("%_")


@pytest.mark.parametrize(
    "typed", ["26-001", "26-1", " 26 - 0001 ", "26/001", "26-001 A", "26-001b", "Quote 26-001 A", "job 26-1"]
)
def test_it_knows_a_job_number_when_it_sees_one(two: tuple[Job, Job], typed: str) -> None:
    assert find_jobs(typed).exact == two[0]


def test_it_finds_what_was_changed_and_what_was_said_later(two: tuple[Job, Job], merrit: Staff) -> None:
    job = two[1]
    services.save_client(job.client, seen_version=1, changes={"names": "Ilse Vantongeren"}, by=merrit)
    services.log_call(job, words="Wants a bench under the pergola", by=merrit)
    assert find_jobs("vantongeren pergola").jobs == [job]
    assert find_jobs("tom").jobs == []


def test_it_finds_by_the_authority_and_the_number_of_a_permit(two: tuple[Job, Job], merrit: Staff) -> None:
    permit = services.record_permit(two[1], facts={"authority": "Town of Corriveau", "number": "SP-7731/b"}, by=merrit)
    assert find_jobs("sp-7731/B").jobs == find_jobs("corriveau heron").jobs == [two[1]]
    services.save_permit(permit, seen_version=1, changes={"number": "SP-8112"}, by=merrit)
    assert find_jobs("sp-8112").jobs == [two[1]] and find_jobs("7731").jobs == []


def test_it_puts_open_jobs_before_ended_ones(merrit: Staff) -> None:
    first, second = make_job(merrit), make_job(merrit)
    services.end_job(second, ending="cancelled", reason="Moved away", by=merrit, on=second.called_on)
    assert find_jobs("quarrington").jobs == [first, second]


def test_it_jumps_straight_to_a_number(two: tuple[Job, Job], desk: Browser) -> None:
    assert desk.get("/find/", {"q": "26-1"})["Location"] == two[0].get_absolute_url()


def test_it_says_when_nothing_was_found(two: tuple[Job, Job], desk: Browser) -> None:
    page = desk.get("/find/", {"q": "<zebra>"}).content.decode()
    assert "Nothing found for “&lt;zebra&gt;”" in page


def test_it_asks_the_database_the_same_number_of_times_for_one_and_for_many(
    merrit: Staff, desk: Browser, django_assert_max_num_queries
) -> None:
    client, site = make_client(), make_site()
    for _ in range(12):
        make_job(merrit, client=client, site=site)
    with django_assert_max_num_queries(10):
        page = desk.get("/find/", {"q": "quarrington"})
    assert page.content.decode().count('class="who"') == 12
