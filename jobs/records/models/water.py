"""What the water does over the years: the calendar it is held to, and the gauges that measure it. Inches."""

from datetime import date

from django.db import models
from django.urls import reverse

from estimating.engine.water.packing import joined, unpacked
from estimating.engine.water.series import Series
from jobs.records.querysets.water import GaugeQuerySet


class GaugeKind(models.TextChoices):
    MEASURED = "measured", "measured"
    PREDICTED = "predicted", "predicted"


class GaugeUnit(models.TextChoices):
    FEET = "ft", "feet"
    METRES = "m", "metres"


class CalendarLevel(models.Model):
    """What the water is meant to stand at on a day of every year, on the datum of the site's levels."""

    site = models.ForeignKey("records.Site", on_delete=models.CASCADE, related_name="calendar_levels")
    month = models.PositiveSmallIntegerField("month")
    day = models.PositiveSmallIntegerField("day")
    level_in = models.FloatField("level")

    class Meta:
        ordering = ["month", "day"]
        constraints = [
            models.UniqueConstraint(
                fields=["site", "month", "day"],
                name="calendar_level_once_a_day",
                violation_error_message="Two rows are for the same day. Keep one.",
            ),
            models.CheckConstraint(
                condition=models.Q(month__gte=1, month__lte=12, day__gte=1, day__lte=31),
                name="calendar_level_on_a_day",
                violation_error_message="Type a day of the year, like 15 March.",
            ),
        ]

    def __str__(self) -> str:
        return f"{date(2024, self.month, self.day):%-d %B}"


class Gauge(models.Model):
    """One gauge's series at a site. It grows with every file; a wrong one is struck out, never erased."""

    site = models.ForeignKey("records.Site", on_delete=models.PROTECT, related_name="gauges")
    keeper = models.CharField("kept by", max_length=60)
    station = models.CharField("station", max_length=60, blank=True)
    parameter = models.CharField("what", max_length=60)
    kind = models.CharField("measured or predicted", max_length=10, choices=GaugeKind)
    unit = models.CharField("unit of the file", max_length=2, choices=GaugeUnit)
    datum = models.CharField("measured from", max_length=80)
    above_site_in = models.FloatField("its zero above the site’s datum", null=True, blank=True)
    count = models.PositiveIntegerField("readings", default=0)
    missing = models.PositiveIntegerField("blank rows", default=0)
    flagged = models.PositiveIntegerField("doubtful readings", default=0)
    first_at = models.DateTimeField("from", null=True, blank=True)
    last_at = models.DateTimeField("to", null=True, blank=True)
    struck_out = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    objects = GaugeQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["site", "keeper", "station", "parameter", "kind"],
                condition=models.Q(struck_out=False),
                name="gauge_once_a_site",
                violation_error_message="This gauge is here already.",
            ),
            models.CheckConstraint(
                condition=~models.Q(datum=""),
                name="gauge_names_datum",
                violation_error_message="Say what the gauge measures from: its own zero, full pool, chart datum.",
            ),
        ]

    def __str__(self) -> str:
        between = " of " if self.keeper.startswith("our") else " "
        named = between.join(filter(None, [self.keeper, self.station]))
        what = self.parameter.lower()
        return named if what == "water level" else f"{named}, {what}"

    def get_absolute_url(self) -> str:
        return reverse("records:gauge", args=[self.site_id, self.pk])

    @property
    def count_said(self) -> str:
        return f"{self.count:,}"

    def readings(self) -> Series:
        """The whole series, inches above the gauge's zero."""
        return joined([unpacked(bytes(block.packed), block.year) for block in self.blocks.order_by("year")])

    def readings_of(self, years: set[int]) -> Series:
        """The readings of some years alone."""
        blocks = self.blocks.filter(year__in=years).order_by("year")
        return joined([unpacked(bytes(block.packed), block.year) for block in blocks])

    def to_site_in(self, datum: str) -> float | None:
        """What to add to a level of this gauge to have it on the site's datum; None where the two cannot be set
        against each other."""
        return 0.0 if self.datum == datum else self.above_site_in


class GaugeBlock(models.Model):
    """One year of a gauge's readings, UTC, compressed: a row for each reading would cost minutes and gigabytes."""

    gauge = models.ForeignKey(Gauge, on_delete=models.CASCADE, related_name="blocks")
    year = models.SmallIntegerField("year")
    count = models.PositiveIntegerField("readings")
    packed = models.BinaryField("readings, packed")

    class Meta:
        ordering = ["year"]
        constraints = [models.UniqueConstraint(fields=["gauge", "year"], name="gauge_block_once_a_year")]

    def __str__(self) -> str:
        return f"{self.year}"
