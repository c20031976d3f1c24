"""Who works together, what they can do, when somebody is away, and the boats they need."""

import secrets

from django.conf import settings
from django.db import models
from django.urls import reverse

from jobs.schedule.querysets.schedule import AbsenceQuerySet, CrewQuerySet, FeedQuerySet

from .stages import BuildStage


class Skill(models.Model):
    """Something not everybody may do: run a boat, signal a crane. `stages` need somebody who can."""

    name = models.CharField("skill", max_length=60, unique=True)
    stages = models.JSONField("stages that need it", default=list, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="skill_has_name", violation_error_message="Name the skill."
            )
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def stages_said(self) -> str:
        return ", ".join(BuildStage(stage).label for stage in self.stages)


class Crew(models.Model):
    """People who go out together."""

    name = models.CharField("crew", max_length=60, unique=True)
    active = models.BooleanField("works this season", default=True)
    version = models.PositiveIntegerField(default=1)

    objects = CrewQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="crew_has_name", violation_error_message="Name the crew."
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("schedule:crew", args=[self.pk])


class CrewMember(models.Model):
    """A person in a crew. May be somebody who signs in; need not."""

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="members")
    name = models.CharField("name", max_length=120)
    staff = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="crew_places",
        verbose_name="signs in as",
    )
    skills = models.ManyToManyField(Skill, blank=True, related_name="people", verbose_name="can")
    active = models.BooleanField("in the crew", default=True)

    class Meta:
        ordering = ["pk"]
        verbose_name = "crew member"
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="member_has_name", violation_error_message="Type the name."
            ),
            models.UniqueConstraint(
                fields=["crew", "name"],
                name="member_once_a_crew",
                violation_error_message="Somebody of that name is in this crew already.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Absence(models.Model):
    """Days somebody is away; or, without a person, days a crew (or every crew) is kept for something else."""

    member = models.ForeignKey(
        CrewMember, on_delete=models.PROTECT, null=True, blank=True, related_name="absences", verbose_name="who"
    )
    crew = models.ForeignKey(
        Crew, on_delete=models.PROTECT, null=True, blank=True, related_name="absences", verbose_name="crew"
    )
    first_on = models.DateField("first day")
    last_on = models.DateField("last day")
    why = models.CharField("why", max_length=120)

    objects = AbsenceQuerySet.as_manager()

    class Meta:
        ordering = ["first_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_on__gte=models.F("first_on")),
                name="absence_in_order",
                violation_error_message="It ends before it begins.",
            ),
            models.CheckConstraint(
                condition=models.Q(member__isnull=True) | models.Q(crew__isnull=True),
                name="absence_of_one_thing",
                violation_error_message="One person or one crew.",
            ),
            models.CheckConstraint(
                condition=~models.Q(why=""), name="absence_says_why", violation_error_message="Say why."
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member or self.crew or 'every crew'}: {self.why}"


class EquipmentKind(models.TextChoices):
    BOAT = "boat", "workboat"
    BARGE = "barge", "barge"
    CRANE = "crane", "crane or lift"
    TRAILER = "trailer", "trailer"


class Equipment(models.Model):
    """A boat or machine of which there is one: two jobs cannot have it on one day."""

    name = models.CharField("name", max_length=60, unique=True)
    kind = models.CharField("kind", max_length=8, choices=EquipmentKind, default=EquipmentKind.BOAT)
    stages = models.JSONField("stages that need one", default=list, blank=True)
    out_from = models.DateField("out of use from", null=True, blank=True)
    out_until = models.DateField("out of use until", null=True, blank=True)
    active = models.BooleanField("in use", default=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["kind", "name"]
        verbose_name_plural = "equipment"
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="equipment_has_name", violation_error_message="Name it."
            ),
            models.CheckConstraint(
                condition=models.Q(out_from__isnull=True, out_until__isnull=True)
                | models.Q(out_until__gte=models.F("out_from")),
                name="equipment_out_in_order",
                violation_error_message="It is back before it goes. Give both days, in order.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def stages_said(self) -> str:
        return ", ".join(BuildStage(stage).label for stage in self.stages)


def new_secret() -> str:
    """192 random bits, as they stand in an address."""
    return secrets.token_hex(24)


class CrewFeed(models.Model):
    """The secret address of a crew's calendar. Whoever has it may read it, until it is taken back."""

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="feeds")
    secret = models.CharField(max_length=64, unique=True, default=new_secret)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by_name = models.CharField(max_length=120)
    revoked_at = models.DateTimeField(null=True, blank=True)
    last_read_at = models.DateTimeField(null=True, blank=True)

    objects = FeedQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at"]
        verbose_name = "calendar address"

    def __str__(self) -> str:
        return f"Calendar of {self.crew}"

    def get_absolute_url(self) -> str:
        return reverse("schedule:feed", args=[self.secret])
