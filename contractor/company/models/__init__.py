from contractor.company.models.checked import CheckedAtOnce
from contractor.company.models.firm import (
    Company,
    DateStyle,
    DepositRule,
    OverheadMode,
    Paper,
    PaymentStep,
    TaxMode,
    TaxRate,
    Trigger,
    Units,
)
from contractor.company.models.load_cases import LoadCase
from contractor.company.models.records import ChangeLog, Counter, FormKey, LoginAttempt
from contractor.company.models.staff import Role, Staff

__all__ = [
    "ChangeLog",
    "CheckedAtOnce",
    "Company",
    "Counter",
    "DateStyle",
    "DepositRule",
    "FormKey",
    "LoadCase",
    "LoginAttempt",
    "OverheadMode",
    "Paper",
    "PaymentStep",
    "Role",
    "Staff",
    "TaxMode",
    "TaxRate",
    "Trigger",
    "Units",
]
