"""The three doors that the import linter cannot see."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.tree import HOUSE, files, named


def strings_in(path: Path) -> list[str]:
    nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    return [node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)]


def threads_to_jobs() -> list[tuple[str, str]]:
    """Every string in estimating's code that names a model of jobs as Django's lazy references do."""
    labels = re.compile(r"(records|supply|schedule|fieldwork|handover|board)\.[A-Z]\w+")
    return [
        (named(path), text)
        for path in files("estimating", suffixes={".py"})
        if "migrations" not in path.parts
        for text in strings_in(path)
        if labels.fullmatch(text)
    ]


def test_it_ties_a_quote_to_its_job_by_one_thread_only():
    assert [label for _, label in threads_to_jobs()] == ["records.Job"]
    assert all(name.startswith("estimating/quotes/models") for name, _ in threads_to_jobs())


def test_it_never_fetches_a_model_by_name_in_estimating():
    sources = {named(path): path.read_text(encoding="utf-8") for path in files("estimating", suffixes={".py"})}
    assert [name for name, text in sources.items() if "migrations" not in name and "get_model(" in text] == []


def test_it_keeps_jobs_out_of_the_templates_of_estimating():
    rooms = "records|supply|schedule|fieldwork|handover|board|jobs"
    door = re.compile(rf"""\{{%\s*(url\s+['"]({rooms}):|(include|extends)\s+['"]jobs/)""")
    pages = [*files("templates/estimating", suffixes={".html"}), *files("estimating", suffixes={".html"})]
    assert [named(page) for page in pages if door.search(page.read_text(encoding="utf-8"))] == []


@pytest.mark.parametrize("name", ["services.py", "services/quotes.py"])
def test_it_bans_requests_and_responses_from_services(name: str):
    code = b"from django.http import HttpRequest\n\nprint(HttpRequest)\n"
    ruff = Path(sys.executable).parent / "ruff"
    judged = subprocess.run(
        [ruff, "check", "--no-cache", "--output-format=concise", f"--stdin-filename=estimating/quotes/{name}", "-"],
        cwd=HOUSE,
        input=code,
        capture_output=True,
    )
    assert b"TID251" in judged.stdout


def test_it_lets_views_have_them():
    ruff = [Path(sys.executable).parent / "ruff", "check", "--no-cache", "--stdin-filename=jobs/records/views.py", "-"]
    code = b"from django.http import HttpRequest\n\nprint(HttpRequest)\n"
    assert subprocess.run(ruff, cwd=HOUSE, input=code, capture_output=True).returncode == 0
