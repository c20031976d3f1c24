from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django import forms
from django.contrib.auth import password_validation
from django.core.exceptions import ValidationError

from contractor.company.fields import (
    DayField,
    FigureField,
    MarginField,
    MileageField,
    MoneyField,
    PercentField,
    PressureField,
    WeightField,
)
from contractor.company.logos import LogoRefused, redrawn
from contractor.company.models import Company, OverheadMode, Staff, Trigger, Units
from contractor.company.versions import ChangedMeanwhile

CURRENCIES = ("USD", "CAD", "EUR", "GBP", "AUD", "NZD", "SEK", "NOK", "DKK", "CHF")
MOST_PAYMENTS = 6


# What we say where the framework would: the kind of field, the code, its own sentence if it has one, ours.
SAID = (
    (forms.CharField, "max_length", None, "At most %(limit_value)s letters; this has %(show_value)s."),
    (forms.EmailField, "invalid", None, "An email address has an @, like ida@example.com."),
    (forms.IntegerField, "invalid", "Enter a whole number.", "Type a whole number, like 3."),
    (forms.IntegerField, "invalid", "Enter a number.", "Type a number, like 2.5."),
    (forms.IntegerField, "min_value", None, "At least %(limit_value)s."),
    (forms.IntegerField, "max_value", None, "At most %(limit_value)s."),
)


class FirmForm(forms.Form):
    """A form that says what it means in our own sentences, not the browser's."""

    use_required_attribute = False

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, label_suffix="", **kwargs)
        for field in self.fields.values():
            if field.error_messages.get("required") == forms.Field.default_error_messages["required"]:
                field.error_messages["required"] = "Choose one." if hasattr(field, "choices") else "Fill this in."
            for kind, code, theirs, ours in SAID:
                if isinstance(field, kind) and field.error_messages.get(code) == theirs:
                    field.error_messages[code] = ours

    def blame(self, refused: ValidationError) -> None:
        """Put a rule's refusal at its field, or above the form where it is about several."""
        by_field = refused.error_dict if hasattr(refused, "error_dict") else {None: refused.error_list}
        for field, errors in by_field.items():
            self.add_error(field if field in self.fields else None, errors)

    def take_theirs(self, conflict: ChangedMeanwhile) -> None:
        """After a stale save, fill the boxes that were left alone with what the other person put there."""
        data = self.data.copy()
        for difference in conflict.differences:
            if difference.clash or difference.field not in self.fields:
                continue
            name, value = self.add_prefix(difference.field), getattr(conflict.thing, difference.field)
            if value is False:
                data.pop(name, None)
            else:
                data[name] = self.fields[difference.field].prepare_value(value)
        self.data = data


class FirmModelForm(FirmForm, forms.ModelForm):
    """Checks what was typed; a service saves it. `changes()` is what to give to the service."""

    def changes(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in self.Meta.fields}


class WelcomeForm(FirmForm):
    name = forms.CharField(label="Name of the firm", max_length=120, help_text="As it stands on your quotes")
    units = forms.ChoiceField(
        label="You measure in", choices=Units.choices, widget=forms.RadioSelect, initial="imperial"
    )
    currency = forms.ChoiceField(label="Currency", choices=[(code, code) for code in CURRENCIES])
    owner_name = forms.CharField(label="Your name", max_length=120)
    email = forms.EmailField(label="Your email", required=False, help_text="May stay empty")
    login = forms.CharField(
        label="Login name",
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
        help_text="Small letters, no spaces",
    )
    password = forms.CharField(
        label="Password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 10 characters; a few plain words are good",
    )

    def clean_login(self) -> str:
        return tidy_login(self.cleaned_data["login"])

    def clean(self) -> None:
        person = Staff(login=self.cleaned_data.get("login", ""), name=self.cleaned_data.get("owner_name", ""))
        check_password(self, "password", person)

    def firm(self) -> dict[str, Any]:
        """What `set_up_firm` needs."""
        given = self.cleaned_data
        owner = {"login": given["login"], "name": given["owner_name"], "email": given["email"]}
        return {**{key: given[key] for key in ("name", "units", "currency", "password")}, "owner": owner}


