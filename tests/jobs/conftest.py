from datetime import date

import pytest

from contractor.company.models import Role, Staff
from jobs.records import services
from jobs.records.models import Client, Job, Site

TODAY = date(2026, 3, 19)


def make_person(login: str = "merrit", role: str = Role.OFFICE) -> Staff:
    return Staff.objects.create_user(login, "a long password", name=login.title() + " Vale", role=role)


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
    return make_person()


@pytest.fixture
def job(merrit: Staff) -> Job:
    return make_job(merrit)
