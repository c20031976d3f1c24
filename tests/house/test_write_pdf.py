from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from contractor.pdf import ResourceRefused, render_pdf
from contractor.pdf.press import static_path

PIXEL = (
    "data:image/png;base64,"
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)


def read(html: str, page_size: str = "letter", stylesheets: tuple[str, ...] = ("css/print.css",)) -> PdfReader:
    return PdfReader(BytesIO(render_pdf(html, stylesheets=stylesheets, page_size=page_size)))


# Sheet sizes: ISO 216 (A4, 210 x 297 mm) and ANSI/ASME Y14.1 (letter, 8.5 x 11 in), at 72 points to the inch.
@pytest.mark.parametrize(
    "page_size, width_pt, height_pt", [("letter", 8.5 * 72, 11 * 72), ("a4", 210 / 25.4 * 72, 297 / 25.4 * 72)]
)
def test_it_prints_on_the_sheet_that_was_asked_for(page_size: str, width_pt: float, height_pt: float):
    sheet = read("<p>Dock</p>", page_size).pages[0].mediabox
    assert (float(sheet.width), float(sheet.height)) == pytest.approx((width_pt, height_pt), abs=0.01)


def test_it_lays_a_wide_page_on_its_side():
    sheet = read("<style>main { page: wide }</style><main>Plan</main>", "a4").pages[0].mediabox
    assert float(sheet.width) == pytest.approx(297 / 25.4 * 72, abs=0.01)


def test_it_prints_the_words_in_our_own_typeface():
    page = read("<p>Cedar decking 5/4 x 6</p>").pages[0]
    assert "Cedar decking 5/4 x 6" in page.extract_text()
    fonts = {str(font.get_object()["/BaseFont"]) for font in page["/Resources"]["/Font"].values()}
    assert all("Barlow" in font for font in fonts), fonts


def test_it_shows_a_picture_that_stands_in_the_page():
    assert len(read(f'<img src="{PIXEL}">').pages[0].images) == 1


@pytest.mark.parametrize(
    "html",
    [
        '<img src="https://dock.example/logo.png">',
        '<img src="//dock.example/logo.png">',
        '<img src="/etc/passwd">',
        '<img src="../manage.py">',
        '<img src="/static/../manage.py">',
        '<img src="/static/%2e%2e/manage.py">',
        '<img src="/static/no-such-picture.png">',
        '<link rel="stylesheet" href="https://dock.example/look.css">',
        '<style>@import "file:///etc/hosts";</style>',
        '<p style="background: url(https://dock.example/logo.png)">Dock</p>',
    ],
)
def test_it_refuses_what_is_not_a_static_file_of_ours(html: str):
    with pytest.raises(ResourceRefused):
        render_pdf(html, stylesheets=[], page_size="letter")


def test_it_refuses_a_stylesheet_that_is_not_there():
    with pytest.raises(ResourceRefused, match=r"no stylesheet css/none\.css"):
        render_pdf("<p>Dock</p>", stylesheets=["css/none.css"], page_size="letter")


def test_it_finds_a_static_file_by_its_hashed_name(tmp_path: Path, settings):
    settings.STATIC_ROOT = tmp_path
    (tmp_path / "mark.1a2b3c.svg").write_text("<svg/>")
    assert static_path("file:///static/mark.1a2b3c.svg") == tmp_path / "mark.1a2b3c.svg"


def test_it_follows_no_link_out_of_the_static_folder(tmp_path: Path, settings):
    settings.STATIC_ROOT = tmp_path / "collected"
    settings.STATIC_ROOT.mkdir()
    (tmp_path / "secret.key").write_text("key")
    (settings.STATIC_ROOT / "way-out").symlink_to(tmp_path / "secret.key")
    assert static_path("file:///static/way-out") is None


def test_it_reads_a_stylesheet_again_once_it_has_changed(tmp_path: Path, settings):
    settings.STATICFILES_DIRS = [tmp_path]
    sheet = tmp_path / "size.css"
    sheet.write_text("p { page-break-before: auto }")
    assert len(read("<p>One</p><p>Two</p>", stylesheets=("size.css",)).pages) == 1
    sheet.write_text("p + p { page-break-before: always }")
    assert len(read("<p>One</p><p>Two</p>", stylesheets=("size.css",)).pages) == 2
