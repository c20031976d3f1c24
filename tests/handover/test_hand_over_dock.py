"""The hand-over in one press, signed once, and the visits that follow from it."""

import uuid
from datetime import timedelta
from decimal import Decimal
from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone
from pypdf import PdfReader

from contractor.company.models import Role, Staff
from contractor.company.versions import ChangedMeanwhile
from jobs.fieldwork.documents.facts import small
from jobs.fieldwork.services import Keyed, key_in, open_defect, page_of, print_orders
from jobs.fieldwork.services.defects import Found
from jobs.handover import services
from jobs.handover.documents.season_sheet import season_sheet
from jobs.handover.models import HandOver, PackageStays, SeasonVisit, VisitKind
from jobs.records.models import Job
from jobs.schedule.services import stages_of
from tests.people import browser_of, person


def keyed(job: Job, stage: str, by: Staff, **figures: float) -> None:
    [order] = print_orders(job, stages=[stage], by=by)
    work, _ = page_of(order)
    figures = {key.replace("__", "."): value for key, value in figures.items()}
    key_in(order, Keyed(figures, {}, timezone.localdate()), work=work, by=by)


def said(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)


def test_it_gathers_in_one_press_what_was_built_measured_and_found(truck: Client, job: Job, lead: Staff) -> None:
    corner = {f"A__freeboard__{name}": 13.5 for name in ("shore-right", "lake-right", "lake-left", "shore-left")}
    keyed(job, "anchoring", lead, anchor_1__depth=84.0, anchor_1__chain=150.0, level=12.0)
    keyed(job, "handover", lead, people=0, **corner)
    open_defect(job, Found(words="One screw stands proud at board 4"), stage="decking", by=lead)
    address, once = f"/jobs/{job.number}/hand-over/make/", str(uuid.uuid4())
    refused = truck.post(address, {"once": once})
    assert refused.status_code == 422 and not HandOver.objects.exists()
    assert "say why it is handed over with them open" in refused.content.decode()
    assert truck.post(address, {"once": once, "open_why": "The screw comes on Monday"}).status_code == 303
    made = HandOver.objects.get()
    paper = said(truck.get(f"/jobs/{job.number}/hand-over/{made.edition}.pdf").content)
    for words in (
        "nobody aboard",
        "13.5 in",
        "as laid",
        "12′ 6″",
        "One screw stands proud",
        "open",
        "The screw comes on Monday",
        "How many people",
    ):
        assert words in paper, words
    assert "Not a substitute for an engineer where one is required." in paper
    assert "licensed electrician" in paper and "never burn it" in paper
    money = truck.get(f"/jobs/{job.number}/hand-over/").content.decode()
    assert "What it cost" not in money
    assert made.record["corners"][0]["measured"] and made.record["datum"]


def test_it_says_what_nobody_measured_instead_of_making_it_up(job: Job, lead: Staff) -> None:
    package, _, _ = services.package_now(job, on=timezone.localdate())
    assert not package.is_measured and {line.measured for line in package.corners} == {""}
    assert all(line.reckoned for line in package.corners)
    assert [line.laid for line in package.anchors] == [False] * len(package.anchors)


def test_it_plans_the_visits_of_the_season_when_the_customer_signs(
    truck: Client, job: Job, lead: Staff, owner: Staff
) -> None:
    made = services.make_package(job, by=lead)
    today = timezone.localdate()
    typed = {"version": made.version, "name": "Ilse Quarrington", "on": f"{today:%Y-%m-%d}", "how": "scan"}
    address = f"/jobs/{job.number}/hand-over/1/sign/"
    assert truck.post(address, {**typed, "name": " "}).status_code == 422
    program = SimpleUploadedFile("signed.pdf", b"MZ not a page", "application/pdf")
    assert "not a PDF" in truck.post(address, {**typed, "scan": program}).content.decode()
    page = SimpleUploadedFile("signed.html", b"%PDF-1.7 signed", "text/html")
    assert truck.post(address, {**typed, "scan": page}).status_code == 303
    kept = browser_of(owner).get(address.replace("sign/", "signed/"))
    assert kept["Content-Type"] == "application/pdf" and "attachment" in kept["Content-Disposition"]
    assert truck.get(address.replace("sign/", "signed/")).status_code == 403
    visits = {visit.kind: visit.due_on for visit in SeasonVisit.objects.all()}
    assert visits[VisitKind.FIRST_CHECK] == today + timedelta(weeks=6)
    assert visits[VisitKind.HAUL_OUT].timetuple()[1:3] == (10, 15) and today < visits[VisitKind.HAUL_OUT]
    assert visits[VisitKind.PUT_IN].timetuple()[1:3] == (5, 1)
    assert visits[VisitKind.HAUL_OUT] < visits[VisitKind.PUT_IN]
    with pytest.raises(services.AlreadySigned):
        services.make_package(job, by=lead)
    assert truck.post(f"/jobs/{job.number}/hand-over/make/", {"once": str(uuid.uuid4())}).status_code == 422
    with pytest.raises(PackageStays):
        HandOver.objects.get().delete()


def test_it_makes_one_package_for_two_presses(truck: Client, job: Job) -> None:
    key = str(uuid.uuid4())
    for _ in range(2):
        truck.post(f"/jobs/{job.number}/hand-over/make/", {"once": key})
    assert HandOver.objects.count() == 1


