"""Where we build: the shore, the water, and how one gets there. None is unknown and is never zero."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from jobs.records.querysets.folding import folded
from jobs.records.querysets.sites import SiteQuerySet

from .bounds import above_zero, not_below_zero
from .levels import BottomKind, DepthPoint, LevelRange
from .limits import DockLimits, limit_bounds


class WaterKind(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    LAKE = "lake", "lake"
    POND = "pond", "pond"
    RESERVOIR = "reservoir", "reservoir"
    RIVER = "river", "river"
    TIDAL_RIVER = "tidal river", "tidal river"
    SEA = "sea", "sea"


class ShoreKind(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    SLOPE = "slope", "slope"
    BEACH = "beach", "beach"
    LEDGE = "ledge", "ledge"
    WALL = "wall", "wall"
    FIXED_DOCK = "fixed dock", "fixed dock"


class Wake(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    LOW = "low", "low"
    MEDIUM = "medium", "medium"
    HIGH = "high", "high"


class Ice(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    NONE = "none", "none"
    LIGHT = "light", "light"
    HEAVY = "heavy", "heavy"
    MOVING = "moving", "moving"


class Salt(models.TextChoices):
    UNKNOWN = "unknown", "unknown"
    FRESH = "fresh", "fresh"
    BRACKISH = "brackish", "brackish"
    SALT = "salt", "salt"


class Site(DockLimits):
    """One place on the water. The limits are what the authority's rules say there before any permit is written."""

    # Where it is
    water_body = models.CharField("lake, river or bay", max_length=100)
    water_kind = models.CharField("kind of water", max_length=12, choices=WaterKind, default=WaterKind.UNKNOWN)
    name = models.CharField("lot or road", max_length=120, blank=True)
    address = models.TextField("address", blank=True)
    directions = models.TextField("directions", blank=True)
    gate_code = models.CharField("gate code", max_length=40, blank=True)
    latitude = models.DecimalField(
        "latitude",
        max_digits=9,
        decimal_places=6,
        null=True,
        blank=True,
        validators=[MinValueValidator(-90), MaxValueValidator(90)],
    )
    longitude = models.DecimalField(
        "longitude",
        max_digits=9,
        decimal_places=6,
        null=True,
        blank=True,
        validators=[MinValueValidator(-180), MaxValueValidator(180)],
    )
    miles_from_yard = models.FloatField("miles from the yard", null=True, blank=True)
    shore_owner = models.CharField("who owns the shore", max_length=120, blank=True)
    existing_dock = models.CharField("existing dock", max_length=200, blank=True)

    # Lines and neighbours
    frontage_in = models.FloatField("frontage", null=True, blank=True)
    setback_left_in = models.FloatField("to the left line", null=True, blank=True)
    setback_right_in = models.FloatField("to the right line", null=True, blank=True)
    channel_notes = models.TextField("channel, swimmers, neighbours", blank=True)
    intake_notes = models.TextField("intakes, cables, septic, wells", blank=True)

    # By land
    access_notes = models.TextField("access by land", blank=True)
    gate_width_in = models.FloatField("gate width", null=True, blank=True)
    steps = models.PositiveIntegerField("steps", null=True, blank=True)
    carry_in = models.FloatField("carry by hand", null=True, blank=True)
    overhead_wires = models.BooleanField("overhead wires", null=True, blank=True)
    island = models.BooleanField("on an island", null=True, blank=True)

    # By water
    launch_place = models.CharField("launch place", max_length=120, blank=True)
    launch_stops_below_in = models.FloatField("launch stops working below", null=True, blank=True)
    tow_miles = models.FloatField("tow", null=True, blank=True)
    barge_needed = models.BooleanField("barge needed", null=True, blank=True)

    # Shore and bottom
    bank_height_in = models.FloatField("bank height", null=True, blank=True)
    shore_kind = models.CharField("shore", max_length=12, choices=ShoreKind, default=ShoreKind.UNKNOWN)
    hinge_level_in = models.FloatField(
        "ramp hinge or fixed dock top", null=True, blank=True
    )  # or the top of a fixed dock, on the site's datum
    bottom = models.CharField("bottom", max_length=10, choices=BottomKind, default=BottomKind.UNKNOWN)

    # Wind, wake, ice
    fetch_miles = models.FloatField("open water", null=True, blank=True)
    fetch_direction = models.CharField("open towards", max_length=40, blank=True)
    wake = models.CharField("boat wakes", max_length=8, choices=Wake, default=Wake.UNKNOWN)
    current_knots = models.FloatField("current", null=True, blank=True)
    ice = models.CharField("ice", max_length=8, choices=Ice, default=Ice.UNKNOWN)
    ice_out_usual = models.CharField("ice usually out", max_length=40, blank=True)
    ice_in_usual = models.CharField("ice usually in", max_length=40, blank=True)
    salt = models.CharField("fresh or salt", max_length=10, choices=Salt, default=Salt.UNKNOWN)
    power_wanted = models.BooleanField("power wanted at the dock", null=True, blank=True)

    notes = models.TextField("notes", blank=True)
    find_text = models.TextField(editable=False, default="")
    version = models.PositiveIntegerField(default=1)
    depths_version = models.PositiveIntegerField(default=1)  # the depths are a page of their own
    calendar_version = models.PositiveIntegerField(default=1)  # and so is the calendar of levels
    created_at = models.DateTimeField(auto_now_add=True)

    objects = SiteQuerySet.as_manager()

    class Meta:
        ordering = ["water_body", "name", "pk"]
        indexes = [models.Index(fields=["water_body"], name="site_water_body")]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(water_body=""),
                name="site_on_some_water",
                violation_error_message="Name the lake, river or bay.",
            ),
            above_zero("frontage_in", "site_frontage", "Frontage is more than nothing. Type U if it is unknown."),
            not_below_zero("setback_left_in", "site_setback_left", "A distance to the left line is zero or more."),
            not_below_zero("setback_right_in", "site_setback_right", "A distance to the right line is zero or more."),
            above_zero("gate_width_in", "site_gate_width", "A gate is wider than nothing. Type U if it is unknown."),
            not_below_zero("carry_in", "site_carry", "A carry is zero or more."),
            not_below_zero("bank_height_in", "site_bank_height", "A bank height is zero or more."),
            not_below_zero("miles_from_yard", "site_miles", "Miles from the yard are zero or more."),
            not_below_zero("tow_miles", "site_tow_miles", "Miles to tow are zero or more."),
            not_below_zero("fetch_miles", "site_fetch_miles", "Miles of open water are zero or more."),
            not_below_zero("current_knots", "site_current", "A current is zero knots or more."),
            *limit_bounds("site"),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.water_body}" if self.name else self.water_body

    def get_absolute_url(self) -> str:
        return reverse("records:site", args=[self.pk])

    def save(self, *args, **kwargs) -> None:
        self.find_text = self.words_to_find_by()
        super().save(*args, **kwargs)

    def words_to_find_by(self) -> str:
        return folded(self.water_body, self.name, self.address)

    @property
    def levels(self) -> LevelRange:
        """The range of levels; all unknown where none was written yet."""
        return getattr(self, "level_range", None) or LevelRange(site=self)

    def depths_standing(self) -> list[DepthPoint]:
        return list(self.depth_points.standing().select_related("reading"))
