from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from contractor.company.models import Role, Staff
from estimating.quotes.models import Quote
from jobs.records.models import Job
from jobs.records.services import record_permit
from jobs.schedule import services
from jobs.schedule.models import Crew
from tests.jobs.conftest import make_client, make_job, make_site
from tests.people import browser_of, person, the_firm

HOURS = {
    "layout": "2.0",
    "framing": "11.0",
    "flotation": "6.0",
    "launch": "2.0",
    "decking": "6.0",
    "anchoring": "5.0",
    "handover": "2.0",
}


def next_monday() -> date:
    """A Monday a little ahead, so that a test never stands on a day that is over."""
    today = timezone.localdate()
    return today + timedelta(days=7 - today.weekday() + 7)


def accept(job: Job, by: Staff, *, on: date, deposit: str = "0", hours: dict[str, str] = HOURS) -> Quote:
    """An accepted quote as the quotes room leaves it, without its papers."""
    return Quote.objects.create(
        job=job,
        letter="A",
        state="accepted",
        spec_letter="A",
        spec_document={},
        margin_percent=Decimal(15),
        rounding_step=Decimal(10),
        tax_mode="shop_is_end_user",
        valid_until=on,
        title="6 × 16 dock",
        created_by=by,
        sent_at=timezone.now(),
        figures={"hours": {"stage_hours": hours}},
        total=Decimal(6750),
        customer_pdf=b"%PDF-",
        accepted_on=on,
        accepted_by_name="Ilse Quarrington",
        payments=[{"trigger": "signing", "amount": deposit}] if Decimal(deposit) else [],
    )


def signed_job(by: Staff, *, names: str = "Ilse Quarrington", signed: date | None = None, **facts) -> Job:
    """A job that nothing holds: signed long ago, no permit needed."""
    site = make_site(**{"miles_from_yard": 12.0, **facts.pop("site", {})})
    job = make_job(by, client=make_client(names=names), site=site, on=date(2026, 1, 5), **facts)
    on = signed or timezone.localdate() - timedelta(days=40)
    accept(job, by, on=on)
    record_permit(job, facts={"authority": "Town of Corriveau Landing", "needed": False}, by=by)
    services.take_risk(job, gate="materials", reason="goods are not what this is about", by=by)
    return Job.objects.get(pk=job.pk)


def crew_of(*names: str, name: str = "Tolliver’s crew", by: Staff | None = None) -> Crew:
    crew = services.form_crew(name=name, by=by)
    for one in names:
        services.add_member(crew, name=one, by=by)
    return crew


@pytest.fixture
def owner(db) -> Staff:
    the_firm()
    return person(Role.OWNER)


@pytest.fixture
def crew(owner) -> Crew:
    return crew_of("Tolliver Ames", "Vail Corrin", by=owner)


@pytest.fixture
def job(owner, crew) -> Job:
    return signed_job(owner)


@pytest.fixture
def desk(owner):
    return browser_of(owner)
