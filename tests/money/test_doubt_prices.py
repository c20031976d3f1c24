"""Missing, foreign, expired, old and starter prices: each said once, with the item and the field it was chosen at."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.parts import Catalogue, Price, Stick
from estimating.engine.reasons import Finding
from estimating.engine.spec import Flotation
from estimating.engine.takeoff import takeoff

from .designs import bare_design, boards, floats, joints, piece, spec, with_parts

STARTER, _ = starter_catalogue(on=date(2026, 11, 2))
FLOAT = "float-24x48x16"


def priced(price: Price | None) -> Catalogue:
    item = replace(STARTER.floats[FLOAT], price=price)
    return replace(STARTER, floats={**STARTER.floats, FLOAT: item})


def own_price(**changes: object) -> Price:
    return replace(Price(Decimal(140), "USD", date(2026, 10, 20), "Harbour Supply"), **changes)


def findings(price: Price | None) -> list[Finding]:
    dock = spec()
    section = replace(dock.sections[0], flotation=Flotation(item=FLOAT))
    design = with_parts(bare_design(replace(dock, sections=(section,))), floats=floats(6))
    return [f for f in takeoff(design, priced(price)).findings if f.code != "starter_price"]


def test_a_good_price_is_not_talked_about():
    assert findings(own_price()) == []


def test_no_price_stops_the_quote_at_the_field():
    [finding] = findings(None)
    assert (finding.level, finding.field) == ("stop", "sections[0].flotation.item")
    assert str(finding.headline) == "Float 24 x 48 x 16 in has no price."


def test_an_item_without_a_price_costs_nothing_rather_than_a_guess():
    bought = takeoff(with_parts(floats=floats(6)), priced(None))
    [line] = [line for line in bought.lines if line.code == FLOAT]
    assert (line.cost, line.price_dated) == (0, "")


def test_a_price_in_another_currency_stops_the_quote_and_is_not_converted():
    [finding] = findings(own_price(currency="CAD"))
    assert finding.level == "stop"
    assert str(finding.headline) == "Float 24 x 48 x 16 in is priced in CAD; this quote is in USD."
    [line] = [
        x for x in takeoff(with_parts(floats=floats(6)), priced(own_price(currency="CAD"))).lines if x.code == FLOAT
    ]
    assert line.cost == 0


def test_an_expired_price_is_checked():
    [finding] = findings(own_price(valid_until=date(2026, 11, 1)))
    assert (finding.level, finding.code) == ("check", "expired_price")
    assert "1 November 2026" in str(finding.headline)


def test_a_price_good_until_today_has_not_run_out():
    assert findings(own_price(valid_until=date(2026, 11, 2))) == []


def test_an_old_price_is_checked_with_its_age():
    [finding] = findings(own_price(dated=date(2026, 9, 2)))  # 61 days before
    assert (finding.level, finding.code) == ("check", "stale_price")
    assert "61 days" in str(finding.headline)
    assert findings(own_price(dated=date(2026, 9, 3))) == []  # 60 days: the firm's limit


def test_starter_prices_are_said_once_with_their_number():
    bought = takeoff(with_parts(floats=floats(6)), STARTER)
    [finding] = bought.findings
    assert str(finding.headline) == "3 of 3 items stand at a starter price."  # floats, lags, washers


def test_an_unpriced_stick_is_taken_only_where_no_priced_one_is_long_enough():
    sticks = tuple(Stick(s.length_in, None if s.length_in > 192 else s.price) for s in STARTER.lumber["2x8"].sticks)
    catalogue = replace(STARTER, lumber={**STARTER.lumber, "2x8": replace(STARTER.lumber["2x8"], sticks=sticks)})
    fits = takeoff(with_parts(pieces=(piece(192.0),)), catalogue)
    assert [f.code for f in fits.findings] == ["starter_price"]
    needs_it = takeoff(with_parts(pieces=(piece(200.0),)), catalogue)
    assert str(needs_it.findings[0].headline) == "2x8 ground-contact treated, 18 ft stick has no price."


def test_a_joint_rule_that_names_an_unlisted_item_stops_the_quote():
    design = with_parts(joints=tuple(joints("tee", 2, "Own rule", (("mystery-plate", 1),))), boards=(boards(2, 72.0),))
    stops = [f for f in takeoff(design, STARTER).findings if f.level == "stop"]
    assert [f.code for f in stops] == ["not_in_catalogue"]
    assert "mystery-plate" in str(stops[0].headline)
