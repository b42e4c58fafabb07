"""The colours of a picture: the few that a person would name when looking at it, with the share of each."""

from collections.abc import Iterable, Sequence

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
    while len(shades) > 1:
        step, i, j = min(
            (shades[i][0].delta_e(shades[j][0], method="2000"), i, j)
            for i in range(len(shades))
            for j in range(i + 1, len(shades))
        )
        if len(shades) <= count and step >= ALIKE:
            break
        shades[i] = _joined(shades[i], shades[j])
        del shades[j]
    ordered = sorted(shades, key=lambda item: -item[1])
    return tuple(Swatch(colour=_hex(colour), share=round(share, 4)) for colour, share in ordered)


def shared_colours(palettes: Iterable[Sequence[Swatch]], *, count: int = 6) -> tuple[str, ...]:
    """Return the colours several pictures have in common: all their swatches joined where alike, by share over all
    pictures.
    """
    joined: list[tuple[Color, float]] = []
    for swatches in palettes:
        for swatch in swatches:
            item = (Color(swatch.colour).convert("lab-d65"), swatch.share)
            near = [i for i, (c, _) in enumerate(joined) if c.delta_e(item[0], method="2000") < ALIKE]
            if near:
                joined[near[0]] = _joined(joined[near[0]], item)
            else:
                joined.append(item)
    return tuple(_hex(colour) for colour, _ in sorted(joined, key=lambda item: -item[1])[:count])


def _joined(a: tuple[Color, float], b: tuple[Color, float]) -> tuple[Color, float]:
    share = a[1] + b[1]
    mixed = [(x * a[1] + y * b[1]) / share for x, y in zip(a[0].coords(), b[0].coords(), strict=True)]
    return Color("lab-d65", mixed), share


def _hex(colour: Color) -> str:
    return colour.convert("srgb").clip().to_string(hex=True)[:7]
