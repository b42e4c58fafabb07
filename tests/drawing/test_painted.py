"""The painted view: sizes by the formula, shadows where the sun map has them, near things hide far ones."""

import warnings
from itertools import pairwise

import attrs
import numpy as np
import pytest

from gardenkit.drawing.film import LAST_YEAR, walk, walk_film
from gardenkit.drawing.framing import HOUSE_NEAR, faces_wall, framed_well, worth
from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.bodies import MOST_SQUARES, bodies_for, share_of_sun
from gardenkit.drawing.painted.climbing import STRANDS, climber_cloud, stems_of
from gardenkit.drawing.painted.drifts import VARIED, _model, all_splats
from gardenkit.drawing.painted.figures import figure
from gardenkit.drawing.painted.forms import crown, weeping, wood
from gardenkit.drawing.painted.light import _lamp_light, dapple
from gardenkit.drawing.painted.picture import Painted, Quality, paint
from gardenkit.drawing.painted.plants import Set
from gardenkit.drawing.painted.shapes import tone_of
from gardenkit.drawing.painted.sky import lamps, snows
from gardenkit.drawing.painted_view import Moment, Prospect, painted, painted_scene, subject_of
from gardenkit.drawing.scene import Area, Picture, Symbol
from gardenkit.drawing.silhouettes import PROFILES
from gardenkit.drawing.svg import svg
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view import Lookout, places_to_look_from, plants_seen, view_stage
from gardenkit.drawing.view_standing import Grown
from gardenkit.drawing.view_sun import sunlight
from gardenkit.drawing.view_things import Company, _top_of_rock
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Solid, block, panel
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.leaf_forms import leaf_form
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.season import standing
from gardenkit.site.climate import Climate
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.site.sun_rays import light_at
from gardenkit.structure.structure import GroundArea, Path, Seat, Structure, Support, Thing

CATALOGUE = load_catalogue()
GREENWICH = Place(name="Greenwich", latitude=51.4769, longitude=0.0, timezone="Europe/London")
PLOT = ((-10.0, -1.0), (10.0, -1.0), (10.0, 30.0), (-10.0, 30.0))
LEVEL = Site(boundary=PLOT, place=GREENWICH)
SMALL = Quality(across=240, finer=1.0, detail=0.4)
HERE = Lookout(name="here", eye=(0.0, 0.0), height=1.6, towards=0.0)
JUNE = Moment(year=3, month=6)
SALVIA = "Salvia nemorosa 'Caradonna'"


def garden(site: Site = LEVEL, *plants: Plant, structure: Structure | None = None) -> Project:
    return Project(
        name="Invented plot", site=site, structure=structure or Structure(), planting=Planting(plants=plants)
    )


def sight(project: Project) -> Prospect:
    return Prospect(project=project, worked=layout(project), catalogue=CATALOGUE)


def picture(
    project: Project, *, at: Lookout = HERE, month: int = 6, hour: float | None = None, **more: bool
) -> Painted:
    when = Moment(year=6, month=month, hour=hour, night=more.get("night", False), snow=more.get("snow"))
    return painted(sight(project), at=at, when=when, quality=SMALL)


def brightness(pixels: np.ndarray) -> np.ndarray:
    return pixels.astype(float).mean(axis=-1)


# ---- depth


