"""Reads a drawing back: its marks by name, and where they stand."""

import re
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]


def parse(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def parts(svg: str, name: str) -> list[ElementTree.Element]:
    return [mark for mark in parse(svg).iter() if mark.get("data-part") == name]


def rect_box(mark: ElementTree.Element) -> Box:
    x, y, w, h = (float(mark.get(a)) for a in ("x", "y", "width", "height"))
    return x, y, x + w, y + h


def points(mark: ElementTree.Element) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split(","))) for pair in mark.get("points").split()]


def view_box(svg: str) -> Box:
    x, y, w, h = map(float, parse(svg).get("viewBox").split())
    return x, y, x + w, y + h


def texts(svg: str) -> list[str]:
    return [mark.text for mark in parse(svg).iter(f"{SVG}text") if mark.get("aria-hidden") is None]


def lettered(svg: str) -> list[tuple[str, Box]]:
    """Every line of lettering with the room it takes, reckoned at half an em a letter."""
    found = []
    for mark in parse(svg).iter(f"{SVG}text"):
        if mark.get("aria-hidden"):
            continue
        x, y, size = float(mark.get("x")), float(mark.get("y")), float(mark.get("font-size"))
        wide = 0.42 * size * len(mark.text)
        back = {"start": 0, "middle": wide / 2, "end": wide}[mark.get("text-anchor")]
        if mark.get("transform"):
            found.append((mark.text, (x - 0.7 * size, y - wide / 2, x, y + wide / 2)))
        else:
            found.append((mark.text, (x - back, y - 0.7 * size, x - back + wide, y)))
    return found


def coordinates(svg: str) -> list[tuple[float, float]]:
    """Every point any mark is drawn through."""
    found: list[tuple[float, float]] = []
    for mark in parse(svg).iter():
        if mark.tag == f"{SVG}rect":
            x0, y0, x1, y1 = rect_box(mark)
            found += [(x0, y0), (x1, y1)]
        elif mark.get("points"):
            found += points(mark)
        elif mark.tag == f"{SVG}line":
            found += [(float(mark.get(f"x{k}")), float(mark.get(f"y{k}"))) for k in (1, 2)]
        elif mark.tag == f"{SVG}circle":
            x, y, r = (float(mark.get(a)) for a in ("cx", "cy", "r"))
            found += [(x - r, y - r), (x + r, y + r)]
        elif mark.tag == f"{SVG}path":
            found += walked(mark.get("d"))
    return found


def walked(d: str) -> list[tuple[float, float]]:
    at, found = (0.0, 0.0), []
    for letter, rest in re.findall(r"([MLHVZ])([^MLHVZ]*)", d):
        numbers = [float(v) for v in rest.split()]
        if letter in "ML":
            at = (numbers[0], numbers[1])
        elif letter == "H":
            at = (numbers[0], at[1])
        elif letter == "V":
            at = (at[0], numbers[0])
        found.append(at)
    return found
