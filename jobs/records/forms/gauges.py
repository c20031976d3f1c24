"""A gauge's file, what the gauge measures from, and which of its percentiles are low, normal and high."""

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.utils import timezone

from contractor.company.fields import DayField, LevelField, PercentField
from contractor.company.forms import FirmForm, FirmModelForm
from estimating.engine.water import ChoiceNeeded, FileNotUnderstood, Season, Told
from jobs.records.forms.typed import MonthDayField
from jobs.records.models import Gauge, GaugeUnit, Site
from jobs.records.services import GaugeUpload, Picked

LARGEST_FILE = 80 * 1024 * 1024
CLOCKS = (
    ("UTC", "UTC (GMT)"),
    ("America/St_Johns", "Newfoundland"),
    ("America/Halifax", "Atlantic"),
    ("America/New_York", "Eastern, with daylight saving"),
    ("Etc/GMT+5", "Eastern standard, all year"),
    ("America/Chicago", "Central, with daylight saving"),
    ("Etc/GMT+6", "Central standard, all year"),
    ("America/Denver", "Mountain, with daylight saving"),
    ("Etc/GMT+7", "Mountain standard, all year"),
    ("America/Los_Angeles", "Pacific, with daylight saving"),
    ("Etc/GMT+8", "Pacific standard, all year"),
    ("America/Anchorage", "Alaska, with daylight saving"),
    ("Etc/GMT+9", "Alaska standard, all year"),
    ("Pacific/Honolulu", "Hawaii"),
)
FIELD_OF = {"unit": "unit", "zone": "clock", "parameter": "parameter", "station": "station"}


def _clocks() -> list[tuple[str, str]]:
    here = timezone.get_current_timezone_name()
    known = dict(CLOCKS)
    own = [] if here in known or here not in available_timezones() else [(here, here)]
    return [("", "the file’s"), *own, *CLOCKS]


class GaugeFileForm(FirmForm):
    """A gauge file with what it may leave open; what the file says itself goes before what is picked here."""

    file = forms.FileField(
        label="File",
        help_text="NOAA water levels or predictions (CSV), USGS (RDB), Environment Canada (CSV), or your own list: "
        "a heading Date,Level (ft) and rows like 2026-04-01,3.5",
        error_messages={"required": "Choose a file.", "empty": "This file is empty."},
    )
    datum = forms.CharField(label="Measured from", max_length=80, help_text="The gauge’s zero, full pool, chart datum")
    unit = forms.ChoiceField(label="Levels in", choices=[("", "the file’s"), *GaugeUnit.choices], required=False)
    clock = forms.ChoiceField(label="Times in", required=False)
    station = forms.CharField(label="Station", max_length=60, required=False, help_text="Where the file names none")
    parameter = forms.CharField(label="Which level", max_length=60, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["clock"].choices = _clocks()
        self.fields["datum"].initial = site.levels.datum
        self.fields["datum"].error_messages["required"] = "Say what the gauge measures from."

    def clean_file(self) -> Any:
        if self.cleaned_data["file"].size > LARGEST_FILE:
            raise forms.ValidationError("This file is larger than 80 MB. Save fewer years to a file.")
        return self.cleaned_data["file"]

    def upload(self) -> GaugeUpload:
        given = self.cleaned_data
        told = Told(
            unit=given["unit"] or None,
            zone=given["clock"] or None,
            parameter=given["parameter"] or None,
            station=given["station"].strip() or None,
        )
        return GaugeUpload(given["file"].read(), told, given["datum"].strip(), given["file"].name[:80])

    def blame_file(self, wrong: FileNotUnderstood) -> None:
        """Put what the file left open at its box, anything else at the file."""
        if not isinstance(wrong, ChoiceNeeded):
            self.add_error("file", f"{wrong} Nothing was taken in.")
            return
        if wrong.options:
            field = self.fields[FIELD_OF[wrong.what]] = forms.ChoiceField(
                label=self.fields[FIELD_OF[wrong.what]].label, choices=[("", "choose one"), *wrong.options]
            )
            field.widget.is_required = False
        self.add_error(FIELD_OF[wrong.what], f"{wrong} Then choose the file again.")


class GaugeForm(FirmModelForm):
    above_site_in = LevelField(
        label="Its zero above the site’s datum",
        required=False,
        may_be_unknown=True,
        help_text="Read both on one day: the site’s figure less the gauge’s. U if nobody knows",
    )

    class Meta:
        model = Gauge
        fields = ["datum", "above_site_in"]


class PickForm(FirmForm):
    """Which percentiles are low, normal and high water, and of which season; nothing is kept."""

    low = PercentField(label="Low water")
    normal = PercentField(label="Normal water")
    high = PercentField(label="High water")
    first = MonthDayField(label="Season from", required=False)
    last = MonthDayField(label="Season to", required=False)

    STARTING = {"low": "5", "normal": "50", "high": "95"}

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        percents = [given.get(name) for name in self.STARTING]
        if None not in percents and percents != sorted(percents):
            self.add_error("high", "Low, then normal, then high: the percentages rise.")
        for name, other in (("first", "last"), ("last", "first")):
            if given.get(other) and not given.get(name) and name not in self.errors:
                self.add_error(name, "A season has a first and a last day.")
        return given

    def picked(self) -> Picked:
        given = self.cleaned_data
        season = Season(given["first"], given["last"]) if given["first"] else None
        return Picked(tuple(float(given[name]) for name in self.STARTING), season)


class OnDayForm(FirmForm):
    on = DayField(label="Level on", help_text="Like 14 March")
