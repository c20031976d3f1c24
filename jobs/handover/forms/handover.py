"""Why it is made with defects open, a signature, a visit done or dropped, the dates of the season."""

from typing import Any

from django import forms

from contractor.company.fields import DayField, LengthField, LevelField, SignedPageField
from contractor.company.forms import FirmForm, FirmModelForm
from estimating.quotes.models import AcceptedBy
from jobs.handover.documents.season_sheet import SeasonSheet
from jobs.handover.models import SeasonDates
from jobs.records.forms.typed import MonthDayField

MOST_FREEBOARD_IN = 120
MOST_CHAIN_IN = 12000


class MakeForm(FirmForm):
    open_why = forms.CharField(
        label="Why it is handed over with a defect open",
        max_length=200,
        required=False,
        help_text="It is printed under the defects",
    )


class SignForm(FirmForm):
    name = forms.CharField(label="Signed by", max_length=160, help_text="Everyone who signed")
    on = DayField(label="Day")
    how = forms.ChoiceField(label="How", choices=AcceptedBy.choices, widget=forms.RadioSelect, initial=AcceptedBy.PAPER)
    scan = SignedPageField()
    note = forms.CharField(label="What was agreed", max_length=300, required=False, help_text="May stay empty")


class VisitForm(FirmForm):
    """What was done and found; a box for each corner and chain of the sheet."""

    done_on = DayField(label="Done on")
    level_in = LevelField(label="Water level then", required=False, help_text="U if nobody read it")
    found = forms.CharField(
        label="What was found", required=False, widget=forms.Textarea({"rows": 4}), help_text="Damage, parts to order"
    )
    storage = forms.CharField(label="Where it is stored", max_length=200, required=False)

    def __init__(self, *args: Any, sheet: SeasonSheet | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.corners = [_box_name(line.key) for line in sheet.corners] if sheet else []
        self.chains = [_box_name(line.key) for line in sheet.chains] if sheet else []
        for line in sheet.corners if sheet else ():
            self.fields[_box_name(line.key)] = LengthField(
                label=line.name,
                default_unit="in",
                least=0,
                most=MOST_FREEBOARD_IN,
                required=False,
                help_text=f"Then {line.then}",
            )
        for line in sheet.chains if sheet else ():
            self.fields[_box_name(line.key)] = LengthField(
                label=line.name, least=0, most=MOST_CHAIN_IN, required=False, help_text=f"Then {line.then}"
            )

    def corner_boxes(self) -> list[forms.BoundField]:
        return [self[key] for key in self.corners]

    def chain_boxes(self) -> list[forms.BoundField]:
        return [self[key] for key in self.chains]

    def facts(self) -> dict[str, object]:
        """The visit's fields; what was measured by its key, without the boxes left empty."""
        facts = dict(self.cleaned_data)
        told = {name.replace("__", "."): facts.pop(name) for name in (*self.corners, *self.chains)}
        return {**facts, "measured": {key: value for key, value in told.items() if value is not None}}


def _box_name(key: str) -> str:
    """A key without the dots, which no selector finds."""
    return key.replace(".", "__")


class DropForm(FirmForm):
    why = forms.CharField(label="Why it is not done", max_length=200)


class DatesForm(FirmModelForm):
    """Two days of the year are typed as one says them."""

    out = MonthDayField(label="Haul-out", help_text="A day like 15 October")
    put = MonthDayField(label="Put-in", help_text="A day like 1 May")

    class Meta:
        model = SeasonDates
        fields = ["first_check_weeks", "remind_days"]
        help_texts = {
            "first_check_weeks": "From the day the customer signs. Wood shrinks in the first 4 to 8 weeks.",
            "remind_days": "A visit comes on the home page this long before its day.",
        }

    field_order = ["first_check_weeks", "out", "put", "remind_days"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        held = self.instance
        self.initial = {
            **self.initial,
            "out": (held.out_month, held.out_day),
            "put": (held.in_month, held.in_day),
        }
        for name, least, most in (("first_check_weeks", 1, 52), ("remind_days", 1, 180)):
            said = f"A whole number from {least} to {most}."
            self.fields[name].widget = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})
            self.fields[name].error_messages.update(invalid=said, min_value=said, max_value=said)

    def changes(self) -> dict[str, Any]:
        out, put = self.cleaned_data["out"], self.cleaned_data["put"]
        days = {"out_month": out[0], "out_day": out[1], "in_month": put[0], "in_day": put[1]}
        return {**super().changes(), **days}
