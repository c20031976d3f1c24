"""A stage is put on a day with a crew; it is held, done, or its job is built another way."""

from typing import Any

from django import forms
from django.utils import timezone

from contractor.company.fields import DayField, MoneyField
from contractor.company.forms import FirmForm, FirmModelForm
from jobs.schedule.models import BuildStage, Cause, Crew, JobPlan, WaivedGate


class MoveForm(FirmForm):
    """Where a stage is to stand."""

    crew = forms.ModelChoiceField(label="Crew", queryset=Crew.objects.none(), empty_label=None)
    start = DayField(label="Starts")
    pin = forms.BooleanField(
        label="It stays there when a new plan is made", required=False, initial=True, widget=forms.CheckboxInput
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["crew"].queryset = Crew.objects.working()


class WhyForm(FirmForm):
    """Why a stage is moved."""

    cause = forms.ChoiceField(label="Cause", choices=Cause.choices, initial=Cause.OTHER, required=False)
    words = forms.CharField(label="Why", max_length=300, required=False)

    def clean_cause(self) -> str:
        return self.cleaned_data["cause"] or Cause.OTHER


class DoneForm(FirmForm):
    on = DayField(label="Done on")

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on > timezone.localdate():
            raise forms.ValidationError("A stage is done today or was done earlier.")
        return on


class HoldForm(FirmForm):
    why = forms.CharField(
        label="What it waits for", max_length=300, error_messages={"required": "Say what it waits for."}
    )


class PlanForm(FirmModelForm):
    class Meta:
        model = JobPlan
        fields = ["built_in_yard", "launch_first", "weight"]
        help_texts = {"weight": "When two jobs cannot both be in time"}
        labels = {
            "built_in_yard": "Layout and framing are done in the yard, before the permit if need be",
            "launch_first": "It is launched before the boards are on",
        }


class DepositForm(FirmForm):
    amount = MoneyField(label="Amount", above_zero=True)
    cleared_on = DayField(label="Cleared on")
    how = forms.CharField(label="How", max_length=80, required=False)


class RiskForm(FirmForm):
    gate = forms.ChoiceField(label="Go on without", choices=WaivedGate.choices)
    stage = forms.ChoiceField(label="For", choices=[("", "every stage"), *BuildStage.choices], required=False)
    reason = forms.CharField(label="Why", max_length=300, error_messages={"required": "Say why."})


class DelayForm(FirmForm):
    stage = forms.ChoiceField(label="Stage", choices=[("", "the job"), *BuildStage.choices], required=False)
    cause = forms.ChoiceField(label="Cause", choices=Cause.choices)
    words = forms.CharField(label="What happened", max_length=300)
