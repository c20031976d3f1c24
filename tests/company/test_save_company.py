import datetime
import io
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from contractor.company import services
from contractor.company.models import ChangeLog, Company, PaymentStep, TaxRate
from contractor.company.once import new_key

FACTS = {"name": "Dowsing Dockworks", "address": "14 Spurling Road", "phone": "555 0114", "version": 1}
PRICE = {
    "margin_percent": "18",
    "floor_margin_percent": "8",
    "contingency_percent": "5",
    "contingency_unknown_percent": "15",
    "price_step": "10",
    "version": 1,
}


def test_it_saves_one_block_and_logs_it(at_desk, owner):
    assert at_desk.post("/company/block/facts/", FACTS)["Location"] == "/company/#facts"
    company = Company.objects.get()
    assert (company.address_lines, company.version) == (["14 Spurling Road"], 2)
    entry = ChangeLog.objects.about(company).get()
    assert entry.by == owner and set(entry.before) == {"address", "phone"}


def test_it_answers_htmx_with_the_block_and_moves_the_other_forms_along(at_desk):
    answer = at_desk.post("/company/block/price/", PRICE, headers={"HX-Request": "true"})
    piece = answer.content.decode()
    assert answer.status_code == 200
    assert piece.lstrip().startswith('<section id="price">') and "<html" not in piece
    assert "21.95% markup on cost" in piece
    assert 'id="version-tax" value="2" hx-swap-oob="true"' in piece
    assert "HX-Request" in answer["Vary"]


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("margin_percent", "120", "Between 0% and 95%; you typed 120."),
        ("margin_percent", "lots", "Type one like 12 or 12.5."),
        ("margin_percent", "7", "The lowest margin can’t be above the usual one."),
        ("contingency_percent", "", "Type a percentage, like 12 or 12.5."),
    ],
)
@pytest.mark.page
def test_it_refuses_at_the_box_and_keeps_what_was_typed(at_desk, box, typed, said):
    answer = at_desk.post("/company/block/price/", {**PRICE, box: typed, "contingency_unknown_percent": "13.75"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert 'value="13.75"' in page
    assert Company.objects.get().version == 1


def test_it_keeps_money_and_weights_as_typed_in_either_system(at_desk):
    at_desk.post("/company/block/loads/", {"person_weight_lb": "90 kg", "live_load_psf": "1.5 kPa", "version": 1})
    company = Company.objects.get()
    assert company.person_weight_lb == pytest.approx(90 / 0.45359237)
    page = at_desk.get("/company/").content.decode()
    assert 'value="90 kg"' in page and "198 lb, 90 kg" in page


def test_it_reads_travel_per_kilometre_in_a_metric_firm(at_desk, firm):
    Company.objects.update(units="metric")
    costs = {
        "wage_per_hour": "26", "burden_percent": "38", "overhead_mode": "per_hour", "overhead_figure": "16",
        "mileage_rate": "0.45", "version": 1,
    }  # fmt: skip
    assert at_desk.post("/company/block/costs/", costs).status_code == 303
    assert Company.objects.get().mileage_rate == Decimal("0.7242")  # 0.45 x 1.609344
    assert 'value="0.45"' in at_desk.get("/company/").content.decode()


@pytest.mark.page
def test_it_never_sets_overhead_above_all_of_cost(at_desk):
    costs = {
        "wage_per_hour": "26", "burden_percent": "38", "overhead_mode": "percent", "overhead_figure": "160",
        "mileage_rate": "0.70", "version": 1,
    }  # fmt: skip
    assert "100% at most; you typed 160" in at_desk.post("/company/block/costs/", costs).content.decode()


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("none", ""),
        ("percent", "10% is 675.00. Ask for 675.00 at most."),
        ("lesser", "10% is 675.00, the fixed amount 500.00. Ask for 500.00 at most."),
        ("greater", "10% is 675.00. Ask for more only where the special orders cost more"),
    ],
)
def test_it_says_what_the_deposit_limit_comes_to(at_desk, rule, said):
    typed = {"deposit_rule": rule, "deposit_percent": "10", "deposit_cap": "500", "version": 1}
    piece = at_desk.post("/company/block/deposit/", typed, headers={"HX-Request": "true"}).content.decode()
    for page in (piece, at_desk.get("/company/").content.decode()):
        assert said in page
        assert ("On a price of 6,750.00" in page) == (rule != "none")


