"""Which jobs and sections the goods at hand and on the way should finish first."""

from .advice import Advice, Finish, Share, Wait
from .asked import Goods, StillNeeded
from .solve import finish_first

__all__ = ["Advice", "Finish", "Goods", "Share", "StillNeeded", "Wait", "finish_first"]
