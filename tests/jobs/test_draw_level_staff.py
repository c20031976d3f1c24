"""Levels on a staff: every level where it belongs, labels apart, nothing drawn of what is unknown."""

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from jobs.records.documents.level_staff import Staff, draw_level_staff

SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: str) -> dict[str, float]:
    """Each label and its height on the drawing."""
    return {text.text: float(text.get("y")) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")}


def test_it_draws_nothing_of_nothing() -> None:
    assert draw_level_staff(Staff("staff"), name="s") == ""


def test_it_puts_every_level_at_its_height_on_the_scale() -> None:
    found = texts(draw_level_staff(Staff("staff", 18.0, 42.0, 54.0, None, 84.0), name="s"))
    foot_px = found["1"] - found["2"]
    assert found["Normal 3.5"] - found["1"] == pytest.approx(-2.5 * foot_px, abs=0.1)
    assert found["Low 1.5"] - found["High 4.5"] == pytest.approx(3 * foot_px, abs=0.1)
    assert found["ramp hinge 7.0"] == pytest.approx(found["7"], abs=0.1)


@pytest.mark.parametrize(
    "levels", [(40.0, 42.0, 43.0, 44.0), (-720.0, -120.0, 0.0, 60.0), (0.0, 0.0, 0.0, 0.0), (1.0, 1.5, 1.6, 1500.0)]
)
def test_it_keeps_labels_apart_and_on_the_sheet(levels: tuple[float, ...]) -> None:
    svg = draw_level_staff(Staff("pin", *levels, reading_in=levels[1], reading_words="Mon 4 May"), name="s")
    heights = [y for words, y in texts(svg).items() if re.match("Low|Normal|High|Storm", words)]
    assert all(after - before >= 16.9 for before, after in pairwise(sorted(heights)))
    numbers = [float(y) for y in re.findall(r'\by[12]?="([-\d.]+)"', svg)]
    assert min(numbers) >= 0 and max(numbers) <= 320


def test_it_says_the_same_in_words_and_in_metres() -> None:
    svg = draw_level_staff(Staff("<pin>", normal_in=1000 / 25.4, system="metric"), name="s")
    assert "Normal 1.00 m." in svg and "Normal 1.00" in texts(svg) and "&lt;pin&gt;" in svg
