from datetime import date
from decimal import Decimal

import pytest

from contractor.company.models import Company, Staff
from contractor.company.services import set_up_firm
from estimating.catalogue import services
from estimating.catalogue.models import Item, Supplier
from estimating.catalogue.services import ItemDraft, PriceFacts
from tests.people import browser_of


@pytest.fixture
def owner(db) -> Staff:
    """The owner of a firm that works in feet and US dollars."""
    return set_up_firm(
        name="Heron Spit Docks",
        units="imperial",
        currency="USD",
        owner={"login": "oona", "name": "Oona Vance"},
        password="anchor-chain-7",
    )


@pytest.fixture
def company(owner) -> Company:
    return Company.objects.get()


@pytest.fixture
def people(owner) -> dict[str, Staff]:
    """One person of each role."""
    made = {
        role: Staff.objects.create_user(role, "anchor-chain-7", name=role.title(), role=role)
        for role in ("office", "crew_lead", "crew")
    }
    return {"owner": owner, **made}


@pytest.fixture
def starter(owner) -> None:
    services.load_starter(by=owner)


@pytest.fixture
def plate(owner) -> Item:
    draft = ItemDraft("hardware", {"name": "Inside corner plate", "use_unit": "each"}, code="inside-corner")
    return services.make_item(draft, by=owner)


@pytest.fixture
def joist(owner) -> Item:
    facts = {
        "name": "2x8 ground contact",
        "nominal": "2x8",
        "thickness_in": 1.5,
        "width_in": 7.25,
        "wet_lb_per_ft": 4.5,
        "seasoned_lb_per_ft": 2.9,
    }
    return services.make_item(ItemDraft("lumber", facts, code="2x8", stick_lengths_in=[144.0, 192.0]), by=owner)


@pytest.fixture
def yard(owner) -> Supplier:
    return services.make_supplier(facts={"name": "Millpond Lumber"}, by=owner)


@pytest.fixture
def mill(owner) -> Supplier:
    return services.make_supplier(facts={"name": "North Mill"}, by=owner)


@pytest.fixture
def browsers(people):
    return {role: browser_of(somebody) for role, somebody in people.items()}


@pytest.fixture
def office(people):
    return browser_of(people["office"])


def price(amount: str, dated: date, **more) -> PriceFacts:
    return PriceFacts(Decimal(amount), more.pop("currency", "USD"), dated, **more)
