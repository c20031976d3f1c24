"""What the stage before left behind: its last measures, what was not done, what is still open."""

from jobs.fieldwork.documents.facts import STAGE_WORDS, STAGES, cut
from jobs.fieldwork.models import Defect, Entry, WorkOrder

NOTES = ("not_done", "ran_out")


def left_by(order: WorkOrder) -> tuple[str, ...]:
    """A few sentences for the top of the next sheet."""
    place = STAGES.index(order.stage)
    defects = Defect.objects.filter(job_id=order.job_id, stage__in=STAGES[:place]).open()
    said = [f"Open: {defect.words}" for defect in defects[:4]]
    if place == 0:
        return tuple(said)
    stage = STAGES[place - 1]
    entries = list(Entry.objects.filter(order__job_id=order.job_id, order__stage=stage).order_by("at", "pk"))
    last = {entry.key: entry for entry in entries}
    diagonals = [e for key, e in last.items() if ".diagonal_" in key]
    if diagonals:
        figures = ", ".join(f"{e.key.partition('.')[0]} {cut(e.number)}" for e in diagonals)
        said.insert(0, f"{STAGE_WORDS[stage].capitalize()} diagonals: {figures}.")
    said += [f"{last[key].label}: {last[key].words}" for key in NOTES if key in last]
    return tuple(said)
