"""Joint rules, hours, usual choices, suppliers and the first visit, as their pages send them."""

from decimal import Decimal

import pytest
from django.urls import reverse

from contractor.company.once import new_key
from estimating.catalogue import services
from estimating.catalogue.models import Item, JointRule, LabourRate, StandingChoices, Supplier

from .pages import item, page, text_of

pytestmark = pytest.mark.django_db


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


@pytest.mark.parametrize(("way", "items"), [("starter", 43), ("import", 0), ("empty", 0)])
def test_it_begins_the_catalogue_in_one_of_three_ways(office, way, items):
    for _ in range(2):
        assert office.post(reverse("catalogue:start"), {"way": way}).status_code == 303
    assert (Item.objects.count(), LabourRate.objects.count()) == (items, 14)
