import doctest
from importlib import import_module

import pytest

MODULES = ("anchors", "gaps", "floats", "frame", "level", "level_checks", "listing", "lumber", "slope")


@pytest.mark.parametrize("name", MODULES)
def test_it_keeps_the_promises_of_its_docstrings(name: str) -> None:
    results = doctest.testmod(import_module(f"estimating.engine.{name}"))
    assert results.attempted and not results.failed
