"""What the catalogue refuses to do, each with words for the person who asked."""


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


class ImportRefused(CatalogueRefusal):
    """The file can’t be taken in as it is, or not any more."""
