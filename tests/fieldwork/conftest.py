import pytest
from django.test import Client

from contractor.company.models import Role, Staff
from estimating.engine.spec import DockSpec
from jobs.fieldwork import services
from jobs.fieldwork.models import WorkOrder
from jobs.records.models import Job
from jobs.records.services import start_spec
from tests.people import browser_of, person
from tests.quotes.conftest import no_press, quick_press  # noqa: F401
from tests.quotes.making import a_job, with_ramp


def built(by: Staff, spec: DockSpec | None = None) -> Job:
    """A job with a spec of a dock, not sold."""
    job = a_job(by)
    start_spec(job, spec=spec or with_ramp(), by=by)
    return job


def sheet(job: Job, stage: str, by: Staff) -> WorkOrder:
    [order] = services.print_orders(job, stages=[stage], by=by)
    return order


@pytest.fixture
def owner(shop_owner: Staff) -> Staff:
    return shop_owner


@pytest.fixture
def lead(owner: Staff) -> Staff:
    person(Role.CREW)
    return person(Role.CREW_LEAD)


@pytest.fixture
def job(owner: Staff) -> Job:
    return built(owner)


@pytest.fixture
def truck(lead: Staff) -> Client:
    """The crew lead's browser."""
    return browser_of(lead)
