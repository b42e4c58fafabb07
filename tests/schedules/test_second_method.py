"""Each kind of quantity reckoned a second time: ground counted on a grid of points, the rest by plain arithmetic."""

import math
import pathlib
from collections.abc import Callable

import attrs
import numpy as np
import pytest
from numpy.typing import NDArray

from gardenkit.garden import Garden
from gardenkit.planting.crops import crop_kind
from gardenkit.planting.planting import Crop
from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.schedules import pipes
from gardenkit.schedules import quantities as q
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Site
from gardenkit.structure.structure import Bed, Flight, GroundArea, Level, Path, Structure, Support, Thing

EXAMPLES = pathlib.Path(__file__).parents[2] / "examples"
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
    walk = Path(name="walk", start="gate", end="door", width=1.0, curvature=0.0, surface=surface, creeping=creeping)
    structure = Structure(
        paths=(walk,),
        beds=(Bed(name="west", outline=square(0.2, 4.5, 2.0, 3.0), at=(1.2, 6.0)),),
        ground_areas=(
            GroundArea(name="terrace", kind="patio", outline=square(7, 4, 4, 3)),
            GroundArea(name="pool", kind="pond", outline=square(9, 1, 2, 1.5), depth=0.5),
            GroundArea(name="grass", kind="lawn", outline=square(5, 1, 3, 2)),
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
    ("grass", "lawn", "walk"): LONG * 1.0,
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
    lawn = GroundArea(name="grass", kind="lawn", outline=square(1, 0, 4, 8))
    project = attrs.evolve(project, structure=attrs.evolve(project.structure, beds=(), ground_areas=(lawn,)))
    made = layout(project)
    found = {(one.item, one.where): one.amount for one in q.quantities(project, made)}
    stones = sum(stone.area for stone in made.layings["walk"].stones)
    assert found["lawn", "walk"] == pytest.approx(LONG - stones, rel=0.02)


def test_bark_is_the_surface_of_its_path_times_its_depth():
    """Points of the straight path 1 m wide are counted; bark lies 3 in deep (house value)."""
    project = garden("bark")
    found = {(one.item, one.where): one.amount for one in q.quantities(project, layout(project))}
    assert found["bark", "walk"] == pytest.approx(
        counted(lambda x, y: (np.abs(x - 3) < 0.5) & (y < 8)) * 3 * IN, rel=0.01
    )
    assert found["excavation", "walk"] == pytest.approx(found["bark", "walk"])


def test_steps_are_as_many_as_the_ground_asks_for():
    """Ground that rises 1 in 10: half of a straight path of 8 m rises 0.40 m, three risers of 0.133 m at most 7 in."""
    project = garden("gravel")
    corners = tuple(SpotHeight(at=at, height=at[1] / 10) for at in ((0, 0), (12, 0), (12, 10), (0, 10), (6, 5)))
    flight = Flight(start=0.25, end=0.75, handrail=True)
    walk = attrs.evolve(project.structure.paths[0], flights=(flight,))
    structure = attrs.evolve(project.structure, paths=(walk,))
    project = attrs.evolve(project, site=attrs.evolve(project.site, heights=corners), structure=structure)
    lines = {one.item: one for one in q.quantities(project, layout(project)) if one.where == "walk, flight 1"}
    assert lines["step risers"].amount == 3 == np.ceil(0.4 / (7 * IN))
    assert lines["steps"].amount == pytest.approx(3 * 1.0)
    assert lines["step treads"].count == 2
    run = lines["step treads"].amount
    assert 2 * 10 * IN <= run <= 0.5 * LONG
    assert lines["handrail"].amount == pytest.approx(np.hypot(run, 0.4), rel=0.01)
    walked = {one.item: one.amount for one in q.quantities(project, layout(project)) if one.where == "walk"}
    assert walked["gravel"] == pytest.approx((LONG - run) * 1.0 * 3 * IN, rel=0.01)  # none under treads
    assert walked["edging"] == pytest.approx(2 * (LONG - run), abs=4 * q.AT_EDGE + 0.03)  # less at house and boundary


def test_soil_and_boards_of_a_raised_bed_fill_its_box():
    """Boxes inside boxes: the outer box less the inner one is the timber, 2 in thick, whose face is what is bought."""
    wide, deep, high = 2.4, 1.2, 0.5
    bed = Thing(name="box", kind="raised bed", at=(9, 5), width=wide, depth=deep, height=high)
    project = garden("gravel")
    project = attrs.evolve(project, structure=attrs.evolve(project.structure, ground_areas=(), things=(bed,)))
    found = {(one.item, one.where): one.amount for one in q.quantities(project, layout(project))}
    soil = found["raised bed soil", "box"]
    assert soil == pytest.approx((wide - 4 * IN) * (deep - 4 * IN) * high)
    assert found["boards", "box"] * 2 * IN == pytest.approx(wide * deep * high - soil, rel=0.01)


def test_holes_of_posts_leave_their_whole_soil_over():
    """A pergola 2.4 m high: four posts, a third of each in the ground, holes three 3 1/2 in posts wide; loose 1.25."""
    project = garden("gravel")
    pergola = Support(name="frame", kind="pergola", line=((6.0, 5.0), (8.0, 5.0)), height=2.4, depth=2.0)
    project = attrs.evolve(project, structure=attrs.evolve(project.structure, ground_areas=(), supports=(pergola,)))
    found = {(one.item, one.where): one.amount for one in q.quantities(project, layout(project))}
    hole = np.pi * (3 * 3.5 * IN / 2) ** 2 * 2.4 / 2
    assert found["spoil away", "frame"] == pytest.approx(4 * hole * 1.25)
    assert ("excavation", "frame") not in found  # digging them is in the hours of the pergola
    assert found["post", "frame"] == pytest.approx(4 * 2.4 * 1.5)


@pytest.mark.parametrize("name", ["fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside"])
def test_dripline_is_the_ground_of_the_beds_over_the_space_between_rows(name):
    """Rows are drawn and measured one by one; the whole ground of the beds over their spacing comes to the same."""
    garden = Garden.open(EXAMPLES / name)
    (line,) = (one for one in garden.quantities if one.item == "dripline")
    ground = {bed.name: bed.area for bed in garden.beds}
    rough = sum(ground[water.bed] / water.drip.row_spacing for water in garden.water)
    assert line.amount / 1.05 == pytest.approx(rough, rel=0.04)
    (pipe,) = (one for one in garden.quantities if one.item == "supply pipe")
    runs = pipes.supply(garden.project, garden.layout, garden.water)
    wanted = {water.bed: water.drip.litres_an_hour for water in garden.water}
    times = [max(1, math.ceil(wanted[water.bed] / 900)) for water in garden.water]  # a tap gives 900 L an hour
    assert pipe.amount == pytest.approx(sum(n * pipes.length(run) for n, run in zip(times, runs, strict=True)))


def test_a_wall_is_the_face_between_two_planes_and_the_soil_between_them_is_dug():
    """Ground that rises 1 in 10 is cut to a level of 4 by 3 m: a prism of soil, a rectangle of wall and beside it two
    pieces that end where they are 10 cm high, under which no wall is built.
    """
    project = garden("gravel")
    corners = tuple(SpotHeight(at=at, height=at[1] / 10) for at in ((0, 0), (12, 0), (12, 10), (0, 10), (6, 5)))
    level = Level(name="terrace", at=(8.0, 4.5), height=0.3, outline=square(6, 3, 4, 3), edge="wall")
    structure = attrs.evolve(project.structure, paths=(), beds=(), ground_areas=(), levels=(level,))
    project = attrs.evolve(project, site=attrs.evolve(project.site, heights=corners), structure=structure)
    found = {
        one.item: one.amount for one in q.quantities(project, layout(project)) if one.where in ("levels", "terrace")
    }
    assert found["excavation"] == pytest.approx(4 * 3 * 0.3 / 2, rel=0.03)
    face, long = 4 * 0.3 + 2 * 2 * (0.1 + 0.3) / 2, 4 + 2 * 2
    assert found["retaining wall"] == pytest.approx(face + long * 0.3 / 12, rel=0.02)
    assert found["drain pipe"] == pytest.approx(long, rel=0.04)  # its ends are found within a step of the edge
    assert found["crushed stone"] == pytest.approx((face * 12 * IN + long * 6 * IN * 24 * IN) * 1.1, rel=0.04)


def test_crops_are_ordered_by_how_long_their_rows_are():
    """A bed 4 by 1.2 m shared by two: rows of each as many as fit beside each other, seed by the packet, plants by the
    piece, counted from the spacings of the crops' own table.
    """
    project = garden("gravel")
    bed = Bed(name="kitchen", outline=square(6, 4, 4, 1.2), at=(8.0, 4.6), purpose="vegetables")
    crops = tuple(Crop(species=name, bed="kitchen", share=0.5) for name in ("Raphanus sativus", "Solanum lycopersicum"))
    structure = attrs.evolve(project.structure, beds=(bed,), ground_areas=())
    project = attrs.evolve(project, structure=structure, planting=attrs.evolve(project.planting, crops=crops))
    lines = [one for one in q.quantities(project, layout(project)) if one.where == "kitchen" and "row" in one.rule]
    assert len(lines) == 2
    for line, crop in zip(lines, crops, strict=True):
        kind = crop_kind(crop.species)
        rows = max(1, int(0.6 / kind.close + 1e-6))
        if kind.bought == "seed":
            assert line.amount == np.ceil(rows * 4.0 / 7.5 - 1e-6)
        else:
            assert line.amount == pytest.approx(rows * 4.0 / kind.close, abs=rows)
