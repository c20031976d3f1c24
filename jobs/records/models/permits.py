"""What each authority asked, answered and limited; and the dates on which work is allowed or barred."""

from datetime import date

from django.db import models
from django.urls import reverse

from estimating.engine.permitted import DayRange, PermitDays

from .bounds import in_order, not_below_zero
from .limits import DockLimits, limit_bounds


class PermitState(models.TextChoices):
    """Read from the dates, never typed."""

    NEEDED = "needed", "not applied for"
    APPLIED = "applied", "applied for"
    ISSUED = "issued", "issued, not in force yet"
    IN_FORCE = "in force", "in force"
    EXPIRED = "expired", "expired"
    NOT_NEEDED = "not needed", "not needed"


class Permit(DockLimits):
    """One authority's permit for one job."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="permits")
    authority = models.CharField("authority", max_length=120)
    kind = models.CharField("kind of permit", max_length=80, blank=True)
    number = models.CharField("number", max_length=60, blank=True)
    needed = models.BooleanField("needed", default=True)
    applied_on = models.DateField("applied", null=True, blank=True)
    issued_on = models.DateField("issued", null=True, blank=True)
    starts_on = models.DateField("in force from", null=True, blank=True)
    expires_on = models.DateField("expires", null=True, blank=True)
    expected_on = models.DateField("answer expected", null=True, blank=True)
    fee = models.DecimalField("fee", max_digits=10, decimal_places=2, null=True, blank=True)
    who_applies = models.CharField("who applies", max_length=80, blank=True)
    conditions = models.TextField("conditions", blank=True)
    posting_required = models.BooleanField("must be posted", null=True, blank=True)
    approved_revision = models.ForeignKey(
        "records.SpecRevision",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="permits",
        verbose_name="spec approved",
    )
    file = models.FileField("paper", upload_to="permits/", blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(authority=""),
                name="permit_names_authority",
                violation_error_message="Name the authority: the town, the state, the power company.",
            ),
            in_order("applied_on", "issued_on", "permit_issued_after_applied", "Issued before it was applied for."),
            in_order("starts_on", "expires_on", "permit_expires_after_start", "It expires before it starts."),
            in_order("issued_on", "expires_on", "permit_expires_after_issue", "It expires before it was issued."),
            not_below_zero("fee", "permit_fee", "A fee is zero or more."),
            *limit_bounds("permit"),
        ]

    def __str__(self) -> str:
        return f"{self.authority} {self.number}".strip()

    def get_absolute_url(self) -> str:
        return reverse("records:permit", args=[self.job.number, self.pk])

    def state(self, *, on: date) -> PermitState:
        """Where it stands on a day. An issued permit without a start is in force from its issue."""
        if not self.needed:
            return PermitState.NOT_NEEDED
        if self.issued_on is None or self.issued_on > on:
            return PermitState.APPLIED if self.applied_on else PermitState.NEEDED
        if self.expires_on and self.expires_on < on:
            return PermitState.EXPIRED
        if self.starts_on and self.starts_on > on:
            return PermitState.ISSUED
        return PermitState.IN_FORCE

    @property
    def days(self) -> PermitDays:
        return PermitDays(self.authority, self.issued_on, self.starts_on, self.expires_on, self.needed)


class WindowKind(models.TextChoices):
    ALLOWED = "allowed", "only between"
    BARRED = "barred", "not between"


class WorkWindow(models.Model):
    """Days of every year, first and last included, on which in-water work is allowed or barred; may cross New Year."""

    site = models.ForeignKey(
        "records.Site", on_delete=models.CASCADE, null=True, blank=True, related_name="work_windows"
    )
    permit = models.ForeignKey(Permit, on_delete=models.CASCADE, null=True, blank=True, related_name="work_windows")
    kind = models.CharField(max_length=8, choices=WindowKind)
    first_month = models.PositiveSmallIntegerField()
    first_day = models.PositiveSmallIntegerField()
    last_month = models.PositiveSmallIntegerField()
    last_day = models.PositiveSmallIntegerField()
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(site__isnull=True, permit__isnull=False)
                | models.Q(site__isnull=False, permit__isnull=True),
                name="window_of_one_thing",
                violation_error_message="Work dates belong to a site or to a permit.",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    first_month__gte=1,
                    first_month__lte=12,
                    last_month__gte=1,
                    last_month__lte=12,
                    first_day__gte=1,
                    first_day__lte=31,
                    last_day__gte=1,
                    last_day__lte=31,
                ),
                name="window_days_exist",
                violation_error_message="That day is not in the calendar.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.first_day}.{self.first_month} to {self.last_day}.{self.last_month}"

    @property
    def days(self) -> DayRange:
        return DayRange((self.first_month, self.first_day), (self.last_month, self.last_day))

    @property
    def crosses_new_year(self) -> bool:
        return self.days.crosses_new_year

    def covers(self, day: date) -> bool:
        """Whether a day lies in the range, in whatever year."""
        return self.days.covers(day)
