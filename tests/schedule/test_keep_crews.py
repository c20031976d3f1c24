"""Crews, boats, days away and rules are kept by the office; logs are added and struck out."""

import io
from datetime import timedelta
from decimal import Decimal

from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from contractor.company.models import ChangeLog, Role
from contractor.company.once import new_key
from estimating.catalogue.models import Item
from estimating.catalogue.services import make_supplier
from jobs.records.models import Job
from jobs.schedule import services
from jobs.schedule.documents.board_paper import board_pdf
from jobs.schedule.models import Absence, Crew, CrewMember, DepositIn, Equipment, JobStage, WeatherLog
from jobs.supply.models import Order, OrderLine, Stock
from jobs.supply.services import set_hold
from tests.people import browser_of, person
from tests.schedule.conftest import accept, next_monday, signed_job
from tests.schedule.test_move_stage import put


def test_it_starts_a_crew_once_with_people_skills_and_days_away(desk, owner):
    address, once = reverse("schedule:crews"), new_key()
    for _ in range(2):
        assert desk.post(address, {"what": "crew", "crew-name": "Falk’s crew", "once": once}).status_code == 303
    crew = Crew.objects.get()
    refused = desk.post(address, {"what": "crew", "crew-name": "Falk’s crew", "once": new_key()})
    assert refused.status_code == 422 and "already exists" in refused.content.decode()
    desk.post(address, {"what": "skill", "skill-name": "runs the boat", "skill-stages": ["launch"], "once": new_key()})
    boat = {"equipment-name": "Pelican", "equipment-kind": "boat", "equipment-stages": ["launch"], "once": new_key()}
    assert desk.post(address, {"what": "equipment", **boat}).status_code == 303
    assert Equipment.objects.get().stages_said == "launch"
    page = crew.get_absolute_url()
    joins = {"what": "member", "member-name": "Bly Sorn", "once": new_key()}
    assert desk.post(page, joins).status_code == 303
    bly = CrewMember.objects.get()
    away = {"what": "absence", "absence-who": f"p{bly.pk}", "absence-first_on": "12 May 2027"}
    wrong = desk.post(page, {**away, "absence-last_on": "11 May 2027", "absence-why": "leave", "once": new_key()})
    assert wrong.status_code == 422 and "It ends before it begins." in wrong.content.decode()
    assert desk.post(page, {**away, "absence-why": "leave", "once": new_key()}).status_code == 303
    absence = Absence.objects.get()
    assert absence.first_on == absence.last_on
    assert desk.post(reverse("schedule:take_back", args=[absence.pk])).status_code == 303
    assert not Absence.objects.exists()


def test_it_refuses_a_stale_save_of_a_crew_and_of_the_rules(desk, crew):
    page = crew.get_absolute_url()
    assert desk.post(page, {"what": "crew", "crew-name": "Ames", "version": 1}).status_code == 303
    stale = desk.post(page, {"what": "crew", "crew-name": "Corrin", "version": 1})
    assert stale.status_code == 409 and "Corrin" in stale.content.decode()
    rules = reverse("schedule:rules")
    typed = {
        **{"country": "CA", "subdivision": "ON", "works_on": ["1", "2", "3", "4", "6"], "day_hours": "8"},
        **{"cancellation_kind": "calendar", "cancellation_days": "10", "weather_spring_one_in": "5"},
        **{"weather_summer_one_in": "10", "ice_out_month": "4", "ice_out_day": "25", "ice_in_month": "12"},
        **{"ice_in_day": "1", "ice_margin_days": "7", "wind_limit_kn": "15", "version": "1"},
    }
    assert desk.post(rules, {**typed, "subdivision": "ZZ"}).status_code == 422
    assert desk.post(rules, typed).status_code == 303
    assert (services.rules_now().works_on, services.rules_now().day_hours) == ("12346", Decimal("8.00"))
    assert desk.post(rules, {**typed, "day_hours": "9"}).status_code == 409
    assert "Victoria Day" in desk.get(rules).content.decode()


def test_it_lets_the_crew_log_the_weather_and_the_office_strike_a_line_out(desk, crew):
    lead = browser_of(person(Role.CREW_LEAD))
    log, today = reverse("schedule:log"), timezone.localdate()
    line = {"weather-day": today.isoformat(), "weather-cause": "wind", "weather-decided_by_name": "Tolliver Ames"}
    wrong = lead.post(log, {**line, "weather-words": "", "once": new_key()})
    assert wrong.status_code == 422 and "Tolliver Ames" in wrong.content.decode()
    assert lead.post(log, {**line, "weather-words": "24 kn at 7:10", "once": new_key()}).status_code == 303
    kept = WeatherLog.objects.get()
    strike = reverse("schedule:strike_out", args=["weather", kept.pk])
    assert lead.post(strike).status_code == 403
    assert desk.post(strike).status_code == 303
    assert WeatherLog.objects.get().struck_out
    assert "24 kn at 7:10" in desk.get(log).content.decode()
    assert lead.post(reverse("schedule:crews"), {"what": "crew", "crew-name": "Mine"}).status_code == 403


