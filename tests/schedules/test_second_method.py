"""Each kind of quantity reckoned a second time: ground counted on a grid of points, the rest by plain arithmetic."""

from collections.abc import Callable

import attrs
import numpy as np
import pytest
from numpy.typing import NDArray

from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.schedules import quantities as q
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Site
from gardenkit.structure.structure import Bed, Patch, Path, Structure

STEP = 0.02  # m between the points counted: an area is right within about half a point for each step of its edge


def square(x: float, y: float, wide: float, deep: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))


GATE = Opening(name="gate", kind="gate", start=(2.5, 0), end=(3.5, 0))
DOOR = Opening(name="door", kind="door", start=(2.5, 8), end=(3.5, 8), on="house")
LAID = {"gravel": "gravel", "slabs": "paving", "stones": "stepping stones", "turf": "grass"}


def garden(surface: str, creeping: str = "") -> Project:
    site = Site(
        boundary=square(0, 0, 12, 10),
        buildings=(Building(name="house", outline=square(0, 8, 12, 2)),),
        openings=(GATE, DOOR),
        trees=(ExistingTree(name="oak", at=(1.0, 6.0), trunk_diameter=0.1, height=8.0, spread=3.0),),
    )
    walk = Path(name="walk", start="gate", end="door", width=1.0, bend=0.0, surface=surface, creeping=creeping)
    structure = Structure(
        paths=(walk,),
        beds=(Bed(name="west", outline=square(0.2, 4.5, 2.0, 3.0), at=(1.2, 6.0)),),
        patches=(
            Patch(name="terrace", kind="patio", outline=square(7, 4, 4, 3)),
            Patch(name="pool", kind="pond", outline=square(9, 1, 2, 1.5), depth=0.5),
            Patch(name="grass", kind="lawn", outline=square(5, 1, 3, 2)),
        ),
    )
    return Project(name="twice", site=site, structure=structure)


def counted(inside: Callable[[NDArray[np.float64], NDArray[np.float64]], NDArray[np.bool_]]) -> float:
    """Return the square metres of the plot for which ``inside`` holds, by counting points."""
    x, y = np.meshgrid(np.arange(STEP / 2, 12, STEP), np.arange(STEP / 2, 10, STEP))
    return float(inside(x, y).sum()) * STEP**2


@pytest.fixture(scope="module")
def worked() -> dict[str, Layout]:
    return {surface: layout(garden(surface)) for surface in LAID.values()}


def amounts(surface: str, worked: dict[str, Layout], creeping: str = "") -> dict[tuple[str, str], float]:
    return {(one.item, one.where): one.amount for one in q.quantities(garden(surface, creeping), worked[surface])}


THICK = 0.05  # m, of slabs while nobody chose them
IN, LONG = 0.0254, 8.0  # the path runs straight from gate to door
# What each comes to by hand: depths of the ICPI and the suppliers named in ``kinds/surfaces.py``, areas as drawn.
BY_HAND = {
    ("gravel", "gravel", "walk"): LONG * 1.0 * 3 * IN,
    ("gravel", "excavation", "walk"): LONG * 1.0 * 3 * IN,
    ("gravel", "spoil away", "walk"): LONG * 1.0 * 3 * IN * 1.25,
    ("paving", "bedding", "walk"): LONG * 1.0 * 1 * IN,
    ("paving", "paving", "walk"): LONG * 1.0 * THICK * 165 * 0.45359237 / 0.3048**3,
    ("grass", "topsoil", "walk"): LONG * 1.0 * 4 * IN,
    ("gravel", "lawn", "grass"): 6.0,
    ("gravel", "pond", "pool"): (2 + 2 * 0.5 + 2 * 0.3048) * (1.5 + 2 * 0.5 + 2 * 0.3048),
    ("gravel", "spoil away", "pool"): 2 * 1.5 * 0.5 * 0.75 * 1.25,
    ("gravel", "bedding", "terrace"): 12.0 * 1 * IN,
    ("gravel", "paving", "terrace"): 12.0 * THICK * 165 * 0.45359237 / 0.3048**3,
}


@pytest.mark.parametrize(("surface", "item", "where"), BY_HAND)
def test_each_amount_is_what_it_comes_to_by_hand(surface, item, where, worked):
    assert amounts(surface, worked)[item, where] == pytest.approx(BY_HAND[surface, item, where], rel=0.01)


def test_compost_leaves_out_the_roots_of_the_oak_that_stays(worked):
    """BS 5837: a circle of twelve stem diameters; points of the bed further than that from the stem are counted."""
    far = 12 * 0.1
    free = counted(lambda x, y: (x > 0.2) & (x < 2.2) & (y > 4.5) & (y < 7.5) & (np.hypot(x - 1.0, y - 6.0) > far))
    found = amounts("gravel", worked)
    assert 0.2 * 6 < free < 0.9 * 6
    assert found["compost", "west"] == pytest.approx(free * 3 * IN, rel=0.01)


def test_base_goes_past_the_edge_of_paving_and_is_dug_out(worked):
    """ICPI: 4 in of base, 6 in past the edge: counted by how far each point is from the rectangle."""
    over = 6 * IN

    def near(x, y):
        return np.hypot(np.maximum(np.abs(x - 9) - 2, 0), np.maximum(np.abs(y - 5.5) - 1.5, 0)) < over

    base = counted(near) * 4 * IN
    found = amounts("gravel", worked)
    assert found["crushed stone", "terrace"] == pytest.approx(1.1 * base, rel=0.01)
    assert found["excavation", "terrace"] == pytest.approx(base + 12 * (1 * IN + THICK), rel=0.01)


def test_stepping_stones_lie_on_a_bed_and_the_ground_between_them_is_covered(worked):
    """What is no stone is between them: 1 in of screenings under each, mulch, or compost for what creeps, between."""
    stones = sum(stone.area for stone in worked["stepping stones"].layings["walk"].stones)
    found, planted = (amounts("stepping stones", worked, name) for name in ("", "Thymus serpyllum"))
    assert stones > 1
    assert found["bedding", "walk"] == pytest.approx(stones * 1 * IN)
    assert found["mulch", "walk"] == pytest.approx((LONG - stones) * 2 * IN, rel=0.02)
    assert planted["compost", "walk"] == pytest.approx((LONG - stones) * 3 * IN, rel=0.02)
    assert ("mulch", "walk") not in planted


def test_turf_lies_between_stepping_stones_that_cross_a_lawn():
    project = garden("stepping stones")
    lawn = Patch(name="grass", kind="lawn", outline=square(1, 0, 4, 8))
    project = attrs.evolve(project, structure=attrs.evolve(project.structure, beds=(), patches=(lawn,)))
    made = layout(project)
    found = {(one.item, one.where): one.amount for one in q.quantities(project, made)}
    stones = sum(stone.area for stone in made.layings["walk"].stones)
    assert found["lawn", "walk"] == pytest.approx(LONG - stones, rel=0.02)
