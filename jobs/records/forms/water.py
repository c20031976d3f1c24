"""Levels, readings and depths, typed as one reads them off the staff and the tape."""

import datetime
from copy import copy
from typing import Any

from django import forms
from django.utils import timezone

from contractor.company.fields import DayField, LevelField
from contractor.company.forms import FirmForm, FirmModelForm
from jobs.records.forms.typed import MonthDayField, QuietLength
from jobs.records.models import BottomKind, LevelNames, LevelRange, LevelReading, Site
from jobs.records.models.saying import reading_said

MOST_DEPTHS = 60
MOST_CALENDAR_ROWS = 60
BLANK_ROWS = 3
LEVEL_FIELDS = ("low_in", "normal_in", "high_in", "storm_in")
TELLING = ("value_in", "note")  # a reading of which none of these is typed was not taken
ORDER = (
    ("low_in", "normal_in", "Low water cannot stand above normal water."),
    ("normal_in", "high_in", "Normal water cannot stand above high water."),
    ("low_in", "high_in", "Low water cannot stand above high water."),
    ("high_in", "storm_in", "High water cannot stand above storm water."),
    ("normal_in", "storm_in", "Normal water cannot stand above storm water."),
)


def _level(label: str, **more: Any) -> LevelField:
    return LevelField(label=label, required=False, may_be_unknown=True, **more)


class LevelsForm(FirmModelForm):
    low_in = _level("Low")
    normal_in = _level("Normal")
    high_in = _level("High")
    storm_in = _level("Flood or storm")
    names = forms.ChoiceField(label="These are", choices=LevelNames.choices, required=False)

    class Meta:
        model = LevelRange
        fields = ["datum", "names", "low_in", "normal_in", "high_in", "storm_in"]
        help_texts = {"datum": "A mark on a rock, a staff, full pool, chart datum. Never mix two"}

    def clean_names(self) -> str:
        return self.cleaned_data["names"] or self.instance.names

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for lower, upper, sentence in ORDER:
            low, high = given.get(lower), given.get(upper)
            if low is not None and high is not None and low > high:
                self.add_error(upper, sentence)
        if not given.get("datum") and any(given.get(name) is not None for name in LEVEL_FIELDS):
            self.add_error("datum", "Say what the levels are measured from: a mark, a staff, full pool.")
        return given


class ReadingForm(FirmModelForm):
    day = DayField(label="Day")
    time = forms.TimeField(
        label="Time",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"invalid": "Type a time like 14:30.", "required": "Type a time like 14:30."},
    )
    value_in = LevelField(label="The water stands at")

    class Meta:
        model = LevelReading
        fields = ["value_in", "datum", "source", "observer", "note"]
        help_texts = {"note": "Wind, waves, anything that pushes the water"}
        error_messages = {"datum": {"required": "Say what the reading is measured from."}}

    field_order = ["day", "time", "value_in", "datum", "source", "observer", "note"]

    def clean_value_in(self) -> float:
        if self.cleaned_data["value_in"] is None:
            raise forms.ValidationError("A reading has a figure. Leave the row out if nobody read it.")
        return self.cleaned_data["value_in"]

    def facts(self) -> dict[str, Any]:
        """What `record_reading` needs."""
        given = self.cleaned_data
        moment = datetime.datetime.combine(given["day"], given["time"])
        return {**self.changes(), "read_at": timezone.make_aware(moment)}


