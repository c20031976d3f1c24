"""The pages: who sees what, what is typed is kept, and a second click makes nothing twice."""

import re
from datetime import date
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from contractor.company.once import new_key
from estimating.catalogue import services
from estimating.catalogue.models import Import, Item, JointRule, LabourRate, Price, StandingChoices, Supplier
from estimating.catalogue.services import ItemDraft
from tests.people import browser_of

from .conftest import price

pytestmark = pytest.mark.django_db
DENIED_TO_CREW = [
    "choose_kind",
    "retired",
    "suppliers",
    "new_supplier",
    "new_rule",
    "standing",
    "labour",
    "imports",
    "start",
]


@pytest.fixture
def browsers(people):
    return {role: browser_of(somebody) for role, somebody in people.items()}


@pytest.fixture
def office(people):
    return browser_of(people["office"])


def page(browser, name: str, *args, **query) -> str:
    answer = browser.get(reverse(f"catalogue:{name}", args=args), query)
    assert answer.status_code == 200, name
    return answer.content.decode()


def text_of(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def item(code: str) -> Item:
    return Item.objects.get(code=code)


def all_pages() -> list[tuple[str, list]]:
    some, rule = item("2x8"), JointRule.objects.first()
    priced, supplier = Price.objects.first(), Supplier.objects.first()
    return [
        ("items", []),
        ("joints", []),
        ("item", [some.pk]),
        ("item", [item("float-24x48x16").pk]),
        *((name, []) for name in DENIED_TO_CREW),
        ("edit_item", [some.pk]),
        ("retire_item", [some.pk]),
        ("strike_price", [priced.pk]),
        ("supplier", [supplier.pk]),
        ("rule", [rule.pk]),
        ("drop_rule", [rule.pk]),
        *(("new_item", [kind]) for kind in ("lumber", "decking", "float", "hardware", "chain", "anchor", "ramp")),
    ]


def test_it_opens_every_page_with_one_heading(starter, yard, office):
    for name, args in all_pages():
        assert page(office, name, *args).count("<h1") == 1, name


def test_it_opens_the_pages_of_an_empty_catalogue(office):
    for name in ["items", "joints", *DENIED_TO_CREW]:
        page(office, name)


@pytest.mark.parametrize("role", ["crew_lead", "crew"])
def test_it_shows_the_crew_items_and_joints_without_any_money(starter, yard, owner, browsers, role):
    services.add_price(item("nut"), price("987.65", date(2026, 11, 3)), supplier=yard, by=owner)
    amounts = {f"{each.amount:,.2f}" for each in Price.objects.all()} | {"987.65", "Millpond Lumber", "USD"}
    for name, args in (("items", []), ("item", [item("nut").pk]), ("item", [item("2x8").pk]), ("joints", [])):
        said = text_of(page(browsers[role], name, *args))
        assert not [amount for amount in amounts if re.search(rf"(?<![\d.]){re.escape(amount)}(?!\d)", said)], name
        assert "rice" not in said.replace("Carriage", ""), name
    for name in DENIED_TO_CREW:
        assert browsers[role].get(reverse(f"catalogue:{name}")).status_code == 403, name


@pytest.mark.parametrize("role", ["crew_lead", "crew"])
def test_it_lets_the_crew_change_nothing(starter, yard, browsers, role):
    for name, args in all_pages():
        if name not in ("items", "item", "joints"):
            address = reverse(f"catalogue:{name}", args=args)
            assert browsers[role].get(address).status_code == 403, name
            assert browsers[role].post(address, {"x": "1"}).status_code == 403, name
    for name, args in (("add_price", [1]), ("take_in", [1]), ("drop_import", [1]), ("export", ["csv"])):
        assert browsers[role].post(reverse(f"catalogue:{name}", args=args)).status_code == 403, name


def test_it_finds_items_by_words_kind_and_look(starter, owner, yard, office):
    services.add_price(item("nut"), price("15.00", timezone.localdate()), supplier=yard, by=owner)
    Price.objects.filter(item__code="lag-4").delete()
    assert "42 items." in text_of(page(office, "items"))
    assert "1 of 42 items." in text_of(page(office, "items", look="none"))
    assert "Lag 3/8 x 4 in" in page(office, "items", look="none")
    assert "40 of 42 items." in text_of(page(office, "items", look="starter"))
    assert "2 of 42 items." in text_of(page(office, "items", kind="ramp"))
    assert "Nothing in the catalogue fits that." in page(office, "items", q="piano")


def test_it_answers_a_search_with_the_list_alone(starter, office):
    answer = office.get(reverse("catalogue:items"), {"q": "nut"}, headers={"HX-Request": "true"})
    assert answer.content.decode().strip().startswith('<div id="found"')


def test_it_asks_as_few_questions_of_a_large_catalogue_as_of_a_small_one(
    starter, owner, office, django_assert_max_num_queries
):
    facts = {"name": "Plate", "use_unit": "each"}
    for number in range(30):
        services.make_item(ItemDraft("hardware", facts, code=f"plate-{number}"), by=owner)
    with django_assert_max_num_queries(14):
        page(office, "items")


# What is typed


def lumber_form(**changes) -> dict[str, str]:
    typed = {
        "once": new_key(),
        "code": "2x10",
        "name": "2x10 treated",
        "nominal": "2x10",
        "thickness_in": "1 1/2",
        "width_in": "9.25",
        "wet_lb_per_ft": "5.8",
        "seasoned_lb_per_ft": "3.6",
        "sticks": "8, 12, 16' 0\"",
        "waste_percent": "5",
    }
    return typed | changes


def test_it_makes_lumber_as_it_was_typed(office):
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), lumber_form())
    made = item("2x10")
    assert answer.headers["Location"] == made.get_absolute_url()
    assert (made.thickness_in, made.width_in, made.waste_percent) == (1.5, 9.25, Decimal(5))
    assert [stick.length_in for stick in made.sticks.all()] == [96.0, 144.0, 192.0]


