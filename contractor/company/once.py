"""One form, one record: a form that makes something carries a key, and the key works once."""

import datetime
import uuid

from django.core.exceptions import SuspiciousOperation
from django.db import IntegrityError, transaction
from django.utils import timezone

from contractor.company.models import FormKey

KEPT_FOR = datetime.timedelta(days=7)


class NoFormKey(SuspiciousOperation):
    """The form came without its key; the answer is 400."""


def new_key() -> str:
    return str(uuid.uuid4())


@transaction.atomic
def use_key(key: str) -> bool:
    """True the first time this key is used, False ever after. Call it inside the transaction that makes the record.

    If that transaction fails the key is free again. A second click waits for the first to finish.
    Raises NoFormKey for a key that is missing or not one of ours.
    """
    try:
        key = str(uuid.UUID(key or ""))
    except ValueError as wrong:
        raise NoFormKey("The form has no key.") from wrong
    FormKey.objects.filter(used_at__lt=timezone.now() - KEPT_FOR).delete()
    try:
        with transaction.atomic():
            FormKey.objects.create(key=key)
    except IntegrityError:
        return False
    return True


def is_used(key: str) -> bool:
    """Whether a form with this key has been taken; ask before complaining that its record is already there."""
    return FormKey.objects.filter(key=key).exists()


def remember_address(key: str, address: str) -> None:
    """Keep where the first click led, so that the second can be sent there too."""
    FormKey.objects.filter(key=key).update(led_to=address)


def address_of(key: str) -> str:
    """Where the first click led; empty if that was not kept."""
    return FormKey.objects.filter(key=key).values_list("led_to", flat=True).first() or ""
