"""WeasyPrint with its fonts and stylesheets kept between papers."""

import threading
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.conf import settings
from weasyprint import CSS, HTML, Document
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from contractor.pdf import PageSize, ResourceRefused

# Pango's font map belongs to one thread at a time; the work holds the interpreter anyway.
_one_at_a_time = threading.Lock()


class StaticFilesOnly(URLFetcher):
    """Opens `data:` and what lies in the static folders; anything else stops the paper."""

    def fetch(self, url: str, headers: dict[str, str] | None = None) -> URLFetcherResponse:
        if urlsplit(url).scheme == "data":
            return super().fetch(url, headers)
        path = static_path(url)
        if path is None:
            raise FatalURLFetchingError(f"A paper may not fetch {url}.")
        return super().fetch(path.as_uri(), headers)


def press(html: str, *, stylesheets: Sequence[str], page_size: PageSize) -> bytes:
    """What `contractor.pdf.render_pdf` promises."""
    return bind([html], stylesheets=stylesheets, page_size=page_size)


def bind(papers: Sequence[str], *, stylesheets: Sequence[str], page_size: PageSize) -> bytes:
    """What `contractor.pdf.bind_pdf` promises."""
    with _one_at_a_time:
        try:
            sheets = [*(_stylesheet(*_dated(name)) for name in stylesheets), _page_rules(page_size)]
            laid = [_laid_out(html, sheets) for html in papers]
            return laid[0].copy([page for paper in laid for page in paper.pages]).write_pdf()
        except FatalURLFetchingError as refused:
            raise ResourceRefused(str(refused)) from refused


def _laid_out(html: str, sheets: list[CSS]) -> Document:
    page = HTML(string=html, base_url=_base_url(), url_fetcher=_fetcher())
    return page.render(stylesheets=sheets, font_config=_fonts())


def static_path(url: str) -> Path | None:
    """The static file an address in a page stands for, by plain or hashed name; None for anything else."""
    parts = urlsplit(url)
    if parts.scheme != "file" or parts.netloc:
        return None
    path = unquote(parts.path)
    if path.startswith(settings.STATIC_URL):
        return _found(path.removeprefix(settings.STATIC_URL))
    return next((found for root in _roots() if (found := _inside(root, Path(path)))), None)


def _found(name: str) -> Path | None:
    return next((found for root in _roots() if (found := _inside(root, root / name))), None)


def _inside(root: Path, path: Path) -> Path | None:
    path = path.resolve()
    return path if path.is_relative_to(root) and path.is_file() else None


def _roots() -> list[Path]:
    return [Path(root).resolve() for root in (*settings.STATICFILES_DIRS, settings.STATIC_ROOT)]


def _dated(name: str) -> tuple[Path, int]:
    path = _found(name)
    if path is None:
        raise ResourceRefused(f"There is no stylesheet {name} under static/.")
    return path, path.stat().st_mtime_ns


@lru_cache(maxsize=32)
def _stylesheet(path: Path, modified_ns: int) -> CSS:
    return CSS(filename=path, url_fetcher=_fetcher(), font_config=_fonts())


@lru_cache(maxsize=2)
def _page_rules(page_size: PageSize) -> CSS:
    rules = f"@page {{ size: {page_size} }} @page wide {{ size: {page_size} landscape }}"
    return CSS(string=rules, font_config=_fonts())


@lru_cache(maxsize=1)
def _fonts() -> FontConfiguration:
    return FontConfiguration()


@lru_cache(maxsize=1)
def _fetcher() -> StaticFilesOnly:
    return StaticFilesOnly()


def _base_url() -> str:
    return Path(settings.STATICFILES_DIRS[0]).as_uri() + "/"
