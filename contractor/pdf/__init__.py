"""The one door to WeasyPrint: HTML in, PDF out, nothing fetched but our own static files."""

from collections.abc import Sequence
from typing import Literal

PageSize = Literal["letter", "a4"]


class ResourceRefused(ValueError):
    """The page asks for something that is not a static file of ours or data within the page."""


def render_pdf(html: str, *, stylesheets: Sequence[str], page_size: PageSize) -> bytes:
    """A PDF of one HTML page.

    `stylesheets` are names under static/, such as "css/print.css". `page_size` overrules the size in them, also on
    pages named `wide`, which lie on their side. Pictures come from static/ or stand in the page as `data:`.
    Raises ResourceRefused if the page asks for anything else or for a static file that is not there.
    """
    # Loading WeasyPrint takes longer than most pages: only who prints pays for it.
    from contractor.pdf.press import press

    return press(html, stylesheets=stylesheets, page_size=page_size)


def bind_pdf(pages: Sequence[str], *, stylesheets: Sequence[str], page_size: PageSize) -> bytes:
    """Several papers as one PDF, one after the other; each counts its own pages. As `render_pdf` else."""
    from contractor.pdf.press import bind

    return bind(pages, stylesheets=stylesheets, page_size=page_size)
