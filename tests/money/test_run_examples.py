import doctest
from importlib import import_module

import pytest

MODULES = (
    *("catalogue_file", "cents", "json_records", "needs", "packing", "payments"),
    *("price", "price_findings", "spec_file", "takeoff"),
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_in_the_docstrings_come_out_as_printed(name):
    outcome = doctest.testmod(import_module(f"estimating.engine.{name}"))
    assert outcome.attempted and not outcome.failed
