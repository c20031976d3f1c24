"""Sections placed one by one, and the joints where sections meet."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import QueryDict

from contractor.company.fields import LengthField
from estimating.engine.spec import Joint, Section

from .spec_fields import OffsetField, PartForm, pick
from .spec_frame import OwnFrameForm

KINDS = [("hinged", "hinged"), ("rigid", "bolted rigid")]
POLICIES = [
    ("usual", "as usual: hinged along a run, rigid at legs"),
    ("hinged", "all hinged"),
    ("rigid", "all bolted rigid"),
    ("own", "each its own"),
]
NUMBERS = {"length": "length_in", "width": "width_in", "x": "x_in", "y": "y_in"}


class PlaceForm(PartForm):
    """Size and place of one section."""

    length = LengthField(label="Length", required=False, above_zero=True)
    width = LengthField(label="Width", required=False, above_zero=True)
    x = OffsetField(label="Out from shore", required=False)
    y = OffsetField(label="To the left", required=False)
    turned = forms.BooleanField(label="Laid across: its length runs along the shore", required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for name in NUMBERS:
            if name not in self.errors and given.get(name) is None:
                self.add_error(name, self.fields[name].missing())
        return given

    def section(self, mark: str) -> Section | None:
        if not self.is_valid():
            return None
        numbers = {engine: self.given[name] for name, engine in NUMBERS.items()}
        return Section(mark, **numbers, turned=self.given["turned"])

    @classmethod
    def typed(cls, section: Section) -> dict[str, str]:
        numbers = {name: cls.typed_value(name, getattr(section, engine)) for name, engine in NUMBERS.items()}
        return {**numbers, "turned": cls.typed_value("turned", section.turned)}


@dataclass(frozen=True)
class SectionPart:
    """One section on the page: its place where it is placed by hand, and what it has of its own."""

    mark: str
    place: PlaceForm | None
    own: OwnFrameForm | None
    section: Section | None


class JointsForm(PartForm):
    """The kind of every joint: by one rule, or each its own."""

    joints = pick("How sections are joined", POLICIES)

    def __init__(self, data: QueryDict, *, pairs: Sequence[tuple[str, str]], usual: Iterable[Joint]) -> None:
        super().__init__(data)
        self.pairs = list(pairs)
        self.usual = {frozenset((joint.first, joint.second)): joint.kind for joint in usual}
        for first, second in self.pairs:
            self.fields[box_name(first, second)] = forms.ChoiceField(
                label=f"{first} to {second}", choices=KINDS, required=False
            )

    @property
    def policy(self) -> str:
        return self.given.get("joints") or "usual"

    def kind(self, first: str, second: str) -> str:
        if self.policy in ("hinged", "rigid"):
            return self.policy
        chosen = self.given.get(box_name(first, second)) if self.policy == "own" else ""
        return chosen or self.usual.get(frozenset((first, second)), "hinged")

    def listed(self, saved: Sequence[Joint]) -> tuple[Joint, ...]:
        """A joint for every pair that meets, in the order and the direction they were saved in."""
        meeting = {frozenset(pair): pair for pair in self.pairs}
        ordered = [(joint.first, joint.second) for joint in saved if frozenset((joint.first, joint.second)) in meeting]
        before = {frozenset(pair) for pair in ordered}
        ordered += [pair for pair in self.pairs if frozenset(pair) not in before]
        return tuple(Joint(first, second, self.kind(first, second)) for first, second in ordered)

    def own_boxes(self) -> list[forms.BoundField]:
        return [self[box_name(*pair)] for pair in self.pairs] if self.policy == "own" else []

    @classmethod
    def typed(cls, joints: Sequence[Joint], usual: Sequence[Joint]) -> dict[str, str]:
        each = {box_name(joint.first, joint.second): joint.kind for joint in joints}
        return {"joints": _policy(joints, usual), **each}


def box_name(first: str, second: str) -> str:
    return "joint-" + "-".join(sorted((first, second)))


def _policy(joints: Sequence[Joint], usual: Sequence[Joint]) -> str:
    kinds = {frozenset((joint.first, joint.second)): joint.kind for joint in joints}
    expected = {frozenset((joint.first, joint.second)): joint.kind for joint in usual}
    if all(kinds.get(pair, "hinged") == kind for pair, kind in expected.items()):
        return "usual"
    told = set(kinds.values())
    return told.pop() if len(told) == 1 and len(kinds) == len(expected) else "own"
