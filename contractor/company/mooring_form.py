"""The block of the firm's page on what anchors and chain have to hold, each rule with its source."""

from typing import Any

from django import forms

from contractor.company.fields import LengthField
from contractor.company.forms import FirmModelForm
from contractor.company.models import Company

PLAIN = {
    "chain_scope": "times",
    "wind_mph": "mph",
    "wave_wind_mph": "mph",
    "wind_drag": "",
    "current_drag": "",
    "chain_share_percent": "%",
    "anchor_factor": "times",
}


class MooringForm(FirmModelForm):
    """What a floating dock is held against."""

    chain_waves_in = LengthField(
        label="Slack for waves",
        default_unit="in",
        most=120,
        help_text="On top of the straight line at the highest level: 6 in to 2 ft. Common practice, no source",
    )
    chain_tie_off_in = LengthField(label="Chain to tie off", default_unit="in", most=120, help_text="At the retainer")
    chain_wander_in = LengthField(
        label="Most wander of a corner", most=2400, help_text="From here on visits to re-set chain are planned"
    )
    boat_profile_in = LengthField(
        label="Height of a boat in the wind",
        default_unit="in",
        most=600,
        help_text="Hull and cabin, on the average. No source: look at the boats",
    )

    class Meta:
        model = Company
        fields = [
            "chain_waves_in",
            "chain_tie_off_in",
            "chain_scope",
            "chain_wander_in",
            "wind_mph",
            "wave_wind_mph",
            "wind_drag",
            "current_drag",
            "boat_profile_in",
            "chain_share_percent",
            "anchor_factor",
        ]
        labels = {
            "chain_scope": "Chain, times the depth",
            "wind_mph": "Wind to hold against",
            "wave_wind_mph": "Wind that raises waves",
            "wind_drag": "Drag in wind",
            "current_drag": "Drag in current",
            "chain_share_percent": "Share of the chain’s limit",
            "anchor_factor": "Anchors hold over the pull",
        }
        help_texts = {
            "chain_scope": "At the highest level; 0 leaves it out. Town code of Falmouth, MA, 269-5 asks 2 to 2½",
            "wind_mph": "Presses 0.00256 V². 45 is a gale; where storms blow harder, type more. Local rules decide",
            "wave_wind_mph": "Blowing for a while, over the site’s open water. EM 1110-2-1100, II-2",
            "wind_drag": "1.2 to 2.0 for flat and box faces. From memory",
            "current_drag": "In deep water; it rises to 3.2 where a float touches. UFC 4-159-03, 4-5",
            "chain_share_percent": "Working load limits are a quarter of breaking for grade 30, a third for grade 43. "
            "49 CFR 393.108",
            "anchor_factor": "Against sliding. Common practice, no source; friction on the bottom: NAVFAC DM 7.02",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, unit in PLAIN.items():
            self.fields[name].unit = unit
            self.fields[name].widget = forms.TextInput(attrs={"inputmode": "decimal"})
            if self.initial.get(name) is not None:
                self.initial[name] = f"{self.initial[name]:g}"
