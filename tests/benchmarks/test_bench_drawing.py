"""Speed of what follows a hand: the sweep of what is seen, the perspective view, the planting plan under a slider.

Each is a ratio to another computation timed in the same run, turn about, least of several: never a time on its own.
"""

from collections.abc import Callable
from pathlib import Path

import attrs
import numpy as np
import pytest
import shapely
from paintings import at_full_size
from turns import least, told

from gardenkit import storage
from gardenkit.drawing.painted.picture import FINE, QUICK, Quality
from gardenkit.drawing.painted_view import Moment, Prospect, painted_scene
from gardenkit.drawing.view import places_to_look_from, view_scene
from gardenkit.geometry.isovist import edges_of, sweep
from gardenkit.geometry.isovist_measures import measures
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.session import Session
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.layout import layout

pytestmark = pytest.mark.benchmark

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 20.0), (0.0, 20.0))
EYE = (6.0, 0.5)
ROUNDS = 3
FAR = 100.0  # m: beyond the plot


def timed(own: Callable[[], object], other: Callable[[], object], *, most: float) -> list[float]:
    """Return the least seconds of our own work and of the other, of which ours takes at most so many times."""
    return least(own, other, rounds=ROUNDS, warm=True, kept=lambda found: found[0] <= most * found[1])


def test_the_sweep_takes_at_most_half_of_taking_the_shadow_of_every_wall_from_the_plot() -> None:
    rng = np.random.default_rng(1)
    turns = np.linspace(0, 2 * np.pi, 30, endpoint=False)
    rings = [rng.uniform((1, 3), (11, 19)) + 0.5 * np.column_stack((np.cos(turns), np.sin(turns))) for _ in range(14)]
    inner = np.vstack([edges_of(ring) for ring in rings])
    walls = np.vstack([edges_of(PLOT), inner])

    def by_shadows() -> float:
        a, b, eye = inner[:, :2], inner[:, 2:], np.array(EYE)
        quads = np.stack((a, b, b + FAR * (b - eye), a + FAR * (a - eye)), axis=1)
        return float(shapely.Polygon(PLOT).difference(shapely.union_all(shapely.polygons(quads))).area)

    own, shadows = timed(lambda: sweep(EYE, walls), by_shadows, most=0.5)
    told(
        f"sweep of what is seen, {len(walls)} walls, of their shadows joined by shapely",
        f"{own / shadows:.2f} x",
        "0.5",
    )
    assert measures(sweep(EYE, walls)).area == pytest.approx(by_shadows(), abs=1e-4)
    assert 2 * own <= shadows


def crowns(project: Project) -> Callable[[], object]:
    """The reference of what is drawn: all plants' crowns as circles of 64 corners, joined by shapely.

    It was a plan of our own until every gain of the plan made the view and the slider look slower: 157 ms, then 53, 29
    and 16, while a view stayed at 1.0 to 0.9 s and a step of the slider went from 314 ms to 190 and 106.
    """
    catalogue = load_catalogue()
    plants = project.planting.plants
    middles = shapely.points([plant.at for plant in plants])
    radii = [catalogue[plant.species].spread / 2 for plant in plants]
    return lambda: shapely.union_all(shapely.buffer(middles, radii, quad_segs=16))


def test_a_view_takes_at_most_twenty_joins_of_its_crowns() -> None:
    project = storage.load(gardens.example("fennel_street_corner")).project
    worked, catalogue = layout(project), load_catalogue()
    gate = places_to_look_from(project, worked)[0]

    def view() -> object:
        return view_scene(project, worked, catalogue, eye=gate.eye, towards=gate.towards, year=8, month=6)

    seen, joined = timed(view, crowns(project), most=20)
    plants = len(project.planting.plants)
    told(f"view of {plants} plants, of a join of their crowns by shapely", f"{seen / joined:.1f} x", "20")
    assert seen <= 20 * joined


def without_joints(project: Project) -> Project:
    """Return a garden without what creeps between its stones, which is not among the plants that are counted here."""
    paths = tuple(attrs.evolve(path, creeping="") for path in project.structure.paths)
    return attrs.evolve(project, structure=attrs.evolve(project.structure, paths=paths))


def test_a_painted_view_takes_at_most_25_joins_of_its_crowns_and_of_an_eighth_of_them_half() -> None:
    project = without_joints(storage.load(gardens.example("fennel_street_corner")).project)
    few = attrs.evolve(project, planting=attrs.evolve(project.planting, plants=project.planting.plants[::8]))
    catalogue = load_catalogue()
    gate = places_to_look_from(project, layout(project))[0]

    def painting(of: Project, quality: Quality) -> Callable[[], object]:
        seen = Prospect(project=of, worked=layout(of), catalogue=catalogue)
        months = iter(range(10_000))  # a slider moves on: nothing is asked for twice running
        return lambda: painted_scene(seen, at=gate, when=Moment(year=8, month=6 + next(months) % 2), quality=quality)

    works = (painting(project, FINE), painting(few, FINE), painting(project, QUICK), crowns(project))
    with at_full_size():
        many, hundred, sketch, joined = least(
            *works, rounds=2, warm=True, kept=lambda t: t[0] <= 25 * t[3] and t[1] <= 12 * t[3] and t[2] <= 8 * t[3]
        )
    plants = len(project.planting.plants)
    shown = len(few.planting.plants)
    told(f"painted view of {plants} plants, {many:.2f} s of 2 s, of a join of crowns", f"{many / joined:.1f} x", "25")
    told(f"painted view of {shown} plants, {hundred:.2f} s of 0.5 s, of the same", f"{hundred / joined:.1f} x", "12")
    told(f"sketch of {plants} plants, {sketch:.2f} s, of the same", f"{sketch / joined:.1f} x", "8")
    assert many <= 25 * joined
    assert hundred <= 12 * joined
    assert sketch <= 8 * joined


def test_a_slider_redraws_the_planting_plan_in_at_most_three_joins_of_its_crowns(tmp_path: Path) -> None:
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    page = LayeringPage(Session(tmp_path / "garden"))
    months = iter(range(1, 1000))
    moved, joined = timed(lambda: page.set_month(next(months) % 12 + 1), crowns(page.project), most=3)
    told("planting plan under a slider, of a join of its crowns by shapely", f"{moved / joined:.1f} x", "3")
    assert page.failures == []
    assert moved <= 3 * joined
