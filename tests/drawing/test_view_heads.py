"""Flowers in the picture stand in the shape that a flora gives their genus or family."""

import numpy as np
import pytest

from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_heads import FINEST_MM, HEADS, heads
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.flower_heads import FAMILY, GENUS, flower_head

CATALOGUE = load_catalogue()
CAMERA = Camera(eye=(0.0, 0.0, 1.6), towards=0.0, angle=60.0, width=200.0)


@pytest.mark.parametrize(
    ("name", "head"),
    [  # inflorescences as a flora describes them, from memory
        ("Salvia nemorosa", "spire"),  # verticillasters in a spike
        ("Echinacea purpurea", "daisy"),  # a ray-flowered head
        ("Paeonia lactiflora 'Sarah Bernhardt'", "rose"),
        ("Hydrangea paniculata", "panicle"),
        ("Hydrangea macrophylla", "mophead"),
        ("Geranium sanguineum", "cup"),
    ],
)
def test_a_kind_flowers_in_the_shape_of_its_family(name: str, head: str) -> None:
    assert flower_head(CATALOGUE[name]) == head


def test_every_genus_and_family_of_the_tables_is_in_the_catalogue_or_spelled_as_a_family() -> None:
    families = {kind.family for kind in CATALOGUE}
    assert len(families & set(FAMILY)) >= 12
    assert all(genus[0].isupper() and genus.isalpha() for genus in GENUS)
    assert all(family.endswith("aceae") for family in FAMILY)


@pytest.mark.parametrize("head", sorted(HEADS))
def test_every_shape_is_drawn_and_differs_from_plain_dots(head: str) -> None:
    spots = np.array([(0.0, 0.0), (8.0, 1.0), (16.0, 0.0)])
    near = heads(CAMERA, spots, head, "#8060c0", size=2.0, lighter=lambda c: c)  # type: ignore[arg-type]
    far = heads(CAMERA, spots, head, "#8060c0", size=0.9 * FINEST_MM, lighter=lambda c: c)  # type: ignore[arg-type]
    assert len(far) == 1
    assert near != far
    assert near


def test_a_spire_is_taller_than_wide_and_an_umbel_wider_than_tall() -> None:
    def extent(head: str) -> tuple[float, float]:
        points = np.vstack([offsets for offsets, _, _ in HEADS[head]])
        wide, tall = np.ptp(points, axis=0)
        return float(wide), float(tall)

    wide, tall = extent("spire")
    assert tall > 3 * wide
    wide, tall = extent("umbel")
    assert wide > 2 * tall
