"""What happens to a quote: it is drafted, follows its spec, is sent and frozen, is answered."""

from .answering import Acceptance, AlreadyAnswered, accept_quote, refuse_quote
from .drafting import (
    DraftExists,
    QuoteFrozen,
    draft_quote,
    drop_draft,
    follow_spec,
    save_draft,
)
from .sending import NotReadyToSend, changes_so_far, send_quote
from .working import CANNOT_WORK_OUT, work_out

__all__ = [
    "CANNOT_WORK_OUT",
    "Acceptance",
    "AlreadyAnswered",
    "DraftExists",
    "NotReadyToSend",
    "QuoteFrozen",
    "accept_quote",
    "changes_so_far",
    "draft_quote",
    "drop_draft",
    "follow_spec",
    "refuse_quote",
    "save_draft",
    "send_quote",
    "work_out",
]
