"""The manner of a planting: clipped or loose, fine or coarse in leaf; how well a kind of plant goes with it."""

from collections.abc import Mapping

import attrs

from gardenkit.planting.species import Species

# How neat a kind stands by its form, 0 loose to 1 clipped. House values.
NEAT: Mapping[str, float] = {
    "columnar": 0.9,
    "conical": 0.9,
    "round": 0.75,
    "oval": 0.75,
    "mounding": 0.75,
    "mound": 0.5,
    "upright": 0.6,
    "spire": 0.4,
    "rosette": 0.35,
    "clump": 0.3,
    "trained": 0.9,
    "mat": 0.25,
}
LOOSE = 0.2  # arching, fountain, spreading, weeping and the like. House value.
SHEARED = 0.25  # what is sheared each year can be kept in shape. House value.
SOWN = 0.15  # what sows itself does not stay in line. House value.
FAVOURED = 0.3  # what a favoured form adds. House value.
TEXTURE: Mapping[str, float] = {"fine": 0.0, "medium": 0.5, "coarse": 1.0}  # House values.


@attrs.frozen(kw_only=True)
class Manner:
    """How a planting leans, 0 to 1 each: ``formal`` loose to clipped, ``texture`` fine leaves to coarse ones; and the
    growth ``forms`` that are favoured.
    """

    formal: float = 0.5
    texture: float = 0.5
    forms: tuple[str, ...] = ()


def neatness(species: Species) -> float:
    """Return how neat a kind can be kept, 0 loose to 1 clipped: by its form, whether it is sheared or sows itself."""
    neat = NEAT.get(species.form, LOOSE)
    neat += SHEARED * any(task.task == "shear" for task in species.care)
    neat -= SOWN * ("seed" in species.spreads_by)
    return min(1.0, max(0.0, neat))


def manner_fit(species: Species, manner: Manner) -> float:
    """Return how well a kind goes with a manner, 0 to 1; a half where it leans neither way, more in a favoured form."""
    neat = (manner.formal - 0.5) * (neatness(species) - 0.5)
    leaf = (manner.texture - 0.5) * (TEXTURE[species.texture] - 0.5)
    return 0.5 + neat + leaf + FAVOURED * (species.form in manner.forms)
