"""The firm's own rules for days: one row, every figure to be replaced by what holds where it works."""

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class CancellationKind(models.TextChoices):
    NONE = "none", "none"
    BUSINESS = "business", "business days after signing"
    CALENDAR = "calendar", "days after signing"


def month_field(label: str, start: int) -> models.PositiveSmallIntegerField:
    return models.PositiveSmallIntegerField(
        label, default=start, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )


def day_field(label: str, start: int) -> models.PositiveSmallIntegerField:
    return models.PositiveSmallIntegerField(
        label, default=start, validators=[MinValueValidator(1), MaxValueValidator(31)]
    )


class ScheduleRules(models.Model):
    """Working week, holidays, right to cancel, weather and ice as the firm reckons with them."""

    country = models.CharField("country", max_length=2, default="US")
    subdivision = models.CharField("state or province", max_length=10, blank=True)
    works_on = models.CharField("working week", max_length=7, default="12345")  # 1 is Monday
    day_hours = models.DecimalField(
        "productive hours a person a day",
        max_digits=4,
        decimal_places=2,
        default=Decimal("7.50"),
        validators=[MinValueValidator(1), MaxValueValidator(16)],
    )
    cancellation_kind = models.CharField(
        "right to cancel", max_length=10, choices=CancellationKind, default=CancellationKind.BUSINESS
    )
    cancellation_days = models.PositiveSmallIntegerField("how many days", default=3, validators=[MaxValueValidator(60)])
    saturdays_count = models.BooleanField("Saturdays count as business days", default=True)
    cancellation_source = models.CharField("where the rule comes from", max_length=200, blank=True)
    cancellation_checked_on = models.DateField("last checked", null=True, blank=True)
    weather_spring_one_in = models.PositiveSmallIntegerField(
        "one day in so many lost to weather, spring", default=6, validators=[MinValueValidator(2)]
    )
    weather_summer_one_in = models.PositiveSmallIntegerField(
        "one day in so many lost to weather, rest of the year", default=10, validators=[MinValueValidator(2)]
    )
    ice_out_month = month_field("ice usually out, month", 4)
    ice_out_day = day_field("ice usually out, day", 20)
    ice_in_month = month_field("ice usually in, month", 12)
    ice_in_day = day_field("ice usually in, day", 1)
    ice_margin_days = models.PositiveSmallIntegerField(
        "days kept after ice-out and before ice-in", default=7, validators=[MaxValueValidator(60)]
    )
    wind_limit_kn = models.PositiveSmallIntegerField("lake work stops at", default=18)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = "rules for days"
        verbose_name_plural = "rules for days"
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="schedule_rules_one_row"),
            models.CheckConstraint(
                condition=models.Q(day_hours__gte=1, day_hours__lte=16),
                name="schedule_day_hours",
                violation_error_message="A working day has between 1 and 16 hours.",
            ),
            models.CheckConstraint(
                condition=~models.Q(works_on=""),
                name="schedule_works_some_day",
                violation_error_message="Choose at least one working day.",
            ),
            models.CheckConstraint(
                condition=models.Q(weather_spring_one_in__gte=2, weather_summer_one_in__gte=2),
                name="schedule_weather_share",
                violation_error_message="One day in two is the most that weather can take.",
            ),
        ]

    def __str__(self) -> str:
        return "Rules for days"


class IceDates(models.Model):
    """When the ice went, or comes, on one water in one year, as seen or as reckoned."""

    water_body = models.CharField("water", max_length=100)
    year = models.PositiveSmallIntegerField("year", validators=[MinValueValidator(1900), MaxValueValidator(2200)])
    out_on = models.DateField("ice out", null=True, blank=True)
    in_on = models.DateField("ice in", null=True, blank=True)
    seen = models.BooleanField("seen, not reckoned", default=False)

    class Meta:
        ordering = ["water_body", "-year"]
        verbose_name = "ice"
        verbose_name_plural = "ice"
        constraints = [
            models.UniqueConstraint(
                fields=["water_body", "year"],
                name="ice_once_a_year",
                violation_error_message="This water has its ice dates for that year.",
            )
        ]

    def __str__(self) -> str:
        return f"Ice on {self.water_body} {self.year}"
