"""What the firm does about itself: it is set up, its figures change, people are hired."""

import datetime
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from contractor.company import current
from contractor.company.journal import log_change, log_made
from contractor.company.models import Company, LoadCase, PaymentStep, Role, Staff, TaxRate, Trigger
from contractor.company.numbers import next_number
from contractor.company.versions import ChangedMeanwhile, save_if_unchanged

__all__ = [
    "ChangedMeanwhile",
    "FirmAlreadyNamed",
    "add_tax_rate",
    "change_password",
    "edit_staff",
    "hire",
    "log_change",
    "next_number",
    "remove_tax_rate",
    "save_company",
    "save_if_unchanged",
    "set_load_cases",
    "set_payment_plan",
    "set_up_firm",
]

STARTER_PLAN = ((Trigger.SIGNING, 30), (Trigger.DECKING, 40), (Trigger.DEFECTS, 30))
LETTER_CURRENCIES = ("USD", "CAD", "MXN", "PHP")


class FirmAlreadyNamed(Exception):
    """Somebody else named the firm first; its owner can let you in."""


@transaction.atomic
def set_up_firm(*, name: str, units: str, currency: str, owner: Mapping[str, Any], password: str) -> Staff:
    """Name the firm and make its first owner (`owner`: login, name, email). Raises FirmAlreadyNamed."""
    paper = "letter" if currency in LETTER_CURRENCIES else "a4"
    company = Company(id=1, name=name, units=units, currency=currency, paper=paper)
    company.full_clean(validate_unique=False)
    try:
        with transaction.atomic():
            company.save(force_insert=True)
    except IntegrityError as taken:
        raise FirmAlreadyNamed(name) from taken
    current.forget()
    person = hire(by=None, password=password, role=Role.OWNER, **owner)
    log_made(company, by=person, facts={"name": name, "units": units, "currency": currency})
    PaymentStep.objects.bulk_create(
        PaymentStep(position=position, trigger=trigger, percent=percent)
        for position, (trigger, percent) in enumerate(STARTER_PLAN, start=1)
    )
    return person


@transaction.atomic
def save_company(company: Company, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> Company:
    """Change the firm's own figures and words. Raises ChangedMeanwhile, ValidationError."""
    saved = save_if_unchanged(company, seen_version, changes, by=by)
    current.forget()
    return saved


@transaction.atomic
def hire(*, login: str, name: str, role: str, password: str, by: Staff | None, **facts: Any) -> Staff:
    """Give a person an account. `facts`: email, phone. Raises ValidationError."""
    person = Staff(login=login.strip().lower(), name=name.strip(), role=role, **facts)
    person.set_password(password)
    person.full_clean()
    person.save()
    log_made(person, by=by or person, facts={"login": person.login, "name": person.name, "role": person.role, **facts})
    return person


@transaction.atomic
def edit_staff(person: Staff, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> Staff:
    """Change a person's facts, role or right to sign in. Raises ChangedMeanwhile, ValidationError.

    The firm always keeps an owner who may sign in: taking the last one away is refused at its field.
    """
    _keep_an_owner(person, changes)
    return save_if_unchanged(person, seen_version, changes, by=by)


@transaction.atomic
def change_password(person: Staff, *, password: str, by: Staff | None) -> None:
    """Set a new password; every other session of this person ends. The log keeps that it changed, never the words."""
    person.set_password(password)
    person.save(update_fields=["password"])
    log_change(person, did="set a new password for", by=by)


@transaction.atomic
def add_tax_rate(*, name: str, percent: Decimal, from_date: datetime.date, by: Staff | None) -> TaxRate:
    """Give a tax a rate from a day on. Raises ValidationError, also when that day already has one."""
    rate = TaxRate(name=name.strip(), percent=percent, from_date=from_date)
    rate.full_clean()
    rate.save()
    log_made(rate, by=by, facts={"name": rate.name, "percent": percent, "from_date": from_date})
    return rate


@transaction.atomic
def remove_tax_rate(rate: TaxRate, *, by: Staff | None) -> None:
    """Take back a rate that was typed wrongly; quotes already sent keep their own figures."""
    facts = {"name": rate.name, "percent": rate.percent, "from_date": rate.from_date}
    log_change(rate, did="removed", by=by, before=facts)
    rate.delete()


@transaction.atomic
def set_payment_plan(steps: Sequence[tuple[str, Decimal]], *, seen_version: int, by: Staff | None) -> list[PaymentStep]:
    """Replace the usual payment plan by these (trigger, percent).

    Raises ValidationError unless they make 100%, ChangedMeanwhile if the firm was changed since it was seen.
    """
    total = sum((percent for _, percent in steps), Decimal(0))
    if total != 100:
        raise ValidationError(f"The payments make {total.normalize():f}%, not 100%. Change one of them.")
    company = _next_version(seen_version)
    before = list(PaymentStep.objects.all())
    PaymentStep.objects.all().delete()
    plan = [PaymentStep(position=place, trigger=step[0], percent=step[1]) for place, step in enumerate(steps, start=1)]
    for step in plan:
        step.full_clean()
    PaymentStep.objects.bulk_create(plan)
    _log_replaced(company, "payments", before, plan, by=by)
    return plan


@transaction.atomic
def set_load_cases(cases: Sequence[LoadCase], *, seen_version: int, by: Staff | None) -> None:
    """Replace the firm's names, omissions and own load cases by these.

    Raises ValidationError, and ChangedMeanwhile if the firm was changed since it was seen.
    """
    company = _next_version(seen_version)
    before = list(LoadCase.objects.all())
    LoadCase.objects.all().delete()
    for case in cases:
        case.full_clean()
    LoadCase.objects.bulk_create(cases)
    _log_replaced(company, "load_cases", before, cases, by=by)


def _next_version(seen_version: int) -> Company:
    """Lock the firm and count its version on. Raises ChangedMeanwhile if it was changed since it was seen."""
    company = Company.objects.select_for_update().get()
    if not Company.objects.filter(version=seen_version).update(version=seen_version + 1):
        raise ChangedMeanwhile(company, seen_version, {})
    company.version = seen_version + 1
    return company


def _log_replaced(
    company: Company, what: str, before: Iterable[Any], after: Iterable[Any], *, by: Staff | None
) -> None:
    current.forget()
    was, now = (", ".join(map(str, rows)) for rows in (before, after))
    log_change(company, did="changed", by=by, before={what: was}, after={what: now, "version": company.version})


def _keep_an_owner(person: Staff, changes: Mapping[str, Any]) -> None:
    stays = changes.get("role", person.role) == Role.OWNER and changes.get("active", person.active)
    was = person.role == Role.OWNER and person.active
    others = Staff.objects.select_for_update().owners().at_work().exclude(pk=person.pk)
    if was and not stays and not others.exists():
        field = "active" if not changes.get("active", True) else "role"
        raise ValidationError({field: f"{person.name} is the only owner. Make somebody else an owner first."})
