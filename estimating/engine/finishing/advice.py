"""What to finish first, with the goods each gets, and what the rest waits for."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimating.engine.reasons import Reason, Sentence


@dataclass(frozen=True, slots=True)
class Share:
    """So much of an item for one job or section, from the yard (`on` None) or from what comes on a day."""

    item: str
    quantity: Decimal
    on: date | None


@dataclass(frozen=True, slots=True)
class Finish:
    """A job or section the goods can finish. `ready_on` None: everything is in the yard."""

    job: str
    section: str
    needed_by: date
    ready_on: date | None
    in_time: bool
    shares: tuple[Share, ...]
    words: Sentence


@dataclass(frozen=True, slots=True)
class Wait:
    """A job or section that goes on waiting. `lacks`: what is missing once the others have theirs."""

    job: str
    section: str
    needed_by: date
    lacks: tuple[tuple[str, Decimal], ...]
    words: Sentence


@dataclass(frozen=True, slots=True)
class Advice:
    """Which jobs and sections to finish first.

    `met` of `dates` needed-by dates are met, `left_waiting` jobs wait for more goods. `first_come_met`: how many
    dates are met if goods go out in the order of the dates. `proven`: no other way meets more dates, or as many with
    fewer jobs waiting.
    """

    finish: tuple[Finish, ...]
    wait: tuple[Wait, ...]
    dates: int
    met: int
    left_waiting: int
    first_come_met: int
    proven: bool
    reason: Reason

    @property
    def words(self) -> Sentence:
        """The advice in one sentence."""
        met = "All {0} dates can be met" if self.met == self.dates else "{1} of {0} dates can be met"
        waiting = {0: "no job is left waiting", 1: "1 job is left waiting"}
        left = waiting.get(self.left_waiting, f"{self.left_waiting} jobs are left waiting")
        gain = self.met - self.first_come_met
        more = f" First come, first served would meet {self.first_come_met}." if gain > 0 else ""
        return Sentence(f"{met}; {left}.{more}", (str(self.dates), str(self.met)))
