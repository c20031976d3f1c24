"""A quote is begun from a spec, goes along with it, and takes over what the quote before it said."""

from datetime import timedelta
from decimal import Decimal

import pytest

from contractor.company.models import ChangeLog, Staff
from contractor.company.versions import ChangedMeanwhile
from estimating.quotes import services
from estimating.quotes.models import Quote, QuoteOption
from jobs.records import services as records
from tests.quotes.making import (
    BUMPER,
    COMPOSITE,
    OLD_DOCK,
    a_job,
    drafted,
    longer,
    revised,
    sent,
    straight,
    the_shop,
    today,
)


def start(job, owner: Staff, **facts) -> Quote:
    revision = records.start_spec(job, spec=straight(), by=owner)
    return services.draft_quote(
        job, spec_letter=revision.letter, spec_document=revision.document, by=owner, on=today(), **facts
    )


def test_it_starts_with_the_firm_s_own_terms(db):
    owner = the_shop(margin_percent=Decimal(18), price_step=50, quote_valid_days=21, exclusions="Rock\nWiring")
    quote = drafted(owner)
    assert (quote.letter, quote.margin_percent, quote.rounding_step) == ("A", Decimal(18), Decimal(50))
    assert quote.valid_until == today() + timedelta(days=21)
    assert (quote.title, quote.exclusions) == ("A floating dock for Long Quillet Lake", "Rock\nWiring")
    assert quote.cancellation == "You may cancel within three business days of signing, without giving a reason."


def test_it_takes_no_tax_from_a_client_with_a_certificate(owner):
    exempt = {"tax_status": "exempt", "exemption_number": "EX-77", "exemption_expires": today() + timedelta(days=90)}
    assert drafted(owner, job=a_job(owner, client=exempt)).tax_mode == "exempt"
    assert drafted(owner).tax_mode == "shop_is_end_user"


def test_it_writes_one_quote_at_a_time(owner):
    first = drafted(owner)
    letter, document = first.job.spec_to_quote()
    with pytest.raises(services.DraftExists) as standing:
        services.draft_quote(first.job, spec_letter=letter, spec_document=document, by=owner, on=today())
    assert standing.value.quote == first


def test_it_writes_none_after_one_was_accepted(owner, no_press):
    quote = sent(owner)
    services.accept_quote(quote, services.Acceptance("Ilse Quarrington", today(), "paper"), by=owner)
    with pytest.raises(services.JobIsSigned) as signed:
        revised(quote, by=owner)
    assert signed.value.quote == quote


def test_it_gives_the_letter_of_a_dropped_draft_to_the_next(owner, no_press):
    first = sent(owner)
    second = revised(first, by=owner)
    services.drop_draft(second, seen_version=second.version, by=owner)
    assert revised(first, by=owner).letter == second.letter == "B"
    assert ChangeLog.objects.get(did="dropped").before == {"letter": "B"}


def test_it_drops_nothing_that_was_sent_or_changed_meanwhile(owner, no_press):
    quote = drafted(owner)
    services.save_draft(quote, seen_version=1, changes={"title": "Another"}, options=None, by=owner)
    with pytest.raises(ChangedMeanwhile):
        services.drop_draft(quote, seen_version=1, by=owner)
    services.send_quote(quote, seen_version=2, by=owner, on=today())
    with pytest.raises(services.QuoteFrozen):
        services.drop_draft(quote, seen_version=2, by=owner)


def test_it_follows_its_spec_until_it_is_sent(owner, no_press):
    quote = drafted(owner)
    spec = quote.job.spec_revisions.get()
    records.save_spec(spec, spec=longer(straight(), 240.0), seen_version=spec.version, by=owner)
    quote.refresh_from_db()
    assert quote.spec_document["sections"][0]["length_in"] == 240.0
    services.send_quote(quote, seen_version=quote.version, by=owner, on=today())
    spec.refresh_from_db()
    assert spec.frozen
    with pytest.raises(records.SpecFrozen):
        records.save_spec(spec, spec=straight(), seen_version=spec.version, by=owner)
    records.next_revision(spec, by=owner)
    quote.refresh_from_db()
    assert (quote.spec_letter, quote.spec_document["sections"][0]["length_in"]) == ("A", 240.0)


def test_it_does_not_overtake_whoever_is_typing_when_the_spec_moves(owner):
    quote = drafted(owner)
    spec = quote.job.spec_revisions.get()
    records.save_spec(spec, spec=longer(straight(), 240.0), seen_version=spec.version, by=owner)
    saved = services.save_draft(quote, seen_version=1, changes={"title": "Typed"}, options=None, by=owner)
    assert (saved.title, saved.spec_document["sections"][0]["length_in"]) == ("Typed", 240.0)


def test_it_carries_terms_and_options_to_the_next_letter(owner, no_press):
    terms = {"margin_percent": Decimal("22.5"), "title": "The Quarrington dock", "timing": "In May."}
    first = sent(owner, options=[COMPOSITE, OLD_DOCK], **terms)
    second = revised(first, by=owner)
    assert (second.letter, second.margin_percent, second.title, second.timing) == ("B", *terms.values())
    assert [option.name for option in second.options.all()] == ["Composite boards", "Take the old dock away"]
    assert [option.amount for option in second.options.all()] == [None, None]


@pytest.mark.parametrize(("length_in", "kept"), [(192.0, "Typed by hand."), (240.0, "")])
def test_it_carries_words_about_the_dock_only_while_it_is_the_same_dock(owner, no_press, length_in, kept):
    first = sent(owner, scope="Typed by hand.")
    second = revised(first, by=owner, spec=longer(straight(), length_in) if length_in != 192.0 else None)
    assert second.scope == kept


def test_it_replaces_options_in_order_and_leaves_them_when_told_nothing(owner):
    quote = drafted(owner, options=[COMPOSITE, BUMPER, OLD_DOCK])
    saved = services.save_draft(quote, seen_version=quote.version, changes={}, options=[OLD_DOCK, BUMPER], by=owner)
    assert [option.name for option in saved.options.all()] == ["Take the old dock away", "Bumper strip"]
    again = services.save_draft(saved, seen_version=saved.version, changes={"timing": "May"}, options=None, by=owner)
    assert again.options.count() == 2


def test_it_saves_nothing_twice(owner):
    quote = drafted(owner, options=[OLD_DOCK])
    entries = ChangeLog.objects.count()
    same = services.save_draft(
        quote, seen_version=quote.version, changes={"title": quote.title}, options=[OLD_DOCK], by=owner
    )
    assert (same.version, ChangeLog.objects.count()) == (quote.version, entries)


def test_it_tells_who_saved_first_also_when_only_the_options_differ(owner):
    quote = drafted(owner)
    services.save_draft(quote, seen_version=1, changes={}, options=[OLD_DOCK], by=owner)
    with pytest.raises(ChangedMeanwhile) as late:
        services.save_draft(quote, seen_version=1, changes={"timing": "May"}, options=[BUMPER], by=owner)
    (difference,) = late.value.differences
    assert (difference.before, difference.theirs, difference.yours) == (
        "none",
        "Take the old dock away, 380.00",
        "Bumper strip",
    )
    assert (late.value.by_name, difference.clash) == (owner.name, True)
    assert not QuoteOption.objects.filter(name="Bumper strip").exists()
