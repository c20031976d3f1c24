"""The spec file: a dock spec as versioned JSON. Its shape is `schemas/spec-1.json`.

    {"wharfwright_spec": 1, "title": "6 x 16", "sections": [{"mark": "A", "length_in": 192, "width_in": 72}]}

Names are those of `spec.py`, lengths in inches. Everything but the sizes may be left out: then the firm's standing
choices apply. Unknown stays unknown: leave the field out, never write 0.
"""

from typing import Any

from .json_records import check_shape, from_plain, to_plain
from .spec import DockSpec

KEY = "wharfwright_spec"
VERSION = 1


def load_spec(document: Any) -> DockSpec:
    """The dock spec a document describes. Raises SpecFaults with every wrong field named by its path.

    >>> spec = load_spec({KEY: 1, "title": "Dock", "sections": [{"mark": "A", "length_in": 192, "width_in": 72}]})
    >>> spec.sections[0].length_in
    192.0
    """
    check_shape(document, "spec-1")
    return from_plain(DockSpec, document)


def dump_spec(spec: DockSpec) -> dict[str, Any]:
    """The document for a spec, ready for json.dumps; `load_spec` gives the same spec back."""
    return {KEY: VERSION, **to_plain(spec)}
