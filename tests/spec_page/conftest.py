"""A firm with its starter catalogue, a job with a dock, and the people who look at it."""

from collections.abc import Iterator

import pytest
from django.db import transaction
from django.http import QueryDict
from django.test import Client

from contractor.company.models import Role, Staff
from contractor.company.services import set_up_firm
from estimating.catalogue.services import load_starter
from jobs.records import services
from jobs.records.documents.spec_results import open_books
from jobs.records.forms.spec import SpecForm
from jobs.records.forms.spec_typed import typed_spec
from jobs.records.models import Job, SpecRevision
from tests.jobs.conftest import TODAY, make_job, make_site


@pytest.fixture(scope="module")
def furnished(django_db_setup, django_db_blocker) -> Iterator[Staff]:
    """The firm and its catalogue, set up once for a file of tests and taken away after it."""
    owner = {"login": "merrit", "name": "Merrit Vale", "email": ""}
    with django_db_blocker.unblock(), transaction.atomic():
        boss = set_up_firm(name="Vale Docks", units="imperial", currency="USD", password="a long password", owner=owner)
        load_starter(by=boss)
        yield boss
        transaction.set_rollback(True)


@pytest.fixture
def boss(furnished: Staff, db) -> Staff:
    return furnished


@pytest.fixture
def job(boss: Staff) -> Job:
    site = make_site(boss, hinge_level_in=79.0, miles_from_yard=12)
    levels = {"datum": "the causeway staff", "low_in": 18.0, "normal_in": 42.0, "high_in": 54.0}
    services.save_levels(site, changes=levels, seen_version=1, by=boss)
    return make_job(boss, site=site, rough_size="6 x 16")


@pytest.fixture
def revision(job: Job, boss: Staff) -> SpecRevision:
    return services.start_spec(job, by=boss)


@pytest.fixture
def office(client: Client, boss: Staff) -> Client:
    client.force_login(boss)
    return client


@pytest.fixture
def crew(boss: Staff) -> Client:
    lead = Staff.objects.create_user("tolliver", "a long password", name="Tolliver Vail", role=Role.CREW_LEAD)
    client = Client()
    client.force_login(lead)
    return client


def page(revision: SpecRevision, data: QueryDict) -> SpecForm:
    """The page as it is filled from this text."""
    return SpecForm(data, base=services.spec_of(revision), catalogue=open_books(on=TODAY).catalogue)


def typed(revision: SpecRevision, **boxes: str) -> QueryDict:
    """What the page posts when it is opened and these boxes are typed into; `__` stands for a dash."""
    data = typed_spec(services.spec_of(revision))
    data["version"] = str(revision.version)
    for region, drawn in page(revision, data).signatures().items():
        data[f"drawn-{region}"] = drawn
    for name, text in boxes.items():
        data[name.replace("__", "-")] = text
    return data
