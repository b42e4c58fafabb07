"""Ground textures: inside their region, few enough, and steady when something else moves."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing import style
from gardenkit.drawing.scene import Dots, Hatch
from gardenkit.drawing.textures import MOST, hatch_lines, texture
from gardenkit.geometry import plane

KINDS = sorted(style.TEXTURE_INK)
HOLED = plane.region([(0, 0), (6, 0), (7, 4), (3, 3), (0, 5)], [[(1, 1), (2, 1), (2, 2), (1, 2)]])


def points(marks: tuple[object, ...]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for mark in marks:
        if isinstance(mark, Hatch):
            found += [p for line in mark.lines for p in line]
        elif isinstance(mark, Dots):
            found += mark.points
    return found


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("scale", [48.0, 96.0])
def test_every_vertex_lies_inside_the_region(kind: str, scale: float) -> None:
    drawn = points(texture(HOLED, kind, scale=scale))
    assert len(drawn) > 20
    edge = plane.grown(HOLED, 1e-9)
    assert all(plane.contains(edge, p) for p in drawn)


@settings(max_examples=25)
@given(st.sampled_from(KINDS), st.floats(0.3, 30), st.floats(0.3, 30), st.integers(0, 99))
def test_textures_of_any_box_stay_inside_and_under_the_cap(kind: str, wide: float, high: float, seed: int) -> None:
    box = plane.region([(-3, 2), (-3 + wide, 2), (-3 + wide, 2 + high), (-3, 2 + high)])
    marks = texture(box, kind, scale=48.0, seed=seed)
    assert all(-3 - 1e-9 <= x <= -3 + wide + 1e-9 and 2 - 1e-9 <= y <= 2 + high + 1e-9 for x, y in points(marks))
    strokes = sum(len(m.lines) if isinstance(m, Hatch) else len(m.points) for m in marks)
    assert strokes <= 1.5 * MOST


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_seed_gives_the_same_marks(kind: str) -> None:
    assert texture(HOLED, kind, scale=48.0, seed=4) == texture(HOLED, kind, scale=48.0, seed=4)


def test_gravel_dots_do_not_reach_over_the_edge() -> None:
    for mark in texture(HOLED, "gravel", scale=48.0):
        assert isinstance(mark, Dots)
        away = plane.point_distances(np.array(mark.points), plane.line([*plane.corners(HOLED), (0.0, 0.0)]))
        assert away.min() >= mark.radius


def test_grass_beside_a_path_does_not_jump_when_the_path_moves() -> None:
    def lawn(path_at: float) -> set[tuple[tuple[float, float], ...]]:
        whole = plane.region([(0, 0), (6, 0), (6, 2), (0, 2)])
        cut = plane.difference(
            whole, plane.region([(path_at, 0), (path_at + 0.3, 0), (path_at + 0.3, 2), (path_at, 2)])
        )
        (hatch,) = texture(cut, "grass", scale=48.0)
        assert isinstance(hatch, Hatch)
        return {line for line in hatch.lines if all(x > 3 for x, _ in line)}

    assert lawn(1.0) == lawn(1.2)
    assert lawn(1.0)


def test_an_unknown_texture_or_no_ground_gives_no_marks() -> None:
    assert texture(HOLED, "velvet", scale=48.0) == ()
    assert texture(plane.NOWHERE, "grass", scale=48.0) == ()


@pytest.mark.parametrize("degrees", [0.0, 45.0, 90.0, 137.0])
def test_hatch_lines_cover_the_area_at_their_pitch(degrees: float) -> None:
    rings = tuple(tuple(ring) for ring in plane.rings(HOLED))
    lines = hatch_lines(rings, degrees=degrees, pitch=0.01)
    assert sum(math.dist(*line) for line in lines) * 0.01 == pytest.approx(plane.area(HOLED), rel=0.005)
