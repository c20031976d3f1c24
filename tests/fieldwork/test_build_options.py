"""What a customer took besides the dock as priced is planned for, and stands on the crew's sheets."""

from decimal import Decimal

from jobs.fieldwork import services
from jobs.schedule.services import stages_of
from tests.fieldwork.conftest import sheet
from tests.quotes.making import COMPOSITE
from tests.supply.making import signed

LADDER = {"name": "Swim ladder", "kind": "add", "change": {"item": "ladder", "quantity": 1}}
LADDER_HOURS = Decimal("0.75")  # what the made-up firm's catalogue gives for fitting one


def test_it_plans_and_prints_the_options_that_were_taken(owner, no_press):
    quote = signed(owner, options=[LADDER, COMPOSITE], taken=(LADDER["name"], COMPOSITE["name"]))
    priced = Decimal(str(quote.figures["hours"]["stage_hours"]["decking"]))
    planned = {stage.stage: stage.planned_hours for stage in stages_of(quote.job)}
    assert planned["decking"] == priced + LADDER_HOURS
    order = sheet(quote.job, "decking", owner)
    assert order.document["sections"][0]["decking"]["board"] == "deck-composite"
    [made] = services.sheets_of([order], address="https://dock.example")
    assert ("Swim ladder", "1") in [(row.name, row.count) for row in made.goods]
    assert made.planned.endswith(f"{planned['decking']} h")
