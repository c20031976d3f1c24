"""People we build for are written down, and changed."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from contractor.company.journal import log_made
from contractor.company.models import Staff
from contractor.company.versions import save_if_unchanged
from jobs.records.models import Client


@transaction.atomic
def record_client(*, facts: Mapping[str, Any], by: Staff | None) -> Client:
    """Write down a new client. Without `filed_under` the company or the first signer's last name is used.

    Raises ValidationError.
    """
    client = Client(**facts)
    client.filed_under = client.filed_under or usual_filing(client)
    client.full_clean()
    client.save()
    log_made(client, by=by, facts={"filed_under": client.filed_under, **facts})
    return client


@transaction.atomic
def save_client(client: Client, *, seen_version: int, changes: Mapping[str, Any], by: Staff | None) -> Client:
    """Change what is known of a client. Raises ChangedMeanwhile, ValidationError."""
    return save_if_unchanged(client, seen_version, changes, by=by)


def usual_filing(client: Client) -> str:
    """The name a colleague would say: the company, or the last name of the first who signs."""
    if client.company_name:
        return client.company_name[:80]
    words = client.signers[0].split() if client.signers else []
    return words[-1][:80] if words else ""
