"""A quote that was sent stays exactly as it was sent, whatever changes around it."""

import hashlib
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db.models import F
from django.utils import timezone

from contractor.company import services as firm_services
from contractor.company.models import ChangeLog, Company, PaymentStep, Role, Staff
from contractor.company.versions import ChangedMeanwhile
from estimating.catalogue.models import Item, Price
from estimating.engine.reasons import SpecFaults
from estimating.quotes import services
from estimating.quotes.documents.checks import findings_of
from estimating.quotes.models import Quote
from estimating.quotes.services import sending
from jobs.records import services as records
from tests.people import person
from tests.quotes.making import COMPOSITE, OLD_DOCK, a_job, drafted, longer, revised, sent, straight, today, with_ramp

pytestmark = pytest.mark.usefixtures("quick_press")
FROZEN = (
    "state",
    "total",
    "figures",
    "paper_words",
    "payment_rule",
    "payments",
    "customer_pdf",
    "shop_pdf",
    "customer_pdf_sha256",
    "shop_pdf_sha256",
    "what_changed",
    "spec_document",
    "title",
    "exclusions",
)


def send(quote: Quote, by: Staff, **more) -> Quote:
    return services.send_quote(quote, seen_version=quote.version, by=by, on=today(), **more)


def frozen(quote: Quote) -> dict:
    quote = Quote.objects.get(pk=quote.pk)
    kept = {name: getattr(quote, name) for name in FROZEN}
    kept["customer_pdf"], kept["shop_pdf"] = bytes(quote.customer_pdf), bytes(quote.shop_pdf)
    return kept | {"options": [(o.name, o.amount, o.special_order) for o in quote.options.all()]}


def test_it_keeps_figures_words_and_both_papers(owner):
    quote = sent(owner, spec=with_ramp(), options=[COMPOSITE, OLD_DOCK])
    assert (quote.state, quote.sent_by, quote.version) == ("sent", owner, 3)
    assert str(quote.total) == quote.figures["price"]["total"]
    assert quote.customer_pdf_sha256 == hashlib.sha256(bytes(quote.customer_pdf)).hexdigest()
    assert b"Quote " in bytes(quote.customer_pdf) and b"Shop copy" in bytes(quote.shop_pdf)
    assert sum(Decimal(one["amount"]) for one in quote.payments) == quote.total
    assert all(option.amount is not None for option in quote.options.all())
    assert quote.job.stage == "quoted"
    (entry,) = ChangeLog.objects.about(quote).filter(did="sent")
    assert (entry.by, entry.after["total"]) == (owner, str(quote.total))


def test_it_never_changes_whatever_changes_around_it(owner):
    quote = sent(owner, spec=with_ramp(), options=[COMPOSITE, OLD_DOCK])
    as_sent = frozen(quote)
    job, company = quote.job, Company.objects.get()
    spec = records.next_revision(job.spec_revisions.get(), by=owner)
    records.save_spec(spec, spec=longer(straight(), 240.0), seen_version=spec.version, by=owner)
    Price.objects.update(amount=F("amount") * 2)
    Item.objects.filter(code="deck-2x6").update(name="Renamed board")
    changes = {"name": "Another Firm", "margin_percent": Decimal(40), "wage_per_hour": Decimal(60), "units": "metric"}
    firm_services.save_company(company, seen_version=company.version, changes=changes, by=owner)
    PaymentStep.objects.filter(trigger="signing").update(percent=99)
    records.save_site(job.site, seen_version=job.site.version, changes={"name": "Elsewhere"}, by=owner)
    Staff.objects.filter(pk=owner.pk).update(name="Married Name")
    assert frozen(quote) == as_sent


def test_it_is_sent_once_however_often_it_is_pressed(owner):
    quote = drafted(owner)
    first = send(quote, owner)
    again = services.send_quote(quote, seen_version=quote.version, by=owner, on=today())
    assert (again.pk, again.sent_at) == (first.pk, first.sent_at)
    assert ChangeLog.objects.about(quote).filter(did="sent").count() == 1


def test_it_lets_nobody_change_it_any_more(owner):
    quote = sent(owner)
    with pytest.raises(services.QuoteFrozen):
        services.save_draft(quote, seen_version=quote.version, changes={"title": "New"}, options=None, by=owner)


def test_it_sends_nothing_that_changed_meanwhile(owner):
    quote = drafted(owner)
    services.save_draft(quote, seen_version=1, changes={"margin_percent": Decimal(30)}, options=None, by=owner)
    with pytest.raises(ChangedMeanwhile):
        services.send_quote(quote, seen_version=1, by=owner, on=today())
    assert Quote.objects.get().is_draft


def test_it_sends_nothing_whose_spec_moved_while_the_papers_were_made(owner, monkeypatch):
    quote = drafted(owner)
    spec = quote.job.spec_revisions.get()

    def slow_paper(*args, **kwargs) -> bytes:
        records.save_spec(spec, spec=longer(straight(), 240.0), seen_version=spec.version, by=owner)
        return b"paper of the old spec"

    monkeypatch.setattr(sending, "customer_paper", slow_paper)
    with pytest.raises(ChangedMeanwhile):
        send(quote, owner)
    spec.refresh_from_db()
    assert Quote.objects.get().is_draft and not spec.frozen


