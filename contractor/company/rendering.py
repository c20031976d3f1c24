"""How every form of the project is drawn: one template for every field."""

import json
import re
from typing import Any

from django import forms
from django.forms.renderers import TemplatesSetting
from django.urls import reverse
from django.utils.functional import cached_property

from contractor.company.fields import TypedField

FIELD_CONTROLS = (
    (forms.CheckboxInput, "tick"),
    (forms.RadioSelect, "choices"),
    (forms.CheckboxSelectMultiple, "choices"),
    (forms.Select, "pick"),
    (forms.Textarea, "area"),
    (forms.FileInput, "file"),
)


class FirmBoundField(forms.BoundField):
    """A field on its form, with its echo, its unit and the marks that tie them to the box."""

    @cached_property
    def control(self) -> str:
        """Which part of the field template draws it."""
        return next((name for widget, name in FIELD_CONTROLS if isinstance(self.field.widget, widget)), "box")

    @property
    def echoes(self) -> bool:
        return isinstance(self.field, TypedField)

    @property
    def echo_id(self) -> str:
        return f"{self.auto_id}_echo"

    @property
    def echo(self) -> str:
        if not self.echoes or self.errors:
            return ""
        return self.field.echo_of(self.value())

    @property
    def unit(self) -> str:
        """The unit to the right of the box, unless the text in it carries its own."""
        unit = getattr(self.field, "unit", "")
        typed = self.value()
        if not isinstance(self.field, TypedField) or typed is None:
            return unit
        return unit if re.fullmatch(r"[\d\s.,/-]*", str(typed)) else ""

    @property
    def aria_describedby(self) -> str | None:
        described = super().aria_describedby
        if described is None or not self.echoes or not self.auto_id:
            return described
        return f"{described} {self.echo_id}".strip()

    def build_widget_attrs(self, attrs: dict[str, Any], widget: forms.Widget | None = None) -> dict[str, Any]:
        built = super().build_widget_attrs(attrs, widget)
        built.pop("required", None)
        if self.echoes and self.auto_id:
            facts = {**self.field.echo_facts(), "of": self.html_name}
            if self.field.may_be_unknown:
                facts["unknown"] = "yes"
            built = {
                "hx-get": reverse("company:echo"),
                "hx-trigger": "change",
                "hx-target": f"#{self.echo_id}",
                "hx-swap": "innerHTML",
                "hx-vals": json.dumps(facts),
                **built,
            }
        return built


class FieldRenderer(TemplatesSetting):
    form_template_name = "components/form.html"
    field_template_name = "components/field.html"
    bound_field_class = FirmBoundField
