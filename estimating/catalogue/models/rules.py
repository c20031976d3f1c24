"""The firm's own rules: which sets go to which joint, and what a spec that says nothing gets."""

from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from estimating.catalogue.querysets import JointRuleQuerySet

from .items import Item


class Place(models.TextChoices):
    OUTER_CORNER = "outer_corner", "Outer corner"
    INNER_CORNER = "inner_corner", "Inner corner"
    TEE = "tee", "Tee"
    CROSS_END = "cross_end", "End of a cross member"
    HINGED_JOINT = "hinged_joint", "Hinged joint between sections"
    RIGID_JOINT = "rigid_joint", "Rigid joint between sections"
    RAMP_DOCK_END = "ramp_dock_end", "Ramp, dock end"
    RAMP_SHORE_END = "ramp_shore_end", "Ramp, shore end"
    BOARD_CROSSING = "board_crossing", "Board over a support"
    CHAIN_RETAINER = "chain_retainer", "Chain to the frame"


class JointRule(models.Model):
    """What one joint of a kind takes on docks of a length (over `dock_over_in`, up to and with `dock_to_in`)."""

    place = models.CharField(max_length=20, choices=Place)
    name = models.CharField(max_length=120)
    dock_over_in = models.FloatField("docks over", default=0.0)
    dock_to_in = models.FloatField("docks up to", null=True, blank=True)
    bolts = models.PositiveSmallIntegerField(default=0)
    bolt = models.ForeignKey(Item, on_delete=models.PROTECT, null=True, blank=True, related_name="bolts_joints")
    position = models.PositiveSmallIntegerField(default=0)
    version = models.PositiveIntegerField(default=1)

    objects = JointRuleQuerySet.as_manager()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(place__in=Place.values),
                name="joint_rule_place_known",
                violation_error_message="Choose which joint the rule is for.",
            ),
            models.CheckConstraint(
                condition=Q(bolts=0) | Q(bolt__isnull=False),
                name="joint_rule_bolts_named",
                violation_error_message="Say which bolt, or make it no bolts.",
            ),
            models.CheckConstraint(
                condition=Q(dock_over_in__gte=0) & (Q(dock_to_in=None) | Q(dock_to_in__gt=F("dock_over_in"))),
                name="joint_rule_range_forward",
                violation_error_message="The rule ends at a shorter dock than it starts with.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class JointRulePart(models.Model):
    """One kind of part in a rule: so many for the joint, or so many for each of its bolts."""

    rule = models.ForeignKey(JointRule, on_delete=models.CASCADE, related_name="parts")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="joint_parts")
    quantity = models.DecimalField(max_digits=9, decimal_places=3)
    per_bolt = models.BooleanField(default=False)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["rule", "item", "per_bolt"],
                name="joint_part_once",
                violation_error_message="The same part is there twice. Add the counts up.",
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="joint_part_above_zero",
                violation_error_message="A rule takes more than none of a part. Leave the line empty to drop it.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity:g} {self.item}"


def _choice(related_name: str) -> models.ForeignKey:
    return models.ForeignKey(
        Item, on_delete=models.PROTECT, null=True, blank=True, related_name=f"standing_{related_name}"
    )


class StandingChoices(models.Model):
    """What a spec that says nothing gets, and the shop's habits. One row for the firm."""

    stringer = _choice("stringer")
    header = _choice("header")
    cross_member = _choice("cross_member")
    board = _choice("board")
    float_item = _choice("float_item")
    anchor = _choice("anchor")
    chain = _choice("chain")
    ramp_stringer = _choice("ramp_stringer")
    ramp_board = _choice("ramp_board")
    gap_in = models.FloatField("gap between boards", default=0.125)
    stringer_spacing_in = models.FloatField("most between stringers", default=24.0)
    cross_spacing_in = models.FloatField("most between cross members", default=48.0)
    anchor_offset_in = models.FloatField("anchors out from the corner", default=120.0)
    stale_after_days = models.PositiveSmallIntegerField("a price is old after, days", default=60)
    freight = models.DecimalField("usual freight on a job", max_digits=9, decimal_places=2, default=0)
    leftovers_to_stock = models.BooleanField("left-overs go to stock", default=False)
    day_hours = models.DecimalField("productive hours in a day", max_digits=4, decimal_places=2, default=Decimal("7.5"))
    hours_rounding = models.DecimalField("round hours to", max_digits=3, decimal_places=2, default=Decimal("0.25"))
    travel_mph = models.DecimalField("speed on the road, mph", max_digits=7, decimal_places=4, default=40)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name_plural = "standing choices"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="standing_choices_one_row"),
            models.CheckConstraint(
                condition=Q(gap_in__gte=0, gap_in__lte=2)
                & Q(stringer_spacing_in__gt=0, cross_spacing_in__gt=0, anchor_offset_in__gte=0),
                name="standing_choices_sane",
                violation_error_message="A gap is from 0 to 2 in; spacings are above zero.",
            ),
            models.CheckConstraint(
                condition=Q(stale_after_days__gt=0, freight__gte=0, day_hours__gt=0, day_hours__lte=24)
                & Q(hours_rounding__gte=0, hours_rounding__lte=8, travel_mph__gt=0),
                name="standing_habits_sane",
                violation_error_message="Days, hours and speed are above zero; freight is zero or more.",
            ),
        ]

    def __str__(self) -> str:
        return "Standing choices"
