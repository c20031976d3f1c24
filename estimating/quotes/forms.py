"""What is typed on a quote: its terms and words, its options, the customer's answer."""

from decimal import Decimal
from typing import Any

from django import forms
from django.forms import formset_factory
from django.utils import timezone

from contractor.company.fields import DayField, MarginField, MoneyField
from contractor.company.models.firm import PRICE_STEPS
from estimating.quotes.models import AcceptedBy, OptionKind, Quote

TAX_MODES = [
    ("shop_is_end_user", "The shop pays tax on what it buys; no tax line"),
    ("separated_materials", "Separate prices: tax on the materials only"),
    ("whole_price", "Tax on the whole price"),
    ("end_user_and_whole_price", "The shop pays on what it buys, and tax on the whole price"),
    ("exempt", "The customer is exempt, with a certificate"),
]
LARGEST_SCAN = 10 * 1024 * 1024
SCANS = {b"%PDF": "pdf", b"\x89PNG": "png", b"\xff\xd8\xff": "jpg"}
MOST_OPTIONS = 12
WORDS = ("scope", "inclusions", "exclusions", "assumptions", "timing", "changes_text", "cancellation")


class TermsForm(forms.Form):
    """The dials and the words of a draft."""

    margin_percent = MarginField(label="Margin on price", most=95)
    rounding_step = forms.TypedChoiceField(label="Round to", choices=PRICE_STEPS, coerce=Decimal)
    valid_until = DayField(label="Valid until")
    tax_mode = forms.ChoiceField(label="Tax", choices=TAX_MODES)
    tax_reason = forms.CharField(label="Why not the usual tax", required=False, max_length=200)
    below_floor_reason = forms.CharField(
        label="If below the floor: who agreed, and why", required=False, max_length=200
    )
    title = forms.CharField(label="Heading", max_length=200)
    scope = forms.CharField(
        label="What we build", required=False, widget=forms.Textarea({"rows": 3}), help_text="Empty: follows the spec."
    )
    inclusions = forms.CharField(
        label="What they get",
        required=False,
        widget=forms.Textarea({"rows": 4}),
        help_text="One a line. Empty: follows the spec.",
    )
    exclusions = forms.CharField(
        label="Not in the price", required=False, widget=forms.Textarea({"rows": 4}), help_text="One a line."
    )
    assumptions = forms.CharField(
        label="What we assumed",
        required=False,
        widget=forms.Textarea({"rows": 4}),
        help_text="One a line. Empty: depth, bottom, access and level as the site says.",
    )
    timing = forms.CharField(label="When", required=False, widget=forms.Textarea({"rows": 2}))
    changes_text = forms.CharField(label="Changes and warranty", required=False, widget=forms.Textarea({"rows": 3}))
    cancellation = forms.CharField(label="Right to cancel", required=False, widget=forms.Textarea({"rows": 3}))

    def __init__(self, *args: Any, usual_tax: str = "", **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.usual_tax = usual_tax

    def clean_valid_until(self):
        day = self.cleaned_data["valid_until"]
        if day < timezone.localdate():
            raise forms.ValidationError("That day has gone by. Type a later one.")
        return day

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        mode = cleaned.get("tax_mode")
        if self.usual_tax and mode and mode not in (self.usual_tax, "exempt") and not cleaned.get("tax_reason"):
            self.add_error("tax_reason", "Say why this job is not taxed in the shop’s usual way.")
        return cleaned


def terms_of(quote: Quote) -> dict[str, Any]:
    """A draft's terms as its form starts with them."""
    terms = {name: getattr(quote, name) for name in TermsForm.base_fields}
    return {**terms, "rounding_step": f"{quote.rounding_step.normalize():f}"}


class OptionForm(forms.Form):
    """One row: something to take or leave. The choice says how it is priced."""

    name = forms.CharField(label="Option", required=False, max_length=120)
    words = forms.CharField(label="In words", required=False, max_length=300)
    choice = forms.ChoiceField(label="Priced by", required=False)
    quantity = forms.IntegerField(label="How many", required=False, min_value=1, max_value=999)
    typed_amount = MoneyField(label="Amount", required=False)

    def __init__(self, *args: Any, choices: list[tuple[str, Any]], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["choice"].choices = choices

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        named, amount = cleaned.get("name"), cleaned.get("typed_amount")
        choice = cleaned.get("choice") or "sum"
        if not named and (amount is not None or choice != "sum"):
            self.add_error("name", "Name this option, or clear the row.")
        if named and choice == "sum" and amount is None and "typed_amount" not in self.errors:
            self.add_error("typed_amount", "Type the amount, below zero if it takes something off.")
        return cleaned

    def facts(self) -> dict[str, Any] | None:
        """What the option is, as the service takes it; None for an empty row."""
        cleaned = self.cleaned_data
        if not cleaned.get("name"):
            return None
        kind, _, rest = (cleaned.get("choice") or "sum").partition(":")
        change: dict[str, Any] = {}
        if kind == OptionKind.SWAP:
            old, _, new = rest.partition(">")
            change = {"from": old, "to": new}
        elif kind == OptionKind.ADD:
            change = {"item": rest, "quantity": cleaned.get("quantity") or 1}
        amount = cleaned.get("typed_amount") if kind == OptionKind.SUM else None
        return {
            "name": cleaned["name"],
            "words": cleaned.get("words", ""),
            "kind": kind,
            "change": change,
            "typed_amount": amount,
        }


class OptionRows(forms.BaseFormSet):
    """The rows of options; the empty ones do not count."""

    def facts(self) -> list[dict[str, Any]]:
        return [facts for form in self.forms if (facts := form.facts()) is not None]


OptionFormSet = formset_factory(
    OptionForm, formset=OptionRows, extra=2, max_num=MOST_OPTIONS, absolute_max=MOST_OPTIONS, validate_max=True
)


def options_of(quote: Quote) -> list[dict[str, Any]]:
    """A draft's options as their rows start with them."""
    return [
        {
            "name": option.name,
            "words": option.words,
            "choice": choice_of(option.kind, option.change),
            "quantity": option.change.get("quantity"),
            "typed_amount": option.typed_amount,
        }
        for option in quote.options.all()
    ]


def choice_of(kind: str, change: dict[str, Any]) -> str:
    if kind == OptionKind.SWAP:
        return f"swap:{change['from']}>{change['to']}"
    return f"add:{change['item']}" if kind == OptionKind.ADD else "sum"


class AcceptForm(forms.Form):
    """Who accepted, when, how, with which options; the signed page if there is one."""

    name = forms.CharField(label="Accepted by", max_length=200, help_text="Everyone who signed.")
    on = DayField(label="Day")
    how = forms.ChoiceField(label="How", choices=AcceptedBy.choices, widget=forms.RadioSelect)
    taken = forms.MultipleChoiceField(label="Options they took", required=False, widget=forms.CheckboxSelectMultiple)
    scan = forms.FileField(label="The signed page", required=False, help_text="PDF, PNG or JPEG, up to 10 MB.")

    def __init__(self, *args: Any, quote: Quote, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.quote = quote
        options = list(quote.options.all())
        self.fields["taken"].choices = [(str(option.pk), option.name) for option in options]
        if not options:
            del self.fields["taken"]

    def clean_on(self):
        day = self.cleaned_data["on"]
        if day > timezone.localdate():
            raise forms.ValidationError("That day has not come yet.")
        if day < timezone.localtime(self.quote.sent_at).date():
            raise forms.ValidationError("That is before the quote was sent.")
        return day

    def clean_scan(self):
        scan = self.cleaned_data.get("scan")
        if not scan:
            return None
        if scan.size > LARGEST_SCAN:
            raise forms.ValidationError("The file is larger than 10 MB. Scan it at a lower resolution.")
        start = scan.read(8)
        scan.seek(0)
        ending = next((ending for mark, ending in SCANS.items() if start.startswith(mark)), None)
        if ending is None:
            raise forms.ValidationError("This is not a PDF, PNG or JPEG. Scan or photograph the signed page.")
        scan.name = f"signed.{ending}"
        return scan


class RefuseForm(forms.Form):
    reason = forms.CharField(label="Why they said no", max_length=500, widget=forms.Textarea({"rows": 3}))
    on = DayField(label="Day")
