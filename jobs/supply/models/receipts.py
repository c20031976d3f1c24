"""Deliveries as they were counted, what goes back, and what the supplier owes for it."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from .orders import Order, OrderLine
from .stock import MONEY, QUANTITY, LedgerStays, Shelf, Stock, plain


class Receipt(models.Model):
    """One count of one delivery. It is voided with a reason, never deleted."""

    key = models.UUIDField(unique=True)  # the form that posted it, so that it posts once
    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="receipts")
    slip = models.CharField("number of the driver’s slip", max_length=60, blank=True)
    received_on = models.DateField("came on")
    notes = models.TextField("notes", blank=True)
    driver_words = models.TextField("written on the slip", blank=True)
    slip_carries_note = models.BooleanField("the slip carries the note", default=False)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=150)
    voided_at = models.DateTimeField(null=True, blank=True)
    voided_by_name = models.CharField(max_length=150, blank=True)
    voided_reason = models.CharField("why it is void", max_length=300, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(voided_at=None) | ~Q(voided_reason=""),
                name="receipt_voided_with_reason",
                violation_error_message="Say why this count is void.",
            )
        ]

    def __str__(self) -> str:
        return f"Count of order {self.order.number}, {self.received_on}"

    def get_absolute_url(self) -> str:
        return reverse("supply:receipt", args=[self.pk])

    def delete(self, *args, **kwargs):
        raise LedgerStays("A count stays on record. Void it, with a reason.")


class ReceiptLine(models.Model):
    """One thing of a delivery, all in units of use. `stock` is what came, be it what was ordered or not."""

    receipt = models.ForeignKey(Receipt, on_delete=models.PROTECT, related_name="lines")
    order_line = models.ForeignKey(
        OrderLine, on_delete=models.PROTECT, null=True, blank=True, related_name="receipt_lines"
    )
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="receipt_lines")
    instead_of = models.ForeignKey(Stock, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    shelf = models.ForeignKey(Shelf, on_delete=models.PROTECT, related_name="+")
    ordered = models.DecimalField("owed before", **QUANTITY, default=0)
    slip = models.DecimalField("on the slip", **QUANTITY, default=0)
    counted = models.DecimalField("counted", **QUANTITY)
    damaged = models.DecimalField("damaged", **QUANTITY, default=0)
    accepted = models.DecimalField("accepted", **QUANTITY)
    over = models.DecimalField("kept beyond the order", **QUANTITY, default=0)
    to_return = models.DecimalField("to return", **QUANTITY, default=0)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(counted__gte=0, damaged__gte=0, accepted__gte=0, over__gte=0, to_return__gte=0)
                & Q(counted=F("accepted") + F("to_return"))
                & Q(accepted__gte=F("over"), to_return__gte=F("damaged")),
                name="receipt_line_adds_up",
                violation_error_message="Counted is accepted and to return together.",
            )
        ]

    def __str__(self) -> str:
        return f"{plain(self.accepted)} {self.stock}"

    @property
    def owed(self):
        """What was still to come on the ordered line after this count."""
        return self.ordered - (self.accepted - self.over)


class ReceiptPhoto(models.Model):
    """What it looked like when it came."""

    receipt = models.ForeignKey(Receipt, on_delete=models.PROTECT, related_name="photos")
    file = models.FileField(upload_to="receipts/")

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"Photo of {self.receipt}"


class Return(models.Model):
    """Goods that go back, or went back, and the money that is to come for them."""

    supplier = models.ForeignKey("catalogue.Supplier", on_delete=models.PROTECT, related_name="returns")
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="returns")
    receipt_line = models.ForeignKey(
        ReceiptLine, on_delete=models.PROTECT, null=True, blank=True, related_name="returns"
    )
    quantity = models.DecimalField(**QUANTITY)
    reason = models.CharField("why", max_length=300)
    replaced = models.BooleanField("a replacement is owed instead of money", default=False)
    restock_fee = models.DecimalField("fee for taking it back", **MONEY, default=0)
    credit_expected = models.DecimalField("credit expected", **MONEY, null=True, blank=True)
    credit_received = models.DecimalField("credit received", **MONEY, null=True, blank=True)
    credit_received_on = models.DateField("credit came", null=True, blank=True)
    went_on = models.DateField("went back", null=True, blank=True)
    voided = models.BooleanField(default=False)
    made_at = models.DateTimeField(auto_now_add=True)
    by_name = models.CharField(max_length=150)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(quantity__gt=0) & ~Q(reason=""),
                name="return_of_something_for_a_reason",
                violation_error_message="Say how many go back, and why.",
            ),
            models.CheckConstraint(
                condition=Q(restock_fee__gte=0)
                & (Q(credit_expected=None) | Q(credit_expected__gte=0))
                & (Q(credit_received=None) | Q(credit_received__gte=0)),
                name="return_money_not_below_zero",
                violation_error_message="A fee or a credit is zero or more.",
            ),
        ]

    def __str__(self) -> str:
        return f"{plain(self.quantity)} {self.stock} back to {self.supplier}"