def test_it_keeps_what_was_typed_and_says_what_is_wrong_at_each_box(office):
    typed = lumber_form(width_in="wide", sticks="8, eighty", wet_lb_per_ft="", name="", notes="keep me")
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    html = answer.content.decode()
    assert answer.status_code == 422
    for words in ("wide", "8, eighty", "keep me", "2x10"):
        assert words in html
    assert set(answer.context["form"].errors) == {"name", "width_in", "sticks"}
    assert not Item.objects.exists()


def test_it_says_at_its_box_what_does_not_go_together(office):
    answer = office.post(reverse("catalogue:new_item", args=["lumber"]), lumber_form(seasoned_lb_per_ft="9"))
    assert answer.status_code == 422
    assert "not heavier than wet" in answer.context["form"].errors["seasoned_lb_per_ft"][0]


def test_it_makes_one_item_of_a_double_click(office):
    typed = lumber_form()
    first = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    second = office.post(reverse("catalogue:new_item", args=["lumber"]), typed)
    assert first.headers["Location"] == second.headers["Location"]
    assert Item.objects.count() == 1


def float_form(browser, thing: Item, **changes) -> dict[str, str]:
    """The boxes of the page as a browser would send them back."""
    context = browser.get(reverse("catalogue:edit_item", args=[thing.pk])).context
    typed = {"version": str(thing.version)}
    for form in (context["form"], context["lines"].management_form, *context["lines"].forms):
        for box in form:
            value = box.value()
            typed[box.html_name] = "" if value is None else value
    return {name: value for name, value in typed.items() if value not in (None, [])} | changes


def test_it_saves_a_page_sent_back_untouched_without_a_change(starter, office):
    thing = item("float-24x48x16")
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), float_form(office, thing))
    thing.refresh_from_db()
    assert (answer.status_code, thing.version) == (303, 1)


