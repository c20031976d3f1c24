"""The order as the supplier reads it: PDF, and lines for their machine."""

import csv
import io
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.template.loader import render_to_string

from contractor.company.current import firm, units
from contractor.pdf import render_pdf
from contractor.quantities import format_length
from jobs.supply.models import Order, OrderLine, Stock

TEMPLATE = "print/supply/order.html"
STYLES = ("css/print.css", "css/order-paper.css")
PACKS = {"chain": "drum", "fastener": "box"}


@dataclass(frozen=True, slots=True)
class PaperLine:
    line: OrderLine
    jobs: str  # the numbers it is for, as tags


def pack_words(stock: Stock, size: Decimal) -> str:
    """How the supplier counts it: each, box of 25, drum of 100 ft, 16 ft stick."""
    if stock.length_in:
        return f"{format_length(stock.length_in, units())} stick"
    if size == 1:
        return stock.item.use_unit
    unit = "" if stock.item.use_unit == "each" else f" {stock.item.use_unit}"
    return f"{PACKS.get(stock.item.kind, 'pack')} of {size.normalize():f}{unit}"


def paper_lines(order: Order) -> list[PaperLine]:
    lines = order.lines.select_related("stock__item").prefetch_related("shares__need__job")
    return [
        PaperLine(line, ", ".join(sorted({share.need.job.number for share in line.shares.all()}))) for line in lines
    ]


def order_paper(order: Order, *, on: date) -> bytes:
    """The PDF of an order that has its number."""
    lines = paper_lines(order)
    priced = [one.line.amount for one in lines if one.line.amount is not None]
    facts = {
        "order": order,
        "lines": lines,
        "firm": firm(),
        "on": on,
        "total": sum(priced, Decimal(0)) if len(priced) == len(lines) else None,
    }
    named = firm()
    size = named.paper if named else "letter"
    return render_pdf(render_to_string(TEMPLATE, facts), stylesheets=STYLES, page_size=size)


def order_csv(order: Order) -> str:
    """One line per thing, packs and prices, job tags at the end."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(["order", "code", "item", "packs", "pack", "units", "unit", "price", "needed by", "ship to", "jobs"])
    ship_to = _plain(", ".join(filter(None, (part.strip() for part in order.ship_to.splitlines()))))
    for one in paper_lines(order):
        line = one.line
        price = "" if line.unit_price is None else f"{line.unit_price:.2f}"
        units = (f"{line.quantity.normalize():f}", line.stock.unit)
        what = (order.number or "draft", _plain(line.stock.item.code), _plain(str(line.stock)))
        rows.writerow(
            [*what, f"{line.packs:f}", line.pack_words, *units, price, order.needed_by.isoformat(), ship_to, one.jobs]
        )
    return out.getvalue()


def _plain(text: str) -> str:
    """A spreadsheet runs a cell that begins like a formula; ours never do."""
    return f"'{text}" if text[:1] in "=+-@\t\r" else text
