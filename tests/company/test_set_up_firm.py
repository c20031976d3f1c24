import pytest
from django.core.exceptions import ValidationError
from django.test import Client

from contractor.company import services
from contractor.company.models import ChangeLog, Company, PaymentStep, Role, Staff
from tests.people import PASSWORD, the_firm

TYPED = {
    "name": "Dowsing Dockworks",
    "units": "imperial",
    "currency": "USD",
    "owner_name": "Merrit Dowsing",
    "login": "Merrit",
    "email": "merrit@dowsing.example",
    "password": PASSWORD,
}
pytestmark = pytest.mark.django_db


def test_it_leads_the_first_visitor_to_name_the_firm():
    answer = Client().get("/company/", follow=True)
    assert answer.redirect_chain == [("/welcome/", 303)]
    assert "<h1>Name the firm</h1>" in answer.content.decode()


def test_it_names_the_firm_and_lets_its_owner_in():
    browser = Client()
    answer = browser.post("/welcome/", TYPED)
    assert answer.status_code == 303
    company, owner = Company.objects.get(), Staff.objects.get()
    assert (company.name, company.units, company.paper) == ("Dowsing Dockworks", "imperial", "letter")
    assert (owner.login, owner.role, owner.check_password(PASSWORD)) == ("merrit", Role.OWNER, True)
    assert sum(step.percent for step in PaymentStep.objects.all()) == 100
    assert browser.get("/company/").status_code == 200
    assert ChangeLog.objects.filter(did="made", by=owner).count() == 2


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("name", "", "Fill this in."),
        ("login", "merrit dowsing", "no spaces"),
        ("password", "short", "too short"),
        ("password", "merritdowsing", "too similar"),
        ("units", "cubits", "Select a valid choice"),
    ],
)
def test_it_refuses_at_the_box_and_keeps_what_was_typed(box, typed, said):
    answer = Client().post("/welcome/", {**TYPED, box: typed})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert 'value="merrit@dowsing.example"' in page
    assert not Company.objects.exists() and not Staff.objects.exists()


def test_it_is_done_once():
    the_firm()
    answer = Client().post("/welcome/", TYPED)
    assert (answer.status_code, answer["Location"]) == (303, "/login/")
    with pytest.raises(services.FirmAlreadyNamed):
        services.set_up_firm(
            name="Another", units="metric", currency="CAD", owner={"login": "x", "name": "X"}, password=PASSWORD
        )
    assert Company.objects.get().name == "Dowsing Dockworks"
    assert not Staff.objects.exists()


def test_it_leaves_no_firm_without_an_owner():
    with pytest.raises(ValidationError):
        services.set_up_firm(
            name="Half", units="metric", currency="EUR", owner={"login": "a b", "name": "X"}, password=PASSWORD
        )
    assert not Company.objects.exists()
