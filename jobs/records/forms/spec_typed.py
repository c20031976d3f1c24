"""A dock spec as somebody would have typed it on the spec page."""

from collections.abc import Mapping, Sequence

from django.http import QueryDict

from contractor.company.current import units
from contractor.quantities import format_length
from estimating.engine.outline import box_of
from estimating.engine.spec import DockSpec, Joint, Section
from jobs.records.documents.spec_shapes import FREE, lay_out, touching, usual_joints

from . import spec_frame as frame
from .spec_fields import prefixed
from .spec_fittings import AccessoryRow, AnchorRow, AnchorsForm, RampForm
from .spec_sections import JointsForm, PlaceForm
from .spec_shape import ShapeForm
from .spec_work import DockForm, HireRow, Rows, SumRow, WorkForm


def typed_spec(spec: DockSpec) -> QueryDict:
    """What somebody would have typed to get this spec."""
    text: dict[str, str] = {**ShapeForm.typed(spec)}
    common = frame.common_values(spec)
    text |= frame.FrameForm.typed(common)
    for section in spec.sections:
        if text["shape"] == FREE:
            text |= prefixed(f"at-{section.mark}", PlaceForm.typed(section))
        own = frame.own_values(section, common)
        if own:
            text[f"owns-{section.mark}"] = "on"
            text |= prefixed(f"own-{section.mark}", frame.OwnFrameForm.typed(own))
    text |= JointsForm.typed(spec.joints, _usual(text, spec.sections))
    text |= prefixed("ramp", RampForm.typed(spec.ramp))
    text |= prefixed("anchors", AnchorsForm.typed(spec.anchors, spec.sections))
    text |= Rows.typed("anchor", [AnchorRow.typed(anchor) for anchor in spec.anchors])
    text |= Rows.typed("fit", [AccessoryRow.typed(fitted) for fitted in spec.accessories])
    text |= prefixed("work", WorkForm.typed(spec.work))
    text |= Rows.typed("hire", [HireRow.typed(line) for line in spec.work.equipment])
    text |= Rows.typed("sub", [SumRow.typed(line) for line in spec.work.subcontracts])
    text |= Rows.typed("fee", [SumRow.typed(line) for line in spec.work.permit_fees])
    text["title"] = "" if spec.title == usual_title(spec.sections) else spec.title
    text["live_load"] = DockForm.typed_value("live_load", spec.live_load_psf)
    data = QueryDict(mutable=True)
    data.update(text)
    data.setlist("mark", [section.mark for section in spec.sections])
    return data


def usual_title(sections: Sequence[Section]) -> str:
    """A dock without a name is called by its size."""
    boxes = [box_of(section) for section in sections]
    across = max(box.y1 for box in boxes) - min(box.y0 for box in boxes)
    out = max(box.x1 for box in boxes) - min(box.x0 for box in boxes)
    return " × ".join(format_length(side, units()) for side in (across, out)) + " dock"


def _usual(text: Mapping[str, str], sections: Sequence[Section]) -> tuple[Joint, ...]:
    """The joints this dock would have by the usual rule."""
    data = QueryDict(mutable=True)
    data.update(text)
    sizes = ShapeForm(data).sizes()
    if sizes is not None:
        return usual_joints(lay_out(sizes))
    return tuple(Joint(first, second) for first, second in touching(sections))
