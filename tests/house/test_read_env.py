from pathlib import Path

import pytest

from contractor import env


def test_it_reads_text_trimmed_and_falls_back_when_blank():
    assert env.text("A", "kept", source={"A": "  two words "}) == "two words"
    assert env.text("A", "kept", source={"A": "  "}) == "kept"
    assert env.text("A", source={}) == ""


def test_it_refuses_text_that_is_not_among_the_choices():
    with pytest.raises(env.BadSetting, match="A must be one of letter, a4; it says 'foolscap'"):
        env.text("A", among=("letter", "a4"), source={"A": "foolscap"})


@pytest.mark.parametrize("value, expected", [("1", True), ("Yes", True), ("on", True), ("0", False), ("FALSE", False)])
def test_it_reads_a_flag(value: str, expected: bool):
    assert env.flag("A", not expected, source={"A": value}) is expected


def test_it_refuses_a_flag_that_is_neither_yes_nor_no():
    with pytest.raises(env.BadSetting, match="A must be yes or no; it says 'perhaps'"):
        env.flag("A", source={"A": "perhaps"})


def test_it_reads_a_whole_number():
    assert env.whole("A", 7, source={"A": " 8000 "}) == 8000
    assert env.whole("A", 7, source={}) == 7


@pytest.mark.parametrize("value", ["eighty", "8.5", "-1", "70000", "²", "1e3"])
def test_it_refuses_a_number_that_is_not_whole_or_out_of_range(value: str):
    with pytest.raises(env.BadSetting, match="A must be a whole number from 1 to 65535"):
        env.whole("A", 7, least=1, most=65535, source={"A": value})


def test_it_reads_a_list():
    assert env.words("A", source={"A": "dock.example, 10.0.0.4"}) == ["dock.example", "10.0.0.4"]
    assert env.words("A", ("localhost",), source={}) == ["localhost"]


@pytest.mark.parametrize("value", ["one,,two", "one two", ","])
def test_it_refuses_a_list_with_holes_or_spaces(value: str):
    with pytest.raises(env.BadSetting, match="A must be a list with commas between"):
        env.words("A", source={"A": value})


def test_it_reads_a_secret_from_a_file(tmp_path: Path):
    (tmp_path / "key").write_text("tide-and-timber\n")
    assert env.secret("A", source={"A_FILE": str(tmp_path / "key")}) == "tide-and-timber"
    assert env.secret("A", source={}) == ""


def test_it_refuses_a_secret_given_twice_missing_or_empty(tmp_path: Path):
    (tmp_path / "empty").write_text(" \n")
    with pytest.raises(env.BadSetting, match="not both"):
        env.secret("A", source={"A": "x", "A_FILE": "y"})
    with pytest.raises(env.BadSetting, match="cannot be read"):
        env.secret("A", source={"A_FILE": str(tmp_path / "absent")})
    with pytest.raises(env.BadSetting, match="is empty"):
        env.secret("A", source={"A_FILE": str(tmp_path / "empty")})


@pytest.mark.parametrize("weak", ["changeme", "a" * 60])
def test_it_refuses_a_weak_secret_without_showing_it(weak: str):
    with pytest.raises(env.BadSetting) as refused:
        env.secret("A", least_length=50, source={"A": weak})
    assert weak not in str(refused.value)
