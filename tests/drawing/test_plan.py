"""The plan: trade conventions drawn the right way round and to scale."""

import math

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis.extra.numpy import arrays

from gardenkit.drawing import style
from gardenkit.drawing.furniture import legend, north_arrow, scale_bar
from gardenkit.drawing.garden import structure_scene
from gardenkit.drawing.labels import label_box
from gardenkit.drawing.overlays import Ellipse, cell_rings
from gardenkit.drawing.plan import (
    PathDrawn,
    contour_marks,
    finding_marks,
    isovist_marks,
    plan_scene,
    plant_labels,
    plant_marks,
    shadow_marks,
    sun_legend,
    sun_marks,
    survey_marks,
)
from gardenkit.drawing.plan_ground import path_marks
from gardenkit.drawing.plan_site import building_marks, fence_marks, opening_marks, tree_marks
from gardenkit.drawing.plan_structure import seat_marks, support_marks
from gardenkit.drawing.scene import Area, Disc, Hatch, Label, Stroke, Symbol, plain
from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.site.site import ExistingTree, Fence, Site
from gardenkit.structure.kinds import fence_kind
from gardenkit.structure.structure import Seat, Support


def shoelace(ring: tuple[tuple[float, float], ...]) -> float:
    x, y = np.array(ring).T
    return float(0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def test_a_door_swings_indoors(garden) -> None:  # type: ignore[no-untyped-def]
    house = plane.region(garden.site.buildings[0].outline)
    marks = opening_marks(garden.site.opening("side door"), indoors=[house], plot=plane.NOWHERE)
    (swing,) = [m for m in marks if isinstance(m, Stroke) and len(m.points) > 2]
    assert all(plane.contains(plane.grown(house, 1e-6), p) for p in swing.points)
    assert [round(math.dist(p, (7.0, 10.0)), 6) for p in swing.points] == [0.9] * len(swing.points)


def test_a_gate_swings_into_the_plot(garden) -> None:  # type: ignore[no-untyped-def]
    plot = plane.region(garden.site.boundary)
    marks = opening_marks(garden.site.opening("gate"), indoors=[], plot=plot)
    (leaf,) = [m for m in marks if isinstance(m, Stroke) and len(m.points) == 2]
    assert leaf.points == ((15.0, 0.0), pytest.approx((15.0, 1.2)))


def test_a_window_has_its_glass_inside_the_wall(garden) -> None:  # type: ignore[no-untyped-def]
    house = plane.region(garden.site.buildings[0].outline)
    marks = opening_marks(garden.site.opening("kitchen window"), indoors=[house], plot=plane.NOWHERE)
    (glass,) = [m for m in marks if isinstance(m, Hatch)]
    assert all(8.0 < y < 8.2 for line in glass.lines for _, y in line)


def test_house_walls_keep_square_corners_and_are_the_heaviest_thing(garden) -> None:  # type: ignore[no-untyped-def]
    marks = building_marks(garden.site.buildings[0], scale=48)
    walls = next(m for m in marks if isinstance(m, Area) and len(m.rings) == 2)
    inner = walls.rings[1]
    assert {(round(x, 6), round(y, 6)) for x, y in inner} == {
        (0.2, 8.2),
        (5.8, 8.2),
        (5.8, 10.2),
        (8.8, 10.2),
        (8.8, 12.8),
        (0.2, 12.8),
    }


def test_fence_posts_stand_at_both_ends_and_no_further_apart_than_a_panel(garden) -> None:  # type: ignore[no-untyped-def]
    posts = next(m for m in fence_marks(garden.site.fences[0]) if isinstance(m, Area)).rings
    ys = sorted(np.mean([p[1] for p in post]) for post in posts)
    assert (ys[0], ys[-1]) == pytest.approx((0.0, 11.0))
    assert np.diff(ys).max() <= 2.4


@pytest.mark.parametrize(("y_bearing", "towards"), [(0.0, (0.0, 1.0)), (90.0, (-1.0, 0.0)), (180.0, (0.0, -1.0))])
def test_north_is_where_it_is(y_bearing: float, towards: tuple[float, float]) -> None:
    """When the plan's y axis points east (90 degrees), north is to the left."""
    letter = next(m for m in north_arrow((0, 0), y_bearing=y_bearing, size=1.0) if isinstance(m, Label))
    assert np.array(letter.at) / math.hypot(*letter.at) == pytest.approx(towards, abs=1e-12)


@pytest.mark.parametrize(("units", "unit"), [("imperial", 0.3048), ("metric", 1.0)])
@pytest.mark.parametrize("scale", [48.0, 50.0, 96.0, 100.0])
def test_the_scale_bar_is_as_long_as_it_says(units: str, unit: float, scale: float) -> None:
    marks = scale_bar((0, 0), units=units, scale=scale)  # type: ignore[arg-type]
    xs = [x for m in marks if isinstance(m, Area) for ring in m.rings for x, _ in ring]
    last = next(m.text for m in marks if isinstance(m, Label) and m.text.endswith((" ft", " m")))
    assert max(xs) - min(xs) == pytest.approx(float(last.split()[0]) * unit)


def test_the_sheet_names_its_scale_and_a_screen_does_not(garden) -> None:  # type: ignore[no-untyped-def]
    sheet = plan_scene(title="T", scale=48.0, **garden.parts())
    screen = plan_scene(title="T", scale=48.0, to_scale=False, **garden.parts())
    texts = [{m.text for m in plain(s.marks) if isinstance(m, Label)} for s in (sheet, screen)]
    assert 'scale 1/4" = 1\'-0"' in texts[0]
    assert not any(text.startswith("scale") for text in texts[1])


def test_stones_say_their_names_and_lie_on_the_path(garden) -> None:  # type: ignore[no-untyped-def]
    marks = path_marks(garden.paths[0], scale=48)
    assert [m.tip for m in marks if isinstance(m, Area)][1:] == [f"stone {k}" for k in range(8)]


def test_plants_above_others_are_drawn_later(garden) -> None:  # type: ignore[no-untyped-def]
    drawn = plant_marks(garden.plants, scale=48)
    heights = [float(m.tip.split(": about ")[1].split(" m")[0]) for m in drawn if isinstance(m, Symbol)]
    assert heights == sorted(heights)


def test_a_drift_has_one_label_with_its_count(garden) -> None:  # type: ignore[no-untyped-def]
    four = garden.plants[:4]
    links, wishes = plant_labels(four, scale=48)
    assert [w.text for w in wishes] == ["SAL 4"]
    (joined,) = links
    assert isinstance(joined, Hatch)
    assert len(joined.lines) == 3


def test_trees_lose_their_leaves_in_winter_and_keep_their_place() -> None:
    tree = ExistingTree(name="oak", at=(2, 2), height=8, spread=6, leaf_on=4, leaf_off=10)
    alphas = [tree_marks([tree], month=m)[0].marks[0].alpha for m in (1, 4, 7, 10, 11)]  # type: ignore[union-attr]
    assert alphas[0] == alphas[4] < alphas[1] == alphas[2] == alphas[3]


def test_an_evergreen_tree_is_in_leaf_all_year() -> None:
    tree = ExistingTree(name="yew", at=(2, 2), height=8, spread=6, leaf_on=None, leaf_off=None)
    assert len({tree_marks([tree], month=m)[0].marks[0].alpha for m in range(1, 13)}) == 1  # type: ignore[union-attr]


@settings(max_examples=60)
@given(arrays(bool, (6, 7)))
def test_cells_keep_their_area_and_count_when_outlined(mask: np.ndarray) -> None:  # type: ignore[type-arg]
    rings = cell_rings(mask, x0=2.0, y0=-1.0, cell=0.5)
    assert sum(shoelace(ring) for ring in rings) == pytest.approx(0.25 * mask.sum())


def test_the_sun_map_paints_every_measured_cell_once() -> None:
    hours = np.linspace(0, 12, 48).reshape(6, 8)
    hours[2, 3] = math.nan
    marks = sun_marks(hours, x0=0, y0=0, cell=1.0)
    assert sum(shoelace(ring) for m in marks for ring in m.rings) == pytest.approx(47)  # type: ignore[union-attr]
    assert [m.fill for m in marks] == list(style.SUN_COLOURS)  # type: ignore[union-attr]
    assert len(sun_legend()) == len(style.SUN_COLOURS)


def test_a_legend_stays_within_the_width_of_the_drawing() -> None:
    marks, bounds = legend(sun_legend(), (0.0, 0.0, 4.0, 5.0), scale=48, title="Direct sun")
    assert bounds[1] < 0
    assert all(0 <= x <= 4 and bounds[1] <= y <= 0 for m in marks if isinstance(m, Area) for r in m.rings for x, y in r)


def test_studies_lie_in_their_layers() -> None:
    square = plane.region([(0, 0), (2, 0), (2, 2), (0, 2)])
    assert {m.layer for m in shadow_marks([square, plane.NOWHERE])} == {"sun"}
    assert {m.layer for m in isovist_marks(square, (1, 1), scale=48)} == {"sun", "overlay"}
    line = [(0.0, 0.0), (4.0, 0.5)]
    assert [m.layer for m in contour_marks([(0.2, [line])], scale=48, units="metric")] == ["overlay", "overlay"]


def test_an_uncertain_point_has_a_wide_ellipse_turned_the_right_way() -> None:
    (ellipse,) = survey_marks({}, ellipses=[Ellipse(at=(0, 0), major=0.4, minor=0.1, turn=90.0)], scale=48)
    assert isinstance(ellipse, Area)
    xs, ys = np.array(ellipse.rings[0]).T
    assert (xs.max(), ys.max()) == pytest.approx((0.4, 0.1), abs=0.01)


def test_findings_with_a_place_are_flagged_with_their_sentence() -> None:
    here = Finding(where="stone 7", what="is too far from stone 6", at=(1.0, 2.0), seriousness="warning")
    marks = finding_marks([here, Finding(where="bed", what="has no name")], scale=48)
    assert [m.tip for m in marks] == ["stone 7: is too far from stone 6"]  # type: ignore[union-attr]


@pytest.mark.parametrize("kind", ["arbour", "arch", "pergola", "trellis", "wall wires", "espalier", "fence", "screen"])
def test_every_kind_of_support_is_drawn_along_its_line(kind: str) -> None:
    support = Support(name="s", kind=kind, line=((1.0, 1.0), (4.0, 1.0)), depth=1.5)  # type: ignore[arg-type]
    (symbol,) = support_marks([support])
    xs = [x for m in plain([symbol]) if isinstance(m, Area) for ring in m.rings for x, _ in ring]
    assert min(xs) == pytest.approx(1.0, abs=0.07)
    assert max(xs) == pytest.approx(4.0, abs=0.07)


def test_a_seat_looks_the_way_it_faces() -> None:
    (symbol,) = seat_marks([Seat(name="bench", at=(0, 0), facing=90.0)])
    pointer = [m for m in plain([symbol]) if isinstance(m, Area)][-1]
    assert max(pointer.rings[0])[0] > 0.5


def test_an_empty_site_still_makes_a_sheet() -> None:
    scene = plan_scene(site=Site(), title="New garden")
    assert scene.bounds[2] > scene.bounds[0]
    assert any(isinstance(m, Disc) for m in plain(scene.marks))


def test_a_path_that_does_not_exist_yet_draws_nothing(garden) -> None:  # type: ignore[no-untyped-def]
    nowhere = PathDrawn(name="path", region=plane.NOWHERE)
    assert path_marks(nowhere, scale=48) == ()
    assert plan_scene(title="T", **{**garden.parts(), "paths": (nowhere,)}).marks


def test_nothing_but_trees_reaches_over_the_edge_of_the_sheet(garden) -> None:  # type: ignore[no-untyped-def]
    scene = plan_scene(title="T", scale=48.0, **attrs.evolve(garden, plants=()).parts())
    low_x, low_y, high_x, high_y = scene.bounds
    for mark in plain(m for m in scene.marks if m.layer != "canopy"):
        for ring in mark.rings if isinstance(mark, Area) else ():
            assert all(low_x <= x <= high_x and low_y <= y <= high_y for x, y in ring)


@pytest.mark.parametrize("scale", [50.0, 100.0])
def test_no_name_of_a_bed_lies_on_a_hedge_as_found(scale: float) -> None:
    hedge = Fence(name="beech hedge", kind="hedge", line=((0.0, 2.6), (10.0, 2.6)), height=1.8)
    site = Site(boundary=((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0)), fences=(hedge,))
    project = Project(name="p", site=site)
    drawn = structure_scene(project, layout(project), scale=scale, title="p")
    (name,) = [m for m in plain(drawn.marks) if isinstance(m, Label) and m.text.casefold() == "bed 1"]
    left, low, right, high = label_box(name, scale)
    band = plane.grown(plane.line(hedge.line), fence_kind(hedge).half, round_ends=False)
    box = plane.region(((left, low), (right, low), (right, high), (left, high)))
    assert plane.area(plane.intersection(box, band)) == 0.0
