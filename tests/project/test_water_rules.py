"""Open water is said to be fenced or not, by whether one can walk to it from a door of the house."""

import pytest

from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, Fence, Site
from gardenkit.structure.structure import GroundArea, Structure, Support

HOUSE = Building(name="house", outline=((0.0, 0.0), (12.0, 0.0), (12.0, 3.0), (0.0, 3.0)))
DOOR = Opening(name="back door", kind="door", start=(5.0, 3.0), end=(6.0, 3.0), on="house")
POND = GroundArea(name="lilies", kind="pond", outline=((4.0, 12.0), (8.0, 12.0), (8.0, 15.0), (4.0, 15.0)))


def said(*fences: Support, gate: bool = False, found: tuple[Fence, ...] = ()) -> list[tuple[str, str]]:
    openings = (DOOR, Opening(name="gate", kind="gate", start=(5.0, 9.0), end=(6.0, 9.0), on="f")) if gate else (DOOR,)
    site = Site(boundary=((0, 0), (12, 0), (12, 18), (0, 18)), buildings=(HOUSE,), openings=openings, fences=found)
    worked = layout(Project(name="p", site=site, structure=Structure(ground_areas=(POND,), supports=fences)))
    return [(f.seriousness, f.what) for f in worked.findings if "lilies" in f.where and "shut" in f.what]


def fence(*, height: float = 1.3, far: float = 12.0) -> Support:
    return Support(name="f", kind="fence", line=((0.0, 9.0), (far, 9.0)), height=height)


def test_a_pond_that_nothing_shuts_off_is_said_with_the_door_one_comes_from() -> None:
    ((serious, what),) = said()
    assert serious == "caution" and "is not fenced: one walks to it from back door" in what


@pytest.mark.parametrize("gate", [False, True])
def test_a_fence_right_across_shuts_it_off_and_its_gate_is_to_latch(gate: bool) -> None:
    """48 in is high enough (ISPSC 305.2.1, from memory)."""
    ((serious, what),) = said(fence(height=1.2192), gate=gate)
    assert serious == "note" and "shut off from every door by f" in what and "latch" in what


@pytest.mark.parametrize("poor", [fence(height=1.21), fence(far=10.0)], ids=["lower than 48 in", "with a gap"])
def test_a_low_fence_and_one_with_a_gap_shut_nothing_off(poor: Support) -> None:
    ((serious, what),) = said(poor)
    assert serious == "caution" and "not fenced" in what


@pytest.mark.parametrize(("kind", "shuts"), [("wall", True), ("hedge", False)])
def test_a_wall_as_found_shuts_it_off_and_a_hedge_however_tall_does_not(kind: str, shuts: bool) -> None:
    """No 4 in ball passes a barrier (2009 IRC AG105.2, second-hand): a hedge has gaps at its foot."""
    ((serious, what),) = said(found=(Fence(name="beech", kind=kind, line=((0.0, 9.0), (12.0, 9.0)), height=2.0),))
    assert (serious == "note") is shuts
    assert ("beech does not count" in what) is not shuts
