"""A signature, a visit done or dropped, the dates of the season."""

from django import forms

from contractor.company.fields import DayField, LevelField
from contractor.company.forms import FirmForm, FirmModelForm
from jobs.handover.models import SeasonDates


class SignForm(FirmForm):
    name = forms.CharField(label="Signed by", max_length=160)
    on = DayField(label="On")
    note = forms.CharField(label="What was agreed", max_length=300, required=False)


class VisitForm(FirmForm):
    done_on = DayField(label="Done on")
    level_in = LevelField(label="Water level then", required=False)
    found = forms.CharField(
        label="What was found", required=False, widget=forms.Textarea({"rows": 4}), help_text="Damage, parts to order"
    )
    storage = forms.CharField(label="Where it is stored", max_length=200, required=False)


class DropForm(FirmForm):
    why = forms.CharField(label="Why it is not done", max_length=200)


class DatesForm(FirmModelForm):
    class Meta:
        model = SeasonDates
        fields = ["first_check_weeks", "out_month", "out_day", "in_month", "in_day", "remind_days"]
