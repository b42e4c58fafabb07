"""What eight towns and counties print as free of permit, clearances by utilities and agencies, escape windows."""

import attrs
import pytest

from gardenkit.structure.clearances import (
    CLEARANCES,
    clearance_findings,
    line_findings,
    septic_findings,
)
from gardenkit.structure.patio import area_for_people, room_for_table
from gardenkit.structure.walls import (
    PermitLimits,
    fence_findings,
    retaining_findings,
)
from gardenkit.units import FOOT, INCH, SQUARE_FOOT

TOWNS = [  # place, fence ft, retaining wall ft, shed sq ft: each on the town's or county's own page
    ("Oak Bluffs MA", 7, 4, 200),
    ("Knoxville TN", 7, 4, 120),
    ("San Mateo CA", 7, 4, 120),
    ("Inglewood CA", 6, 4, 120),
    ("North Branford CT", 6, 3, None),
    ("Prince George's County MD", 4, 2, 150),
    ("Williams County ND", 8.5, 4, 120),
    ("Dewey-Humboldt AZ", 6, 4, 400),
]
BY_PLACE = {
    place: PermitLimits(
        place=place,
        source="the town's own page",
        fence=fence * FOOT,
        wall=wall * FOOT,
        shed=None if shed is None else shed * SQUARE_FOOT,
    )
    for place, fence, wall, shed in TOWNS
}
BY_PLACE["San Mateo CA"] = attrs.evolve(BY_PLACE["San Mateo CA"], front_fence=3 * FOOT)
BY_PLACE["North Branford CT"] = attrs.evolve(BY_PLACE["North Branford CT"], wall_from="finished grade")


@pytest.mark.parametrize(("place", "fence", "wall", "shed"), TOWNS)
def test_permit_limits(place, fence, wall, shed) -> None:
    del wall, shed
    town = BY_PLACE[place]
    assert fence_findings("fence", fence * FOOT, limits=town)[0].seriousness == "note"
    assert fence_findings("fence", fence * FOOT + INCH, limits=town)[0].seriousness == "warning"


def test_front_fence_in_san_mateo_is_3_ft() -> None:
    town = BY_PLACE["San Mateo CA"]
    assert fence_findings("fence", 3.5 * FOOT, limits=town, front=True)[0].seriousness == "warning"


def test_without_a_limit_the_designer_is_asked() -> None:
    found = fence_findings("fence", 1.0)[0]
    assert found.seriousness == "caution"
    assert "4 to 8.5 ft" in found.why


@pytest.mark.parametrize(("shown", "over"), [(42, False), (42.1, True)])
def test_four_feet_counts_from_the_bottom_of_the_footing(shown: float, over: bool) -> None:
    """A wall showing 3 ft 6 in on a 6 in buried footing stands exactly at the 4 ft limit."""
    found = retaining_findings("wall", shown * INCH, footing=6 * INCH, limits=BY_PLACE["Knoxville TN"])
    assert (found[0].seriousness == "warning") is over


def test_north_branford_counts_from_finished_grade() -> None:
    found = retaining_findings("wall", 36 * INCH, footing=6 * INCH, limits=BY_PLACE["North Branford CT"])
    assert found[0].seriousness == "note"


@pytest.mark.parametrize(
    ("thing", "inches"),
    [
        ("electric meter", 36),
        ("gas meter", 24),
        ("dryer vent", 12),
        ("fire hydrant", 36),
        ("pad transformer", 96),
        ("air conditioner", 24),
        ("combustion vent", 48),
    ],
)
def test_clearances(thing: str, inches: float) -> None:
    assert CLEARANCES[thing].least / INCH == pytest.approx(inches)
    assert clearance_findings("trellis", thing, inches * INCH) == ()
    assert clearance_findings("trellis", thing, (inches - 1) * INCH)[0].seriousness == "warning"


@pytest.mark.parametrize(
    ("height", "distance", "warned"),
    [(25, 0, False), (26, 19, True), (45, 20, False), (46, 39, True), (46, 40, False)],
)
def test_trees_near_lines(height: float, distance: float, warned: bool) -> None:
    """Vermont Urban & Community Forestry, node/685."""
    assert bool(line_findings("tree", height=height * FOOT, distance=distance * FOOT)) is warned


def test_a_50_ft_red_maple_stands_50_ft_from_a_drain_field() -> None:
    """North Carolina Coop. Extension, Chatham County."""
    assert septic_findings("maple", mature_height=50 * FOOT, distance=50 * FOOT) == ()
    assert len(septic_findings("maple", mature_height=50 * FOOT, distance=49 * FOOT)) == 1


def test_patio_for_25_people_and_a_48_in_table() -> None:
    """Contractor: 25 sq ft a person -> 625; designer's guide: 48 in and 36 in each side = 10.0 ft, with 30 in 9 ft."""
    assert area_for_people(25) / SQUARE_FOOT == pytest.approx(625)
    assert room_for_table(48 * INCH) / FOOT == pytest.approx(10.0)
    assert room_for_table(48 * INCH, clear=30 * INCH) / FOOT == pytest.approx(9.0)
