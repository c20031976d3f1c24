"""Text with case, accents and punctuation taken out, so that what is typed meets what was written."""

import re
import unicodedata

# Letters that no decomposition takes apart.
_PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h"})


def folded(*texts: str) -> str:
    """Small plain letters and digits, words parted by single spaces.

    >>> folded("Søren O’Brien-Łuć", "Lac à l'Étang")
    'soren obrien luc lac a letang'
    """
    together = re.sub(r"['’ʼ`´]", "", " ".join(texts).casefold())
    apart = unicodedata.normalize("NFKD", together)
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter)).translate(_PLAIN)
    return " ".join(re.findall(r"[^\W_]+", bare))
