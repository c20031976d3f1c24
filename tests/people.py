"""The standing people of a test: one of each role, and a browser for each."""

from django.test import Client

from contractor.company.models import Company, Role, Staff

PASSWORD = "tar and oakum 7"
NAMES = {
    Role.OWNER: "Merrit Dowsing",
    Role.OFFICE: "Oona Tarrant",
    Role.CREW_LEAD: "Tolliver Ames",
    Role.CREW: "Dov Larkin",
}


def the_firm(**facts: object) -> Company:
    """The firm, made if there is none yet, with these facts."""
    company = Company.objects.the_firm() or Company(id=1, name="Dowsing Dockworks")
    for name, value in facts.items():
        setattr(company, name, value)
    company.save()
    return company


def person(role: str = Role.OWNER, login: str = "", **facts: object) -> Staff:
    """Somebody of this role; the same one each time unless another login is given."""
    name = NAMES[Role(role)]
    login = login or name.split()[0].lower()
    known = Staff.objects.filter(login=login).first()
    return known or Staff.objects.create_user(login, PASSWORD, **{"name": name, "role": role, **facts})


def browser_of(somebody: Staff | None) -> Client:
    """A client signed in as this person; None is a stranger. The firm is there."""
    the_firm()
    browser = Client()
    if somebody is not None:
        browser.force_login(somebody)
    return browser
