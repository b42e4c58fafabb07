"""Colours by name: what a designer types, a code or a word, and what a colour is called.

The names are the named colours of CSS Color Module Level 4 (W3C), an open list of 148 words.
"""

from functools import lru_cache

from coloraide import Color
from coloraide.css.color_names import name2val_map

from gardenkit.findings import GardenError, nearest

_FIRST = ("dark", "light", "medium", "pale", "deep", "dim", "hot")
_LAST = (
    *("white", "blue", "green", "grey", "red", "pink", "brown", "yellow", "orange", "purple", "violet", "orchid"),
    *("salmon", "coral", "cyan", "turquoise", "khaki", "magenta", "cream", "chiffon", "lace", "whip", "puff", "rose"),
    *("almond", "blush", "smoke", "goldenrod", "drab"),
)
_NAMES = {name: Color(name).convert("lab-d65") for name in name2val_map if "gray" not in name and name != "transparent"}


def read_colour(text: str) -> str:
    """Return a typed colour as #rrggbb: a code like ``#3a7f2c`` or ``#abc``, or a name such as "light coral".

    Raises GardenError naming the nearest known name.

    >>> read_colour("Light coral")
    '#f08080'
    """
    typed = text.strip().casefold()
    word = "".join(typed.split()).replace("gray", "grey")
    bare = typed if typed.startswith("#") else word
    if bare.startswith("#") or word in _NAMES:
        try:
            return Color(bare).convert("srgb").clip().to_string(hex=True, alpha=False)
        except ValueError:
            pass
    raise GardenError(
        f'"{text.strip()}" is no colour that is known{nearest(word, _NAMES)}; type a code like #3a7f2c or a name like '
        "lavender"
    )


@lru_cache(maxsize=1024)
def name_of(colour: str) -> str:
    """Return the name of the listed colour that is nearest to the eye (CIEDE2000).

    >>> name_of("#e6e6fb")
    'lavender'
    """
    here = Color(colour).convert("lab-d65")
    return _spaced(min(_NAMES, key=lambda name: here.delta_e(_NAMES[name], method="2000")))


def _spaced(name: str) -> str:
    """Return a name of the list, where words stand joined, as one says it: "light coral"."""
    for first in _FIRST:
        if name.startswith(first) and name != first:
            return f"{first} {_spaced(name.removeprefix(first))}"
    last = next((word for word in _LAST if name.endswith(word) and name != word), "")
    return f"{_spaced(name.removesuffix(last))} {last}" if last else name
