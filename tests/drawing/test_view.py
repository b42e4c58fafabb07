"""The view in perspective: sizes by the formula, the horizon at the eye, and what stands behind a wall not seen."""

import math

import attrs
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gardenkit.drawing.scene import Area, Dots, Hatch, Label, Scene, Stroke, Symbol
from gardenkit.drawing.svg import svg
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view import places_to_look_from, season_strip, view_scene
from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_ground import stage
from gardenkit.drawing.view_house import house_parts
from gardenkit.drawing.view_order import ON_LINE, Piece, Stander, Upright, far_to_near
from gardenkit.drawing.view_plants import plant_parts
from gardenkit.drawing.view_standing import Grown
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project, views
from gardenkit.project.layout import layout
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import GroundArea, Path, Seat, Structure

CATALOGUE = load_catalogue()
LEVEL = Site(boundary=((-10.0, -1.0), (10.0, -1.0), (10.0, 30.0), (-10.0, 30.0)))
SALVIA, BULB, YEW = "Salvia nemorosa 'Caradonna'", "Galanthus nivalis", "Taxus × media 'Hicksii'"


def camera(eye: float = 1.6, towards: float = 0.0, angle: float = 65.0) -> Camera:
    return Camera(eye=(0.0, 0.0, eye), towards=towards, angle=angle, width=240.0)


def project(site: Site = LEVEL, *plants: Plant, structure: Structure | None = None) -> Project:
    return Project(
        name="Invented plot", site=site, structure=structure or Structure(), planting=Planting(plants=tuple(plants))
    )


def view(garden: Project, *, month: int = 6, year: int = 5, **more: object) -> Scene:
    where: dict[str, object] = {"eye": (0.0, 0.0), "towards": 0.0, **more}
    return view_scene(garden, layout(garden), CATALOGUE, month=month, year=year, **where)  # type: ignore[arg-type]


def tips(scene: Scene) -> list[str]:
    return [m.tip for m in scene.marks if isinstance(m, Symbol)]


# ---- the camera, against the derived figures of check-values f3


@pytest.mark.parametrize(("distance", "degrees"), [(5.0, 17.744672), (10.0, 9.090277)])
def test_a_ground_point_lies_as_far_below_the_horizon_as_its_depression_says(distance: float, degrees: float) -> None:
    _, y = camera().picture(np.array([[0.0, distance, 0.0]]))[0]
    assert math.degrees(math.atan(-y / camera().focal)) == pytest.approx(degrees, abs=5e-7)


def test_a_path_from_5_to_10_m_is_three_times_as_high_in_the_picture_as_from_10_to_15_m() -> None:
    y = camera().picture(np.array([[0.0, d, 0.0] for d in (5.0, 10.0, 15.0)]))[:, 1]
    assert (y[1] - y[0]) / (y[2] - y[1]) == pytest.approx(3.0, rel=1e-12)


def test_a_thing_twice_as_far_is_half_as_high_in_the_picture() -> None:
    at = [camera().picture(np.array([[0.0, d, 0.0], [0.0, d, 1.8]]))[:, 1] for d in (6.0, 12.0)]
    near, far = (float(y[1] - y[0]) for y in at)
    assert near == pytest.approx(camera().focal * 1.8 / 6.0)
    assert near == pytest.approx(2 * far)


def test_the_width_of_view_fills_the_picture() -> None:
    edge = math.tan(math.radians(32.5)) * 10.0
    assert camera().picture(np.array([[edge, 10.0, 1.6]]))[0] == pytest.approx([120.0, 0.0])


@given(st.floats(-30, 30), st.floats(1, 60), st.floats(0.8, 3.0))
def test_everything_at_eye_height_lies_on_the_horizon(x: float, y: float, eye: float) -> None:
    assert camera(eye).picture(np.array([[x, y, eye]]))[0, 1] == pytest.approx(0.0, abs=1e-9)


@given(st.floats(-25, 25), st.floats(-3, 3), st.floats(-3, 3))
@settings(max_examples=50)
def test_parallel_lines_on_the_ground_meet_at_one_point_of_the_horizon(way: float, a: float, b: float) -> None:
    step = np.array([math.sin(math.radians(way)), math.cos(math.radians(way)), 0.0])
    ends = camera().picture(np.array([(a, 1, 0), (b, 1, 0)]) + 1e7 * step)
    meet = [camera().focal * math.tan(math.radians(way)), 0.0]
    assert ends[0] == pytest.approx(meet, abs=1e-3)
    assert ends[1] == pytest.approx(meet, abs=1e-3)