class DepthForm(FirmForm):
    """One depth; an empty row is no row."""

    label = forms.CharField(label="Where", max_length=60, required=False)
    distance_in = QuietLength(label="From shore", required=False)
    depth_in = LevelField(label="Depth", required=False, least=0)
    reading = forms.ModelChoiceField(
        label="At which level", queryset=LevelReading.objects.none(), required=False, empty_label="normal level"
    )
    bottom = forms.ChoiceField(label="Bottom", choices=BottomKind.choices, required=False)
    soft_depth_in = LevelField(label="Soft", required=False, least=0)

    def __init__(self, *args: Any, readings: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["reading"].queryset = readings
        self.fields["reading"].label_from_instance = reading_said

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        measured = any(given.get(name) is not None for name in ("distance_in", "depth_in", "soft_depth_in"))
        if measured and not given.get("label") and "label" not in self.errors:
            self.add_error("label", "Name the place: ramp end, lake end, anchor 1.")
        given["bottom"] = given.get("bottom") or BottomKind.UNKNOWN
        return given


class Depths(forms.BaseFormSet):
    def clean(self) -> None:
        seen: set[str] = set()
        for form in self.forms:
            label = getattr(form, "cleaned_data", {}).get("label")
            if label and label in seen:
                form.add_error("label", "Another row has this name. Give each its own.")
            seen.add(label or "")

    def rows(self) -> list[dict[str, Any]]:
        """What `save_depths` needs."""
        return [form.cleaned_data for form in self.forms if form.cleaned_data.get("label")]


def depths_form(site: Site, data: Any = None, *, blank: int = BLANK_ROWS) -> Depths:
    """The depth rows of a site with blank ones after them."""
    kind = forms.formset_factory(DepthForm, Depths, extra=blank, max_num=MOST_DEPTHS, absolute_max=MOST_DEPTHS)
    names = DepthForm.base_fields
    initial = [{name: getattr(point, name) for name in names} for point in site.depths_standing()]
    readings = site.readings.standing()
    return kind(data, prefix="depth", initial=initial, form_kwargs={"readings": readings})


class CalendarForm(FirmForm):
    """A level on a day of every year; an empty row is no row."""

    day = MonthDayField(label="On", required=False)
    level_in = LevelField(label="The water stands at", required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("day") and given.get("level_in") is None and "level_in" not in self.errors:
            self.add_error("level_in", "What does the water stand at then?")
        if given.get("level_in") is not None and not given.get("day") and "day" not in self.errors:
            self.add_error("day", "On which day, like 15 March?")
        return given


class Calendar(forms.BaseFormSet):
    def clean(self) -> None:
        seen: set[tuple[int, int]] = set()
        for form in self.forms:
            day = getattr(form, "cleaned_data", {}).get("day")
            if day and day in seen:
                form.add_error("day", "Another row is for this day. Keep one.")
            seen |= {day} if day else set()

    def rows(self) -> list[dict[str, Any]]:
        """What `save_calendar` needs."""
        given = (form.cleaned_data for form in self.forms if form.cleaned_data.get("day"))
        return [{"month": row["day"][0], "day": row["day"][1], "level_in": row["level_in"]} for row in given]


def calendar_form(site: Site, data: Any = None) -> Calendar:
    """The calendar rows of a site with blank ones after them; unbound where the page had none."""
    most = MOST_CALENDAR_ROWS
    kind = forms.formset_factory(CalendarForm, Calendar, extra=BLANK_ROWS, max_num=most, absolute_max=most)
    initial = [{"day": (row.month, row.day), "level_in": row.level_in} for row in site.calendar_levels.all()]
    there = data is not None and "calendar-TOTAL_FORMS" in data
    return kind(data if there else None, prefix="calendar", initial=initial)


class WaterForms:
    """The water page as it is typed: the range, one reading if somebody took one, the depths. Saved as one."""

    def __init__(self, site: Site, data: Any = None, *, read_by: str) -> None:
        self.standing = LevelRange.objects.filter(site=site).first() or LevelRange(site=site, version=0)
        # The form writes what is typed into its record: the page goes on telling of the one that stands.
        self.levels = LevelsForm(data, instance=copy(self.standing), prefix="levels")
        now = timezone.localtime()
        first = {"day": now.date(), "time": f"{now:%H:%M}", "datum": self.standing.datum, "observer": read_by}
        self.has_reading = data is not None and any(data.get(f"reading-{name}", "").strip() for name in TELLING)
        self.reading = ReadingForm(data if self.has_reading else None, prefix="reading", initial=first)
        self.depths = depths_form(site, data)
        self.calendar = calendar_form(site, data)

    @property
    def has_levels(self) -> bool:
        """Whether a range stands or is typed: one that is all unknown need not be written down."""
        typed = self.levels.changes()
        return self.standing.pk is not None or any(typed[name] not in (None, "") for name in ("datum", *LEVEL_FIELDS))

    def are_valid(self) -> bool:
        bound = [form for form in (self.levels, self.reading, self.depths, self.calendar) if form.is_bound]
        return all([form.is_valid() for form in bound]) and self._has_datum()

    def _has_datum(self) -> bool:
        """A calendar stands on the datum of the levels."""
        if self.levels.cleaned_data["datum"] or not (self.calendar.is_bound and self.calendar.rows()):
            return True
        self.levels.add_error("datum", "Say what the calendar’s levels are measured from: a mark, a staff, full pool.")
        return False