def test_it_opens_the_deposit_gate_when_the_last_cent_clears(desk, owner, crew):
    job = signed_job(owner)
    job.quotes.all().delete()
    accept(job, owner, on=timezone.localdate() - timedelta(days=30), deposit="1000")
    address = reverse("schedule:deposit", args=[job.number])
    paid = {"deposit-cleared_on": timezone.localdate().isoformat(), "deposit-how": "cheque"}
    assert services.gates_of(job, "layout").kind == "deposit"
    for amount, kind in (("999.99", "deposit"), ("0.01", "today")):
        assert desk.post(address, {**paid, "deposit-amount": amount, "once": new_key()}).status_code == 303
        gates = services.gates_of(job, "layout")
        assert (gates.kind == "deposit") == (kind == "deposit")
    line = DepositIn.objects.order_by("pk").first()
    desk.post(reverse("schedule:strike_out", args=["deposit", line.pk]))
    assert services.gates_of(job, "layout").kind == "deposit"


def test_it_shuts_the_stages_a_hold_names_and_no_others(job, owner):
    set_hold(job, kind="hardware", words="4 hinge kits", stages=["framing"], by=owner)
    assert services.gates_of(job, "framing").kind == "hold"
    assert "4 hinge kits" in services.gates_of(job, "framing").governor
    assert services.gates_of(job, "layout").kind != "hold"


def test_it_builds_the_boards_before_the_launch_only_off_a_fixed_dock(desk, job, owner):
    services.stages_of(job)
    address = reverse("schedule:job_plan", args=[job.number])
    assert desk.post(address, {"built_in_yard": "on", "weight": "2", "version": "1"}).status_code == 303
    order = [stage.stage for stage in services.stages_of(Job.objects.get(pk=job.pk))]
    assert order.index("decking") < order.index("launch")
    assert desk.post(address, {"weight": "1", "version": "1"}).status_code == 409
    job.site.shore_kind = "fixed dock"
    job.site.save()
    plan = services.job_schedule(Job.objects.get(pk=job.pk), on=timezone.localdate()).plan
    changes = {"launch_first": False, "weight": 4}
    services.save_plan(Job.objects.get(pk=job.pk), seen_version=plan.version, changes=changes, by=owner)
    order = [stage.stage for stage in services.stages_of(Job.objects.get(pk=job.pk))]
    assert order.index("launch") < order.index("decking")


def test_it_logs_every_hold_and_its_end(desk, job, owner):
    services.stages_of(job)
    hold = reverse("schedule:hold", args=[job.number, "framing"])
    assert desk.post(hold, {"framing-why": ""}).status_code == 422
    desk.post(hold, {"framing-why": "diagonals differ by 1/2 in"})
    page = desk.get(reverse("schedule:job", args=[job.number])).content.decode()
    assert "Held: diagonals differ by 1/2 in" in page
    desk.post(reverse("schedule:release", args=[job.number, "framing"]))
    stage = JobStage.objects.get(job=job, stage="framing")
    assert (stage.held_why, stage.held_since) == ("", None)
    did = [entry.did for entry in ChangeLog.objects.about(stage).newest_first()]
    assert did == ["let go", "held"]


def test_it_prints_two_weeks_on_one_sheet_lying_on_its_side(job, crew, owner):
    monday = next_monday()
    put(job, "layout", crew, monday, owner)
    board = services.board_from(monday, today=timezone.localdate())
    assert sum(cell.hours for cell in board.rows[0].hours) == Decimal("13.0")
    [page] = PdfReader(io.BytesIO(board_pdf(board))).pages
    assert page.mediabox.width > page.mediabox.height
    text = page.extract_text()
    assert "Quarrington" in text and "layout, framing" in " ".join(text.split()) and "Tolliver" in text


def test_it_names_an_order_once_on_the_day_it_is_promised(job, crew, owner):
    day = next_monday()
    supplier = make_supplier(facts={"name": "Corriden Galvanizing"}, by=owner)
    order = Order.objects.create(
        number=7, supplier=supplier, state="sent", needed_by=day, sent_at=timezone.now(), made_by=owner
    )
    for code in ("pin", "plate"):
        item = Item.objects.create(code=code, name=code, kind="hardware")
        stock = Stock.objects.create(item=item)
        OrderLine.objects.create(order=order, stock=stock, packs=4, quantity=4, expected_on=day)
    board = services.board_from(day, today=timezone.localdate())
    assert [one.said for one in board.deliveries if one.said] == [("Order 7, Corriden Galvanizing",)]
