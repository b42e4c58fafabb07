"""What finds room on a bed or a patio: a tree's crown, people, a round table, and where only upright growers do."""

import pytest

from gardenkit.project import Project
from gardenkit.project.bed_measures import area_measures, bed_measures, narrow_places, tree_rooms
from gardenkit.project.layout import layout
from gardenkit.site.site import Site
from gardenkit.structure.structure import Bed, GroundArea, Structure
from gardenkit.units import FOOT

PLOT = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))


def square(x: float, y: float, wide: float, deep: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))


def patio(side: float, kind: str = "patio") -> Project:
    ground_area = GroundArea(name="floor", kind=kind, outline=square(2, 2, side, side))
    return Project(name="p", site=Site(boundary=PLOT), structure=Structure(ground_areas=(ground_area,)))


def test_a_patio_of_twenty_feet_holds_sixteen_people_and_a_table_with_a_yard_round_it() -> None:
    """25 sq ft a person (Figure PER_PERSON): 400 / 25 = 16. 36 in clear on both sides: 20 ft - 6 ft = 14 ft of table,
    whose edge of 14 pi = 43.98 ft seats 21 at 24 in each."""
    project = patio(20 * FOOT)
    (found,) = area_measures(project, layout(project))
    assert found.people == 16
    assert found.table is not None
    assert found.table[0] == pytest.approx(14 * FOOT, abs=0.02)  # the circle is found to a centimetre
    assert found.table[1] == 21
    assert found.perimeter == pytest.approx(80 * FOOT)


def test_a_patio_of_six_feet_has_no_room_to_walk_round_a_table() -> None:
    project = patio(6.5 * FOOT)
    (found,) = area_measures(project, layout(project))
    assert (found.people, found.table) == (1, None)


def test_nobody_is_seated_on_a_pond() -> None:
    project = patio(5.0, kind="pond")
    (found,) = area_measures(project, layout(project))
    assert (found.people, found.table) == (None, None)
    assert found.area == pytest.approx(25.0)


def bedded(wide: float, deep: float) -> Project:
    bed = Bed(name="border", at=(2 + wide / 2, 2 + deep / 2), outline=square(2, 2, wide, deep))
    lawn = GroundArea(name="lawn", kind="lawn", outline=square(0.5, 0.5, 0.4, 0.4))
    return Project(name="b", site=Site(boundary=PLOT), structure=Structure(beds=(bed,), ground_areas=(lawn,)))


@pytest.mark.parametrize(("deep", "crown"), [(4.0, 4.0), (2.6, 2.6), (2.0, None)])
def test_the_widest_crown_in_a_long_border_is_as_wide_as_the_border(deep: float, crown: float | None) -> None:
    project = bedded(9.0, deep)
    found = next(m for m in bed_measures(project, layout(project)) if m.bed.name == "border")
    assert found.crown == (None if crown is None else pytest.approx(crown, abs=0.05))
    assert all(2 * circle.radius >= 2.4 for circle in tree_rooms(found.bed))


def test_a_strip_is_narrow_all_along_and_a_deep_border_is_not_in_its_middle() -> None:
    strip, deep = (next(b for b in layout(p).beds if b.name == "border") for p in (bedded(8.0, 0.7), bedded(8.0, 3.0)))
    along = [x for x, _ in narrow_places(strip)]
    assert min(along) < 3.0 and max(along) > 9.0  # it runs from 2 to 10
    assert not [x for x, _ in narrow_places(deep) if 4.0 < x < 8.0]
