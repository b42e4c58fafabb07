"""Bulb depth and spacing as printed by Iowa State University Extension, 13 September 2002.

hortnews.extension.iastate.edu/2002/9-13-2002/bulbs.html, read at its text; inches.
"""

import pytest

from gardenkit.planting.catalogue import load_catalogue

INCH = 0.0254  # m, exact

DEPTH_AND_SPACING = [  # plant, depth as printed, spacing as printed (first and last inch)
    ("Allium moly", "3 to 5", (6, 8)),  # "small alliums"
    ("Camassia scilloides", "4", (4, 4)),
    ("Chionodoxa luciliae", "3 to 4", (3, 3)),
    ("Fritillaria meleagris", "3 to 4", (4, 4)),
    ("Hyacinthoides hispanica", "4", (4, 6)),
    ("Leucojum vernum", "3 to 4", (3, 4)),
    ("Narcissus 'Tête-à-tête'", "3 to 5", (4, 6)),  # "Narcissus small"
    ("Puschkinia scilloides", "3 to 4", (3, 3)),
]
DEPTH_ONLY = [
    ("Allium giganteum", "6"),
    ("Crocus vernus", "3 to 4"),
    ("Galanthus nivalis", "3 to 4"),
    ("Muscari armeniacum", "3 to 4"),
    ("Fritillaria imperialis", "6 to 8"),
    ("Narcissus 'Dutch Master'", "6 to 8"),  # "large Narcissus"
    ("Hyacinthus orientalis", "6"),
]


@pytest.mark.parametrize(("name", "depth", "spacing"), DEPTH_AND_SPACING)
def test_the_spacing_is_the_printed_one_to_the_inch(name: str, depth: str, spacing: tuple[int, int]) -> None:
    plant = load_catalogue()[name]
    assert spacing[0] <= round(plant.spacing_m / INCH) <= spacing[1]
    assert "Iowa State University Extension" in plant.size_source


@pytest.mark.parametrize(("name", "depth"), [*((name, depth) for name, depth, _ in DEPTH_AND_SPACING), *DEPTH_ONLY])
def test_the_depth_is_the_printed_one(name: str, depth: str) -> None:
    plant = load_catalogue()[name]
    assert any(f"set {depth} in (" in remark for remark in plant.cautions)
    assert "Iowa State University Extension" in plant.growing_source
