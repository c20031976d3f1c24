"""An item of each kind as a form: the boxes follow the facts of the kind."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BaseFormSet, formset_factory

from contractor.company.forms import FirmForm
from estimating.catalogue.facts import facts_of
from estimating.catalogue.forms.fields import FactField, StockLengthsField, field_for
from estimating.catalogue.models import Item, Kind, Supplier
from estimating.catalogue.models.items import GOODS, WOOD
from estimating.catalogue.services import ItemDraft
from estimating.catalogue.values import Exact

GROUPS = (
    ("What it is", "code name nominal species treatment finish holes symbol chain_grade"),
    (
        "Size and weight",
        "shape thickness_in chain_size_in length_in width_in height_in weight_lb submerged_weight_lb over_length_in",
    ),
    (
        "Weight per foot",
        "wet_lb_per_ft seasoned_lb_per_ft specific_gravity wet_moisture_percent "
        "seasoned_moisture_percent weight_source",
    ),
    (
        "What it carries",
        "rated_lift_lb working_load_lb lift_basis source source_date flange_holes fuel_safe support_spacing_in",
    ),
    ("How it is bought", "sticks use_unit pack_size waste_percent labour_h preferred_supplier lead_days"),
    ("In the yard", "shelf minimum_on_hand notes substitutes"),
)
COUNT = Exact(3, Decimal("0.001"), Decimal(100_000))


class ItemForm(FirmForm):
    """`changes()` are the facts and lists by name, `draft()` makes of them what the service takes."""

    def __init__(self, data: Any = None, *, kind: str, item: Item | None = None) -> None:
        super().__init__(data, initial=_initial(kind, item))
        self.kind, self.item = kind, item
        if item is None:
            self.fields["code"] = forms.CharField(
                label="Code", max_length=40, help_text="Short, no spaces; it never changes: 2x8-ground, bolt-6"
            )
        for fact in facts_of(kind):
            self.fields[fact.key] = field_for(fact, kind)
        if kind in WOOD:
            self.fields["sticks"] = StockLengthsField(
                label="Stock lengths", help_text="As the yard sells it: 8, 10, 12"
            )
        self.fields["preferred_supplier"] = forms.ModelChoiceField(
            Supplier.objects.offered(),
            label="Usual supplier",
            required=False,
            empty_label="nobody in particular",
            help_text="Their price counts first",
        )
        others = Item.objects.offered().of_kind(kind).exclude(pk=item.pk if item else None)
        if others.exists():
            self.fields["substitutes"] = forms.ModelMultipleChoiceField(
                others, label="May be replaced by", required=False, widget=forms.CheckboxSelectMultiple
            )

    def groups(self) -> Iterator[tuple[str, list[forms.BoundField]]]:
        """The boxes under their headings, in the order of the page."""
        seen: set[str] = set()
        for title, keys in GROUPS:
            names = [key for key in keys.split() if key in self.fields and key not in seen]
            seen.update(names)
            if names:
                yield title, [self[name] for name in names]

    def changes(self) -> dict[str, Any]:
        """What was typed, by the names the change log uses."""
        given = self.cleaned_data
        facts = {
            fact.key: fact.empty if given[fact.key] in (None, "") else given[fact.key] for fact in facts_of(self.kind)
        }
        changes = {**facts, "preferred_supplier": given["preferred_supplier"]}
        if "sticks" in given:
            changes["stock_lengths"] = given["sticks"]
        if "substitutes" in given:
            changes["replaced_by"] = list(given["substitutes"])
        return changes

    def blame_faults(self, faults: Mapping[str, str]) -> None:
        """Put each fault at its box, or above the form where it has none."""
        for name, sentence in faults.items():
            self.add_error(name if name in self.fields else None, sentence)


def draft_from(kind: str, changes: Mapping[str, Any], *, code: str = "") -> ItemDraft:
    """A draft from changes; what was left out of them stays as it is."""
    lists = {"stock_lengths", "fitted_with", "replaced_by"}
    return ItemDraft(
        kind,
        {name: value for name, value in changes.items() if name not in lists},
        stick_lengths_in=changes.get("stock_lengths"),
        fixings=changes.get("fitted_with"),
        substitutes=changes.get("replaced_by"),
        code=code,
    )


class PartLineForm(FirmForm):
    """So many of a part; both boxes empty is no line."""

    part = forms.ModelChoiceField(
        Item.objects.offered().of_kind(*GOODS).by_kind_and_name(), label="Part", required=False, empty_label="none"
    )
    quantity = FactField(value=COUNT, label="How many", required=False)

    def clean(self) -> None:
        part, quantity = self.cleaned_data.get("part"), self.cleaned_data.get("quantity")
        if part and quantity is None and "quantity" not in self.errors:
            self.add_error("quantity", f"How many of {part.name}?")
        if quantity is not None and part is None and "part" not in self.errors:
            self.add_error("part", "Of which part? Or empty the count.")

    def line(self) -> tuple[Item, Decimal] | None:
        part = self.cleaned_data.get("part")
        return (part, self.cleaned_data["quantity"]) if part else None


class PartLines(BaseFormSet):
    """The lines of a list of parts, with a few empty ones to fill."""

    def lines(self) -> list[tuple[Item, Decimal]]:
        return [line for form in self.forms if (line := form.line())]

    @property
    def trouble(self) -> str:
        """What is wrong with the list as a whole."""
        return getattr(self, "refused", "") or " ".join(self.non_form_errors())


def part_lines(data: Any, *, prefix: str, given: list[tuple[Item, Decimal]]) -> PartLines:
    """The lines as kept, or as typed."""
    initial = [{"part": part.pk, "quantity": quantity} for part, quantity in given]
    lines = formset_factory(PartLineForm, formset=PartLines, extra=3, max_num=40, absolute_max=60)
    return lines(data, prefix=prefix, initial=initial)


def takes_fixings(kind: str) -> bool:
    return kind not in WOOD


def kept_fixings(item: Item | None) -> list[tuple[Item, Decimal]]:
    if item is None:
        return []
    return [(fixing.part, fixing.quantity) for fixing in item.fixings.select_related("part")]


def _initial(kind: str, item: Item | None) -> dict[str, Any]:
    if item is None:
        return {fact.key: fact.empty for fact in facts_of(kind)}
    facts = {fact.key: getattr(item, fact.key) for fact in facts_of(kind)}
    return {
        **facts,
        "preferred_supplier": item.preferred_supplier_id,
        "sticks": [stick.length_in for stick in item.sticks.all() if stick.offered],
        "substitutes": list(item.substitutes.values_list("pk", flat=True)),
    }


class KindForm(FirmForm):
    kind = forms.ChoiceField(label="What kind of thing", choices=Kind.choices, widget=forms.RadioSelect)
