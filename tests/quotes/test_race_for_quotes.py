"""Many hands on one job at once: one draft, one sent quote, one log entry, letters in a row."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

import pytest
from django.db import connection, transaction

from contractor.company.models import ChangeLog
from contractor.company.versions import ChangedMeanwhile
from estimating.quotes import services
from estimating.quotes.models import Quote
from estimating.quotes.services.holding import hold_job
from jobs.records import services as records
from tests.quotes.making import OLD_DOCK, a_job, drafted, longer, revised, sent, straight, the_shop, today

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("no_press")]
HANDS = 20


def at_once(*acts: Callable[[], Any]) -> list[Any]:
    """Everybody presses at the same moment, each on a connection of their own; what each got, or what refused it."""
    ready = Barrier(len(acts))

    def press(act: Callable[[], Any]) -> Any:
        try:
            ready.wait()
            return act()
        except Exception as refused:
            return refused
        finally:
            connection.close()

    with ThreadPoolExecutor(len(acts)) as people:
        return list(people.map(press, acts))


def test_it_drafts_one_quote_for_twenty_presses():
    owner = the_shop()
    job = a_job(owner)
    revision = records.start_spec(job, spec=straight(), by=owner)
    facts = {"spec_letter": revision.letter, "spec_document": revision.document, "by": owner, "on": today()}
    answers = at_once(*[lambda: services.draft_quote(job, **facts)] * HANDS)
    made = [answer for answer in answers if isinstance(answer, Quote)]
    assert len(made) == 1 and {type(answer) for answer in answers} == {Quote, services.DraftExists}
    assert {answer.quote.pk for answer in answers if isinstance(answer, services.DraftExists)} == {made[0].pk}
    assert [quote.letter for quote in Quote.objects.all()] == ["A"]
    assert ChangeLog.objects.about(made[0]).filter(did="made").count() == 1


def test_it_sends_one_quote_for_twenty_presses():
    owner = the_shop()
    quote = drafted(owner, options=[OLD_DOCK])
    press = dict(seen_version=quote.version, by=owner, on=today())
    answers = at_once(*[lambda: services.send_quote(quote, **press)] * HANDS)
    assert all(isinstance(answer, Quote) for answer in answers), answers
    assert {(answer.state, answer.sent_at, answer.customer_pdf_sha256) for answer in answers} == {
        ("sent", answers[0].sent_at, answers[0].customer_pdf_sha256)
    }
    assert ChangeLog.objects.about(quote).filter(did="sent").count() == 1
    assert ChangeLog.objects.filter(did="quoted").count() == 1


def test_it_neither_skips_nor_repeats_a_letter():
    owner = the_shop()
    job = sent(owner).job
    for _ in range(3):
        letter, document = job.spec_to_quote()
        facts = {"spec_letter": letter, "spec_document": document, "by": owner, "on": today()}
        at_once(*[lambda facts=facts: services.draft_quote(job, **facts)] * 5)
        draft = Quote.objects.drafts().get()
        at_once(*[lambda draft=draft: services.send_quote(draft, seen_version=1, by=owner, on=today())] * 5)
    assert [(quote.letter, quote.state) for quote in Quote.objects.all()] == [
        ("A", "replaced"),
        ("B", "replaced"),
        ("C", "replaced"),
        ("D", "sent"),
    ]


def test_it_enters_one_answer():
    owner = the_shop()
    quote = sent(owner, options=[OLD_DOCK])
    yes = services.Acceptance("Ilse Quarrington", today(), "paper")
    answers = at_once(
        *[lambda: services.accept_quote(quote, yes, by=owner)] * 4,
        *[lambda: services.refuse_quote(quote, reason="No", on=today(), by=owner)] * 4,
    )
    assert sum(isinstance(answer, Quote) for answer in answers) == 1
    assert sum(isinstance(answer, services.AlreadyAnswered) for answer in answers) == 7
    assert ChangeLog.objects.about(quote).filter(did__in=["accepted", "refused"]).count() == 1


def test_it_keeps_what_one_of_two_savers_typed():
    owner = the_shop()
    quote = drafted(owner)
    answers = at_once(
        *[
            lambda n=n: services.save_draft(
                quote, seen_version=1, changes={"title": f"Title {n}"}, options=[], by=owner
            )
            for n in range(6)
        ]
    )
    assert sum(isinstance(answer, ChangedMeanwhile) for answer in answers) == 5
    (kept,) = [answer for answer in answers if isinstance(answer, Quote)]
    assert (Quote.objects.get().title, Quote.objects.get().version) == (kept.title, 2)


def test_it_sends_the_old_dock_or_nothing_while_the_spec_is_saved():
    """Whoever is first, spec and quote agree: nobody waits in a ring, and no paper shows another dock than its spec."""
    owner = the_shop()
    for length_in in (200.0, 216.0, 228.0):
        quote = drafted(owner)
        spec = quote.job.spec_revisions.get()
        save = dict(spec=longer(straight(), length_in), seen_version=spec.version, by=owner)
        _, answer = at_once(
            lambda spec=spec, save=save: records.save_spec(spec, **save),
            lambda quote=quote: services.send_quote(quote, seen_version=1, by=owner, on=today()),
        )
        quote.refresh_from_db()
        spec.refresh_from_db()
        assert quote.spec_document == spec.document
        assert spec.frozen == (quote.state == "sent")
        assert isinstance(answer, Quote | ChangedMeanwhile)


def test_it_signs_one_of_two_letters():
    """The first is accepted while the second goes out: either the second is refused, or the first was replaced."""
    owner = the_shop()
    first = sent(owner)
    second = revised(first, by=owner)
    yes = services.Acceptance("Ilse Quarrington", today(), "paper")
    at_once(
        lambda: services.accept_quote(first, yes, by=owner),
        lambda: services.send_quote(second, seen_version=1, by=owner, on=today()),
    )
    states = tuple(Quote.objects.order_by("pk").values_list("state", flat=True))
    assert states in (("accepted", "draft"), ("replaced", "sent"))


def test_it_is_held_within_a_transaction_only():
    job = a_job(the_shop())
    with pytest.raises(transaction.TransactionManagementError):
        hold_job(job)
