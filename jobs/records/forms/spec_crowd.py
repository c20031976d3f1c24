"""The stepper beside the spec: how many people, and where they stand."""

from collections.abc import Mapping

from jobs.records.documents.spec_float_views import Asked

MOST_PEOPLE = 500
NOT_A_COUNT = "Type how many people as a whole number, such as 6."
TOO_MANY = f"At most {MOST_PEOPLE} people."


def asked_crowd(data: Mapping[str, str]) -> Asked:
    """What stands in the two boxes, one up or down where a step button was pressed.

    >>> asked_crowd({"crowd-where": "A, left edge", "crowd-people": "5", "crowd-step": "1"}).people
    6
    >>> asked_crowd({"crowd-people": "a few"}).fault
    'Type how many people as a whole number, such as 6.'
    """
    where, typed = data.get("crowd-where", ""), data.get("crowd-people", "").strip()
    if not typed:
        return Asked(where)
    if not (typed.isascii() and typed.isdigit()):
        return Asked(where, None, typed, NOT_A_COUNT)
    people = int(typed[:9]) + {"1": 1, "-1": -1}.get(data.get("crowd-step", ""), 0)
    if people > MOST_PEOPLE:
        return Asked(where, None, typed, TOO_MANY)
    return Asked(where, max(people, 0))
