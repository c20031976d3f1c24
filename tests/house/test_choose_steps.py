import pytest

from tests import suite


@pytest.fixture
def steps(monkeypatch) -> list[tuple[str, list[str]]]:
    """What would have been run, as database and arguments."""
    ran: list[tuple[str, list[str]]] = []
    monkeypatch.setattr(suite, "postgres_trouble", lambda: "")
    monkeypatch.setattr(suite, "chromium_trouble", lambda: "")
    monkeypatch.setattr(suite, "_pytest", lambda title, database, arguments: ran.append((database, arguments)) or 0)
    return ran


def test_it_runs_the_suite_on_both_databases_and_then_the_browser(steps):
    assert suite.run_tests(["--all", "-x"]) == 0
    assert steps == [
        ("sqlite", ["-m", "not browser", "-x"]),
        ("postgres", ["-m", "not browser", "-x"]),
        ("sqlite", ["-m", "browser", "-x"]),
    ]


def test_it_refuses_to_run_all_where_something_is_missing(steps, monkeypatch, capsys):
    monkeypatch.setattr(suite, "chromium_trouble", lambda: "it is not on the PATH")
    assert suite.run_tests(["--all"]) == 2
    assert steps == []
    assert "Chromium cannot be used: it is not on the PATH." in capsys.readouterr().out


def test_it_runs_what_can_run_and_says_what_could_not(steps, monkeypatch, capsys):
    monkeypatch.setattr(suite, "postgres_trouble", lambda: "connection refused")
    assert suite.run_tests(["-k", "quote"]) == 0
    assert steps == [("sqlite", ["-k", "quote"])]
    assert "PostgreSQL cannot be used: connection refused." in capsys.readouterr().out


def test_it_adds_what_needs_postgresql_where_there_is_one(steps):
    suite.run_tests([])
    assert steps == [("sqlite", []), ("postgres", ["-m", "postgres"])]


@pytest.mark.parametrize("codes, expected", [([1, 0], 1), ([0, 1], 1), ([0, 5], 0), ([5, 0], 0), ([5, 5], 5)])
def test_it_fails_if_a_step_fails_and_forgives_one_that_found_nothing(steps, monkeypatch, codes, expected):
    answers = iter(codes)
    monkeypatch.setattr(suite, "_pytest", lambda title, database, arguments: next(answers))
    assert suite.run_tests(["-k", "quote"]) == expected


@pytest.mark.parametrize("codes", [[0, 1, 0], [0, 0, 5], [5, 0, 0]])
def test_it_forgives_nothing_when_all_was_asked(steps, monkeypatch, codes):
    answers = iter(codes)
    monkeypatch.setattr(suite, "_pytest", lambda title, database, arguments: next(answers))
    assert suite.run_tests(["--all"]) != 0
