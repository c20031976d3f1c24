"""The block of the firm's page on what a floating dock is tried under and judged by, each rule with its source."""

from typing import Any

from django import forms

from contractor.company.fields import LengthField, PressureField, WeightField
from contractor.company.forms import FirmModelForm
from contractor.company.models import Company


class FlotationForm(FirmModelForm):
    """What a floating dock is tried under and judged by."""

    half_load_psf = PressureField(label="Load on half of the deck", most=500, help_text="0 leaves the case out")
    crowd_inset_in = LengthField(label="How far from the edge they stand", default_unit="in", most=120)
    heavy_load_lb = WeightField(label="One heavy load", most=20000, help_text="0 leaves the case out")
    heavy_inset_in = LengthField(label="How far from the edge it stands", default_unit="in", most=120)
    ramp_load_psf = PressureField(
        label="Load on the whole ramp",
        required=False,
        most=500,
        help_text="Empty: as on the deck. 0 leaves the case out",
    )
    hinge_step_in = LengthField(
        label="Most step at a hinge",
        default_unit="in",
        most=24,
        help_text="Two sections that would float further apart than this are a Check",
    )
    hand_lift_lb = WeightField(
        label="What one person lifts", least=10, most=200, help_text="About 50 lb. Common practice, no source"
    )

    class Meta:
        model = Company
        fields = [
            "half_load_psf",
            "edge_people",
            "end_people",
            "crowd_inset_in",
            "heavy_load_lb",
            "heavy_inset_in",
            "ramp_load_psf",
            "asks_firm",
            "tilt_limit_deg",
            "asks_landing_float",
            "asks_reservoir",
            "asks_lake_town",
            "posted_share",
            "hinge_step_in",
            "hand_lift_lb",
            "frame_buoyancy",
        ]
        labels = {
            "asks_firm": "Our own rules",
            "tilt_limit_deg": "Most tilt, by our own rules",
            "posted_share": "People to post",
        }
        help_texts = {
            "edge_people": "At most one to every 2 ft. 0 leaves the case out",
            "end_people": "At most one to every 2 ft. 0 leaves the case out",
            "asks_firm": "Stays afloat and upright with the deck dry; float tops above water; tilts no more than "
            "the limit below. Common practice, no source",
            "asks_landing_float": "50 psf all over, or 500 lb at any point; tilts no more than 6 degrees. "
            "UFC 4-152-01 (28 Jul 2005), 7-3.3",
            "asks_reservoir": "20 psf all over, or 400 lb at one place; dock alone 7 in from water to frame; a finger "
            "end loses at most 4 in under 400 lb 2 ft from it. Dock specification of a federal reservoir licensee",
            "asks_lake_town": "Dock alone, at least 10 in from water to top of deck. "
            "City code of Lake St. Croix Beach, Minnesota",
            "posted_share": "Of those that put float tops or a deck edge under, rounded down. "
            "Two thirds is common practice",
            "frame_buoyancy": "Off: only floats lift. Wet lumber counts for little, and for less each year",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, unit in (("edge_people", "people"), ("end_people", "people"), ("tilt_limit_deg", "degrees")):
            self.fields[name].unit = unit
            self.fields[name].widget = forms.TextInput(attrs={"inputmode": "decimal"})
        tilt = self.initial.get("tilt_limit_deg")
        if tilt is not None:
            self.initial["tilt_limit_deg"] = f"{tilt:g}"
