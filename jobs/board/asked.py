"""What the home page asks of the database each time, as rows that are compared before anybody reads them.

A row is kept as the database gives it. Two answers that are alike say the same, and nothing is worked out again.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable
from typing import Any

from django.db import connection
from django.db.models import CharField, QuerySet
from django.db.models.functions import Cast

from contractor.company.models import ChangeLog
from estimating.quotes.models import Quote
from jobs.handover.models import SeasonDates, SeasonVisit
from jobs.records.models import Job, Permit, SpecRevision
from jobs.schedule.models import DepositIn, JobStage, ScheduleRules, Waiver
from jobs.supply.models import Hold, Need, OrderLine, Stock

Row = tuple[Any, ...]
MOST_LISTED = 8  # visits shown on the home page


class Question:
    """One question without anything that varies: its SQL is written once."""

    def __init__(self, ask: Callable[[], QuerySet]) -> None:
        self._ask = ask
        self._sql: dict[str, Row] = {}

    def rows(self) -> list[Row]:
        if connection.vendor not in self._sql:
            self._sql[connection.vendor] = self._ask().query.sql_with_params()
        with connection.cursor() as cursor:
            cursor.execute(*self._sql[connection.vendor])
            return cursor.fetchall()


def _of_open(model: type, *names: str, **which: Any) -> Question:
    """These facts of every open job's records, the job's id first."""
    return Question(lambda: model._default_manager.filter(job__ending="", **which).order_by("pk").values_list(*names))


JOBS = Question(
    lambda: (
        Job.objects.open()
        .newest_first()
        .values_list(
            *("pk", "number", "year", "sequence", "stage", "called_on", "visit_on", "promised", "ending"),
            *("client__filed_under", "client__names", "site__water_body", "owner__name", "owner__login"),
        )
    )
)
# A quote is sent once, and then its state changes.
QUOTES = _of_open(
    Quote,
    *("job_id", "pk", "version", "state", "letter", "valid_until", "accepted_on", "refused_on", "refused_reason"),
)
SPECS = _of_open(SpecRevision, "job_id", "pk", "letter", "position")
PERMITS = _of_open(
    Permit,
    *("job_id", "pk", "authority", "needed", "applied_on", "issued_on", "starts_on", "expires_on", "expected_on"),
    "who_applies",
)
HOLDS = _of_open(
    Hold, "job_id", "pk", "kind", "words", "since", "promised_on", "who_acts", "check_on", "stages", cleared_on=None
)
STAGES = _of_open(
    JobStage,
    *("job_id", "stage", "position", "done_on", "starts_on", "ends_on", "held_why", "held_since", "crew__name"),
)
DEPOSITS = _of_open(DepositIn, "job_id", "pk", "amount", struck_out=False)
WAIVERS = _of_open(Waiver, "job_id", "gate", struck_out=False)
NEEDS = Question(
    lambda: (
        Need.objects.missing()
        .of_open_jobs()
        .first_needed_first()
        .values_list(
            *("job_id", "stock_id", "pk", "stage", "section", "quantity", "set_aside", "issued"),
            Cast("needed_by", CharField()),  # some databases' drivers are slow with days
            Cast("signed_on", CharField()),
        )
    )
)
STOCKS = Question(
    lambda: Stock.objects.order_by("pk").values_list(
        *("pk", "on_hand", "set_aside", "length_in", "offcut"),
        *("item__name", "item__kind", "item__use_unit", "item__lead_days"),
    )
)
OWED = Question(
    lambda: (
        OrderLine.objects.owed()
        .order_by("pk")
        .values_list(
            *("stock_id", "pk", "order_id", "expected_on", "quantity", "accepted", "cancelled", "order__sent_at")
        )
    )
)
RULES = Question(
    lambda: ScheduleRules.objects.order_by("pk").values_list(
        *("pk", "country", "subdivision", "cancellation_kind", "cancellation_days", "saturdays_count")
    )
)
VISITS = Question(
    lambda: (
        SeasonVisit.objects.open()
        .order_by("due_on", "pk")
        .values_list(*("pk", "due_on", "kind", "job__number", "job__client__filed_under"))[: MOST_LISTED + 1]
    )
)
WARNED = Question(lambda: SeasonDates.objects.order_by("pk").values_list("remind_days"))
# No change takes longer than so many others: the last entry alone is not enough, an earlier one may come after it.
LOG = Question(lambda: ChangeLog.objects.order_by("-pk").values_list("pk", "at")[:500])
NEWEST = Question(lambda: Job.objects.order_by("-pk").values_list("pk")[:1])


def by_first(rows: Iterable[Row]) -> dict[Any, list[Row]]:
    """Rows put together by the first thing they say."""
    together: dict[Any, list[Row]] = defaultdict(list)
    for row in rows:
        together[row[0]].append(row)
    return together
