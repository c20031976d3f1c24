import sys
from pathlib import Path

from contractor import checks


def test_it_is_content_with_a_folder_that_takes_files(settings, tmp_path: Path):
    settings.DATA_DIR = tmp_path
    assert checks.check_data_folder() == []


def test_it_names_a_data_folder_that_takes_none(settings, tmp_path: Path):
    settings.DATA_DIR = tmp_path / "absent"
    (problem,) = checks.check_data_folder()
    assert problem.id == "contractor.E001"
    assert str(tmp_path / "absent") in problem.msg
    assert "WHARFWRIGHT_DATA" in problem.hint


def test_it_is_content_where_papers_can_be_printed():
    assert checks.check_paper() == []


def test_it_says_what_to_install_where_pango_is_missing(monkeypatch):
    class NoPango:
        def find_spec(self, name: str, path: object = None, target: object = None) -> None:
            if name == "weasyprint":
                raise OSError("cannot load library 'libpango-1.0-0'")

    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)
    monkeypatch.setattr(sys, "meta_path", [NoPango(), *sys.meta_path])
    (problem,) = checks.check_paper()
    assert "libpango-1.0-0" in problem.msg
    assert "apt-get install" in problem.hint
