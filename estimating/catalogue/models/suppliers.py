"""Who sells to the shop."""

from django.db import models
from django.db.models.functions import Lower
from django.urls import reverse

from estimating.catalogue.querysets import SupplierQuerySet


class Supplier(models.Model):
    name = models.CharField(max_length=120)
    contact = models.CharField("who to ask for", max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    account = models.CharField("our account number", max_length=60, blank=True)
    lead_days = models.PositiveSmallIntegerField("usual lead, working days", null=True, blank=True)
    notes = models.TextField(blank=True)
    active = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    objects = SupplierQuerySet.as_manager()

    class Meta:
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="supplier_name_once",
                violation_error_message="There is a supplier of that name already. Add the town.",
            ),
            models.CheckConstraint(
                condition=~models.Q(name=""), name="supplier_has_name", violation_error_message="Name the supplier."
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("catalogue:supplier", args=[self.pk])