@given(st.floats(0, 360))
def test_turning_the_eye_turns_the_garden(degrees: float) -> None:
    ahead = plane.towards((0.0, 0.0), degrees, 7.0)
    seen = camera(towards=degrees).before(np.array([[*ahead, 1.6]]))[0]
    assert seen == pytest.approx([0.0, 0.0, 7.0], abs=1e-9)


def test_a_polygon_that_passes_the_eye_is_cut_before_it_is_drawn() -> None:
    ring = camera().ring(np.array([(-3, -5, 0), (3, -5, 0), (3, 20, 0), (-3, 20, 0)], dtype=float))
    left, low, right, _ = camera().frame
    assert len(ring) >= 4
    assert all(left - 1e-9 <= x <= right + 1e-9 and low - 1e-9 <= y <= 0.0 for x, y in ring)


@pytest.mark.parametrize("angle", [5.0, 170.0])
def test_an_angle_that_cannot_be_drawn_is_refused_in_words(angle: float) -> None:
    with pytest.raises(GardenError, match="give one from 20 to 100"):
        camera(angle=angle)


# ---- plants


def body_of(plant: Grown, cam: Camera) -> np.ndarray:
    scene = stage(Site(), cam, 6)
    (piece,) = (piece for part in plant_parts(scene, [plant]) for piece in part.make())
    return np.array([p for ring in piece.cover for p in ring])


def one(height: float, distance: float, form: str = "round", **more: object) -> Grown:
    more = {"spread": 1.0, "layer": "shrub", **more}
    drawn = PlantDrawn(number=3, key="K", at=(0.0, distance), height=height, form=form, foliage="#6c9050", **more)  # type: ignore[arg-type]
    return Grown(drawn=drawn)


@pytest.mark.parametrize("form", ["round", "oval", "upright", "columnar", "conical", "vase"])
def test_a_plant_1_8_m_high_at_6_m_is_as_high_as_the_formula_says(form: str) -> None:
    cam = camera()
    top = body_of(one(1.8, 6.0, form), cam)[:, 1].max()
    foot = cam.picture(np.array([[0.0, 6.0, 0.0]]))[0, 1]
    assert top - foot == pytest.approx(cam.focal * 1.8 / 6.0, rel=1e-9)


@given(st.floats(1.7, 4.0), st.floats(8.0, 30.0))
@settings(max_examples=40)
def test_the_top_of_a_tall_plant_follows_height_over_distance(height: float, distance: float) -> None:
    top = body_of(one(height, distance), camera())[:, 1].max()
    assert top == pytest.approx(camera().focal * (height - 1.6) / distance, abs=1e-6)


def test_a_plant_is_as_wide_as_the_formula_says() -> None:
    xs = body_of(one(2.5, 6.0, spread=1.2), camera())[:, 0]
    assert np.ptp(xs) == pytest.approx(camera().focal * 1.2 / 6.0, rel=1e-9)


def test_a_low_plant_seen_from_above_covers_the_ground_before_and_behind_its_stem() -> None:
    cam = camera()
    ys = body_of(one(0.1, 4.0, "mat", spread=1.0, layer="ground cover"), cam)[:, 1]
    near, far = (float(cam.picture(np.array([[0.0, d, 0.0]]))[0, 1]) for d in (3.5, 4.5))
    assert ys.min() == pytest.approx(near, abs=0.6)
    assert ys.max() > far


def test_a_plant_behind_the_eye_is_not_drawn() -> None:
    assert not plant_parts(stage(Site(), camera(), 6), [one(1.8, -6.0)])


def test_a_bulb_is_seen_in_flower_and_not_in_high_summer() -> None:
    garden = project(LEVEL, Plant(number=1, species=BULB, at=(0.0, 4.5)))
    flowering = CATALOGUE[BULB].bloom_months[0]
    assert any("snowdrop" in tip for tip in tips(view(garden, month=flowering)))
    assert not any("snowdrop" in tip for tip in tips(view(garden, month=8)))


