import doctest
from importlib import import_module

import pytest

MODULES = ("catenary", "forces", "bottoms", "chains", "sides", "proof")


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_in_the_docstrings_come_out_as_printed(name: str) -> None:
    outcome = doctest.testmod(import_module(f"estimating.engine.mooring.{name}"))
    assert outcome.attempted and not outcome.failed
