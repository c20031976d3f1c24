"""The block of the firm's page on how lumber is sawn and which offcuts go back to the yard."""

from contractor.company.fields import LengthField
from contractor.company.forms import FirmModelForm
from contractor.company.models import Company


class SawingForm(FirmModelForm):
    """What a cut loses, what a stick is trusted for, and what becomes of offcuts."""

    kerf_in = LengthField(
        label="Lost at each cut", default_unit="in", most=1, help_text="The kerf. 1/8 in is common practice, no source"
    )
    end_trim_in = LengthField(
        label="Squared off every new stick",
        default_unit="in",
        most=12,
        help_text="Its cut included; 0 if ends are good",
    )
    stick_over_in = LengthField(
        label="Sticks run over their name by",
        default_unit="in",
        most=2,
        help_text="Often 1/4 to 1/2 in. With 1/8 in, two 6 ft boards come from a 12 ft stick. 0 trusts nothing",
    )
    keep_offcut_in = LengthField(
        label="Offcuts kept from",
        most=240,
        help_text="Shorter ones are not put back. 3 ft is common practice, no source",
    )

    class Meta:
        model = Company
        fields = ["kerf_in", "end_trim_in", "stick_over_in", "keep_offcut_in", "offcuts_first"]
        help_texts = {"offcuts_first": "Before a stick is bought. Off: cut lists use new sticks only"}
