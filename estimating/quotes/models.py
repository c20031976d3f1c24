"""Quotes: drafts that follow their spec, and sent papers that never change again."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from contractor.company.models import CheckedAtOnce

from .querysets import QuoteQuerySet

MONEY = {"max_digits": 12, "decimal_places": 2}
PERCENT = {"max_digits": 6, "decimal_places": 3}


class QuoteState(models.TextChoices):
    DRAFT = "draft", "Not sent"
    SENT = "sent", "Sent"
    ACCEPTED = "accepted", "Accepted"
    REFUSED = "refused", "Refused"
    REPLACED = "replaced", "Replaced by a later revision"


class TaxMode(models.TextChoices):
    """The engine's five tax modes, as the office says them."""

    SHOP_PAYS = "shop_is_end_user", "The shop pays tax on what it buys; no tax line"
    MATERIALS = "separated_materials", "Separate prices: tax on the materials only"
    WHOLE_PRICE = "whole_price", "Tax on the whole price"
    BOTH = "end_user_and_whole_price", "The shop pays on what it buys, and tax on the whole price"
    EXEMPT = "exempt", "The customer is exempt, with a certificate"


class AcceptedBy(models.TextChoices):
    PAPER = "paper", "Signed on paper"
    SCAN = "scan", "Signed and scanned back"
    EMAIL = "email", "By email"
    IN_PERSON = "in person", "In person, in writing"


