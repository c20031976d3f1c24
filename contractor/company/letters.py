"""Revision letters: A, B, C and on, without the letters that read as figures; after Z come AA, AB."""

LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ"


def revision_letter(position: int) -> str:
    """The letter of the nth revision, the first being 1. Raises ValueError below 1.

    >>> [revision_letter(n) for n in (1, 8, 9, 10, 11, 12, 13, 23, 24, 25)]
    ['A', 'H', 'J', 'K', 'M', 'N', 'P', 'Z', 'AA', 'AB']
    """
    if position < 1:
        raise ValueError("Revisions are counted from 1.")
    letters = ""
    while position:
        position, index = divmod(position - 1, len(LETTERS))
        letters = LETTERS[index] + letters
    return letters
