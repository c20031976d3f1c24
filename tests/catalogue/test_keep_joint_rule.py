"""Which sets go to which joint is the firm's rule, kept in rows and said in sentences."""

from decimal import Decimal

import pytest

from contractor.company.models import ChangeLog
from contractor.company.versions import ChangedMeanwhile
from estimating.catalogue import services
from estimating.catalogue.models import Item, JointRule, LabourRate, StandingChoices
from estimating.catalogue.services import FactsRefused, ItemDraft, LabourChangedMeanwhile, PartLine
from estimating.catalogue.wording import say_rule

pytestmark = pytest.mark.django_db


@pytest.fixture
def bolt(owner) -> Item:
    return services.make_item(ItemDraft("fastener", {"name": "Bolt 1/2 x 2-1/2"}, code="bolt"), by=owner)


@pytest.fixture
def make(owner, plate, bolt):
    def rule(over_in: float = 0.0, to_in: float | None = None, **more) -> JointRule:
        facts = {"place": "outer_corner", "name": "Corner", "dock_over_in": over_in, "dock_to_in": to_in}
        facts |= {"bolts": 8, "bolt": bolt} | more
        return services.make_joint_rule(facts=facts, parts=[PartLine(plate, Decimal(2))], by=owner)

    return rule


def test_it_says_a_rule_as_a_sentence(make, owner, bolt):
    nut = services.make_item(ItemDraft("fastener", {"name": "Nut 1/2"}, code="nut"), by=owner)
    rule = make(over_in=144.0)
    parts = [PartLine(Item.objects.get(code="inside-corner"), Decimal(2)), PartLine(nut, Decimal(1), per_bolt=True)]
    facts = {key: getattr(rule, key) for key in ("place", "name", "dock_over_in", "dock_to_in", "bolts", "bolt")}
    services.change_joint_rule(rule, facts=facts, parts=parts, seen_version=1, by=owner)
    said = say_rule(JointRule.objects.with_parts().get())
    assert said.docks == "docks over 12′\u00a00″"
    assert said.takes.replace("\u00a0", " ") == "2 × inside corner plate, 8 × bolt 1/2 x 2-1/2"
    assert said.each_bolt.replace("\u00a0", " ") == "1 × nut 1/2"


def test_it_lets_ranges_of_docks_meet(make):
    make(to_in=144.0)
    make(over_in=144.0)
    assert JointRule.objects.count() == 2


@pytest.mark.parametrize(("over_in", "to_in"), [(0.0, None), (100.0, 150.0), (143.9, None), (0.0, 10.0)])
def test_it_refuses_a_rule_for_docks_another_covers(make, over_in, to_in):
    make(to_in=144.0)
    with pytest.raises(FactsRefused, match="already covers"):
        make(over_in=over_in, to_in=to_in)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"bolt": None}, "bolt"), ({"dock_over_in": 200.0, "dock_to_in": 144.0}, "dock_to_in")],
)
def test_it_refuses_a_rule_that_can_not_be(make, wrong, field):
    with pytest.raises(FactsRefused) as refused:
        make(**wrong)
    assert list(refused.value.faults) == [field]


def test_it_refuses_a_rule_that_takes_nothing(owner):
    facts = {"place": "tee", "name": "Tee", "dock_over_in": 0.0, "dock_to_in": None, "bolts": 0, "bolt": None}
    with pytest.raises(FactsRefused, match="at least one part"):
        services.make_joint_rule(facts=facts, parts=[], by=owner)


def test_it_refuses_lumber_in_a_joint(make, joist, owner):
    rule = make()
    facts = {key: getattr(rule, key) for key in ("place", "name", "dock_over_in", "dock_to_in", "bolts", "bolt")}
    with pytest.raises(FactsRefused, match="no hardware"):
        services.change_joint_rule(rule, facts=facts, parts=[PartLine(joist, Decimal(1))], seen_version=1, by=owner)


def test_it_names_the_joints_and_lengths_no_rule_covers(make):
    make(over_in=96.0, to_in=144.0)
    missing = services.uncovered_places()
    assert missing[:3] == [
        "Outer corner, docks over 0 and up to 8 ft",
        "Outer corner, docks over 12 ft",
        "Inner corner",
    ]
    assert len(missing) == 11


def test_it_covers_everything_with_the_starter(starter):
    assert services.uncovered_places() == []


def test_it_refuses_a_stale_save_of_a_rule(make, owner, people, plate):
    rule = make()
    facts = {key: getattr(rule, key) for key in ("place", "name", "dock_over_in", "dock_to_in", "bolts", "bolt")}
    parts = [PartLine(plate, Decimal(2))]
    services.change_joint_rule(rule, facts={**facts, "bolts": 6}, parts=parts, seen_version=1, by=people["office"])
    with pytest.raises(ChangedMeanwhile) as refused:
        services.change_joint_rule(rule, facts={**facts, "bolts": 10}, parts=parts, seen_version=1, by=owner)
    (difference,) = refused.value.differences
    assert (difference.label, difference.before, difference.theirs, difference.yours) == ("bolts", "8", "6", "10")
    rule.refresh_from_db()
    assert rule.bolts == 6


def test_it_drops_a_rule_but_not_from_a_stale_page(make, owner):
    rule = make()
    with pytest.raises(ChangedMeanwhile):
        services.drop_joint_rule(rule, seen_version=7, by=owner)
    services.drop_joint_rule(rule, seen_version=1, by=owner)
    assert not JointRule.objects.exists()
    assert ChangeLog.objects.newest_first().first().before["takes"] == "2 inside-corner"


def test_it_takes_only_the_right_kind_as_a_usual_choice(plate, joist, owner):
    services.save_standing_choices(changes={"stringer": joist}, seen_version=1, by=owner)
    with pytest.raises(FactsRefused, match="another kind"):
        services.save_standing_choices(changes={"header": plate}, seen_version=2, by=owner)
    assert StandingChoices.objects.get().stringer == joist


def test_it_refuses_hours_somebody_else_changed_first(starter, owner, people):
    floats, decking = LabourRate.objects.get(code="float"), LabourRate.objects.get(code="decking")
    services.save_labour(rates={floats: (1, Decimal("0.5"))}, factors={}, by=people["office"])
    stale = {floats: (1, Decimal("0.6")), decking: (1, Decimal("0.07"))}
    with pytest.raises(LabourChangedMeanwhile) as refused:
        services.save_labour(rates=stale, factors={}, by=owner)
    assert [row.code for row in refused.value.rows] == ["float"]
    decking.refresh_from_db()
    assert decking.hours_per_unit == Decimal("0.065")


def test_it_says_a_clash_over_the_parts_of_a_rule(make, owner, people, plate, bolt):
    rule = make()
    facts = {key: getattr(rule, key) for key in ("place", "name", "dock_over_in", "dock_to_in", "bolts", "bolt")}
    theirs, yours = ([PartLine(plate, Decimal(count))] for count in (3, 4))
    services.change_joint_rule(rule, facts=facts, parts=theirs, seen_version=1, by=people["office"])
    with pytest.raises(ChangedMeanwhile) as refused:
        services.change_joint_rule(rule, facts=facts, parts=yours, seen_version=1, by=owner)
    (difference,) = refused.value.differences
    assert (difference.label, difference.before) == ("Takes", "2 inside-corner")
    assert (difference.theirs, difference.yours) == ("3 inside-corner", "4 inside-corner")
