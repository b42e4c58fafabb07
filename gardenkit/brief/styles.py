"""Well-known trade styles as places to begin: their settings, materials and signature plants."""

from collections.abc import Mapping, Sequence
from itertools import zip_longest

import attrs

from gardenkit.brief.style import LEANINGS, Style, StylePart
from gardenkit.findings import GardenError, nearest

SIGNATURE_PLANTS = 6  # of a mixed style, shared out among its parts. House value.

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
        signature=(
            "Paeonia lactiflora 'Sarah Bernhardt'",
            "Lavandula angustifolia 'Munstead'",
            "Alchemilla mollis",
            "Digitalis purpurea",
            "Rosa 'Ballerina'",
            "Geranium × magnificum",
        ),
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
        signature=(
            "Dryopteris marginalis",
            "Tiarella cordifolia",
            "Polystichum acrostichoides",
            "Amelanchier laevis",
            "Aquilegia canadensis",
            "Actaea racemosa",
        ),
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
        signature=(
            "Taxus baccata 'Fastigiata'",
            "Buxus sempervirens 'Suffruticosa'",
            "Lavandula angustifolia 'Hidcote'",
            "Rosa 'Iceberg'",
            "Teucrium × lucidrys",
            "Allium hollandicum 'Purple Sensation'",
        ),
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
        signature=(
            "Schizachyrium scoparium",
            "Echinacea purpurea",
            "Panicum virgatum",
            "Rudbeckia hirta",
            "Geum triflorum",
            "Carex pensylvanica",
        ),
        materials=("mown grass", "gravel"),
    ),
    "dry stone": Style(
        name="dry stone",
        words=("gravel", "silver leaves", "boulders"),
        curving=0.35,
        formal=0.2,
        fullness=0.67,  # two thirds plants to one third gravel: Matt James, mattjamesgardens.com, The Crunch Factor
        evergreen_share=0.4,
        natives_share=0.2,
        texture=0.35,
        variety=0.4,
        boldness=0.55,
        signature=(
            "Nepeta × faassenii",
            "Stachys byzantina",
            "Sedum ternatum",
            "Euphorbia characias subsp. wulfenii",
            "Eryngium planum",
            "Nassella tenuissima",
        ),
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
        signature=(
            "Hakonechloa macra 'Aureola'",
            "Acer palmatum",
            "Hosta sieboldiana 'Elegans'",
            "Pachysandra procumbens",
            "Athyrium niponicum 'Pictum'",
            "Ophiopogon japonicus",
        ),
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
        signature=(
            "Rosa 'New Dawn'",
            "Paeonia lactiflora 'Sarah Bernhardt'",
            "Clematis montana",
            "Campanula persicifolia",
            "Dianthus plumarius",
            "Tanacetum parthenium",
        ),
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
        signature=(
            "Asclepias tuberosa",
            "Aronia melanocarpa",
            "Solidago rugosa 'Fireworks'",
            "Eutrochium maculatum 'Gateway'",
            "Packera aurea",
            "Lobelia cardinalis",
        ),
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
        signature=(
            "Rosa rugosa",
            "Armeria maritima",
            "Eryngium planum",
            "Festuca glauca",
            "Centranthus ruber",
            "Artemisia 'Powis Castle'",
        ),
        materials=("gravel", "boulders", "timber"),
    ),
}


def style(name: str) -> Style:
    """Return a starting style by name; raises GardenError naming the nearest known one."""
    if name not in STYLES:
        raise GardenError(
            f'there is no starting style "{name}"{nearest(name, STYLES)}; choose one of: {", ".join(STYLES)}'
        )
    return STYLES[name]


def mixed(shares: Mapping[str, float]) -> Style:
    """Return a style mixed of trade styles by their shares (any positive numbers): each setting is their weighted mean,
    and each gives its words, materials and signature plants by its share, the largest share first.

    Raises GardenError for a style that is not known and for shares that are not above 0.

    >>> mixed({"cottage": 60, "dry stone": 40}).name
    'cottage 60 %, dry stone 40 %'
    """
    if not shares or min(shares.values()) <= 0:
        raise GardenError("a mixed style needs one style or more, each with a share above 0; leave the others out")
    total = sum(shares.values())
    parts = sorted(((style(name), share / total) for name, share in shares.items()), key=lambda part: -part[1])
    if len(parts) == 1:
        return parts[0][0]
    settings = {key: round(sum(getattr(one, key) * share for one, share in parts), 3) for key in LEANINGS}
    made = [
        StylePart(name=one.name, share=round(share, 3), signature=one.signature[: _plants_of(share)])
        for one, share in parts
    ]
    return attrs.evolve(
        Style(**settings),
        name=", ".join(f"{one.name} {share:.0%}".replace("%", " %") for one, share in parts),
        words=_in_turn([one.words for one, _ in parts]),
        materials=_in_turn([one.materials for one, _ in parts]),
        signature=tuple(dict.fromkeys(plant for part in made for plant in part.signature)),
        mixed=tuple(made),
    )


def _plants_of(share: float) -> int:
    return max(1, round(SIGNATURE_PLANTS * share))


def _in_turn(lists: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """Return the words of several lists, one of each in turn, each once."""
    return tuple(dict.fromkeys(word for row in zip_longest(*lists) for word in row if word is not None))
