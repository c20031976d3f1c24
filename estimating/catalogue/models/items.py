"""Everything the shop can buy or build in, in one table; what only some kinds have stays empty for the others."""

from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.urls import reverse

from contractor.company.models import CheckedAtOnce
from estimating.catalogue.querysets import ItemQuerySet

INCHES = {"null": True, "blank": True}
POUNDS = {"null": True, "blank": True}


class Kind(models.TextChoices):
    LUMBER = "lumber", "Framing lumber"
    DECKING = "decking", "Decking"
    FLOAT = "float", "Floats"
    HARDWARE = "hardware", "Hardware"
    FASTENER = "fastener", "Fasteners"
    CHAIN = "chain", "Chain"
    ANCHOR = "anchor", "Anchors"
    ACCESSORY = "accessory", "Accessories"
    RAMP = "ramp", "Ramps, bought"


WOOD = (Kind.LUMBER, Kind.DECKING)
GOODS = (Kind.HARDWARE, Kind.FASTENER, Kind.CHAIN, Kind.ANCHOR, Kind.ACCESSORY, Kind.RAMP)


class LiftBasis(models.TextChoices):
    NET = "net", "net: the float’s own weight is already taken off"
    GROSS = "gross", "gross: the float’s own weight still has to come off"
    UNKNOWN = "unknown", "not known: worked out as gross, the safe side"


class FloatShape(models.TextChoices):
    BOX = "box", "box"
    CYLINDER = "cylinder", "cylinder, lying on its side"


class ChainGrade(models.TextChoices):
    UNKNOWN = "", "unknown"
    PROOF_COIL = "30", "30, proof coil"
    HIGH_TEST = "43", "43, high test"


class YesNoUnknown(models.TextChoices):
    YES = "yes", "yes"
    NO = "no", "no"
    UNKNOWN = "", "unknown"


def _above_zero(*fields: str) -> Q:
    """Each field is empty or above zero."""
    rule = Q()
    for field in fields:
        rule &= Q(**{field: None}) | Q(**{f"{field}__gt": 0})
    return rule


