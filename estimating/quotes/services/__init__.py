"""What happens to a quote: it is drafted, follows its spec, is sent and frozen, is answered."""

from .answering import Acceptance, AlreadyAnswered, accept_quote, refuse_quote
from .drafting import (
    DraftExists,
    JobIsSigned,
    QuoteFrozen,
    draft_quote,
    drop_draft,
    follow_spec,
    save_draft,
)
from .sending import NotAsSeen, NotReadyToSend, changes_so_far, send_quote
from .working import Books, design_of, open_books, spec_as_accepted, spec_swapped, work_out

__all__ = [
    "Acceptance",
    "AlreadyAnswered",
    "Books",
    "DraftExists",
    "JobIsSigned",
    "NotAsSeen",
    "NotReadyToSend",
    "QuoteFrozen",
    "accept_quote",
    "changes_so_far",
    "design_of",
    "draft_quote",
    "drop_draft",
    "follow_spec",
    "open_books",
    "refuse_quote",
    "save_draft",
    "send_quote",
    "spec_as_accepted",
    "spec_swapped",
    "work_out",
]
