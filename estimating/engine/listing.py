"""Names in a row, as a colleague would say them, and findings alike said once."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from .reasons import Finding

NAMED_AT_MOST = 6


def several(names: Sequence[str]) -> str:
    """Names joined; a long row is cut short.

    >>> several(["A"]), several(["A", "B", "C"]), several([str(k) for k in range(9)])
    ('A', 'A, B and C', '0, 1, 2, 3, 4, 5 and 3 more')
    """
    if len(names) > NAMED_AT_MOST + 1:
        return f"{', '.join(names[:NAMED_AT_MOST])} and {len(names) - NAMED_AT_MOST} more"
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def said_once(findings: Iterable[Finding]) -> list[Finding]:
    """Findings that differ only in their section, said once for all of those sections."""
    alike: dict[tuple, list[Finding]] = {}
    for finding in findings:
        first, *rest = finding.headline.values or ("",)
        of_section = isinstance(first, str) and first.startswith("section ")
        key = (finding.level, finding.headline.text, *rest, finding.cure) if of_section else (id(finding),)
        alike.setdefault(key, []).append(finding)
    return [_together(group) for group in alike.values()]


def _together(group: Sequence[Finding]) -> Finding:
    first = group[0]
    if len(group) == 1:
        return first
    marks = [str(finding.headline.values[0]).removeprefix("section ") for finding in group]
    values = (f"sections {several(marks)}", *first.headline.values[1:])
    return replace(first, headline=replace(first.headline, values=values))
