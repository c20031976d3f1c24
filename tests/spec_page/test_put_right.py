"""What would put a failing load right, the cheapest floats, what the frame can bear: on the page, scripts or not."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from contractor.company.models import Staff
from estimating.engine.pipeline import estimate
from estimating.engine.result import Estimate
from jobs.records import services
from jobs.records.documents.spec_results import open_books
from jobs.records.models import Job, SpecRevision
from tests.jobs.boxes import _Boxes
from tests.jobs.conftest import TODAY
from tests.spec_page.conftest import page, typed
from tests.spec_page.test_show_float_loads import TIPPY, plainly
from tests.spec_page.test_show_float_loads import proof as proof_of
from tests.spec_page.test_show_spec import HTMX, look, marks

pytestmark = pytest.mark.page

SHORT = {"rows": "2", "columns": "3"}
UNLIKE = {"length": "24", "section_count": "2", "owns-B": "on", "own-B-rows": "3", "own-B-columns": "3"}


def ask(office: Client, revision: SpecRevision, name: str, **boxes: str) -> str:
    """A press of a button of the spec form, with scripts or without."""
    address = reverse(f"records:{name}", args=[revision.job.number, revision.letter])
    head = boxes.pop("head", {})
    answer = office.post(address, typed(revision, **boxes).dict() | {"mark": marks(revision)}, **head)
    assert answer.status_code == 200
    return answer.content.decode()


def offers(body: str) -> list[tuple[str, dict[str, str]]]:
    """Each offer: its words, and what its button sends."""
    part = body[body.index('<div id="fixes"') :]
    found = []
    for item in re.findall(r"<li>(.*?)</li>", part[: part.index("</ol>")], re.S):
        reader = _Boxes()
        reader.feed(item)
        found.append((plainly(item), {**reader.found, "do": "look"}))
    return found


def worked(revision: SpecRevision, body: str) -> Estimate:
    """The dock as it stands in the boxes of a page."""
    reader = _Boxes()
    reader.feed(body.partition('id="spec-form"')[2])
    data = typed(revision)
    data.update({name: text for name, text in reader.found.items() if name != "mark"})
    books = open_books(on=TODAY)
    spec = services.spec_at_site(page(revision, data).spec(), revision.job.site)
    return estimate(spec, books.catalogue, books.rules)


@pytest.mark.parametrize("boxes", [SHORT, TIPPY])
def test_it_offers_what_lets_the_gravest_load_pass(
    office: Client, revision: SpecRevision, boxes: dict[str, str]
) -> None:
    piece, whole = (ask(office, revision, "spec_put_right", **boxes, head=head) for head in (HTMX, {}))
    assert piece.lstrip().startswith('<div id="fixes"') and "<h1>" in whole
    said, sent = offers(whole)[0]
    assert [words for words, _ in offers(piece)] == [words for words, _ in offers(whole)]
    named, freeboard = re.search(r"What would put it right: (.*?)</h3>", whole)[1], "Least freeboard then ([0-9.]+) in"
    after = office.post(revision.get_absolute_url(), sent)
    assert after.status_code == 200
    proof = worked(revision, after.content.decode()).afloat
    case = next(case for case in proof.cases if named.replace("\u00a0", " ").startswith(case.name.say()))
    assert case.level != "stop" and f"{case.least_freeboard_in:.1f}" == re.search(freeboard, said)[1]
    revision.refresh_from_db()
    assert revision.version == 1  # only shown: keeping it is another press


def test_it_fills_the_boxes_with_the_cheapest_floats_that_pass(office: Client, revision: SpecRevision) -> None:
    before = worked(revision, ask(office, revision, "spec_put_right"))
    body = ask(office, revision, "spec_lay_out_floats")
    assert "The cheapest floats that pass are in the boxes. Nothing is kept yet." in body
    after = worked(revision, body)
    assert after.design.spec.sections[0].flotation.placed and after.afloat.level == "fine"
    assert after.takeoff.materials_cost <= before.takeoff.materials_cost
    revision.refresh_from_db()
    assert revision.version == 1


def test_it_puts_the_most_used_member_first_and_the_rest_behind_it(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, length="24", section_count="2").content.decode()
    part = body[body.index("<h2>The frame’s strength") : body.index("<h2>Deck")]
    shown = re.sub(
        r'<details class="why rest">.*?</table></div></details></td></tr></tbody>', "<rest>", part, flags=re.S
    )
    assert shown.count("<rest>") == part.count(" more of section")
    for section in re.findall(r"<tbody>(.*?)</tbody>", part, re.S):
        used = [int(share) for share in re.findall(r">(\d+) %<", section)]
        assert used == sorted(used, reverse=True)
    assert len(re.findall(r">\d+ %<", shown)) == 3  # two sections and what is between them
    assert "Preliminary." in part and "Not a substitute for an engineer where one is required" in part
    assert "Adjustment factors: NDS, 4.3" in part  # the reasons name their source


def test_it_says_when_to_stop_and_get_an_engineer(office: Client, boss: Staff, job: Job) -> None:
    # 26 ft and 8,000 lb: common practice, no source
    Job.objects.filter(pk=job.pk).update(boat_length_in=30 * 12.0, boat_weight_lb=9500.0)
    revision = services.start_spec(Job.objects.get(pk=job.pk), by=boss)
    said = plainly(office.get(revision.get_absolute_url()).content.decode())
    told = said[said.index("Stop, and get an engineer") :].split("Comes to")[0]
    assert "A boat of 30′ 0″ lies at it; over 26′ 0″ is more than a builder" in told
    assert "A boat of 9,500 lb lies at it; over 8,000 lb" in told and "Have an engineer look at it" in told


def test_it_says_what_there_is_to_lift_to_haul_and_to_force_together(office: Client, revision: SpecRevision) -> None:
    body = look(office, revision, **UNLIKE).content.decode()
    said = plainly(body)
    lift = re.search(r"Lifted by hand.*?(\d+) people Section (\w), the heaviest, whole and wet: ([\d,]+) lb", said)
    pounds = int(lift[3].replace(",", ""))
    assert int(lift[1]) == -(-pounds // 50)  # 50 lb to a person: common practice, no source
    assert re.search(r"Trailer load.*?([\d,]+) lb All of it, lumber wet", said)
    hinge = re.search(r"Out of line at the hinges.*?([\d.]+) in Each floating by itself, (\w) would stand higher", said)
    proof = proof_of(revision, **UNLIKE)
    (line,) = proof.hinges
    assert float(hinge[1]) == round(abs(line.step_in), 1) > 0
    assert hinge[2] == (line.second if line.step_in > 0 else line.first)
