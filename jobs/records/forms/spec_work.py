"""How the job is done, as far as it costs money, and what the dock is called."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import QueryDict

from contractor.company.fields import MoneyField, PercentField, PressureField
from estimating.engine.spec import Allowance, Hire, Work

from .spec_fields import CountField, HoursField, PartForm, prefixed

MOST_ROWS = 40


class DockForm(PartForm):
    title = forms.CharField(
        label="Name of this dock", required=False, max_length=120, help_text="Stands over drawings and papers"
    )
    live_load = PressureField(
        label="Design live load", required=False, above_zero=True, most=500, help_text="Empty: the firm’s"
    )
    note = forms.CharField(label="What is new in this revision", required=False, max_length=200)


class WorkForm(PartForm):
    crew_size = CountField(label="Crew", max_value=50)
    trips = CountField(label="Trips", help_text="Empty: from the days")
    travel_hours = HoursField(label="Travel", help_text="Empty: from the miles")
    launch_hours = HoursField(label="Launch", help_text="Empty: the firm’s rate")
    contingency_percent = PercentField(label="Contingency", required=False, help_text="Empty: the firm’s")

    def facts(self) -> dict[str, Any]:
        given = self.given
        return {**{name: given.get(name) for name in self.base_fields}, "crew_size": given.get("crew_size") or 2}

    @classmethod
    def typed(cls, work: Work) -> dict[str, str]:
        return {name: cls.typed_value(name, getattr(work, name)) for name in cls.base_fields}


class SumRow(PartForm):
    """A named sum of money."""

    name = forms.CharField(label="What", required=False, max_length=80)
    amount = MoneyField(label="Sum", required=False, least=0)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("name") and given.get("amount") is None and "amount" not in self.errors:
            self.add_error("amount", "Say what it costs.")
        if given.get("amount") is not None and not given.get("name") and "name" not in self.errors:
            self.add_error("name", "Say what it is for.")
        return given

    def line(self) -> Allowance | None:
        if not self.is_valid() or not self.given["name"]:
            return None
        return Allowance(self.given["name"], self.given["amount"])

    @classmethod
    def typed(cls, line: Allowance) -> dict[str, str]:
        return {"name": line.name, "amount": cls.typed_value("amount", line.amount)}


class HireRow(PartForm):
    """Equipment by the day."""

    name = forms.CharField(label="What", required=False, max_length=80)
    days = HoursField(label="Days")
    rate = MoneyField(label="A day", required=False, least=0)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["days"].unit = "days"

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("name"):
            for name, missing in (("days", "Say for how many days."), ("rate", "Say what a day costs.")):
                if given.get(name) is None and name not in self.errors:
                    self.add_error(name, missing)
        return given

    def line(self) -> Hire | None:
        if not self.is_valid() or not self.given["name"]:
            return None
        return Hire(self.given["name"], self.given["days"], self.given["rate"])

    @classmethod
    def typed(cls, line: Hire) -> dict[str, str]:
        values = {"days": line.days, "rate": line.rate_per_day}
        return {"name": line.name, **{name: cls.typed_value(name, value) for name, value in values.items()}}


@dataclass(frozen=True)
class Rows:
    """Lines of one kind: those that were typed and one more to write in."""

    name: str
    make: Callable[[str], PartForm]
    count: int

    def __iter__(self) -> Iterator[PartForm]:
        return (self.make(f"{self.name}-{number}") for number in range(self.count))

    @staticmethod
    def typed(name: str, lines: Sequence[dict[str, str]]) -> dict[str, str]:
        filled = {f"{name}-rows": str(len(lines) + 1)}
        for number, line in enumerate(lines):
            filled |= prefixed(f"{name}-{number}", line)
        return filled


def row_count(data: QueryDict, name: str, most: int = MOST_ROWS) -> int:
    typed = data.get(f"{name}-rows", "")
    return min(max(int(typed), 1), most) if typed.isdecimal() else 1
