"""The block of the firm's page that names the load cases, leaves some out and adds some."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms

from contractor.company.fields import WeightField
from contractor.company.forms import FirmForm
from contractor.company.models.load_cases import OWN_CASES, LoadCase, Stands

USUAL = {
    "dead_wet": "Dock alone, lumber wet",
    "dead_seasoned": "Dock alone, lumber seasoned",
    "spread": "Load on all of the deck",
    "half": "Load on half of the deck",
    "edge": "People along one edge",
    "end": "People at one end",
    "point": "One heavy load",
    "ramp": "Ramp full",
}


@dataclass(frozen=True, slots=True)
class StandingRow:
    """The boxes of a case every dock is tried under."""

    usual: str
    name: forms.BoundField
    tried: forms.BoundField


@dataclass(frozen=True, slots=True)
class OwnRow:
    """The boxes of a case of the firm's own."""

    name: forms.BoundField
    stands: forms.BoundField
    people: forms.BoundField
    load_lb: forms.BoundField


class LoadCasesForm(FirmForm):
    """Names and ticks for the standing cases, four rows for own ones."""

    def __init__(self, data: Any = None, *, kept: Sequence[LoadCase] = ()) -> None:
        super().__init__(data, auto_id="cases_%s", initial=dict(_initial(kept)))
        for kind, usual in USUAL.items():
            self.fields[f"{kind}-name"] = forms.CharField(label=usual, max_length=60, required=False)
            self.fields[f"{kind}-tried"] = forms.BooleanField(label=f"Try it: {usual}", required=False)
        for place, kind in enumerate(OWN_CASES, start=1):
            self.fields[f"{kind}-name"] = forms.CharField(label=f"Own case {place}", max_length=60, required=False)
            self.fields[f"{kind}-stands"] = forms.ChoiceField(label="Where", choices=Stands.choices, required=False)
            self.fields[f"{kind}-people"] = forms.IntegerField(
                label="People", required=False, min_value=0, max_value=500
            )
            self.fields[f"{kind}-people"].widget = forms.TextInput(attrs={"inputmode": "numeric"})
            self.fields[f"{kind}-load_lb"] = WeightField(label="or a load", required=False, least=0, most=100000)

    def standing(self) -> Iterator[StandingRow]:
        for kind, usual in USUAL.items():
            yield StandingRow(usual, self[f"{kind}-name"], self[f"{kind}-tried"])

    def own(self) -> Iterator[OwnRow]:
        for kind in OWN_CASES:
            yield OwnRow(*(self[f"{kind}-{box}"] for box in ("name", "stands", "people", "load_lb")))

    def clean(self) -> None:
        for kind in OWN_CASES:
            named = self._given(kind, "name")
            loaded = self._given(kind, "people") or self._given(kind, "load_lb")
            if loaded and not named:
                self.add_error(f"{kind}-name", "Give the load case a name.")
            elif named and not loaded and not self.errors.keys() & {f"{kind}-people", f"{kind}-load_lb"}:
                self.add_error(f"{kind}-people", "Say how many people, or how heavy a load.")
            elif named and not self._given(kind, "stands"):
                self.add_error(f"{kind}-stands", "Choose one.")

    def cases(self) -> list[LoadCase]:
        """The cases that are not as they came."""
        found = [
            LoadCase(kind=kind, name=self._given(kind, "name"), tried=self._given(kind, "tried"))
            for kind in USUAL
            if self._given(kind, "name") or not self._given(kind, "tried")
        ]
        for kind in OWN_CASES:
            name, stands, people, load = (self._given(kind, box) for box in ("name", "stands", "people", "load_lb"))
            if name:
                found.append(LoadCase(kind=kind, name=name, stands=stands, people=people or 0, load_lb=load or 0.0))
        return found

    def _given(self, kind: str, box: str) -> Any:
        return self.cleaned_data.get(f"{kind}-{box}")


def _initial(kept: Sequence[LoadCase]) -> Iterator[tuple[str, Any]]:
    for kind in USUAL:
        yield f"{kind}-tried", True
    for case in kept:
        yield f"{case.kind}-name", case.name
        yield f"{case.kind}-tried", case.tried
        if case.stands:
            yield f"{case.kind}-stands", case.stands
            yield f"{case.kind}-people", case.people or None
            yield f"{case.kind}-load_lb", case.load_lb or None
