"""Ten years of quarter hours: taken in, and drawn. Run with `pytest --benchmark-only`; on PostgreSQL as the suite is.

Wall-clock time of the import, for the database has its share in it; processor time of the chart, best round.
"""

import time
from datetime import date

import numpy as np
import pytest
from django.test import Client

from contractor.company.models import Role, Staff
from estimating.engine.water import Told
from jobs.records import services
from jobs.records.models import Gauge, Site
from tests.jobs.conftest import make_site
from tests.people import browser_of, person

ROWS = 350_000


@pytest.fixture(scope="module")
def ten_years() -> bytes:
    clock = np.datetime64("2014-01-01T00:00") + np.arange(ROWS) * np.timedelta64(15, "m")
    level = 1.7 + 0.6 * np.sin(np.arange(ROWS) / 5581)
    rows = zip(np.datetime_as_string(clock), level, strict=True)
    lines = (f"{at[:10]} {at[11:]},{value:.3f},0.06,0,0,0,0,v" for at, value in rows)
    return "\n".join(["Date Time, Water Level, Sigma, O or I (for verified), F, R, L, Quality ", *lines]).encode()


@pytest.fixture
def office(db) -> Staff:
    return person(Role.OFFICE)


@pytest.fixture
def site(office: Staff) -> Site:
    return make_site()


def upload(data: bytes) -> services.GaugeUpload:
    return services.GaugeUpload(data, Told(unit="m", zone="Etc/GMT+6"), "gauge zero", "ten-years.csv")


def test_it_takes_in_ten_years_of_quarter_hours_in_under_20_s(benchmark, site, office, ten_years: bytes) -> None:
    told = {"upload": upload(ten_years), "by": office}
    imported = benchmark.pedantic(services.import_gauge_file, (site,), told, rounds=1)
    assert imported.added > ROWS - 50 and imported.gauge.count == imported.added
    assert benchmark.stats.stats.max < 20


@pytest.mark.benchmark(timer=time.process_time)
def test_it_draws_ten_years_in_under_300_ms(benchmark, site, office, ten_years: bytes) -> None:
    gauge = services.import_gauge_file(site, upload=upload(ten_years), by=office).gauge
    desk: Client = browser_of(office)
    season = {"low": "5", "normal": "50", "high": "95", "first": "1 May", "last": "15 Oct"}
    page = benchmark.pedantic(desk.get, (gauge.get_absolute_url(), season), rounds=5, warmup_rounds=1)
    assert page.status_code == 200 and page.content.count(b'role="img"') == 2
    assert benchmark.stats.stats.min < 0.300


def test_it_says_the_usual_level_of_a_day_in_under_300_ms(benchmark, site, office, ten_years: bytes) -> None:
    services.import_gauge_file(site, upload=upload(ten_years), by=office)
    assert Gauge.objects.count() == 1
    said = benchmark.pedantic(services.level_on, (site, date(2030, 3, 14)), rounds=3, warmup_rounds=1)
    assert said.how == "usual"
    assert benchmark.stats.stats.min < 0.300
