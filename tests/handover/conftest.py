import pytest
from django.test import Client
from django.utils import timezone

from contractor.company.models import Role, Staff
from estimating.quotes.services import Acceptance, accept_quote
from jobs.records.models import Job
from tests.people import browser_of, person
from tests.quotes.making import sent, with_ramp


@pytest.fixture
def owner(shop_owner: Staff) -> Staff:
    return shop_owner


@pytest.fixture
def lead(owner: Staff) -> Staff:
    return person(Role.CREW_LEAD)


@pytest.fixture
def job(owner: Staff, monkeypatch) -> Job:
    """A dock that was sold."""
    from estimating.quotes.services import sending

    monkeypatch.setattr(sending, "customer_paper", lambda *_, **__: b"%PDF-1.7")
    monkeypatch.setattr(sending, "shop_paper", lambda *_, **__: b"%PDF-1.7")
    quote = sent(owner, spec=with_ramp())
    accept_quote(quote, Acceptance("Ilse Quarrington", timezone.localdate(), "paper"), by=owner)
    return Job.objects.get(pk=quote.job_id)


@pytest.fixture
def desk(owner: Staff) -> Client:
    return browser_of(owner)


@pytest.fixture
def truck(lead: Staff) -> Client:
    return browser_of(lead)
