"""A box for a quantity: what was typed stays, what was understood is echoed."""

import re
from typing import Any

from django import forms

from contractor.company import current
from contractor.company.days import DayNotUnderstood
from contractor.money import MoneyNotUnderstood
from contractor.quantities import NotUnderstood, System

UNKNOWN = re.compile(r"\s*(u|unknown|\?+)\s*", re.IGNORECASE)
REFUSALS = (NotUnderstood, MoneyNotUnderstood, DayNotUnderstood)


class TypedInput(forms.TextInput):
    """A box for text that is read as a quantity; no browser guesses in it."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"autocomplete": "off", "spellcheck": "false", **(attrs or {})})


class TypedField(forms.Field):
    """A quantity typed as text. `units` is taken from the firm unless the form sets it.

    Where it `may_be_unknown`, `U` and an empty box clean to None, and the echo says so: unknown is not zero.
    """

    widget = TypedInput
    echo_kind = ""
    units: System | None = None
    may_be_unknown = False
    default_error_messages = {"required": "Fill this in."}

    def __init__(self, *, least: Any = None, most: Any = None, above_zero: bool = False, **kwargs: Any) -> None:
        self.may_be_unknown = kwargs.pop("may_be_unknown", self.may_be_unknown)
        super().__init__(**kwargs)
        self.least, self.most, self.above_zero = least, most, above_zero

    @property
    def system(self) -> System:
        return self.units or current.units()

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return ""

    def echo_facts(self) -> dict[str, str]:
        """What the echo address must be told, beside the text, to read it as this field would."""
        return {"kind": self.echo_kind}

    def read(self, text: str) -> Any:
        raise NotImplementedError

    def write(self, value: Any) -> str:
        raise NotImplementedError

    def say(self, value: Any) -> str:
        raise NotImplementedError

    def echo(self, value: Any) -> str:
        return self.say(value)

    def to_python(self, value: Any) -> Any:
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        if not isinstance(value, str):
            return value
        if self.may_be_unknown and UNKNOWN.fullmatch(value):
            return None
        try:
            return self.read(value)
        except REFUSALS as refused:
            raise forms.ValidationError(str(refused), code="not_understood") from refused

    def clean(self, value: Any) -> Any:
        if self.required and not str(value if value is not None else "").strip():
            raise forms.ValidationError(self.missing(), code="required")
        cleaned = super().clean(value)
        if cleaned is not None:
            self._check_bounds(cleaned, str(value).strip())
        return cleaned

    def missing(self) -> str:
        return self.error_messages["required"]

    def prepare_value(self, value: Any) -> Any:
        return value if value is None or isinstance(value, str) else self.write(value)

    def has_changed(self, initial: Any, data: Any) -> bool:
        try:
            return self.to_python(initial) != self.to_python(data)
        except forms.ValidationError:
            return True

    def echo_of(self, typed: Any) -> str:
        """The echo below the box; nothing for an empty box, the refusal if it can't be read."""
        if typed is None or str(typed).strip() == "":
            return "unknown" if self.may_be_unknown else ""
        if self.may_be_unknown and UNKNOWN.fullmatch(str(typed)):
            return "unknown"
        try:
            return self.echo(self.read(str(typed)))
        except REFUSALS as refused:
            return str(refused)

    def _check_bounds(self, value: Any, typed: str) -> None:
        if self.above_zero and value <= 0:
            raise forms.ValidationError(f"This must be more than zero; you typed {typed}.", code="zero")
        low = self.least is not None and value < self.least
        high = self.most is not None and value > self.most
        if not low and not high:
            return
        if self.least is not None and self.most is not None:
            bounds = f"Between {self.say(self.least)} and {self.say(self.most)}"
        else:
            bounds = f"At least {self.say(self.least)}" if low else f"At most {self.say(self.most)}"
        raise forms.ValidationError(f"{bounds}; you typed {typed}.", code="out_of_bounds")
