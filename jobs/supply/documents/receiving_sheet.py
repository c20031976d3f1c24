"""The sheet for the gate: what an order still owes, with boxes to write the count in before the slip is signed."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.template.loader import render_to_string

from contractor.company.current import firm
from contractor.pdf import render_pdf
from jobs.supply.models import Order, OrderLine

TEMPLATE = "print/supply/receiving.html"
STYLES = ("css/print.css", "css/order-paper.css")
STRAY_ROWS = 3


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One thing that may be on the truck, in packs."""

    line: OrderLine
    ordered: Decimal
    owed: Decimal
    jobs: str
    shelf: str


def sheet_lines(order: Order) -> list[SheetLine]:
    """What the order still owes, in the order of its lines."""
    lines = order.lines.select_related("stock__item").prefetch_related("shares__need__job__client")
    return [_line(line) for line in lines if line.owed > 0]


def _line(line: OrderLine) -> SheetLine:
    jobs = {f"{share.need.job.client.filed_under} {share.need.job.number}" for share in line.shares.all()}
    owed = line.owed / line.pack_size
    return SheetLine(line, line.packs, owed, ", ".join(sorted(jobs)), line.stock.item.shelf)


def receiving_sheet(order: Order, *, on: date) -> bytes:
    """The PDF, black on the firm's paper."""
    named = firm()
    facts = {"order": order, "lines": sheet_lines(order), "firm": named, "on": on, "strays": range(STRAY_ROWS)}
    return render_pdf(
        render_to_string(TEMPLATE, facts), stylesheets=STYLES, page_size=named.paper if named else "letter"
    )
