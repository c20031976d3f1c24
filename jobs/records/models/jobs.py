"""A job, from the first call on, and what was said along the way."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from contractor.company.models import CheckedAtOnce
from jobs.records.querysets.folding import folded
from jobs.records.querysets.jobs import JobQuerySet

from .bounds import above_zero, not_below_zero
from .quoted import AnswersQuotes


class Stage(models.TextChoices):
    """How far the job has come. What holds it is another fact."""

    ENQUIRY = "enquiry", "enquiry"
    VISIT = "visit", "site visit"
    ESTIMATING = "estimating", "estimating"
    QUOTED = "quoted", "quoted"
    ACCEPTED = "accepted", "accepted"


class Ending(models.TextChoices):
    OPEN = "", "open"
    REFUSED = "refused", "refused by the client"
    DECLINED = "declined", "declined by us"
    CANCELLED = "cancelled", "cancelled"
    FINISHED = "finished", "finished"


class Job(AnswersQuotes, CheckedAtOnce):
    """One dock for one client at one site. The number is given once, in order, and never reused."""

    number = models.CharField(max_length=12, unique=True)
    year = models.PositiveSmallIntegerField()
    sequence = models.PositiveIntegerField()
    client = models.ForeignKey("records.Client", on_delete=models.PROTECT, related_name="jobs")
    site = models.ForeignKey("records.Site", on_delete=models.PROTECT, related_name="jobs")
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="jobs_owned", verbose_name="whose job"
    )

    stage = models.CharField("stage", max_length=12, choices=Stage, default=Stage.ENQUIRY)
    stage_since = models.DateField()
    ending = models.CharField("ended as", max_length=10, choices=Ending, default=Ending.OPEN, blank=True)
    ended_on = models.DateField("ended", null=True, blank=True)
    ended_reason = models.CharField("why it ended", max_length=300, blank=True)

    called_on = models.DateField("called on")
    their_words = models.TextField("their words", blank=True)
    rough_size = models.CharField("rough size", max_length=80, blank=True)
    boats = models.CharField("boats", max_length=200, blank=True)
    boat_length_in = models.FloatField("longest boat", null=True, blank=True)  # the longest
    boat_weight_lb = models.FloatField("heaviest boat", null=True, blank=True)  # the heaviest
    budget = models.DecimalField("budget", max_digits=12, decimal_places=2, null=True, blank=True)
    wanted_by = models.DateField("wanted by", null=True, blank=True)
    heard_how = models.CharField("how they heard of us", max_length=120, blank=True)
    promised = models.CharField("promised", max_length=300, blank=True)
    visit_on = models.DateField("site visit", null=True, blank=True)

    find_text = models.TextField(editable=False, default="")
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField(auto_now_add=True)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-year", "-sequence"]
        indexes = [models.Index(fields=["ending", "-year", "-sequence"], name="job_open_newest")]
        constraints = [
            models.UniqueConstraint(
                fields=["year", "sequence"],
                name="job_number_once",
                violation_error_message="That job number is taken.",
            ),
            models.CheckConstraint(
                condition=models.Q(ending="", ended_on__isnull=True)
                | (~models.Q(ending="") & models.Q(ended_on__isnull=False)),
                name="job_ended_has_date",
                violation_error_message="A job that has ended carries the day it ended.",
            ),
            models.CheckConstraint(
                condition=models.Q(ending__in=["", "finished"]) | ~models.Q(ended_reason=""),
                name="job_ended_has_reason",
                violation_error_message="Say why the job ended.",
            ),
            not_below_zero("budget", "job_budget", "A budget is zero or more."),
            above_zero("boat_length_in", "job_boat_length", "A boat is longer than nothing."),
            above_zero("boat_weight_lb", "job_boat_weight", "A boat weighs more than nothing."),
        ]

    def __str__(self) -> str:
        return self.number

    def get_absolute_url(self) -> str:
        return reverse("records:job", args=[self.number])

    def save(self, *args, **kwargs) -> None:
        self.find_text = self.words_to_find_by()
        super().save(*args, **kwargs)

    def words_to_find_by(self) -> str:
        notes = self.notes.values_list("words", flat=True) if self.pk else ()
        papers = self.permits.values_list("authority", "number") if self.pk else ()
        permits = (text for paper in papers for text in paper)
        own = (self.number, self.their_words, self.rough_size, self.boats, self.heard_how, self.promised)
        return folded(*own, *notes, *permits)

    @property
    def is_open(self) -> bool:
        return self.ending == Ending.OPEN


class NoteKind(models.TextChoices):
    CALL = "call", "call"
    NOTE = "note", "note"
    EMAIL = "email", "email"
    VISIT = "visit", "visit"


class NotesStay(TypeError):
    """A note is added, never changed or taken away."""


class JobNote(models.Model):
    """What was said and what was promised. Added, never overwritten."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="notes")
    at = models.DateTimeField(auto_now_add=True)
    kind = models.CharField(max_length=8, choices=NoteKind, default=NoteKind.CALL)
    words = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=150)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(words=""),
                name="note_says_something",
                violation_error_message="Write what was said.",
            )
        ]

    def __str__(self) -> str:
        return self.words[:60]

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise NotesStay("A note stays as it was written. Add another.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise NotesStay("A note stays as it was written. Add another.")
