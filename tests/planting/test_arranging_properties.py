"""Whatever the beds and the palette: plants stand inside beds and apart, locked ones stay, a seed repeats its plan."""

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenkit.geometry import plane
from gardenkit.planting.arranging import Arrangement, BedGround, Settings, Surroundings, arrange
from gardenkit.planting.arranging.kinds import apart, groups_of, kind_of
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.planting import Plant
from gardenkit.planting.setbacks import Around
from gardenkit.structure.structure import Support

CATALOGUE = load_catalogue()
GROUND_LAYERS = ("shrub", "perennial", "grass", "fern", "ground cover", "bulb", "annual", "climber", "conifer")
NAMES = [s.botanical for s in CATALOGUE if s.layer in GROUND_LAYERS and s.spread < 3 and s.spacing_m >= 0.15]
SLOW = settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def gardens(draw: st.DrawFn) -> tuple[list[BedGround], Surroundings]:
    """One to three beds, straight or cut by a slanting path, with a support."""
    slant = draw(st.floats(-1.0, 1.0))
    path = plane.region([(-1, 3), (13, 3 + slant), (13, 4 + slant), (-1, 4)])
    beds, left = [], 0.0
    for number in range(draw(st.integers(1, 3))):
        wide, deep = draw(st.floats(0.6, 4.0)), draw(st.floats(0.6, 5.0))
        box = plane.region([(left, 0), (left + wide, 0), (left + wide, deep), (left, deep)])
        beds += [BedGround(name=f"bed {number}", region=part) for part in plane.pieces(plane.difference(box, path))]
        left += wide + 0.1
    support = Support(name="wires", kind="wall wires", line=((0.2, 0.05), (left - 0.3, 0.05)))
    around = Surroundings(
        around=Around(paths=(("path", path),)), ways=(((-1.0, 3.5), (13.0, 3.5 + slant)),), supports=(support,)
    )
    return beds, around


palettes = st.lists(st.sampled_from(NAMES), min_size=1, max_size=6, unique=True)
seeds = st.integers(0, 2**31)


def made(garden: tuple[list[BedGround], Surroundings], names: list[str], seed: int, keep: list[Plant]) -> Arrangement:
    return arrange([CATALOGUE[n] for n in names], *garden, seed=seed, keep=keep, catalogue=CATALOGUE, moves=4000)


@SLOW
@given(garden=gardens(), names=palettes, seed=seeds)
def test_every_new_plant_stands_inside_a_bed_clear_of_its_edge(
    garden: tuple[list[BedGround], Surroundings], names: list[str], seed: int
) -> None:
    for plant in made(garden, names, seed, []).new:
        species = CATALOGUE[plant.species]
        homes = [bed for bed in garden[0] if plane.contains(bed.region, plant.at)]
        assert len(homes) == 1
        outside = plane.difference(plane.grown(homes[0].region, 1.0), homes[0].region)
        edge = plane.distance(outside, plane.point(plant.at))
        wanted = {"shrub": species.spread / 2, "conifer": species.spread / 2, "climber": 0.15}
        assert edge >= wanted.get(species.layer, species.spacing_m / 2) - 1e-6


@SLOW
@given(garden=gardens(), names=palettes, seed=seeds, fullness=st.floats(0.2, 1.0))
def test_every_new_plant_is_apart_from_all_others_as_asked(
    garden: tuple[list[BedGround], Surroundings], names: list[str], seed: int, fullness: float
) -> None:
    rules = Settings(fullness=fullness)
    found = arrange([CATALOGUE[n] for n in names], *garden, seed=seed, moves=4000, settings=rules)
    for i, a in enumerate(found.plants):
        one = CATALOGUE[a.species]
        for b in found.plants[:i]:
            other = CATALOGUE[b.species]
            asked = apart(kind_of(one), kind_of(other), rules)
            assert math.dist(a.at, b.at) >= asked - 1e-6
            if a.species == b.species and one.layer not in ("shrub", "conifer"):
                assert math.dist(a.at, b.at) >= one.spacing_m - 1e-6


@SLOW
@given(
    garden=gardens(),
    names=palettes,
    seed=seeds,
    spots=st.lists(st.tuples(st.floats(-1, 9), st.floats(-1, 6), st.sampled_from(NAMES)), min_size=1, max_size=5),
)
def test_locked_plants_stay_exactly_and_new_ones_keep_away_or_the_pair_is_named(
    garden: tuple[list[BedGround], Surroundings], names: list[str], seed: int, spots: list[tuple[float, float, str]]
) -> None:
    keep = [Plant(number=n, species=s, at=(x, y), locked=True) for n, (x, y, s) in enumerate(spots, start=1)]
    found = made(garden, names, seed, keep)
    assert found.plants[: len(keep)] == tuple(keep)
    assert min((p.number for p in found.new), default=99) > len(keep)
    named = {f.where for f in found.findings if f.topic == "spacing"}
    for i, a in enumerate(found.plants):
        for b in found.plants[:i]:
            asked = apart(kind_of(CATALOGUE[a.species]), kind_of(CATALOGUE[b.species]), Settings())
            if math.dist(a.at, b.at) < asked - 1e-6:
                assert i < len(keep)
                assert f"plant {b.number}, {b.species}" in named


@SLOW
@given(garden=gardens(), names=palettes, seed=seeds)
def test_the_same_seed_repeats_the_plan(
    garden: tuple[list[BedGround], Surroundings], names: list[str], seed: int
) -> None:
    assert made(garden, names, seed, []) == made(garden, names, seed, [])


@given(count=st.integers(0, 400), size=st.sampled_from((1, 3, 5, 7, 9)))
def test_any_count_falls_into_odd_groups_that_add_up(count: int, size: int) -> None:
    groups = groups_of(count, size)
    assert sum(groups) == count
    assert all(group % 2 == 1 for group in groups)
