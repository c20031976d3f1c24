"""What the shop buys, from whom, for how much, and how it goes together."""

from .imports import Import, ImportState
from .items import Fixing, Item, Kind, LiftBasis, Stick, YesNoUnknown
from .labour import LabourFactor, LabourRate
from .prices import Price
from .rules import JointRule, JointRulePart, Place, StandingChoices
from .suppliers import Supplier

__all__ = [
    "Fixing",
    "Import",
    "ImportState",
    "Item",
    "JointRule",
    "JointRulePart",
    "Kind",
    "LabourFactor",
    "LabourRate",
    "LiftBasis",
    "Place",
    "Price",
    "StandingChoices",
    "Stick",
    "Supplier",
    "YesNoUnknown",
]
