"""What the quote's page shows of a worked quote: the build-up for the shop, and the customer's words beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Fault
from estimating.engine.result import Design, PriceBuildUp
from estimating.engine.result_file import CAUTION

from . import words
from .paper import quote_drawing
from .reading import BuildLine, FindingLine, MaterialGroup, build_up, finding_lines, material_groups
from .speech import say
from .worked import OptionWorked, WorkedQuote


@dataclass(frozen=True, slots=True)
class WorkedPage:
    worked: WorkedQuote
    price: PriceBuildUp
    build: list[BuildLine]
    materials: list[MaterialGroup]
    materials_cost: Decimal
    findings: list[FindingLine]
    below_floor: bool
    slip_short: Decimal
    drawing: SafeString
    scope: str
    inclusions: list[str]
    exclusions: list[str]
    assumptions: list[str]
    price_line: str
    tax_line: str
    people: str
    options: tuple[OptionWorked, ...]
    caution: str = CAUTION


def worked_page(worked: WorkedQuote) -> WorkedPage:
    price = worked.estimate.price
    drawing = quote_drawing(worked, width_px=430, style="screen", prefix="qp", tall_px=None)
    return WorkedPage(
        worked=worked,
        price=price,
        build=build_up(worked),
        materials=material_groups(worked),
        materials_cost=worked.estimate.takeoff.materials_cost,
        findings=finding_lines(worked),
        below_floor=price.price < price.floor_price,
        slip_short=price.before_rounding - price.add_percent_slip,
        drawing=mark_safe(drawing.svg),
        scope=words.scope(worked),
        inclusions=words.inclusions(worked),
        exclusions=words.exclusion_lines(worked),
        assumptions=words.assumptions(worked),
        price_line=words.price_line(worked),
        tax_line="" if price.sales_taxes else words.tax_line(worked),
        people=words.people_words(worked),
        options=worked.options,
    )


def fault_lines(faults: Sequence[Fault]) -> list[str]:
    return [say(fault.message) for fault in faults]


def option_choices(design: Design | None, catalogue: Catalogue) -> list[tuple[str, Any]]:
    """How an option may be priced: a typed sum, another material for one in this dock, or something added."""
    choices: list[tuple[str, Any]] = [("sum", "the amount I type")]
    if design:
        choices += _swaps(design, catalogue)
    added = sorted((good.name, code) for code, good in catalogue.goods.items() if good.kind == "accessory")
    return (
        [*choices, ("Something added", [(f"add:{code}", f"add {name}") for name, code in added])] if added else choices
    )


def _swaps(design: Design, catalogue: Catalogue) -> list[tuple[str, Any]]:
    groups = []
    boards = {run.item for run in design.boards if run.section != "ramp"}
    decking = {code: item.name for code, item in catalogue.lumber.items() if item.decking}
    floats = {placed.item for placed in design.floats}
    float_names = {code: item.name for code, item in catalogue.floats.items()}
    for title, used, names in (("Another decking", boards, decking), ("Another float", floats, float_names)):
        rows = [
            (f"swap:{old}>{new}", f"{name} instead of {names[old]}" if len(used) > 1 else name)
            for old in sorted(used)
            for new, name in sorted(names.items(), key=lambda pair: pair[1])
            if new != old
        ]
        groups += [(title, rows)] if rows else []
    return groups
