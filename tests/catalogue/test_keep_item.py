"""Items are made, changed by one person at a time, retired, and never deleted."""

from decimal import Decimal

import pytest

from contractor.company.models import ChangeLog
from contractor.company.versions import ChangedMeanwhile
from estimating.catalogue import services
from estimating.catalogue.facts import facts_of, faults_in, needed_of
from estimating.catalogue.models import Item, Kind, Stick
from estimating.catalogue.services import FactsRefused, ItemDraft, StillUsed
from estimating.catalogue.wording import item_line

from .conftest import price
from .test_price_item import APRIL

pytestmark = pytest.mark.django_db


def change(item: Item, by, seen: int | None = None, **facts) -> Item:
    return services.change_item(item, ItemDraft(item.kind, facts), seen_version=seen or item.version, by=by)


def test_it_makes_an_item_with_its_lists_and_its_log(plate, owner):
    facts = {"name": "Cleat 8 in", "use_unit": "each", "weight_lb": 1.5}
    draft = ItemDraft("accessory", facts, code="cleat", fixings=[(plate, Decimal(2))])
    cleat = services.make_item(draft, by=owner)
    assert [(fixing.part, fixing.quantity) for fixing in cleat.fixings.all()] == [(plate, Decimal(2))]
    entry = ChangeLog.objects.about(cleat).get()
    assert (entry.did, entry.after["fitted_with"]) == ("made", "inside-corner x 2")


@pytest.mark.parametrize("code", ["inside-corner", "INSIDE-CORNER", ""])
def test_it_refuses_a_code_that_is_taken_or_empty(plate, owner, code):
    with pytest.raises(FactsRefused) as refused:
        services.make_item(ItemDraft("hardware", {"name": "Other"}, code=code), by=owner)
    assert list(refused.value.faults) == ["code"]


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        ({"thickness_in": None}, "thickness_in"),
        ({"nominal": ""}, "nominal"),
        ({"wet_lb_per_ft": None}, "wet_lb_per_ft"),
        ({"wet_lb_per_ft": None, "specific_gravity": 0.55}, "wet_lb_per_ft"),
        ({"seasoned_lb_per_ft": 9.0}, "seasoned_lb_per_ft"),
    ],
)
def test_it_refuses_lumber_without_size_or_weight(joist, owner, facts, field):
    with pytest.raises(FactsRefused) as refused:
        change(joist, owner, **facts)
    assert field in refused.value.faults
    joist.refresh_from_db()
    assert joist.version == 1


def test_it_refuses_a_float_without_its_sheet(owner):
    size = {"length_in": 48.0, "width_in": 24.0, "height_in": 16.0, "weight_lb": 46.0, "rated_lift_lb": 600.0}
    draft = ItemDraft("float", {"name": "Float", **size}, code="float")
    with pytest.raises(FactsRefused) as refused:
        services.make_item(draft, by=owner)
    assert set(refused.value.faults) == {"lift_basis", "source"}


def test_it_refuses_an_anchor_heavier_under_water(owner):
    facts = {"name": "Block", "weight_lb": 350.0, "submerged_weight_lb": 400.0}
    with pytest.raises(FactsRefused, match="more under water"):
        services.make_item(ItemDraft("anchor", facts, code="block"), by=owner)


@pytest.mark.parametrize("kind", Kind.values)
def test_it_names_every_missing_fact_before_the_database_would(kind):
    assert needed_of(kind) <= {fact.key for fact in facts_of(kind)}
    assert needed_of(kind) <= set(faults_in(kind, {}))


def test_it_changes_only_what_is_given(joist, owner):
    changed = change(joist, owner, shelf="B3")
    assert (changed.shelf, changed.name, changed.version) == ("B3", "2x8 ground contact", 2)
    assert changed.sticks.count() == 2


def test_it_changes_nothing_when_nothing_changes(joist, owner):
    assert change(joist, owner, shelf="").version == 1
    assert ChangeLog.objects.about(joist).count() == 1


def test_it_refuses_a_stale_save_and_says_what_the_other_changed(joist, owner, people):
    change(joist, people["office"], width_in=7.5, name="2x8 treated")
    with pytest.raises(ChangedMeanwhile) as refused:
        change(joist, owner, seen=1, width_in=7.25, shelf="B3", name="2x8 ground contact")
    said = {each.label: (each.before, each.theirs, each.yours) for each in refused.value.differences}
    assert said["True width"] == ("7 1/4″", "7 1/2″", "nothing new")
    assert refused.value.by_name == "Office"
    assert refused.value.version == 2
    joist.refresh_from_db()
    assert (joist.width_in, joist.shelf) == (7.5, "")


def test_it_says_a_clash_over_stock_lengths_in_lengths(joist, owner, people):
    theirs = ItemDraft("lumber", {}, stick_lengths_in=[144.0, 192.0, 240.0])
    services.change_item(joist, theirs, seen_version=1, by=people["office"])
    yours = ItemDraft("lumber", {}, stick_lengths_in=[96.0, 144.0])
    with pytest.raises(ChangedMeanwhile) as refused:
        services.change_item(joist, yours, seen_version=1, by=owner)
    (difference,) = refused.value.differences
    assert difference.clash
    assert difference.theirs == "12′ 0″, 16′ 0″, 20′ 0″"
    assert difference.yours == "8′ 0″, 12′ 0″"
    assert list(joist.sticks.values_list("length_in", flat=True)) == [144.0, 192.0, 240.0]


