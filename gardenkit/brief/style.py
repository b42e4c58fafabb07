"""Inspiration and style: pictures with their colours, and the style said as settings that later steps can measure."""

from collections.abc import Mapping
from typing import Any

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.tuples import lists_as_tuples


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Picture:
    """A picture on the wall: file name inside the garden's pictures folder, what it shows, what is liked."""

    file: str
    caption: str = ""
    liked: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Style:
    """A style as settings that the later steps measure. Shares and leanings run from 0 to 1.

    ``curving`` 0 straight, 1 strong meander; ``formal`` 0 loose, 1 clipped; ``symmetry`` 0 free, 1 both sides alike;
    ``fullness`` share of bed ground covered by leaves in summer; ``strict`` 0 any colour, 1 only the style's own;
    ``texture`` 0 fine leaves, 1 coarse; ``variety`` 0 few kinds, 1 many; ``repetition`` 0 each once, 1 the same again
    and again; ``boldness`` 0 finely woven, 1 large masses. ``colours`` the wanted flower and leaf colours as #rrggbb,
    ``materials`` what paths and places are made of, ``signature`` kinds that make the style known (botanical names).
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
    signature: tuple[str, ...] = ()


# Starting points, described in the trade's words. Every setting is a house value: a place to begin, not a rule.
STYLES: Mapping[str, Style] = {
    "cottage": Style(
        name="cottage",
        words=("full", "self-sown", "soft edges"),
        curving=0.4,
        formal=0.15,
        fullness=0.9,
        evergreen_share=0.2,
        natives_share=0.15,
        variety=0.75,
        boldness=0.3,
        texture=0.4,
        signature=("Digitalis purpurea", "Paeonia lactiflora 'Sarah Bernhardt'", "Lavandula angustifolia 'Munstead'"),
        materials=("brick", "gravel", "stepping stones"),
    ),
    "woodland": Style(
        name="woodland",
        words=("layered", "ferns", "dappled shade"),
        curving=0.6,
        formal=0.05,
        fullness=0.85,
        evergreen_share=0.3,
        natives_share=0.6,
        texture=0.65,
        repetition=0.6,
        boldness=0.6,
        signature=("Dryopteris marginalis", "Tiarella cordifolia", "Polystichum acrostichoides"),
        materials=("bark", "stepping stones", "moss"),
    ),
    "formal": Style(
        name="formal",
        words=("clipped", "symmetrical", "axis"),
        curving=0.0,
        formal=0.95,
        fullness=0.7,
        evergreen_share=0.6,
        natives_share=0.1,
        symmetry=0.95,
        variety=0.2,
        repetition=0.9,
        strict=0.8,
        texture=0.3,
        signature=("Taxus baccata 'Fastigiata'", "Buxus sempervirens 'Suffruticosa'"),
        materials=("paving", "gravel", "clipped hedge"),
    ),
    "meadow": Style(
        name="meadow",
        words=("grasses", "drifts", "seed heads"),
        curving=0.5,
        formal=0.05,
        fullness=0.95,
        evergreen_share=0.1,
        natives_share=0.6,
        variety=0.6,
        repetition=0.8,
        texture=0.2,
        signature=("Schizachyrium scoparium", "Echinacea purpurea", "Panicum virgatum"),
        materials=("mown grass", "gravel"),
    ),
    "dry stone": Style(
        name="dry stone",
        words=("gravel", "silver leaves", "boulders"),
        curving=0.35,
        formal=0.2,
        fullness=0.5,
        evergreen_share=0.4,
        natives_share=0.2,
        texture=0.35,
        variety=0.4,
        boldness=0.55,
        signature=("Nepeta × faassenii", "Stachys byzantina", "Sedum ternatum"),
        materials=("gravel", "boulders", "flagstones"),
    ),
    "quiet green": Style(
        name="quiet green",
        words=("restful", "leaf texture", "moss"),
        curving=0.55,
        formal=0.35,
        fullness=0.75,
        evergreen_share=0.5,
        natives_share=0.25,
        strict=0.7,
        variety=0.25,
        repetition=0.7,
        boldness=0.7,
        texture=0.6,
        signature=("Hakonechloa macra 'Aureola'", "Acer palmatum"),
        materials=("stepping stones", "moss", "bamboo fence"),
    ),
    "romantic": Style(
        name="romantic",
        words=("roses", "arching stems", "pale flowers"),
        curving=0.6,
        formal=0.1,
        fullness=0.9,
        evergreen_share=0.25,
        natives_share=0.1,
        strict=0.7,
        texture=0.35,
        boldness=0.4,
        signature=("Rosa 'New Dawn'", "Paeonia lactiflora 'Sarah Bernhardt'", "Clematis montana"),
        materials=("brick", "gravel"),
    ),
    "wildlife": Style(
        name="wildlife",
        words=("native", "berries", "left standing"),
        curving=0.55,
        formal=0.05,
        fullness=0.9,
        evergreen_share=0.25,
        natives_share=0.75,
        variety=0.8,
        repetition=0.6,
        signature=("Asclepias tuberosa", "Aronia melanocarpa", "Solidago rugosa 'Fireworks'"),
        materials=("bark", "mown grass", "stepping stones"),
    ),
    "seaside": Style(
        name="seaside",
        words=("wind-clipped", "shingle", "silver and blue"),
        curving=0.45,
        formal=0.2,
        fullness=0.45,
        evergreen_share=0.35,
        natives_share=0.2,
        texture=0.3,
        variety=0.35,
        repetition=0.7,
        signature=("Rosa rugosa", "Armeria maritima", "Eryngium planum"),
        materials=("gravel", "boulders", "timber"),
    ),
}
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


def style(name: str) -> Style:
    """Return a starting style by name; raises GardenError naming the nearest known one."""
    if name not in STYLES:
        raise GardenError(
            f'there is no starting style "{name}"{nearest(name, STYLES)}; choose one of: {", ".join(STYLES)}'
        )
    return STYLES[name]


def adjusted(style: Style, setting: str, value: float) -> Style:
    """Return the style with one leaning changed. Raises GardenError for an unknown setting or one outside 0 to 1."""
    if setting not in LEANINGS:
        raise GardenError(f'a style has no setting "{setting}"{nearest(setting, LEANINGS)}')
    if not 0.0 <= value <= 1.0:
        raise GardenError(f"{setting} is {value:g}; give a value from 0 to 1")
    changed: dict[str, Any] = {setting: float(value)}
    return attrs.evolve(style, **changed)
