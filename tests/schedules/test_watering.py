"""The whole garden's water: turf by its published factor, first weeks by a nursery's litres, little rain, butts."""

from pathlib import Path

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.handover import wording
from gardenkit.schedules.irrigation_zones import zones
from gardenkit.schedules.watering import FIRST, FIRST_WEEKS, PERENNIAL, SPRAYED, pots
from gardenkit.site.water import DAYS, gallons
from gardenkit.structure.structure import Thing
from gardenkit.units import US_GALLON

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def fennel() -> Garden:
    return Garden.open(EXAMPLES / "fennel_street_corner")


def test_a_new_tree_takes_60_gallons_in_its_first_weeks_a_shrub_24_and_a_perennial_12() -> None:
    """pintersgardensandpumpkins.com: 3 times a week, then 2, then 1, for two weeks each, 5, 2 and 1 gallons."""
    times = sum(weeks * a_week for weeks, a_week in FIRST_WEEKS)
    assert times == 12
    sums = [times * float(litres) / US_GALLON for litres in (FIRST["tree"], FIRST["shrub"], PERENNIAL)]
    assert sums == pytest.approx([60, 24, 12])


def test_a_lawn_is_watered_by_its_own_factor_without_dripline(fennel: Garden) -> None:
    """0.8 of the reference for cool turf (ASABE S623.1), worked out anew from the outline."""
    assert fennel.watering is not None and fennel.reference_water is not None
    (lawn,) = fennel.watering.lawns
    area = plane.area(fennel.layout.ground_areas["lawn"])
    july = 0.8 * fennel.reference_water.mm_a_day[6] * DAYS[6] * area / float(SPRAYED)
    assert lawn.dry[6] == pytest.approx(july)
    assert lawn.dry_week(7) == pytest.approx(july * 7 / 31)
    assert all(after <= without for after, without in zip(lawn.litres, lawn.dry, strict=True))
    assert lawn.name not in {bed for zone in zones(fennel.water) for bed in zone.beds}


def test_a_dry_year_asks_for_more_than_a_mean_one_and_for_less_than_none_at_all(fennel: Garden) -> None:
    assert fennel.watering is not None
    none = sum(sum(bed.dry) for bed in fennel.water) + sum(sum(lawn.dry) for lawn in fennel.watering.lawns)
    assert 0 < fennel.watering.mean < fennel.watering.little < none
    assert fennel.watering.from_roofs == 0.0  # it has no butt


def test_the_first_minutes_of_a_zone_bring_what_its_plants_want(fennel: Garden) -> None:
    assert fennel.watering is not None
    layers = [fennel.catalogue[plant.species].layer for plant in fennel.project.planting.plants]
    wanted = sum(float(FIRST.get(layer, PERENNIAL)) for layer in layers)
    valves = zones(fennel.water)
    brought = sum(fennel.watering.first_minutes(zone) / 60 * zone.litres_an_hour for zone in valves)
    assert brought == pytest.approx(wanted, rel=0.02)  # every plant stands in a bed, or nearly
    part = attrs.evolve(valves[0], parts=3)
    assert fennel.watering.first_minutes(part) == fennel.watering.first_minutes(valves[0])


def test_butts_give_what_they_can_hold_back_and_nothing_is_said_without_the_climate() -> None:
    lantern = Garden.open(EXAMPLES / "lantern_lane_strip")
    assert lantern.watering is not None
    assert 0 < lantern.watering.from_roofs < lantern.watering.little
    climate = attrs.evolve(lantern.project.site.climate, tmin=None, tmax=None)
    bare = attrs.evolve(lantern.project, site=attrs.evolve(lantern.project.site, climate=climate))
    assert Garden(bare, lantern.folder).watering is None


def test_a_pot_wants_a_quarter_of_what_it_holds_by_hand_and_the_watering_sheet_says_so(fennel: Garden) -> None:
    """Container of 30 by 25 cm holds 17.67 L (novacalculator.com); inside a wall of 2 cm the same pot is 34 by 27."""
    pot = Thing(name="fig pot", kind="pot", at=(2.0, 2.0), width=0.34, depth=0.34, height=0.27)
    (one,) = pots((pot, *fennel.project.structure.things))
    assert (one.name, one.each_time) == ("fig pot", pytest.approx(17.67 / 4, rel=1e-3))
    structure = attrs.evolve(fennel.project.structure, things=(pot,))
    said = dict(wording.water_of_a_year(Garden(attrs.evolve(fennel.project, structure=structure), EXAMPLES)))
    assert said["fig pot: by hand"].startswith(f"{gallons(one.each_time):.1f} US gal each time, a quarter of the")
