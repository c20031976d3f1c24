"""What figures may be, as rules of the database."""

from typing import Any

from django.db import models


def within(name: str, fields: list[str], most: Any, message: str) -> models.CheckConstraint:
    """A named rule of the database: every one of these fields from 0 to `most`."""
    rule = models.Q(**{f"{field}__gte": 0 for field in fields}) & models.Q(
        **{f"{field}__lte": most for field in fields}
    )
    return models.CheckConstraint(condition=rule, name=name, violation_error_message=message)
