"""The crew's paper, read back from its PDF."""

from collections import Counter
from dataclasses import replace

import pytest
from django.test import Client
from django.utils import timezone

from contractor.company.models import Company, Role, Staff
from estimating.engine.spec import Anchor
from estimating.engine.takeoff import stick_words
from estimating.quotes.documents.speech import trade_name
from estimating.quotes.models import Quote, QuoteState
from jobs.fieldwork import services
from jobs.fieldwork.documents.paper import sheets_pdf
from jobs.fieldwork.models import WorkOrder
from jobs.records.models import Job
from jobs.records.services import next_revision
from jobs.supply.models import Need
from tests.people import browser_of, person, the_firm
from tests.quotes.conftest import no_press  # noqa: F401
from tests.quotes.making import straight, today, with_ramp
from tests.supply.making import signed

from .conftest import built, sheet
from .reading import read

ADDRESS = "https://dock.example"
STAGE_OF = {"Layout": 1, "Framing": 2, "Hand-over": 7}
LABELS = {9.5, 10.0, 10.5, 11.0, 12.0}  # inside boxes, heads of tables, the spine, head and foot


def sheets(orders: list[WorkOrder]):
    return services.sheets_of(orders, address=ADDRESS)


@pytest.mark.paper
def test_it_prints_every_stage_on_its_own_sheet(owner: Staff, lead: Staff):
    job = built(owner, straight())
    orders = services.print_orders(job, stages=["handover", "framing", "layout"], by=owner)
    assert [order.stage for order in orders] == ["layout", "framing", "handover"]
    pages = read(sheets_pdf(sheets(orders)))
    seen = []
    for page in pages:
        assert (page.width, page.height) == (612.0, 792.0)
        [name] = [name for name in STAGE_OF if page.sizes.get(name) == 20.0]
        seen.append(name)
        number = f"{job.number}-{STAGE_OF[name]}"
        assert page.sizes[number] == 34.0 and page.sizes["A"] == 30.0
        assert f"Job {job.number}, {name.lower()}, revision A, printed" in page.text
        assert "If the office has a later revision letter, throw this away." in page.text
        of = seen.count(name)
        assert f"page {of} of {sum(f'{number}' in other.text for other in pages)}" in page.text
        # black on white, nothing off the paper, every letter big enough to read with wet hands
        assert page.colours <= {(0.0, 0.0, 0.0), (1.0, 1.0, 1.0)}
        assert all(28 < x < page.width - 28 and 25 < y < page.height - 20 for _, x, y in page.letters)
        assert {size for size, _, _ in page.letters if size < 14.0} <= LABELS
    assert seen == sorted(seen, key=list(STAGE_OF).index)
    # a plain dock: front and back of one sheet, and one page more for the joint cards
    assert Counter(seen) == {"Layout": 2, "Framing": 3, "Hand-over": 2}
    by_name = {name: [page for page, at in zip(pages, seen, strict=True) if at == name] for name in seen}
    for name, size in (("Framing", 24.0), ("Layout", 20.0)):
        cuts = {line: points for page in by_name[name] for line, points in page.sizes.items() if "15′" in line}
        assert cuts and set(cuts.values()) == {size}
        assert any(points == 21.0 for page in by_name[name] for points, _, _ in page.letters)  # the drawing's figures
    ticks = [box for page in pages for box in page.boxes_mm if box == (8.0, 8.0)]
    assert len(ticks) > 20 and not any(box[0] == box[1] and 3 < box[0] < 7 for page in pages for box in page.boxes_mm)
    text = "\n".join(page.text for page in pages)
    assert "Not sold yet" in text and "Check on site. Not a substitute for an engineer" in text
    assert not any(word in text for word in ("USD", "$", "cost", "price", "margin"))


def test_it_builds_from_what_was_accepted_and_says_so(job: Job, owner: Staff):
    assert services.basis_of(job).sold is False
    revision = job.spec_revisions.get(letter="A")
    Quote.objects.create(
        job=job,
        letter="A",
        state=QuoteState.ACCEPTED,
        spec_letter="A",
        spec_document=revision.document,
        margin_percent=0,
        rounding_step=0,
        tax_mode="exempt",
        valid_until=today(),
        created_by=owner,
        sent_at=timezone.now(),
        total=1,
        figures={},
        customer_pdf=b"paper",
        accepted_on=today(),
        accepted_by_name="Ilse Quarrington",
    )
    next_revision(revision, by=owner)
    basis = services.basis_of(Job.objects.get(pk=job.pk))
    assert (basis.letter, basis.sold) == ("A", True)
    [made] = sheets([sheet(job, "layout", owner)])
    assert made.sold and made.letter == "A"


@pytest.mark.paper
def test_it_asks_on_paper_what_the_page_asks_in_the_same_order(truck: Client, job: Job, owner: Staff):
    for stage in ("layout", "flotation", "anchoring", "handover"):
        order = sheet(job, stage, owner)
        [made] = sheets([order])
        page = truck.get(order.get_absolute_url()).content.decode()
        places = [page.index(f"</span>{blank.title}</h2>") for blank in made.blanks]
        assert places == sorted(places) and [b.number for b in made.blanks] == list(range(1, len(places) + 1))
        assert made.code.startswith("<svg") and order.get_absolute_url() == f"/sheets/{made.number}/A/"