def test_it_sends_only_the_figures_that_were_seen(owner):
    quote = drafted(owner, options=[COMPOSITE])
    mark = services.work_out(quote, on=today()).mark
    Price.objects.filter(item__code="deck-composite").update(amount=Decimal("77.00"))
    with pytest.raises(services.NotAsSeen):
        send(quote, owner, seen_mark=mark)
    now = services.work_out(quote, on=today()).mark
    assert now != mark
    assert send(quote, owner, seen_mark=now).state == "sent"


def test_it_stops_for_a_missing_price(owner):
    Price.objects.filter(item__code="deck-2x6").delete()
    with pytest.raises(services.NotReadyToSend) as stopped:
        send(drafted(owner), owner)
    assert any("has no price" in sentence for sentence in stopped.value.sentences)


def test_it_raises_the_faults_of_a_spec_that_cannot_be_built(owner):
    quote = drafted(owner)
    document = {**quote.spec_document, "sections": [{**quote.spec_document["sections"][0], "length_in": 20.0}]}
    Quote.objects.update(spec_document=document)
    with pytest.raises(SpecFaults):
        send(Quote.objects.get(), owner)


def test_it_stops_a_price_that_would_hold_until_a_day_gone_by(owner):
    quote = drafted(owner)
    with pytest.raises(services.NotReadyToSend) as stopped:
        services.send_quote(quote, seen_version=1, by=owner, on=quote.valid_until + timedelta(days=1))
    assert set(stopped.value.fields) == {"valid_until"}


def test_it_wants_an_owner_s_name_and_a_reason_below_the_floor(owner):
    oona = person(Role.OFFICE)
    quote = drafted(owner, margin_percent=Decimal(2))
    with pytest.raises(services.NotReadyToSend) as stopped:
        send(quote, oona)
    assert set(stopped.value.fields) == {"below_floor_by", "below_floor_reason"}
    terms = {"below_floor_by": owner, "below_floor_reason": "A neighbour, work next door."}
    quote = services.save_draft(quote, seen_version=quote.version, changes=terms, options=None, by=oona)
    quote = send(quote, oona)
    entry = ChangeLog.objects.about(quote).get(did="sent")
    agreed = entry.after["below_floor"]
    assert (entry.by, agreed["agreed_by"], agreed["reason"]) == (oona, owner.name, terms["below_floor_reason"])
    assert Decimal(agreed["price"]) < Decimal(agreed["floor"])
    assert b"Agreed by Merrit Dowsing: A neighbour, work next door." in bytes(quote.shop_pdf)
    assert b"floor" not in bytes(quote.customer_pdf).lower()


def certified(owner: Staff, *, days: int | None) -> Quote:
    until = None if days is None else today() + timedelta(days=days)
    exempt = {"tax_status": "exempt", "exemption_number": "EX-77", "exemption_expires": until}
    return drafted(owner, job=a_job(owner, client=exempt))


@pytest.mark.parametrize(
    ("days", "code", "level"),
    [(-1, "certificate_old", "stop"), (3, "certificate_ends", "check"), (None, "certificate_undated", "check")],
)
def test_it_says_when_a_certificate_does_not_outlast_the_price(owner, days, code, level):
    worked = services.work_out(certified(owner, days=days), on=today())
    assert [(one.code, one.level) for one in findings_of(worked) if "certificate" in one.code] == [(code, level)]


def test_it_sends_an_exempt_price_with_the_certificate_on_it(owner):
    quote = send(certified(owner, days=60), owner)
    assert "exempt, certificate EX-77, which holds until" in bytes(quote.customer_pdf).decode().replace("\u00a0", " ")
    assert quote.figures["price"]["sales_taxes"] == []
    with pytest.raises(services.NotReadyToSend):
        send(certified(owner, days=-1), owner)


def test_it_exempts_nobody_without_a_certificate(owner):
    quote = drafted(owner, tax_mode="exempt")
    with pytest.raises(services.NotReadyToSend) as stopped:
        send(quote, owner)
    assert any("no certificate is on record" in sentence for sentence in stopped.value.sentences)


def test_it_taxes_a_job_otherwise_than_the_firm_s_usual_way(owner):
    firm_services.add_tax_rate(name="Lake tax", percent=Decimal(5), from_date=today(), by=owner)
    quote = send(drafted(owner, tax_mode="whole_price", tax_reason="A public body."), owner)
    (tax,) = quote.figures["price"]["sales_taxes"]
    price = Decimal(quote.figures["price"]["price"])
    assert (tax[0], Decimal(tax[3]), quote.total) == ("Lake tax", price * 5 / 100, price * 105 / 100)


def test_it_takes_the_place_of_the_quote_before(owner):
    first = sent(owner)
    second = send(revised(first, by=owner), owner)
    first.refresh_from_db()
    assert (first.state, second.state, second.letter) == ("replaced", "sent", "B")


def test_it_sends_nothing_once_another_was_accepted(owner):
    first = sent(owner)
    second = revised(first, by=owner)
    services.accept_quote(first, services.Acceptance("Ilse Quarrington", today(), "paper"), by=owner)
    with pytest.raises(services.JobIsSigned):
        send(second, owner)
    second.refresh_from_db()
    assert second.is_draft


def test_it_knows_when_a_price_has_run_out(owner):
    quote = sent(owner)
    assert not quote.has_run_out(on=quote.valid_until)
    assert quote.has_run_out(on=quote.valid_until + timedelta(days=1))
    assert list(Quote.objects.run_out(on=quote.valid_until + timedelta(days=1))) == [quote]
    assert list(Quote.objects.waiting_for_signature(on=timezone.localdate())) == [quote]
