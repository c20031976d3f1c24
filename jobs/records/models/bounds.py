"""Limits that only stop nonsense, each with the sentence a person reads."""

from django.db.models import CheckConstraint, F, Q


def above_zero(field: str, name: str, sentence: str) -> CheckConstraint:
    """Unknown, or more than nothing."""
    return CheckConstraint(condition=Q(**{f"{field}__gt": 0}), name=name, violation_error_message=sentence)


def not_below_zero(field: str, name: str, sentence: str) -> CheckConstraint:
    """Unknown, nothing, or more: zero is a measurement."""
    return CheckConstraint(condition=Q(**{f"{field}__gte": 0}), name=name, violation_error_message=sentence)


def in_order(lower: str, upper: str, name: str, sentence: str) -> CheckConstraint:
    """Where both are known, the lower is not above the upper."""
    return CheckConstraint(
        condition=Q(**{f"{lower}__isnull": True}) | Q(**{f"{upper}__isnull": True}) | Q(**{f"{lower}__lte": F(upper)}),
        name=name,
        violation_error_message=sentence,
    )