class Quote(CheckedAtOnce):
    """One revision of the quote for a job. Figures and papers are empty while it is a draft and fixed once sent."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="quotes")
    letter = models.CharField(max_length=3)
    state = models.CharField(max_length=10, choices=QuoteState, default=QuoteState.DRAFT)
    version = models.PositiveIntegerField(default=1)  # of what is typed on the quote

    spec_letter = models.CharField(max_length=3)
    spec_document = models.JSONField()
    spec_version = models.PositiveIntegerField(default=1)  # counts each time the draft follows its spec

    margin_percent = models.DecimalField("margin on price", **PERCENT)
    rounding_step = models.DecimalField("round to", **MONEY)
    tax_mode = models.CharField("tax", max_length=40, choices=TaxMode)
    tax_reason = models.CharField("why not the usual tax", max_length=200, blank=True)
    valid_until = models.DateField("valid until")

    title = models.CharField("heading", max_length=200)
    scope = models.TextField("what we build", blank=True)
    inclusions = models.TextField("what they get", blank=True)
    exclusions = models.TextField("not in the price", blank=True)
    assumptions = models.TextField("what we assumed", blank=True)
    timing = models.TextField("when", blank=True)
    changes_text = models.TextField("changes and warranty", blank=True)
    cancellation = models.TextField("right to cancel", blank=True)
    below_floor_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        related_name="+",
        null=True,
        blank=True,
        verbose_name="owner who agreed to less than the floor",
    )
    below_floor_reason = models.CharField("why below the floor", max_length=200, blank=True)

    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    sent_at = models.DateTimeField(null=True, blank=True)
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    figures = models.JSONField(null=True, blank=True)
    paper_words = models.JSONField(default=dict, blank=True)  # what the customer reads, line by line, to compare with
    payment_rule = models.JSONField(default=dict, blank=True)  # the deposit and the shares, as they were when sent
    total = models.DecimalField(**MONEY, null=True, blank=True)
    customer_pdf = models.BinaryField(null=True, blank=True)
    shop_pdf = models.BinaryField(null=True, blank=True)
    customer_pdf_sha256 = models.CharField(max_length=64, blank=True)
    shop_pdf_sha256 = models.CharField(max_length=64, blank=True)
    what_changed = models.JSONField(default=dict, blank=True)  # sentences for "customer" and for "shop"

    accepted_on = models.DateField(null=True, blank=True)
    accepted_by_name = models.CharField(max_length=200, blank=True)
    accepted_how = models.CharField(max_length=10, choices=AcceptedBy, blank=True)
    accepted_total = models.DecimalField(**MONEY, null=True, blank=True)
    payments = models.JSONField(default=list, blank=True)  # as sent; after the answer, of what was accepted
    scan = models.FileField(upload_to="quotes/scans/", blank=True)
    refused_on = models.DateField(null=True, blank=True)
    refused_reason = models.TextField(blank=True)

    objects = QuoteQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "letter"],
                name="quote_letter_once_a_job",
                violation_error_message="This job already has a quote with that letter.",
            ),
            models.UniqueConstraint(
                fields=["job"],
                condition=models.Q(state="draft"),
                name="quote_one_draft_a_job",
                violation_error_message="This job already has a quote that was not sent yet.",
            ),
            models.UniqueConstraint(
                fields=["job"],
                condition=models.Q(state="accepted"),
                name="quote_one_accepted_a_job",
                violation_error_message="A quote for this job was accepted already.",
            ),
            models.CheckConstraint(
                condition=models.Q(state="draft")
                | models.Q(
                    sent_at__isnull=False, total__isnull=False, figures__isnull=False, customer_pdf__isnull=False
                ),
                name="quote_sent_is_whole",
                violation_error_message="A sent quote keeps its figures and its paper.",
            ),
            models.CheckConstraint(
                condition=~models.Q(state="accepted")
                | (models.Q(accepted_on__isnull=False) & ~models.Q(accepted_by_name="")),
                name="quote_accepted_by_someone",
                violation_error_message="An accepted quote names who accepted it and when.",
            ),
            models.CheckConstraint(
                condition=~models.Q(state="refused") | ~models.Q(refused_reason=""),
                name="quote_refused_with_reason",
                violation_error_message="Say why the quote was refused.",
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.job.number} {self.letter}"

    def get_absolute_url(self) -> str:
        return reverse("quotes:quote", args=[self.pk])

    @property
    def is_draft(self) -> bool:
        return self.state == QuoteState.DRAFT

    @property
    def offered(self) -> str:
        """Its options in one line, as the change log and a conflict say them."""
        return offered_words(vars(option) for option in self.options.all())

    def has_run_out(self, *, on: date) -> bool:
        """Sent, not answered, and the promised price no longer holds on this day."""
        return self.state == QuoteState.SENT and self.valid_until < on


def offered_words(options: Iterable[Mapping[str, Any]]) -> str:
    """
    >>> offered_words([{"name": "Ladder", "typed_amount": None}, {"name": "Old dock away", "typed_amount": 380}])
    'Ladder; Old dock away, 380'
    """
    return (
        "; ".join(", ".join(str(o[key]) for key in ("name", "typed_amount") if o.get(key)) for o in options) or "none"
    )


class OptionKind(models.TextChoices):
    SUM = "sum", "A named sum"
    SWAP = "swap", "Another material"
    ADD = "add", "Something added"


class QuoteOption(models.Model):
    """Something the customer can take or leave. A swap or an addition is priced by the engine as a difference.

    `change` holds, for a swap, {"from": code, "to": code}; for an addition, {"item": code, "quantity": n}.
    """

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="options")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    words = models.CharField(max_length=300, blank=True)
    kind = models.CharField(max_length=6, choices=OptionKind)
    change = models.JSONField(default=dict, blank=True)
    typed_amount = models.DecimalField(**MONEY, null=True, blank=True)
    amount = models.DecimalField(**MONEY, null=True, blank=True)  # fixed when the quote is sent
    special_order = models.DecimalField(**MONEY, default=0)  # what it adds to the goods ordered for this job alone
    taken = models.BooleanField(null=True, blank=True)  # None until the customer answers

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(kind="sum") | models.Q(typed_amount__isnull=False),
                name="option_sum_has_amount",
                violation_error_message="Type the amount of this option.",
            ),
            models.UniqueConstraint(
                fields=["quote", "position"],
                name="option_position_once",
                violation_error_message="Two options cannot stand in the same place.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def instead_of(self) -> str:
        """The code a swap replaces; empty for the rest. Two swaps of one material are alternatives: one can be had."""
        return self.change.get("from", "") if self.kind == OptionKind.SWAP else ""