class LoginForm(FirmForm):
    login = forms.CharField(
        label="Login name",
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )
    password = forms.CharField(
        label="Password", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "current-password"})
    )


class FirmFactsForm(FirmModelForm):
    class Meta:
        model = Company
        fields = ["name", "address", "phone", "email", "registration_line", "insurance_line"]
        widgets = {"address": forms.Textarea(attrs={"rows": 3})}
        help_texts = {
            "registration_line": "As it must stand on a contract where you work",
            "insurance_line": "Insurer and policy, if customers should see it",
        }


class LogoForm(FirmForm):
    logo = forms.FileField(label="Logo", required=False, help_text="PNG, JPEG or WebP, 4 MB at most")
    take_away = forms.BooleanField(label="Take the logo away", required=False)

    def clean_logo(self) -> Any:
        upload = self.cleaned_data["logo"]
        if not upload:
            return None
        try:
            return redrawn(upload)
        except LogoRefused as refused:
            raise ValidationError(str(refused)) from refused

    def changes(self) -> dict[str, Any]:
        if self.cleaned_data["logo"]:
            return {"logo": self.cleaned_data["logo"]}
        return {"logo": ""} if self.cleaned_data["take_away"] else {}


class MeasuresForm(FirmModelForm):
    class Meta:
        model = Company
        fields = ["units", "currency", "date_style", "paper"]
        widgets = {"units": forms.RadioSelect, "date_style": forms.RadioSelect, "paper": forms.RadioSelect}

    def clean_currency(self) -> str:
        return self.cleaned_data["currency"].strip().upper()


class TaxForm(FirmModelForm):
    purchase_tax_percent = PercentField(label="Tax on what the shop buys")

    class Meta:
        model = Company
        fields = ["tax_mode", "purchase_tax_percent"]
        widgets = {"tax_mode": forms.RadioSelect}


class TaxRateForm(FirmForm):
    name = forms.CharField(label="Tax", max_length=40, help_text="As it must stand on paper")
    percent = PercentField(label="Rate", help_text="0 ends a tax")
    from_date = DayField(label="From")


class CostsForm(FirmModelForm):
    wage_per_hour = MoneyField(label="Base wage", per="an hour", above_zero=True)
    burden_percent = PercentField(
        label="Burden on wages", most=200, help_text="Employer taxes, insurance, paid time off: 30 to 40% is usual"
    )
    overhead_figure = FigureField(
        label="Overhead figure", help_text="Money for each crew hour, or percent of cost", least=Decimal(0)
    )
    mileage_rate = MileageField(label="Travel", least=Decimal(0))

    class Meta:
        model = Company
        fields = ["wage_per_hour", "burden_percent", "overhead_mode", "overhead_figure", "mileage_rate"]
        widgets = {"overhead_mode": forms.RadioSelect}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        figure = cleaned.get("overhead_figure")
        if cleaned.get("overhead_mode") == OverheadMode.PERCENT and figure is not None and figure > 100:
            self.add_error("overhead_figure", f"Overhead as a share of cost is 100% at most; you typed {figure}.")
        return cleaned


class PriceForm(FirmModelForm):
    margin_percent = MarginField(label="Margin on price", most=95)
    floor_margin_percent = MarginField(label="Lowest margin without the owner", most=95)
    contingency_percent = PercentField(label="Contingency", help_text="For unknowns inside the scope: 3 to 7% is usual")
    contingency_unknown_percent = PercentField(
        label="Contingency, bottom unknown", help_text="Also for old docks: 10 to 20% is usual"
    )

    class Meta:
        model = Company
        fields = [
            "margin_percent",
            "floor_margin_percent",
            "contingency_percent",
            "contingency_unknown_percent",
            "price_step",
        ]


class DepositForm(FirmModelForm):
    deposit_percent = PercentField(label="Percentage")
    deposit_cap = MoneyField(label="Fixed amount", least=Decimal(0))
    deposit_checked_on = DayField(label="Last checked", required=False)

    class Meta:
        model = Company
        fields = ["deposit_rule", "deposit_percent", "deposit_cap", "deposit_source", "deposit_checked_on"]
        widgets = {"deposit_rule": forms.RadioSelect}
        help_texts = {"deposit_source": "The law or code you go by; places differ"}


