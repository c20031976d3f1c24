import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from contractor import bootstrap


@pytest.fixture
def locks(monkeypatch, tmp_path: Path) -> Path:
    """Two lock files and a finished `.venv` in a scratch folder."""
    (tmp_path / "requirements.lock").write_text("pytest==1.2.3\n")
    (tmp_path / "requirements-dev.lock").write_text("ruff==4.5.6\n")
    venv = tmp_path / ".venv"
    python = venv / "bin" / "python"
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    (venv / "pyvenv.cfg").write_text("version = 3.11.2\n")
    monkeypatch.setattr(bootstrap, "VENV", venv)
    monkeypatch.setattr(bootstrap, "VENV_PYTHON", python)
    use = [tmp_path / "requirements.lock"]
    monkeypatch.setattr(bootstrap, "LOCKS", {"use": use, "tests": [*use, tmp_path / "requirements-dev.lock"]})
    return tmp_path


@pytest.fixture
def prepared(locks: Path, monkeypatch) -> Path:
    monkeypatch.setattr(bootstrap, "run", lambda command, env=None: 0)
    monkeypatch.setattr(bootstrap, "paper_loads", lambda: True)
    monkeypatch.setattr(bootstrap, "works", lambda python: True)
    bootstrap.prepare("tests")
    return locks


def test_it_is_ready_for_use_once_it_is_ready_for_the_tests(prepared: Path):
    assert bootstrap.is_ready("tests") and bootstrap.is_ready("use")


def test_it_is_not_ready_for_the_tests_when_only_prepared_for_use(prepared: Path):
    (prepared / ".venv" / "ready-for-tests").unlink()
    bootstrap.prepare("use")
    assert bootstrap.is_ready("use") and not bootstrap.is_ready("tests")


def test_it_prepares_again_when_a_lock_file_changes(prepared: Path):
    (prepared / "requirements-dev.lock").write_text("ruff==4.5.7\n")
    assert bootstrap.is_ready("use") and not bootstrap.is_ready("tests")
    (prepared / "requirements.lock").write_text("pytest==1.2.4\n")
    assert not bootstrap.is_ready("use")


def test_it_prepares_again_when_python_is_gone_or_another(prepared: Path):
    (prepared / ".venv" / "pyvenv.cfg").write_text("version = 3.13.1\n")
    assert not bootstrap.is_ready("use")
    bootstrap.prepare("use")
    (prepared / ".venv" / "bin" / "python").unlink()
    assert not bootstrap.is_ready("use")


def test_it_is_not_ready_after_an_installation_that_failed(locks: Path, monkeypatch, capsys):
    monkeypatch.setattr(bootstrap, "works", lambda python: True)
    monkeypatch.setattr(bootstrap, "run", lambda command, env=None: 1)
    with pytest.raises(SystemExit):
        bootstrap.prepare("use")
    assert not bootstrap.is_ready("use")
    assert "could not be installed" in capsys.readouterr().err


def test_it_takes_an_active_environment_that_has_every_pinned_version(locks: Path):
    (locks / "requirements.lock").write_text(f"pytest=={pytest.__version__}\n")
    assert bootstrap.satisfies([locks / "requirements.lock"])
    (locks / "requirements.lock").write_text("pytest==0.0.1\n")
    assert not bootstrap.satisfies([locks / "requirements.lock"])
    (locks / "requirements.lock").write_text("no-such-package-of-anyone==1\n")
    assert not bootstrap.satisfies([locks / "requirements.lock"])


def test_it_installs_system_packages_as_root(monkeypatch, capsys):
    ran: list[list[str]] = []
    monkeypatch.setattr(shutil, "which", lambda name: "/usr/bin/apt-get")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr(bootstrap, "run", lambda command, env=None: ran.append(command) or 0)
    bootstrap.provide(["libpango-1.0-0"], "Pango")
    assert [command[:2] for command in ran] == [["apt-get", "update"], ["apt-get", "install"]]
    assert "libpango-1.0-0" in ran[1]
    assert "Missing on this machine: Pango." in capsys.readouterr().err


def test_it_prints_the_command_and_stops_when_it_may_not_install(monkeypatch, capsys):
    monkeypatch.setattr(shutil, "which", lambda name: "/usr/bin/apt-get")
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(SystemExit) as stopped:
        bootstrap.provide(["libpango-1.0-0"], "Pango")
    assert stopped.value.code == 1
    assert "sudo apt-get install -y --no-install-recommends libpango-1.0-0" in capsys.readouterr().err


def test_it_says_what_is_needed_on_other_systems(monkeypatch, capsys):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    with pytest.raises(SystemExit):
        bootstrap.provide(["libpango-1.0-0"], "Pango")
    said = capsys.readouterr().err
    assert "Missing on this machine: Pango." in said and "apt-get" not in said


def test_it_stops_on_an_old_python(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 10, 4, "final", 0))
    with pytest.raises(SystemExit):
        bootstrap.ready_environment("demo")
    assert "needs Python 3.11 or newer" in capsys.readouterr().err


def test_it_does_nothing_where_it_was_told_so(monkeypatch, tmp_path: Path):
    monkeypatch.setenv("WHARFWRIGHT_NO_BOOTSTRAP", "1")
    monkeypatch.setattr(bootstrap, "VENV", tmp_path / ".venv")
    bootstrap.ready_environment("demo")
    assert not (tmp_path / ".venv").exists()


def test_it_needs_nothing_but_the_standard_library():
    tree = ast.parse(Path(bootstrap.__file__).read_text())
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert {name.split(".")[0] for name in imported} <= sys.stdlib_module_names


def test_it_speaks_beside_what_the_command_prints(tmp_path: Path):
    script = "from contractor.bootstrap import run, say; say('Preparing.'); run(['echo', 'installed'])"
    spoken = subprocess.run(
        [sys.executable, "-c", script], cwd=bootstrap.HOUSE, capture_output=True, text=True, check=True
    )
    assert spoken.stdout == ""
    assert spoken.stderr == "Preparing.\ninstalled\n"