def test_it_tells_the_later_of_two_what_the_first_changed_and_loses_nothing(starter, owner, office):
    thing = item("float-24x48x16")
    typed = float_form(office, thing, weight_lb="48 lb", shelf="F2")
    services.change_item(thing, ItemDraft("float", {"weight_lb": 50.0}), seen_version=1, by=owner)
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    said = text_of(answer.content.decode())
    assert answer.status_code == 409
    assert "Oona Vance saved this" in said
    assert "Own weight 46 lb 50 lb 48 lb" in said
    assert 'value="F2"' in answer.content.decode()
    settle = typed | {"version": "2", "stands": "theirs", "theirs": "weight_lb", "left": ""}
    assert office.post(reverse("catalogue:edit_item", args=[thing.pk]), settle).status_code == 303
    thing.refresh_from_db()
    assert (thing.weight_lb, thing.shelf, thing.version) == (50.0, "F2", 3)


def test_it_refuses_a_fixing_twice_beside_the_list(starter, office):
    thing, nut = item("float-24x48x16"), item("nut")
    typed = float_form(office, thing)
    typed |= {"fix-2-part": nut.pk, "fix-2-quantity": "1", "fix-3-part": nut.pk, "fix-3-quantity": "2"}
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    assert answer.status_code == 422
    assert "Add the counts up" in answer.content.decode()
    assert thing.fixings.count() == 2


def test_it_asks_how_many_of_a_part(starter, office):
    thing = item("float-24x48x16")
    typed = float_form(office, thing) | {"fix-2-part": item("nut").pk, "fix-2-quantity": ""}
    answer = office.post(reverse("catalogue:edit_item", args=[thing.pk]), typed)
    assert answer.status_code == 422
    assert "How many of Nut 1/2 in" in answer.content.decode()


# Prices


def test_it_adds_prices_of_several_lengths_at_once_and_once(joist, yard, office):
    short, long = joist.sticks.order_by("length_in")
    typed = {
        "once": new_key(),
        "supplier": yard.pk,
        "dated": "6 April 2026",
        f"amount_{short.pk}": "12",
        f"amount_{long.pk}": "",
    }
    for _ in range(2):
        answer = office.post(reverse("catalogue:add_price", args=[joist.pk]), typed)
        assert answer.status_code == 303
    added = Price.objects.get()
    assert (added.stick, added.amount, added.currency, added.dated) == (
        short,
        Decimal("12.00"),
        "USD",
        date(2026, 4, 6),
    )


@pytest.mark.parametrize(
    ("typed", "box"),
    [
        ({"amount": ""}, "amount"),
        ({"amount": "free"}, "amount"),
        ({"amount": "-3"}, "amount"),
        ({"amount": "3", "dated": "someday"}, "dated"),
        ({"amount": "3", "dated": "6 April 2062"}, "dated"),
        ({"amount": "3", "dated": "6 April 2026", "valid_until": "1 April 2026"}, "valid_until"),
    ],
)
def test_it_keeps_a_price_it_refuses_in_its_box(plate, office, typed, box):
    typed = {"once": new_key(), "dated": "6 April 2026", "note": "spring list", **typed}
    answer = office.post(reverse("catalogue:add_price", args=[plate.pk]), typed)
    assert answer.status_code == 422
    assert box in answer.context["form"].errors
    assert 'value="spring list"' in answer.content.decode()
    assert not Price.objects.exists()


def test_it_shows_prices_over_time_in_a_drawing_that_says_them(plate, yard, mill, owner, office):
    for supplier, amount, day in ((yard, "17.00", 1), (yard, "18.50", 20), (mill, "16.00", 10)):
        services.add_price(plate, price(amount, date(2026, 3, day)), supplier=supplier, by=owner)
    html = page(office, "item", plate.pk)
    drawings = re.findall(r"<svg class=\"dwg.*?</svg>", html, re.DOTALL)
    assert len(drawings) == 2
    said = ElementTree.fromstring(drawings[0]).find("desc").text
    assert said == "Millpond Lumber: 17.00 on 1 March 2026, 18.50 on 20 March 2026; North Mill: 16.00 on 10 March 2026"


