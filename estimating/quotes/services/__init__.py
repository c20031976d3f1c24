"""What happens to a quote: it is drafted, follows its spec, is sent and frozen, is answered."""

from .answering import Acceptance, AlreadyAnswered, accept_quote, refuse_quote
from .drafting import (
    DraftExists,
    QuoteFrozen,
    draft_quote,
    drop_draft,
    follow_spec,
    save_options,
    save_terms,
)
from .sending import NotReadyToSend, send_quote
from .working import OptionWorked, WorkedQuote, work_out

__all__ = [
    "Acceptance",
    "AlreadyAnswered",
    "DraftExists",
    "NotReadyToSend",
    "OptionWorked",
    "QuoteFrozen",
    "WorkedQuote",
    "accept_quote",
    "draft_quote",
    "drop_draft",
    "follow_spec",
    "refuse_quote",
    "save_options",
    "save_terms",
    "send_quote",
    "work_out",
]
