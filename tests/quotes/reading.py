"""Reads a paper back: its pages as text, its rows as figures."""

import re
from decimal import Decimal
from html import unescape
from io import BytesIO

from pypdf import PdfReader

AMOUNT = re.compile(r"[+-]?\d{1,3}(?:,\d{3})*\.\d\d")


def pages(pdf: bytes) -> list[str]:
    """The text of every page, spaces and breaks made plain."""
    return [plain(page.extract_text()) for page in PdfReader(BytesIO(pdf)).pages]


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ")).strip()


def rows(html: str, start: str) -> list[tuple]:
    """The rows of the first table after `start` that carry amounts at the right: their words, then the amounts."""
    table = re.search(r"<table.*?</table>", html[html.index(start) :], re.DOTALL)[0]
    found = []
    for row in re.findall(r"<tr.*?</tr>", table, re.DOTALL):
        right = re.search(r'<td class="r">(.*?)</td>', row, re.DOTALL)
        amounts = AMOUNT.findall(right[1]) if right else []
        if amounts:
            found.append((words(row.replace(right[0], "")), *map(decimal, amounts)))
    return found


def words(html: str) -> str:
    return plain(unescape(re.sub(r"<[^>]+>", " ", html)))


def decimal(amount: str) -> Decimal:
    return Decimal(amount.replace(",", ""))
