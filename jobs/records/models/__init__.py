"""What the office writes down before anything is built: people, places, water, permits, jobs, dock specs."""

from .clients import Client, Preference, TaxStatus
from .jobs import Ending, Job, JobNote, NoteKind, Stage
from .kept_checks import KeptCheck
from .levels import BottomKind, DepthPoint, LevelNames, LevelRange, LevelReading, ReadingSource
from .permits import Permit, PermitState, WindowKind, WorkWindow
from .sites import Ice, Salt, ShoreKind, Site, Wake, WaterKind
from .specs import SpecRevision
from .water import CalendarLevel, Gauge, GaugeBlock, GaugeKind, GaugeUnit

__all__ = [
    "BottomKind",
    "CalendarLevel",
    "Client",
    "DepthPoint",
    "Ending",
    "Gauge",
    "GaugeBlock",
    "GaugeKind",
    "GaugeUnit",
    "Ice",
    "Job",
    "JobNote",
    "KeptCheck",
    "LevelNames",
    "LevelRange",
    "LevelReading",
    "NoteKind",
    "Permit",
    "PermitState",
    "Preference",
    "ReadingSource",
    "Salt",
    "ShoreKind",
    "Site",
    "SpecRevision",
    "Stage",
    "TaxStatus",
    "Wake",
    "WaterKind",
    "WindowKind",
    "WorkWindow",
]
