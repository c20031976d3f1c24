"""Two people at the board at the same moment: one of them moves, the other is told to look again."""

from collections import Counter
from datetime import timedelta

import pytest
from django.utils import timezone

from jobs.schedule import services
from jobs.schedule.models import JobStage
from tests.quotes.test_race_for_quotes import at_once
from tests.schedule.conftest import next_monday, signed_job
from tests.schedule.test_move_stage import stage_of

pytestmark = pytest.mark.django_db(transaction=True)


def putting(stage, crew, day, *, mark, by):
    def put():
        wanted = services.Wanted(
            JobStage.objects.select_related("job__client", "job__site").get(pk=stage.pk), crew, day
        )
        return services.move_stage(wanted, seen_mark=mark, said=services.Said(), by=by, on=timezone.localdate())

    return put


def test_it_puts_one_crew_in_one_place_only(job, crew, owner):
    """Different jobs share no row: without a lock on the board both would go through."""
    other = signed_job(owner, names="Amadi Okafor")
    stages, monday = [stage_of(job, "layout"), stage_of(other, "layout")], next_monday()
    mark = services.mark_of_board()
    answers = at_once(*[putting(stage, crew, monday, mark=mark, by=owner) for stage in stages])
    assert Counter(type(answer) for answer in answers) == {services.Preview: 1, services.BoardChanged: 1}
    assert JobStage.objects.filter(stage="layout", crew=crew, starts_on=monday).count() == 1


def test_it_moves_one_stage_to_one_of_two_days(job, crew, owner):
    stage, monday = stage_of(job, "layout"), next_monday()
    mark, days = services.mark_of_board(), [monday, monday + timedelta(days=1)]
    answers = at_once(*[putting(stage, crew, day, mark=mark, by=owner) for day in days])
    assert Counter(type(answer) for answer in answers) == {services.Preview: 1, services.BoardChanged: 1}
    moved = next(answer for answer in answers if isinstance(answer, services.Preview))
    stage.refresh_from_db()
    assert (stage.starts_on, stage.version) == (moved.wanted.start, 2)
