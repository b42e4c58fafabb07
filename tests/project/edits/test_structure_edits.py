"""Changes of the bones: references follow a new name, what is stood on is not removed, nothing is put off the plot."""

from collections.abc import Callable
from pathlib import Path as Folder

import attrs
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project, check
from gardenkit.project.edits import site
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.schedules.places import places
from gardenkit.structure.kinds import SUPPORTS, standing_supports

EXAMPLES = Folder(__file__).parents[3] / "examples"
SLIM = {"width": 0.4, "clear_of_walls": 0.05}  # fits anywhere
NAMES = ("lantern_lane_strip", "fennel_street_corner", "quarry_brow_hillside")


@pytest.fixture(scope="module", params=NAMES)
def project(request: pytest.FixtureRequest) -> Project:
    return storage.load(EXAMPLES / request.param).project


def named(items: object, name: str) -> object:
    return next(i for i in items if i.name == name)  # type: ignore[attr-defined]


def with_bench(project: Project, name: str = "far bench") -> Project:
    """Return the project with a stool two feet beside its first path, where another path can reach it."""
    route = layout(project).routes[project.structure.paths[0].name]
    x, y = route.curve.beside(np.array([0.6 * route.length]), np.array([0.6]))[0]
    return edits.add_seat(project, name, at=(float(x), float(y)), width=0.4)


# ---- names


def test_renaming_a_seat_takes_path_ends_and_alternatives_along(project: Project) -> None:
    project = edits.keep_alternative(with_bench(project), "first idea")
    gate = edits.places(project)[0]
    project = edits.add_path(project, "to the bench", start=gate, end="far bench", **SLIM)
    after = edits.rename_seat(project, "far bench", to="sunset bench")
    assert named(after.structure.paths, "to the bench").end == "sunset bench"
    assert "sunset bench" in [s.name for s in after.alternatives[-1].structure.seats]
    assert layout(after).problems == layout(project).problems
    assert "far bench" not in str(after.structure)


def test_renaming_a_path_takes_the_paths_that_join_it_along(project: Project) -> None:
    path = project.structure.paths[0]
    seat = with_bench(project, "side bench")
    joined = edits.add_path(seat, "branch", start="side bench", end=path.name, **SLIM)
    after = edits.rename_path(joined, path.name, to="the long walk")
    assert named(after.structure.paths, "branch").end == "the long walk"
    assert set(layout(after).routes) == {"the long walk" if n == path.name else n for n in layout(joined).routes}


def test_renaming_a_support_takes_its_plants_along() -> None:
    project = storage.load(EXAMPLES / NAMES[0]).project
    on = next(p.support for p in project.planting.plants if p.support)
    after = edits.rename_support(project, on, to="the new name")
    before = [p.number for p in project.planting.plants if p.support == on]
    assert [p.number for p in after.planting.plants if p.support == "the new name"] == before
    assert not any(p.support == on for p in after.planting.plants)


def test_a_bed_renamed_keeps_its_ground(project: Project) -> None:
    bed = layout(project).beds[0]
    after = edits.rename_bed(project, bed.name, to="Sunny side")
    same = named(layout(after).beds, "Sunny side")
    assert same.area == pytest.approx(bed.area, abs=1e-6)  # type: ignore[attr-defined]


def test_two_places_never_share_a_name(project: Project) -> None:
    gate = project.site.doors_and_gates()[0].name
    for edit in (
        lambda p: edits.add_seat(p, gate),
        lambda p: edits.add_path(p, gate, start=gate, end="x"),
        lambda p: edits.rename_path(p, p.structure.paths[0].name, to=gate),
    ):
        with pytest.raises(GardenError, match="already something called"):
            edit(project)


# ---- what something else stands on


def test_a_seat_that_a_path_goes_to_is_not_removed(project: Project) -> None:
    project = with_bench(project)
    project = edits.add_path(project, "to the bench", start=edits.places(project)[0], end="far bench", **SLIM)
    with pytest.raises(GardenError, match='path "to the bench" goes to "far bench"'):
        edits.remove_seat(project, "far bench")
    free = edits.remove_path(project, "to the bench")
    assert "far bench" not in [s.name for s in edits.remove_seat(free, "far bench").structure.seats]


def test_a_support_with_a_plant_on_it_is_not_taken_out() -> None:
    project = storage.load(EXAMPLES / NAMES[0]).project
    on = next(p.support for p in project.planting.plants if p.support)
    with pytest.raises(GardenError, match="grows on"):
        edits.remove_support(project, on)


