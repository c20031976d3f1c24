"""The whole spec page as one form: read from what was typed into a dock spec, and written back as text.

The page is always filled from text: from what was posted, or from what the saved spec would have typed. Boxes the
page has not shown yet, such as the leg of a dock that just became an L, start with the usual sizes.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from django.forms import BoundField
from django.http import QueryDict

from contractor.company.current import units
from contractor.company.letters import revision_letter
from estimating.engine.outline import box_of
from estimating.engine.parts import Catalogue
from estimating.engine.reasons import Amount, Fault, Sentence
from estimating.engine.spec import DockSpec, Joint, Section, Work
from jobs.records.documents.spec_shapes import (
    FREE,
    Laid,
    keep_exact,
    lay_out,
    rounded,
    touching,
    usual_joints,
    usual_sizes,
)

from . import spec_frame as frame
from .spec_boxes import Boxes
from .spec_fields import PartForm, Stock, prefixed
from .spec_fittings import AccessoryRow, AnchorRow, AnchorsForm, RampForm
from .spec_sections import JointsForm, PlaceForm, SectionPart
from .spec_shape import BOXES, ShapeForm
from .spec_typed import usual_title
from .spec_work import DockForm, HireRow, Rows, SumRow, WorkForm, row_count

MOST_SECTIONS = 200
RAMP_START_IN = {"length": 144.0, "width": 48.0}


@dataclass(frozen=True)
class Trouble:
    """Why the spec cannot be worked out, and the box it is about, if the page has one."""

    message: Sentence
    box: BoundField | None = None


class SpecForm:
    """Every part of the page, read from one set of text."""

    def __init__(self, data: QueryDict, *, base: DockSpec, catalogue: Catalogue) -> None:
        self.base, self.stock = base, Stock(catalogue)
        self.data = data.copy()
        self.asked = data.get("do", "")
        self._start_shape()
        self.shape = ShapeForm(self.data)
        self.frame = frame.FrameForm(self.data, stock=self.stock)
        self._start_sections()
        self._start_fittings()
        marks = self.marks
        self.dock = DockForm(self.data)
        self.work = WorkForm(self.data, prefix="work")
        self.joints = JointsForm(self.data, pairs=touching(self.placed), usual=self.usual_joints)
        self.ramp = RampForm(self.data, stock=self.stock, marks=marks)
        self.anchors = AnchorsForm(self.data, stock=self.stock)
        self.anchor_rows = list(
            self._rows("anchor", lambda p: AnchorRow(self.data, prefix=p, stock=self.stock, marks=marks))
        )
        self.fittings = list(
            self._rows("fit", lambda p: AccessoryRow(self.data, prefix=p, stock=self.stock, marks=marks))
        )
        self.hires = list(self._rows("hire", lambda p: HireRow(self.data, prefix=p)))
        self.subcontracts = list(self._rows("sub", lambda p: SumRow(self.data, prefix=p)))
        self.fees = list(self._rows("fee", lambda p: SumRow(self.data, prefix=p)))

    # Sections

    @property
    def is_free(self) -> bool:
        return self.shape.shape_name == FREE

    @cached_property
    def laid(self) -> tuple[Laid, ...]:
        """The sections of the shape; none while its sizes cannot be read, or when sections are placed by hand."""
        sizes = self.shape.sizes()
        laid = lay_out(sizes) if sizes else ()
        return laid if len(laid) <= MOST_SECTIONS else ()

    @cached_property
    def marks(self) -> list[str]:
        return [one.section.mark for one in self.laid] or self.data.getlist("mark")

    @cached_property
    def sections(self) -> list[SectionPart]:
        sized = {one.section.mark: one.section for one in self.laid}
        return [self._section_part(mark, sized.get(mark)) for mark in self.marks]

    @property
    def placed(self) -> list[Section]:
        return [part.section for part in self.sections if part.section is not None]

    @property
    def usual_joints(self) -> tuple[Joint, ...]:
        return usual_joints(self.laid)

    def _section_part(self, mark: str, section: Section | None) -> SectionPart:
        place = None
        if self.is_free:
            place = PlaceForm(self.data, prefix=f"at-{mark}")
            section = place.section(mark)
        elif section is not None:
            section = keep_exact(section, self.base.sections)
        owned = self.data.get(f"owns-{mark}")
        own = frame.OwnFrameForm(self.data, stock=self.stock, prefix=f"own-{mark}") if owned else None
        return SectionPart(mark, place, own, section)

    # Where the page starts

    def _start_shape(self) -> None:
        data = self.data
        shape = data.get("shape", "straight")
        for name, text in ShapeForm.typed_sizes(usual_sizes(units()), BOXES.get(shape, {})).items():
            data.setdefault(name, data.get("width", text) if name in ("leg_width", "head_width") else text)

    def _start_sections(self) -> None:
        """Sections placed by hand begin where the shape had put them."""
        data = self.data
        if not self.is_free:
            return
        before = self._sections_before()
        by_hand = data.get("drawn-shape", FREE) == FREE
        marks = (by_hand and data.getlist("mark")) or [section.mark for section in before]
        if self.asked.startswith("drop-") and len(marks) > 1:
            marks = [mark for mark in marks if mark != self.asked.removeprefix("drop-")]
        for section in before:
            self._fill(prefixed(f"at-{section.mark}", PlaceForm.typed(section)))
        if self.asked == "add-section" and len(marks) < MOST_SECTIONS:
            marks = [*marks, self._new_section(marks)]
        data.setlist("mark", marks)

    def _sections_before(self) -> Sequence[Section]:
        drawn = self.data.get("drawn-shape", FREE)
        if drawn == FREE or drawn not in BOXES:
            return self.base.sections
        was = self.data.copy()
        was["shape"] = drawn
        sizes = ShapeForm(was).sizes()
        return [one.section for one in lay_out(sizes)] if sizes else self.base.sections

    def _new_section(self, marks: Sequence[str]) -> str:
        """One more, as big as the last, beyond the lake end."""
        mark = next(letter for letter in map(revision_letter, range(1, MOST_SECTIONS + 2)) if letter not in marks)
        places = [PlaceForm(self.data, prefix=f"at-{known}").section(known) for known in marks]
        known = [section for section in places if section is not None] or list(self.base.sections)
        last, lake = known[-1], max(box_of(section).x1 for section in known)
        self._fill(prefixed(f"at-{mark}", PlaceForm.typed(replace(last, mark=mark, x_in=lake))))
        return mark

    def _start_fittings(self) -> None:
        data = self.data
        if data.get("ramp-kind") == "built":
            sized = {name: rounded(value, units()) for name, value in RAMP_START_IN.items()}
            start = {**sized, "edge": "shore"}
            self._fill(prefixed("ramp", {k: RampForm.typed_value(k, v) for k, v in start.items()}))
        if data.get("anchors-plan") == "own" and data.get("drawn-anchors", "own").partition("|")[0] in ("two", "four"):
            was = data.copy()
            was["anchors-plan"] = data["drawn-anchors"].partition("|")[0]
            standing = AnchorsForm(was, stock=self.stock).anchors(self.placed) if self.placed else ()
            for key, text in Rows.typed("anchor", [AnchorRow.typed(anchor) for anchor in standing]).items():
                data[key] = text

    def _fill(self, text: Mapping[str, str]) -> None:
        for key, value in text.items():
            self.data.setdefault(key, value)

    def _rows(self, name: str, make) -> Rows:
        count = row_count(self.data, name) + (self.asked == f"more-{name}")
        self.data[f"{name}-rows"] = str(count)
        return Rows(name, make, count)

    # What it says

    def parts(self) -> Iterator[PartForm]:
        """Every form that counts as things are chosen now."""
        yield from (self.shape, self.frame, self.dock, self.joints, self.ramp, self.anchors, self.work)
        for section in self.sections:
            yield from (part for part in (section.place, section.own) if part is not None)
        if self.anchors.policy == "own":
            yield from self.anchor_rows
        for rows in (self.fittings, self.hires, self.subcontracts, self.fees):
            yield from rows

    def is_valid(self) -> bool:
        return all([part.is_valid() for part in self.parts()]) and bool(self.placed)

    def troubles(self) -> list[Trouble]:
        """What could not be read, box by box."""
        return [
            Trouble(Sentence("{0}: {1}", (str(part[name].label), " ".join(map(str, errors)))), part[name])
            for part in self.parts()
            for name, errors in part.errors.items()
            if name in part.fields
        ]

    def spec(self) -> DockSpec:
        """The dock as described. Only for a valid form."""
        common = self.frame.values()
        usual = {frame.FACTS[name]: value for name, value in frame.NEVER_OPEN.items()}
        sections = tuple(
            frame.with_values(part.section, {**usual, **common, **(part.own.values() if part.own else {})})
            for part in self.sections
            if part.section is not None
        )
        anchors = self.anchors.anchors(sections)
        if self.anchors.policy == "own":
            rows = (row.anchor(number) for number, row in enumerate(self.anchor_rows, start=1))
            anchors = tuple(anchor for anchor in rows if anchor is not None)
        return DockSpec(
            title=self.dock.given["title"].strip() or usual_title(sections),
            sections=sections,
            joints=self.joints.listed(self.base.joints),
            ramp=self.ramp.ramp(),
            anchors=anchors,
            accessories=tuple(row.accessory() for row in self.fittings if row.accessory()),
            place=self.base.place,
            work=self._work(),
            live_load_psf=self.dock.given["live_load"],
            boats=self.base.boats,
        )

    def _work(self) -> Work:
        def lines(rows: Sequence) -> tuple:
            return tuple(line for line in (row.line() for row in rows) if line is not None)

        return Work(
            **self.work.facts(),
            equipment=lines(self.hires),
            subcontracts=lines(self.subcontracts),
            permit_fees=lines(self.fees),
        )

    @property
    def note(self) -> str:
        return self.dock.given["note"]

    def blame(self, faults: Sequence[Fault]) -> list[Trouble]:
        """The engine's faults, each at its box; one for a box that several sections share."""
        boxes, seen, found = Boxes(self), set(), []
        for fault in faults:
            box = boxes.at(fault.field)
            if box is None or box.html_name not in seen:
                found.append(Trouble(fault.message, box))
                seen.add(box.html_name if box else "")
        return found

    def show(self, troubles: Sequence[Trouble], speak: Callable[[Amount], str]) -> None:
        """Write the engine's faults at their boxes, for a page drawn whole."""
        for trouble in troubles:
            if trouble.box is not None and not trouble.box.errors:
                trouble.box.form.add_error(trouble.box.name, trouble.message.say(speak))

    # What the page shows

    more_rows = (("hire", "Another hire"), ("sub", "Another subcontract"), ("fee", "Another fee"))

    def signatures(self) -> dict[str, str]:
        """What each region of the page was drawn for; a region is drawn again when this changes."""
        marks = " ".join(self.marks)
        owned = " ".join(part.mark for part in self.sections if part.own)
        pairs = " ".join("-".join(pair) for pair in self.joints.pairs) if self.joints.policy == "own" else ""
        return {
            "shape": self.shape.shape_name,
            "sections": f"{'free' if self.is_free else 'shaped'}|{marks}|{owned}",
            "joints": f"{self.joints.policy}|{pairs}|{len(self.marks) > 1}",
            "ramp": f"{self.data.get('ramp-kind', '')}|{marks if self.ramp.wanted else ''}",
            "anchors": f"{self.anchors.policy}|{len(self.anchor_rows)}|{marks if self.anchors.policy == 'own' else ''}",
            "fittings": f"{len(self.fittings)}|{marks}",
            "work": f"{len(self.hires)}|{len(self.subcontracts)}|{len(self.fees)}",
        }

    @property
    def row_counts(self) -> dict[str, int]:
        rows = {"anchor": self.anchor_rows, "fit": self.fittings, "hire": self.hires}
        rows |= {"sub": self.subcontracts, "fee": self.fees}
        return {name: len(forms) for name, forms in rows.items()}

    def regions_to_draw(self) -> list[str]:
        return [name for name, drawn in self.signatures().items() if self.data.get(f"drawn-{name}") != drawn]
