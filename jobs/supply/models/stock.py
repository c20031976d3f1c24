"""What the yard holds: things by shelf, and the ledger of every movement that made it so."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from contractor.company.current import units
from contractor.quantities import format_length
from jobs.supply.querysets.stock import MovementQuerySet, StockQuerySet

QUANTITY = {"max_digits": 12, "decimal_places": 3}
MONEY = {"max_digits": 12, "decimal_places": 2}


def plain(quantity: Decimal) -> str:
    """A quantity without idle zeros.

    >>> plain(Decimal("12.000")), plain(Decimal("2.50"))
    ('12', '2.5')
    """
    return f"{Decimal(quantity).normalize():f}"


class LedgerStays(TypeError):
    """What moved is never changed or taken away; the contrary movement is entered."""


class Shelf(models.Model):
    """A place in the yard that has a name."""

    name = models.CharField(max_length=40, unique=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Stock(models.Model):
    """One thing the yard can hold: an item, and for sticks their length. The row is the lock of all that moves it.

    `on_hand` is the sum of the movements, `set_aside` the part of it that jobs have spoken for.
    """

    item = models.ForeignKey("catalogue.Item", on_delete=models.PROTECT, related_name="stocks")
    length_in = models.FloatField("length", default=0.0)  # 0: not kept by length
    offcut = models.BooleanField("left from cutting", default=False)
    on_hand = models.DecimalField("on hand", **QUANTITY, default=0)
    set_aside = models.DecimalField("set aside", **QUANTITY, default=0)
    counted_on = models.DateField("last counted", null=True, blank=True)

    objects = StockQuerySet.as_manager()

    class Meta:
        ordering = ["item_id", "length_in"]
        indexes = [models.Index(fields=["item"], name="stock_here", condition=Q(on_hand__gt=0))]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "length_in"],
                name="stock_once",
                violation_error_message="The yard has one row for each thing and length.",
            ),
            models.CheckConstraint(
                condition=Q(set_aside__gte=0) & Q(on_hand__gte=F("set_aside")),
                name="stock_covers_set_aside",
                violation_error_message="There is not that much on hand, or it is set aside for jobs.",
            ),
            models.CheckConstraint(
                condition=Q(length_in__gte=0),
                name="stock_length_not_below_zero",
                violation_error_message="A length is above zero.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} {format_length(self.length_in, units())}" if self.length_in else str(self.item)

    def so_many(self, quantity: Decimal) -> str:
        """So many of it, as one says it in a sentence: 8 floats 24 x 36 x 16 in, 26 ft of chain."""
        number, name = plain(quantity), str(self)
        if self.length_in:
            return f"{number} stick{'' if quantity == 1 else 's'} of {name}"
        if self.item.kind == "float" and name.lower().startswith("float "):
            return f"{number} float{'' if quantity == 1 else 's'} {name[6:]}"
        return f"{number} × {name}" if self.unit == "each" else f"{number} {self.unit} of {name}"

    def get_absolute_url(self) -> str:
        return reverse("supply:history", args=[self.pk])

    @property
    def free(self):
        return self.on_hand - self.set_aside

    @property
    def unit(self) -> str:
        """What one of it is called: a stick by its length, otherwise the item's own unit of use."""
        return "each" if self.length_in else self.item.use_unit


class MovementKind(models.TextChoices):
    RECEIVED = "received", "received"
    RECEIPT_VOIDED = "voided", "receipt voided"
    ISSUED = "issued", "taken to a job"
    BROUGHT_BACK = "back", "brought back from a job"
    COUNTED = "counted", "counted"
    ADJUSTED = "adjusted", "adjusted"
    SENT_BACK = "returned", "sent back to the supplier"
    CUT = "cut", "cut up"
    OFFCUT = "offcut", "left from cutting"
    MOVED = "moved", "moved to another shelf"


class Movement(models.Model):
    """So many of a thing came to a shelf (above zero) or left it (below). Added, never changed."""

    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="movements")
    shelf = models.ForeignKey(Shelf, on_delete=models.PROTECT, related_name="movements")
    quantity = models.DecimalField(**QUANTITY)
    kind = models.CharField(max_length=10, choices=MovementKind)
    unit_cost = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)  # of what came, if known
    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    need = models.ForeignKey("supply.Need", on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    receipt_line = models.ForeignKey(
        "supply.ReceiptLine", on_delete=models.PROTECT, null=True, blank=True, related_name="movements"
    )
    reason = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=150)
    at = models.DateTimeField(auto_now_add=True)

    objects = MovementQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["stock", "shelf"], name="movement_by_shelf")]
        constraints = [
            models.CheckConstraint(
                condition=~Q(quantity=0),
                name="movement_moves_something",
                violation_error_message="Nothing moved.",
            ),
            models.CheckConstraint(
                condition=~Q(kind__in=["adjusted", "counted", "voided"]) | ~Q(reason=""),
                name="movement_adjusted_with_reason",
                violation_error_message="Say why the count is changed.",
            ),
        ]

    def __str__(self) -> str:
        return f"{plain(self.quantity)} {self.stock} {self.get_kind_display()}"

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise LedgerStays("A movement stays as it was entered. Enter the contrary one.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise LedgerStays("A movement stays as it was entered. Enter the contrary one.")
