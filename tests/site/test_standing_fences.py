"""A fence typed as one line is open where its gates are: on plan, in views, sight lines, shade and quantities."""

import attrs
import numpy as np
import pytest

from gardenkit.drawing.plan_site import fence_marks, site_marks
from gardenkit.drawing.view import places_to_look_from, view_scene
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.planting.planting import Planting
from gardenkit.project import Project, views
from gardenkit.project.layout import layout
from gardenkit.site.openings import Opening
from gardenkit.site.shade import site_solids
from gardenkit.site.site import Building, Fence, Site
from gardenkit.site.standing import standing_fences
from gardenkit.structure.kinds import parts_list
from gardenkit.structure.structure import Path, Seat, Structure, Support
from gardenkit.units import FOOT

PLOT = ((0.0, 0.0), (10.0, 0.0), (10.0, 12.0), (0.0, 12.0))
GATE = Opening(name="gate", kind="gate", start=(4.0, 0.0), end=(5.0, 0.0), head=1.8)
WHOLE = (Fence(name="street fence", line=((0.0, 0.0), (10.0, 0.0), (10.0, 12.0))),)
SPLIT = (
    Fence(name="street fence", line=((0.0, 0.0), (4.0, 0.0))),
    Fence(name="street fence", line=((5.0, 0.0), (10.0, 0.0), (10.0, 12.0))),
)


def site(fences: tuple[Fence, ...], *openings: Opening) -> Site:
    return Site(boundary=PLOT, fences=fences, openings=openings)


def garden(fences: tuple[Fence, ...]) -> Project:
    structure = Structure(
        paths=(Path(name="walk", start="gate", end="bench"),), seats=(Seat(name="bench", at=(5.0, 10.0), facing=180.0),)
    )
    return Project(name="one fence", site=site(fences, GATE), structure=structure)


def test_a_gate_leaves_the_two_pieces_that_a_hand_would_leave() -> None:
    assert standing_fences(site(WHOLE, GATE)) == SPLIT


def test_the_fence_without_a_gate_stands_whole() -> None:
    assert standing_fences(site(WHOLE)) == WHOLE


def test_a_gate_at_a_corner_leaves_one_piece_shorter() -> None:
    gate = attrs.evolve(GATE, start=(9.0, 0.0), end=(10.0, 0.0))
    pieces = standing_fences(site(WHOLE, gate))
    assert [p.line for p in pieces] == [((0.0, 0.0), (9.0, 0.0)), ((10.0, 0.0), (10.0, 12.0))]


def test_a_gate_in_another_fence_a_step_away_leaves_this_one_whole() -> None:
    inner = Fence(name="inner fence", line=((0.0, 0.2), (10.0, 0.2)))
    gate = attrs.evolve(GATE, on="inner fence")
    standing = standing_fences(site((*WHOLE, inner), gate))
    assert standing[0] == WHOLE[0]
    assert [p.line for p in standing[1:]] == [((0.0, 0.2), (4.0, 0.2)), ((5.0, 0.2), (10.0, 0.2))]


def test_a_house_door_beside_a_fence_does_not_open_it() -> None:
    house = Building(name="house", outline=((3.0, -6.0), (7.0, -6.0), (7.0, -0.1), (3.0, -0.1)))
    door = Opening(name="door", kind="door", start=(4.0, -0.1), end=(5.0, -0.1), on="house")
    place = attrs.evolve(site(WHOLE, door), buildings=(house,))
    assert standing_fences(place) == WHOLE


def test_a_window_in_a_wall_leaves_it_standing_below_the_sill() -> None:
    window = Opening(name="peep", kind="window", start=(4.0, 0.0), end=(5.0, 0.0), sill=1.2, on="street fence")
    pieces = standing_fences(site(WHOLE, window))
    assert [(p.line, p.height) for p in pieces if p.height < 1.8] == [(((4.0, 0.0), (5.0, 0.0)), 1.2)]


def test_shade_is_that_of_the_fence_split_by_hand() -> None:
    whole, split = (site_solids(site(fences, GATE)) for fences in (WHOLE, SPLIT))
    assert len(whole) == len(split) == 3
    for a, b in zip(whole, split, strict=True):
        np.testing.assert_allclose(a.vertices, b.vertices)


def test_the_plan_shows_the_gap() -> None:
    marks = site_marks(site(WHOLE, GATE), scale=96.0)
    for piece in SPLIT:
        for mark in fence_marks(piece):
            assert mark in marks
    assert not any(mark in marks for mark in fence_marks(WHOLE[0]))


def test_one_looks_out_through_the_gate_as_through_a_fence_split_by_hand() -> None:
    """From the bench one sees into the gate; the isovist's blocked directions are those of the split fence."""
    seen = [views.look(garden(f), views.eye_at(garden(f), "bench")).stops for f in (WHOLE, SPLIT)]
    assert {s.name: round(s.share, 6) for s in seen[0]} == {s.name: round(s.share, 6) for s in seen[1]}
    fences = plane.union(plane.line(f.line) for f in standing_fences(garden(WHOLE).site))
    assert not fences.intersects(plane.line(((4.5, -1.0), (4.5, 2.0))))


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def test_the_view_from_the_gate_is_not_a_blank_fence(catalogue: Catalogue) -> None:
    """What one sees coming in is what one sees with the fence split by hand: the path, not boards."""
    pictures = []
    for fences in (WHOLE, SPLIT):
        project = garden(fences)
        gate = next(p for p in places_to_look_from(project) if p.name == "gate")
        pictures.append(
            view_scene(project, layout(project), catalogue, eye=gate.eye, towards=gate.towards, year=0, month=6)
        )
    assert pictures[0].description == pictures[1].description
    assert [type(m) for m in pictures[0].marks] == [type(m) for m in pictures[1].marks]
    assert project.planting == Planting()


def test_a_gate_takes_no_boards_off_the_order() -> None:
    """24 ft of fence with a 4 ft gate: boards for 20 ft by 6 ft, and posts at both sides of the gate."""
    fence = Support(name="new fence", kind="fence", line=((0.0, 3.0), (24 * FOOT, 3.0)), height=6 * FOOT, openness=0.0)
    gate = Opening(name="side gate", kind="gate", start=(8 * FOOT, 3.0), end=(12 * FOOT, 3.0), on="new fence")
    parts = parts_list(fence, openings=(gate,))
    boards = sum(p.count for p in parts if p.name == "infill boards")
    assert boards == pytest.approx(120 * FOOT**2, abs=2e-3)
    assert sum(p.count for p in parts if p.name == "post") == 2 + 3
