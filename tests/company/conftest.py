import pytest
from django.test import Client

from contractor.company.models import Company, Role, Staff
from tests.people import browser_of, person, the_firm


@pytest.fixture
def firm(db) -> Company:
    return the_firm()


@pytest.fixture
def owner(firm) -> Staff:
    return person(Role.OWNER)


@pytest.fixture
def office(firm) -> Staff:
    return person(Role.OFFICE)


@pytest.fixture
def crew(firm) -> Staff:
    return person(Role.CREW)


@pytest.fixture
def at_desk(owner) -> Client:
    """The owner's browser."""
    return browser_of(owner)
