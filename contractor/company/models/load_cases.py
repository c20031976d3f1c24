"""What the firm calls the load cases of a floating dock, which of them it tries, and the ones it adds."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

OWN_CASES = ("own-1", "own-2", "own-3", "own-4")


class Stands(models.TextChoices):
    SPREAD = "spread", "all over the deck"
    EDGE = "edge", "along one edge"
    END = "end", "at one end"
    POINT = "point", "at one place near a corner"


class LoadCase(models.Model):
    """One case that is not as it came: renamed, left out, or the firm's own. `kind` keeps it through renamings."""

    kind = models.CharField(max_length=16, unique=True)
    name = models.CharField("name", max_length=60, blank=True)
    tried = models.BooleanField("try it", default=True)
    stands = models.CharField("where it stands", max_length=8, choices=Stands.choices, blank=True)
    people = models.PositiveSmallIntegerField(
        "people", default=0, validators=[MinValueValidator(0), MaxValueValidator(500)]
    )
    load_lb = models.FloatField("load", default=0.0, validators=[MinValueValidator(0), MaxValueValidator(100000)])

    class Meta:
        ordering = ["kind"]
        verbose_name = "load case"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(stands="") | ~models.Q(name=""),
                name="own_load_case_is_named",
                violation_error_message="Give the load case a name.",
            ),
            models.CheckConstraint(
                condition=models.Q(stands="") | models.Q(people__gt=0) | models.Q(load_lb__gt=0),
                name="own_load_case_loads",
                violation_error_message="Say how many people, or how heavy a load.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name or self.kind}{'' if self.tried else ' (not tried)'}"
