"""Water of the made-up firm: a reservoir's calendar, and six years of a lake's staff read every noon. All invented."""

from datetime import date, timedelta
from math import cos, pi

from contractor.company.models import Staff
from estimating.engine.water import Told

from .models import Site
from .services import GaugeUpload, import_gauge_file, save_calendar

HELD_TO = ((1, 15, -240.0), (4, 20, -24.0), (9, 10, -24.0), (11, 20, -200.0))
YEARS = 6


def load_demo(*, by: Staff, on: date) -> None:
    """A calendar for each reservoir, a gauge for the first lake read on a causeway staff."""
    for site in Site.objects.filter(water_kind="reservoir", level_range__isnull=False):
        rows = [{"month": month, "day": day, "level_in": level} for month, day, level in HELD_TO]
        save_calendar(site, seen_version=site.calendar_version, rows=rows, by=by)
    lake = Site.objects.filter(level_range__datum="causeway staff").order_by("pk").first()
    if lake is not None:
        told = Told(zone="UTC", station="causeway staff")
        import_gauge_file(lake, upload=GaugeUpload(_noon_readings(on), told, "causeway staff", "staff.csv"), by=by)


def _noon_readings(on: date) -> bytes:
    """High in May, low in October, each year a little different, and nobody at the staff on some days."""
    rows = ["Date,Level (ft)"]
    for back in range(YEARS * 365, 0, -1):
        day = on - timedelta(days=back)
        turn = 2 * pi * (day.timetuple().tm_yday - 135) / 365
        level = 3.1 + 1.1 * cos(turn) + 0.25 * cos(3 * turn) + 0.15 * (day.year % 5 - 2)
        rows.append(f"{day.isoformat()},{'' if day.toordinal() % 41 == 0 else round(level, 2)}")
    return "\n".join(rows).encode()
