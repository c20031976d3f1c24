"""Water levels: gauge files read, series of readings, calendars of levels, percentiles, and what lies on the bottom."""

from .calendar import CalendarRow, calendar_level_in
from .faults import ChoiceNeeded, FileNotUnderstood
from .files import read_gauge_file
from .gauge_file import GaugeFile, Told
from .series import FLAGGED, PRELIMINARY, Season, Series
from .statistics import Envelope, MonthLevels, Proposal, by_month, day_mean_in, envelope, propose, usual_level_in

__all__ = [
    "FLAGGED",
    "PRELIMINARY",
    "CalendarRow",
    "ChoiceNeeded",
    "Envelope",
    "FileNotUnderstood",
    "GaugeFile",
    "MonthLevels",
    "Proposal",
    "Season",
    "Series",
    "Told",
    "by_month",
    "calendar_level_in",
    "day_mean_in",
    "envelope",
    "propose",
    "read_gauge_file",
    "usual_level_in",
]