def test_a_plant_is_larger_in_year_15_than_in_year_1() -> None:
    garden = project(LEVEL, Plant(number=1, species="Cercis canadensis", at=(0.0, 12.0)))

    def size(year: int) -> float:
        symbol = next(m for m in view(garden, year=year).marks if isinstance(m, Symbol) and "redbud" in m.tip)
        ys = [y for a in symbol.marks if isinstance(a, Area) for ring in a.rings for _, y in ring]
        return max(ys) - min(ys)

    assert size(15) > 1.5 * size(1)


def test_flowers_are_dots_of_the_plants_own_flower_colour() -> None:
    garden = project(LEVEL, Plant(number=1, species="Geranium 'Johnson's Blue'", at=(0.0, 4.0)))
    month = CATALOGUE["Geranium 'Johnson's Blue'"].bloom_months[0]
    symbol = next(m for m in view(garden, month=month).marks if isinstance(m, Symbol) and "Geranium" in m.tip)
    bloom = next(m for m in symbol.marks if isinstance(m, Dots))
    wanted = CATALOGUE["Geranium 'Johnson's Blue'"].flower_colours[0]
    off = [abs(int(bloom.fill[i : i + 2], 16) - int(wanted[i : i + 2], 16)) for i in (1, 3, 5)]
    assert max(off) < 12  # only the haze of 4 m of air


# ---- what hides what

WALL = Fence(name="garden wall", line=((-8.0, 5.0), (8.0, 5.0)), height=2.2)


def test_a_plant_behind_a_solid_wall_is_not_in_the_picture() -> None:
    behind = Plant(number=1, species=SALVIA, at=(0.0, 8.0))
    assert not any("Salvia" in tip for tip in tips(view(project(attrs.evolve(LEVEL, fences=(WALL,)), behind))))
    assert any("Salvia" in tip for tip in tips(view(project(LEVEL, behind))))


def test_a_plant_behind_an_open_fence_is_in_the_picture() -> None:
    fence = attrs.evolve(WALL, name="picket fence", openness=0.5)
    garden = project(attrs.evolve(LEVEL, fences=(fence,)), Plant(number=1, species=SALVIA, at=(0.0, 8.0)))
    assert any("Salvia" in tip for tip in tips(view(garden)))


@pytest.mark.parametrize(("height", "shows"), [(2.1, False), (2.5, True)])
def test_a_tree_shows_over_a_hedge_only_above_the_line_of_sight(height: float, shows: bool) -> None:
    # check-values f3: eye 1.6 m, hedge 1.8 m at 4 m, tree at 12 m: only what is above 2.2 m shows
    hedge = Fence(name="hedge", line=((-9.0, 4.0), (9.0, 4.0)), height=1.8)
    tree = ExistingTree(name="thorn", at=(0.0, 12.0), height=height, spread=1.5, crown_base=0.8)
    garden = project(attrs.evolve(LEVEL, fences=(hedge,), trees=(tree,)))
    assert any("thorn" in tip for tip in tips(view(garden))) is shows


def test_nearer_plants_are_painted_over_farther_ones() -> None:
    plants = [Plant(number=n, species=SALVIA, at=(0.1 * n, d)) for n, d in ((1, 9.0), (2, 3.0), (3, 6.0))]
    seen = tips(view(attrs.evolve(project(LEVEL, *plants), units="metric")))
    away = [float(tip.split("wide, ")[1].split(" m")[0]) for tip in seen if "Salvia" in tip]
    assert away == sorted(away, reverse=True)
    assert len(away) == 3


def painted(uprights: list[Upright], standers: list[Stander], eye: tuple[float, float]) -> list[str]:
    return [piece.name for piece in far_to_near(uprights, standers, eye)]


def named(name: str, a: tuple[float, float], b: tuple[float, float]) -> Upright:
    return Upright(a=a, b=b, make=lambda u, v: [Piece(marks=(), name=f"{name} {u:.2f}-{v:.2f}")])


