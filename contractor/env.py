"""The five ways a setting is read from the environment. Nonsense stops the start with a sentence."""

import os
from collections.abc import Mapping
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

YES = {"1", "true", "yes", "on"}
NO = {"0", "false", "no", "off"}


class BadSetting(ImproperlyConfigured):
    """A variable in the environment that cannot be used; the message says which and what would do."""


def text(name: str, default: str = "", *, among: tuple[str, ...] = (), source: Mapping[str, str] = os.environ) -> str:
    """The words of a variable, trimmed; the default where it is absent or blank.

    Raises BadSetting if `among` is given and the value is not one of it.
    """
    value = source.get(name, "").strip() or default
    if among and value not in among:
        raise BadSetting(f"{name} must be one of {', '.join(among)}; it says {value!r}.")
    return value


def flag(name: str, default: bool = False, *, source: Mapping[str, str] = os.environ) -> bool:
    """Yes or no. Raises BadSetting for anything that is neither."""
    value = source.get(name, "").strip().lower()
    if not value:
        return default
    if value in YES | NO:
        return value in YES
    raise BadSetting(f"{name} must be yes or no; it says {value!r}.")


def whole(
    name: str,
    default: int,
    *,
    least: int = 0,
    most: int = 2**31 - 1,
    source: Mapping[str, str] = os.environ,
) -> int:
    """A whole number between `least` and `most`. Raises BadSetting for anything else."""
    value = source.get(name, "").strip()
    if not value:
        return default
    if value.isascii() and value.isdecimal() and least <= int(value) <= most:
        return int(value)
    raise BadSetting(f"{name} must be a whole number from {least} to {most}; it says {value!r}.")


def words(name: str, default: tuple[str, ...] = (), *, source: Mapping[str, str] = os.environ) -> list[str]:
    """A list written with commas. Raises BadSetting if an entry is empty or has a space in it."""
    value = source.get(name, "").strip()
    if not value:
        return list(default)
    entries = [entry.strip() for entry in value.split(",")]
    if any(not entry or len(entry.split()) > 1 for entry in entries):
        raise BadSetting(f"{name} must be a list with commas between, such as one,two; it says {value!r}.")
    return entries


def secret(name: str, *, least_length: int = 1, source: Mapping[str, str] = os.environ) -> str:
    """A secret from NAME, or from the file that NAME_FILE points to; empty if neither is given.

    Raises BadSetting if both are given, the file cannot be read, or the secret is too short or made of a few letters
    repeated. The message never shows the secret.
    """
    given, path = source.get(name, "").strip(), source.get(f"{name}_FILE", "").strip()
    if given and path:
        raise BadSetting(f"Give {name} or {name}_FILE, not both.")
    if path:
        given = _read_secret(f"{name}_FILE", Path(path))
    if given and len(given) < least_length:
        raise BadSetting(f"{name} must be at least {least_length} characters long; it has {len(given)}.")
    if given and least_length > 20 and len(set(given)) < 10:
        raise BadSetting(f"{name} must be random; it repeats the same few characters.")
    return given


def _read_secret(name: str, path: Path) -> str:
    try:
        given = path.read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as reason:
        raise BadSetting(f"{name} points to {path}, which cannot be read ({type(reason).__name__}).") from reason
    if not given:
        raise BadSetting(f"{name} points to {path}, which is empty.")
    return given
