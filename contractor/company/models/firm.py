from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models

from contractor.company.models.bounds import within
from contractor.company.models.checked import CheckedAtOnce
from contractor.company.models.flotation import FlotationChoices
from contractor.company.models.mooring import MooringChoices, mooring_bounds
from contractor.company.models.range import RangeChoices, range_bounds
from contractor.company.models.sawing import SawingChoices, sawing_bounds
from contractor.company.querysets import CompanyQuerySet, TaxRateQuerySet

PRICE_STEPS = [(0, "to the cent"), *((step, f"to the nearest {step}") for step in (1, 5, 10, 50, 100))]


class Units(models.TextChoices):
    IMPERIAL = "imperial", "Feet, inches and pounds"
    METRIC = "metric", "Metres, millimetres and kilograms"


class DateStyle(models.TextChoices):
    DAY_FIRST = "day_first", "7 May 2026"
    MONTH_FIRST = "month_first", "May 7, 2026"


class Paper(models.TextChoices):
    LETTER = "letter", "Letter"
    A4 = "a4", "A4"


class TaxMode(models.TextChoices):
    SHOP_PAYS = "shop_pays", "The shop pays tax on what it buys; no tax line to the customer"
    MATERIALS = "materials", "Separate prices: tax on the materials only"
    WHOLE_PRICE = "whole_price", "Tax on the whole price"
    BOTH = "both", "The shop pays tax on what it buys, and tax on the whole price"
    EXEMPT = "exempt", "Customers are exempt, with a certificate"


class OverheadMode(models.TextChoices):
    PER_HOUR = "per_hour", "So much for each crew hour"
    PERCENT = "percent", "A percentage of cost"


class DepositRule(models.TextChoices):
    NONE = "none", "No limit set"
    PERCENT = "percent", "At most a percentage of the price"
    LESSER = "lesser", "The lesser of a percentage and a fixed amount"
    GREATER = "greater", "The greater of a percentage and the cost of special orders"


class Trigger(models.TextChoices):
    SIGNING = "signing", "on signing"
    PERMIT = "permit", "when the permit is issued"
    MATERIALS = "materials", "when materials are delivered"
    LAYOUT = "layout", "when layout is done"
    FRAMING = "framing", "when framing is done"
    FLOTATION = "flotation", "when the floats are on"
    DECKING = "decking", "when decking is done"
    ANCHORING = "anchoring", "when the dock is anchored"
    HANDOVER = "handover", "at hand-over"
    DEFECTS = "defects", "after the defects list"


def percent_field(label: str, start: str, *, most: str = "100") -> models.DecimalField:
    """A percentage from 0 to `most`, two decimals."""
    bounds = [MinValueValidator(0), MaxValueValidator(Decimal(most))]
    return models.DecimalField(label, max_digits=5, decimal_places=2, default=Decimal(start), validators=bounds)


def money_field(label: str, start: str) -> models.DecimalField:
    """An amount of money, not below zero."""
    return models.DecimalField(
        label, max_digits=11, decimal_places=2, default=Decimal(start), validators=[MinValueValidator(0)]
    )


