"""The database gives the engine what was put in."""

import pytest

from estimating.catalogue import services
from estimating.engine.catalogue_file import starter_catalogue

pytestmark = pytest.mark.django_db


def test_it_gives_the_starter_file_back(starter):
    file, rules = starter_catalogue()
    kept = services.engine_catalogue(on=file.on)
    assert kept.lumber == file.lumber
    assert kept.floats == file.floats
    assert kept.goods == file.goods
    assert kept.joint_rules == file.joint_rules
    assert kept == file
    assert services.firm_rules(on=file.on).labour_rates == rules.labour_rates
    assert services.firm_rules(on=file.on).labour_factors == rules.labour_factors