# ---- where things may be put


def test_a_seat_is_refused_off_the_plot_and_in_the_house(project: Project) -> None:
    seat = project.structure.seats[0].name if project.structure.seats else "bench"
    project = project if project.structure.seats else edits.add_seat(project, seat)
    with pytest.raises(GardenError, match="outside the boundary"):
        edits.move_seat(project, seat, to=(-500.0, 0.0))
    inside = plane.inscribed_circle(plane.region(project.site.buildings[0].outline))[0]
    with pytest.raises(GardenError, match="would stand inside"):
        edits.move_seat(project, seat, to=inside)


def test_a_bed_drawn_past_the_boundary_is_refused_with_the_distance(project: Project) -> None:
    left, low, right, high = plane.bounds(plane.region(project.site.boundary))
    corners = ((left - 3.0, low), (right, low), (right, high), (left, high))
    with pytest.raises(GardenError, match=r'a corner of bed "New bed" would lie .* outside the boundary'):
        edits.draw_bed(project, corners)


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (lambda p: edits.change_path(p, p.structure.paths[0].name, width=-1.0), "give it some width"),
        (lambda p: edits.lay_stones(p, p.structure.paths[0].name, thickness=2.0), "not for a path"),
        (lambda p: edits.set_frost_depth(p, 9.0), "deeper than ground freezes"),
        (lambda p: edits.set_post_rule(p, "one third"), "nearest known"),
        (lambda p: edits.add_support(p, "new", "obelsk"), 'nearest known is "obelisk"'),
        (lambda p: edits.move_point(p, p.structure.paths[0].name, 99, to=(0.0, 0.0)), "has no point number 100"),
        (lambda p: edits.move_cut(p, 99, 0, to=(0.0, 0.0)), "there is no dividing line number 100"),
        (lambda p: edits.remove_seat(p, "nowhere"), 'there is no seat called "nowhere"'),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(edit: Callable[[Project], Project], said: str) -> None:
    project = storage.load(EXAMPLES / NAMES[0]).project
    with pytest.raises(GardenError, match=said):
        edit(project)


# ---- what a change does


def test_a_least_gap_above_the_greatest_takes_it_along(project: Project) -> None:
    name = project.structure.paths[0].name
    stones = edits.lay_stones(project, name, gap_low=0.3, gap_high=0.2).structure.paths[0].stones
    assert (stones.gap_low, stones.gap_high) == (0.3, 0.3)
    stones = edits.lay_stones(project, name, gap_high=0.05).structure.paths[0].stones
    assert (stones.gap_low, stones.gap_high) == (0.05, 0.05)


def test_a_bed_split_has_the_ground_it_had(project: Project) -> None:
    from gardenkit.structure.bed_edits import crossing_line

    bed = max(layout(project).beds, key=lambda b: b.area)
    after = edits.split_bed(project, bed.name, crossing_line(bed))
    names = {b.name for b in layout(project).beds}
    halves = [b for b in layout(after).beds if b.name == bed.name or b.name not in names]
    assert len(halves) == 2
    assert sum(h.area for h in halves) == pytest.approx(bed.area, rel=0.03)
    again = edits.join_beds(after, halves[0].name, halves[1].name)
    assert len(layout(again).beds) == len(layout(project).beds)


@pytest.mark.parametrize("kind", SUPPORTS)
def test_every_kind_of_support_is_put_up_at_its_usual_size_and_taken_out(kind: str) -> None:
    project = storage.load(EXAMPLES / NAMES[1]).project
    after = edits.add_support(project, f"my {kind}", kind)
    made = after.structure.supports[-1]
    assert plane.line(made.line).length == pytest.approx(SUPPORTS[kind].usual.length, abs=2e-3)
    assert edits.remove_support(after, made.name) == project


def test_using_an_alternative_keeps_what_it_replaces(project: Project) -> None:
    kept = edits.keep_alternative(project, "wide")
    changed = edits.change_path(kept, kept.structure.paths[0].name, curvature=0.1)
    back = edits.use_alternative(changed, "wide")
    assert back.structure == project.structure
    assert back.alternatives[-1].structure == changed.structure


def test_edits_of_the_bones_touch_nothing_else(project: Project) -> None:
    after = edits.add_seat(project, "far bench")
    assert attrs.evolve(after, structure=project.structure) == project


# ---- any sequence


