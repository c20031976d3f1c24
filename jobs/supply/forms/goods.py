"""What is typed about a job's goods and holds, and about the yard."""

from typing import Any, Literal

from django import forms

from contractor.company.fields import DayField, LengthField, MoneyField
from contractor.company.forms import FirmForm, FirmModelForm
from estimating.catalogue.models import Item, Supplier
from jobs.supply.models import STAGES, HoldKind, Need, Return

from .fields import QuantityField, ShelfField

STAGE_CHOICES = [(stage, {"handover": "hand-over"}.get(stage, stage)) for stage in STAGES]


class NeedForm(FirmForm):
    """Something the takeoff did not foresee."""

    item = forms.ModelChoiceField(label="What", queryset=Item.objects.offered(), empty_label="choose")
    length_in = LengthField(label="Length, for a stick", required=False)
    quantity = QuantityField(label="How many", least=0)
    stage = forms.ChoiceField(label="For stage", choices=STAGE_CHOICES)
    needed_by = DayField(label="Needed by")
    reason = forms.CharField(label="Why", max_length=300)

    def facts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("quantity", "stage", "needed_by", "reason")}


class MoveForm(FirmForm):
    """So many of one need, for a reason where one must or may be given."""

    quantity = QuantityField(label="How many", least=0)
    reason = forms.CharField(label="Why", max_length=300, required=False)

    def __init__(self, *args: Any, reason: Literal["must", "may", "no"] = "may", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if reason == "no":
            del self.fields["reason"]
            return
        self.fields["reason"].required = reason == "must"
        if reason == "may":
            self.fields["reason"].label = "Why, if it needs saying"


class TakeForm(MoveForm):
    """Take another job's goods."""

    giver = forms.ModelChoiceField(label="From", queryset=Need.objects.none(), empty_label="choose")

    def __init__(self, *args: Any, to: Need, **kwargs: Any) -> None:
        super().__init__(*args, reason="must", **kwargs)
        givers = Need.objects.standing().in_full().filter(stock=to.stock, set_aside__gt=0).exclude(job=to.job)
        self.fields["giver"].queryset = givers
        self.fields["giver"].label_from_instance = lambda need: (
            f"{need.job.client.filed_under} {need.job.number}, {need.set_aside.normalize():f} set aside"
        )


class InsteadForm(FirmForm):
    """Another thing in place of the drawn one."""

    item = forms.ModelChoiceField(label="Instead", queryset=Item.objects.none(), empty_label="choose")
    quantity = QuantityField(label="For how many", least=0)
    reason = forms.CharField(label="Why, and who agreed", max_length=300, required=False)
    customer_agreed = forms.BooleanField(label="The customer agreed in writing", required=False)

    def __init__(self, *args: Any, need: Need, offered: str | None = None, **kwargs: Any) -> None:
        super().__init__(*args, initial={"quantity": need.quantity - need.issued, "item": offered}, **kwargs)
        offered = Item.objects.offered().of_kind(need.stock.item.kind)
        self.fields["item"].queryset = offered.exclude(pk=need.stock.item_id)


class HoldForm(FirmForm):
    kind = forms.ChoiceField(label="Waits for", choices=HoldKind.choices)
    words = forms.CharField(label="For what exactly", max_length=200, help_text="As the sentence says it: 4 hinge kits")
    since = DayField(label="Since")
    promised_on = DayField(label="Promised for", required=False)
    who_acts = forms.CharField(label="Who acts", max_length=120, required=False)
    check_on = DayField(label="Look again on", required=False)
    ends_itself = forms.BooleanField(
        label="End it by itself once the records show it",
        required=False,
        initial=True,
        help_text="A signature, deposit, permit, floats, hardware, lumber. Anything else is cleared by hand.",
    )
    stages = forms.MultipleChoiceField(
        label="It blocks",
        choices=STAGE_CHOICES,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Nothing ticked: the whole job.",
    )


class ReasonForm(FirmForm):
    reason = forms.CharField(label="Why", max_length=300)


class CountShelfForm(FirmForm):
    shelf = ShelfField()
    counted = QuantityField(label="Counted there")
    reason = forms.CharField(label="Why it differs", max_length=300)


class AdjustForm(FirmForm):
    shelf = ShelfField()
    quantity = forms.DecimalField(
        label="More, or fewer with a minus",
        max_digits=9,
        decimal_places=3,
        widget=forms.TextInput(attrs={"inputmode": "text"}),
    )
    reason = forms.CharField(label="Why", max_length=300, help_text="Found, broken, given away")


class CarryForm(FirmForm):
    from_shelf = ShelfField()
    to_shelf = ShelfField()
    quantity = QuantityField(label="How many", least=0)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["from_shelf"].label, self.fields["to_shelf"].label = "From shelf", "To shelf"


class PutForm(FirmForm):
    """Something new to the yard: an item, or an offcut by its length."""

    item = forms.ModelChoiceField(label="What", queryset=Item.objects.offered(), empty_label="choose")
    length_in = LengthField(label="Length, for a stick or offcut", required=False)
    quantity = QuantityField(label="How many", least=0)
    shelf = ShelfField()
    reason = forms.CharField(label="Why", max_length=300, help_text="Found, left over, first count")

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        item = given.get("item")
        if item and item.is_wood and not given.get("length_in"):
            self.add_error("length_in", "Lumber is kept by length: how long is a piece?")
        if item and not item.is_wood and given.get("length_in"):
            self.add_error("length_in", "Only lumber and decking are kept by length.")
        return given


class SendBackForm(FirmForm):
    supplier = forms.ModelChoiceField(label="To", queryset=Supplier.objects.offered(), empty_label="choose")
    quantity = QuantityField(label="How many", least=0)
    reason = forms.CharField(label="Why", max_length=300)
    went_on = DayField(label="Went on")
    restock_fee = MoneyField(label="Their fee", required=False, least=0)
    credit_expected = MoneyField(label="Credit expected", required=False, least=0)

    def facts(self) -> dict[str, Any]:
        given = {name: self.cleaned_data[name] for name in ("reason", "went_on", "credit_expected")}
        return {**given, "restock_fee": self.cleaned_data["restock_fee"] or 0}


class ReturnForm(FirmModelForm):
    went_on = DayField(label="Went back", required=False)
    credit_received_on = DayField(label="Credit came on", required=False)
    restock_fee = MoneyField(label="Their fee", least=0)
    credit_expected = MoneyField(label="Credit expected", required=False, least=0)
    credit_received = MoneyField(label="Credit that came", required=False, least=0)

    class Meta:
        model = Return
        fields = ["went_on", "replaced", "restock_fee", "credit_expected", "credit_received", "credit_received_on"]
