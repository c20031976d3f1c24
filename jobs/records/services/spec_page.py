"""What the spec page says about a revision beside the dock itself."""

import datetime

from contractor.company.models import ChangeLog
from jobs.records.models import SpecRevision


def last_saved(revision: SpecRevision) -> datetime.datetime:
    """When the revision was last changed."""
    entry = ChangeLog.objects.about(revision).newest_first().filter(did__in=("made", "changed")).first()
    return entry.at if entry else revision.created_at
