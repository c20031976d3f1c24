import pytest
from django.test import Client

from contractor.company.services import set_up_firm
from jobs.records import services
from tests.jobs.conftest import make_job

pytestmark = pytest.mark.page


def test_it_says_what_the_catalogue_lacks_before_any_dock(db, client: Client) -> None:
    owner = {"login": "oona", "name": "Oona Vail", "email": ""}
    boss = set_up_firm(name="New Docks", units="imperial", currency="USD", password="a long password", owner=owner)
    revision = services.start_spec(make_job(boss), by=boss)
    client.force_login(boss)
    body = client.get(revision.get_absolute_url()).content.decode()
    assert "the catalogue is not ready" in body and "Choose the usual stringers." in body
