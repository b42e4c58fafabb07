"""Where a path joins another or ends at a terrace: no gap, no overlap, no stone over the edge, no edging across."""

import attrs
import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Area, Hatch
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import Layout, layout
from gardenkit.schedules.quantities import free_edge
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site
from gardenkit.structure.laying import HAIR
from gardenkit.structure.structure import Flight, GroundArea, Path, Seat, Structure
from gardenkit.structure.things import outline_of

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 14.0), (0.0, 14.0))
TERRACE = GroundArea(name="terrace", kind="patio", outline=((5.0, 9.0), (10.0, 11.5), (9.0, 13.5), (4.0, 11.0)))
SEATS = (
    Seat(name="low", at=(6.0, 0.5)),
    Seat(name="high", at=(6.0, 13.2)),
    Seat(name="side", at=(1.0, 8.0)),
    Seat(name="start", at=(3.0, 1.0)),
)


def made(*paths: Path, ground_areas=()) -> tuple[Project, Layout]:
    project = Project(
        name="p", site=Site(boundary=PLOT), structure=Structure(seats=SEATS, paths=paths, ground_areas=ground_areas)
    )
    return project, layout(project)


def joined(surface="stepping stones") -> tuple[Project, Layout]:
    main = Path(name="main", start="low", end="high", surface=surface, line="fair curves")
    return made(main, Path(name="branch", start="side", end="main", surface=surface, line="fair curves"))


@pytest.mark.parametrize("surface", ["stepping stones", "flagstones"])
def test_stones_of_a_branch_end_at_the_path_that_it_joins(surface):
    _, worked = joined(surface)
    main = worked.routes["main"].region
    branch = worked.layings["branch"].stones
    assert branch and max(plane.area(plane.intersection(plane.region(s.outline), main)) for s in branch) < 1e-6
    gaps = [plane.distance(plane.region(s.outline), main) for s in branch]
    assert min(gaps) < 0.35, "the last stone is one step from the other path"
    assert not [f for f in worked.layings["branch"].findings if "left out" in f.what]


def test_two_paths_meet_without_gap_or_overlap():
    _, worked = joined("gravel")
    main, branch = worked.surfaces["main"], worked.surfaces["branch"]
    assert plane.area(plane.intersection(main, branch)) < 1e-9
    width = worked.routes["branch"].width
    shared = plane.intersection(plane.grown(branch, 0.005), main)
    assert plane.area(shared) / 0.005 >= width * 0.98, "they touch over the whole width of the branch"
    assert len(plane.pieces(branch)) == 1


def test_a_path_reaches_a_slanting_terrace_over_its_whole_width_and_no_stone_lies_over_its_edge():
    walk = Path(name="walk", start="start", end="terrace", line="fair curves", curvature=0.0)
    _, worked = made(walk, ground_areas=(TERRACE,))
    terrace, ground = plane.region(TERRACE.outline), worked.surfaces["walk"]
    assert plane.area(plane.intersection(ground, terrace)) < 1e-9
    assert worked.ground_areas["terrace"].area == pytest.approx(terrace.area), "all of it is terrace"
    touching = plane.area(plane.intersection(plane.grown(ground, 0.005), terrace)) / 0.005
    assert touching >= 0.98 * walk.width
    stones = [plane.region(s.outline) for s in worked.layings["walk"].stones]
    assert max(plane.area(plane.intersection(stone, terrace)) for stone in stones) < 1e-6
    assert all(gap.clear >= walk.stones.gap_low - HAIR for gap in worked.layings["walk"].gaps)


def test_no_edging_is_counted_or_drawn_across_a_mouth():
    project, worked = joined("gravel")
    branch, width = worked.surfaces["branch"], worked.routes["branch"].width
    assert free_edge(branch, "branch", project, worked) <= plane.perimeter(branch) - width + 0.2
    marks = [mark for mark in garden_scene(project, worked).marks if mark.layer == "paths"]
    (ground,) = [m for m in marks if isinstance(m, Area) and m.tip.startswith("branch")]
    assert not ground.stroke
    inner = plane.grown(plane.union(worked.surfaces.values()), -0.02)
    lines = [line for m in marks if isinstance(m, Hatch) and m.colour == "#6f6a58" for line in m.lines]
    assert lines and all(plane.common_line(inner, line).is_empty for line in lines)


def test_steps_stay_where_they_are_when_a_path_is_laid_from_its_mouth():
    main = Path(name="main", start="low", end="high")
    branch = Path(name="branch", start="side", end="main", flights=(Flight(start=0.2, end=0.5),))
    _, worked = made(main, branch)
    route = worked.routes["branch"]
    at = route.curve.at(0.35 * route.length)[0]
    assert min(plane.distance(plane.region(s.outline), plane.point(at)) for s in worked.layings["branch"].stones) > 0.4
    before = made(main, attrs.evolve(branch, flights=()))[1]
    assert len(worked.layings["branch"].stones) < len(before.layings["branch"].stones)


@pytest.mark.parametrize("kind", ["compost bays", "raised bed", "statue"])
@pytest.mark.parametrize("at", [(10.0, 10.0), (14.0, 5.0)])
def test_a_path_ends_at_the_edge_of_what_is_placed_and_takes_none_of_its_ground(
    kind: str, at: tuple[float, float]
) -> None:
    gate = Opening(name="gate", kind="gate", start=(0.0, 9.5), end=(0.0, 10.5))
    plot = Project(name="p", site=Site(boundary=((0, 0), (20, 0), (20, 20), (0, 20)), openings=(gate,)))
    placed = edits.add_thing(plot, kind, at=at, name="thing")
    worked = layout(edits.add_path(placed, "walk", start="gate", end="thing"))
    thing, walk = plane.region(outline_of(placed.structure.things[0])), worked.surfaces["walk"]
    assert plane.area(plane.intersection(thing, walk)) < 1e-6
    assert plane.distance(thing, walk) < 1e-6 and len(plane.pieces(walk)) == 1
    assert not [one for one in worked.findings if one.rule == "thing on a path"]
