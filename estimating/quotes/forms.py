"""What is typed on a quote: its terms and words, its options, the customer's answer."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import formset_factory
from django.utils import timezone

from contractor.company.fields import DayField, MarginField, MoneyField, SignedPageField
from contractor.company.forms import FirmForm
from contractor.company.models import Role, Staff
from contractor.company.models.firm import PRICE_STEPS
from estimating.quotes.models import AcceptedBy, OptionKind, Quote, QuoteOption, TaxMode

MOST_OPTIONS = 12
FIELD = "components/slot_field.html"


class DeskForm(FirmForm):
    """A form whose boxes can be told what is wrong while somebody types on."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.template_name = FIELD


def words_box(label: str, hint: str = "", *, rows: int = 3) -> forms.CharField:
    return forms.CharField(label=label, required=False, help_text=hint, widget=forms.Textarea({"rows": rows}))


class TermsForm(DeskForm):
    """The dials and the words of a draft."""

    margin_percent = MarginField(label="Margin on price", most=95)
    rounding_step = forms.TypedChoiceField(label="Round to", choices=PRICE_STEPS, coerce=Decimal)
    valid_until = DayField(label="Valid until")
    tax_mode = forms.ChoiceField(label="Tax", choices=TaxMode.choices)
    tax_reason = forms.CharField(label="Why not the usual tax", required=False, max_length=200)
    below_floor_by = forms.ModelChoiceField(
        label="Below the floor: which owner agreed",
        required=False,
        queryset=Staff.objects.none(),
        empty_label="nobody; it is not below",
    )
    below_floor_reason = forms.CharField(label="Below the floor: why", required=False, max_length=200)
    title = forms.CharField(label="Heading", max_length=200)
    scope = words_box("What we build", "Empty: follows the spec.")
    inclusions = words_box("What they get", "One a line. Empty: follows the spec.", rows=4)
    exclusions = words_box("Not in the price", "One a line.", rows=5)
    assumptions = words_box(
        "What we assumed", "One a line. Empty: depth, bottom, access and level as the site says.", rows=4
    )
    timing = words_box("When", rows=2)
    changes_text = words_box("Changes and warranty")
    cancellation = words_box("Right to cancel")

    def __init__(self, *args: Any, usual_tax: str, certificate: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.usual_tax, self.certificate = usual_tax, certificate
        self.fields["below_floor_by"].queryset = Staff.objects.at_work().filter(role=Role.OWNER)

    def clean_valid_until(self) -> date:
        day = self.cleaned_data["valid_until"]
        if day < timezone.localdate():
            raise forms.ValidationError("That day has gone by. Type a later one.")
        return day

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        mode = cleaned.get("tax_mode")
        if mode == TaxMode.EXEMPT and not self.certificate:
            self.add_error("tax_mode", "No certificate is on record. Write it on the client first, with its last day.")
        elif mode and mode not in (self.usual_tax, TaxMode.EXEMPT) and not cleaned.get("tax_reason"):
            self.add_error("tax_reason", "Say why this job is not taxed in the shop’s usual way.")
        return cleaned


def terms_of(quote: Quote) -> dict[str, Any]:
    """A draft's terms as its form starts with them."""
    terms = {name: getattr(quote, name) for name in TermsForm.base_fields}
    return {**terms, "rounding_step": f"{quote.rounding_step.normalize():f}"}


class OptionForm(DeskForm):
    """One row: something to take or leave. The choice says how it is priced; `name_of` names one left unnamed."""

    name = forms.CharField(label="Name", required=False, max_length=120)
    words = forms.CharField(label="In words, if the name is not enough", required=False, max_length=300)
    choice = forms.ChoiceField(label="Priced by", required=False)
    quantity = forms.IntegerField(label="How many, if added", required=False, min_value=1, max_value=999)
    typed_amount = MoneyField(label="Amount, if typed", required=False)
    gone = forms.BooleanField(label="Take this option out", required=False)

    def __init__(self, *args: Any, choices: list[tuple[str, Any]], name_of: Callable[[str], str], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.name_of = name_of
        self.fields["choice"].choices = _with_standing(choices, self.initial.get("choice", ""), name_of)

    @property
    def is_new(self) -> bool:
        """A row nobody has written in yet."""
        return not self.initial and not self.has_changed()

    @property
    def facts(self) -> dict[str, Any] | None:
        """The option as the service takes it; None for an empty row and for one that was taken out."""
        cleaned = self.cleaned_data
        if cleaned.get("gone") or not cleaned.get("name"):
            return None
        kind, _, rest = (cleaned.get("choice") or OptionKind.SUM).partition(":")
        change: dict[str, Any] = {}
        if kind == OptionKind.SWAP:
            old, _, new = rest.partition(">")
            change = {"from": old, "to": new}
        elif kind == OptionKind.ADD:
            change = {"item": rest, "quantity": cleaned.get("quantity") or 1}
        return {
            "name": cleaned["name"],
            "words": cleaned.get("words", ""),
            "kind": kind,
            "change": change,
            "typed_amount": cleaned.get("typed_amount") if kind == OptionKind.SUM else None,
        }

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if cleaned.get("gone"):
            self.errors.clear()
            return cleaned
        amount, choice = cleaned.get("typed_amount"), cleaned.get("choice") or OptionKind.SUM
        if choice != OptionKind.SUM and not cleaned.get("name"):
            cleaned["name"] = self.name_of(choice)[:120]
        if not cleaned.get("name") and (amount is not None or cleaned.get("words")):
            self.add_error("name", "Name this option, or clear the row.")
        if cleaned.get("name") and choice == OptionKind.SUM and amount is None and "typed_amount" not in self.errors:
            self.add_error("typed_amount", "Type the amount, below zero if it takes something off.")
        return cleaned


def _with_standing(choices: list[tuple[str, Any]], standing: str, name_of: Callable[[str], str]) -> list:
    """The choices, and the one this row has though the dock no longer offers it: it is judged, not lost."""
    known = {value for _, rows in choices if isinstance(rows, list) for value, _ in rows} | {OptionKind.SUM.value, ""}
    return choices if standing in known else [*choices, (standing, name_of(standing) or "no longer in the catalogue")]


class OptionRows(forms.BaseFormSet):
    """The rows of options; the empty ones do not count."""

    def facts(self) -> list[dict[str, Any]]:
        return [form.facts for form in self.forms if form.facts is not None]


OptionFormSet = formset_factory(
    OptionForm, formset=OptionRows, extra=2, max_num=MOST_OPTIONS, absolute_max=MOST_OPTIONS, validate_max=True
)


def options_of(quote: Quote) -> list[dict[str, Any]]:
    """A draft's options as their rows start with them."""
    return [
        {
            "name": option.name,
            "words": option.words,
            "choice": choice_of(option),
            "quantity": option.change.get("quantity"),
            "typed_amount": option.typed_amount,
        }
        for option in quote.options.all()
    ]


def choice_of(option: QuoteOption) -> str:
    if option.kind == OptionKind.SWAP:
        return f"swap:{option.change['from']}>{option.change['to']}"
    return f"add:{option.change['item']}" if option.kind == OptionKind.ADD else OptionKind.SUM.value


class AnswerForm(FirmForm):
    """What both answers have: a day from the sending on, and not one to come."""

    def __init__(self, *args: Any, quote: Quote, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.quote = quote

    def clean_on(self) -> date:
        day = self.cleaned_data["on"]
        if day > timezone.localdate():
            raise forms.ValidationError("That day has not come yet.")
        if day < timezone.localtime(self.quote.sent_at).date():
            raise forms.ValidationError("That is before the quote was sent.")
        return day


class AcceptForm(AnswerForm):
    """Who accepted, when, how, with which options; the signed page if there is one.

    Options stand as boxes to tick; of alternatives one is chosen, or none.
    """

    name = forms.CharField(label="Accepted by", max_length=200, help_text="Everyone who signed.")
    on = DayField(label="Day")
    how = forms.ChoiceField(label="How", choices=AcceptedBy.choices, widget=forms.RadioSelect)
    scan = SignedPageField()

    def __init__(self, *args: Any, groups: list[tuple[str, list[QuoteOption]]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        scan = self.fields.pop("scan")
        alone = [options[0] for _, options in groups if len(options) == 1]
        if alone:
            self.fields["taken"] = forms.MultipleChoiceField(
                label="Options they took",
                required=False,
                widget=forms.CheckboxSelectMultiple,
                choices=[(str(option.pk), _priced(option)) for option in alone],
            )
        self.among = [name for name, options in groups if len(options) > 1]
        for number, (_, options) in enumerate(pair for pair in groups if len(pair[1]) > 1):
            self.fields[f"among_{number}"] = forms.ChoiceField(
                label=f"Instead of {self.among[number]} they took",
                widget=forms.RadioSelect,
                initial="",
                required=False,
                choices=[("", "none of them"), *((str(option.pk), _priced(option)) for option in options)],
            )
        self.fields["scan"] = scan

    @property
    def taken(self) -> frozenset[int]:
        chosen = [self.cleaned_data.get(f"among_{number}") for number in range(len(self.among))]
        return frozenset(int(pk) for pk in (*self.cleaned_data.get("taken", ()), *chosen) if pk)

    def clean_scan(self) -> Any:
        scan = self.cleaned_data.get("scan")
        if not scan:
            return None
        ending = scan.name.rpartition(".")[2]
        scan.name = f"signed-{self.quote.job.number}-{self.quote.letter}.{ending}"
        return scan


def _priced(option: QuoteOption) -> str:
    sign = "+" if option.amount > 0 else ""
    return f"{option.name}, {sign}{option.amount:,.2f}"


class RefuseForm(AnswerForm):
    reason = forms.CharField(label="Why they said no", max_length=500, widget=forms.Textarea({"rows": 3}))
    on = DayField(label="Day")
