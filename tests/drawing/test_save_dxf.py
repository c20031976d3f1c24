"""The DXF read back by a general reader: sound, layers in plain words, as large as the dock in the units it names."""

import io
from itertools import pairwise

import ezdxf
import pytest
from ezdxf import bbox
from ezdxf.document import Drawing

from contractor.quantities import say
from estimating.engine.drawing.dxf import DxfSheet, dxf_drawing
from estimating.engine.drawing.profile import DayLevel
from estimating.engine.drawing.site_plan import Bounds
from estimating.engine.permitted import SideLines
from estimating.engine.result import Design
from tests.drawing import docks

LINES = Bounds(SideLines(240.0, 300.0), 120.0)
SIZES = {"straight": (192, 72), "ell": (288, 216), "tee": (456, 288), "ewe": (312, 336)}


def read(design: Design, *, metric: bool = False, day: DayLevel | None = None) -> Drawing:
    system = "metric" if metric else "imperial"
    sheet = DxfSheet(lambda amount: say(amount.value, amount.unit, system), metric, "Job 26-001", day)
    return ezdxf.read(io.StringIO(dxf_drawing(design, LINES, sheet)))


def on(drawing: Drawing, layer: str, kind: str = "*") -> list:
    return list(drawing.modelspace().query(f'{kind}[layer=="{layer}"]'))


@pytest.mark.parametrize("name", docks.ALL)
def test_it_opens_without_a_fault_and_uses_only_layers_it_has(name: str) -> None:
    drawing = read(docks.ALL[name]())
    audit = drawing.audit()
    assert not audit.errors and not audit.fixes
    named = {layer.dxf.name for layer in drawing.layers}
    assert {entity.dxf.layer for entity in drawing.modelspace()} <= named
    assert {"Sections", "Floats", "Ramp", "Anchors", "Chains", "Shoreline", "Bottom", "Dimensions", "Notes"} <= named


@pytest.mark.parametrize(("name", "size"), SIZES.items())
@pytest.mark.parametrize("metric", [False, True])
def test_it_draws_the_dock_full_size_in_the_units_of_its_header(name: str, size: tuple[int, int], metric: bool) -> None:
    drawing = read(docks.ALL[name](), metric=metric)
    per_in = 25.4 if metric else 1
    box = bbox.extents(on(drawing, "Sections", "LWPOLYLINE"))
    assert (box.size.x / per_in, box.size.y / per_in) == pytest.approx(size)
    side = bbox.extents(on(drawing, "Dock from the side", "LWPOLYLINE"))
    assert side.size.x / per_in == pytest.approx(size[0])
    assert drawing.header["$INSUNITS"] == (4 if metric else 1)  # millimetres, inches
    assert drawing.header["$MEASUREMENT"] == (1 if metric else 0)


def test_it_holds_lines_setbacks_anchors_and_levels_at_their_places() -> None:
    drawing = read(docks.straight(), day=DayLevel("7 May", 36.0))
    assert sorted(line.dxf.start.y for line in on(drawing, "Side lines")) == pytest.approx([36 - 300, 36 + 240])
    assert sorted(line.dxf.start.y for line in on(drawing, "Setbacks")) == pytest.approx([36 - 180, 36 + 120])
    plan = [ring.dxf.center for ring in on(drawing, "Anchors") if ring.dxf.center.y > -150]
    assert [(at.x, at.y) for at in plan] == [(312, 192), (312, -120)]
    levels = sorted(line.dxf.start.y for line in on(drawing, "Water levels"))
    assert [high - low for low, high in pairwise(levels)] == pytest.approx([18, 6, 12])
    words = {text.dxf.text for text in on(drawing, "Notes", "TEXT")}
    assert {"Left side line", "Right side line", "Anchor 1", "7 May 3.0 ft"} <= words


def test_it_letters_dimensions_in_plain_marks() -> None:
    words = {text.dxf.text for text in on(read(docks.straight()), "Dimensions", "TEXT")}
    assert {"16' 0\"", "6' 0\"", "17' 0\"", "22' 0\"", "28' 0\" out from the shore"} <= words
    assert all(word.isascii() for word in words)
