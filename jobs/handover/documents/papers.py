"""The hand-over and the season's sheets as PDF."""

from django.template.loader import render_to_string

from contractor.company.current import firm
from contractor.pdf import render_pdf

from .package import Package
from .season_sheet import SeasonSheet

STYLES = ("css/print.css", "css/hand-over-paper.css")


def package_html(package: Package) -> str:
    return render_to_string("print/hand_over.html", {"package": package, "firm": firm()})


def package_pdf(package: Package) -> bytes:
    """The package on the firm's paper."""
    return _printed(package_html(package))


def season_pdf(sheet: SeasonSheet) -> bytes:
    return _printed(render_to_string("print/season_sheet.html", {"sheet": sheet, "firm": firm()}))


def _printed(html: str) -> bytes:
    named = firm()
    return render_pdf(html, stylesheets=STYLES, page_size=named.paper if named else "letter")
