"""Boxes and taps on walls: clear of doors and windows, at a corner where the ways are short."""

import math
from itertools import pairwise
from pathlib import Path

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.schedules import lighting, pipes
from gardenkit.site.free_walls import CLEAR, free_corner, free_walls, nearest_free
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, Site

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def _off(at: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """Distance of a point from a stretch, by plain arithmetic."""
    (ax, ay), (bx, by) = a, b
    long = (bx - ax) ** 2 + (by - ay) ** 2
    share = max(0.0, min(1.0, ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / long))
    return math.dist(at, (ax + share * (bx - ax), ay + share * (by - ay)))


@pytest.fixture
def site() -> Site:
    """A house of 4 by 3 m with a door in the middle of its south wall and a window at its south-east corner."""
    return Site(
        boundary=((-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)),
        buildings=(Building(name="house", outline=((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))),),
        openings=(
            Opening(name="door", kind="door", start=(1.5, 0.0), end=(2.5, 0.0)),
            Opening(name="window", kind="window", start=(4.0, 0.2), end=(4.0, 1.0), sill=0.9),
            Opening(name="gate", kind="gate", start=(-1.0, -5.0), end=(0.0, -5.0)),
        ),
    )


def test_a_box_hangs_beside_the_door_and_not_in_it(site: Site) -> None:
    assert nearest_free(site, (1.8, -4.0)) == pytest.approx((1.5 - CLEAR, 0.0))
    assert nearest_free(site, (0.4, -4.0)) == pytest.approx((0.4, 0.0))
    assert nearest_free(attrs.evolve(site, buildings=()), (0.0, 0.0)) is None


def test_the_free_walls_are_all_walls_less_what_lies_by_openings(site: Site) -> None:
    """14 m round; 1 m of door and 0.5 m at both its sides; the window's 1.5 m up its wall, and round the corner."""
    round_corner = math.sqrt(CLEAR**2 - 0.2**2)
    free = math.fsum(math.dist(a, b) for piece in free_walls(site) for a, b in pairwise(piece))
    assert free == pytest.approx(14.0 - 2.0 - 1.5 - round_corner, abs=0.01)


def test_a_tap_stands_at_a_corner_that_no_opening_takes(site: Site) -> None:
    assert free_corner(site, [(9.0, -5.0)]) == pytest.approx((4.0, 3.0))
    assert free_corner(site, [(-5.0, -5.0)]) == pytest.approx((0.0, 0.0))
    assert free_corner(site, []) is None


@pytest.mark.parametrize("name", ["lantern_lane_strip", "quarry_brow_hillside"])
def test_pipes_and_cable_of_an_example_begin_clear_of_doors_and_windows(name: str) -> None:
    """Where tap and transformer are proposed while none is written on the plan, and where they are written."""
    written = Garden.open(EXAMPLES / name)
    bare = attrs.evolve(written.project, site=attrs.evolve(written.project.site, notes=()))
    tap = pipes.supply_point(bare, written.layout, written.water)
    assert any(_same(tap, corner) for house in bare.site.buildings for corner in house.outline)
    for project in (bare, written.project):
        runs = pipes.supply(project, written.layout, written.water)
        assert len(runs) == len(written.water) and len({run[0] for run in runs}) == 1
        for start in (runs[0][0], *lighting.cable_line(project)[:1]):
            for opening in project.site.openings:
                assert _off(start, opening.start, opening.end) >= CLEAR - 1e-3, opening.name


def _same(a: tuple[float, float] | None, b: tuple[float, float]) -> bool:
    return a is not None and math.dist(a, b) < 1e-6
