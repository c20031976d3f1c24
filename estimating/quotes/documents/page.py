"""What the quote's page shows of a worked quote: the build-up for the shop, and the customer's words beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from estimating.engine.drawing.canvas import SCREEN
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Fault
from estimating.engine.result import Design, PriceBuildUp
from estimating.engine.result_file import CAUTION

from .checks import is_below_floor
from .crowd_picture import CrowdPicture, crowd_picture
from .customer_words import Offered, offered_groups, paper_words
from .paper import quote_drawing
from .promises import price_rows, tax_rows
from .reading import (
    BuildLine,
    FindingLine,
    MaterialGroup,
    OptionLine,
    build_up,
    finding_lines,
    material_groups,
    option_lines,
)
from .speech import say, trade_name
from .worked import WorkedQuote

TYPED_SUM = ("sum", "the amount I type")


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
    crowd: CrowdPicture | None
    words: dict[str, Any]
    price_rows: list[tuple[str, Decimal]]
    options: list[OptionLine]
    groups: list[tuple[str, list[Offered]]]
    caution: str = CAUTION


def worked_page(worked: WorkedQuote) -> WorkedPage:
    price = worked.estimate.price
    drawing = quote_drawing(worked, width_px=430, prefix="qp", wide=False)
    return WorkedPage(
        worked=worked,
        price=price,
        build=build_up(worked),
        materials=material_groups(worked),
        materials_cost=worked.estimate.takeoff.materials_cost,
        findings=finding_lines(worked),
        below_floor=is_below_floor(worked),
        slip_short=price.before_rounding - price.add_percent_slip,
        drawing=mark_safe(drawing.svg),
        crowd=crowd_picture(worked, prefix="qpc", pen=SCREEN),
        words=paper_words(worked),
        price_rows=price_rows(worked) + tax_rows(worked),
        options=option_lines(worked),
        groups=offered_groups(worked),
    )


def fault_lines(faults: Sequence[Fault]) -> list[str]:
    return [say(fault.message) for fault in faults]


def option_choices(design: Design | None, catalogue: Catalogue | None) -> list[tuple[str, Any]]:
    """How an option may be priced: a typed sum, another material for one in this dock, or something added."""
    choices: list[tuple[str, Any]] = [TYPED_SUM]
    if catalogue is None:
        return choices
    choices += _swaps(design, catalogue) if design else []
    added = sorted((good.name, code) for code, good in catalogue.goods.items() if good.kind == "accessory")
    add = [(f"add:{code}", name) for name, code in added]
    return [*choices, ("Add", add)] if add else choices


def choice_name(choice: str, catalogue: Catalogue | None) -> str:
    """What an option is called whose name was left open: what is chosen for it."""
    if catalogue is None:
        return ""
    kind, _, rest = choice.partition(":")
    names = {code: item.name for code, item in (*catalogue.lumber.items(), *catalogue.floats.items())}
    if kind == "swap":
        old, _, new = rest.partition(">")
        return f"{trade_name(names.get(new, new))} instead of {trade_name(names.get(old, old))}"
    return trade_name(catalogue.goods[rest].name) if rest in catalogue.goods else ""


def _swaps(design: Design, catalogue: Catalogue) -> list[tuple[str, Any]]:
    boards = {run.item for run in design.boards if run.section != "ramp"}
    decking = {code: item.name for code, item in catalogue.lumber.items() if item.decking}
    floats = {placed.item for placed in design.floats}
    float_names = {code: item.name for code, item in catalogue.floats.items()}
    groups = []
    for used, names in ((boards, decking), (floats, float_names)):
        for old in sorted(used):
            others = sorted((name, new) for new, name in names.items() if new != old)
            rows = [(f"swap:{old}>{new}", name) for name, new in others]
            groups += [(f"Instead of {names[old]}", rows)] if rows else []
    return groups
