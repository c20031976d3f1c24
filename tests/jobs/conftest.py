from datetime import date

import pytest
from django.test import Client as Browser

from contractor.company.models import Role, Staff
from jobs.records import services
from jobs.records.models import Client, Job, Site
from tests.people import browser_of, person

TODAY = date(2026, 3, 19)


def make_client(by: Staff | None = None, **facts) -> Client:
    return services.record_client(facts={"names": "Ilse Quarrington\nTom Quarrington", **facts}, by=by)


def make_site(by: Staff | None = None, **facts) -> Site:
    return services.record_site(facts={"water_body": "Long Quillet Lake", "name": "22 Heron Spit Road", **facts}, by=by)


def make_job(by: Staff, **facts) -> Job:
    client, site = facts.pop("client", None), facts.pop("site", None)
    on = facts.pop("on", TODAY)
    return services.open_job(
        client=client or make_client(), site=site or make_site(), facts={"rough_size": "6 x 16", **facts}, by=by, on=on
    )


@pytest.fixture
def merrit(db) -> Staff:
    return person(Role.OFFICE)


@pytest.fixture
def job(merrit: Staff) -> Job:
    return make_job(merrit)


@pytest.fixture
def desk(merrit: Staff) -> Browser:
    """The office's browser."""
    return browser_of(merrit)


@pytest.fixture
def crew(db) -> Browser:
    """The crew lead's browser."""
    return browser_of(person(Role.CREW_LEAD))
