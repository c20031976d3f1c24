"""Habits of the whole repository."""

import re
import tomllib

import pytest
from django.core.management import call_command

from contractor.bootstrap import LOCKS, PAPER_PACKAGES, pins
from tests.architecture.tree import HOUSE, files, named, texts

LONGEST = 400
# The first two are names of a vocabulary, not places; the rest is reserved for examples and for this machine.
HARMLESS = re.compile(
    r"www\.w3\.org/|json-schema\.org/draft/|([\w.-]+\.)?(example|invalid)\b|testserver|localhost|127\.0\.0\.1|\{"
)


def test_it_sends_nobody_to_a_place_outside():
    found = [
        f"{name}: {address}"
        for name, text in texts()
        for address in re.findall(r"https?://(?!\))\S*", text)
        if not HARMLESS.match(address.split("://", 1)[1]) and not name.startswith("tests/architecture/")
    ]
    assert found == []


def test_it_names_no_folder_of_one_machine():
    place = re.compile(r"(?<![\w.])/(home|Users|root)/\w+")
    assert [name for name, text in texts() if place.search(text)] == []


def test_it_keeps_files_short():
    pages = files("contractor", "jobs", "estimating", "templates", "tests", suffixes={".py", ".html", ".js"})
    lengths = {named(page): len(page.read_text(encoding="utf-8").splitlines()) for page in pages}
    assert {name: length for name, length in lengths.items() if length > LONGEST and "migrations" not in name} == {}


def test_it_names_files_by_what_they_hold():
    nameless = {"utils.py", "helpers.py", "common.py", "manager.py", "misc.py"}
    code = files("contractor", "jobs", "estimating", "tests", suffixes={".py"})
    assert [named(path) for path in code if path.name in nameless] == []


def test_it_writes_no_script_or_handler_into_a_page():
    forbidden = re.compile(r"<script(?![^>]*\bsrc=)|\shx-on|\son[a-z]+=[\"']|javascript:|<style", re.IGNORECASE)
    pages = files("templates", suffixes={".html"})
    assert [named(page) for page in pages if forbidden.search(page.read_text(encoding="utf-8"))] == []


def test_it_does_no_sums_in_a_page():
    sums = re.compile(r"\|\s*add:|\{%\s*widthratio|\|\s*divisibleby:")
    pages = files("templates", suffixes={".html"})
    assert [named(page) for page in pages if sums.search(page.read_text(encoding="utf-8"))] == []


def test_it_hears_no_signal_of_our_own():
    code = files("contractor", "jobs", "estimating", suffixes={".py"})
    assert [named(path) for path in code if "django.dispatch" in path.read_text(encoding="utf-8")] == []


@pytest.mark.django_db
def test_it_has_a_migration_for_every_change_of_a_model():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)


def test_it_pins_every_package_to_one_version_and_nothing_else():
    for lock in LOCKS["tests"]:
        for line in lock.read_text(encoding="utf-8").splitlines():
            assert re.fullmatch(r"[A-Za-z0-9._-]+==[A-Za-z0-9.]+", line), f"{lock.name}: {line}"
    names = [name.lower() for name, _ in pins(LOCKS["tests"])]
    assert len(names) == len(set(names))


def test_it_pins_every_package_it_asks_for():
    project = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    for purpose, wanted in {"use": project["dependencies"], "tests": project["optional-dependencies"]["dev"]}.items():
        pinned = {plain(name) for name, _ in pins(LOCKS[purpose])}
        assert {plain(re.split(r"[\[<>=]", entry)[0]) for entry in wanted} <= pinned


def test_it_says_why_it_needs_a_package():
    text = (HOUSE / "pyproject.toml").read_text(encoding="utf-8")
    asked = re.search(r"^dependencies = \[\n(.*?)^\]", text, re.DOTALL | re.MULTILINE)[1]
    for line in asked.splitlines():
        assert re.search(r'^    ".+",\s+# \S+', line), line


def test_it_installs_the_same_system_packages_everywhere():
    for name in ("Dockerfile", ".ci/run", "contractor/checks.py"):
        text = (HOUSE / name).read_text(encoding="utf-8")
        assert [package for package in PAPER_PACKAGES if package not in text] == [], name


def test_it_explains_every_variable_it_reads():
    code = "".join(path.read_text(encoding="utf-8") for path in files("contractor", suffixes={".py"}))
    read = set(re.findall(r'env\.\w+\(\s*"(WHARFWRIGHT_\w+)"', code))
    explained = set(re.findall(r"^#?(WHARFWRIGHT_\w+)=", (HOUSE / ".env.example").read_text(encoding="utf-8"), re.M))
    assert read <= explained


def test_it_hands_compose_only_variables_that_it_explains():
    compose = (HOUSE / "docker-compose.yml").read_text(encoding="utf-8")
    example = (HOUSE / ".env.example").read_text(encoding="utf-8")
    asked = set(re.findall(r"\$\{(\w+)", compose))
    assert asked <= set(re.findall(r"^(\w+)=", example, re.MULTILINE))


def test_it_gives_production_no_secret_of_its_own():
    compose = (HOUSE / "docker-compose.yml").read_text(encoding="utf-8")
    secrets = re.findall(r"(?:SECRET_KEY|PASSWORD): (.*)", compose)
    assert len(secrets) >= 4
    assert all(re.fullmatch(r"\$\{\w+:\?[^}]+\}", secret) for secret in secrets)
    for line in (HOUSE / ".env.example").read_text(encoding="utf-8").splitlines():
        assert not re.match(r"#?WHARFWRIGHT_(SECRET_KEY|DB_PASSWORD)=.", line)


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()
