"""The block of the firm's page on how steep a ramp may get and how much water floats keep under them."""

from typing import Any

from django import forms

from contractor.company.fields import LengthField
from contractor.company.forms import FirmModelForm
from contractor.company.models import Company

SLOPES = ("ramp_comfortable", "ramp_steep", "ramp_refuse")


class RangeForm(FirmModelForm):
    """What is asked of every dock at every level of its water."""

    float_clearance_in = LengthField(
        label="Water under the floats, at low water",
        default_unit="in",
        most=240,
        help_text="Loaded. 12 in is common practice, no source. A permit that asks more goes before it",
    )

    class Meta:
        model = Company
        fields = [*SLOPES, "float_clearance_in"]
        labels = {
            "ramp_comfortable": "Comfortable ramp: 1 up in",
            "ramp_steep": "Steep from: 1 up in",
            "ramp_refuse": "Refused from: 1 up in",
        }
        help_texts = {
            "ramp_comfortable": "Flatter than this nothing is said. 4 is common advice at low water, no code",
            "ramp_steep": "Steeper than this is told as steep",
            "ramp_refuse": "Steeper than this stops the spec",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in SLOPES:
            self.fields[name].unit = "out"
            self.fields[name].widget = forms.TextInput(attrs={"inputmode": "decimal"})
            self.initial[name] = f"{self.initial.get(name, 0):g}"

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        slopes = [given.get(name) for name in SLOPES]
        if None not in slopes and not 100 >= slopes[0] >= slopes[1] >= slopes[2] >= 1:
            self.add_error(
                "ramp_refuse", "From flat to steep: comfortable, steep, refused. Between 1 in 100 and 1 in 1."
            )
        return given
