"""The sides of a house by hand: where each faces, how high it reaches, which carries most; and what a mark asks for."""

import math

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, RoofKind, Site
from gardenkit.site.wall_sides import check_foot, first_mark, held_by, mark_advice, side_of, sides
from gardenkit.structure.structure import Support
from gardenkit.structure.wall_elevation import fullest_wall, wall_facing
from gardenkit.units import compass_word

# 12 m from west to east, 8 m deep; walls 0 south, 1 east, 2 north, 3 west while the plan's y axis points north
HOUSE = Building(
    name="house", outline=((0.0, 0.0), (12.0, 0.0), (12.0, 8.0), (0.0, 8.0)), eaves=3.0, ridge_height=5.5, roof="gable"
)
WINDOW = Opening(name="window", kind="window", start=(2.0, 8.0), end=(4.0, 8.0), sill=1.0, head=2.2, on="house")


def site(**changes: object) -> Site:
    return attrs.evolve(Site(buildings=(HOUSE,), openings=(WINDOW,)), **changes)


@pytest.mark.parametrize(
    ("y_bearing", "faces"),
    # the y axis to the east turns the x axis to the south
    [(0.0, ["south", "east", "north", "west"]), (90.0, ["west", "south", "east", "north"]), (45.0, None)],
)
def test_a_wall_faces_away_from_the_house_and_turns_with_the_plan(y_bearing: float, faces: list[str] | None) -> None:
    found = [side.faces for side in sides(site(y_bearing=y_bearing))]
    assert found == pytest.approx([wall_facing(HOUSE, wall, y_bearing) for wall in range(4)])
    wanted = faces or ["south-west", "south-east", "north-east", "north-west"]
    assert [compass_word(bearing) for bearing in found] == wanted


@pytest.mark.parametrize(
    ("roof", "tops"),
    [
        ("gable", [3.0, 5.5, 3.0, 5.5]),  # the ridge runs along the longer side: its ends are east and west
        ("flat", [3.0] * 4),
        ("hip", [3.0] * 4),
        ("shed", [5.5] * 4),  # any wall may be its high one
    ],
)
def test_a_gable_end_reaches_to_the_ridge(roof: RoofKind, tops: list[float]) -> None:
    house = attrs.evolve(HOUSE, roof=roof)
    assert [side.top for side in sides(site(buildings=(house,)))] == tops


def test_a_window_lies_on_its_own_wall_alone_counted_from_the_left_as_seen_from_outside() -> None:
    held = [held_by(site(), side, foot=0.5) for side in sides(site())]
    assert [bool(one) for one in held] == [False, False, True, False]
    ((name, rectangle),) = held[2]
    assert name == "window"
    # seen from the north the wall's left end is the east corner: 12 - 4 = 8 and 12 - 2 = 10 m along
    assert rectangle == pytest.approx((8.0, 0.5, 10.0, 1.7))


def test_a_wall_that_is_gone_and_a_foot_at_its_top_are_refused() -> None:
    with pytest.raises(GardenError, match="not there any more"):
        side_of(site(), "house", 4)
    side = side_of(site(), "house", 0)
    with pytest.raises(GardenError, match="at or above its top"):
        check_foot(side, 2.95)
    check_foot(side, 2.0)
    low_x, low_y, high_x, high_y = first_mark(side, 0.0)
    assert 0 < low_x < high_x < side.length and 0 < low_y < high_y < side.eaves


def test_a_mark_outside_the_four_measured_points_is_warned_of() -> None:
    measured: tuple[Point, ...] = ((1.0, 0.0), (4.0, 0.0), (4.0, 2.1), (1.0, 2.1))
    assert [f.seriousness for f in mark_advice((1.2, 0.2, 3.0, 2.0), measured)] == ["note"]
    assert [f.seriousness for f in mark_advice((1.2, 0.2, 6.0, 2.0), measured)] == ["caution", "note"]


def test_the_fullest_wall_is_the_one_with_a_support_before_one_with_windows() -> None:
    assert fullest_wall((HOUSE,)) is None
    assert fullest_wall((HOUSE,), openings=(WINDOW,)) == ("house", 2)
    trellis = Support(name="trellis", kind="trellis", line=((3.0, -0.1), (5.0, -0.1)), height=2.0, against="house")
    assert fullest_wall((HOUSE,), openings=(WINDOW,), supports=(trellis,)) == ("house", 0)


def test_the_sides_go_round_the_house() -> None:
    assert math.fsum(side.length for side in sides(site())) == pytest.approx(2 * (12 + 8))
