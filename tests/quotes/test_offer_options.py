"""An option costs what the dock would cost with it, less what it costs without."""

from decimal import Decimal

import pytest

from contractor.company.models import Staff
from estimating.catalogue.models import Price
from estimating.engine.pipeline import estimate
from estimating.quotes import services
from estimating.quotes.documents.checks import findings_of
from tests.quotes.making import BUMPER, COMPOSITE, OLD_DOCK, THIN_BOARDS, drafted, l_shape, straight, today, with_ramp

FLOATS = {"name": "Wider floats", "kind": "swap", "change": {"from": "float-24x48x16", "to": "float-36x48x16"}}


def worked(owner: Staff, *options, spec=None, **terms):
    return services.work_out(drafted(owner, spec=spec, options=options, **terms), on=today())


def test_it_swaps_boards_and_keeps_everything_else(owner):
    quote = worked(owner, COMPOSITE, spec=l_shape())
    (option,) = quote.options
    base, other = quote.estimate.design, option.estimate.design
    assert {run.item for run in other.boards if run.section != "ramp"} == {"deck-composite"}
    assert [piece.length_in for piece in other.pieces] == [piece.length_in for piece in base.pieces]
    assert [(f.item, f.x_in, f.y_in) for f in other.floats] == [(f.item, f.x_in, f.y_in) for f in base.floats]
    assert [(a.item, a.x_in) for a in other.anchors] == [(a.item, a.x_in) for a in base.anchors]


def test_it_prices_a_swap_by_hand(owner):
    """Dearer boards, lighter to launch: materials, hours at 26.00 with 35 %, contingency 5 %, overhead 16.00 an hour.

    The order of the build-up is common practice, no source.
    """
    quote = worked(owner, COMPOSITE, rounding_step=Decimal(0), margin_percent=Decimal(20))
    (option,) = quote.options
    base, other = quote.estimate, option.estimate
    boards = [sum(line.cost for line in one.takeoff.lines if line.group == "decking") for one in (base, other)]
    hours = other.labour.hours - base.labour.hours
    assert other.labour.travel_hours == base.labour.travel_hours
    direct = boards[1] - boards[0] + hours * Decimal("35.10")
    more = direct * Decimal("1.05") + hours * 16
    assert option.amount == pytest.approx(more / Decimal("0.80"), abs=Decimal("0.03"))


def test_it_adds_pieces_with_the_hours_to_fit_them(owner):
    quote = worked(owner, BUMPER, rounding_step=Decimal(0))
    (option,) = quote.options
    added = [line for line in option.estimate.takeoff.lines if line.code == "bumper"]
    assert [line.net for line in added] == [2]
    assert option.estimate.labour.hours > quote.estimate.labour.hours
    assert option.amount == option.estimate.price.total - quote.estimate.price.total > 0


def test_it_takes_a_typed_sum_as_it_is(owner):
    assert worked(owner, OLD_DOCK).options[0].amount == Decimal("380.00")


def test_it_counts_what_a_swap_adds_to_the_goods_ordered_for_the_job(owner):
    quote = worked(owner, FLOATS, COMPOSITE)
    count = len(quote.estimate.design.floats)
    assert quote.special_order == 140 * count  # the starter price of a float
    assert [one.special_order for one in quote.options] == [(190 - 140) * count, 0]


def test_it_puts_two_swaps_of_one_material_together(owner):
    quote = worked(owner, COMPOSITE, BUMPER, THIN_BOARDS, FLOATS)
    assert [(group.instead_of, [one.option.name for one in group.options]) for group in quote.groups] == [
        ("2x6 treated deck board", ["Composite boards", "Thinner boards"]),
        ("", ["Bumper strip"]),
        ("Float 24 x 48 x 16 in", ["Wider floats"]),
    ]


def test_it_stops_an_option_that_changes_nothing(owner):
    gone = {"name": "Cedar", "kind": "swap", "change": {"from": "deck-5/4x6", "to": "deck-composite"}}
    stops = [finding for finding in findings_of(worked(owner, gone)) if finding.level == "stop"]
    assert [(stop.code, "no longer has" in str(stop.headline)) for stop in stops] == [("option_changes_nothing", True)]


def test_it_stops_an_option_that_cannot_be_built_and_prices_the_rest(owner):
    wide = {"name": "Huge floats", "kind": "swap", "change": {"from": "float-24x48x16", "to": "float-48x48x20"}}
    quote = worked(owner, wide, OLD_DOCK)
    stops = [finding for finding in findings_of(quote) if finding.level == "stop"]
    assert stops and all("Huge floats" in str(stop.headline) for stop in stops)
    assert quote.options[1].amount == Decimal("380.00")


def test_it_stops_an_option_without_a_price(owner):
    Price.objects.filter(item__code="deck-composite").delete()
    stops = [finding for finding in findings_of(worked(owner, COMPOSITE)) if finding.level == "stop"]
    assert {finding.code for finding in stops} == {"no_price"}
    assert all("Composite boards" in str(stop.headline) for stop in stops)


def test_it_stops_when_the_customer_could_choose_to_pay_nothing(owner):
    free = {"name": "Do it all themselves", "kind": "sum", "typed_amount": Decimal("-99999")}
    assert "nothing_to_pay" in {finding.code for finding in findings_of(worked(owner, free))}
    small = {"name": "Own boat", "kind": "sum", "typed_amount": Decimal("-100")}
    assert "nothing_to_pay" not in {finding.code for finding in findings_of(worked(owner, small))}


def test_it_says_a_check_of_an_option_under_its_name(owner):
    found = findings_of(worked(owner, THIN_BOARDS, spec=straight()))
    spans = [str(finding.headline) for finding in found if "Thinner boards" in str(finding.headline)]
    assert len(spans) == 1 and "between supports" in spans[0]


def test_it_prices_the_base_the_same_with_options_and_without(owner):
    with_options = worked(owner, COMPOSITE, BUMPER, spec=with_ramp())
    alone = estimate(with_options.estimate.design.spec, with_options.catalogue, with_options.rules)
    assert alone.price.total == with_options.total