class Company(CheckedAtOnce, FlotationChoices, MooringChoices, RangeChoices, SawingChoices):
    """The firm: one row. Every figure is the shop's own setting; the starting ones are marked so on the page."""

    name = models.CharField("name of the firm", max_length=120)
    address = models.TextField("address", blank=True)
    phone = models.CharField("phone", max_length=40, blank=True)
    email = models.EmailField("email", blank=True)
    registration_line = models.CharField("registration or licence", max_length=160, blank=True)
    insurance_line = models.CharField("insurance", max_length=160, blank=True)
    logo = models.ImageField("logo", upload_to="firm/", blank=True)

    units = models.CharField("units", max_length=8, choices=Units.choices, default=Units.IMPERIAL)
    currency = models.CharField(
        "currency",
        max_length=3,
        default="USD",
        validators=[RegexValidator(r"^[A-Z]{3}\Z", "Type the three letters of the currency, like USD, CAD or EUR.")],
    )
    date_style = models.CharField("dates", max_length=12, choices=DateStyle.choices, default=DateStyle.DAY_FIRST)
    paper = models.CharField("paper", max_length=6, choices=Paper.choices, default=Paper.LETTER)

    tax_mode = models.CharField("tax", max_length=12, choices=TaxMode.choices, default=TaxMode.SHOP_PAYS)
    purchase_tax_percent = percent_field("tax on what the shop buys", "0")

    wage_per_hour = money_field("base wage per hour", "26.00")
    burden_percent = percent_field("burden on wages", "35", most="200")
    overhead_mode = models.CharField(
        "overhead", max_length=8, choices=OverheadMode.choices, default=OverheadMode.PER_HOUR
    )
    overhead_figure = models.DecimalField(
        "overhead figure", max_digits=7, decimal_places=2, default=Decimal("16.00"), validators=[MinValueValidator(0)]
    )
    margin_percent = percent_field("margin on price", "15", most="95")
    floor_margin_percent = percent_field("lowest margin without the owner", "8", most="95")
    contingency_percent = percent_field("contingency", "5")
    contingency_unknown_percent = percent_field("contingency, bottom unknown", "15")
    price_step = models.PositiveSmallIntegerField("round the price", choices=PRICE_STEPS, default=10)
    mileage_rate = models.DecimalField(
        "travel", max_digits=8, decimal_places=4, default=Decimal("0.70"), validators=[MinValueValidator(0)]
    )

    deposit_rule = models.CharField(
        "deposit limit", max_length=8, choices=DepositRule.choices, default=DepositRule.NONE
    )
    deposit_percent = percent_field("deposit, percentage", "0")
    deposit_cap = money_field("deposit, fixed amount", "0")
    deposit_source = models.CharField("where the rule comes from", max_length=200, blank=True)
    deposit_checked_on = models.DateField("last checked", null=True, blank=True)

    quote_valid_days = models.PositiveSmallIntegerField(
        "a quote holds for", default=21, validators=[MinValueValidator(1), MaxValueValidator(365)]
    )
    terms = models.TextField(
        "terms",
        blank=True,
        default="Changes to the work are written down with their price and signed by both before they are done.",
    )
    exclusions = models.TextField(
        "not in the price",
        blank=True,
        default="Electrical work\nRock removal\nLawn repair\nTaking away an old dock\nDamage by ice or flood",
    )
    warranty = models.TextField("warranty", blank=True)
    cancellation_notice = models.TextField("right to cancel", blank=True)

    person_weight_lb = models.FloatField("weight of an adult", default=175.0)
    live_load_psf = models.FloatField("design live load", default=30.0)

    version = models.PositiveIntegerField(default=1)

    objects = CompanyQuerySet.as_manager()

    class Meta:
        verbose_name = "firm"
        verbose_name_plural = "firm"
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="company_is_one_row"),
            models.CheckConstraint(
                condition=~models.Q(name=""), name="company_has_name", violation_error_message="Name the firm."
            ),
            within(
                "company_percents_are_possible",
                ["purchase_tax_percent", "contingency_percent", "contingency_unknown_percent", "deposit_percent"],
                100,
                "A percentage runs from 0 to 100.",
            ),
            within("company_burden_is_possible", ["burden_percent"], 200, "Burden runs from 0 to 200%."),
            within(
                "company_margins_are_possible",
                ["margin_percent", "floor_margin_percent"],
                95,
                "A margin on price runs from 0 to 95%.",
            ),
            models.CheckConstraint(
                condition=models.Q(floor_margin_percent__lte=models.F("margin_percent")),
                name="company_floor_is_below_margin",
                violation_error_message="The lowest margin can’t be above the usual one.",
            ),
            within(
                "company_rates_are_possible",
                ["wage_per_hour", "overhead_figure", "mileage_rate", "deposit_cap"],
                Decimal("999999.99"),
                "A rate can’t be below zero.",
            ),
            models.CheckConstraint(
                condition=models.Q(person_weight_lb__gte=50, person_weight_lb__lte=600),
                name="company_person_weight_is_possible",
                violation_error_message="An adult weighs between 50 and 600 lb (23 and 272 kg).",
            ),
            models.CheckConstraint(
                condition=models.Q(live_load_psf__gt=0, live_load_psf__lte=500),
                name="company_live_load_is_possible",
                violation_error_message="A live load is above 0 and at most 500 psf (24 kPa).",
            ),
            within("company_half_load_is_possible", ["half_load_psf"], 500, "A load runs from 0 to 500 psf (24 kPa)."),
            within("company_ramp_load_is_possible", ["ramp_load_psf"], 500, "A load runs from 0 to 500 psf (24 kPa)."),
            within(
                "company_insets_are_possible",
                ["crowd_inset_in", "heavy_inset_in"],
                120,
                "A load stands between 0 and 10 ft (3 m) from the edge.",
            ),
            within("company_heavy_load_is_possible", ["heavy_load_lb"], 20000, "A load runs from 0 to 20,000 lb."),
            within("company_hinge_step_is_possible", ["hinge_step_in"], 24, "A step runs from 0 to 2 ft (61 cm)."),
            models.CheckConstraint(
                condition=models.Q(tilt_limit_deg__gt=0, tilt_limit_deg__lte=45),
                name="company_tilt_is_possible",
                violation_error_message="A tilt is above 0 and at most 45 degrees.",
            ),
            models.CheckConstraint(
                condition=models.Q(hand_lift_lb__gte=10, hand_lift_lb__lte=200),
                name="company_hand_lift_is_possible",
                violation_error_message="One person lifts between 10 and 200 lb (5 and 91 kg).",
            ),
            *mooring_bounds(),
            *range_bounds(),
            *sawing_bounds(),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def address_lines(self) -> list[str]:
        return [line.strip() for line in self.address.splitlines() if line.strip()]

    @property
    def exclusion_lines(self) -> list[str]:
        return [line.strip() for line in self.exclusions.splitlines() if line.strip()]


class TaxRate(models.Model):
    """A named tax and its rate from a day on. The rate of an earlier day stays, for the papers of that day."""

    name = models.CharField("tax", max_length=40)
    percent = models.DecimalField(
        "rate", max_digits=6, decimal_places=3, validators=[MinValueValidator(0), MaxValueValidator(100)]
    )
    from_date = models.DateField("from")

    objects = TaxRateQuerySet.as_manager()

    class Meta:
        ordering = ["name", "-from_date"]
        verbose_name = "tax rate"
        constraints = [
            models.UniqueConstraint(
                fields=["name", "from_date"],
                name="tax_rate_once_a_day",
                violation_error_message="This tax already has a rate from that day.",
            ),
            within("tax_rate_is_possible", ["percent"], 100, "A rate runs from 0 to 100%."),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.percent.normalize():f}%"


class PaymentStep(models.Model):
    """One instalment of the usual payment plan; together they are 100%."""

    position = models.PositiveSmallIntegerField(unique=True)
    trigger = models.CharField("when", max_length=12, choices=Trigger.choices)
    percent = models.DecimalField(
        "share", max_digits=5, decimal_places=2, validators=[MinValueValidator(0), MaxValueValidator(100)]
    )

    class Meta:
        ordering = ["position"]
        verbose_name = "payment"
        constraints = [within("payment_share_is_possible", ["percent"], 100, "A share runs from 0 to 100%.")]

    def __str__(self) -> str:
        return f"{self.percent.normalize():f}% {self.get_trigger_display()}"
