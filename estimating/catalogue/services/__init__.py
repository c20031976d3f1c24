"""What the shop does with its catalogue."""

from contractor.company.versions import ChangedMeanwhile

from .engine import catalogue_gaps, engine_catalogue, firm_rules, lumber_weights
from .exporting import catalogue_rows
from .imports import apply_import, catalogue_digest, drop_import, keep_upload, outcome_of, plan_of
from .items import ItemDraft, change_item, make_item, reinstate_item, retire_item, uses_of
from .labour import LabourChangedMeanwhile, save_labour
from .prices import PriceFacts, PriceNow, add_price, current_prices, prices_now, strike_price
from .refusals import CatalogueNotReady, CatalogueRefusal, FactsRefused, ImportRefused, StillUsed
from .rules import (
    PartLine,
    change_joint_rule,
    drop_joint_rule,
    make_joint_rule,
    save_standing_choices,
    standing_choices,
    uncovered_places,
)
from .starter import load_starter, load_starter_hours
from .suppliers import change_supplier, make_supplier, set_supplier_active

__all__ = [
    "CatalogueNotReady",
    "CatalogueRefusal",
    "ChangedMeanwhile",
    "FactsRefused",
    "ImportRefused",
    "ItemDraft",
    "LabourChangedMeanwhile",
    "PartLine",
    "PriceFacts",
    "PriceNow",
    "StillUsed",
    "add_price",
    "apply_import",
    "catalogue_digest",
    "catalogue_gaps",
    "catalogue_rows",
    "change_item",
    "change_joint_rule",
    "change_supplier",
    "current_prices",
    "drop_import",
    "drop_joint_rule",
    "engine_catalogue",
    "firm_rules",
    "keep_upload",
    "load_starter",
    "load_starter_hours",
    "lumber_weights",
    "make_item",
    "make_joint_rule",
    "make_supplier",
    "outcome_of",
    "plan_of",
    "prices_now",
    "reinstate_item",
    "retire_item",
    "save_labour",
    "save_standing_choices",
    "set_supplier_active",
    "standing_choices",
    "strike_price",
    "uncovered_places",
    "uses_of",
]
