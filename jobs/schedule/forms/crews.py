"""Crews, people, boats, days away, and the firm's rules for days."""

from typing import Any

import holidays
from django import forms

from contractor.company.fields import DayField
from contractor.company.forms import FirmForm, FirmModelForm
from contractor.company.models import Staff
from jobs.schedule.models import (
    BuildStage,
    Crew,
    CrewMember,
    EquipmentKind,
    ScheduleRules,
    Skill,
)
from jobs.schedule.models.logs import WEATHER

WEEKDAYS = [(str(n), name) for n, name in enumerate(("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"), 1)]
COUNTRIES = {
    "US": "United States",
    "CA": "Canada",
    "GB": "United Kingdom",
    "IE": "Ireland",
    "AU": "Australia",
    "NZ": "New Zealand",
    "SE": "Sweden",
    "NO": "Norway",
    "FI": "Finland",
    "DK": "Denmark",
    "DE": "Germany",
    "NL": "Netherlands",
    "FR": "France",
    "CH": "Switzerland",
    "AT": "Austria",
}


class CrewForm(FirmForm):
    name = forms.CharField(label="Name of the crew", max_length=60, error_messages={"required": "Name the crew."})


class MemberForm(FirmForm):
    name = forms.CharField(label="Name", max_length=120, error_messages={"required": "Type the name."})
    staff = forms.ModelChoiceField(
        label="Signs in as", queryset=Staff.objects.none(), required=False, empty_label="does not sign in"
    )
    skills = forms.ModelMultipleChoiceField(
        label="Can", queryset=Skill.objects.none(), required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["staff"].queryset = Staff.objects.filter(active=True)
        self.fields["skills"].queryset = Skill.objects.all()


class DaysApartForm(FirmForm):
    """First and last day, in order."""

    first_on = DayField(label="First day")
    last_on = DayField(label="Last day", required=False, help_text="Empty: one day")

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        first, last = given.get("first_on"), given.get("last_on")
        if first and last and last < first:
            self.add_error("last_on", "It ends before it begins.")
        if first and not last and "last_on" not in self.errors:
            given["last_on"] = first
        return given


class AbsenceForm(DaysApartForm):
    who = forms.ChoiceField(label="Who")
    why = forms.CharField(label="Why", max_length=120, error_messages={"required": "Say why."})

    field_order = ["who", "first_on", "last_on", "why"]

    def __init__(self, *args: Any, crew: Crew | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        people = CrewMember.objects.filter(active=True, crew__active=True).select_related("crew")
        crews = Crew.objects.working()
        if crew is not None:
            people, crews = people.filter(crew=crew), crews.filter(pk=crew.pk)
        self.people = {f"p{one.pk}": one for one in people}
        self.crews = {f"c{one.pk}": one for one in crews}
        named = [(key, one.name) for key, one in self.people.items()]
        whole = [(key, f"the whole crew: {one.name}") for key, one in self.crews.items()]
        every = [] if crew is not None else [("all", "every crew: season work, yard days")]
        self.fields["who"].choices = [*named, *whole, *every]

    def facts(self) -> dict[str, Any]:
        given = self.cleaned_data
        who = given["who"]
        days = {name: given[name] for name in ("first_on", "last_on", "why")}
        return {"member": self.people.get(who), "crew": self.crews.get(who), **days}


class SkillForm(FirmForm):
    name = forms.CharField(label="Skill", max_length=60, help_text="Runs the boat, signals the crane")
    stages = forms.MultipleChoiceField(
        label="Needed for", choices=BuildStage.choices, required=False, widget=forms.CheckboxSelectMultiple
    )


class EquipmentForm(FirmForm):
    name = forms.CharField(label="Name", max_length=60)
    kind = forms.ChoiceField(label="Kind", choices=EquipmentKind.choices)
    stages = forms.MultipleChoiceField(
        label="Needed for", choices=BuildStage.choices, required=False, widget=forms.CheckboxSelectMultiple
    )


class RepairForm(FirmForm):
    """Days a boat is out of use; both empty: it is in use."""

    out_from = DayField(label="Out of use from", required=False)
    out_until = DayField(label="until", required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        first, last = given.get("out_from"), given.get("out_until")
        if bool(first) != bool(last):
            self.add_error("out_until" if first else "out_from", "Give both days, or neither.")
        elif first and last < first:
            self.add_error("out_until", "It is back before it goes.")
        return given


class RulesForm(FirmModelForm):
    country = forms.ChoiceField(label="Country")
    works_on = forms.MultipleChoiceField(label="Working week", choices=WEEKDAYS, widget=forms.CheckboxSelectMultiple)
    cancellation_checked_on = DayField(label="Last checked", required=False)

    class Meta:
        model = ScheduleRules
        fields = [
            "country",
            "subdivision",
            "works_on",
            "day_hours",
            "cancellation_kind",
            "cancellation_days",
            "saturdays_count",
            "cancellation_source",
            "cancellation_checked_on",
            "weather_spring_one_in",
            "weather_summer_one_in",
            "ice_out_month",
            "ice_out_day",
            "ice_in_month",
            "ice_in_day",
            "ice_margin_days",
            "wind_limit_kn",
        ]
        labels = {
            "cancellation_kind": "A customer may cancel for",
            "cancellation_days": "How many days",
            "day_hours": "Productive hours a person a day",
            "weather_spring_one_in": "Spring: one day lost in",
            "weather_summer_one_in": "Rest of the year: one day lost in",
            "wind_limit_kn": "Lake work stops at, in knots",
        }
        help_texts = {
            "subdivision": "Two letters, like ME or ON; empty for the whole country",
            "cancellation_source": "Which law, so that it can be looked up again",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        instance = kwargs.get("instance")
        if instance is not None:
            kwargs["initial"] = {"works_on": list(instance.works_on), **kwargs.get("initial", {})}
        super().__init__(*args, **kwargs)
        known = holidays.list_supported_countries()
        here = [instance.country] if instance is not None and instance.country not in COUNTRIES else []
        self.fields["country"].choices = [
            (code, COUNTRIES.get(code, code)) for code in [*COUNTRIES, *here] if code in known
        ]

    def clean_works_on(self) -> str:
        return "".join(sorted(self.cleaned_data["works_on"]))

    def clean_subdivision(self) -> str:
        return self.cleaned_data["subdivision"].strip().upper()

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        region = given.get("subdivision")
        known = holidays.list_supported_countries().get(given.get("country", ""), ())
        if region and region not in known:
            some = ", ".join(sorted(known)[:6])
            self.add_error("subdivision", f"No such part of that country is known. Type one like {some}.")
        return given


class IceForm(FirmForm):
    water_body = forms.CharField(label="Water", max_length=100)
    out_on = DayField(label="Ice out", required=False)
    in_on = DayField(label="Ice in", required=False)
    seen = forms.BooleanField(label="Seen, not reckoned", required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        out, back = given.get("out_on"), given.get("in_on")
        if not out and not back and not self.errors:
            self.add_error("out_on", "Give a day for ice-out or ice-in.")
        if out and back and out.year != back.year:
            self.add_error("in_on", "One year at a time: both days in the same one.")
        return given


class WeatherForm(FirmForm):
    day = DayField(label="Day")
    crew = forms.ModelChoiceField(label="Crew", queryset=Crew.objects.none(), required=False, empty_label="every crew")
    cause = forms.ChoiceField(label="Cause", choices=[(cause.value, cause.label) for cause in WEATHER])
    words = forms.CharField(label="What was seen", max_length=300, help_text="Wind 22 kn at the landing, 7:10")
    decided_by_name = forms.CharField(label="Who decided", max_length=120)
    hours_lost = forms.DecimalField(label="Hours lost", required=False, min_value=0, max_value=200, decimal_places=2)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["crew"].queryset = Crew.objects.working()
