"""Job numbers are given in order, once, whoever asks and however many ask at the same moment."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import connection

from contractor.company.models import Staff
from jobs.records import services
from jobs.records.models import Job
from tests.people import person

from .conftest import make_client, make_job, make_site


def test_it_counts_within_the_year_and_starts_again_in_the_next(merrit: Staff) -> None:
    days = [date(2026, 3, 19), date(2026, 12, 31), date(2027, 1, 2)]
    assert [make_job(merrit, on=day).number for day in days] == ["26-001", "26-002", "27-001"]


def test_it_gives_a_failed_job_s_number_to_the_next(merrit: Staff) -> None:
    make_job(merrit)
    with pytest.raises(ValidationError):
        make_job(merrit, boat_length_in=-4.0)
    assert make_job(merrit).number == "26-002"


def test_it_goes_on_past_a_thousand(merrit: Staff, settings) -> None:
    from contractor.company.models import Counter

    Counter.objects.create(name="job 2026", value=999)
    assert make_job(merrit).number == "26-1000"


@pytest.mark.django_db(transaction=True)
def test_it_neither_skips_nor_repeats_when_eight_people_call_at_once() -> None:
    by, client, site = person(), make_client(), make_site()

    def open_three(caller: int) -> list[str]:
        try:
            return [
                services.open_job(
                    client=client, site=site, facts={"their_words": f"caller {caller}"}, by=by, on=date(2026, 4, 1)
                ).number
                for _ in range(3)
            ]
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as callers:
        given = [number for numbers in callers.map(open_three, range(8)) for number in numbers]
    assert sorted(given) == [f"26-{n:03d}" for n in range(1, 25)]
    assert Job.objects.count() == 24
