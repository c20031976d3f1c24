"""The quote's pages: typed on the left, worked out beside it, kept and sent by one form."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from contractor.company.models import Role, Staff
from contractor.csp import UPLOAD_POLICY
from estimating.catalogue.models import Price, StandingChoices
from estimating.quotes import services
from estimating.quotes.forms import OptionFormSet, TermsForm, options_of, terms_of
from estimating.quotes.models import Quote
from jobs.records import services as records
from tests.people import browser_of, person
from tests.quotes.making import COMPOSITE, OLD_DOCK, THIN_BOARDS, drafted, longer, revised, sent, straight, today
from tests.quotes.reading import words

pytestmark = pytest.mark.usefixtures("no_press")
HTMX = {"HX-Request": "true"}
PAGES = ("quote", "preview", "send", "revise", "drop", "accept", "refuse", "customer_pdf", "shop_pdf", "signed_page")


@pytest.fixture
def desk(owner: Staff) -> Client:
    return browser_of(owner)


def form_of(quote: Quote, **typed) -> dict[str, str]:
    """What the page's form posts, with some boxes typed over."""
    quote = Quote.objects.get(pk=quote.pk)
    terms = TermsForm(initial=terms_of(quote), usual_tax="", certificate="")
    posted = {name: terms[name].value() for name in terms.fields}
    rows = options_of(quote)
    posted |= {f"option-{n}-{name}": value for n, row in enumerate(rows) for name, value in row.items()}
    total = len(rows) + OptionFormSet.extra
    posted |= {"option-TOTAL_FORMS": total, "option-INITIAL_FORMS": len(rows), "version": quote.version}
    posted |= {"seen": services.work_out(quote, on=today()).mark, **typed}
    return {name: str(value) for name, value in posted.items() if value is not None}


def at(name: str, quote: Quote) -> str:
    return reverse(f"quotes:{name}", args=[quote.pk])


def slot(answer: str, box: str) -> str:
    """What an answer puts at a box."""
    return words(answer.partition(f'id="id_{box}_fault" hx-swap-oob="true">')[2].partition("</div>")[0])


@pytest.mark.page
def test_it_shows_no_quote_to_the_crew(owner):
    draft, out = drafted(owner), sent(owner)
    addresses = [at(name, quote) for quote in (draft, out) for name in PAGES] + [reverse("quotes:quotes")]
    for role in (Role.CREW, Role.CREW_LEAD):
        crew = browser_of(person(role))
        assert {crew.get(address).status_code for address in addresses} == {403}
        assert {crew.post(address).status_code for address in addresses} == {403}
        assert b"Quotes" not in crew.get("/").content
    for role in (Role.OWNER, Role.OFFICE):
        office = browser_of(person(role))
        assert [office.get(at(name, draft)).status_code for name in ("quote", "drop")] == [200, 200]
        assert b'href="/quotes/"' in office.get("/").content


def test_it_lists_quotes_by_what_they_wait_for(owner, desk):
    draft = drafted(owner)
    out, gone = sent(owner), sent(owner)
    Quote.objects.filter(pk=gone.pk).update(valid_until=today() - timedelta(days=1))
    refused = services.refuse_quote(sent(owner), reason="Too dear", on=today(), by=owner)
    page = words(desk.get(reverse("quotes:quotes")).content.decode())
    order = ["Run out, not answered", gone, "Waiting for a signature", out, "Not sent yet", draft, "Answered", refused]
    places = [page.index(one if isinstance(one, str) else f"{one.job.number} {one.letter}") for one in order]
    assert places == sorted(places) and "Too dear" in page


@pytest.mark.page
def test_it_shows_both_copies_of_a_draft(owner, desk):
    quote = drafted(owner, options=[COMPOSITE, THIN_BOARDS])
    page = words(desk.get(at("quote", quote)).content.decode())
    worked = services.work_out(quote, on=today())
    for said in ("Break-even", "floor for this shop", "What the customer reads", f"{worked.total:,.2f}"):
        assert said in page
    assert "Instead of 2×6 treated deck board, one of these:" in page


