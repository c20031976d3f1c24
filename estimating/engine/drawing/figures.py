"""Figures lettered on a drawing: lengths, heights above water, levels. The reader's own units come from `speak`."""

from collections.abc import Callable

from estimating.engine.reasons import Amount

Speak = Callable[[Amount], str]


def length(speak: Speak, length_in: float) -> str:
    return speak(Amount(round(length_in, 3), "in"))


def height(speak: Speak, height_in: float) -> str:
    """A freeboard, with the short inch mark of a drawing.

    >>> from estimating.engine.reasons import plain
    >>> height(plain, 18.2)
    '18.2″'
    """
    said = speak(Amount(height_in, "in_small"))
    return f"{said[:-3]}″" if said.endswith(" in") else said


def level(speak: Speak, level_in: float) -> str:
    """A water level or depth: decimal feet or metres."""
    return speak(Amount(level_in, "ft_level"))
