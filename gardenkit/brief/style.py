"""Inspiration and style: pictures with their colours, and the style said as settings that later steps can measure."""

from typing import Any, Literal, get_args

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.tuples import lists_as_tuples

PictureTag = Literal["planting", "structure", "material", "mood"]
TAGS: tuple[PictureTag, ...] = get_args(PictureTag)


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Picture:
    """A reference picture on the wall: file name inside the garden's pictures folder, what it shows, what is liked,
    and what it is pinned up for. Photos of the site itself are no such pictures: they lie in a folder of their own.
    """

    file: str
    caption: str = ""
    liked: str = ""
    tag: PictureTag = "mood"


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class StylePart:
    """One of the styles that a style is mixed of: its name, its ``share`` from 0 to 1, its signature plants in it."""

    name: str
    share: float
    signature: tuple[str, ...] = ()


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Style:
    """A style as settings that the later steps measure. Shares and leanings run from 0 to 1.

    ``curving`` 0 straight, 1 strong meander; ``formal`` 0 loose, 1 clipped; ``symmetry`` 0 free, 1 both sides alike;
    ``fullness`` share of bed ground covered by leaves in summer; ``strict`` 0 any colour, 1 only the style's own;
    ``texture`` 0 fine leaves, 1 coarse; ``variety`` 0 few kinds, 1 many; ``repetition`` 0 each once, 1 the same again
    and again; ``boldness`` 0 finely woven, 1 large masses. ``colours`` the wanted flower and leaf colours as #rrggbb,
    ``materials`` what paths and places are made of, at most ``materials_most`` of them (0: any number), ``forms`` the
    growth forms that are favoured, ``signature`` kinds that make the style known (botanical names).
    ``mixed`` are the trade styles that it was begun from and still is made up of; empty when it is of its own.
    """

    name: str = ""
    words: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()
    curving: float = 0.5
    formal: float = 0.3
    fullness: float = 0.7
    evergreen_share: float = 0.33
    natives_share: float = 0.25
    symmetry: float = 0.3
    strict: float = 0.5
    texture: float = 0.5
    variety: float = 0.5
    repetition: float = 0.5
    boldness: float = 0.5
    materials: tuple[str, ...] = ()
    materials_most: int = 0
    forms: tuple[str, ...] = ()
    signature: tuple[str, ...] = ()
    mixed: tuple[StylePart, ...] = ()


LEANINGS = (
    "curving",
    "formal",
    "symmetry",
    "fullness",
    "evergreen_share",
    "natives_share",
    "strict",
    "texture",
    "variety",
    "repetition",
    "boldness",
)


def adjusted(style: Style, setting: str, value: float) -> Style:
    """Return the style with one leaning changed. Raises GardenError for an unknown setting or one outside 0 to 1."""
    if setting not in LEANINGS:
        raise GardenError(f'a style has no setting "{setting}"{nearest(setting, LEANINGS)}')
    if not 0.0 <= value <= 1.0:
        raise GardenError(f"{setting} is {value:g}; give a value from 0 to 1")
    changed: dict[str, Any] = {setting: float(value)}
    return attrs.evolve(style, **changed)
