import doctest
from importlib import import_module

import pytest

MODULES = (
    *("geometry", "immersion", "round_immersion", "linkage", "loads", "results", "equilibrium", "righting"),
    *("limits", "crowds", "criteria", "layout_search"),
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_in_the_docstrings_come_out_as_printed(name):
    outcome = doctest.testmod(import_module(f"estimating.engine.flotation.{name}"))
    assert outcome.attempted and not outcome.failed
