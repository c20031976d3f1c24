"""Numbers that never skip and never repeat."""

from django.db import connection, transaction

from contractor.company.models import Counter


def next_number(name: str, *, first: int = 1) -> int:
    """The next number under this name, starting with `first`.

    It is taken inside the caller's transaction, so that a failed save gives its number back. Raises
    TransactionManagementError outside of one: there a number could be lost.
    """
    if not connection.in_atomic_block:
        raise transaction.TransactionManagementError("A number is taken inside the transaction that uses it.")
    Counter.objects.get_or_create(name=name, defaults={"value": first - 1})
    counter = Counter.objects.select_for_update().get(name=name)
    counter.value += 1
    counter.save(update_fields=["value"])
    return counter.value