def test_every_dot_of_level_ground_lies_as_far_off_as_its_place_in_the_picture_says() -> None:
    depth = picture(garden()).depth
    rows, columns = depth.shape
    focal = columns / 2 / np.tan(np.radians(32.5))
    horizon = rows * (1 - 0.56)  # the picture has 56 % below the horizon
    row = int(horizon + 0.5 * (rows - horizon))
    # a ground point under a level line of sight: eye height x focal / rows below the horizon
    assert depth[row, columns // 2] == pytest.approx(1.6 * focal / (row + 0.5 - horizon), rel=0.02)
    assert np.isinf(depth[5, 5])


def test_a_wall_2_2_m_high_at_5_m_is_as_high_as_the_formula_says() -> None:
    wall = Fence(name="garden wall", line=((-8.0, 5.0), (8.0, 5.0)), height=2.2)
    depth = picture(garden(attrs.evolve(LEVEL, fences=(wall,)))).depth
    columns = depth.shape[1]
    focal = columns / 2 / np.tan(np.radians(32.5))
    tall = int((np.abs(depth[:, columns // 2] - 5.0) < 0.1).sum())
    assert tall == pytest.approx(focal * 2.2 / 5.0, abs=2.0)


def test_a_tree_is_as_high_as_the_formula_says_and_a_wall_before_it_hides_its_foot() -> None:
    tree = ExistingTree(name="oak", at=(0.0, 10.0), height=4.6, spread=3.0, crown_base=1.4)
    depth = picture(garden(attrs.evolve(LEVEL, trees=(tree,)))).depth
    rows, columns = depth.shape
    focal, horizon = columns / 2 / np.tan(np.radians(32.5)), rows * 0.44
    seen = np.argwhere((depth > 7.8) & (depth < 12.2) & (np.arange(rows)[:, None] < horizon))
    top = horizon - seen[:, 0].min()
    assert top == pytest.approx(focal * (4.6 - 1.6) / 10.0, rel=0.1)
    wall = Fence(name="garden wall", line=((-8.0, 5.0), (8.0, 5.0)), height=2.2)
    hidden = picture(garden(attrs.evolve(LEVEL, trees=(tree,), fences=(wall,)))).depth
    below = hidden[int(horizon) :, columns // 2 - 20 : columns // 2 + 20]
    assert not ((below > 7.8) & (below < 12.2)).any()


# ---- light


def test_a_panel_without_length_shades_like_a_post() -> None:
    """A support whose ends a project file from elsewhere put onto one place."""
    held = bodies_for([panel("arbour", (1.0, 2.0), (1.0, 2.0), 0.0, 3.0)], (0.6, 0.0, 0.8), 6).held
    assert share_of_sun(0.0, 2.0, 0.1, *held) < 0.5
    assert share_of_sun(0.0, 2.1, 0.1, *held) == 1.0


def test_a_slender_evergreen_is_a_column_without_bare_rings() -> None:
    high = crown("columnar", 7.0, 3840, 44).at[:, 2]
    rings, _ = np.histogram(high, bins=16, range=(0.7, 6.3))
    assert rings.min() > 0.6 * rings.mean()


@pytest.mark.parametrize("far_off", [(), ((4000.0, 900.0),)], ids=["near", "one far off"])
def test_the_sun_reaches_the_spots_that_the_sun_map_says(far_off: tuple[tuple[float, float], ...]) -> None:
    bodies: list[Solid] = [
        block("house", ((-4.0, -3.0), (4.0, -3.0), (4.0, 3.0), (-4.0, 3.0)), 0.0, 5.0),
        Ellipsoid(name="crown", centre=(8.0, 2.0, 4.0), radius=2.5, half_height=2.5, light=(0.3,) * 12),
        Column(name="trunk", at=(8.0, 2.0), radius=0.3, base=0.0, top=2.0),
        Cone(name="yew", at=(-9.0, 1.0), radius=1.2, base=0.0, top=4.0),
        panel("fence", (-12.0, -8.0), (12.0, -8.0), 0.0, 1.8),
        *(Column(name="post", at=at, radius=0.3, base=0.0, top=2.0) for at in far_off),
    ]
    sun = sunlight(Site(place=GREENWICH, boundary=PLOT, y_bearing=25.0), 4, 10.0)
    assert sun is not None
    kept = bodies_for(bodies, sun.towards, 4)
    held = kept.held
    assert np.prod(kept.shape) < 1.1 * MOST_SQUARES
    x, y = np.meshgrid(np.arange(-15, 20, 0.5) + 0.11, np.arange(-12, 16, 0.5) + 0.07)
    spots = np.column_stack((x.ravel(), y.ravel(), np.full(x.size, 0.001)))
    expected = light_at(spots, bodies, np.array([sun.towards]), month=4)[:, 0]
    found = np.array([share_of_sun(*spot, *held) for spot in spots.tolist()])
    inside = np.hypot(spots[:, 0] - 8, spots[:, 1] - 2) < 2.9  # under the crown the trunk's twelve sides show
    apart = np.abs(expected - found) > 0.02
    assert (expected < 0.5).sum() > 100
    assert apart[~inside].mean() < 0.01  # twelve sides stand for the round trunk and the cone
    assert apart.mean() < 0.02


@pytest.mark.parametrize("share", [0.15, 0.35, 0.6, 0.8])
def test_flecks_of_light_under_a_crown_add_up_to_what_it_lets_through(share: float) -> None:
    rng = np.random.default_rng(1)
    mean = float(np.mean([dapple(x, y, share) for x, y in rng.uniform(-40, 40, (4000, 2)).tolist()]))
    assert mean == pytest.approx(share, abs=0.08)


def test_the_ground_in_the_shadow_of_a_house_is_darker_than_the_ground_in_the_sun() -> None:
    wall = Fence(name="wall", line=((-8.0, 12.0), (8.0, 12.0)), height=9.0)
    site = attrs.evolve(LEVEL, fences=(wall,), y_bearing=180.0)  # looking south at a wall: its shadow falls this way
    one = picture(garden(site), month=3, hour=12.0)
    near = brightness(one.pixels)[(one.depth > 4.0) & (one.depth < 10.0)]
    none = picture(garden(attrs.evolve(LEVEL, y_bearing=180.0)), month=3, hour=12.0)
    assert near.mean() < 0.75 * brightness(none.pixels)[(none.depth > 4.0) & (none.depth < 10.0)].mean()


def test_a_low_sun_is_warmer_than_a_high_one() -> None:
    def warmth(hour: float) -> float:
        pixels = picture(garden(), month=6, hour=hour).pixels.astype(float)
        return float(pixels[-20:, :, 0].mean() / pixels[-20:, :, 2].mean())

    assert warmth(20.5) > 1.1 * warmth(13.0)


def test_at_night_the_ground_round_a_lamp_is_lit_and_the_rest_is_dark() -> None:
    lamp = Thing(name="lamp", kind="path light", at=(0.0, 5.0), width=0.15, depth=0.15, height=0.5)
    dark = picture(garden(), night=True)
    lit = picture(garden(structure=Structure(things=(lamp,))), night=True)
    day = picture(garden())
    ground = (day.depth > 4.3) & (day.depth < 5.5)
    middle = np.zeros_like(ground)
    middle[:, 100:140] = True
    assert brightness(dark.pixels)[ground].mean() < 0.4 * brightness(day.pixels)[ground].mean()
    assert brightness(lit.pixels)[ground & middle].mean() > 1.5 * brightness(dark.pixels)[ground & middle].mean()


def test_a_spotlight_lights_what_it_is_aimed_at_and_not_what_is_behind_it() -> None:
    spot = Thing(name="spot", kind="tree light", at=(0.0, 5.0), facing=90.0, width=0.14, depth=0.14, height=0.25)
    project = garden(structure=Structure(things=(spot,)))
    shining = lamps(view_stage(LEVEL, layout(project), HERE, 6, None, 65.0, 240.0), project)
    crown, behind, over = ((x, 5.0, 2.8) for x in (1.5, -1.5, 0.0))
    lit, dark, beside = (_lamp_light(shining, *place, 0.0, 0.0, -1.0)[0] for place in (crown, behind, over))
    assert lit > 20 * dark and lit > 20 * beside


def test_the_two_meadows_look_unlike_in_a_view() -> None:
    ground = ((-4.0, 2.0), (4.0, 2.0), (4.0, 9.0), (-4.0, 9.0))
    tall, short = (
        picture(
            garden(
                structure=Structure(
                    ground_areas=(GroundArea(name="grass", kind=f"meadow mown {often}", outline=ground),)
                )
            )
        )
        for often in ("once", "twice")
    )
    near = (tall.depth > 3.0) & (tall.depth < 6.0)
    first, second = (one.pixels[near].astype(float).mean(axis=0) for one in (tall, short))
    assert second[1] / second[0] > 1.05 * first[1] / first[0], "greener, with fewer flowers"


def test_snow_lies_where_the_climate_is_below_freezing() -> None:
    cold = Climate(tmin=(-9.0,) * 3 + (5.0,) * 9, tmax=(-1.0,) * 3 + (15.0,) * 9)
    assert [snows(cold, month) for month in (1, 7)] == [True, False]
    assert not snows(Climate(), 1)
    white = picture(garden(attrs.evolve(LEVEL, climate=cold)), month=1).pixels[-30:]
    assert np.ptp(white.astype(float).mean(axis=(0, 1))) < 45.0
    assert white.mean() > 1.2 * picture(garden(), month=1).pixels[-30:].mean()


def test_a_wall_in_the_noon_sun_over_snow_keeps_its_colour() -> None:
    cold = Climate(tmin=(-9.0,) * 12, tmax=(-1.0,) * 12)
    outline = ((-6.0, 8.0), (6.0, 8.0), (6.0, 14.0), (-6.0, 14.0))
    house = Building(name="house", outline=outline, eaves=4.0, ridge_height=5.0)
    made = picture(garden(attrs.evolve(LEVEL, climate=cold, place=GREENWICH, buildings=(house,))), month=2, hour=12.0)
    rows, middle = made.pixels.shape[0], slice(made.pixels.shape[1] // 2 - 20, made.pixels.shape[1] // 2 + 20)
    snow, wall = (
        made.pixels[part, middle].astype(float) for part in (slice(rows - 12, rows), slice(rows // 2 - 9, rows // 2))
    )
    assert brightness(wall).mean() < 235.0
    assert brightness(snow).mean() > 190.0
    assert np.ptp(wall.mean(axis=(0, 1))) > 8.0  # not grey or white: warm boards


# ---- plants


def test_kinds_have_at_least_ten_forms_of_leaf() -> None:
    forms = {leaf_form(species) for species in CATALOGUE}
    assert len(forms) >= 10
    # as any flora has them, from memory
    assert (
        leaf_form(CATALOGUE["Hosta sieboldiana 'Elegans'"]) == "heart"
        if "Hosta sieboldiana 'Elegans'" in CATALOGUE
        else True
    )
    assert leaf_form(CATALOGUE["Acer campestre"]) == "palm"


def test_a_plant_in_flower_shows_the_colour_of_its_flowers() -> None:
    near = [Plant(number=n, species=SALVIA, at=(-1.5 + 0.4 * n, 3.0)) for n in range(8)]
    month = CATALOGUE[SALVIA].bloom_months[0]

    def violet(month: int) -> int:
        pixels = picture(garden(LEVEL, *near), month=month).pixels.astype(int)
        return int(((pixels[..., 2] > pixels[..., 1] + 25) & (pixels[..., 0] > pixels[..., 1])).sum())

    assert violet(month) > 150
    assert violet(1) < 0.1 * violet(month)


def test_a_hedge_is_as_high_as_its_height_and_green_all_over() -> None:
    hedge = Fence(name="hedge", kind="hedge", line=((-8.0, 6.0), (8.0, 6.0)), height=1.4)
    project, fine = garden(attrs.evolve(LEVEL, fences=(hedge,))), Quality(across=720, finer=1.0)
    when = Moment(year=6, month=6)
    one = painted(sight(project), at=HERE, when=when, quality=fine)
    columns = one.depth.shape[1]
    focal = columns / 2 / np.tan(np.radians(32.5))
    leaves = np.abs(one.depth - 6.0) < 0.4
    tall = int(leaves[:, columns // 3 : 2 * columns // 3].any(axis=1).sum())
    # its near foot is 5.7 m off (it is 0.6 m thick); looking over it from 1.6 m one sees its far edge 0.2 m below
    assert tall == pytest.approx(focal * (1.6 / 5.7 - 0.2 / 6.3), rel=0.06)
    pixels = one.pixels.astype(int)[leaves]
    assert (pixels[:, 1] > pixels[:, 2]).mean() > 0.9


def test_a_person_for_scale_stands_1_7_m_tall() -> None:
    project = garden()
    scene = painted_scene(
        sight(project),
        at=HERE,
        when=Moment(year=1, month=6),
        company=Company(kind="a person", at=(0.0, 4.0)),
        quality=SMALL,
    )
    (tip,) = [mark for mark in scene.marks if isinstance(mark, Symbol) and "person" in mark.tip]
    ys = [y for area in tip.marks if isinstance(area, Area) for ring in area.rings for _, y in ring]
    focal = 120.0 / np.tan(np.radians(32.5))  # mm
    assert max(ys) - min(ys) == pytest.approx(focal * 1.7 / 4.0, rel=0.02)


@pytest.mark.parametrize(("kind", "tall"), [("a person", 1.7), ("a dog", 0.86), ("a chair", 0.9)])
def test_a_figure_for_scale_is_round_as_tall_as_it_is_said_and_stands_on_the_ground(kind: str, tall: float) -> None:
    scene, one = sight(garden()).stage(HERE, JUNE, 240.0), Company(kind=kind, at=(0.0, 4.0))
    made = figure(scene, one, 700.0)
    assert made is not None
    assert float(made.at[:, 2].max()) == pytest.approx(tall, abs=0.03)
    assert float(made.at[:, 2].min()) == pytest.approx(0.0, abs=0.02)
    assert np.ptp(made.at[:, 1]) > 0.2  # no cut-out
    assert np.hypot(made.at[:, 0], made.at[:, 1] - 4.0).max() < 0.75
    ways = made.facing.astype(float)
    assert all((ways @ way > 0.7).any() for way in np.vstack((np.eye(3), -np.eye(3))))


def test_a_person_for_scale_has_a_sunny_side_and_throws_a_shadow() -> None:
    one, project = Company(kind="a person", at=(0.0, 5.0)), garden()
    when = Moment(year=1, month=6, hour=16.0)
    stage = sight(project).stage(HERE, when, 240.0)
    quality = Quality(across=400, finer=1.0, detail=0.4)
    args = (sight(project), stage, when)
    alone, with_one = (paint(subject_of(*args, company), quality) for company in (None, one))
    on = with_one.depth < alone.depth - 0.05
    columns = np.flatnonzero(on.any(axis=0))
    middle = int(columns.mean())
    light = brightness(with_one.pixels)
    left, right = (light[:, part][on[:, part]].mean() for part in (slice(0, middle), slice(middle, None)))
    assert left > 1.25 * right  # the sun of the afternoon stands in the west, on the left
    dark = (brightness(alone.pixels) - light > 25) & ~on & np.isfinite(alone.depth)
    assert dark[:, middle:].sum() > 60 > 10 * dark[:, : columns.min()].sum()


def test_plants_alike_are_made_once_and_stand_each_in_its_own_place_and_size() -> None:
    plants = [Plant(number=n, species=SALVIA, at=(-1.5 + 0.5 * n, 6.0)) for n in range(7)]
    project = garden(LEVEL, *plants)
    worked = layout(project)
    scene = view_stage(project.site, worked, HERE, 6, None, 65.0, 240.0)
    seen = plants_seen(scene, project, CATALOGUE, 5, 6)
    remembered = _model.cache_info().currsize
    made = all_splats(scene, seen, focal=400.0, sun=np.array([0.0, -0.6, 0.8]))
    assert _model.cache_info().currsize - remembered <= VARIED
    assert len(made) == len(plants)
    for one, plant in zip(made, sorted(seen, key=lambda p: abs(p.drawn.at[0])), strict=True):
        middle = one.at[:, :2].mean(axis=0)
        assert middle[1] == pytest.approx(6.0, abs=0.15)
        assert min(np.hypot(*(middle - p.at)) for p in plants) < 0.15
        high, wide = plant.drawn.height, plant.drawn.spread / 2
        assert one.at[:, 2].max() == pytest.approx(high, rel=0.3)  # the tip of the spire varies from plant to plant
        assert np.quantile(np.hypot(*(one.at[:, :2] - middle).T), 0.95) == pytest.approx(wide, rel=0.35)


def test_a_pond_shows_the_wall_behind_it_upside_down_and_the_sky_beside_it() -> None:
    pond = GroundArea(name="pond", kind="pond", outline=((-5.0, 3.0), (5.0, 3.0), (5.0, 8.0), (-5.0, 8.0)))
    wall = Fence(name="wall", kind="wall", line=((-9.0, 9.0), (0.0, 9.0)), height=3.0)
    project = garden(attrs.evolve(LEVEL, fences=(wall,)), structure=Structure(ground_areas=(pond,)))
    one = picture(project)
    rows, columns = one.depth.shape
    across = columns / 2 / np.tan(np.radians(32.5)) / 5.0  # dots a metre, 5 m off
    water = (np.abs(one.depth - 5.0) < 1.0) & (np.arange(rows) > rows / 3)[:, None]
    side = (np.arange(columns) - columns / 2) / across
    before_wall, before_sky = (
        brightness(one.pixels)[water & one_side].mean() for one_side in (side < -1.0, side > 1.0)
    )
    assert before_wall < 0.85 * before_sky


def test_a_weeping_tree_is_made_without_a_complaint() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made = weeping(2.0, 400)
    assert np.isfinite(made.at).all()
    assert made.at[:, 2].max() == pytest.approx(2.0, rel=0.15)


def test_a_twig_shows_several_leaves_with_gaps_between_them() -> None:
    across = np.linspace(-0.99, 0.99, 90)

    def seen(shape: int) -> np.ndarray:
        return np.array([[tone_of(shape, s, t) > 0 for s in across] for t in across])

    one, twig = seen(shapes.OVATE), seen(shapes.OVATE + 3 * shapes.SPRAY)
    edges = [np.abs(np.diff(shape.astype(int), axis=1)).sum() for shape in (one, twig)]
    assert edges[1] > 2 * edges[0]  # as many outlines as leaves
    assert 0.25 < twig.mean() < 0.75 * one.mean()


def test_a_climber_keeps_close_to_its_support_in_leaf_and_bare() -> None:
    arch = Support(name="arch", kind="arch", line=((-0.6, 4.0), (0.6, 4.0)), height=2.3, depth=0.5)
    drawn = PlantDrawn(
        number=1, key="", at=(-0.6, 4.0), height=2.3, spread=0.8, form="climbing", foliage="#447733", leaf="leaf"
    )
    one = Set(plant=Grown(drawn=drawn, support=arch), foot=np.array([-0.6, 4.0, 0.0]), half=0.4, tall=2.3, scale=200.0)
    cloud = climber_cloud(one, "overhead")
    assert np.abs(cloud.at[:, 0] + 0.6).max() < 0.3
    a, b = stems_of(cloud, one.foot, 3)
    assert np.linalg.norm(a[:STRANDS] - one.foot, axis=1).max() < 0.3  # all rise from its foot
    assert b[:, 2].max() == pytest.approx(2.3, abs=0.25)
    assert np.allclose(a[STRANDS : 2 * STRANDS], b[:STRANDS])  # each goes on where it was


def test_no_twig_of_a_bare_shrub_runs_along_the_edge_of_its_form() -> None:
    made = wood("round", 2.0, 0.0, 7, 3)
    off = np.hypot(made.b[:, 0], made.b[:, 1])
    edge = np.interp(made.b[:, 2] / 2.0, *np.array(PROFILES["round"]).T)
    assert made.b[:, 2].max() <= 2.0
    assert off.max() < 1.35
    assert np.isclose(off, edge, atol=1e-6).mean() < 0.01  # not drawn in onto its edge: they end before it


def test_a_rock_is_drawn_in_above_its_foot_and_a_box_is_not() -> None:
    five = ((-1.0, 4.0), (1.0, 4.0), (1.4, 5.0), (0.0, 6.0), (-1.4, 5.0))
    rock, box = (Obstacle(name="ledge", outline=outline, height=0.8) for outline in (five, five[:2] + five[3:4]))
    assert (rock.is_rock, box.is_rock) == (True, False)
    scene = view_stage(LEVEL, layout(garden()), HERE, 6, None, 65.0, 240.0)
    top = _top_of_rock(scene, five, 0.8)
    assert plane.region([(x, y) for x, y, _ in top]).area < 0.6 * plane.region(five).area
    assert 0.4 < top[:, 2].min() < top[:, 2].max() <= 0.8


def test_at_night_the_ground_before_a_lit_window_is_lit() -> None:
    window = Opening(name="kitchen", kind="window", start=(-0.8, 6.0), end=(0.8, 6.0), sill=0.9, head=2.0, on="house")
    outline = ((-4.0, 6.0), (4.0, 6.0), (4.0, 12.0), (-4.0, 12.0))
    site = attrs.evolve(LEVEL, buildings=(Building(name="house", outline=outline, eaves=3.0, ridge_height=4.0),))
    project = garden(attrs.evolve(site, openings=(window,)))
    scene = view_stage(project.site, layout(project), HERE, 6, None, 65.0, 240.0)
    ((x, y, z, strength, cool, *_),) = lamps(scene, project)
    assert (x, z) == (pytest.approx(0.0), pytest.approx(1.45))
    assert y < 6.0 < y + 2.0
    assert (strength > 0, cool) == (True, 0.0)


def test_the_usual_hour_is_earlier_where_the_sun_stands_low_by_four() -> None:
    june, winter = (sunlight(LEVEL, month) for month in (6, 11))
    assert june is not None
    assert winter is not None
    assert june.hour == 16.0
    assert winter.hour < 15.0


# ---- the drawing round it, frames, walks


def test_a_painted_view_tells_what_is_where_and_is_a_small_file() -> None:
    kinds = [SALVIA, "Geranium 'Johnson's Blue'", "Hydrangea paniculata", "Nepeta × faassenii"]
    plants = [
        Plant(number=n, species=kinds[n % 4], at=(-6.0 + 1.3 * (n % 10), 2.5 + 1.1 * (n // 10))) for n in range(100)
    ]
    project = garden(LEVEL, *plants)
    scene = painted_scene(sight(project), at=HERE, when=Moment(year=5, month=6), quality=SMALL)
    assert sum(isinstance(mark, Picture) for mark in scene.marks) == 1
    assert any("Salvia" in mark.tip for mark in scene.marks if isinstance(mark, Symbol))
    assert "Hydrangea" in scene.description
    assert len(svg(scene)) < 250_000


def test_what_cannot_be_is_refused_in_words() -> None:
    project = garden()
    with pytest.raises(GardenError, match="from 1 to 12"):
        painted_scene(sight(project), at=HERE, when=Moment(year=5, month=13))


def test_one_turns_from_the_fence_to_where_the_garden_is() -> None:
    fence = Fence(name="fence", line=((-9.0, 3.0), (0.5, 3.0)), height=2.0)
    plants = [Plant(number=n, species=SALVIA, at=(4.0 + 0.4 * n, 5.0 + 0.3 * n)) for n in range(12)]
    project = garden(attrs.evolve(LEVEL, fences=(fence,)), *plants)
    found = framed_well(HERE, project.site, standing(project, CATALOGUE, year=5, month=6))
    assert 15.0 <= found.towards <= 60.0


def test_plants_under_the_edge_of_the_picture_do_not_keep_one_looking_at_a_wall() -> None:
    wall = Fence(name="wall", kind="wall", line=((-9.0, 3.0), (9.0, 3.0)), height=2.5)
    low = [Plant(number=n, species="Phlox subulata", at=(-2.0 + 0.1 * n, 1.6)) for n in range(40)]
    site = attrs.evolve(LEVEL, fences=(wall,))
    plants = standing(garden(site, *low), CATALOGUE, year=5, month=6)
    assert worth(HERE, 0.0, site, plants, 65.0) == worth(HERE, 0.0, site, [], 65.0)
    farther = attrs.evolve(HERE, eye=(0.0, -3.0))
    assert worth(farther, 0.0, site, plants, 65.0) > worth(farther, 0.0, site, [], 65.0)


def test_one_goes_on_from_the_gate_past_the_bush_that_stands_before_it() -> None:
    gate = Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0))
    seat = Seat(name="bench", at=(0.0, 14.0), facing=180.0)
    bones = Structure(paths=(Path(name="walk", start="gate", end="bench"),), seats=(seat,))
    bush = [Plant(number=n, species="Ilex glabra", at=(x, 2.2)) for n, x in enumerate((-1.3, 1.3))]
    far = [Plant(number=10 + n, species=SALVIA, at=(-3.0 + 0.5 * n, 8.0)) for n in range(12)]
    project = garden(attrs.evolve(LEVEL, openings=(gate,)), *bush, *far, structure=bones)
    plants = standing(project, CATALOGUE, year=15, month=6)
    at = Lookout(name="gate", eye=(0.0, -0.5), height=1.6, towards=0.0)
    on = framed_well(at, project.site, plants, worked=layout(project))
    assert on.eye[1] > 1.5
    assert abs(on.eye[0]) < 0.5  # on the path
    assert framed_well(at, project.site, plants).eye == at.eye


def test_one_turns_from_a_low_tree_that_fills_the_frame() -> None:
    pine = ExistingTree(name="pine", at=(2.0, 6.0), height=12.0, spread=5.0, crown_base=1.0)
    salvias = [Plant(number=n, species=SALVIA, at=(-6.0 + 1.0 * n, 9.0)) for n in range(13)]
    project = garden(attrs.evolve(LEVEL, trees=(pine,)), *salvias)
    plants = standing(project, CATALOGUE, year=5, month=6)
    assert abs((framed_well(HERE, project.site, plants).towards + 180) % 360 - 180) >= 10
    assert framed_well(HERE, LEVEL, plants).towards == 0.0


@pytest.mark.parametrize("stems", [1, 3, 7])
@pytest.mark.parametrize("form", sorted(PROFILES))
def test_bare_wood_is_as_tall_as_the_crown_in_leaf(form: str, stems: int) -> None:
    found = wood(form, 2.0, 0.4, stems, 3)
    assert max(found.a[:, 2].max(), found.b[:, 2].max()) == pytest.approx(2.0)
    assert min(found.a[:, 2].min(), found.b[:, 2].min()) >= 0.0


def test_a_walk_goes_along_the_path_and_looks_ahead() -> None:
    gate = Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0))
    seat = Seat(name="bench", at=(0.0, 12.0), facing=180.0)
    bones = Structure(paths=(Path(name="walk", start="gate", end="bench"),), seats=(seat,))
    project = garden(attrs.evolve(LEVEL, openings=(gate,)), structure=bones)
    stops = walk(sight(project), "walk", JUNE)
    assert [round(stop.eye[1], 1) for stop in stops] == sorted(round(stop.eye[1], 1) for stop in stops)
    assert all(min(stop.towards % 360, 360 - stop.towards % 360) < 25.0 for stop in stops[:-2])
    film = walk_film(sight(project), path="walk", when=Moment(year=3, month=6))
    assert len(film.frames) == len(stops) == len(film.words)
    assert film.size < 60_000 * len(stops)
    assert LAST_YEAR == 15
    with pytest.raises(GardenError, match="no path"):
        walk(sight(project), "elsewhere", JUNE)


def test_a_walk_up_to_a_house_ends_with_a_look_back_at_the_garden() -> None:
    house = Building(name="house", outline=((-4.0, 14.0), (4.0, 14.0), (4.0, 20.0), (-4.0, 20.0)))
    openings = (
        Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0)),
        Opening(name="door", kind="door", on="house", start=(-0.5, 14.0), end=(0.5, 14.0)),
    )
    plants = [Plant(number=n, species=SALVIA, at=(2.0, 2.0 + 0.5 * n)) for n in range(12)]
    site = attrs.evolve(LEVEL, buildings=(house,), openings=openings)
    bones = Structure(paths=(Path(name="walk", start="gate", end="door"),))
    stops = walk(sight(garden(site, *plants, structure=bones)), "walk", JUNE)
    assert max(stop.eye[1] for stop in stops) < 14.0 - 0.8 * HOUSE_NEAR
    assert 120.0 < stops[-1].towards < 240.0
    assert all(abs((b.towards - a.towards + 180) % 360 - 180) <= 20.0 for a, b in pairwise(stops[-6:]))


def test_one_who_walks_beside_a_wall_turns_the_eye_slowly_to_the_planting_and_not_to_bare_walls() -> None:
    gate = Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0))
    walls = (
        Fence(name="wall", kind="wall", line=((1.2, -1.0), (1.2, 15.0)), height=2.2),
        Fence(name="end wall", kind="wall", line=((1.2, 15.0), (-10.0, 15.0)), height=2.2),
    )
    plants = [Plant(number=n, species="Hydrangea paniculata", at=(-5.0, 1.0 + 1.6 * n)) for n in range(7)]
    site = attrs.evolve(LEVEL, openings=(gate,), fences=walls)
    bones = Structure(
        paths=(Path(name="walk", start="gate", end="bench"),), seats=(Seat(name="bench", at=(0.0, 14.0), facing=180.0),)
    )
    project = garden(site, *plants, structure=bones)
    stops = walk(sight(project), "walk", JUNE)
    seen = standing(project, CATALOGUE, year=3, month=6)
    ways = [(stop.towards + 180) % 360 - 180 for stop in stops]
    assert min(ways[: len(ways) // 2]) < -15.0  # to the planting on the left
    assert max(ways[: len(ways) // 2]) < 1.0  # never to the wall on the right
    assert all(abs(b - a) <= 31.0 for a, b in pairwise(ways[: len(ways) // 2]))
    assert not any(faces_wall(stop, site, seen, angle=65.0) for stop in stops)
    # straight on to the end, the last frame would be a wall 1 m off
    assert faces_wall(attrs.evolve(stops[0], eye=(0.0, 13.5), towards=0.0), site, seen, angle=65.0)


def test_one_goes_on_from_the_gate_through_the_leaves_of_an_arch() -> None:
    climbers = [
        Plant(number=n, species="Lonicera sempervirens", at=(x, 2.0), support="arch") for n, x in enumerate((-0.9, 0.9))
    ]
    arch = Support(name="arch", kind="arch", line=((-0.9, 2.0), (0.9, 2.0)), height=2.4)
    gate = Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0))
    bones = Structure(
        paths=(Path(name="walk", start="gate", end="bench"),),
        seats=(Seat(name="bench", at=(0.0, 14.0), facing=180.0),),
        supports=(arch,),
    )
    far = [Plant(number=10 + n, species=SALVIA, at=(-3.0 + 0.1 * n, 7.0)) for n in range(60)]
    at = Lookout(name="gate", eye=(0.0, -0.5), height=1.6, towards=0.0)
    project = garden(attrs.evolve(LEVEL, openings=(gate,)), *climbers, *far, structure=bones)
    plants = standing(project, CATALOGUE, year=10, month=6)
    assert framed_well(at, project.site, plants, worked=layout(project)).eye[1] > 1.9


def test_from_an_upstairs_window_one_looks_down_on_the_garden_and_a_block_stands_where_perspective_puts_it() -> None:
    house = Building(name="house", outline=((-4.0, -1.0), (4.0, -1.0), (4.0, 3.0), (-4.0, 3.0)), eaves=5.5)
    upstairs = Opening(name="bedroom", kind="window", on="house", start=(1.0, 3.0), end=(-1.0, 3.0), sill=3.6, head=4.8)
    site = attrs.evolve(LEVEL, buildings=(house,), openings=(upstairs,))
    place = places_to_look_from(garden(site), layout(garden(site)))[0]
    eye_high = 3.6 - 0.9 + 1.6  # a window board is 0.9 m above its floor, on which one stands
    assert (place.name, place.towards) == ("bedroom", 0.0)
    assert place.height == pytest.approx(eye_high, abs=0.01)
    stands = Obstacle(name="block", outline=((1.5, 11.0), (2.3, 11.0), (2.3, 11.6), (1.5, 11.6)), height=0.8)
    bare, with_block = (
        picture(garden(attrs.evolve(site, obstacles=found)), at=place).depth for found in ((), (stands,))
    )
    rows, columns = bare.shape
    focal, horizon, middle = columns / 2 / np.tan(np.radians(32.5)), rows * 0.44, columns / 2
    seen = np.argwhere(with_block < bare - 0.05)
    ahead, back = 11.0 - place.eye[1], 11.6 - place.eye[1]
    low, high = seen[:, 0].max() + 1, seen[:, 0].min()
    assert low - horizon == pytest.approx(focal * eye_high / ahead, abs=1.5)  # its foot in front
    assert high - horizon == pytest.approx(
        focal * (eye_high - 0.8) / back, abs=1.5
    )  # its far upper edge: seen from above
    assert seen[:, 1].min() - middle == pytest.approx(focal * 1.5 / back, abs=1.5)
    assert seen[:, 1].max() + 1 - middle == pytest.approx(focal * 2.3 / ahead, abs=1.5)
