from django.contrib.auth.models import AbstractBaseUser
from django.core.validators import RegexValidator
from django.db import models
from django.db.models.functions import Lower, Trim

from contractor.company.models.checked import CheckedAtOnce
from contractor.company.querysets import StaffManager

LOGIN_SHAPE = RegexValidator(r"^[a-z0-9][a-z0-9._@+-]*\Z", "Use small letters, figures and . _ - only, no spaces.")


class Role(models.TextChoices):
    OWNER = "owner", "Owner"
    OFFICE = "office", "Office"
    CREW_LEAD = "crew_lead", "Crew lead"
    CREW = "crew", "Crew"


class Staff(CheckedAtOnce, AbstractBaseUser):
    """A person of the firm who signs in. Nobody is ever deleted: what they signed keeps their name."""

    login = models.CharField(
        "login name",
        max_length=60,
        unique=True,
        validators=[LOGIN_SHAPE],
        error_messages={"unique": "Somebody else has this login name."},
    )
    name = models.CharField("full name", max_length=120)
    email = models.EmailField("email", blank=True)
    phone = models.CharField("phone", max_length=40, blank=True)
    role = models.CharField("role", max_length=12, choices=Role.choices, default=Role.CREW)
    active = models.BooleanField("may sign in", default=True)
    version = models.PositiveIntegerField(default=1)

    objects = StaffManager()

    USERNAME_FIELD = "login"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name", "id"]
        verbose_name = "person"
        verbose_name_plural = "people"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(login=Lower("login")),
                name="staff_login_is_lower_case",
                violation_error_message="Write the login name in small letters.",
            ),
            models.CheckConstraint(
                condition=~models.Q(login="") & models.Q(login=Trim("login")),
                name="staff_has_login",
                violation_error_message="Type a login name.",
            ),
            models.CheckConstraint(
                condition=~models.Q(name=""),
                name="staff_has_name",
                violation_error_message="Type the person’s name.",
            ),
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values),
                name="staff_role_is_known",
                violation_error_message="Choose a role.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_active(self) -> bool:
        """The name Django's sign-in asks by."""
        return self.active

    @property
    def is_owner(self) -> bool:
        return self.role == Role.OWNER

    @property
    def has_money(self) -> bool:
        """Owner and office see costs and margins; nobody else, on any page or paper."""
        return self.role in (Role.OWNER, Role.OFFICE)

    @property
    def first_name(self) -> str:
        return self.name.split()[0] if self.name.strip() else self.login
