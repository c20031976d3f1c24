"""A site's facts in the order one meets them: the same order as the blank site sheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django import forms

from contractor.company.fields import AreaField, DistanceField, LengthField, LevelField
from contractor.company.forms import FirmForm, FirmModelForm
from jobs.records.forms.typed import CountOrUnknown, DegreesField, FigureOrUnknown, MonthDayField
from jobs.records.models import Site, WindowKind
from jobs.records.models.limits import LIMIT_FIELDS

MOST_WINDOWS = 6
UNKNOWN_HINT = "U if nobody knows"


@dataclass(frozen=True, slots=True)
class Block:
    name: str
    title: str
    fields: tuple[str, ...]
    hint: str = ""


BLOCKS = (
    Block(
        "where",
        "Where it is",
        (
            "water_body",
            "water_kind",
            "name",
            "address",
            "directions",
            "gate_code",
            "miles_from_yard",
            "latitude",
            "longitude",
            "shore_owner",
            "existing_dock",
        ),
    ),
    Block(
        "lines",
        "Lines and neighbours",
        ("frontage_in", "setback_left_in", "setback_right_in", "channel_notes", "intake_notes"),
        "Left and right as one stands on the shore and looks at the water.",
    ),
    Block(
        "land",
        "Getting there by land",
        ("access_notes", "gate_width_in", "steps", "carry_in", "overhead_wires", "island"),
    ),
    Block("water", "Getting there by water", ("launch_place", "launch_stops_below_in", "tow_miles", "barge_needed")),
    Block("shore", "Shore and bottom", ("shore_kind", "bank_height_in", "hinge_level_in", "bottom")),
    Block(
        "exposure",
        "Wind, wakes, current, ice",
        (
            "fetch_miles",
            "fetch_direction",
            "wake",
            "current_knots",
            "salt",
            "ice",
            "ice_out_usual",
            "ice_in_usual",
            "power_wanted",
        ),
    ),
    Block(
        "rules",
        "What the rules allow there",
        LIMIT_FIELDS,
        "Numbers that hold for any dock here. What one permit says stands with that permit.",
    ),
    Block("notes", "Notes", ("notes",)),
)


def _length(label: str, **more: Any) -> LengthField:
    return LengthField(label=label, required=False, may_be_unknown=True, **more)


def _miles(label: str) -> DistanceField:
    return DistanceField(label=label, required=False, may_be_unknown=True)


class LimitFields(forms.Form):
    """The numbers an authority sets, in the firm's units."""

    most_width_in = _length("Width at most", above_zero=True)
    most_area_sqft = AreaField(label="Area at most", required=False, may_be_unknown=True, above_zero=True)
    most_reach_in = _length("Reach from shore at most", above_zero=True)
    most_walkway_width_in = _length("Walkway width at most", above_zero=True)
    least_setback_in = _length("From each side line at least")
    least_clearance_in = _length("Water under the floats at least", default_unit="in")
    least_deck_open_percent = FigureOrUnknown(
        label="Deck open to light at least", required=False, unit="%", min_value=0, max_value=100
    )


class SiteForm(LimitFields, FirmModelForm):
    miles_from_yard = _miles("From the yard, one way")
    latitude = DegreesField(
        label="Latitude",
        most=90,
        sides="NS",
        help_text="From a map, like 44.9731. It tells the schedule how far crews travel.",
        what="Latitude says how far north or south a place lies: from 90 N to 90 S, like 44.9731. South is below zero.",
    )
    longitude = DegreesField(
        label="Longitude",
        most=180,
        sides="EW",
        help_text="From the same map, like -93.2650",
        what="Longitude says how far east or west a place lies: 180 E to 180 W, like -93.2650. West is below zero.",
    )
    frontage_in = _length("Frontage", above_zero=True)
    setback_left_in = _length("To the left line", help_text="From the middle of the landing, looking at the water")
    setback_right_in = _length("To the right line", help_text="The same, on the other side")
    gate_width_in = _length("Narrowest gate", above_zero=True)
    steps = CountOrUnknown(label="Steps", required=False, min_value=0, help_text=UNKNOWN_HINT)
    carry_in = _length("Carry by hand")
    launch_stops_below_in = LevelField(label="Launch stops working below", required=False, may_be_unknown=True)
    tow_miles = _miles("Tow to the site")
    bank_height_in = _length("Bank above normal water")
    hinge_level_in = LevelField(
        label="Ramp hinge, or top of the fixed dock",
        required=False,
        may_be_unknown=True,
        help_text="Height on the same datum as the water levels",
    )
    fetch_miles = _miles("Open water, the longest way")
    current_knots = FigureOrUnknown(label="Current", required=False, unit="knots", min_value=0)

    class Meta:
        model = Site
        fields = [name for block in BLOCKS for name in block.fields]
        widgets = {
            name: forms.Textarea(attrs={"rows": 2})
            for name in ("address", "directions", "channel_notes", "intake_notes", "access_notes", "notes")
        }
        labels = {"name": "Lot or road", "fetch_direction": "Open towards"}
        help_texts = {
            "gate_code": "Never printed on a paper for the customer",
            "access_notes": "Road, where a trailer can turn, where to unload",
            "existing_dock": "What is there now, and whether it stays",
            "ice_out_usual": "Like mid April",
            "ice_in_usual": "Like 10 December",
        }
        error_messages = {"water_body": {"required": "Name the lake, river or bay."}}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("overhead_wires", "island", "barge_needed", "power_wanted"):
            self.fields[name].widget.choices = [("unknown", "unknown"), ("true", "yes"), ("false", "no")]

    def blocks(self) -> Iterator[tuple[Block, list[forms.BoundField]]]:
        """The form, block by block."""
        return ((block, [self[name] for name in block.fields]) for block in BLOCKS)


class WindowForm(FirmForm):
    """Days on which in-water work is allowed or barred; an empty row is no row."""

    kind = forms.ChoiceField(label="Work", choices=[("", ""), *WindowKind.choices], required=False)
    first = MonthDayField(label="First day", required=False)
    last = MonthDayField(label="Last day", required=False)
    note = forms.CharField(label="Why", max_length=120, required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        typed = given.get("first") or given.get("last") or given.get("kind")
        if not typed:
            return given
        for name, words in (("kind", "Say which."), ("first", "From which day?"), ("last", "To which day?")):
            if not given.get(name) and name not in self.errors:
                self.add_error(name, words)
        return given

    def window(self) -> dict[str, Any] | None:
        given = self.cleaned_data
        if not given.get("kind"):
            return None
        (first_month, first_day), (last_month, last_day) = given["first"], given["last"]
        return {
            "kind": given["kind"],
            "first_month": first_month,
            "first_day": first_day,
            "last_month": last_month,
            "last_day": last_day,
            "note": given["note"],
        }


class Windows(forms.BaseFormSet):
    @staticmethod
    def initial_of(record: Any) -> list[dict[str, Any]]:
        return [
            {
                "kind": window.kind,
                "first": (window.first_month, window.first_day),
                "last": (window.last_month, window.last_day),
                "note": window.note,
            }
            for window in record.work_windows.all()
        ]

    def windows(self) -> list[dict[str, Any]]:
        """What `set_work_windows` needs."""
        return [window for form in self.forms if (window := form.window())]


WindowsForm = forms.formset_factory(WindowForm, Windows, extra=2, max_num=MOST_WINDOWS, absolute_max=MOST_WINDOWS)
