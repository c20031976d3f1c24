"""The quote on paper: two pages for a simple dock, and nothing of the shop's on the customer's copy."""

import re
from decimal import Decimal
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader

from contractor.company.models import Company, Staff
from contractor.money import format_money
from estimating.quotes import services
from estimating.quotes.documents.paper import customer_html, customer_paper
from estimating.quotes.documents.shop_paper import shop_html, shop_paper
from estimating.quotes.documents.worked import WorkedQuote
from jobs.records.services.kept_checks import keep_check
from tests.quotes.making import (
    BUMPER,
    COMPOSITE,
    OLD_DOCK,
    THIN_BOARDS,
    a_job,
    drafted,
    l_shape,
    sent,
    straight,
    swim_platform,
    today,
    twelve_sections,
    with_ramp,
)
from tests.quotes.reading import pages, plain, words

pytestmark = pytest.mark.paper

SIX = [
    COMPOSITE,
    THIN_BOARDS,
    BUMPER,
    OLD_DOCK,
    {"name": "Out this autumn, in next spring", "kind": "sum", "typed_amount": Decimal("1080.00")},
    {"name": "They bring a boat", "kind": "sum", "typed_amount": Decimal("-150.00")},
]
SHOP_WORDS = re.compile(
    r"\b(costs?|margins?|mark-?up|overhead|contingency|break-even|profit|wages?|burden|hours?|h|supplier|mobilization|"
    r"waste|starter|floor|left over|direct)\b",
    re.IGNORECASE,
)
LONG_NAMES = {
    "names": "\n".join(f"{name} Constantinopolous-Featherstonehaugh" for name in ("Maximiliana", "Bartholomew", "Io")),
    "billing_address": "1400 North Constitution Boulevard, Suite 1200\nWest Saint Paul Township\nMN 55118",
}


def worked(owner: Staff, **facts) -> WorkedQuote:
    return services.work_out(drafted(owner, **facts), on=today())


def printed(quote: WorkedQuote, by: Staff, *, size: str = "letter", changes=()) -> list[str]:
    Company.objects.update(paper=size)
    return pages(customer_paper(quote, changes=list(changes), by=by))


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_it_takes_two_pages_for_a_simple_dock(owner, size):
    for spec, options in ((straight(), []), (with_ramp(), [BUMPER, OLD_DOCK]), (swim_platform(), [])):
        quote = worked(owner, spec=spec, options=options)
        first, second = printed(quote, owner, size=size)
        assert first.endswith("page 1 of 2") and second.endswith("page 2 of 2")
        price = format_money(quote.total)
        assert price not in first and second.count(price) >= 3  # row, sum, payments together
        for part in (
            "What you get",
            "At the water’s usual levels (causeway staff)",
            "A floating dock for Long Quillet",
        ):
            assert part in first and part not in second
        for part in ("You pay", "Not in the price", "What we assumed", "Accepted", "Ilse Quarrington, date"):
            assert part in second and part not in first
        assert "How many people" in first + second


def test_it_says_everything_a_quote_must(owner):
    """Contents of a home-improvement quote: the list is common practice, no source."""
    quote = worked(owner, spec=with_ramp(), options=[COMPOSITE, OLD_DOCK])
    first, second = printed(quote, owner)
    for said in (
        "14 Spurling Road, Corriveau Landing, 555 0114",
        "Registration DW-20417. Insured; certificate on request",
        f"Quote {quote.facts.number} A",
        "by Merrit Dowsing",
        "This price holds until",
        "Ilse Quarrington and Tom Quarrington",
        "22 Heron Spit Road, Long Quillet Lake",
        "A timber dock 6 ft wide and 16 ft long, in two sections, on ten floats and two anchors, with a 12 ft ramp "
        "from your concrete pad.",
        "Frame of 2×8 lumber, ground contact",
        "Two concrete anchors 350 lb",
        "Swim ladder, four steps",
        "Cleat 8 in, four of them",
        "inch to the foot at full size. Figures at the corners",
    ):
        assert said in first, said
    for said in (
        "Dock, ramp, anchors, fittings, permit, delivery and all work",
        "Sales tax: none on this quote",
        "Instead of 2×6 treated deck board: Composite boards",
        "Take the old dock away +380.00",
        "On signing",
        "After the defects list",
        "Taking away an old dock",
        "Water levels: low 1.5 ft, normal 3.5 ft, high 4.5 ft on causeway staff.",
        "Bottom: gravel",
        "Two years on frame and work.",
        "You may cancel within three business days",
        "Check on site. Not a substitute for an engineer where one is required.",
        "with the choices ticked above, and have a copy",
        "For Dowsing Dockworks, date",
    ):
        assert said in second or said in first, said