def test_a_long_wall_hides_a_plant_that_stands_nearer_to_the_eye_than_its_middle() -> None:
    # sorting by distance alone gets this wrong: the plant is 4.1 m off, the wall's middle 10 m
    wall = named("wall", (0.5, 1.0), (0.5, 20.0))
    plant = Stander(at=(1.0, 4.0), make=lambda: [Piece(marks=(), name="plant")])
    assert painted([wall], [plant], (0.0, 0.0)) == ["plant", "wall 0.00-1.00"]
    assert painted([wall], [plant], (2.0, 0.0)) == ["wall 0.00-1.00", "plant"]


def test_crossing_walls_are_cut_where_they_cross() -> None:
    found = painted([named("long", (-6.0, 5.0), (6.0, 5.0)), named("across", (0.0, 3.0), (0.0, 7.0))], [], (0.0, -2.0))
    assert found == ["across 0.50-1.00", "long 0.00-1.00", "across 0.00-0.50"]


spot = st.tuples(st.floats(-9, 9), st.floats(-9, 9))


@given(st.lists(st.tuples(spot, spot), min_size=1, max_size=6), st.lists(spot, max_size=6), spot)
@settings(max_examples=60, deadline=None)
def test_no_wall_is_painted_after_what_stands_before_it(
    lines: list[tuple[tuple[float, float], tuple[float, float]]],
    plants: list[tuple[float, float]],
    eye: tuple[float, float],
) -> None:
    walls = [(a, b) for a, b in lines if math.dist(a, b) > 0.5]
    # What stands within ON_LINE (2 cm) of a wall's line counts as on it, so nothing is claimed of its order.
    ends = [end for pair in walls for end in pair]
    offs = [_apart(at, *pair) for pair in walls for at in (*ends, *plants, eye)]
    assume(all(off < 1e-9 or off > 2 * ON_LINE for off in offs))
    order: list[tuple[str, object]] = []

    def wall(a: tuple[float, float], b: tuple[float, float]) -> Upright:
        def make(u: float, v: float) -> list[Piece]:
            ends = [tuple(p + t * (q - p) for p, q in zip(a, b, strict=True)) for t in (u, v)]
            order.append(("wall", ends))
            return []

        return Upright(a=a, b=b, make=make)

    def plant(at: tuple[float, float]) -> Stander:
        def make() -> list[Piece]:
            order.append(("plant", at))
            return []

        return Stander(at=at, make=make)

    far_to_near([wall(a, b) for a, b in walls], [plant(p) for p in plants], eye)
    for i, (kind, what) in enumerate(order):
        for later, other in order[i + 1 :]:
            if kind == "plant" and later == "wall":  # the wall is painted over the plant: it must not stand behind it
                assert not _crosses(eye, what, *_shrunk(*other), beyond=True)  # type: ignore[misc]
            if kind == "wall" and later == "plant":
                assert not _crosses(eye, other, *_shrunk(*what))  # type: ignore[misc]


