"""What each load does to the dock, on the spec page."""

import re
from dataclasses import replace
from math import ceil

import pytest
from django.test import Client

from contractor.company.models import Company
from estimating.engine import pipeline
from estimating.engine.flotation.descent import DidNotSettle
from estimating.engine.parts import FlotationRules
from estimating.engine.pipeline import estimate
from estimating.engine.proof import FloatProof
from jobs.records import services
from jobs.records.documents.spec_float import loads_of
from jobs.records.documents.spec_results import open_books
from jobs.records.models import SpecRevision
from tests.jobs.conftest import TODAY
from tests.spec_page.conftest import page, typed
from tests.spec_page.test_show_spec import look

pytestmark = pytest.mark.page

TIPPY = {"width": "4", "length": "10", "rows": "2", "columns": "2"}
SINKING = {"live_load": "45", "rows": "2", "columns": "3"}


def proof(revision: SpecRevision, *rule_sets: str, **boxes: str) -> FloatProof:
    books = open_books(on=TODAY)
    spec = services.spec_at_site(page(revision, typed(revision, **boxes)).spec(), revision.job.site)
    rules = replace(books.rules, flotation=FlotationRules(rule_sets=("firm", *rule_sets)))
    return estimate(spec, books.catalogue, rules).afloat


def plainly(body: str) -> str:
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", body.replace("\u00a0", " ")))
    return re.sub(r" ([.,:])", r"\1", words)


def loads(body: str) -> str:
    part = body[body.index('<div class="full loads">') :]
    return part[: part.index('<div id="fixes"')]


def pounds(ledger: str, label: str) -> int:
    return int(re.search(rf"{label} (-?[\d,]+) lb", ledger)[1].replace(",", ""))


def test_it_shows_every_load_with_what_happens_and_a_verdict(office: Client, revision: SpecRevision) -> None:
    table = loads(office.get(revision.get_absolute_url()).content.decode())
    for words in ("Dock alone, lumber wet", "30 psf on all of the deck", "4 people along one edge"):
        assert words in plainly(table)
    rows = re.findall(r'<tr class="load (\w+)">(.*?)</tr>', table, re.S)
    assert [level for level, _ in rows] == [case.level for case in proof(revision).cases]
    assert all(plainly(row).rstrip().endswith("fine") and "floats" in row for _, row in rows)
    assert table.count("<summary") == len(rows)


def test_it_puts_the_least_freeboard_of_the_worst_place_in_the_row(office: Client, revision: SpecRevision) -> None:
    table = plainly(loads(office.get(revision.get_absolute_url()).content.decode()))
    edge = proof(revision).case("edge")
    assert f"4 people along one edge floats {edge.least_freeboard_in:.1f} in {edge.most_tilt_deg:.1f}° fine" in table
    assert f"{edge.where} why" in table


def test_it_says_of_a_failing_load_what_brings_it_and_gives_no_figures(office: Client, revision: SpecRevision) -> None:
    table = loads(look(office, revision, **TIPPY).content.decode())
    edge = proof(revision, **TIPPY).case("edge")
    assert edge.outcome == "capsizes" and edge.sections == ()
    row = plainly(re.search(r'<tr class="load stop"><th scope="row">\d people along.*?</tr>', table, re.S)[0])
    turn = ceil(edge.turns[-1].live_lb)
    # people of 175 lb each: so many of them make that load
    people = next(count for count in range(1, 20) if count * 175 >= turn)
    assert f"turns over from {turn} lb on ({people} people)" in row and row.rstrip().endswith("Stop")
    assert "°" not in row and " in " not in row.split("people)")[1]


def test_it_sinks_a_spread_load_where_the_lift_of_the_floats_ends(office: Client, revision: SpecRevision) -> None:
    worked = proof(revision, **SINKING)
    spread, dead = worked.case("spread"), worked.case("dead_wet")
    assert spread.outcome == "sinks"
    # Archimedes: floats pushed right under carry no more than the lift they have left with the dock alone
    said = plainly(loads(look(office, revision, **SINKING).content.decode()))
    from_lb = int(re.search(r"45 psf on all of the deck .*?sinks from ([\d,]+) lb", said)[1].replace(",", ""))
    assert from_lb == pytest.approx(dead.reserve_lb, abs=spread.live_lb / 256 + 1)


def test_it_adds_the_ledger_of_a_load_with_a_pencil(office: Client, revision: SpecRevision) -> None:
    body = loads(look(office, revision, **SINKING).content.decode())
    ledgers = [plainly(part) for part in re.findall(r"<details.*?</table>", body, re.S)]
    with_load = [ledger for ledger in ledgers if "On the water" in ledger]
    assert len(ledgers) == len(with_load) + 2
    for ledger in with_load:
        load = re.search(r"(?:Load|people of 175 lb|on the ramp) ([\d,]+) lb", ledger)[1].replace(",", "")
        whole = pounds(ledger, "On the water")
        assert pounds(ledger, "Dock with its floats, wet") + int(load) == whole
        assert pounds(ledger, "push up") + pounds(ledger, "Less what is on the water") == pounds(ledger, "spare")
        assert pounds(ledger, "Less what is on the water") == -whole


def test_it_says_of_every_criterion_its_source_and_how_it_is_met(office: Client, revision: SpecRevision) -> None:
    said = plainly(loads(look(office, revision, **TIPPY).content.decode()))
    half = proof(revision, **TIPPY).case("half")
    tilt = next(verdict for verdict in half.verdicts if verdict.criterion == "firm-tilt")
    assert tilt.level == "check"
    assert f"Check. Tilts no more than 10 degrees: {tilt.value:.1f}°. Common practice, no source." in said
    assert "Stop. Stays afloat and upright, deck dry: not afloat" in said


def test_it_names_the_authority_above_the_loads_it_asks_for(revision: SpecRevision) -> None:
    firms, landing = loads_of(proof(revision, "landing-float"))
    assert (firms.name, landing.name) == ("", "Landing floats for people, US military criteria")
    # UFC 4-152-01, 7-3.3: 50 psf, or 500 lb at any point
    assert [str(row.case.name) for row in landing.rows] == [
        "50 psf on all of the deck",
        "500 lb at one place, on the edge",
    ]
    assert {asked.source for row in landing.rows for asked in row.asked} == {"UFC_4_152_01"}


def test_it_answers_a_change_with_the_loads_too(office: Client, revision: SpecRevision) -> None:
    fine, tippy = (look(office, revision, **boxes).content.decode() for boxes in ({}, TIPPY))
    assert 'tr class="load stop"' not in fine and 'tr class="load stop"' in tippy


def test_it_says_loads_in_metric_to_a_metric_firm(office: Client, revision: SpecRevision) -> None:
    Company.objects.update(units="metric")
    said = plainly(loads(office.get(revision.get_absolute_url()).content.decode()))
    assert "A person is 79 kg" in said and " lb" not in said and re.search(r"floats \d+ mm", said)


def test_it_says_so_when_no_level_is_found(office: Client, revision: SpecRevision, monkeypatch) -> None:
    def unsettled(*args: object) -> None:
        raise DidNotSettle([0], [1.0])

    monkeypatch.setattr(pipeline, "float_proof", unsettled)
    response = look(office, revision)
    assert response.status_code == 422
    assert "no level was found at which it stays" in response.content.decode()
