"""Counting a delivery, line by line, in the packs the supplier counts."""

import secrets
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from PIL import Image, UnidentifiedImageError

from contractor.company.fields import DayField
from contractor.company.forms import FirmForm
from estimating.catalogue.models import Item
from jobs.supply.models import Order, OrderLine
from jobs.supply.services import Count, Delivery, shelf_called, stock_of

from .fields import QuantityField

LARGEST_PHOTO = 12 * 1024 * 1024
FORMATS = {"JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp"}


class Photos(forms.ClearableFileInput):
    allow_multiple_selected = True


class PhotosField(forms.FileField):
    """Several pictures at once; each must be one."""

    widget = Photos(attrs={"accept": "image/*", "multiple": True})

    def clean(self, data: Any, initial: Any = None) -> list[UploadedFile]:
        files = data if isinstance(data, list | tuple) else [data] if data else []
        return [_checked(super(PhotosField, self).clean(one, initial)) for one in files]


def _checked(photo: UploadedFile) -> UploadedFile:
    if photo.size > LARGEST_PHOTO:
        raise forms.ValidationError("A photo of more than 12 MB. Send it smaller.")
    try:
        kind = Image.open(photo).format
    except (UnidentifiedImageError, OSError):
        kind = None
    if kind not in FORMATS:
        raise forms.ValidationError("One of these is not a photo: JPEG, PNG or WebP.")
    photo.seek(0)
    photo.name = f"{secrets.token_hex(8)}{FORMATS[kind]}"
    return photo


class DeliveryForm(FirmForm):
    slip = forms.CharField(label="Driver’s slip", max_length=60, required=False, help_text="Its number")
    received_on = DayField(label="Came on")
    notes = forms.CharField(label="Notes", max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    photos = PhotosField(label="Photos", required=False, help_text="Before you sign")
    slip_carries_note = forms.BooleanField(label="The slip carries the note", required=False)

    def delivery(self) -> Delivery:
        return Delivery(**{name: self.cleaned_data[name] for name in self.fields})


class CountForm(FirmForm):
    """One ordered line: what the slip says, what was counted, what of it is damaged."""

    slip = QuantityField(label="On the slip", required=False)
    counted = QuantityField(label="Counted", required=False)
    damaged = QuantityField(label="Damaged", required=False)
    note = forms.CharField(label="What is wrong with it", max_length=200, required=False)
    shelf = forms.CharField(label="Shelf", max_length=40, required=False)
    came = forms.ModelChoiceField(
        label="Another thing came", queryset=Item.objects.none(), required=False, empty_label="as ordered"
    )
    keep = forms.BooleanField(label="Keep what is over or wrong", required=False)

    def __init__(self, *args: Any, line: OrderLine, **kwargs: Any) -> None:
        super().__init__(*args, prefix=f"line-{line.pk}", **kwargs)
        self.line = line
        self.fields["shelf"].initial = line.stock.item.shelf
        self.fields["came"].queryset = (
            Item.objects.offered().of_kind(line.stock.item.kind).exclude(pk=line.stock.item_id)
        )

    @property
    def boxes(self) -> list[Any]:
        return [self["slip"], self["counted"], self["damaged"]]

    @property
    def has_more(self) -> bool:
        """Whether something beyond the three counts was typed or refused."""
        return any(self[name].errors or self[name].value() for name in ("note", "came", "keep"))

    @property
    def owed_packs(self) -> Any:
        return self.line.owed / self.line.pack_size

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        counted, damaged = given.get("counted"), given.get("damaged")
        if damaged and damaged > (counted or 0):
            self.add_error("damaged", f"More than the {counted or 0:g} counted.")
        if counted is None and given.get("slip"):
            self.add_error("counted", "The slip has some. How many came? None is 0.")
        return given

    def count(self) -> Count:
        given, size = self.cleaned_data, self.line.pack_size
        came: Item | None = given["came"]
        return Count(
            line=self.line,
            slip=(given["slip"] if given["slip"] is not None else given["counted"] or 0) * size,
            counted=(given["counted"] or 0) * size,
            damaged=(given["damaged"] or 0) * size,
            stock=stock_of(came, self.line.stock.length_in) if came else None,
            keep=given["keep"],
            shelf=shelf_called(given["shelf"]) if given["shelf"] else None,
            note=given["note"],
        )


class StrayForm(FirmForm):
    """A thing on the truck that nobody ordered."""

    item = forms.ModelChoiceField(
        label="A thing that was not ordered", queryset=Item.objects.offered(), required=False, empty_label="none"
    )
    counted = QuantityField(label="How many", required=False)
    keep = forms.BooleanField(label="Keep it", required=False)

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("item") and not given.get("counted"):
            self.add_error("counted", "How many of it came?")
        return given

    def counts(self) -> list[Count]:
        item, counted = self.cleaned_data["item"], self.cleaned_data["counted"]
        if not item:
            return []
        return [Count(None, counted, counted, stock=stock_of(item), keep=self.cleaned_data["keep"])]


class VoidForm(FirmForm):
    reason = forms.CharField(label="Why this count is void", max_length=300)


class ShareForm(FirmForm):
    """Who gets how many; a box for each need."""

    def __init__(self, *args: Any, proposals: list[Any], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.proposals = proposals
        for one in proposals:
            self.fields[f"give-{one.need.pk}"] = QuantityField(
                label=f"{one.need.stock} for {one.need.job.client.filed_under}", required=False, initial=one.gives
            )

    @property
    def rows(self) -> list[dict[str, Any]]:
        return [{"one": one, "field": self[f"give-{one.need.pk}"]} for one in self.proposals]

    def gives(self) -> dict[int, Any]:
        return {int(name.removeprefix("give-")): value for name, value in self.cleaned_data.items() if value}


def count_forms(order: Order, data: Any = None) -> list[CountForm]:
    lines = order.lines.select_related("stock__item").prefetch_related("shares__need__job")
    return [CountForm(data, line=line) for line in lines if line.owed > 0 or data]
