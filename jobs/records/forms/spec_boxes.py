"""Which box of the spec page a path of the spec belongs to."""

import re
from collections.abc import Sequence
from typing import Protocol

from django.forms import BoundField
from django.http import QueryDict

from estimating.engine.spec import DockSpec
from jobs.records.documents.spec_shapes import Laid

from . import spec_frame as frame
from .spec_fittings import AccessoryRow, AnchorRow, AnchorsForm, RampForm
from .spec_sections import JointsForm, SectionPart, box_name
from .spec_shape import ShapeForm
from .spec_work import DockForm, WorkForm

PLACE = {"length_in": "length", "width_in": "width", "x_in": "x", "y_in": "y"}
FIRST_OF = {"framing": "stringer", "decking": "gap", "flotation": "rows"}
BY_RULE = {"dx": "offset", "dy": "offset", "depth": "depth", "item": "item"}


class Page(Protocol):
    """The forms a filled page is made of."""

    base: DockSpec
    data: QueryDict
    shape: ShapeForm
    frame: frame.FrameForm
    dock: DockForm
    work: WorkForm
    joints: JointsForm
    ramp: RampForm
    anchors: AnchorsForm
    anchor_rows: Sequence[AnchorRow]
    fittings: Sequence[AccessoryRow]

    @property
    def laid(self) -> Sequence[Laid]: ...

    @property
    def sections(self) -> Sequence[SectionPart]: ...


class Boxes:
    """The boxes of one filled page by path, such as `sections[0].width_in`."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def at(self, path: str) -> BoundField | None:
        """The box, or None where the page has none: the site's facts, the firm's figures."""
        named = re.match(r"(\w+)(?:\[(\d+)\])?(?:\.(.*))?$", path)
        if named is None:
            return None
        find = {
            "sections": self._section,
            "joints": self._joint,
            "ramp": self._ramp,
            "anchors": self._anchor,
            "accessories": self._fitting,
            "live_load_psf": lambda number, inside: self.page.dock["live_load"],
            "work": self._work,
        }.get(named[1])
        return find(int(named[2] or 0), named[3] or "") if find else None

    def _section(self, number: int, inside: str) -> BoundField | None:
        if number >= len(self.page.sections):
            return None
        if inside in PLACE or not inside:
            return self._place(number, inside)
        part = self.page.sections[number]
        if inside.startswith("flotation.placed") and part.own is not None:
            return part.own["placed"]
        name = frame.FrameForm.box_of(inside) or FIRST_OF.get(inside.partition(".")[0])
        if name is None:
            return None
        differs = part.own is not None and self.page.data.get(f"own-{part.mark}-{name}")
        return part.own[name] if differs else self.page.frame[name]

    def _place(self, number: int, inside: str) -> BoundField:
        place = self.page.sections[number].place
        if place is not None:
            return place[PLACE.get(inside, "length")]
        if number >= len(self.page.laid):
            return self.page.shape["shape"]
        laid = self.page.laid[number]
        return self.page.shape[laid.width_from if inside == "width_in" else laid.length_from]

    def _joint(self, number: int, inside: str) -> BoundField:
        joints = self.page.joints
        listed = joints.listed(self.page.base.joints)
        if joints.policy == "own" and number < len(listed):
            return joints[box_name(listed[number].first, listed[number].second)]
        return joints["joints"]

    def _ramp(self, number: int, inside: str) -> BoundField:
        ramp = self.page.ramp
        name = {"hinge_level_in": "hinge", "bought_item": "kind"}.get(inside, inside.removesuffix("_in"))
        return ramp[name if name in ramp.fields else "kind"]

    def _anchor(self, number: int, inside: str) -> BoundField:
        page, name = self.page, inside.removesuffix("_in")
        if page.anchors.policy != "own":
            return page.anchors[BY_RULE.get(name, "plan")]
        filled = [row for count, row in enumerate(page.anchor_rows, start=1) if row.anchor(count)]
        if number >= len(filled):
            return page.anchors["plan"]
        return filled[number][name if name in AnchorRow.base_fields else "section"]

    def _fitting(self, number: int, inside: str) -> BoundField | None:
        filled = [row for row in self.page.fittings if row.accessory()]
        name = inside.removesuffix("_in")
        if number >= len(filled):
            return None
        return filled[number][name if name in AccessoryRow.base_fields else "item"]

    def _work(self, number: int, inside: str) -> BoundField | None:
        work = self.page.work
        return work[inside] if inside in work.fields else None