def test_it_keeps_a_length_with_prices_when_it_is_no_longer_offered(joist, owner, yard):
    short, long = joist.sticks.order_by("length_in")
    services.add_price(joist, price("12.00", APRIL), stick=short, supplier=yard, by=owner)
    services.change_item(joist, ItemDraft("lumber", {}, stick_lengths_in=[240.0]), seen_version=1, by=owner)
    assert list(joist.sticks.values_list("length_in", "offered")) == [(144.0, False), (240.0, True)]
    assert not Stick.objects.filter(pk=long.pk).exists()
    assert joist.prices.count() == 1


def test_it_offers_a_length_again_with_its_old_prices(joist, owner, yard):
    short = joist.sticks.get(length_in=144.0)
    services.add_price(joist, price("12.00", APRIL), stick=short, supplier=yard, by=owner)
    for version, lengths in enumerate(([192.0], [144.0, 192.0]), 1):
        services.change_item(joist, ItemDraft("lumber", {}, stick_lengths_in=lengths), seen_version=version, by=owner)
    assert joist.sticks.get(length_in=144.0).offered
    assert joist.sticks.get(length_in=144.0).pk == short.pk


@pytest.mark.parametrize("fault", ["lumber", "retired", "itself", "twice"])
def test_it_refuses_a_fixing_that_can_not_be(plate, joist, owner, fault):
    cleat = services.make_item(ItemDraft("accessory", {"name": "Cleat"}, code="cleat"), by=owner)
    if fault == "retired":
        services.retire_item(plate, seen_version=1, by=owner)
        plate.refresh_from_db()
    wrong = {"lumber": [joist], "retired": [plate], "itself": [cleat], "twice": [plate, plate]}[fault]
    draft = ItemDraft("accessory", {}, fixings=[(part, Decimal(1)) for part in wrong])
    with pytest.raises(FactsRefused) as refused:
        services.change_item(cleat, draft, seen_version=1, by=owner)
    assert list(refused.value.faults) == ["fixings"]
    assert not cleat.fixings.exists()


def test_it_retires_nothing_that_a_rule_still_names(starter, owner):
    bolt = Item.objects.get(code="bolt-2-1/2")
    with pytest.raises(StillUsed) as refused:
        services.retire_item(bolt, seen_version=bolt.version, by=owner)
    assert "fixings of Swim ladder, four steps" in refused.value.uses
    assert any("inside plate alone" in use for use in refused.value.uses)
    stringer = Item.objects.get(code="2x8")
    assert "the usual stringers" in services.uses_of(stringer)


def test_it_brings_a_retired_item_back(plate, owner):
    services.retire_item(plate, seen_version=1, by=owner)
    assert not Item.objects.offered().exists()
    services.reinstate_item(plate, seen_version=2, by=owner)
    assert Item.objects.offered().get() == plate


@pytest.mark.parametrize(
    ("words", "found"),
    [("2x8", {"2x8"}), ("ground CONTACT", {"2x8"}), ("plate corner", {"inside-corner"}), ("plate 2x8", set())],
)
def test_it_finds_items_by_every_word(plate, joist, words, found):
    assert set(Item.objects.named_like(words).values_list("code", flat=True)) == found


def test_it_says_a_clash_over_fixings_and_substitutes(plate, owner, people):
    made = [services.make_item(ItemDraft("accessory", {"name": code}, code=code), by=owner) for code in "abc"]
    first, second, third = made
    theirs = ItemDraft("accessory", {}, fixings=[(plate, Decimal(2))], substitutes=[second])
    services.change_item(first, theirs, seen_version=1, by=people["office"])
    yours = ItemDraft("accessory", {}, fixings=[(plate, Decimal(4))], substitutes=[second, third])
    with pytest.raises(ChangedMeanwhile) as refused:
        services.change_item(first, yours, seen_version=1, by=owner)
    said = {each.label: (each.before, each.theirs, each.yours) for each in refused.value.differences}
    assert said == {
        "Fitted with": ("nothing", "inside-corner x 2", "inside-corner x 4"),
        "May be replaced by": ("nothing", "b", "b, c"),
    }


def test_it_refuses_a_cylinder_of_two_diameters(owner):
    facts = {"name": "Pipe", "shape": "cylinder", "length_in": 96.0, "width_in": 24.0, "height_in": 20.0}
    sheet = {"weight_lb": 150.0, "rated_lift_lb": 1300.0, "lift_basis": "net", "source": "Sheet"}
    with pytest.raises(FactsRefused, match="both the diameter"):
        services.make_item(ItemDraft("float", {**facts, **sheet}, code="pipe"), by=owner)
    kept = services.make_item(ItemDraft("float", {**facts, **sheet, "height_in": 24.0}, code="pipe"), by=owner)
    assert item_line(kept).replace("\u00a0", " ") == "24 in through, 96 in long, lifts 1,300 lb net"
