"""Speed of what follows a hand: the sweep of what is seen, the perspective view, the planting plan under a slider.

Each is a ratio to another computation timed in the same run, turn about, least of several: never a time on its own.
"""

import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely

from gardenkit import storage
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.view import places_to_look_from, view_scene
from gardenkit.geometry.isovist import edges_of, sweep
from gardenkit.geometry.isovist_measures import measures
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.session import Session
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project.layout import layout

pytestmark = pytest.mark.benchmark

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 20.0), (0.0, 20.0))
EYE = (6.0, 0.5)
ROUNDS = 9
FAR = 100.0  # m: beyond the plot


def least(*works: Callable[[], object]) -> list[float]:
    """Return the least time of each work in seconds, taken turn about after one turn to warm up."""
    best = [float("inf")] * len(works)
    for turn in range(ROUNDS + 1):
        for i, work in enumerate(works):
            begun = time.perf_counter()
            work()
            if turn:
                best[i] = min(best[i], time.perf_counter() - begun)
    return best


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

    own, shadows = least(lambda: sweep(EYE, walls), by_shadows)
    print(f"\nsweep of {len(walls)} walls {1000 * own:.1f} ms; shadows by shapely {shadows / own:.1f} x")
    assert measures(sweep(EYE, walls)).area == pytest.approx(by_shadows(), abs=1e-4)
    assert 2 * own <= shadows


def test_a_view_takes_at_most_thirty_plans() -> None:
    """Twenty while a plan took 157 ms and a view 1.9 s; since then a plan takes 53 ms and a view 0.9 s (17.8 plans)."""
    project = storage.load(gardens.example("fennel_street_corner")).project
    worked, catalogue = layout(project), load_catalogue()
    gate = places_to_look_from(project, worked)[0]

    def view() -> object:
        return view_scene(project, worked, catalogue, eye=gate.eye, towards=gate.towards, year=8, month=6)

    seen, plan = least(view, lambda: garden_scene(project, worked, catalogue, year=8, month=6))
    print(f"\nperspective view {1000 * seen:.0f} ms, {seen / plan:.1f} plans")
    assert seen <= 30 * plan


def test_a_slider_redraws_the_planting_plan_in_at_most_six_bare_scenes(tmp_path: Path) -> None:
    """Four while a bare scene took 157 ms, a step 314; since then a scene takes 56 ms, a step 190 (3.4 scenes)."""
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    page = LayeringPage(Session(tmp_path / "garden"))
    months = iter(range(1, 1000))
    moved, scene = least(lambda: page.set_month(next(months) % 12 + 1), page.scene)
    print(f"\nplanting plan under a slider {1000 * moved:.0f} ms, {moved / scene:.1f} bare scenes")
    assert page.failures == []
    assert moved <= 6 * scene
