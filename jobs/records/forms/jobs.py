"""A first call written down in a minute, and what is known of a job changed later."""

from typing import Any

from django import forms

from contractor.company.fields import DayField, LengthField, MoneyField, WeightField
from contractor.company.forms import FirmForm, FirmModelForm
from contractor.company.models import Staff
from jobs.records.models import Client, Ending, Job, NoteKind, Site
from jobs.records.services.finding import known_clients, known_sites

NEW = "new"
GONE = {"invalid_choice": "That one is not in the book any more. Choose again."}
JOB_FACTS = (
    "their_words",
    "rough_size",
    "called_on",
    "promised",
    "visit_on",
    "wanted_by",
    "boats",
    "heard_how",
)


class EnquiryForm(FirmForm):
    """Client and site are new unless a known one is chosen; where one looks known, choosing is asked for."""

    names = forms.CharField(
        label="Who calls", max_length=200, required=False, help_text="Everyone who will sign, with commas"
    )
    phones = forms.CharField(label="Phone", max_length=120, required=False)
    email = forms.EmailField(label="Email", required=False)
    client = forms.ChoiceField(
        label="Is this one of them?", required=False, widget=forms.RadioSelect, error_messages=GONE
    )

    water_body = forms.CharField(
        label="Lake, river or bay",
        max_length=100,
        required=False,
        widget=forms.TextInput(attrs={"list": "waters", "autocomplete": "off"}),
    )
    site_name = forms.CharField(label="Lot or road", max_length=120, required=False)
    site = forms.ChoiceField(
        label="Is it one of these places?", required=False, widget=forms.RadioSelect, error_messages=GONE
    )

    their_words = forms.CharField(
        label="What they want, in their words", required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    rough_size = forms.CharField(
        label="Rough size", max_length=80, required=False, help_text="Width × length, like 6 × 16"
    )
    called_on = DayField(label="Called on")
    promised = forms.CharField(label="What we promised", max_length=300, required=False)
    visit_on = DayField(label="Site visit on", required=False)
    wanted_by = DayField(label="Wanted by", required=False)
    boats = forms.CharField(label="Boats", max_length=200, required=False, help_text="Length and weight, if they know")
    heard_how = forms.CharField(label="How they heard of us", max_length=120, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        typed = self.data if self.is_bound else self.initial
        self.clients = known_clients(
            names=_lines(typed.get("names", "")),
            phones=typed.get("phones", ""),
            email=typed.get("email", ""),
            chosen=typed.get("client", ""),
        )
        chosen = _chosen(typed.get("client"), self.clients)
        self.sites = known_sites(water_body=typed.get("water_body", ""), name=typed.get("site_name", ""), client=chosen)
        self.fields["client"].choices = [
            *((str(client.pk), client_words(client)) for client in self.clients),
            (NEW, "No, a new client"),
        ]
        self.fields["site"].choices = [*((str(site.pk), str(site)) for site in self.sites), (NEW, "No, a new place")]

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        given["known_client"] = self._known("client", self.clients, "names", "Write who calls.")
        given["known_site"] = self._known("site", self.sites, "water_body", "Name the lake, river or bay.")
        return given

    def _known(self, choice: str, known: list, box: str, missing: str) -> Client | Site | None:
        picked = self.cleaned_data.get(choice) or ""
        if picked.isdecimal():
            return next(record for record in known if str(record.pk) == picked)
        if box not in self.errors and not self.cleaned_data.get(box):
            self.add_error(box, missing)
        elif known and picked != NEW and choice not in self.errors:
            self.add_error(choice, "We know somebody like that. Choose one." if choice == "client" else "Choose one.")
        return None

    def enquiry(self) -> dict[str, Any]:
        """What `take_enquiry` needs."""
        given = self.cleaned_data
        client = {"names": _lines(given["names"]), "phones": _lines(given["phones"]), "email": given["email"]}
        site = {"water_body": given["water_body"], "name": given["site_name"]}
        return {
            "client": given["known_client"] or client,
            "site": given["known_site"] or site,
            "facts": {name: given[name] for name in JOB_FACTS},
        }


class JobForm(FirmModelForm):
    called_on = DayField(label="Called on")
    visit_on = DayField(label="Site visit on", required=False)
    wanted_by = DayField(label="Wanted by", required=False)
    boat_length_in = LengthField(label="Longest boat", required=False, above_zero=True, may_be_unknown=True)
    boat_weight_lb = WeightField(label="Heaviest boat", required=False, above_zero=True, may_be_unknown=True)
    budget = MoneyField(label="Budget, if they named one", required=False, least=0)

    class Meta:
        model = Job
        fields = [
            "owner",
            "called_on",
            "their_words",
            "promised",
            "visit_on",
            "wanted_by",
            "rough_size",
            "boats",
            "boat_length_in",
            "boat_weight_lb",
            "budget",
            "heard_how",
        ]
        widgets = {"their_words": forms.Textarea(attrs={"rows": 3})}
        labels = {"owner": "Whose job"}
        help_texts = {"rough_size": "Width × length, like 6 × 16"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["owner"].queryset = Staff.objects.at_work()
        self.fields["owner"].empty_label = None


class CallForm(FirmForm):
    words = forms.CharField(
        label="What was said, what we promised",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": "Write what was said."},
    )
    kind = forms.ChoiceField(label="It was a", choices=NoteKind.choices, initial=NoteKind.CALL)


class EndForm(FirmForm):
    ending = forms.ChoiceField(
        label="How did it end?",
        choices=[choice for choice in Ending.choices if choice[0]],
        widget=forms.RadioSelect,
        error_messages={"required": "Say how it ended."},
    )
    reason = forms.CharField(label="Why", max_length=300, required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("ending") not in (None, Ending.FINISHED) and not given.get("reason"):
            self.add_error("reason", "Say why, in a few words; next year’s prices learn from it.")
        return given


def client_words(client: Client) -> str:
    """A client as one tells two of the same name apart."""
    return ", ".join(filter(None, [client.first_name_line, client.company_name, client.first_phone]))


def _lines(typed: str) -> str:
    """Names or phones typed with commas, one to a line."""
    return "\n".join(part.strip() for part in typed.split(",") if part.strip())


def _chosen(picked: str | None, clients: list[Client]) -> Client | None:
    return next((client for client in clients if str(client.pk) == picked), None)
