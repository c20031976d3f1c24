"""Dated prices. A row is only ever added; a wrong one is struck out and stays readable."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from contractor.company.models import CheckedAtOnce
from estimating.catalogue.querysets import PriceQuerySet

from .items import Item, Stick
from .suppliers import Supplier


class Price(CheckedAtOnce):
    """What one pack (or one stick of a stock length) costs, without sales tax, from a supplier, as of a day."""

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="prices")
    stick = models.ForeignKey(Stick, on_delete=models.PROTECT, null=True, blank=True, related_name="prices")
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, null=True, blank=True, related_name="prices")
    amount = models.DecimalField(max_digits=10, decimal_places=2)
    currency = models.CharField(max_length=3)
    dated = models.DateField()
    valid_until = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)
    starter = models.BooleanField(default=False)
    entered_at = models.DateTimeField(auto_now_add=True)
    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    struck_reason = models.CharField(max_length=200, blank=True)

    objects = PriceQuerySet.as_manager()

    class Meta:
        ordering = ["-dated", "-pk"]
        indexes = [models.Index(fields=["item", "stick", "supplier", "-dated"], name="price_by_source")]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount__gt=0),
                name="price_above_zero",
                violation_error_message="A price is above zero: at zero it would be free on every quote.",
            ),
            models.CheckConstraint(
                condition=~Q(currency=""),
                name="price_has_currency",
                violation_error_message="Say in which currency: three capitals, like USD or CAD.",
            ),
            models.CheckConstraint(
                condition=Q(valid_until=None) | Q(valid_until__gte=models.F("dated")),
                name="price_ends_after_it_starts",
                violation_error_message="The price can’t end before the day it is dated.",
            ),
            models.CheckConstraint(
                condition=Q(struck_at=None) | ~Q(struck_reason=""),
                name="price_struck_with_reason",
                violation_error_message="Say why the price is struck out.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} {self.amount} {self.currency} of {self.dated}"
