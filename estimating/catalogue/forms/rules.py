"""Joint rules, standing choices and hours as forms."""

from decimal import Decimal
from typing import Any

from django import forms

from contractor.company.fields import LengthField, MoneyField
from contractor.company.forms import FirmForm
from estimating.catalogue.forms.fields import FactField, SpeedField
from estimating.catalogue.models import Item, JointRule, Kind, LabourFactor, LabourRate, Place, StandingChoices
from estimating.catalogue.services import LabourChangedMeanwhile
from estimating.catalogue.services.choices import CHOICE_LABELS, CHOICES, SHOP_HABITS
from estimating.catalogue.services.rules import RULE_FACTS
from estimating.catalogue.values import Exact, Whole


class JointRuleForm(FirmForm):
    place = forms.ChoiceField(label="Which joint", choices=Place.choices)
    name = forms.CharField(label="In the shop’s words", max_length=120)
    dock_over_in = LengthField(label="Docks over", required=False, help_text="Empty for the shortest")
    dock_to_in = LengthField(label="Up to and with", required=False, help_text="Empty for any longer")
    bolts = FactField(
        value=Whole(0, 400), label="Bolts", required=False, help_text="Of all plates together, counted once"
    )
    bolt = forms.ModelChoiceField(
        Item.objects.offered().of_kind(Kind.FASTENER).by_kind_and_name(),
        label="Which bolt",
        required=False,
        empty_label="none",
    )

    def __init__(self, data: Any = None, *, rule: JointRule | None = None, place: str = "") -> None:
        first: dict[str, Any] = {"place": place}
        if rule is not None:
            first = {key: getattr(rule, key) for key in RULE_FACTS}
            first["dock_over_in"] = rule.dock_over_in or None
        super().__init__(data, initial=first)

    def facts(self) -> dict[str, Any]:
        given = self.cleaned_data
        return {
            **{key: given[key] for key in RULE_FACTS},
            "dock_over_in": given["dock_over_in"] or 0.0,
            "bolts": given["bolts"] or 0,
        }

    def blame_faults(self, faults: dict[str, str]) -> None:
        for name, sentence in faults.items():
            self.add_error(name if name in self.fields else None, sentence)


class StandingForm(FirmForm):
    gap_in = LengthField(label=SHOP_HABITS["gap_in"], default_unit="in", most=2)
    stringer_spacing_in = LengthField(
        label=SHOP_HABITS["stringer_spacing_in"], default_unit="in", above_zero=True, most=120
    )
    cross_spacing_in = LengthField(label=SHOP_HABITS["cross_spacing_in"], default_unit="in", above_zero=True, most=240)
    anchor_offset_in = LengthField(label=SHOP_HABITS["anchor_offset_in"], most=1200)
    stale_after_days = FactField(value=Whole(1, 3650), unit="days", label=SHOP_HABITS["stale_after_days"])
    freight = MoneyField(label=SHOP_HABITS["freight"], least=Decimal(0))
    day_hours = FactField(value=Exact(2, Decimal("0.5"), Decimal(24), "h"), label=SHOP_HABITS["day_hours"])
    hours_rounding = FactField(value=Exact(2, Decimal(0), Decimal(8), "h"), label=SHOP_HABITS["hours_rounding"])
    travel_mph = SpeedField(label=SHOP_HABITS["travel_mph"])
    leftovers_to_stock = forms.BooleanField(label=SHOP_HABITS["leftovers_to_stock"], required=False)

    def __init__(self, data: Any = None, *, row: StandingChoices) -> None:
        first = {name: getattr(row, name) for name in (*CHOICES, *SHOP_HABITS)}
        super().__init__(data, initial=first)
        for name, kinds in CHOICES.items():
            self.fields[name] = forms.ModelChoiceField(
                Item.objects.offered().of_kind(*kinds).by_kind_and_name(),
                label=CHOICE_LABELS[name],
                required=False,
                empty_label="not chosen",
            )

    @property
    def choices(self) -> list[forms.BoundField]:
        return [self[name] for name in CHOICES]

    @property
    def habits(self) -> list[forms.BoundField]:
        return [self[name] for name in SHOP_HABITS]

    def changes(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in (*CHOICES, *SHOP_HABITS)}

    def blame_faults(self, faults: dict[str, str]) -> None:
        for name, sentence in faults.items():
            self.add_error(name if name in self.fields else None, sentence)


class LabourForm(FirmForm):
    """A box for each rate and factor, with what stood in it and its version when the page was opened."""

    hours = Exact(6, Decimal(0), Decimal(1000))
    times = Exact(3, Decimal(1), Decimal(10))

    def __init__(self, data: Any = None, *, rates: list[LabourRate], factors: list[LabourFactor]) -> None:
        super().__init__(data)
        self.rates, self.factors = rates, factors
        for row in (*rates, *factors):
            self._add_boxes(row)

    @property
    def rate_rows(self) -> list[tuple[LabourRate, list[forms.BoundField]]]:
        return [(row, self._boxes(row)) for row in self.rates]

    @property
    def factor_rows(self) -> list[tuple[LabourFactor, list[forms.BoundField]]]:
        return [(row, self._boxes(row)) for row in self.factors]

    def typed(self, rows: list[Any]) -> dict[Any, tuple[int, Decimal]]:
        """The rows whose figure was touched, each with the version seen and the new figure."""
        given = self.cleaned_data
        return {
            row: (given[f"{box_of(row)}_seen"], given[box_of(row)])
            for row in rows
            if given[box_of(row)] != given[f"{box_of(row)}_was"]
        }

    def seen_again(self, conflict: LabourChangedMeanwhile) -> Any:
        """What was typed, with the versions that stand now, so that saving once more puts it over theirs."""
        data = self.data.copy()
        for row in conflict.rows:
            data[f"{box_of(row)}_seen"] = str(row.version)
        return data

    def _add_boxes(self, row: LabourRate | LabourFactor) -> None:
        is_rate, name = isinstance(row, LabourRate), box_of(row)
        value = self.hours if is_rate else self.times
        figure = row.hours_per_unit if is_rate else row.factor
        self.fields[name] = FactField(value=value, label=str(row), initial=figure)
        hidden = {"widget": forms.HiddenInput}
        self.fields[f"{name}_was"] = FactField(value=value, initial=figure, **hidden)
        self.fields[f"{name}_seen"] = forms.IntegerField(min_value=1, initial=row.version, **hidden)

    def _boxes(self, row: LabourRate | LabourFactor) -> list[forms.BoundField]:
        """The box to type in and the two that stay out of sight."""
        return [self[f"{box_of(row)}{part}"] for part in ("", "_was", "_seen")]


def box_of(row: LabourRate | LabourFactor) -> str:
    return f"{'rate' if isinstance(row, LabourRate) else 'factor'}_{row.pk}"
