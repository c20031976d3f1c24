"""Work dates and permits of a job, asked about a day; and a quote that breaks a limit waits until somebody says why."""

from dataclasses import replace
from datetime import date

import pytest
from django.core.exceptions import ValidationError

from contractor.company.models import Staff
from estimating.engine.design import design
from estimating.quotes.documents.checks import limits_not_kept
from estimating.quotes.services import NotReadyToSend, draft_quote, send_quote
from estimating.quotes.services.working import work_out
from jobs.records import services
from jobs.records.documents.spec_results import open_books
from jobs.records.models import Job, SpecRevision, WindowKind
from jobs.records.models.held_to import against
from tests.jobs.conftest import TODAY
from tests.spec_page.conftest import boss, furnished, job, revision

__all__ = ["boss", "furnished", "job", "revision"]
pytestmark = pytest.mark.django_db
WINTER = {"kind": WindowKind.BARRED, "first_month": 10, "first_day": 15, "last_month": 5, "last_day": 31, "note": ""}


def test_it_holds_a_planned_day_to_windows_and_permits_until_somebody_keeps_it(
    job: Job, revision: SpecRevision, boss: Staff
) -> None:
    facts = {"authority": "Fisheries", "issued_on": date(2026, 4, 1), "expires_on": date(2027, 3, 1)}
    services.record_permit(job, facts=facts, windows=[WINTER], by=boss)
    assert services.planned_date_faults(job, date(2026, 10, 14)) == []
    (new_year,) = services.planned_date_faults(job, date(2027, 1, 1))
    assert new_year.headline == (
        "Fisheries: no work in the water from 15 October to 31 May; 1 January 2027 lies in it."
    )
    assert [fault.code for fault in services.planned_date_faults(job, date(2027, 6, 1))] == ["expired"]
    with pytest.raises(ValidationError):
        services.keep_planned_date(job, date(2027, 1, 1), key=new_year.key, reason=" ", by=boss)
    services.keep_planned_date(job, date(2027, 1, 1), key=new_year.key, reason="Ice cut by hand, they agreed", by=boss)
    (kept,) = services.planned_date_faults(job, date(2027, 1, 1))
    assert kept.kept.startswith(boss.name) and "Ice cut by hand" in kept.kept
    assert services.planned_date_faults(job, date(2027, 1, 2))[0].kept == ""


def test_it_leaves_out_a_permit_that_is_not_needed(job: Job, boss: Staff) -> None:
    facts = {"authority": "Town", "needed": False, "most_width_in": 12.0}
    services.record_permit(job, facts=facts, windows=[WINTER], by=boss)
    assert services.planned_date_faults(job, date(2027, 1, 1)) == []


def test_it_sends_no_quote_over_a_limit_until_the_check_is_kept(job: Job, revision: SpecRevision, boss: Staff) -> None:
    services.record_permit(job, facts={"authority": "Town", "most_width_in": 60.0}, by=boss)
    job = Job.objects.get(pk=job.pk)
    facts = {"spec_letter": revision.letter, "spec_document": revision.document}
    quote = draft_quote(job, **facts, by=boss, on=TODAY)
    (broken,) = limits_not_kept(work_out(quote, on=TODAY))
    with pytest.raises(NotReadyToSend, match=r"Town: 5′.0″ wide at most.*keep the Check"):
        send_quote(quote, seen_version=quote.version, by=boss, on=TODAY)
    services.kept_checks.keep_check(
        revision, key=broken.key, headline=broken.headline.say(), reason="Old dock was wider, they grant it", by=boss
    )
    assert limits_not_kept(work_out(quote, on=TODAY)) == []


def test_it_says_that_the_permit_shows_another_plan(job: Job, revision: SpecRevision, boss: Staff) -> None:
    services.record_permit(job, facts={"authority": "Town", "approved_revision": revision}, by=boss)
    books, spec = open_books(on=TODAY), services.spec_of(revision)
    found = against(Job.objects.get(pk=job.pk))
    assert found(design(spec, books.catalogue, books.rules)) == ()
    longer = replace(spec, sections=tuple(replace(s, width_in=s.width_in + 0.0625) for s in spec.sections))
    (said,) = found(design(longer, books.catalogue, books.rules))
    assert said.headline.say() == "Town approved spec A; this dock is laid out otherwise."
