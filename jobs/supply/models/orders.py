"""Purchase orders: many jobs on one order, each line knows its jobs, every promised day is kept."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.supply.querysets.orders import OrderLineQuerySet, OrderQuerySet

from .needs import Need
from .stock import MONEY, QUANTITY, LedgerStays, Stock, plain


class OrderState(models.TextChoices):
    DRAFT = "draft", "Not sent"
    SENT = "sent", "On order"
    DONE = "done", "All here"
    DROPPED = "dropped", "Dropped before it was sent"


class Order(models.Model):
    """One supplier's order. The number is given when it is sent, in order, and never skips."""

    number = models.PositiveIntegerField(null=True, blank=True, unique=True)
    supplier = models.ForeignKey("catalogue.Supplier", on_delete=models.PROTECT, related_name="orders")
    state = models.CharField(max_length=8, choices=OrderState, default=OrderState.DRAFT)
    needed_by = models.DateField("needed by")
    ship_to = models.TextField("deliver to", blank=True)
    notes = models.TextField("to the supplier", blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    sent_at = models.DateTimeField(null=True, blank=True)
    pdf = models.BinaryField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = OrderQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["draft", "dropped"], number=None)
                | Q(state__in=["sent", "done"], number__isnull=False, sent_at__isnull=False),
                name="order_sent_has_number",
                violation_error_message="An order that went out carries its number and its day.",
            ),
        ]

    def __str__(self) -> str:
        return f"Order {self.number}" if self.number else f"Order to {self.supplier}, not sent"

    def get_absolute_url(self) -> str:
        return reverse("supply:order", args=[self.pk])


class OrderLine(models.Model):
    """One thing on an order. Packs are what the supplier counts, `quantity` is in units of use."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="lines")
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="order_lines")
    packs = models.DecimalField("packs", max_digits=9, decimal_places=0)
    pack_size = models.DecimalField("each pack holds", max_digits=9, decimal_places=3, default=1)
    pack_words = models.CharField(max_length=60)
    unit_price = models.DecimalField("price of a pack", **MONEY, null=True, blank=True)
    quantity = models.DecimalField("ordered", **QUANTITY)
    accepted = models.DecimalField("accepted", **QUANTITY, default=0)
    cancelled = models.DecimalField("cancelled", **QUANTITY, default=0)
    expected_on = models.DateField("promised for", null=True, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    objects = OrderLineQuerySet.as_manager()

    class Meta:
        ordering = ["order_id", "position", "pk"]
        indexes = [models.Index(fields=["stock"], name="line_by_stock")]
        constraints = [
            models.CheckConstraint(
                condition=Q(packs__gt=0, pack_size__gt=0, quantity=F("packs") * F("pack_size")),
                name="line_packs_make_quantity",
                violation_error_message="Order one pack at least.",
            ),
            models.CheckConstraint(
                condition=Q(accepted__gte=0, cancelled__gte=0, quantity__gte=F("accepted") + F("cancelled")),
                name="line_never_owed_below_zero",
                violation_error_message="That is more than the order still owes.",
            ),
            models.CheckConstraint(
                condition=Q(unit_price=None) | Q(unit_price__gte=0),
                name="line_price_not_below_zero",
                violation_error_message="A price is zero or more.",
            ),
        ]

    def __str__(self) -> str:
        return f"{plain(self.packs)} {self.pack_words} {self.stock}"

    @property
    def owed(self):
        return self.quantity - self.accepted - self.cancelled

    @property
    def amount(self):
        return None if self.unit_price is None else self.packs * self.unit_price

    @property
    def cost_each(self):
        """What one unit of use costs."""
        return None if self.unit_price is None else self.unit_price / self.pack_size


class OrderShare(models.Model):
    """The part of a line that one job's need asked for."""

    line = models.ForeignKey(OrderLine, on_delete=models.CASCADE, related_name="shares")
    need = models.ForeignKey(Need, on_delete=models.PROTECT, related_name="shares")
    quantity = models.DecimalField(**QUANTITY)

    class Meta:
        ordering = ["line_id", "need_id"]
        constraints = [
            models.UniqueConstraint(
                fields=["line", "need"], name="share_once", violation_error_message="That job is on this line already."
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="share_sane",
                violation_error_message="A job's share is above zero.",
            ),
        ]

    def __str__(self) -> str:
        return f"{plain(self.quantity)} for {self.need_id}"


class ExpectedDate(models.Model):
    """A day the supplier named for a line. The first stays beside every slip."""

    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="promises")
    expected_on = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=150)
    said_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.expected_on}"

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise LedgerStays("A promised day stays on record. Add the new one.")
        super().save(*args, **kwargs)