def test_it_gives_nothing_of_the_shop_away(owner):
    quote = worked(owner, spec=with_ramp(), options=[COMPOSITE, BUMPER], below_floor_reason="Kept to ourselves")
    text = " ".join(printed(quote, owner)).replace("overhead wires", "")
    assert not SHOP_WORDS.search(text), SHOP_WORDS.search(text)
    price = quote.estimate.price
    shown = {price.price, price.total, *(one.amount for one in quote.options)}
    shown |= {price.total + one.amount for one in quote.options} | {payment.amount for payment in price.payments}
    inside = {line.amount for line in price.lines} | {line.cost for line in quote.estimate.takeoff.lines}
    inside |= {line.unit_cost for line in quote.estimate.takeoff.lines} | {price.profit, price.floor_price}
    leaked = [format_money(amount) for amount in inside - shown if amount and f" {format_money(amount)} " in text]
    assert leaked == [] and "Kept to ourselves" not in text
    assert len(inside - shown) > 30


@pytest.mark.parametrize(("count", "sheet_count"), [(24, 3), (60, 4)])
def test_it_keeps_price_and_signatures_together_when_it_runs_longer(owner, count, sheet_count):
    many = "\n".join(
        f"Exclusion {n}, said in a few plain words so that nobody is surprised" for n in range(1, count + 1)
    )
    quote = worked(owner, job=a_job(owner, client=LONG_NAMES), spec=with_ramp(), options=SIX, exclusions=many)
    sheets = printed(quote, owner)
    assert len(sheets) == sheet_count
    assert all(f"Exclusion {n}," in " ".join(sheets[1:-1]) for n in range(1, count + 1))
    assert format_money(quote.total) in sheets[-1]
    assert sheets[-1].count("Constantinopolous-Featherstonehaugh, date") == 3
    assert all(option["name"] in sheets[-1] for option in SIX)


def test_it_shows_alternatives_side_by_side(owner):
    quote = worked(owner, spec=l_shape(), options=[COMPOSITE, THIN_BOARDS])
    first, second = printed(quote, owner)
    composite, thin = (one.amount for one in quote.options)
    assert "Instead of 2×6 treated deck board, one of these:" in second
    assert f"then {format_money(quote.total + composite)}" in second
    assert f"then {format_money(quote.total + thin)}" in second
    assert "A timber dock in two sections, 6 ft × 20 ft and 6 ft × 16 ft" in first


def test_it_says_a_large_dock_in_few_words(owner):
    first, *_ = printed(worked(owner, spec=twelve_sections(), options=SIX), owner)
    assert "in twelve sections, eight of 6 ft × 16 ft and four of 4 ft × 12 ft, on" in first
    assert re.search(r"Up to \d+ adults of 175 lb at once, spread out, and not more than \d+ on any one section", first)


def test_it_prints_in_metres_for_a_metric_firm(owner):
    Company.objects.update(units="metric", paper="a4")
    text = " ".join(printed(worked(owner, spec=with_ramp()), owner, size="a4"))
    assert "A timber dock 1.83 m wide and 4.88 m long" in text
    assert "floats, 61 × 122 × 41 cm, 272 kg lift each" in text
    assert re.search(r"Deck above the water \d\d cm", text) and re.search(r"1:\d+ at full size", text)
    catalogue_names = ("350 lb", "5/16 in", "8 in")
    for name in catalogue_names:
        text = text.replace(name, "")
    assert re.findall(r"[\d.]+ (?:ft|lb)\b|[\d.]+ in\b(?! [\d.]+)", text) == []


def test_it_says_no_level_and_no_depth_that_nobody_knows(owner):
    job = a_job(owner)
    job.site.level_range.delete()
    first, second = printed(worked(owner, job=job), owner)
    assert "usual levels" not in first and "Water levels: unknown" in second


def test_it_carries_the_logo(owner):
    from django.core.files.base import ContentFile

    picture = BytesIO()
    Image.new("RGB", (400, 120), "#07565A").save(picture, "PNG")
    Company.objects.get().logo.save("logo.png", ContentFile(picture.getvalue()))
    quote = worked(owner, spec=with_ramp(), options=[BUMPER, OLD_DOCK])
    pdf = PdfReader(BytesIO(customer_paper(quote, changes=[], by=owner)))
    assert len(pdf.pages) == 2 and len(pdf.pages[0].images) == 1
    Company.objects.get().logo.delete()


