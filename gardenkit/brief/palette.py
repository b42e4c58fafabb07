"""The colours of a picture: the few that a person would name when looking at it, with the share of each."""

from collections.abc import Iterable, Sequence
from itertools import combinations

import attrs
from coloraide import Color
from PIL import Image

LOOKED_AT = 160  # px: the longer side a picture is made smaller to before counting. House value.
SHADES = 48  # colours the picture is first reduced to. House value.
ALIKE = 11.0  # CIEDE2000: shades nearer than this count as one colour (a just noticeable step is about 1). House value.


@attrs.frozen(kw_only=True)
class Swatch:
    """One colour of a picture: #rrggbb, and the share of the picture it covers, 0 to 1."""

    colour: str
    share: float


def palette(picture: Image.Image, *, count: int = 6) -> tuple[Swatch, ...]:
    """Return up to ``count`` colours of a picture, the largest share first.

    The picture is reduced to 48 shades by median cut, then shades nearer than CIEDE2000 11 are joined, nearest first,
    until
    ``count`` are left. A small bright colour is kept by joining the drab neighbours first: distance counts, not share
    alone.
    """
    small = picture.copy()
    small.thumbnail((LOOKED_AT, LOOKED_AT))
    indexed = small.quantize(colors=SHADES, method=Image.Quantize.MEDIANCUT)
    table = indexed.getpalette() or []
    counts = indexed.getcolors(maxcolors=256) or []
    total = sum(n for n, _ in counts)
    shades: list[tuple[Color, float]] = []
    for n, index in counts:
        i = int(index) if not isinstance(index, tuple) else int(index[0])
        rgb = [v / 255 for v in table[3 * i : 3 * i + 3]]
        shades.append((Color("srgb", rgb).convert("lab-d65"), n / total))
    left = dict(enumerate(shades))
    apart = {(i, j): _apart(left[i], left[j]) for i, j in combinations(left, 2)}
    while apart:
        step, (i, j) = min((step, pair) for pair, step in apart.items())
        if len(left) <= count and step >= ALIKE:
            break
        left[i] = _joined(left[i], left.pop(j))
        # Of all the distances only those of the two that are now one have changed.
        apart = {pair: step for pair, step in apart.items() if j not in pair}
        apart |= {pair: _apart(left[pair[0]], left[pair[1]]) for pair in apart if i in pair}
    ordered = sorted(left.values(), key=lambda item: -item[1])
    return tuple(Swatch(colour=_hex(colour), share=round(share, 4)) for colour, share in ordered)


def shared_colours(palettes: Iterable[Sequence[Swatch]], *, count: int = 6) -> tuple[Swatch, ...]:
    """Return the colours several pictures have in common: all their swatches joined where alike, the largest share of
    all pictures together first.
    """
    palettes = list(palettes)
    joined: list[tuple[Color, float]] = []
    for swatches in palettes:
        for swatch in swatches:
            item = (Color(swatch.colour).convert("lab-d65"), swatch.share)
            near = [i for i, (c, _) in enumerate(joined) if c.delta_e(item[0], method="2000") < ALIKE]
            if near:
                joined[near[0]] = _joined(joined[near[0]], item)
            else:
                joined.append(item)
    found = sorted(joined, key=lambda item: -item[1])[:count]
    return tuple(Swatch(colour=_hex(colour), share=round(share / len(palettes), 4)) for colour, share in found)


def _apart(a: tuple[Color, float], b: tuple[Color, float]) -> float:
    return a[0].delta_e(b[0], method="2000")


def _joined(a: tuple[Color, float], b: tuple[Color, float]) -> tuple[Color, float]:
    share = a[1] + b[1]
    mixed = [(x * a[1] + y * b[1]) / share for x, y in zip(a[0].coords(), b[0].coords(), strict=True)]
    return Color("lab-d65", mixed), share


def _hex(colour: Color) -> str:
    return colour.convert("srgb").clip().to_string(hex=True)[:7]
