"""What each job needs, when, and how much of it lies set aside."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from jobs.supply.querysets.needs import NeedQuerySet

from .stock import QUANTITY, LedgerStays, Stock, plain


class Need(models.Model):
    """So much of a thing for one stage of one job. It is cancelled, never deleted."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="needs")
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="needs")
    quantity = models.DecimalField("needed", **QUANTITY)
    set_aside = models.DecimalField("set aside", **QUANTITY, default=0)
    issued = models.DecimalField("taken to the job", **QUANTITY, default=0)
    stage = models.CharField(max_length=12)
    section = models.CharField(max_length=4, blank=True)
    needed_by = models.DateField("needed by")
    signed_on = models.DateField("signed")
    revision = models.CharField("from spec", max_length=3, blank=True)
    reason = models.CharField("why", max_length=300, blank=True)
    instead_of = models.ForeignKey(
        Stock, on_delete=models.PROTECT, null=True, blank=True, related_name="+", verbose_name="instead of"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)
    cancelled_reason = models.CharField(max_length=300, blank=True)

    objects = NeedQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "pk"]
        indexes = [
            models.Index(
                fields=["job", "stage"],
                name="need_missing",
                condition=Q(cancelled_at=None, quantity__gt=F("set_aside") + F("issued")),
            ),
            models.Index(fields=["stock", "needed_by"], name="need_by_stock"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="need_above_zero",
                violation_error_message="A job needs more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(set_aside__gte=0, issued__gte=0, quantity__gte=F("set_aside") + F("issued")),
                name="need_not_covered_twice",
                violation_error_message="That is more than the job needs.",
            ),
            models.CheckConstraint(
                condition=Q(cancelled_at=None) | (Q(set_aside=0) & ~Q(cancelled_reason="")),
                name="need_cancelled_holds_nothing",
                violation_error_message="Say why it is no longer needed, and put back what was set aside.",
            ),
        ]

    def __str__(self) -> str:
        return f"{plain(self.quantity)} {self.stock}"

    @property
    def missing(self):
        return self.quantity - self.set_aside - self.issued


class SetAside(models.Model):
    """The journal of one need's set-aside goods: so many put aside (above zero) or given up (below)."""

    need = models.ForeignKey(Need, on_delete=models.PROTECT, related_name="asides")
    quantity = models.DecimalField(**QUANTITY)
    reason = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=150)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(quantity=0), name="aside_of_something", violation_error_message="Nothing was set aside."
            )
        ]

    def __str__(self) -> str:
        return f"{plain(self.quantity)} for {self.need}"

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise LedgerStays("What was set aside stays on record.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise LedgerStays("What was set aside stays on record.")


class KeptAdvice(models.Model):
    """Whom the goods of one thing can serve first, solved when they last moved; `mark` says for which facts."""

    stock = models.OneToOneField(Stock, on_delete=models.CASCADE, related_name="advice")
    mark = models.CharField(max_length=64)
    words = models.TextField(blank=True)

    def __str__(self) -> str:
        return self.words
