"""Whether a bed has room for a plant that will be large: asked when plants are chosen and again when they are set."""

import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

TREE_TO_BED = Figure(4.0, "times the bed's depth", f"{HOUSE}: a tree taller than this, full grown, outgrows its bed")


def tallest_tree(bed_depth: float | FloatArray) -> FloatArray:
    """Return metres of full height that a bed ``bed_depth`` metres across at its widest carries; one or many beds."""
    return np.asarray(float(TREE_TO_BED) * np.asarray(bed_depth, dtype=float))


def carries(species: Species, bed_depth: float | FloatArray) -> np.ndarray:
    """Return whether beds of these depths carry a tree or conifer; every other kind is carried by any bed.

    >>> from gardenkit.planting.catalogue import load_catalogue
    >>> carries(load_catalogue()["Quercus rubra"], [1.0, 8.0]).tolist()
    [False, True]
    """
    tall = species.height if species.is_tree else 0.0
    return np.asarray(tall <= tallest_tree(bed_depth))
