"""What the docstrings show comes out as printed, in every module that shows anything."""

import doctest
import re
from importlib import import_module

import pytest

from tests.architecture.tree import files, named

MODULES = [
    named(path).removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    for path in files("contractor", "estimating", "jobs", suffixes={".py"})
    if re.search(r"^\s*>>> ", path.read_text(encoding="utf-8"), re.MULTILINE)
]


@pytest.mark.page
@pytest.mark.django_db
@pytest.mark.parametrize("name", MODULES)
def test_it_does_what_its_examples_say(name: str) -> None:
    ran = doctest.testmod(import_module(name))
    assert ran.attempted > 0 and ran.failed == 0
