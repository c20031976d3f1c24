"""Crews, boats, the stages of every job and their days, and what kept them from their day."""

from .crews import Absence, Crew, CrewFeed, CrewMember, Equipment, EquipmentKind, Skill
from .logs import Cause, DelayLog, DepositIn, WaivedGate, Waiver, WeatherLog
from .rules import CancellationKind, IceDates, ScheduleRules
from .runs import PlanRun, RunState
from .stages import BuildStage, JobPlan, JobStage, Weight

__all__ = [
    "Absence",
    "BuildStage",
    "CancellationKind",
    "Cause",
    "Crew",
    "CrewFeed",
    "CrewMember",
    "DelayLog",
    "DepositIn",
    "Equipment",
    "EquipmentKind",
    "IceDates",
    "JobPlan",
    "JobStage",
    "PlanRun",
    "RunState",
    "ScheduleRules",
    "Skill",
    "WaivedGate",
    "Waiver",
    "WeatherLog",
    "Weight",
]
