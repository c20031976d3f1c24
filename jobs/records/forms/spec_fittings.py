"""Ramp, anchors and accessories: what is fitted to the dock and what holds it."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import QueryDict

from contractor.company.fields import LengthField, LevelField
from estimating.engine.outline import box_of, outward
from estimating.engine.spec import Accessory, Anchor, Ramp, Section

from .spec_fields import CORNERS, EDGES, CountField, OffsetField, PartForm, Stock, pick

BOUGHT = "buy:"
MOST_ROWS = 400


def _section_choices(marks: Sequence[str], open_words: str) -> list[tuple[str, str]]:
    return [("", open_words), *((mark, mark) for mark in marks)]


class RampForm(PartForm):
    kind = pick("Built or bought")
    length = LengthField(label="Length", required=False, above_zero=True)
    width = LengthField(label="Width", required=False, above_zero=True)
    hinge = LevelField(label="Hinge height", required=False, may_be_unknown=True)
    shore_fixing = forms.CharField(
        label="Shore end rests on", required=False, max_length=60, help_text="concrete pad, ledge, fixed dock, deadman"
    )
    section = pick("Lands on section")
    edge = pick("On its edge", EDGES)
    offset = LengthField(label="Middle, along the edge", required=False, help_text="Empty: in the middle")
    rails = forms.BooleanField(label="Rails", required=False)
    accessible = forms.BooleanField(
        label="Must be an accessible route", required=False, help_text="ADA 405.2 and the exceptions for gangways"
    )
    slips = CountField(label="Boat slips it leads to", min_value=0, max_value=9999)

    def __init__(self, data: QueryDict, *, stock: Stock, marks: Sequence[str]) -> None:
        super().__init__(data, prefix="ramp")
        bought = [(BOUGHT + code, f"bought: {name}") for code, name in stock.goods("ramp")]
        self.offer(
            kind=[("", "no ramp"), ("built", "built of lumber"), *bought],
            section=_section_choices(marks, "the one nearest the shore"),
        )
        self.goods = stock.catalogue.goods

    @property
    def wanted(self) -> bool:
        return bool(self.data.get("ramp-kind"))

    def shown(self) -> set[str]:
        return {"kind"}

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if not self.wanted:
            self._errors = type(self.errors)(renderer=self.renderer)
            return given
        item = self.goods.get(given.get("kind", "").removeprefix(BOUGHT))
        for name in ("length", "width"):
            sold = getattr(item, f"{name}_in", None)
            if name not in self.errors and given.get(name) is None:
                if sold is None:
                    self.add_error(name, self.fields[name].missing())
                given[name] = sold
        return given

    def ramp(self) -> Ramp | None:
        if not self.wanted or not self.is_valid():
            return None
        given = self.given
        return Ramp(
            length_in=given["length"],
            width_in=given["width"],
            section=given["section"] or None,
            edge=given["edge"] or "shore",
            offset_in=given["offset"],
            hinge_level_in=given["hinge"],
            shore_fixing=given["shore_fixing"],
            bought_item=given["kind"].removeprefix(BOUGHT) if given["kind"].startswith(BOUGHT) else None,
            rails=given["rails"],
            accessible=given["accessible"],
            slips=given["slips"],
        )

    @classmethod
    def typed(cls, ramp: Ramp | None) -> dict[str, str]:
        if ramp is None:
            return {"kind": ""}
        values = {
            "length": ramp.length_in,
            "width": ramp.width_in,
            "hinge": ramp.hinge_level_in,
            "shore_fixing": ramp.shore_fixing,
            "section": ramp.section,
            "edge": ramp.edge,
            "offset": ramp.offset_in,
            "rails": ramp.rails,
            "accessible": ramp.accessible,
            "slips": ramp.slips,
        }
        kind = f"{BOUGHT}{ramp.bought_item}" if ramp.bought_item else "built"
        return {"kind": kind, **{name: cls.typed_value(name, value) for name, value in values.items()}}


class AnchorsForm(PartForm):
    """Anchors by one rule: at the lake end, or at all four corners of the dock."""

    plan = pick(
        "How many",
        [
            ("", "none"),
            ("two", "two, at the lake end"),
            ("four", "four, at the outer corners"),
            ("own", "each its own"),
        ],
    )
    item = pick("Weight")
    offset = LengthField(label="Out from the corner, each way", required=False, help_text="Empty: chain at 45°")
    depth = LevelField(label="Depth there, at normal level", required=False, may_be_unknown=True)

    def __init__(self, data: QueryDict, *, stock: Stock) -> None:
        super().__init__(data, prefix="anchors")
        self.offer(item=stock.or_usual("anchor", stock.goods("anchor")))

    def shown(self) -> set[str]:
        return {"plan"}

    @property
    def policy(self) -> str:
        return self.given.get("plan", "")

    def anchors(self, sections: Sequence[Section]) -> tuple[Anchor, ...]:
        if self.policy not in ("two", "four") or not self.is_valid():
            return ()
        return at_corners(sections, self.policy, self.given)

    @classmethod
    def typed(cls, anchors: Sequence[Anchor], sections: Sequence[Section]) -> dict[str, str]:
        if not anchors:
            return {"plan": ""}
        first = anchors[0]
        rule = {
            "item": first.item or "",
            "offset": None if first.dx_in is None else abs(first.dx_in),
            "depth": first.depth_in,
        }
        for plan in ("two", "four"):
            if at_corners(sections, plan, rule) == tuple(anchors):
                return {"plan": plan, **{name: cls.typed_value(name, value) for name, value in rule.items()}}
        return {"plan": "own"}


def at_corners(sections: Sequence[Section], plan: str, rule: dict[str, Any]) -> tuple[Anchor, ...]:
    """An anchor at each outermost corner of the lake end, or of both ends."""
    ends = ("lake", "shore") if plan == "four" else ("lake",)
    corners = [f"{end}-{side}" for end in ends for side in ("left", "right")]
    anchors = []
    for number, corner in enumerate(corners, start=1):
        sign_x, sign_y = outward(corner)
        offset = rule.get("offset")
        anchors.append(
            Anchor(
                mark=str(number),
                section=_outermost(sections, sign_x, sign_y).mark,
                corner=corner,
                item=rule.get("item") or None,
                dx_in=None if offset is None else sign_x * offset,
                dy_in=None if offset is None else sign_y * offset,
                depth_in=rule.get("depth"),
            )
        )
    return tuple(anchors)


def _outermost(sections: Sequence[Section], sign_x: int, sign_y: int) -> Section:
    def reach(section: Section) -> tuple[float, float]:
        box = box_of(section)
        return (box.x1 if sign_x > 0 else -box.x0), (box.y1 if sign_y > 0 else -box.y0)

    return max(sections, key=reach)


class AnchorRow(PartForm):
    mark = forms.CharField(label="Mark", required=False, max_length=8)
    section = pick("Holds section")
    corner = pick("At its corner", CORNERS)
    item = pick("Weight")
    chain = pick("Chain")
    dx = OffsetField(label="Out from the corner", required=False)
    dy = OffsetField(label="To the left", required=False)
    depth = LevelField(label="Depth there", required=False, may_be_unknown=True)
    chain_length = LengthField(label="Chain length", required=False, help_text="Empty: worked out")

    def __init__(self, data: QueryDict, *, prefix: str, stock: Stock, marks: Sequence[str]) -> None:
        super().__init__(data, prefix=prefix)
        self.offer(
            section=_section_choices(marks, "no anchor here"),
            item=stock.or_usual("anchor", stock.goods("anchor")),
            chain=stock.or_usual("chain", stock.goods("chain")),
        )

    def anchor(self, number: int) -> Anchor | None:
        given = self.given
        if not self.is_valid() or not given["section"]:
            return None
        return Anchor(
            mark=given["mark"] or str(number),
            section=given["section"],
            corner=given["corner"] or "lake-left",
            item=given["item"] or None,
            chain=given["chain"] or None,
            dx_in=given["dx"],
            dy_in=given["dy"],
            depth_in=given["depth"],
            chain_length_in=given["chain_length"],
        )

    @classmethod
    def typed(cls, anchor: Anchor) -> dict[str, str]:
        values = {
            "mark": anchor.mark,
            "section": anchor.section,
            "corner": anchor.corner,
            "item": anchor.item,
            "chain": anchor.chain,
            "dx": anchor.dx_in,
            "dy": anchor.dy_in,
            "depth": anchor.depth_in,
            "chain_length": anchor.chain_length_in,
        }
        return {name: cls.typed_value(name, value) for name, value in values.items()}


class AccessoryRow(PartForm):
    item = pick("Fitting")
    quantity = CountField(label="How many")
    section = pick("On section")
    edge = pick("On its edge", EDGES)
    offset = LengthField(label="Along the edge", required=False)

    def __init__(self, data: QueryDict, *, prefix: str, stock: Stock, marks: Sequence[str]) -> None:
        super().__init__(data, prefix=prefix)
        self.offer(
            item=[("", "nothing"), *stock.goods("accessory")],
            section=_section_choices(marks, "the outermost"),
        )

    def accessory(self) -> Accessory | None:
        given = self.given
        if not self.is_valid() or not given["item"]:
            return None
        return Accessory(
            item=given["item"],
            quantity=given["quantity"] or 1,
            section=given["section"] or None,
            edge=given["edge"] or "lake",
            offset_in=given["offset"],
        )

    @classmethod
    def typed(cls, accessory: Accessory) -> dict[str, str]:
        values = {
            "item": accessory.item,
            "quantity": accessory.quantity,
            "section": accessory.section,
            "edge": accessory.edge,
            "offset": accessory.offset_in,
        }
        return {name: cls.typed_value(name, value) for name, value in values.items()}