def test_it_strikes_a_price_out_and_keeps_it_readable(plate, yard, owner, office):
    wrong = services.add_price(plate, price("170.00", date(2026, 3, 1)), supplier=yard, by=owner)
    address = reverse("catalogue:strike_price", args=[wrong.pk])
    assert office.post(address, {"reason": ""}).status_code == 422
    assert office.post(address, {"reason": "a slip"}).status_code == 303
    assert "<s>170.00</s>" in page(office, "item", plate.pk)
    assert office.get(address).status_code == 404


# Rules, hours, suppliers, the first visit


def test_it_says_the_joint_rules_as_sentences(starter, office):
    said = text_of(page(office, "joints")).replace("\u00a0", " ")
    assert (
        "Docks over 12′ 0″: 1 × inside corner plate; 1 × outside corner plate; "
        "8 × carriage bolt 1/2 x 2-1/2 in, hot-dip galvanized." in said
    )


def test_it_changes_a_joint_rule(starter, office):
    rule = JointRule.objects.get(place="tee")
    plate, backer, washer = item("tee-plate"), item("backer"), item("lock-washer")
    typed = {"version": "1", "place": "tee", "name": "Tee", "bolts": "4", "bolt": item("bolt-6").pk}
    typed |= {"joint-TOTAL_FORMS": "3", "joint-INITIAL_FORMS": "2", "bolt-TOTAL_FORMS": "1", "bolt-INITIAL_FORMS": "0"}
    typed |= {"joint-0-part": plate.pk, "joint-0-quantity": "1", "joint-1-part": backer.pk, "joint-1-quantity": "2"}
    typed |= {"bolt-0-part": washer.pk, "bolt-0-quantity": "1"}
    assert office.post(reverse("catalogue:rule", args=[rule.pk]), typed).status_code == 303
    kept = [(part.item.code, part.quantity, part.per_bolt) for part in rule.parts.all()]
    assert kept == [("tee-plate", 1, False), ("backer", 2, False), ("lock-washer", 1, True)]
    assert office.post(reverse("catalogue:rule", args=[rule.pk]), typed | {"bolts": "6"}).status_code == 409


def test_it_saves_only_the_hours_that_were_touched(starter, owner, office):
    form = office.get(reverse("catalogue:labour")).context["form"]
    typed = {box.html_name: str(box.value()) for box in form}
    floats, decking = LabourRate.objects.get(code="float"), LabourRate.objects.get(code="decking")
    services.save_labour(rates={floats: (1, Decimal("0.5"))}, factors={}, by=owner)
    answer = office.post(reverse("catalogue:labour"), typed | {f"rate_{decking.pk}": "0.07"})
    assert answer.status_code == 303
    for rate in (floats, decking):
        rate.refresh_from_db()
    assert (floats.hours_per_unit, decking.hours_per_unit) == (Decimal("0.5"), Decimal("0.07"))
    assert (decking.source, LabourRate.objects.get(code="float").source) == ("FIRM", "FIRM")
    again = office.post(reverse("catalogue:labour"), typed | {f"rate_{floats.pk}": "0.6"})
    assert again.status_code == 409
    assert "Place and lag floats: 0.5 h per float" in again.content.decode()


def test_it_saves_the_usual_choices(starter, office):
    context = office.get(reverse("catalogue:standing")).context
    typed = {box.html_name: box.form[box.name].value() for box in context["form"]}
    typed = {name: value for name, value in typed.items() if value not in (None, False)}
    typed |= {"version": "2", "stringer": item("2x10").pk, "stale_after_days": "45", "gap_in": "1/4"}
    assert office.post(reverse("catalogue:standing"), typed).status_code == 303
    row = StandingChoices.objects.get()
    assert (row.stringer.code, row.stale_after_days, row.gap_in) == ("2x10", 45, 0.25)
    answer = office.post(reverse("catalogue:standing"), typed | {"gap_in": "30"})
    assert (answer.status_code, "gap_in" in answer.context["form"].errors) == (422, True)