STEPS: tuple[Callable[[Project, float], Project], ...] = (
    lambda p, x: edits.add_seat(p, f"seat {x:.3f}"),
    lambda p, x: edits.rename_seat(p, p.structure.seats[-1].name, to=f"renamed {x:.3f}"),
    lambda p, x: edits.turn_seat(p, p.structure.seats[-1].name, facing=360 * x),
    lambda p, x: edits.move_seat(p, p.structure.seats[-1].name, to=(20 * x, 20 * (1 - x))),
    lambda p, x: edits.remove_seat(p, p.structure.seats[-1].name),
    lambda p, x: edits.rename_path(p, p.structure.paths[0].name, to=f"walk {x:.3f}"),
    lambda p, x: edits.change_path(p, p.structure.paths[0].name, curvature=x),
    lambda p, x: edits.add_area(p, "lawn"),
    lambda p, x: edits.rename_area(p, p.structure.ground_areas[-1].name, to=f"area {x:.3f}"),
    lambda p, x: edits.remove_area(p, p.structure.ground_areas[-1].name),
    lambda p, x: edits.add_support(p, f"support {x:.3f}", sorted(SUPPORTS)[int(x * (len(SUPPORTS) - 1))]),
    lambda p, x: edits.rename_support(p, p.structure.supports[0].name, to=f"post {x:.3f}"),
    lambda p, x: edits.remove_support(p, p.structure.supports[-1].name),
    lambda p, x: edits.rename_bed(p, layout(p).beds[0].name, to=f"bed {x:.3f}"),
    lambda p, x: edits.draw_bed_corners(p, layout(p).beds[0].name),
    lambda p, x: edits.reset_bed(p, layout(p).beds[0].name),
    lambda p, x: edits.keep_alternative(p, f"idea {x:.3f}"),
    lambda p, x: edits.use_alternative(p, p.alternatives[0].name),
)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=st.lists(st.tuples(st.integers(0, len(STEPS) - 1), st.floats(0, 1)), min_size=3, max_size=8))
def test_any_sequence_of_edits_leaves_a_garden_that_can_be_saved(
    project: Project, steps: list[tuple[int, float]]
) -> None:
    """After every step the record is sound, every plant's support is there, and every path end is a known place."""
    lost = len(layout(project).problems)
    for number, x in steps:
        try:
            project = STEPS[number](project, x)
        except (GardenError, IndexError):
            continue
        check(project)
        worked, structure = layout(project), project.structure
        assert len(worked.problems) <= lost
        known = {*edits.places(project), *(p.name for p in structure.paths)}
        assert all({p.start, p.end} <= known for p in structure.paths)
        assert {p.support for p in project.planting.plants} <= {"", *(s.name for s in structure.supports)}


def test_a_kind_that_no_table_knows_is_never_saved(project: Project) -> None:
    path = attrs.evolve(project.structure.paths[0], surface="marbel")
    with pytest.raises(GardenError, match='there is no path surface "marbel"'):
        check(attrs.evolve(project, structure=attrs.evolve(project.structure, paths=(path,))))


def test_a_gate_stands_in_a_designed_fence_and_goes_with_it() -> None:
    plot = site.set_boundary(Project(name="plot"), ((0.0, 0.0), (12.0, 0.0), (12.0, 16.0), (0.0, 16.0)))
    fenced = edits.add_support(plot, "panels", "fence", line=((1.0, 8.0), (11.0, 8.0)))
    gated = site.put_up(fenced, "gate", name="way through", at=(6.0, 8.1), width=1.0, sill=0.0, head=1.8)
    check(gated)
    stands = standing_supports(gated.structure.supports, gated.site.openings)
    assert [s.line for s in stands] == [((1.0, 8.0), (5.5, 8.0)), ((6.5, 8.0), (11.0, 8.0))]
    found = [place.at for place in places(gated, layout(gated), load_catalogue()) if place.kind == "post"]
    assert {(5.5, 8.0), (6.5, 8.0)} <= {(round(x, 6), round(y, 6)) for x, y in found}
    assert not any(5.51 < x < 6.49 for x, _ in found)
    moved = edits.move_support(gated, "panels", to=(6.0, 5.0))
    assert moved.site.opening("way through").middle == pytest.approx((6.0, 5.0))
    named = edits.rename_support(moved, "panels", to="boards")
    check(named)
    assert named.site.opening("way through").on == "boards"
    with pytest.raises(GardenError, match='gate "way through" stands in "boards"'):
        edits.remove_support(named, "boards")