def _apart(at: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """Return how far a point lies from the line through a and b."""
    cross = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
    return abs(cross) / math.dist(a, b)


def _shrunk(a: tuple[float, float], b: tuple[float, float]) -> tuple[tuple[float, float], tuple[float, float]]:
    cut = [tuple(p + t * (q - p) for p, q in zip(a, b, strict=True)) for t in (0.02, 0.98)]
    return cut[0], cut[1]  # type: ignore[return-value]


def _crosses(
    eye: tuple[float, float],
    at: tuple[float, float],
    a: tuple[float, float],
    b: tuple[float, float],
    *,
    beyond: bool = False,
) -> bool:
    """Whether the sight line to ``at`` meets the wall before it (or, ``beyond``, only after it), rounding left out."""
    way, wall = np.subtract(at, eye), np.subtract(b, a)
    turn = float(way[0] * wall[1] - way[1] * wall[0])
    if abs(turn) < 0.05 or math.dist(eye, at) < 0.1 or math.dist(a, b) < 0.1:
        return False
    to = np.subtract(a, eye)
    along = float(to[0] * wall[1] - to[1] * wall[0]) / turn
    share = float(to[0] * way[1] - to[1] * way[0]) / turn
    margin = 0.2 / math.dist(eye, at) + 0.05
    if not 0 <= share <= 1:
        return False
    off = abs(wall[0] * (at[1] - a[1]) - wall[1] * (at[0] - a[0])) / math.dist(a, b)
    if off < 0.05:
        return False
    return along > 1 + margin if beyond else 0 < along < 1 - margin


# ---- the garden as a whole

HOUSE = Building(name="house", outline=((-4.0, 14.0), (4.0, 14.0), (4.0, 20.0), (-4.0, 20.0)), eaves=2.7)
WINDOW = Opening(
    name="kitchen window", kind="window", start=(-1.0, 14.0), end=(1.0, 14.0), sill=0.9, head=2.1, on="house"
)
GATE = Opening(name="gate", kind="gate", start=(-0.6, -1.0), end=(0.6, -1.0))
DOOR = Opening(name="door", kind="door", start=(2.0, 14.0), end=(3.0, 14.0), on="house")
PLOT = attrs.evolve(LEVEL, buildings=(HOUSE,), openings=(WINDOW, GATE, DOOR))
BONES = Structure(
    paths=(Path(name="walk", start="gate", end="door"),),
    seats=(Seat(name="bench", at=(-6.0, 6.0), facing=95.0),),
    ground_areas=(GroundArea(name="lawn", kind="lawn", outline=((-8.0, 1.0), (-4.0, 1.0), (-4.0, 5.0), (-8.0, 5.0))),),
)
GARDEN = project(
    PLOT,
    *(Plant(number=n, species=SALVIA, at=(-3.0 + 0.4 * n, 3.0)) for n in range(1, 5)),
    Plant(number=9, species=YEW, at=(6.0, 9.0)) if YEW in CATALOGUE else Plant(number=9, species=SALVIA, at=(6.0, 9.0)),
    structure=BONES,
)


def test_one_looks_from_gates_windows_doors_seats_and_along_every_path() -> None:
    names = [place.name for place in places_to_look_from(GARDEN)]
    assert names[:4] == ["gate", "kitchen window", "door", "bench"]
    assert names[4:7] == ["walk, a quarter along", "walk, half way along", "walk, three quarters along"]
    assert names[7:] == ["outside the gate"]  # what a passer-by sees
    outside = places_to_look_from(GARDEN)[-1]
    assert outside.eye == pytest.approx((0.0, -5.0)) and outside.towards == pytest.approx(0.0)


def test_a_window_upstairs_is_looked_out_of_at_one_height_on_views_and_sightlines() -> None:
    upstairs = attrs.evolve(WINDOW, name="bedroom window", sill=3.6, head=4.8)
    house = attrs.evolve(HOUSE, floor=0.3, eaves=5.2)
    made = attrs.evolve(GARDEN, site=attrs.evolve(PLOT, buildings=(house,), openings=(WINDOW, upstairs, GATE, DOOR)))
    drawn = {place.name: place for place in places_to_look_from(made)}
    judged = views.places_to_look_from(made)
    for name, floor in (("kitchen window", 0.3), ("bedroom window", 3.6 - views.BOARD)):
        assert judged[name].floor == pytest.approx(floor)
        assert drawn[name].height == pytest.approx(floor + judged[name].height)


def test_one_stands_a_step_inside_a_gate_and_in_the_room_of_a_window() -> None:
    places = {place.name: place for place in places_to_look_from(GARDEN)}
    assert places["gate"].eye == pytest.approx((0.0, -0.6))
    assert places["gate"].towards == pytest.approx(0.0)
    assert places["kitchen window"].eye == pytest.approx((0.0, 15.35))
    assert places["kitchen window"].towards == pytest.approx(180.0)
    assert (places["bench"].height, places["bench"].towards) == (1.2, 95.0)


@pytest.mark.parametrize("turned", [False, True])
def test_from_a_gate_within_the_garden_one_looks_away_from_the_house(turned: bool) -> None:
    house = GARDEN.site.buildings[0]
    far, left, right = min(y for _, y in house.outline) - 1.5, (-0.5, 0.0), (0.5, 0.0)
    ends = ((right[0], far), (left[0], far)) if turned else ((left[0], far), (right[0], far))
    gate = Opening(name="deck gate", kind="gate", start=ends[0], end=ends[1])
    site = attrs.evolve(GARDEN.site, openings=(*GARDEN.site.openings, gate))
    place = next(p for p in places_to_look_from(attrs.evolve(GARDEN, site=site)) if p.name == "deck gate")
    assert place.towards == pytest.approx(180.0)  # the house lies to the north of it


def test_from_the_room_the_wall_frames_the_garden() -> None:
    place = next(p for p in places_to_look_from(GARDEN) if p.name == "kitchen window")
    scene = view(GARDEN, eye=place.eye, towards=place.towards, eye_height=place.height)
    assert tips(scene)[-1] == "house, inside"
    assert any("Salvia" in tip for tip in tips(scene))


def test_a_mirrored_garden_is_seen_mirrored() -> None:
    fence = Fence(name="fence", line=((2.0, 4.0), (5.0, 9.0)), height=1.5)
    other = attrs.evolve(fence, line=((-2.0, 4.0), (-5.0, 9.0)))

    def corners(one_fence: Fence) -> np.ndarray:
        scene = view(project(attrs.evolve(LEVEL, fences=(one_fence,))))
        symbol = next(m for m in scene.marks if isinstance(m, Symbol) and m.tip == "fence")
        first = next(a for a in symbol.marks if isinstance(a, Area))
        return np.array(sorted(first.rings[0]))

    left, right = corners(other), corners(fence)
    assert np.array(sorted((left * (-1.0, 1.0)).tolist())) == pytest.approx(right)


def test_a_sloping_plot_lifts_what_stands_uphill() -> None:
    rising = tuple(SpotHeight(at=p, height=0.1 * p[1]) for p in ((-9.0, 0.0), (9.0, 0.0), (0.0, 29.0)))
    plant = Plant(number=1, species=SALVIA, at=(0.0, 10.0))

    def foot(site: Site) -> float:
        symbol = next(m for m in view(project(site, plant)).marks if isinstance(m, Symbol) and "Salvia" in m.tip)
        return min(y for a in symbol.marks if isinstance(a, Area) for ring in a.rings for _, y in ring)

    lifted = foot(attrs.evolve(LEVEL, heights=rising)) - foot(LEVEL)
    assert lifted == pytest.approx(
        camera().focal * 0.1 * 10.0 / 10.0, rel=0.05
    )  # 1 m up at 10 m; its front edge is nearer


def test_the_lawn_lies_on_the_measured_ground() -> None:
    rising = tuple(SpotHeight(at=p, height=0.05 * p[1]) for p in ((-9.0, 0.0), (9.0, 0.0), (0.0, 29.0)))
    lawn = GroundArea(name="lawn", kind="lawn", outline=((-2.0, 6.0), (2.0, 6.0), (2.0, 12.0), (-2.0, 12.0)))
    scene = view(project(attrs.evolve(LEVEL, heights=rising), structure=Structure(ground_areas=(lawn,))))
    ring = next(m.rings[0] for m in scene.marks if isinstance(m, Area) and m.tip == "lawn")
    far = camera().picture(np.array([[2.0, 12.0, 0.6]]))[0]  # 0.05 x 12 m up
    assert max(y for _, y in ring) == pytest.approx(far[1], abs=1e-6)


def test_the_words_list_what_is_seen_near_to_far_and_left_to_right() -> None:
    rose = Plant(number=1, species=SALVIA, at=(1.5, 4.0))
    blue = Plant(number=2, species="Geranium 'Johnson's Blue'", at=(-1.5, 4.0))
    far = Plant(number=3, species="Cercis canadensis", at=(0.0, 14.0))
    words = view(project(LEVEL, rose, blue, far)).description
    assert (
        words.index("Near")
        < words.index("Geranium")
        < words.index("Salvia")
        < words.index("Far")
        < words.index("Cercis")
    )


def test_an_empty_view_says_so() -> None:
    assert view(project()).description.endswith("Nothing stands in view.")


def test_every_mark_keeps_inside_the_picture() -> None:
    scene = view(GARDEN)
    left, low, right, top = scene.bounds
    for mark in scene.marks:
        for part in mark.marks if isinstance(mark, Symbol) else (mark,):
            match part:
                case Area():
                    points = [p for ring in part.rings for p in ring]
                case Hatch():
                    points = [p for line in part.lines for p in line]
                case Dots() | Stroke():
                    points = list(part.points)
                case Label():
                    points = [part.at]
                case _:
                    points = []
            assert all(left - 1e-6 <= x <= right + 1e-6 and low - 1e-6 <= y <= top + 1e-6 for x, y in points)


def test_two_halves_of_the_year_differ_in_ground_and_sky() -> None:
    fills = [{m.fill for m in view(GARDEN, month=month).marks if isinstance(m, Area)} for month in (1, 6)]
    assert len(fills[0] & fills[1]) < len(fills[0]) / 2


def test_four_seasons_stand_in_one_drawing() -> None:
    strip = season_strip(GARDEN, layout(GARDEN), CATALOGUE, eye=(0.0, 0.0), towards=0.0, year=5)
    labels = [m.text for m in strip.marks if isinstance(m, Label)]
    assert [text for text in labels if text.endswith("year 5")][1:] == [
        "April, year 5",
        "June, year 5",
        "October, year 5",
        "January, year 5",
    ]


@pytest.mark.parametrize(("what", "words"), [({"month": 13}, "from 1 to 12"), ({"eye_height": 0.0}, "above 0 m")])
def test_what_cannot_be_is_refused_in_words(what: dict[str, float], words: str) -> None:
    with pytest.raises(GardenError, match=words):
        view(GARDEN, **what)  # type: ignore[arg-type]


def test_an_l_shaped_house_is_cut_into_its_two_broadest_parts() -> None:
    parts = plane.convex_parts(((0.0, 0.0), (5.0, 0.0), (5.0, 2.0), (8.0, 2.0), (8.0, 7.0), (0.0, 7.0)))
    assert sorted(plane.area(plane.region(p)) for p in parts) == pytest.approx([15.0, 35.0], abs=1e-3)


def test_a_garden_of_a_hundred_plants_is_a_small_file() -> None:
    kinds = [SALVIA, "Geranium 'Johnson's Blue'", "Hydrangea paniculata", "Nepeta × faassenii"]
    plants = [
        Plant(number=n, species=kinds[n % 4], at=(-6.0 + 1.3 * (n % 10), 2.5 + 1.1 * (n // 10))) for n in range(100)
    ]
    garden = project(PLOT, *plants, structure=BONES)
    assert len(svg(view(garden))) < 600_000


# ---- roofs where parts of a house meet


L_HOUSE = ((0.0, 10.0), (5.0, 10.0), (5.0, 12.0), (8.0, 12.0), (8.0, 20.0), (0.0, 20.0))
T_HOUSE = ((0.0, 10.0), (4.0, 10.0), (4.0, 14.0), (14.0, 14.0), (14.0, 20.0), (-10.0, 20.0), (-10.0, 14.0), (0.0, 14.0))


def roof_covers(outline: tuple[tuple[float, float], ...], spot: tuple[float, float, float]) -> int:
    """How many faces of roofs lie over a spot, as it is seen from high before the house."""
    house = Building(name="house", outline=outline, eaves=3.0, roof="gable", ridge_height=5.0, overhang=0.4)
    cam = Camera(eye=(6.0, -20.0, 12.0), towards=0.0, angle=65.0, width=240.0)
    scene = stage(Site(buildings=(house,)), cam, 6)
    _, roofs = house_parts(scene, [house], [])
    (at,) = cam.flat(cam.before(np.array([spot])))
    rings = [ring for roof in roofs for piece in roof.make() for ring in piece.cover]
    return sum(plane.contains(plane.region(ring), (float(at[0]), float(at[1]))) for ring in rings)


def test_eaves_stand_out_from_the_wall_beside_a_lower_corner_of_the_house() -> None:
    assert roof_covers(L_HOUSE, (5.36, 11.0, 3.03)) >= 1  # over the wall from (5, 10) to (5, 12), of its own part alone
    assert roof_covers(L_HOUSE, (5.6, 11.0, 3.0)) == 0


def test_the_roof_of_a_wing_runs_on_to_the_slope_of_the_main_roof() -> None:
    steep, ridge = 2.0 / 2.4, 5.0  # the wing is 4 m wide with 0.4 m of eaves, and rises by 2 m
    for x in (1.8, 2.2):  # above the main slope, which is at 3.8 m there, and seen before it
        assert roof_covers(T_HOUSE, (x, 15.0, ridge - steep * abs(x - 2.0))) == 2
