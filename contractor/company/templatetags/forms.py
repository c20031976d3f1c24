"""What our forms carry beside their fields."""

from typing import Any

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from contractor.company.once import new_key
from contractor.company.versions import ChangedMeanwhile

register = template.Library()


@register.simple_tag
def once_key() -> SafeString:
    """The key of a form that makes something; see contractor.company.once."""
    return format_html('<input type="hidden" name="once" value="{}">', new_key())


@register.simple_tag
def seen_version(thing: Any, conflict: ChangedMeanwhile | None = None, form: str = "") -> SafeString:
    """The version this form was filled from, or, after a conflict, the one that now stands.

    `form` names it where several forms of one page are about the same thing.
    """
    identity = format_html(' id="version-{}"', form) if form else ""
    version = conflict.version if conflict else thing.version
    return format_html('<input type="hidden" name="version" value="{}"{}>', version, identity)