def test_it_refuses_a_signature_ahead_of_its_day_and_a_stale_one(job: Job, lead: Staff) -> None:
    made = services.make_package(job, by=lead)
    tomorrow = timezone.localdate() + timedelta(days=1)
    with pytest.raises(ValidationError):
        services.sign_package(made, services.Signature("I. Q.", tomorrow), seen_version=made.version, by=lead)
    with pytest.raises(ChangedMeanwhile):
        services.sign_package(made, services.Signature("I. Q.", timezone.localdate()), seen_version=7, by=lead)
    assert not SeasonVisit.objects.exists()


def test_it_follows_a_visit_with_the_next_year_s_and_reminds_in_time(truck: Client, job: Job, lead: Staff) -> None:
    today = timezone.localdate()
    late = SeasonVisit.objects.create(job=job, kind=VisitKind.HAUL_OUT, due_on=today - timedelta(days=3))
    soon = SeasonVisit.objects.create(job=job, kind=VisitKind.PUT_IN, due_on=today + timedelta(days=30))
    SeasonVisit.objects.create(job=job, kind=VisitKind.FIRST_CHECK, due_on=today + timedelta(days=31))
    assert [(one.visit, one.days, one.late_days) for one in services.reminders_on(today)] == [
        (late, -3, 3),
        (soon, 30, 0),
    ]
    typed = {"version": late.version, "done_on": f"{today:%Y-%m-%d}", "found": "One hinge pin worn", "storage": "Lot 4"}
    typed = {**typed, "A__freeboard__lake-left": "12 1/4", "anchor_1__chain": "a mile"}
    refused = truck.post(late.get_absolute_url(), typed).content.decode()
    assert "12 1/4" in refused and "a mile" in refused
    typed["anchor_1__chain"] = "14 ft"
    assert truck.post(late.get_absolute_url(), typed).status_code == 303
    late.refresh_from_db()
    assert late.done_by_name == lead.name and late.found == "One hinge pin worn"
    assert late.measured == {"A.freeboard.lake-left": 12.25, "anchor_1.chain": 168.0}
    following = SeasonVisit.objects.open().get(kind=VisitKind.HAUL_OUT)
    assert following.due_on.year == late.due_on.year + 1 and following.due_on.month == late.due_on.month
    assert truck.post(late.get_absolute_url(), typed).status_code in (409, 422)
    paper = said(truck.get(f"/season/{following.pk}.pdf").content)
    for words in (
        "Safety line to shore",
        "At the hand-over",
        "One hinge pin worn",
        "Lot 4",
        " ".join(small(12.25).split()),
        "14′ 0″",
    ):
        assert words in paper, words


def test_it_makes_the_season_s_sheet_from_what_was_signed(job: Job, lead: Staff) -> None:
    corner = {f"A__freeboard__{name}": 13.5 for name in ("shore-right", "lake-right", "lake-left", "shore-left")}
    keyed(job, "handover", lead, people=0, **corner)
    made = services.make_package(job, by=lead, open_why="Wet lumber")
    services.sign_package(made, services.Signature("I. Q.", timezone.localdate()), seen_version=made.version, by=lead)
    keyed(job, "handover", lead, **{key: 9.0 for key in corner})
    visit = SeasonVisit.objects.get(kind=VisitKind.PUT_IN)
    visit.measured = {"A.freeboard.lake-left": 11.0, "A.freeboard.lake-right": 13.0}
    sheet = season_sheet(visit, services.handed_over(job), due="")
    lines = {line.key.rpartition(".")[2]: line for line in sheet.corners if line.key.startswith("A.")}
    assert {line.then for line in lines.values()} == {small(13.5)}
    assert lines["lake-left"].differs == f"{small(2.5)} lower: look for water in a float"
    assert lines["lake-right"].differs == "as it was" and lines["shore-left"].differs == ""


def test_it_sets_planned_against_actual_stage_by_stage(desk: Client, job: Job, owner: Staff, lead: Staff) -> None:
    stages_of(job)
    keyed(job, "framing", lead, **{f"hours__p{lead.pk}": 6.5})
    cost = services.cost_of(job)
    framing = next(line for line in cost.stages if line.stage == "framing")
    assert framing.hours.actual == Decimal("6.5") and framing.hours.planned > 0
    assert framing.labour.actual == (Decimal("6.5") * cost.wage).quantize(Decimal("0.01"))
    figures = job.quotes.get().figures
    goods = sum(Decimal(str(line["cost"])) for line in figures["takeoff"]["lines"])
    assert cost.total.goods.planned == goods == Decimal(str(figures["takeoff"]["materials_cost"]))
    page = desk.get(f"/jobs/{job.number}/cost/").content.decode()
    assert "6.50" in page and "All stages" in page
    assert browser_of(person(Role.CREW)).get(f"/jobs/{job.number}/cost/").status_code == 403


def test_it_refuses_a_day_that_is_in_no_year(desk: Client) -> None:
    dates = services.dates_now()
    typed = {"version": dates.version, "first_check_weeks": "0", "out": "31 June", "put": "1 May", "remind_days": "x"}
    answer = desk.post("/season/dates/", typed)
    said = answer.content.decode()
    assert answer.status_code == 422 and "31 June" in said and "like 15 March" in said
    assert "A whole number from 1 to 52." in said and "A whole number from 1 to 180." in said
    right = {**typed, "first_check_weeks": "5", "out": "30 June", "remind_days": "20"}
    assert desk.post("/season/dates/", right).status_code == 303
    kept = services.dates_now()
    assert (kept.out_month, kept.out_day, kept.first_check_weeks, kept.remind_days) == (6, 30, 5, 20)