def test_it_prints_what_a_revision_changes_before_the_drawing(owner):
    quote = worked(owner, spec=with_ramp())
    said = ["The price was 1.00 and is 2.00: 1.00 more.", "Section A is added, 6 ft × 16 ft."]
    first, _ = printed(quote, owner, changes=said)
    assert all(line in first for line in said)
    many = [f"{said[0]} Number {n}." for n in range(1, 25)]
    first, second, *_ = printed(quote, owner, changes=many)
    assert "Number 24." not in first and "Number 24." in second


def test_it_fills_its_first_page_with_the_drawing(owner):
    """The drawing of a 16 ft dock is never smaller than a sixteenth of an inch to the inch of dock would make it."""
    html = customer_html(worked(owner), changes=[], by=owner)
    scale = float(re.search(r'data-scale="([\d.]+)"', html)[1])
    assert scale >= 96 / 12 * 3 / 16  # 3/16 inch to the foot, in CSS pixels to the inch
    tall = re.search(r'padding:(\d+)px 0">', html)
    assert int(tall[1]) < 120


def test_it_prints_the_build_up_in_its_order_for_the_shop(owner):
    quote = worked(owner, spec=with_ramp(), options=[COMPOSITE, OLD_DOCK])
    text = " ".join(pages(shop_paper(quote, changes=["Materials were dearer."], by=owner)))
    at = text.index("How the price is built up")
    for name in ("Materials", "Labour", "Mobilization", "Permit fees", "Direct cost", "Contingency", "Overhead"):
        at = text.index(name, at)
    for name in ("Break-even", "Profit", "Price before rounding", "Rounding", "Customer pays"):
        at = text.index(name, at)
    for line in quote.estimate.takeoff.lines:
        assert line.name in text and format_money(line.cost) in text
    assert "Materials were dearer." in text and "Never for the customer." in text
    assert "Take the old dock away a typed sum +380.00 not known" in text


def test_it_gives_the_shop_hours_that_add_up(owner):
    quote = worked(owner, spec=with_ramp())
    html = shop_html(quote, changes=[], by=owner)
    table = html[html.index("<h2>Hours</h2>") :].partition("</table>")[0]
    hours = [Decimal(found) for found in re.findall(r'<td class="r">(\d+\.\d\d)</td>', table)]
    labour = quote.estimate.labour
    tasks = hours[: len(labour.lines)]
    assert sum(tasks) == labour.net_hours == hours[len(tasks)]
    assert labour.hours in hours and labour.travel_hours in hours


def test_it_gives_the_shop_the_reasons_with_their_steps(owner):
    quote = worked(owner, spec=with_ramp())
    html = shop_html(quote, changes=[], by=owner)
    reasons = words(html[html.index("<h2>Why</h2>") :])
    groups = {line.group.capitalize() for line in quote.estimate.takeoff.lines}
    assert all(f"{group} " in reasons for group in groups)
    assert "Wage 26.00 with 35 % burden." in reasons and "Hours as priced" in reasons


def test_it_prints_for_the_shop_who_keeps_a_check_and_why(owner):
    quote = drafted(owner, spec=straight())
    check = next(found for found in services.work_out(quote, on=today()).estimate.findings if found.level == "check")
    revision = quote.job.spec_revisions.get(letter=quote.spec_letter)
    keep_check(revision, key=check.key, headline=check.headline.say(), reason="They hold it with cables.", by=owner)
    again = services.work_out(quote, on=today())
    assert f"{owner.name}, " in words(shop_html(again, changes=[], by=owner))
    assert "“They hold it with cables.”" in words(shop_html(again, changes=[], by=owner))
    assert "cables" not in customer_html(again, changes=[], by=owner)


def test_it_stays_the_same_to_the_byte_once_sent(owner):
    quote = sent(owner, spec=straight())
    kept = bytes(quote.customer_pdf), bytes(quote.shop_pdf)
    assert kept[0].startswith(b"%PDF-") and kept[1].startswith(b"%PDF-")
    Company.objects.update(name="Another Firm", exclusions="None", paper="a4")
    Staff.objects.filter(pk=owner.pk).update(name="Somebody Else")
    quote.refresh_from_db()
    assert (bytes(quote.customer_pdf), bytes(quote.shop_pdf)) == kept
    assert "Dowsing Dockworks" in plain(pages(kept[0])[0])