@pytest.mark.page
def test_it_works_out_what_is_typed_and_keeps_nothing(owner, desk):
    quote = drafted(owner)
    typed = form_of(quote, margin_percent="30", title="Typed title")
    answer = desk.post(at("preview", quote), typed, headers=HTMX)
    quote.margin_percent = Decimal(30)
    price = f"{services.work_out(quote, on=today()).total:,.2f}"
    said = answer.content.decode()
    assert answer.status_code == 200 and "<html" not in said
    assert f'<dd id="pays" hx-swap-oob="true">{price}' in said and "Typed title" in said
    assert Quote.objects.get().margin_percent == 15


@pytest.mark.page
def test_it_puts_what_is_wrong_at_its_box_and_leaves_the_figures(owner, desk):
    quote = drafted(owner)
    answer = desk.post(at("preview", quote), form_of(quote, margin_percent="lots", title=""), headers=HTMX)
    said = answer.content.decode()
    assert (answer.status_code, answer["HX-Retarget"]) == (422, "#troubles")
    assert "2 boxes need another look" in words(said) and 'id="worked"' not in said
    assert slot(said, "margin_percent") == "“lots” is not a percentage. Type one like 12 or 12.5."
    assert slot(said, "valid_until") == ""
    cured = desk.post(at("preview", quote), form_of(quote, margin_percent="12"), headers=HTMX).content.decode()
    assert slot(cured, "margin_percent") == ""
    assert '<div id="troubles" hx-swap-oob="true"></div>' in cured


@pytest.mark.parametrize(("typed", "status"), [({"margin_percent": "30"}, 200), ({"margin_percent": "lots"}, 422)])
@pytest.mark.page
def test_it_works_as_a_plain_form(owner, desk, typed, status):
    quote = drafted(owner)
    services.save_draft(quote, seen_version=1, changes={"timing": "By somebody else"}, options=None, by=owner)
    answer = desk.post(at("preview", quote), form_of(quote, **typed, title="Not kept yet", version=1))
    page = answer.content.decode()
    assert answer.status_code == status and "<html" in page
    assert 'value="Not kept yet"' in page and f'value="{typed["margin_percent"]}"' in page
    assert '<input type="hidden" name="version" value="1">' in page  # still the one that was read, so still stale
    assert Quote.objects.get().title != "Not kept yet"


WRONG_TERMS = (
    ({"margin_percent": "96"}, "margin_percent", "Between 0% and 95%; you typed 96."),
    ({"margin_percent": "-4"}, "margin_percent", "Between 0% and 95%; you typed -4."),
    ({"valid_until": "1 May 2020"}, "valid_until", "That day has gone by. Type a later one."),
    ({"valid_until": "soon"}, "valid_until", "“soon” is not a day."),
    ({"tax_mode": "whole_price"}, "tax_reason", "Say why this job is not taxed in the shop’s usual way."),
    ({"tax_mode": "exempt"}, "tax_mode", "No certificate is on record."),
    ({"title": ""}, "title", "Fill this in."),
    ({"option-0-name": "Old dock"}, "option-0-typed_amount", "Type the amount, below zero if it takes"),
    ({"option-0-typed_amount": "380"}, "option-0-name", "Name this option, or clear the row."),
    ({"option-0-name": "Old dock", "option-0-typed_amount": "a lot"}, "option-0-typed_amount", "is not an amount"),
)


@pytest.mark.page
def test_it_refuses_bad_input_at_its_box_and_keeps_what_was_typed(owner, desk):
    quote = drafted(owner)
    fine = form_of(quote, timing="Typed and not lost")
    for typed, box, said in WRONG_TERMS:
        answer = desk.post(at("quote", quote), fine | typed)
        page = answer.content.decode()
        at_box = words(page[page.index(f'id="id_{box}_fault"') :][:900])
        assert answer.status_code == 422 and said in at_box, (box, at_box)
        assert "Typed and not lost" in page
    assert Quote.objects.get().version == 1


