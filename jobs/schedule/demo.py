"""Made-up crews, boats and days, built through the same services as the pages use."""

from datetime import date, timedelta
from decimal import Decimal

from contractor.company.models import Staff
from jobs.records.models import Job
from jobs.schedule import services
from jobs.schedule.models import Crew, JobStage, Skill

CREWS = (
    ("Sunniva’s crew", ("Sunniva Pell", "Bram Loxley")),
    ("Falk’s crew", ("Falk Hedder", "Bly Sorn", "Arlind Pask")),
)
BOAT_STAGES = ["launch", "anchoring"]


def load_demo(*, by: Staff, on: date) -> None:
    """Two crews, a boat, days away, and the accepted jobs on the wall as far as they may be."""
    boat_hand = services.name_skill(name="runs the boat", stages=BOAT_STAGES, by=by)
    crews = [_crew(name, people, boat_hand, by) for name, people in CREWS]
    services.add_equipment(facts={"name": "Pelican", "kind": "boat", "stages": BOAT_STAGES}, by=by)
    _days_away(crews, by, on)
    for job in Job.objects.open().filter(quotes__state="accepted").in_full().order_by("number"):
        _on_the_wall(job, crews[0], by, on)
    facts = {"day": on - timedelta(days=8), "crew": crews[1], "cause": "wind", "decided_by_name": "Falk Hedder"}
    services.log_weather(facts={**facts, "words": "24 kn at the landing at 7:10, white caps", "hours_lost": 15}, by=by)


def _crew(name: str, people: tuple[str, ...], skill: Skill, by: Staff) -> Crew:
    crew = services.form_crew(name=name, by=by)
    for place, person in enumerate(people):
        staff = Staff.objects.filter(name=person).first()
        services.add_member(crew, name=person, staff=staff, skills=(skill,) if place == 0 else (), by=by)
    return crew


def _days_away(crews: list[Crew], by: Staff, on: date) -> None:
    away = crews[1].members.order_by("pk").last()
    first = on + timedelta(days=9)
    services.note_absence(
        facts={"member": away, "first_on": first, "last_on": first + timedelta(days=2), "why": "wedding"}, by=by
    )


def _on_the_wall(job: Job, crew: Crew, by: Staff, on: date) -> None:
    stages = services.stages_of(job)
    shown = services.job_schedule(job, on=on)
    if shown.deposit.due and by.is_owner:
        services.take_deposit(job, amount=Decimal(shown.deposit.due), cleared_on=on, how="cheque", by=by)
    first = next((stage for stage in stages if stage.stage == "layout"), None)
    if first is not None:
        _put(JobStage.objects.select_related("job__client", "job__site").get(pk=first.pk), crew, by, on)


def _put(stage: JobStage, crew: Crew, by: Staff, on: date) -> None:
    """On the first day from next week on that the crew works."""
    for step in range(7, 21):
        wanted = services.Wanted(stage, crew, on + timedelta(days=step))
        said = services.Said("goods", "Frames are built as soon as the lumber is here.")
        try:
            services.move_stage(wanted, seen_mark=services.mark_of_board(), said=said, by=by, on=on)
        except services.NotThere:
            continue
        return