class PaymentForm(FirmForm):
    trigger = forms.ChoiceField(label="When", choices=[("", "no payment"), *Trigger.choices], required=False)
    percent = PercentField(label="Share", required=False)

    def clean(self) -> None:
        given = self.cleaned_data
        if given.get("trigger") and given.get("percent") is None and "percent" not in self.errors:
            self.add_error("percent", "Type its share, like 30.")
        if given.get("percent") and not given.get("trigger"):
            self.add_error("trigger", "Say when it is due.")


class PaymentPlan(forms.BaseFormSet):
    """Up to six payments in order; empty rows are left out."""

    def steps(self) -> list[tuple[str, Decimal]]:
        return [(form.cleaned_data["trigger"], form.cleaned_data["percent"]) for form in self.filled()]

    def filled(self) -> Iterator[PaymentForm]:
        return (form for form in self.forms if form.cleaned_data.get("trigger"))


PaymentPlanForm = forms.formset_factory(
    PaymentForm, PaymentPlan, extra=MOST_PAYMENTS, max_num=MOST_PAYMENTS, absolute_max=MOST_PAYMENTS
)


class WordsForm(FirmModelForm):
    class Meta:
        model = Company
        fields = ["quote_valid_days", "exclusions", "terms", "warranty", "cancellation_notice"]
        widgets = {
            "exclusions": forms.Textarea(attrs={"rows": 6}),
            "terms": forms.Textarea(attrs={"rows": 5}),
            "warranty": forms.Textarea(attrs={"rows": 3}),
            "cancellation_notice": forms.Textarea(attrs={"rows": 3}),
        }
        help_texts = {
            "exclusions": "One to a line. They stand on every quote",
            "cancellation_notice": "Word for word as the law where you work gives it",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quote_valid_days"].unit = "days"
        self.fields["quote_valid_days"].widget = forms.TextInput(attrs={"inputmode": "numeric"})


class LoadsForm(FirmModelForm):
    person_weight_lb = WeightField(
        label="Weight of an adult", least=50, most=600, help_text="For saying loads in people on quotes and drawings"
    )
    live_load_psf = PressureField(
        label="Design live load", above_zero=True, most=500, help_text="Ordinary private docks: 30 psf is a usual start"
    )

    class Meta:
        model = Company
        fields = ["person_weight_lb", "live_load_psf"]


class StaffForm(FirmModelForm):
    class Meta:
        model = Staff
        fields = ["name", "role", "phone", "email", "login", "active"]
        widgets = {"role": forms.RadioSelect}
        help_texts = {
            "role": "Owner and office see costs and margins. Crew lead and crew never do",
            "login": "Small letters, no spaces",
        }

    def clean_login(self) -> str:
        return tidy_login(self.cleaned_data["login"])


class HireForm(StaffForm):
    password = forms.CharField(
        label="First password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
        help_text="At least 10 characters. They can change it once in",
    )

    class Meta(StaffForm.Meta):
        fields = ["name", "role", "phone", "email", "login"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        check_password(self, "password", Staff(login=cleaned.get("login", ""), name=cleaned.get("name", "")))
        return cleaned


class NewPasswordForm(FirmForm):
    """A new password for somebody; `PasswordForm` asks for the old one first."""

    new = forms.CharField(
        label="New password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 10 characters; a few plain words are good",
    )

    def __init__(self, *args: Any, person: Staff, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def clean(self) -> None:
        check_password(self, "new", self.person)


class PasswordForm(NewPasswordForm):
    old = forms.CharField(
        label="Password now", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "current-password"})
    )
    field_order = ["old", "new"]

    def clean_old(self) -> str:
        if not self.person.check_password(self.cleaned_data["old"]):
            raise ValidationError("That is not your password now. Type it again.")
        return self.cleaned_data["old"]


def tidy_login(typed: str) -> str:
    login = typed.strip().lower()
    for validator in Staff._meta.get_field("login").validators:
        validator(login)
    return login


def check_password(form: forms.Form, field: str, person: Staff) -> None:
    password = form.cleaned_data.get(field)
    if password is None:
        return
    try:
        password_validation.validate_password(password, person)
    except ValidationError as refused:
        form.add_error(field, refused)