def test_it_keeps_terms_and_options(owner, desk):
    quote = drafted(owner, options=[OLD_DOCK])
    typed = form_of(
        quote,
        margin_percent="22,5",
        rounding_step="50",
        **{
            "option-0-typed_amount": "420",
            "option-1-choice": "swap:deck-2x6>deck-composite",
            "option-2-choice": "add:bumper",
            "option-2-quantity": "2",
            "option-2-name": "Two bumpers",
        },
    )
    answer = desk.post(at("quote", quote), typed)
    assert (answer.status_code, answer["Location"]) == (303, quote.get_absolute_url())
    kept = Quote.objects.get()
    assert (kept.margin_percent, kept.rounding_step) == (Decimal("22.5"), 50)
    assert [(o.name, o.kind, o.change, o.typed_amount) for o in kept.options.all()] == [
        ("Take the old dock away", "sum", {}, Decimal(420)),
        (
            "Composite deck board, 1×5-1/2 instead of 2×6 treated deck board",
            "swap",
            {"from": "deck-2x6", "to": "deck-composite"},
            None,
        ),
        ("Two bumpers", "add", {"item": "bumper", "quantity": 2}, None),
    ]


def test_it_takes_an_option_out(owner, desk):
    quote = drafted(owner, options=[OLD_DOCK, COMPOSITE])
    desk.post(at("quote", quote), form_of(quote, **{"option-0-gone": "on", "option-0-typed_amount": "rubbish"}))
    assert [option.name for option in Quote.objects.get().options.all()] == ["Composite boards"]


@pytest.mark.page
def test_it_keeps_a_row_whose_material_left_the_dock(owner, desk):
    quote = drafted(owner, options=[COMPOSITE])
    document = quote.spec_document
    document["sections"][0]["decking"] = {"board": "deck-5/4x6"}
    Quote.objects.update(spec_document=document)
    assert desk.post(at("quote", quote), form_of(quote)).status_code == 303
    page = words(desk.get(at("quote", quote)).content.decode())
    assert "Option “Composite boards”: the dock no longer has what it takes the place of." in page


def test_it_tells_the_later_of_two_and_loses_neither(owner, desk):
    quote = drafted(owner)
    mine = form_of(quote, title="Mine", timing="In May")
    oona = person(Role.OFFICE)
    changes = {"title": "Theirs", "margin_percent": Decimal(20)}
    services.save_draft(quote, seen_version=1, changes=changes, options=[OLD_DOCK], by=oona)
    answer = desk.post(at("quote", quote), mine)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Oona Tarrant saved this" in words(page) and 'value="Mine"' in page and "In May" in page
    assert "Take the old dock away, 380.00" in words(page)
    settling = {**mine, "version": "3", "stands": "mine", "theirs": "title,margin_percent,offered"}
    settling["left"] = "margin_percent,offered"
    assert desk.post(at("quote", quote), settling).status_code == 303
    kept = Quote.objects.get()
    assert (kept.title, kept.timing, kept.margin_percent) == ("Mine", "In May", 20)
    assert kept.options.get().name == "Take the old dock away"


def test_it_keeps_and_sends_in_one_go(owner, desk):
    quote = drafted(owner)
    typed = form_of(quote, title="Typed last, sent with it")
    answer = desk.post(at("send", quote), typed)
    assert (answer.status_code, answer["Location"]) == (303, quote.get_absolute_url())
    out = Quote.objects.get()
    assert (out.state, out.title) == ("sent", "Typed last, sent with it")
    assert desk.post(at("send", quote), typed)["Location"] == quote.get_absolute_url()
    assert "Waiting for a signature" in words(desk.get(at("quote", quote)).content.decode())


@pytest.mark.page
def test_it_does_not_send_figures_nobody_saw(owner, desk):
    quote = drafted(owner)
    answer = desk.post(at("send", quote), form_of(quote, margin_percent="30"))
    page = words(answer.content.decode())
    kept = Quote.objects.get()
    assert answer.status_code == 409 and "The figures are not those you last saw." in page
    assert (kept.state, kept.margin_percent) == ("draft", 30)
    assert desk.post(at("send", quote), form_of(quote)).status_code == 303
    assert Quote.objects.get().state == "sent"


@pytest.mark.page
def test_it_sends_nothing_that_is_typed_wrong(owner, desk):
    quote = drafted(owner)
    assert desk.post(at("send", quote), form_of(quote, margin_percent="lots")).status_code == 422
    assert Quote.objects.get().is_draft