def test_it_refuses_a_second_supplier_of_one_name(yard, office):
    typed = {"once": new_key(), "name": "millpond  lumber", "phone": "555 0100"}
    answer = office.post(reverse("catalogue:new_supplier"), typed)
    assert answer.status_code == 422
    assert 'value="555 0100"' in answer.content.decode()
    assert Supplier.objects.count() == 1


@pytest.mark.parametrize(("way", "items"), [("starter", 42), ("import", 0), ("empty", 0)])
def test_it_begins_the_catalogue_in_one_of_three_ways(office, way, items):
    for _ in range(2):
        assert office.post(reverse("catalogue:start"), {"way": way}).status_code == 303
    assert (Item.objects.count(), LabourRate.objects.count()) == (items, 14)


# Files


def send(browser, content: bytes, name: str = "list.csv"):
    return browser.post(reverse("catalogue:imports"), {"file": SimpleUploadedFile(name, content)})


def test_it_takes_a_price_list_in_after_a_look(plate, office):
    content = b"code;supplier;price;currency;dated\r\ninside-corner;B\xf6rje & Co;19,50;USD;6 Apr 2026\r\n"
    address = send(office, content).headers["Location"]
    shown = office.get(address)
    said = text_of(shown.content.decode())
    assert "1 price added, 1 new supplier." in said
    assert "Börje &amp; Co" in said
    assert not Price.objects.exists()
    upload = Import.objects.get()
    for _ in range(2):
        office.post(reverse("catalogue:take_in", args=[upload.pk]), {"seen": shown.context["seen"]})
    assert Price.objects.get().amount == Decimal("19.50")
    assert "1 price added" in page(office, "import", upload.pk)


def test_it_lists_the_bad_cells_and_offers_no_button(plate, office):
    address = send(office, b"code,price,currency,dated\ninside-corner,free,USD,2026-04-06\n").headers["Location"]
    html = office.get(address).content.decode()
    said = text_of(html)
    assert "1 cell can’t be taken in" in said
    assert "2 B price free" in said.replace("Row ", "")
    assert "Take it in" not in said


def test_it_shows_the_file_again_when_the_catalogue_changed_meanwhile(plate, owner, office):
    address = send(office, b"code,price,currency,dated\ninside-corner,19,USD,2026-04-06\n").headers["Location"]
    seen = office.get(address).context["seen"]
    services.change_item(plate, ItemDraft("hardware", {"shelf": "B3"}), seen_version=1, by=owner)
    answer = office.post(reverse("catalogue:take_in", args=[Import.objects.get().pk]), {"seen": seen})
    assert answer.status_code == 409
    assert "Somebody changed the catalogue" in answer.content.decode()
    assert "Take it in" in answer.content.decode()
    assert not Price.objects.exists()


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [(b"", "a.csv", "empty"), (b"PK\x03\x04", "a.xlsx", "damaged"), (b"x\x00", "a.csv", "not a text")],
)
def test_it_says_at_the_box_why_a_file_is_no_table(office, content, name, said):
    answer = send(office, content, name)
    assert answer.status_code == 422
    assert said in answer.context["form"].errors["file"][0]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_it_hands_out_a_template_that_reads_as_headings_only(office, ending):
    answer = office.get(reverse("catalogue:template", args=[ending]))
    assert f'filename="catalogue-template.{ending}"' in answer.headers["Content-Disposition"]
    upload = services.keep_upload(file_name=f"a.{ending}", content=answer.content, by=browser_owner())
    assert [cell.sentence for cell in services.plan_of(upload).bad_cells] == [
        "There are headings, but no rows below them."
    ]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_it_hands_out_the_catalogue_which_comes_back_unchanged(starter, owner, office, ending):
    content = office.get(reverse("catalogue:export", args=[ending]), {"history": "yes"}).content
    upload = services.keep_upload(file_name=f"a.{ending}", content=content, by=owner)
    assert "Nothing changes: 42 items and 79 prices" in text_of(page(office, "import", upload.pk))


def browser_owner():
    from contractor.company.models import Staff

    return Staff.objects.get(role="owner")
