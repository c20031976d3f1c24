"""Why a gauge file was not understood: the line, the column, and what stands there."""


class FileNotUnderstood(ValueError):
    """Nothing of the file is taken. `line` counts from 1 and is None where the whole file is meant."""

    def __init__(self, why: str, *, line: int | None = None, column: str = "") -> None:
        self.why, self.line, self.column = why, line, column
        place = f"Line {line:,}" if line is not None else ""
        if column:
            place = f"{place}, column “{column}”" if place else f"Column “{column}”"
        super().__init__(f"{place}: {why}" if place else why)


class ChoiceNeeded(FileNotUnderstood):
    """The file leaves something open that a person must say: `what` is unit, zone, parameter or station."""

    def __init__(self, what: str, why: str, options: tuple[tuple[str, str], ...] = ()) -> None:
        super().__init__(why)
        self.what, self.options = what, options
