"""The people we build for."""

from django.db import models
from django.urls import reverse

from contractor.company.models import CheckedAtOnce
from jobs.records.querysets.clients import ClientQuerySet
from jobs.records.querysets.folding import folded


class Preference(models.TextChoices):
    UNKNOWN = "unknown", "not asked yet"
    PAPER = "paper", "paper"
    EMAIL = "email", "email"


class TaxStatus(models.TextChoices):
    TAXED = "taxed", "pays tax as usual"
    EXEMPT = "exempt", "exempt, with a certificate"


class Client(CheckedAtOnce):
    """A household or company. `names` lists everyone who must sign, one to a line; `filed_under` is how we say it."""

    names = models.TextField("names of all who sign")
    filed_under = models.CharField("filed under", max_length=80)
    company_name = models.CharField("company", max_length=120, blank=True)
    billing_address = models.TextField("billing address", blank=True)
    phones = models.TextField("phones", blank=True)  # one to a line
    email = models.EmailField("email", blank=True)
    prefers = models.CharField("papers by", max_length=8, choices=Preference, default=Preference.UNKNOWN)
    tax_status = models.CharField("tax", max_length=8, choices=TaxStatus, default=TaxStatus.TAXED)
    exemption_number = models.CharField("certificate number", max_length=60, blank=True)
    exemption_expires = models.DateField("certificate expires", null=True, blank=True)
    notes = models.TextField("notes", blank=True)
    find_text = models.TextField(editable=False, default="")
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField(auto_now_add=True)

    objects = ClientQuerySet.as_manager()

    class Meta:
        ordering = ["filed_under", "pk"]
        indexes = [models.Index(fields=["filed_under"], name="client_filed_under")]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(names=""),
                name="client_has_a_name",
                violation_error_message="Write at least one name.",
            ),
            models.CheckConstraint(
                condition=~models.Q(filed_under=""),
                name="client_filed_under_something",
                violation_error_message="Say what name this client is filed under.",
            ),
            models.CheckConstraint(
                condition=~models.Q(tax_status="exempt") | ~models.Q(exemption_number=""),
                name="client_exempt_with_number",
                violation_error_message="An exempt client needs the number of the certificate.",
            ),
        ]

    def __str__(self) -> str:
        return self.filed_under

    def get_absolute_url(self) -> str:
        return reverse("records:client", args=[self.pk])

    def save(self, *args, **kwargs) -> None:
        self.find_text = self.words_to_find_by()
        super().save(*args, **kwargs)

    def words_to_find_by(self) -> str:
        digits = ["".join(filter(str.isdigit, phone)) for phone in self.phone_lines]
        return folded(
            self.filed_under, self.names, self.company_name, self.phones, *digits, self.email, self.billing_address
        )

    @property
    def signers(self) -> list[str]:
        return [line.strip() for line in self.names.splitlines() if line.strip()]

    @property
    def first_name_line(self) -> str:
        return self.signers[0] if self.signers else self.filed_under

    @property
    def phone_lines(self) -> list[str]:
        return [line.strip() for line in self.phones.splitlines() if line.strip()]

    @property
    def first_phone(self) -> str:
        return self.phone_lines[0] if self.phone_lines else ""
