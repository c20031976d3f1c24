"""One job, one quote at a time: whoever changes a job's quotes holds its row until the transaction ends."""

from django.db import transaction

from estimating.quotes.facts import QuotedJob
from estimating.quotes.models import Quote


def hold_job(job: QuotedJob) -> None:
    """Make everybody else who changes this job's quotes wait. Held before any quote is, so that nobody waits in a ring.

    Raises TransactionManagementError outside a transaction.
    """
    if transaction.get_autocommit():
        raise transaction.TransactionManagementError("A job is held within a transaction.")
    type(job)._base_manager.select_for_update().get(pk=job.pk)


def held_quote(quote: Quote) -> Quote:
    """The quote as it stands, its job held."""
    hold_job(quote.job)
    return Quote.objects.select_for_update(of=("self",)).select_related("job").get(pk=quote.pk)