def test_it_keeps_a_logo_as_a_fresh_small_picture(at_desk, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    answer = at_desk.post("/company/block/logo/", {"logo": picture("JPEG", (3000, 1000)), "version": 1})
    assert answer.status_code == 303
    company = Company.objects.get()
    assert company.logo.name.endswith(".png") and "holiday" not in company.logo.name
    shown = at_desk.get("/company/logo.png")
    kept = Image.open(io.BytesIO(b"".join(shown.streaming_content)))
    assert (kept.format, kept.size) == ("PNG", (1200, 400))
    assert "sandbox" in shown["Content-Security-Policy"]
    at_desk.post("/company/block/logo/", {"take_away": "on", "version": 2})
    assert at_desk.get("/company/logo.png").status_code == 404


@pytest.mark.parametrize(
    ("upload", "said"),
    [
        (lambda: SimpleUploadedFile("logo.png", b"<svg onload=alert(1)>"), "not a picture we can read"),
        (lambda: picture("GIF", (10, 10)), "not a picture we can read"),
        (lambda: picture("PNG", (6001, 4)), "6001 by 4 dots"),
        (lambda: SimpleUploadedFile("logo.png", b"\x89PNG\r\n\x1a\n" + b"\0" * 100), "not a picture we can read"),
    ],
    ids=["script", "gif", "huge", "broken"],
)
@pytest.mark.page
def test_it_refuses_what_is_no_logo(at_desk, upload, said):
    answer = at_desk.post("/company/block/logo/", {"logo": upload(), "version": 1})
    assert answer.status_code == 422 and said in answer.content.decode()


def picture(kind: str, size: tuple[int, int]) -> SimpleUploadedFile:
    file = io.BytesIO()
    Image.new("RGB" if kind != "GIF" else "P", size).save(file, kind)
    return SimpleUploadedFile(f"holiday.{kind.lower()}", file.getvalue())


def test_it_replaces_the_payment_plan_only_by_one_of_100_percent(owner, at_desk):
    rows = {"pay-TOTAL_FORMS": 6, "pay-INITIAL_FORMS": 0, "version": 1}
    half = {
        **rows,
        "pay-0-trigger": "signing",
        "pay-0-percent": "50",
        "pay-1-trigger": "defects",
        "pay-1-percent": "40",
    }
    refused = at_desk.post("/company/payments/", half)
    assert refused.status_code == 422 and "The payments make 90%, not 100%." in refused.content.decode()
    assert at_desk.post("/company/payments/", {**half, "pay-1-percent": "50"}).status_code == 303
    assert [str(step) for step in PaymentStep.objects.all()] == ["50% on signing", "50% after the defects list"]
    stale = at_desk.post("/company/payments/", {**half, "pay-0-percent": "60"})
    assert stale.status_code == 409 and "Merrit Dowsing saved this" in stale.content.decode()


def test_it_holds_the_tax_rate_of_each_day(owner):
    day = datetime.date
    for percent, since in ((Decimal("13"), day(2024, 1, 1)), (Decimal("15"), day(2026, 7, 1)), (0, day(2027, 1, 1))):
        services.add_tax_rate(name="HST", percent=percent, from_date=since, by=owner)
    in_force = [[str(rate) for rate in TaxRate.objects.in_force(on)] for on in (
        day(2023, 12, 31), day(2024, 1, 1), day(2026, 6, 30), day(2026, 7, 1), day(2027, 1, 1))]  # fmt: skip
    assert in_force == [[], ["HST 13%"], ["HST 13%"], ["HST 15%"], []]
    with pytest.raises(ValidationError, match="already has a rate from that day"):
        services.add_tax_rate(name="HST", percent=Decimal("14"), from_date=day(2026, 7, 1), by=owner)


def test_it_adds_and_takes_back_a_tax_rate(at_desk):
    typed = {"name": "HST", "percent": "13", "from_date": "1 July 2026", "once": new_key()}
    assert at_desk.post("/company/tax-rates/", typed).status_code == 303
    rate = TaxRate.objects.get()
    assert at_desk.get(f"/company/tax-rates/{rate.pk}/remove/").status_code == 200
    assert at_desk.post(f"/company/tax-rates/{rate.pk}/remove/").status_code == 303
    assert not TaxRate.objects.exists()
    assert ChangeLog.objects.get(did="removed").before["percent"] == "13.000"


def test_it_shows_the_log_in_words_and_never_shortens_it(at_desk):
    at_desk.post("/company/block/price/", PRICE)
    page = at_desk.get("/company/log/").content.decode()
    assert "Margin on price: 15% became <b>18%</b>" in page
    entry = ChangeLog.objects.get()
    for tamper in (entry.delete, entry.save, ChangeLog.objects.all().delete, lambda: ChangeLog.objects.update(did="x")):
        with pytest.raises(TypeError, match="never"):
            tamper()
