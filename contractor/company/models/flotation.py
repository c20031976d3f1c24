"""What the firm floats a dock against. The figures to start with are common practice, no source; none is a constant."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

MOST_PEOPLE = [MinValueValidator(0), MaxValueValidator(100)]


class PostedShare(models.TextChoices):
    HALF = "1/2", "Half of them"
    THREE_FIFTHS = "3/5", "Three fifths of them"
    TWO_THIRDS = "2/3", "Two thirds of them"
    THREE_QUARTERS = "3/4", "Three quarters of them"
    ALL = "1/1", "All of them"


class FlotationChoices(models.Model):
    """The firm's load cases, the rules it judges a floating dock by, and the limit it posts."""

    half_load_psf = models.FloatField("load on half of the deck", default=20.0)
    edge_people = models.PositiveSmallIntegerField("people along one edge", default=4, validators=MOST_PEOPLE)
    end_people = models.PositiveSmallIntegerField("people at one end", default=4, validators=MOST_PEOPLE)
    crowd_inset_in = models.FloatField("how far from the edge they stand", default=12.0)
    heavy_load_lb = models.FloatField("one heavy load", default=400.0)
    heavy_inset_in = models.FloatField("how far from the edge it stands", default=12.0)

    ramp_load_psf = models.FloatField("load on the whole ramp", null=True, blank=True)  # None: as on the deck

    asks_firm = models.BooleanField("the firm’s own rules", default=True)
    tilt_limit_deg = models.FloatField("most tilt, by the firm’s own rules", default=10.0)
    asks_landing_float = models.BooleanField("landing floats for people, US military criteria", default=False)
    asks_reservoir = models.BooleanField("docks on a licensed power reservoir", default=False)
    asks_lake_town = models.BooleanField("a lake town’s code", default=False)

    posted_share = models.CharField(
        "people to post", max_length=3, choices=PostedShare.choices, default=PostedShare.TWO_THIRDS
    )
    hinge_step_in = models.FloatField("most step at a hinge", default=0.5)
    hand_lift_lb = models.FloatField("what one person lifts", default=50.0)
    frame_buoyancy = models.BooleanField("the frame lifts where it is wet", default=False)

    class Meta:
        abstract = True