class Item(CheckedAtOnce):
    code = models.CharField(
        max_length=40,
        validators=[
            RegexValidator(
                r"^[A-Za-z0-9][A-Za-z0-9._/-]*$",
                "Letters, figures, dot, dash and stroke only, no spaces: 2x8-ground-contact.",
            )
        ],
    )
    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(max_length=120)
    active = models.BooleanField("in use", default=True)
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField(auto_now_add=True)

    # How it is bought, kept and fitted
    use_unit = models.CharField("counted in", max_length=20, default="each")
    pack_size = models.DecimalField("pack holds", max_digits=9, decimal_places=3, default=1)
    waste_percent = models.DecimalField("waste, %", max_digits=5, decimal_places=2, default=0)
    labour_h = models.DecimalField("hours to fit one", max_digits=6, decimal_places=3, default=0)
    shelf = models.CharField(max_length=40, blank=True)
    minimum_on_hand = models.DecimalField("keep at least", max_digits=9, decimal_places=2, null=True, blank=True)
    lead_days = models.PositiveSmallIntegerField("usual lead, working days", null=True, blank=True)
    preferred_supplier = models.ForeignKey(
        "catalogue.Supplier",
        verbose_name="usual supplier",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="preferred_for",
    )
    substitutes = models.ManyToManyField("self", symmetrical=False, blank=True, related_name="stands_in_for")
    notes = models.TextField(blank=True)

    # Size and weight
    length_in = models.FloatField("length", **INCHES)
    width_in = models.FloatField("width", **INCHES)
    height_in = models.FloatField("height", **INCHES)
    thickness_in = models.FloatField("true thickness", **INCHES)
    weight_lb = models.FloatField("weight", **POUNDS)  # of one use unit; of one float

    # Lumber and decking
    nominal = models.CharField("name size", max_length=20, blank=True)
    species = models.CharField(max_length=80, blank=True)
    treatment = models.CharField("treatment class", max_length=80, blank=True)
    wet_lb_per_ft = models.FloatField("weight wet, lb/ft", **POUNDS)
    seasoned_lb_per_ft = models.FloatField("weight seasoned, lb/ft", **POUNDS)
    weight_source = models.CharField("where the weight comes from", max_length=200, blank=True)
    specific_gravity = models.FloatField(null=True, blank=True)
    wet_moisture_percent = models.FloatField("moisture wet", null=True, blank=True)
    seasoned_moisture_percent = models.FloatField("moisture seasoned", null=True, blank=True)
    over_length_in = models.FloatField("sticks run long by", **INCHES)
    support_spacing_in = models.FloatField("most between supports", **INCHES)

    # Floats
    shape = models.CharField(max_length=8, choices=FloatShape, default=FloatShape.BOX)
    rated_lift_lb = models.FloatField("rated lift", **POUNDS)
    lift_basis = models.CharField("the rated lift is", max_length=8, choices=LiftBasis, blank=True)
    source = models.CharField("source of the lift", max_length=200, blank=True)
    source_date = models.DateField("date of that source", null=True, blank=True)
    flange_holes = models.PositiveSmallIntegerField(null=True, blank=True)
    fuel_safe = models.CharField("safe with fuel", max_length=3, choices=YesNoUnknown, blank=True, default="")

    # Chain
    chain_grade = models.CharField("grade", max_length=2, choices=ChainGrade, blank=True, default="")
    chain_size_in = models.FloatField("size of the chain", **INCHES)
    working_load_lb = models.FloatField("working load limit", **POUNDS)

    # Hardware, anchors, accessories
    finish = models.CharField(max_length=60, blank=True)
    holes = models.PositiveSmallIntegerField(null=True, blank=True)
    submerged_weight_lb = models.FloatField("weight under water", **POUNDS)
    symbol = models.CharField("drawn as", max_length=20, blank=True)

    objects = ItemQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name", "code"]
        constraints = [
            models.UniqueConstraint(
                Lower("code"),
                name="item_code_once",
                violation_error_message="That code is taken. Give this one a code of its own.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=Kind.values),
                name="item_kind_known",
                violation_error_message="Choose what kind of thing it is.",
            ),
            models.CheckConstraint(
                condition=~Q(code="") & ~Q(name=""),
                name="item_has_code_and_name",
                violation_error_message="Give it a code and a name.",
            ),
            models.CheckConstraint(
                condition=Q(pack_size__gt=0) & ~Q(use_unit=""),
                name="item_pack_above_zero",
                violation_error_message="A pack holds more than nothing: say how many, and of what.",
            ),
            models.CheckConstraint(
                condition=Q(waste_percent__gte=0, waste_percent__lt=100) & Q(labour_h__gte=0),
                name="item_waste_and_hours_sane",
                violation_error_message="Waste is from 0 to under 100 %, hours are zero or more.",
            ),
            models.CheckConstraint(
                condition=_above_zero(
                    "length_in",
                    "width_in",
                    "height_in",
                    "thickness_in",
                    "support_spacing_in",
                    "rated_lift_lb",
                    "chain_size_in",
                    "working_load_lb",
                ),
                name="item_sizes_above_zero",
                violation_error_message="A size, a spacing or a lift is above zero, or left empty when unknown.",
            ),
            models.CheckConstraint(
                condition=_above_zero("wet_lb_per_ft", "seasoned_lb_per_ft", "specific_gravity"),
                name="item_lumber_weight_above_zero",
                violation_error_message="A weight per foot is above zero, or left empty to work it out.",
            ),
            models.CheckConstraint(
                condition=(Q(weight_lb=None) | Q(weight_lb__gte=0))
                & (Q(over_length_in=None) | Q(over_length_in__gte=0))
                & (Q(minimum_on_hand=None) | Q(minimum_on_hand__gte=0)),
                name="item_weights_not_below_zero",
                violation_error_message="A weight, an over-length or a minimum is not below zero.",
            ),
            models.CheckConstraint(
                condition=~Q(kind__in=WOOD) | (Q(thickness_in__isnull=False, width_in__isnull=False) & ~Q(nominal="")),
                name="item_lumber_has_true_size",
                violation_error_message="Lumber and decking need the name size and the true thickness and width.",
            ),
            models.CheckConstraint(
                condition=~Q(kind__in=WOOD)
                | (
                    (
                        Q(wet_lb_per_ft__isnull=False)
                        | Q(wet_moisture_percent__isnull=False, specific_gravity__isnull=False)
                    )
                    & (
                        Q(seasoned_lb_per_ft__isnull=False)
                        | Q(seasoned_moisture_percent__isnull=False, specific_gravity__isnull=False)
                    )
                ),
                name="item_lumber_has_weights",
                violation_error_message="Give the weight per foot, or specific gravity and moisture.",
            ),
            models.CheckConstraint(
                condition=~Q(kind=Kind.FLOAT)
                | (
                    Q(length_in__isnull=False, width_in__isnull=False, height_in__isnull=False)
                    & Q(weight_lb__isnull=False, rated_lift_lb__isnull=False)
                    & Q(lift_basis__in=LiftBasis.values)
                    & ~Q(source="")
                ),
                name="item_float_has_its_sheet",
                violation_error_message="A float needs size, own weight, rated lift net or gross, and a source.",
            ),
            models.CheckConstraint(
                condition=~Q(shape=FloatShape.CYLINDER) | Q(width_in=models.F("height_in")),
                name="item_cylinder_has_one_diameter",
                violation_error_message="Of a cylinder, width and height are both the diameter: type it twice.",
            ),
            models.CheckConstraint(
                condition=Q(submerged_weight_lb=None)
                | Q(weight_lb=None)
                | Q(submerged_weight_lb__gte=0, submerged_weight_lb__lte=models.F("weight_lb")),
                name="item_lighter_under_water",
                violation_error_message="Nothing weighs more under water than dry.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("catalogue:item", args=[self.pk])

    @property
    def is_wood(self) -> bool:
        return self.kind in WOOD


class Stick(models.Model):
    """A length the yard sells an item in."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="sticks")
    length_in = models.FloatField()
    offered = models.BooleanField(default=True)  # a length with prices on record is no longer offered, never removed

    class Meta:
        ordering = ["length_in"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "length_in"],
                name="stick_length_once",
                violation_error_message="That stock length is there twice.",
            ),
            models.CheckConstraint(
                condition=Q(length_in__gt=0, length_in__lte=100 * 12),
                name="stick_length_sane",
                violation_error_message="A stock length is above zero and at most 100 ft.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} {self.length_in:g} in"


class Fixing(models.Model):
    """What fitting one of an item takes: a cleat's bolts and backer, a float's lags."""

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="fixings")
    part = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="fixes")
    quantity = models.DecimalField(max_digits=9, decimal_places=3)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "part"],
                name="fixing_part_once",
                violation_error_message="The same part is there twice. Add the counts up.",
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="fixing_quantity_above_zero",
                violation_error_message="A fixing takes more than none of its part.",
            ),
            models.CheckConstraint(
                condition=~Q(item=models.F("part")),
                name="fixing_not_of_itself",
                violation_error_message="A thing is not fixed with itself.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity:g} {self.part} for {self.item}"
