"""The winter picture: how much of the woody frame keeps its leaves, what still stands, what is up in early spring."""

from collections.abc import Iterable

from gardenkit.planting.growth import size
from gardenkit.planting.season import appearance
from gardenkit.planting.species import Species
from gardenkit.planting.standing import LOW_TREE
from gardenkit.sources import Figure

# Ann Lovejoy, Organic Garden Design School, read at organicgardening.com: a third of the plants evergreen, a third
# woody and deciduous, a third for the season. A grower (nurseryman.co.nz, "Deciduous or evergreen?") says two thirds
# for a formal planting and one third for an informal one; between the two by how formal the style is.
INFORMAL = Figure(1 / 3, "of the shrubs and conifers", "Lovejoy, Organic Garden Design School; nurseryman.co.nz")
FORMAL = Figure(2 / 3, "of the shrubs and conifers", "nurseryman.co.nz, deciduous or evergreen")
SEEN = 0.6  # m: what is lower by the fifth year is ground in a winter view, and no frame. House value.
GROWN = 0.9  # m it comes to: a low sub-shrub is ground too. House value.
SEEN_IN = 5  # years. House value.
MIDWINTER = 1  # month of the northern year
EARLY = (1, 2, 3, 4)  # months of the northern year: in flower before perennials are. House value.
BAREST = 3  # month of the northern year: dry stems are cut, few perennials are up. House value.
FRAMING = ("shrub", "conifer")  # trees stand above the picture, with leaves or without
WOODY = (*FRAMING, "tree", "climber")


def frame_share(formal: float) -> float:
    """Return the share of the shrubs and conifers that keep their leaves, for a style ``formal`` 0 to 1."""
    return float(INFORMAL) + formal * (float(FORMAL) - float(INFORMAL))


def may_frame(species: Species) -> bool:
    """Whether a kind is a shrub, or a conifer of its size, high enough by the fifth year to be seen over the ground."""
    tree = species.layer == "conifer" and species.height >= LOW_TREE
    shrub = species.layer in FRAMING and species.height >= GROWN and not tree
    return shrub and size(species, SEEN_IN).height >= SEEN


def is_frame(species: Species) -> bool:
    """Whether a kind holds the garden together in winter: a shrub or conifer in leaf then."""
    return may_frame(species) and species.is_evergreen


def stands(species: Species) -> bool:
    """Whether there is anything of a kind to see in January: leaves, twigs or dry stems."""
    return species.layer in WOODY or appearance(species, MIDWINTER).foliage is not None


def up_early(species: Species) -> bool:
    """Whether there is anything of a kind to see in March, when dry stems are cut and few perennials are up."""
    return species.layer in WOODY or appearance(species, BAREST).foliage is not None


def holds_the_floor(species: Species) -> bool:
    """Whether there are leaves or twigs of a kind all winter through: in January and when dry stems are cut."""
    return stands(species) and up_early(species)


def flowers_early(species: Species) -> bool:
    """Whether a kind is in flower by April."""
    return not set(EARLY).isdisjoint(species.bloom_months)


def framed(kinds: Iterable[tuple[Species, float]]) -> float | None:
    """Return the evergreen share of the crowns of shrubs and conifers, None where none is high enough to be seen; pairs
    of a kind and the ground it takes.
    """
    woody = [(kind, ground) for kind, ground in kinds if may_frame(kind)]
    every = sum(ground for _, ground in woody)
    return sum(ground for kind, ground in woody if kind.is_evergreen) / every if every else None
