"""Two people, or two clicks, at the same moment."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from threading import Barrier

import pytest
from django.db import connection

from contractor.company.versions import ChangedMeanwhile
from estimating.catalogue import services
from estimating.catalogue.models import Import, Item, JointRule, Price
from estimating.catalogue.services import FactsRefused, ImportRefused, ItemDraft, PartLine

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*acts: Callable[[], object]) -> list[object]:
    """Start them together; what each gave, or the refusal it raised."""
    ready = Barrier(len(acts))

    def start(act: Callable[[], object]) -> object:
        try:
            ready.wait(10)
            return act()
        except (ImportRefused, ChangedMeanwhile, FactsRefused) as refused:
            return refused
        finally:
            connection.close()

    with ThreadPoolExecutor(len(acts)) as people:
        return list(people.map(start, acts))


def refusals(outcomes: list[object]) -> list[type]:
    return [type(outcome) for outcome in outcomes if isinstance(outcome, Exception)]


def test_it_takes_a_file_in_once_when_two_say_yes_together(plate, owner, people):
    content = b"code,price,currency,dated\ninside-corner,19,USD,2026-04-06\n"
    upload = services.keep_upload(file_name="a.csv", content=content, by=owner)
    seen = services.catalogue_digest()
    outcomes = at_once(
        lambda: services.apply_import(Import.objects.get(pk=upload.pk), seen=seen, by=owner),
        lambda: services.apply_import(Import.objects.get(pk=upload.pk), seen=seen, by=people["office"]),
    )
    assert refusals(outcomes) == [ImportRefused]
    assert Price.objects.get().dated == date(2026, 4, 6)


def test_it_fills_the_catalogue_once_when_the_starter_is_pressed_twice(owner):
    outcomes = at_once(*[lambda: services.load_starter(by=owner)] * 2)
    assert sorted(outcome.items for outcome in outcomes) == [0, Item.objects.count()]


def test_it_keeps_one_of_two_saves_of_an_item(plate, owner, people):
    outcomes = at_once(
        lambda: services.change_item(plate, ItemDraft("hardware", {"shelf": "A"}), seen_version=1, by=owner),
        lambda: services.change_item(plate, ItemDraft("hardware", {"shelf": "B"}), seen_version=1, by=people["office"]),
    )
    assert refusals(outcomes) == [ChangedMeanwhile]
    plate.refresh_from_db()
    assert (plate.version, plate.shelf in ("A", "B")) == (2, True)


def test_it_lets_no_two_rules_for_the_same_docks_in(plate, owner):
    facts = {"place": "tee", "name": "Tee", "dock_over_in": 0.0, "dock_to_in": None, "bolts": 0, "bolt": None}
    make = [lambda: services.make_joint_rule(facts=facts, parts=[PartLine(plate, 1)], by=owner)] * 2
    assert refusals(at_once(*make)) == [FactsRefused]
    assert JointRule.objects.count() == 1
