"""The board and the job's page say, from what is on record, what each job waits for and who acts."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from contractor.company.models import Staff
from estimating.quotes.models import Quote
from jobs.board.services import board_on
from jobs.records import services
from jobs.records.models import Job

from .conftest import TODAY, make_client, make_job, make_site

NOON = datetime(2026, 4, 13, 12, tzinfo=UTC)


def quote(job: Job, by: Staff, state: str = "sent", letter: str = "A", **facts) -> Quote:
    made = {"spec_letter": "A", "spec_document": {}, "margin_percent": 15, "rounding_step": 10, "title": "Dock"}
    sent = {"sent_at": NOON, "total": Decimal("6750"), "figures": {}, "customer_pdf": b"pdf"}
    facts = {"valid_until": date(2026, 5, 8), **made, **({} if state == "draft" else sent), **facts}
    return Quote.objects.create(job=job, letter=letter, state=state, tax_mode="shop_pays", created_by=by, **facts)


def signed(job: Job, by: Staff) -> None:
    quote(job, by, "accepted", accepted_on=date(2026, 4, 16), accepted_by_name="Ilse", accepted_total=Decimal("6750"))


def said(job: Job, on: date = date(2026, 4, 20)) -> tuple[str, str, str]:
    standing = services.standing_of(Job.objects.in_full().get(pk=job.pk), on=on)
    return standing.group, standing.said, standing.who


def test_it_waits_for_a_visit_or_a_spec_after_the_call(merrit: Staff) -> None:
    job = make_job(merrit, promised="a price before ice-out.")
    words = "Called Thu 19 March. Waiting for a site visit or a spec. Promised: a price before ice-out."
    assert said(job) == ("today", words, "Oona books it")


@pytest.mark.parametrize(
    ("visit_on", "group", "words"),
    [
        (date(2026, 4, 24), "waiting", "Called Thu 19 March. Waiting for the site visit, Fri 24 April."),
        (date(2026, 4, 20), "today", "Called Thu 19 March. Waiting for the site visit, today."),
        (date(2026, 4, 17), "today", "The visit was Fri 17 April. Waiting for a spec."),
    ],
)
def test_it_waits_for_the_visit_and_then_for_a_spec(merrit: Staff, visit_on: date, group: str, words: str) -> None:
    assert said(make_job(merrit, visit_on=visit_on))[:2] == (group, words)


def test_it_waits_for_a_quote_once_a_spec_is_drawn(job: Job, merrit: Staff) -> None:
    services.start_spec(job, by=merrit)
    assert said(job) == ("today", "Spec A is drawn. Waiting for a quote.", "Oona prices it")


def test_it_waits_for_the_last_look_at_a_draft(job: Job, merrit: Staff) -> None:
    quote(job, merrit, "sent")
    quote(job, merrit, "draft", "B")
    assert said(job)[:2] == ("today", "Quote B is written. Waiting for the last look before it is sent.")


def test_it_waits_for_a_signature_until_the_price_ends(job: Job, merrit: Staff) -> None:
    quote(job, merrit)
    words = "Quote A is out. Waiting for a signature. The price holds until Fri 8 May."
    assert said(job, date(2026, 5, 8)) == ("waiting", words, "The client signs")
    assert said(job, date(2026, 5, 9))[:2] == ("today", "Quote A ran out Fri 8 May. Waiting for a new price or a no.")


def test_it_waits_for_a_decision_when_the_client_said_no(job: Job, merrit: Staff) -> None:
    quote(job, merrit, "refused", refused_on=date(2026, 4, 18), refused_reason="Too dear.")
    words = "Quote A was refused: Too dear. Waiting for a decision: another revision, or an end."
    assert said(job)[:2] == ("today", words)


@pytest.mark.parametrize(
    ("dates", "group", "words"),
    [
        ({}, "today", "Waiting for the permit of Town, not applied for."),
        (
            {"applied_on": date(2026, 4, 17), "expected_on": date(2026, 5, 20)},
            "waiting",
            "Waiting for the permit of Town, expected Wed 20 May.",
        ),
        (
            {"applied_on": date(2026, 3, 1), "expected_on": date(2026, 4, 19)},
            "today",
            "Waiting for the permit of Town, expected Sun 19 April.",
        ),
        (
            {"issued_on": date(2026, 4, 18), "starts_on": date(2026, 5, 4)},
            "waiting",
            "Waiting for the permit of Town to come into force Mon 4 May.",
        ),
        (
            {"issued_on": date(2025, 4, 18), "expires_on": date(2026, 4, 19)},
            "today",
            "Waiting for the permit of Town, which expired 19 April 2026.",
        ),
        ({"issued_on": date(2026, 4, 18), "expires_on": date(2026, 4, 20)}, "clear", "The permit is in force."),
        ({"needed": False}, "clear", "No permit is needed."),
    ],
)
def test_it_waits_for_a_permit_once_signed(job: Job, merrit: Staff, dates: dict, group: str, words: str) -> None:
    signed(job, merrit)
    services.record_permit(job, facts={"authority": "Town", **dates}, by=merrit)
    assert said(job)[:2] == (group, f"Signed Thu 16 April. {words}")


def test_it_does_not_take_no_word_on_permits_for_none_needed(job: Job, merrit: Staff) -> None:
    signed(job, merrit)
    words = "Signed Thu 16 April. Waiting for a word on permits: none is noted, needed or not."
    assert said(job) == ("today", words, "Oona finds out")


def test_it_says_how_an_ended_job_ended(job: Job, merrit: Staff) -> None:
    services.end_job(job, ending="refused", reason="Went with a fixed pier.", by=merrit, on=TODAY)
    assert said(job)[:2] == ("ended", "Refused by the client 19 March 2026: Went with a fixed pier.")
    assert board_on(TODAY).groups == ()


def test_it_sums_up_in_one_sentence_and_puts_the_longest_wait_first(merrit: Staff) -> None:
    new, old, out, done = (make_job(merrit, called_on=TODAY - timedelta(days)) for days in (1, 9, 20, 30))
    quote(out, merrit)
    signed(done, merrit)
    services.record_permit(done, facts={"authority": "Town", "needed": False}, by=merrit)
    # Signed on Thursday 16 April: three business days later the client may cancel no more (16 CFR 429.0).
    waits = board_on(date(2026, 4, 20)).groups[1].rows[1].standing
    assert waits.job == done and waits.said.endswith("Waiting for the time to cancel to end, Mon 20 April.")
    board = board_on(date(2026, 4, 21))
    assert board.summary == (
        "Four jobs are open: two need someone today, one has a date to check, one has nothing in its way."
    )
    assert [[row.standing.job for row in group.rows] for group in board.groups] == [[old, new], [out], [done]]
    assert [(closing.days, closing.what) for closing in board.closing] == [(17, "price of quote A ends")]


def test_it_shows_a_new_firm_its_first_steps(desk: Browser, crew: Browser) -> None:
    page = desk.get("/").content.decode()
    assert "Nothing waits yet" in page and "Write down the first call" in page
    assert "Write down the first call" not in crew.get("/").content.decode()


def test_it_asks_the_database_the_same_number_of_times_for_two_jobs_and_for_thirteen(merrit: Staff) -> None:
    client, site = make_client(), make_site()

    def asked(more: int) -> int:
        for _ in range(more):
            job = make_job(merrit, client=client, site=site, on=timezone.localdate())
            quote(job, merrit)
            services.record_permit(job, facts={"authority": "Town"}, by=merrit)
        with CaptureQueriesContext(connection) as questions:
            board_on(timezone.localdate())
        return len(questions)

    asked(1)  # the first reading of all writes the usual rules and dates down
    assert asked(1) == asked(11) < 28