@pytest.mark.paper
def test_it_gives_depth_and_freeboard_for_that_days_level(owner: Staff):
    spec = replace(with_ramp(), anchors=(Anchor("1", "B", "lake-left", depth_in=72.0), Anchor("2", "B", "lake-right")))
    order = sheet(built(owner, spec), "anchoring", owner)
    WorkOrder.objects.filter(pk=order.pk).update(level_in=30.0)  # a foot under normal
    [made] = sheets([WorkOrder.objects.get(pk=order.pk)])
    first, second = made.anchors
    assert first.depth == "5.0\u00a0ft" and second.note == "never sounded: sound it first"
    corners = [blank for blank in made.blanks if blank.kind == "corners"]
    assert len(corners) == 2 and all(box.should.endswith("in") and "/" in box.should for box in corners[0].boxes)
    proof = services.worked_out(order.document, on=today()).estimate.afloat
    wet = proof.case("dead_wet").sections[0].corners[0].freeboard_in
    assert corners[0].boxes[0].should.startswith(f"{wet:.1f}")


def test_it_counts_hardware_once_for_mated_plates(job: Job, owner: Staff):
    [made] = sheets([sheet(job, "framing", owner)])
    design = services.worked_out(job.spec_revisions.get().document, on=today()).estimate.design
    bolts = {row.name: row.count for row in made.goods if row.name.startswith("Carriage bolt")}
    assert sum(map(int, bolts.values())) == design.bolt_count + design.ramp_bolt_count - 8  # 8 hold chain retainers
    lengths = {row.mark: (row.count, row.length) for row in made.pieces}
    assert lengths["a"] == (4, "8′\u00a00″")


@pytest.mark.paper
def test_it_prints_a_metric_firm_metric(owner: Staff):
    the_firm(units="metric", paper="a4")
    job = built(owner)
    page, *_ = pages = read(sheets_pdf(sheets([sheet(job, "layout", owner)])))
    assert (round(page.width), round(page.height)) == (595, 842)
    text = "\n".join(page.text for page in pages)
    assert "2,438\u00a0mm" in text and "should be 3,048" in text.replace("\n", " ").replace("\u00a0", " ")
    assert "′" not in text and " in." not in text
    assert all(28 < x < page.width - 28 for one in pages for _, x, _ in one.letters)


@pytest.mark.paper
def test_it_lists_what_to_load_and_pick(job: Job, owner: Staff):
    load, pick = services.lists_of(job, on=today())
    assert load.lines == tuple(sorted(load.lines, key=lambda line: -line.total_lb))
    assert sum(line.total_lb for line in load.lines) > 700 and load.lines[0].total_lb > 500
    names = [row.name for _, rows in pick.shelves for row in rows]
    assert "Hinge kit, two halves and pin" in names and pick.shelves[-1][0] == "no shelf noted"


@pytest.mark.paper
@pytest.mark.usefixtures("no_press")
def test_it_names_the_sticks_that_were_bought(owner: Staff):
    job = signed(owner, name="Sedgewick", spec=with_ramp()).job
    _, pick = services.lists_of(job, on=today())
    bought = Counter()
    for need in Need.objects.standing().in_full().filter(job=job, stock__length_in__gt=0):
        bought[trade_name(need.stock.item.name), stick_words(need.stock.length_in)] += int(need.quantity)
    picked = Counter()
    for row in (row for _, rows in pick.shelves for row in rows if row.packs.endswith("stick")):
        picked[row.name, row.packs] += int(row.count)
    assert picked == bought and bought
    [order] = services.print_orders(job, stages=["framing"], by=owner)
    [sheet] = services.sheets_of([order], address="dock.example")
    lengths = {words.partition(" stick")[0] for _, words in bought}
    sources = {part.partition(" from ")[2] for row in sheet.pieces for part in row.source.split(", ")}
    assert sources and sources <= lengths


@pytest.mark.paper
def test_it_lets_the_crew_print_and_shows_no_money(job: Job, lead: Staff):
    Company.objects.update(paper="letter")
    for role in (Role.CREW, Role.CREW_LEAD):
        crew = browser_of(person(role))
        page = crew.get(f"/jobs/{job.number}/work-orders/")
        assert page.status_code == 200 and "Not sold" not in page.content.decode()
        sent = crew.post(f"/jobs/{job.number}/work-orders/print/", {"stage": "handover"})
        assert sent.status_code == 303 and sent["Location"] == f"/sheets/{job.number}-7/A.pdf"
    assert crew.get("/sheets/").status_code == 200
    assert crew.post(f"/jobs/{job.number}/work-orders/print/", {"stage": "roofing"}).status_code == 200
    assert WorkOrder.objects.count() == 1
    assert browser_of(None).get(f"/jobs/{job.number}/work-orders/").status_code == 303
