"""A dock over the range of its site's water, with the day that was asked and the strictest rule for its floats."""

from dataclasses import replace

from django.utils import timezone

from estimating.engine.parts import RangeRules
from estimating.engine.result import Design
from jobs.records.documents.spec_range import Ranging, asked_day, ranging
from jobs.records.models import Job

from .spec_page import Clearance, clearances
from .water import level_on


def range_of(design: Design, rules: RangeRules, job: Job, typed_day: str) -> Ranging:
    """The dock at each level and on the day typed, by what its site knows of the water then."""
    asked = asked_day(typed_day, today=timezone.localdate())
    if asked.day is not None:
        on = level_on(job.site, asked.day)
        asked = replace(asked, level_in=on.value_in, words=on.words)
    strictest = max([Clearance(rules.clearance_in, "our own rule"), *clearances(job)], key=lambda one: one.least_in)
    return ranging(design, rules, asked, (strictest.least_in, strictest.by))
