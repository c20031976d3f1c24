import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from contractor.secret_key import kept_secret_key


def test_it_makes_a_long_key_that_only_the_owner_may_read(tmp_path: Path):
    assert len(kept_secret_key(tmp_path)) >= 50
    assert stat.S_IMODE((tmp_path / "secret.key").stat().st_mode) == 0o600


def test_it_keeps_the_key(tmp_path: Path):
    assert kept_secret_key(tmp_path) == kept_secret_key(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["secret.key"]


def test_it_makes_another_key_for_another_folder(tmp_path: Path):
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    assert kept_secret_key(tmp_path / "one") != kept_secret_key(tmp_path / "two")


def test_it_gives_one_key_to_all_who_start_at_once(tmp_path: Path):
    with ThreadPoolExecutor(8) as starters:
        assert len(set(starters.map(kept_secret_key, [tmp_path] * 40))) == 1
