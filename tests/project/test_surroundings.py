"""What a dragged thing is measured to is what the edits judge it by."""

import math

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.notebook import gardens
from gardenkit.project import Project
from gardenkit.project.edits import planting
from gardenkit.project.surroundings import Bound, bounds_about, neighbours
from gardenkit.storage import load


@pytest.fixture(scope="module")
def example() -> Project:
    return load(gardens.example("fennel_street_corner")).project


def _refuses(bound: Bound, at: tuple[float, float]) -> bool:
    if not bound.refuses:
        return False
    inside = plane.contains(plane.region(bound.line[:-1]), at)
    return inside if bound.refuses == "inside" else not inside


def test_red_while_a_plant_is_dragged_is_what_its_move_refuses(example: Project) -> None:
    number = next(p.number for p in example.planting.plants if not p.locked and not p.support)
    about = bounds_about(example)
    xs, ys = zip(*example.site.boundary, strict=True)
    tried = {True: 0, False: 0}
    for i in range(12):
        for j in range(12):
            share_x, share_y = (i - 0.61) / 10, (j - 0.57) / 10
            at = (min(xs) + share_x * (max(xs) - min(xs)), min(ys) + share_y * (max(ys) - min(ys)))
            red = any(_refuses(one, at) for one in about)
            tried[red] += 1
            try:
                planting.move_plant(example, number, to=at)
                assert not red, at
            except GardenError:
                assert red, at
    assert min(tried.values()) > 20


def test_every_line_is_measured_and_the_plot_is_closed(example: Project) -> None:
    about = bounds_about(example)
    plot = about[0]
    assert plot.what == "edge of the plot" and plot.line[0] == plot.line[-1]
    round_it = sum(math.dist(a, b) for a, b in zip(plot.line, plot.line[1:], strict=False))
    assert round_it == pytest.approx(plane.region(example.site.boundary).length)
    assert {b.name for b in example.site.buildings} <= {one.what for one in about}
    empty = attrs.evolve(example, site=attrs.evolve(example.site, boundary=()))
    assert all(one.refuses != "outside" for one in bounds_about(empty))


def test_a_plant_on_a_support_is_known_as_one(example: Project) -> None:
    known = {one.name: one.on_support for one in neighbours(example)}
    assert all(known[f"{p.number} {p.species}"] == bool(p.support) for p in example.planting.plants)
    assert {s.name for s in example.structure.seats} <= known.keys()
