"""What the catalogue refuses to do, each with words for the person who asked."""

from estimating.engine.reasons import Fault, Sentence, SpecFaults


class CatalogueRefusal(Exception):
    """Base of the refusals; `str()` is the sentence to show."""


class FactsRefused(CatalogueRefusal):
    """Facts are missing or at odds; `faults` says which, by field."""

    def __init__(self, faults: dict[str, str]) -> None:
        self.faults = faults
        super().__init__(" ".join(faults.values()))


class StillUsed(CatalogueRefusal):
    """The item can’t be retired while something names it; `uses` are the places."""

    def __init__(self, item_name: str, uses: list[str]) -> None:
        self.uses = uses
        super().__init__(f"{item_name} is still named by: {'; '.join(uses)}. Change that first.")


class CatalogueNotReady(SpecFaults):
    """No dock can be worked out yet; the faults say what to choose first, so pages show them like any other."""

    def __init__(self, missing: list[str]) -> None:
        self.missing = missing
        super().__init__([Fault("catalogue", Sentence("{0}", (sentence,))) for sentence in missing])

    def __str__(self) -> str:
        return f"The catalogue is not ready. {' '.join(self.missing)}"


class ImportRefused(CatalogueRefusal):
    """The file can’t be taken in as it is, or not any more."""
