"""Water: its range, what was read when, and how deep it is where. Inches; a level may be below its datum's zero."""

from django.db import models

from contractor.company.models import CheckedAtOnce
from jobs.records.querysets.levels import DepthPointQuerySet, LevelReadingQuerySet

from .bounds import in_order, not_below_zero


class BottomKind(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    SAND = "sand", "sand"
    GRAVEL = "gravel", "gravel"
    MUD = "mud", "mud"
    CLAY = "clay", "clay"
    LEDGE = "ledge", "ledge"
    BOULDERS = "boulders", "boulders"
    WEED = "weed", "weed"


class ReadingSource(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    GAUGE = "gauge", "gauge"
    STAFF = "staff", "staff"
    MARK = "mark", "mark"
    CUSTOMER = "customer", "customer said"


class LevelNames(models.TextChoices):
    """What low, normal and high are called on this water."""

    WATER = "water", "low, normal, high"
    TIDE = "tide", "low, mean, high tide"
    TIDAL_DATUMS = "datums", "tidal datums"


NAMED = {
    LevelNames.WATER: ("low", "normal", "high", "storm"),
    LevelNames.TIDE: ("low tide", "mean tide", "high tide", "storm"),
    LevelNames.TIDAL_DATUMS: ("mean lower low water", "mean water", "mean higher high water", "storm"),
}


class LevelRange(CheckedAtOnce):
    """How low and how high the water stands at a site, all four on one datum."""

    site = models.OneToOneField("records.Site", on_delete=models.CASCADE, related_name="level_range")
    datum = models.CharField("measured from", max_length=80, blank=True)
    names = models.CharField("what they are called", max_length=8, choices=LevelNames, default=LevelNames.WATER)
    low_in = models.FloatField("low water", null=True, blank=True)
    normal_in = models.FloatField("normal water", null=True, blank=True)
    high_in = models.FloatField("high water", null=True, blank=True)
    storm_in = models.FloatField("storm water", null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            in_order("low_in", "normal_in", "level_low_to_normal", "Low water cannot stand above normal water."),
            in_order("normal_in", "high_in", "level_normal_to_high", "Normal water cannot stand above high water."),
            in_order("low_in", "high_in", "level_low_to_high", "Low water cannot stand above high water."),
            in_order("high_in", "storm_in", "level_high_to_storm", "High water cannot stand above storm water."),
            in_order("normal_in", "storm_in", "level_normal_to_storm", "Normal water cannot stand above storm water."),
            in_order("low_in", "storm_in", "level_low_to_storm", "Low water cannot stand above storm water."),
            models.CheckConstraint(
                condition=~models.Q(datum="") | models.Q(low_in=None, normal_in=None, high_in=None, storm_in=None),
                name="level_range_names_datum",
                violation_error_message="Say what the levels are measured from: a mark, a staff, full pool.",
            ),
        ]

    def __str__(self) -> str:
        return f"levels on {self.datum}" if self.datum else "levels unknown"

    def named(self) -> tuple[tuple[str, float | None], ...]:
        """Low, normal, high and storm under the names they have here."""
        levels = (self.low_in, self.normal_in, self.high_in, self.storm_in)
        return tuple(zip(NAMED[LevelNames(self.names)], levels, strict=True))


class LevelReading(models.Model):
    """The water at one minute, and how that was known. Added, never changed."""

    site = models.ForeignKey("records.Site", on_delete=models.PROTECT, related_name="readings")
    read_at = models.DateTimeField("when")
    value_in = models.FloatField("level")
    datum = models.CharField("measured from", max_length=80)
    source = models.CharField("how it was known", max_length=10, choices=ReadingSource, default=ReadingSource.UNKNOWN)
    observer = models.CharField("who read it", max_length=80, blank=True)
    note = models.CharField(max_length=200, blank=True)
    struck_out = models.BooleanField(default=False)

    objects = LevelReadingQuerySet.as_manager()

    class Meta:
        ordering = ["-read_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(datum=""),
                name="reading_names_datum",
                violation_error_message="Say what the reading is measured from: a mark, a staff, full pool.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.read_at:%-d %B %Y} on {self.datum}"


class DepthPoint(CheckedAtOnce):
    """Depth at one spot. Without a reading it is taken as stated at normal level."""

    site = models.ForeignKey("records.Site", on_delete=models.CASCADE, related_name="depth_points")
    label = models.CharField("where", max_length=60)
    distance_in = models.FloatField("distance from shore", null=True, blank=True)
    depth_in = models.FloatField("depth", null=True, blank=True)
    reading = models.ForeignKey(
        LevelReading, on_delete=models.PROTECT, null=True, blank=True, related_name="depth_points"
    )
    bottom = models.CharField("bottom", max_length=10, choices=BottomKind, default=BottomKind.UNKNOWN)
    soft_depth_in = models.FloatField("soft bottom", null=True, blank=True)
    position = models.PositiveSmallIntegerField(default=0)
    struck_out = models.BooleanField(default=False)  # what was measured stays readable

    objects = DepthPointQuerySet.as_manager()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            not_below_zero("distance_in", "depth_distance", "A distance from shore is zero or more."),
            not_below_zero("depth_in", "depth_depth", "A depth is zero or more."),
            not_below_zero("soft_depth_in", "depth_soft", "A soft depth is zero or more."),
            models.UniqueConstraint(
                fields=["site", "label"],
                condition=models.Q(struck_out=False),
                name="depth_label_once_a_site",
                violation_error_message="Two depths here have the same name. Give each its own.",
            ),
        ]

    def __str__(self) -> str:
        return self.label

    def bottom_in(self, levels: LevelRange) -> float | None:
        """The level of the bottom on the site's datum, whatever the water stood at; None where that is unknown."""
        below = self.below_normal_in(levels)
        return None if below is None or levels.normal_in is None else levels.normal_in - below

    def below_normal_in(self, levels: LevelRange) -> float | None:
        """Depth at normal level; None where it was measured at a level that cannot be set against normal.

        A depth without a reading was stated at normal level.
        """
        if self.depth_in is None or self.reading is None:
            return self.depth_in
        if levels.normal_in is None or self.reading.datum != levels.datum:
            return None
        return self.depth_in + levels.normal_in - self.reading.value_in
