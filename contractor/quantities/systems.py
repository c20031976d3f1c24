"""The two ways a firm measures, and what a refusal to understand is called."""

from typing import Literal

System = Literal["imperial", "metric"]


class NotUnderstood(ValueError):
    """Typed text that is no quantity; the message says what to type."""


def other_system(system: System) -> System:
    """The system the echo shows second."""
    return "metric" if system == "imperial" else "imperial"