@pytest.mark.page
def test_it_says_at_the_box_who_must_agree_below_the_floor(owner, desk):
    quote = drafted(owner, margin_percent=Decimal(1))
    answer = desk.post(at("send", quote), form_of(quote))
    page = words(answer.content.decode())
    assert answer.status_code == 422 and "Say why this price is below the floor." in page
    agreed = form_of(quote, below_floor_by=owner.pk, below_floor_reason="A neighbour")
    assert desk.post(at("send", quote), agreed).status_code == 303


@pytest.mark.page
def test_it_says_what_keeps_it_from_being_worked_out(owner, desk):
    quote = drafted(owner)
    document = {**quote.spec_document, "sections": [{**quote.spec_document["sections"][0], "length_in": 20.0}]}
    Quote.objects.update(spec_document=document)
    posted = {name: value for name, value in form_of(drafted(owner)).items() if name != "seen"} | {"version": "1"}
    for answer in (desk.get(at("quote", quote)), desk.post(at("send", quote), posted)):
        page = words(answer.content.decode())
        assert "Stop." in page and "The quote cannot be worked out until this is put right." in page
    assert desk.get(at("customer_pdf", quote))["Location"] == quote.get_absolute_url()


@pytest.mark.page
def test_it_opens_before_the_catalogue_is_ready(owner, desk):
    quote = drafted(owner)
    StandingChoices.objects.update(board=None)
    page = words(desk.get(at("quote", quote)).content.decode())
    assert "Stop." in page and "Send and freeze" in page


def test_it_hands_out_a_sent_quote_s_papers_as_they_were(owner, desk):
    quote = sent(owner)
    Price.objects.update(amount=Decimal("1.00"))
    for name, kept in (("customer_pdf", quote.customer_pdf), ("shop_pdf", quote.shop_pdf)):
        answer = desk.get(at(name, quote))
        assert (answer.content, answer["Content-Type"]) == (bytes(kept), "application/pdf")
        assert f"{quote.job.number}-A.pdf" in answer["Content-Disposition"]


def test_it_writes_the_next_letter_from_the_newest_spec(owner, desk):
    quote = sent(owner)
    revision = records.next_revision(quote.job.spec_revisions.get(), by=owner)
    records.save_spec(revision, spec=longer(straight(), 240.0), seen_version=1, by=owner)
    first, again = desk.post(at("revise", quote)), desk.post(at("revise", quote))
    draft = Quote.objects.get(letter="B")
    assert first["Location"] == again["Location"] == draft.get_absolute_url()
    assert (draft.spec_letter, draft.spec_document["sections"][0]["length_in"]) == ("B", 240.0)
    page = words(desk.get(draft.get_absolute_url()).content.decode())
    assert "Section A was 6 ft × 16 ft and is 6 ft × 20 ft." in page


def test_it_throws_a_draft_away_after_asking(owner, desk):
    quote = drafted(owner)
    assert "Throw away the draft" in words(desk.get(at("drop", quote)).content.decode())
    services.save_draft(quote, seen_version=1, changes={"timing": "Later"}, options=None, by=owner)
    assert desk.post(at("drop", quote), {"version": "1"}).status_code == 409
    assert desk.post(at("drop", quote), {"version": "2"})["Location"] == quote.job.get_absolute_url()
    assert not Quote.objects.exists()


# What the customer answered


def answer_of(**typed) -> dict:
    return {"name": "Ilse Quarrington", "on": today().isoformat(), "how": "scan", **typed}


