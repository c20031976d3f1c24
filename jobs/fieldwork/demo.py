"""A made-up job under way: sheets printed, the layout keyed in, one frame out of square. All invented."""

from dataclasses import dataclass
from datetime import date, timedelta

from contractor.company.models import Role, Staff
from jobs.fieldwork import services
from jobs.fieldwork.documents.blanks import blanks_of
from jobs.fieldwork.models import Source, WorkOrder
from jobs.records.models import Job

OFF_SQUARE_IN = 5 / 16


def load_demo(*, by: Staff, on: date) -> None:
    """The first accepted job: all its sheets, two days of hours, a defect the crew has not settled yet."""
    job = Job.objects.in_full().filter(quotes__state="accepted", ending="").order_by("number").first()
    lead = Staff.objects.filter(role=Role.CREW_LEAD, active=True).order_by("pk").first()
    if job is None or lead is None:
        return
    orders = services.print_orders(job, stages=("layout", "framing", "flotation", "anchoring", "handover"), by=by)
    layout, framing, *_ = orders
    _key_in(layout, lead, DayOfWork(on - timedelta(days=2), 1.5, {"ran_out": "Nothing."}))
    notes = {"not_done": "Hinge halves on A."}
    _key_in(framing, lead, DayOfWork(on - timedelta(days=1), 6.5, notes, OFF_SQUARE_IN))


@dataclass(frozen=True, slots=True)
class DayOfWork:
    """What came back from a made-up day: hours of everybody, notes, and how far the first diagonals are apart."""

    day: date
    hours: float
    notes: dict[str, str]
    apart_in: float = 0.0


def _key_in(order: WorkOrder, lead: Staff, done: DayOfWork) -> None:
    work, _ = services.page_of(order)
    boxes = [box for blank in blanks_of(work) for box in blank.boxes]
    figures = {box.key: box.expected or 0.0 for box in boxes if ".diagonal_" in box.key}
    second = next((key for key in figures if key.endswith("_2")), "")
    if second:
        figures[second] += done.apart_in
    figures.update({box.key: done.hours for box in boxes if box.person})
    keyed = services.Keyed(figures, {**done.notes, "signed": lead.name}, done.day, Source.PAPER)
    services.key_in(order, keyed, work=work, by=lead)
