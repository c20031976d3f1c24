"""What the firm's machine remembers about its own use: who changed what, which number is next, what was tried."""

from typing import Any, NoReturn

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils import timezone

from contractor.company.querysets import ChangeLogQuerySet, LoginAttemptQuerySet


class ChangeLog(models.Model):
    """One change by one person, with the values before and after. Written in the change's own transaction."""

    at = models.DateTimeField(default=timezone.now, db_index=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    # Kept as text: the entry outlives the person's account and the thing's name.
    by_name = models.CharField(max_length=120)
    kind = models.CharField(max_length=80)
    object_id = models.CharField(max_length=40)
    object_name = models.CharField(max_length=200)
    did = models.CharField(max_length=40)
    before = models.JSONField(default=dict, encoder=DjangoJSONEncoder)
    after = models.JSONField(default=dict, encoder=DjangoJSONEncoder)

    objects = ChangeLogQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-id"]
        indexes = [models.Index(fields=["kind", "object_id"], name="changelog_by_thing")]
        verbose_name = "change"

    def __str__(self) -> str:
        return f"{self.by_name} {self.did} {self.object_name}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk is not None:
            raise TypeError("The change log is never rewritten.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise TypeError("The change log is never shortened.")


class Counter(models.Model):
    """The last number given out under a name; the row is locked while the next one is taken."""

    name = models.CharField(max_length=80, unique=True)
    value = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"{self.name}: {self.value}"


class FormKey(models.Model):
    """The key of a form that was sent once; a second click finds it here."""

    key = models.CharField(max_length=36, unique=True)
    used_at = models.DateTimeField(default=timezone.now, db_index=True)
    led_to = models.CharField(max_length=300, blank=True)

    def __str__(self) -> str:
        return self.key


class LoginAttempt(models.Model):
    """One failed sign-in. The name is kept only as a keyed digest: people type passwords into the wrong box."""

    at = models.DateTimeField(default=timezone.now, db_index=True)
    address = models.CharField(max_length=45)
    name_digest = models.CharField(max_length=64)

    objects = LoginAttemptQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["address", "at"], name="login_attempt_by_address")]

    def __str__(self) -> str:
        return f"{self.address} at {self.at:%H:%M}"
