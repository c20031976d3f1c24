"""What the office writes down before anything is built: people, places, water, permits, jobs, dock specs."""

from .clients import Client, Preference, TaxStatus
from .jobs import Ending, Job, JobNote, NoteKind, Stage
from .kept_checks import KeptCheck
from .levels import BottomKind, DepthPoint, LevelRange, LevelReading, ReadingSource
from .permits import Permit, PermitState, WindowKind, WorkWindow
from .sites import Ice, Salt, ShoreKind, Site, Wake, WaterKind
from .specs import SpecRevision

__all__ = [
    "BottomKind",
    "Client",
    "DepthPoint",
    "Ending",
    "Ice",
    "Job",
    "JobNote",
    "KeptCheck",
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
