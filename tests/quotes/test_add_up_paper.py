"""Whatever the terms, what stands on the paper adds up with a pencil."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from contractor.company.models import Staff, TaxRate
from contractor.money import to_cents
from estimating.quotes import services
from estimating.quotes.documents.paper import customer_html
from estimating.quotes.documents.reading import build_up
from estimating.quotes.documents.shop_paper import shop_html
from estimating.quotes.documents.worked import WorkedQuote
from estimating.quotes.models import Quote, TaxMode
from tests.quotes.making import COMPOSITE, OLD_DOCK, THIN_BOARDS, a_job, drafted, today, with_ramp
from tests.quotes.reading import rows

pytestmark = pytest.mark.paper

MARGINS = st.decimals(min_value=0, max_value=95, places=2)
STEPS = st.sampled_from([Decimal(step) for step in (0, 1, 5, 10, 50, 100)])
MODES = st.sampled_from(TaxMode.values)
ANY_TERMS = settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], derandomize=True
)


@pytest.fixture
def taxed(owner: Staff) -> Quote:
    """A draft of an exempt client, so that every tax mode is possible, with two taxes in force."""
    TaxRate.objects.create(name="State tax", percent=Decimal("6.125"), from_date=today())
    TaxRate.objects.create(name="County tax", percent=Decimal("1.375"), from_date=today())
    exempt = {"tax_status": "exempt", "exemption_number": "EX-77"}
    job = a_job(owner, client=exempt)
    return drafted(owner, job=job, spec=with_ramp(), options=[COMPOSITE, THIN_BOARDS, OLD_DOCK])


def worked(quote: Quote, margin: Decimal, step: Decimal, mode: str) -> WorkedQuote:
    quote.margin_percent, quote.rounding_step, quote.tax_mode = margin, step, mode
    return services.work_out(quote, on=today())


@ANY_TERMS
@given(margin=MARGINS, step=STEPS, mode=MODES)
def test_it_adds_up_for_the_customer(taxed, owner, margin, step, mode):
    html = customer_html(worked(taxed, margin, step, mode), changes=[], by=owner)
    *parts, (label, total) = rows(html, "<h2>Price</h2>")
    assert label == "Price in USD" and sum(amount for _, amount in parts) == total
    *payments, (together, paid) = rows(html, "<h2>You pay</h2>")
    assert together == "Together" and paid == total == sum(amount for _, amount in payments)
    composite, thin, old_dock = rows(html, "<h2>Choose if you like</h2>")
    assert old_dock == ("Take the old dock away", Decimal("380.00"))
    assert all(then == total + more for _, more, then in (composite, thin))


@ANY_TERMS
@given(margin=MARGINS, step=STEPS, mode=MODES)
def test_it_adds_up_line_by_line_for_the_shop(taxed, margin, step, mode):
    running = Decimal(0)
    for row in build_up(worked(taxed, margin, step, mode)):
        running += row.line.amount if row.line.kind == "cost" else 0
        assert row.line.kind == "cost" or running == row.line.amount, row.line.name


def test_it_prints_sums_of_what_stands_above_them_for_the_shop(taxed, owner):
    quote = worked(taxed, Decimal("13.37"), Decimal(50), "end_user_and_whole_price")
    html = shop_html(quote, changes=[], by=owner)
    *_, (paid, total) = rows(html, "How the price is built up")
    assert (paid, total) == ("Customer pays price and sales tax", quote.total)
    materials = rows(html, "<h2>Materials</h2>")
    groups = {line.group.capitalize() for line in quote.estimate.takeoff.lines}
    assert sum(amount for name, amount in materials if name in groups) == quote.estimate.takeoff.materials_cost


def test_it_taxes_the_materials_alone_and_shows_them_apart(taxed, owner):
    html = customer_html(worked(taxed, Decimal(20), Decimal(0), "separated_materials"), changes=[], by=owner)
    (materials, price), (work, _), (county, county_tax), (state, state_tax), _ = rows(html, "<h2>Price</h2>")
    assert (materials, work) == (
        "Materials for dock, ramp, anchors and fittings",
        "Delivery, permit and all work",
    )
    assert (county, state) == (f"County tax, 1.375% of {price:,}", f"State tax, 6.125% of {price:,}")
    assert (county_tax, state_tax) == (to_cents(price * Decimal("0.01375")), to_cents(price * Decimal("0.06125")))
