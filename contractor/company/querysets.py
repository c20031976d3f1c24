import datetime
from typing import Any, NoReturn, Self

from django.contrib.auth.models import BaseUserManager
from django.db import models


class StaffQuerySet(models.QuerySet):
    def at_work(self) -> Self:
        """Those who may sign in."""
        return self.filter(active=True)

    def owners(self) -> Self:
        return self.filter(role="owner")


class StaffManager(BaseUserManager.from_queryset(StaffQuerySet)):
    def create_user(self, login: str, password: str | None = None, **facts: Any) -> Any:
        person = self.model(login=login.strip().lower(), **facts)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def create_superuser(self, login: str, password: str | None = None, **facts: Any) -> Any:
        return self.create_user(login, password, **{"role": "owner", **facts})

    def get_by_natural_key(self, login: str) -> Any:
        return self.get(login=(login or "").strip().lower())


class CompanyQuerySet(models.QuerySet):
    def the_firm(self) -> Any:
        """The one row, or None before the firm is named."""
        return self.first()


class TaxRateQuerySet(models.QuerySet):
    def in_force(self, on: datetime.date) -> list[Any]:
        """For each tax, by name, the rate that holds on this day; a rate of zero ends a tax."""
        latest: dict[str, Any] = {}
        for rate in self.filter(from_date__lte=on).order_by("from_date", "id"):
            latest[rate.name] = rate
        return [rate for _, rate in sorted(latest.items()) if rate.percent]


class ChangeLogQuerySet(models.QuerySet):
    def about(self, thing: models.Model) -> Self:
        return self.filter(kind=thing._meta.label_lower, object_id=str(thing.pk))

    def newest_first(self) -> Self:
        return self.order_by("-at", "-id")

    def delete(self) -> NoReturn:
        raise TypeError("The change log is never shortened.")

    def update(self, **changes: Any) -> NoReturn:
        raise TypeError("The change log is never rewritten.")


class LoginAttemptQuerySet(models.QuerySet):
    def since(self, moment: datetime.datetime) -> Self:
        return self.filter(at__gte=moment)
