"""The cut list of a job on screen and on paper: every piece, in order, alike sticks once, offcuts back to the yard."""

import io
import re
from collections import Counter
from decimal import Decimal
from fractions import Fraction
from uuid import uuid4

import pytest
from pypdf import PdfReader

from contractor.company.models import Company, Role
from estimating.catalogue.models import Item, Price, Stick
from estimating.engine.cutting import Piece, ShopRules, StockLength, plan_cuts
from jobs.records import services as records
from jobs.supply import services
from jobs.supply.documents.cut_list import cut_list, marks_said
from jobs.supply.models import Need
from jobs.supply.services.cutting import NothingToCut, cut_work, sawn_together
from tests.people import browser_of, person
from tests.quotes.making import a_job, straight, today, with_ramp
from tests.supply.making import signed


def item_of(work, code):
    return next(one.plan for one in work.items if one.plan.item == code)


def test_it_groups_alike_sticks_and_counts_marks() -> None:
    pieces = [Piece("a", Fraction(100), "26-001", "A"), Piece("a", Fraction(100), "26-001", "B")]
    pieces += [Piece("d", Fraction(45), "26-001", "A")] * 4
    page = cut_list("2x8", plan_cuts(pieces, [StockLength(Fraction(192), Decimal(9))], ShopRules()))
    [row] = page.rows
    # 192 - 100 - 45 - 45 - 3/8: the third cut frees the last piece.
    assert (row.times, row.stock_in, row.left_in, row.kept) == (2, 192, 1.625, False)
    assert [(cut.length_in, cut.count, cut.marks) for cut in row.cuts] == [
        (100, 1, ("1 × A a", "1 × B a")),
        (45, 2, ("4 × A d",)),
    ]
    assert page.pieces == 6
    assert marks_said(pieces, pooled=True) == ("26-001: 1 × A a", "1 × B a", "4 × A d")


def sticks_of(job) -> Counter:
    """The sticks among a job's goods, by item and length."""
    needs = Need.objects.standing().filter(job=job, stock__length_in__gt=0)
    return Counter({(n.stock.item.code, n.stock.length_in): int(n.quantity) for n in needs.in_full()})


def stick_prices() -> dict:
    return {(s.item.code, s.length_in): s.prices.first().amount for s in Stick.objects.select_related("item")}


