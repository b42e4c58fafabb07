"""The pipes of the watering: round what stands, as long as by hand, their trench once where they lie together."""

import math
from itertools import pairwise
from pathlib import Path

import attrs
import numpy as np
import pytest

from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.schedules.pipes import DEEP, OFF_WALL, WIDE, length, supply, trench_volume
from gardenkit.site.notes import Note
from gardenkit.site.site import Building, ExistingTree, Obstacle, Site
from gardenkit.structure.structure import Bed, Structure

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TAP = (6.0, 7.0)
STRIP = ((0.0, 0.0), (12.0, 0.0), (12.0, 2.0), (0.0, 2.0))


def run_to_the_strip(site: Site) -> tuple[tuple[float, float], ...]:
    """Return the pipe from a tap at (6, 7) to a bed 2 m deep along the lower edge of a plot of 12 by 8 m."""
    plot = attrs.evolve(
        site,
        boundary=((0.0, 0.0), (12.0, 0.0), (12.0, 8.0), (0.0, 8.0)),
        notes=(Note(name="tap", kind="tap", line=(TAP,)),),
    )
    project = Project(name="Plain", site=plot, structure=Structure(beds=(Bed(name="strip", outline=STRIP, at=(6, 1)),)))
    water = attrs.evolve(Garden.open(EXAMPLES / "lantern_lane_strip").water[0], bed="strip")
    (run,) = supply(project, layout(project), [water])
    assert run[0] == TAP
    return run


def test_a_pipe_on_open_ground_is_the_shortest():
    assert run_to_the_strip(Site()) == (TAP, (6.0, 2.0))


def test_a_pipe_goes_round_a_house_a_foot_off_its_walls():
    house = Building(name="house", outline=((3.0, 3.0), (8.0, 3.0), (8.0, 5.0), (3.0, 5.0)))
    run = run_to_the_strip(Site(buildings=(house,)))
    off, to_corner = float(OFF_WALL), math.hypot(2.0, 2.0)
    touch, turn = math.sqrt(to_corner**2 - off**2), math.pi / 4 + math.asin(off / to_corner)
    assert length(run) == pytest.approx(touch + off * turn + 3.0, abs=0.01)  # to the corner, round it, down its side
    assert run[-1] == pytest.approx((8.0 + off, 2.0), abs=0.01)


def test_a_pipe_keeps_out_of_roots_and_off_an_obstacle():
    tree = ExistingTree(name="oak", at=(6.0, 4.5), height=6.0, spread=4.0, trunk_diameter=0.1)
    rock = Obstacle(name="rock", outline=((5.5, 4.0), (6.5, 4.0), (6.5, 5.0), (5.5, 5.0)), clearance=0.5)
    for site in (Site(trees=(tree,)), Site(obstacles=(rock,))):
        run = run_to_the_strip(site)
        near = min(math.dist(at, (6.0, 4.5)) for a, b in pairwise(run) for at in np.linspace(a, b, 50).tolist())
        assert near > 0.5
        assert length(run) > 5.0


def test_roots_are_crossed_where_there_is_no_other_way():
    wide = ExistingTree(
        name="oak", at=(6.0, 4.5), height=6.0, spread=4.0, trunk_diameter=2.0
    )  # its roots take the whole plot
    assert run_to_the_strip(Site(trees=(wide,))) == (TAP, (6.0, 2.0))


def test_the_trench_is_counted_once_where_pipes_lie_together():
    runs = [((0.0, 0.0), (4.0, 0.0)), ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0))]
    half = WIDE / 2  # by hand: two strips less the square they share, round at both ends and about the corner
    across = 4 * WIDE + 2 * WIDE - half**2 + math.pi * half**2 * (1 + 0.25)
    assert trench_volume(runs) == pytest.approx(across * DEEP, rel=2e-3)
    assert trench_volume([]) == 0.0


@pytest.mark.parametrize("name", ["fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside"])
def test_no_pipe_of_an_example_runs_through_a_house_or_a_trunk(name: str):
    garden = Garden.open(EXAMPLES / name)
    runs = supply(garden.project, garden.layout, garden.water)
    assert len(runs) == len(garden.water)
    for run in runs:
        way = plane.line(run)
        for house in garden.project.site.buildings:
            assert not plane.lines_within(way, plane.grown(plane.region(house.outline), -0.02))
        for tree in garden.project.site.trees:
            assert not tree.keep or plane.distance(way, plane.point(tree.at)) > tree.trunk_diameter
