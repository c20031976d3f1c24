import doctest
from importlib import import_module

import pytest


@pytest.mark.parametrize("name", ["models", "documents.comparing", "documents.speech", "documents.words"])
def test_it_keeps_the_promises_of_its_docstrings(name: str):
    results = doctest.testmod(import_module(f"estimating.quotes.{name}"))
    assert results.attempted and not results.failed