@pytest.mark.django_db
@pytest.mark.usefixtures("no_press")
class TestOfJobs:
    @pytest.mark.page
    def test_it_cuts_every_piece_of_the_accepted_dock(self, owner) -> None:
        quote = signed(owner, spec=with_ramp())
        work = cut_work([quote.job], on=today())
        cut = Counter(p.length_in for one in work.items for stick in one.plan.sticks for p in stick.pieces)
        wanted = Counter(Fraction(piece["length_in"]) for piece in quote.figures["pieces"])
        for run in quote.figures["boards"]:
            wanted[Fraction(run["length_in"])] += run["count"]
        assert cut == wanted
        assert work.proven
        assert (work.jobs[0].letter, work.jobs[0].sold) == (quote.spec_letter, True)

    @pytest.mark.page
    def test_it_costs_no_more_to_saw_two_docks_together(self, owner) -> None:
        jobs = [signed(owner, name=name).job for name in ("Quarrington", "Sedgewick")]
        assert sawn_together(jobs[0]) == [jobs[1]]
        alone = sum(cut_work([job], on=today()).cost for job in jobs)
        assert cut_work(jobs, on=today()).cost <= alone

    def test_it_cuts_from_the_sticks_that_were_bought_whatever_they_cost_now(self, owner) -> None:
        job = signed(owner, spec=with_ramp()).job
        bought = sticks_of(job)
        for _ in ("as bought", "at other prices"):
            work = cut_work([job], on=today())
            assert work.bought and all(not one.plan.short and not one.plan.too_long for one in work.items)
            found = Counter()
            for one in work.items:
                for length, count in (*one.plan.to_buy, *one.whole):
                    found[one.plan.item, float(length)] += count
            assert found == bought
            longest = max(length for _, length in bought)
            Price.objects.filter(stick__length_in=longest).update(amount=Decimal("0.01"))
        anew = cut_work([job], on=today(), anew=True)
        assert any(n > bought[one.plan.item, float(length)] for one in anew.items for length, n in one.plan.to_buy)

    def test_it_buys_for_two_docks_together_only_once_that_was_shown(self, owner) -> None:
        jobs = [signed(owner, name=name).job for name in ("Quarrington", "Sedgewick")]
        before = sum((sticks_of(job) for job in jobs), Counter())
        desk = browser_of(person(Role.OFFICE))
        address = f"/jobs/{jobs[0].number}/cut-list/buy/?with={jobs[1].number}"
        assert "Nothing has moved yet" in desk.get(address).content.decode()
        assert sum((sticks_of(job) for job in jobs), Counter()) == before
        for _ in range(2):  # pressed twice, changed once
            assert desk.post(address).status_code == 303
        after, prices = sum((sticks_of(job) for job in jobs), Counter()), stick_prices()
        assert after != before
        assert sum(n * prices[key] for key, n in after.items()) <= sum(n * prices[key] for key, n in before.items())
        assert all(not one.plan.short for one in cut_work(jobs, on=today()).items)
        assert "already" in desk.get(address).content.decode()

    def test_it_takes_offcuts_from_the_yard_unless_the_firm_will_not(self, owner) -> None:
        job = signed(owner).job
        plan = item_of(cut_work([job], on=today()), "2x8")
        before, [shortest, *_] = plan.cost, sorted({p.length_in for s in plan.sticks for p in s.pieces})
        item = Item.objects.get(code="2x8")
        offcut = services.stock_of(item, float(shortest) * 4)
        services.keep_offcut(offcut, count=1, shelf=services.shelf_called("Rack"), by=owner)
        with_offcut = item_of(cut_work([job], on=today()), "2x8")
        assert with_offcut.cost <= before
        Company.objects.update(offcuts_first=False)
        assert item_of(cut_work([job], on=today()), "2x8").from_yard == ()

    def test_it_puts_what_the_saw_left_back_on_the_shelf_by_length(self, owner) -> None:
        job = signed(owner).job
        desk, address = browser_of(person(Role.OFFICE)), f"/jobs/{job.number}/cut-list/sawn/"
        wood = Item.objects.filter(kind="lumber").first()
        taken = services.put_on_shelf(wood, length_in=70.0, quantity=Decimal(2), where=("Rack", "found"), by=owner)
        shown = desk.get(address)
        lines = [f"taken|{wood.pk}|70.0", f"back|{wood.pk}|41.5"]
        typed = {"line": lines, "count-0": "1", "count-1": "3", "shelf": "Rack", "once": str(uuid4())}
        assert shown.status_code == 200 and desk.post(address, {**typed, "count-1": "1.5"}).status_code == 422
        for _ in range(2):  # pressed twice, entered once
            assert desk.post(address, typed).status_code == 303
        assert services.offcuts_on_hand() == [(wood.code, 70.0, 1), (wood.code, 41.5, 3)]
        assert desk.post(address, {**typed, "count-0": "5", "once": str(uuid4())}).status_code == 422
        assert taken.movements.filter(kind="cut", job=job).count() == 1

    @pytest.mark.page
    def test_it_shows_a_page_that_prints_and_keeps_money_from_the_crew(self, owner) -> None:
        job, other = signed(owner, spec=with_ramp()).job, signed(owner, name="Sedgewick").job
        page = browser_of(owner).get(f"/jobs/{job.number}/cut-list/?with={other.number}").content.decode()
        assert page.count("<h1") == 1
        assert f"cut-list.pdf?with={other.number}" in page
        assert "Cut from the sticks that were bought for these jobs" in page
        drawn = records.start_spec(a_job(owner), spec=straight(), by=owner).job
        asked = f"/jobs/{drawn.number}/cut-list/"
        for_office, for_crew = (browser_of(one).get(asked).content.decode() for one in (owner, person(Role.CREW)))
        assert "the least possible" in for_office
        assert "Sticks to buy" not in for_crew and "Sticks to buy" in for_office

    @pytest.mark.page
    def test_it_says_that_there_is_nothing_to_cut_yet(self, owner) -> None:
        job = a_job(owner)
        with pytest.raises(NothingToCut):
            cut_work([job], on=today())
        assert "is not started" in browser_of(owner).get(f"/jobs/{job.number}/cut-list/").content.decode()
        assert browser_of(owner).get(f"/jobs/{job.number}/cut-list.pdf").status_code == 404

    @pytest.mark.paper
    def test_it_prints_lengths_big_enough_to_read_wet(self, owner) -> None:
        job = signed(owner, spec=straight()).job
        answer = browser_of(owner).get(f"/jobs/{job.number}/cut-list.pdf")
        assert answer["Content-Type"] == "application/pdf"
        sizes: dict[str, float] = {}

        def see(text, cm, tm, font, size) -> None:
            for word in re.findall(r"\d+′ \d+[^,]*″", text.replace("\u00a0", " ")):
                sizes[word] = max(sizes.get(word, 0), size * abs(tm[3] or 1) * abs(cm[3] or 1))

        pages = PdfReader(io.BytesIO(answer.content)).pages
        words = "".join(page.extract_text(visitor_text=see) for page in pages)
        assert "Cut list" in words and "page 1 of" in words and job.number in words
        plans = cut_work([job], on=today()).items
        lengths = {p.length_in for one in plans for stick in one.plan.sticks for p in stick.pieces}
        assert sum(size >= 20 for size in sizes.values()) >= len(lengths)