def test_it_enters_an_acceptance_with_options_and_the_signed_page(owner, desk, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    quote = sent(owner, options=[COMPOSITE, THIN_BOARDS, OLD_DOCK])
    page = words(desk.get(at("accept", quote)).content.decode())
    assert "Instead of 2×6 treated deck board they took" in page and "Take the old dock away, +380.00" in page
    composite, _, old_dock = quote.options.all()
    scan = SimpleUploadedFile("IMG 1.pdf", b"%PDF-1.7 signed")
    posted = answer_of(taken=[old_dock.pk], among_0=composite.pk, scan=scan)
    assert desk.post(at("accept", quote), posted).status_code == 303
    quote.refresh_from_db()
    assert quote.accepted_total == quote.total + composite.amount + old_dock.amount
    page = words(desk.get(at("quote", quote)).content.decode())
    assert "Accepted by Ilse Quarrington" in page and f"{quote.accepted_total:,.2f}" in page
    assert all(f"{Decimal(one['amount']):,.2f}" in page for one in quote.payments)
    answer = desk.get(at("signed_page", quote))
    assert b"".join(answer.streaming_content) == b"%PDF-1.7 signed"
    assert answer["Content-Disposition"].startswith("attachment;") and answer["Content-Type"] == "application/pdf"
    assert answer["Content-Security-Policy"] == UPLOAD_POLICY and "sandbox" in UPLOAD_POLICY
    assert answer["X-Content-Type-Options"] == "nosniff"


WRONG_ANSWERS = (
    ({"name": ""}, "Fill this in."),
    ({"how": ""}, "Choose one."),
    ({"on": (today() + timedelta(days=1)).isoformat()}, "That day has not come yet."),
    ({"on": (today() - timedelta(days=1)).isoformat()}, "That is before the quote was sent."),
    ({"scan": SimpleUploadedFile("page.pdf", b"<html><script>")}, "This is not a PDF, PNG or JPEG."),
    ({"scan": SimpleUploadedFile("page.svg", b"<svg xmlns='x'>")}, "This is not a PDF, PNG or JPEG."),
    ({"scan": SimpleUploadedFile("page.pdf", b"%PDF-" + b"0" * (10 * 1024 * 1024))}, "larger than 10 MB"),
    ({"among_0": "999999"}, "Select a valid choice"),
)


def test_it_enters_no_acceptance_that_cannot_be(owner, desk):
    quote = sent(owner, options=[COMPOSITE, THIN_BOARDS])
    for typed, said in WRONG_ANSWERS:
        if "scan" in typed:
            typed["scan"].seek(0)
        answer = desk.post(at("accept", quote), answer_of(**typed))
        assert answer.status_code == 422 and said in words(answer.content.decode()), said
    assert Quote.objects.get(pk=quote.pk).state == "sent"


def test_it_lets_a_price_that_ran_out_still_be_taken(owner, desk):
    quote = sent(owner)
    Quote.objects.update(valid_until=today() - timedelta(days=1))
    assert "The price held only until a day gone by." in words(desk.get(at("accept", quote)).content.decode())
    assert desk.post(at("accept", quote), answer_of()).status_code == 303


def test_it_enters_a_no(owner, desk):
    quote = sent(owner)
    assert desk.post(at("refuse", quote), {"on": today().isoformat(), "reason": ""}).status_code == 422
    answer = desk.post(at("refuse", quote), {"on": today().isoformat(), "reason": "Too dear"})
    assert answer.status_code == 303
    assert "Too dear" in words(desk.get(at("quote", quote)).content.decode())
    assert desk.get(at("accept", quote))["Location"] == quote.get_absolute_url()


@pytest.mark.page
def test_it_has_no_answer_page_for_a_draft_and_no_signed_page_without_a_scan(owner, desk):
    draft, out = drafted(owner), sent(owner)
    assert [desk.get(at(name, draft)).status_code for name in ("accept", "refuse")] == [404, 404]
    assert desk.get(at("signed_page", out)).status_code == 404


@pytest.mark.page
def test_it_offers_no_further_letter_once_signed(owner, desk):
    quote = sent(owner)
    services.accept_quote(quote, services.Acceptance("Ilse", today(), "paper"), by=owner)
    assert "a change is a change order" in words(desk.get(at("quote", quote)).content.decode())
    assert desk.post(at("revise", quote))["Location"] == quote.get_absolute_url()
    assert Quote.objects.count() == 1


@pytest.mark.page
def test_it_says_when_a_later_one_took_its_place(owner, desk):
    first = sent(owner)
    second = revised(first, by=owner)
    services.send_quote(second, seen_version=1, by=owner, on=today())
    assert "A later revision took its place." in words(desk.get(at("quote", first)).content.decode())
