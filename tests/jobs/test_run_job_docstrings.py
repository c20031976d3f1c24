import doctest

import pytest

from jobs.board import services as board
from jobs.records.models import saying
from jobs.records.querysets import folding


@pytest.mark.django_db
@pytest.mark.parametrize("module", [board, saying, folding], ids=lambda module: module.__name__)
def test_it_does_what_its_examples_say(module) -> None:
    ran = doctest.testmod(module)
    assert ran.attempted > 0 and ran.failed == 0
