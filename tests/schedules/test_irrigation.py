"""Watering: mixed beds take their thirstiest plant, drip figures follow the soil, dry weeks ask for more than mean."""

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.schedules import irrigation as water
from gardenkit.site.climate import Climate
from gardenkit.site.soil import Soil


def test_a_plant_that_takes_dry_ground_is_not_thirsty(catalogue):
    assert water.thirst(catalogue["Salvia nemorosa"]) == "low"
    wet = attrs.evolve(catalogue["Salvia nemorosa"], moisture=("moist", "wet"))
    assert water.thirst(wet) == "high"


def test_a_mixed_bed_is_watered_for_its_thirstiest_plant(small_garden, worked, catalogue):
    beds = {bed.bed: bed for bed in water.bed_water(small_garden, worked, catalogue)}
    west = beds["West"]
    assert west.thirstiest == "Cercis canadensis"
    assert (west.factor, west.mixed) == (0.5, True)
    assert (beds["East"].factor, beds["East"].mixed) == (0.2, False)


def test_a_week_without_rain_needs_at_least_what_a_mean_week_does(small_garden, worked, catalogue):
    for bed in water.bed_water(small_garden, worked, catalogue):
        assert all(dry >= mean for dry, mean in zip(bed.dry, bed.litres, strict=True))
        assert bed.peak_month in (6, 7)


def test_dry_litres_are_factor_times_eto_over_efficiency(small_garden, worked, catalogue):
    place = small_garden.site.place
    eto = water.reference(small_garden.site.climate, latitude=place.latitude, elevation=place.elevation)
    bed = water.bed_water(small_garden, worked, catalogue)[0]
    july = bed.factor * eto.mm_a_day[6] * 31 * bed.area / 0.85
    assert bed.dry[6] == pytest.approx(july, rel=1e-9)
    assert bed.dry_week(7) == pytest.approx(july / 31 * 7, rel=1e-9)


def test_drip_minutes_put_down_what_the_week_needs(small_garden, worked, catalogue):
    for bed in water.bed_water(small_garden, worked, catalogue):
        put_down = bed.minutes_a_week[6] / 60 * bed.drip.rate * bed.area
        assert put_down == pytest.approx(bed.dry_week(7), rel=1e-9)


def test_clay_has_fewer_and_slower_emitters_than_sand():
    sand, clay = water.dripline(20.0, "sandy"), water.dripline(20.0, "clay")
    assert sand.emitters > clay.emitters
    assert sand.rate > clay.rate
    assert sand.length == pytest.approx(20.0 / sand.row_spacing)


def test_unknown_texture_is_taken_as_loam():
    assert water.soil_kind(Soil()) == "loam"
    assert water.soil_kind(Soil(sand_percent=92, silt_percent=5, clay_percent=3)) == "sandy"


def test_without_temperatures_nothing_is_worked_out_and_that_is_said(small_garden, worked, catalogue):
    bare = attrs.evolve(small_garden, site=attrs.evolve(small_garden.site, climate=Climate()))
    assert water.bed_water(bare, worked, catalogue) == ()
    (said,) = water.water_findings((), None)
    assert "no monthly temperatures" in said.what


def test_mixed_beds_are_named_in_one_finding(small_garden, worked, catalogue):
    place = small_garden.site.place
    eto = water.reference(small_garden.site.climate, latitude=place.latitude, elevation=place.elevation)
    found = water.water_findings(water.bed_water(small_garden, worked, catalogue), eto)
    (mixed,) = [f.what for f in found if "unlike thirst" in f.what]
    assert mixed.endswith("watered for the thirstiest: West (for Cercis canadensis, moderate)")
    assert any("Hargreaves" in f.what for f in found)


def test_what_cannot_be_is_refused():
    with pytest.raises(GardenError, match="takes no dripline"):
        water.dripline(0.0, "loam")
    with pytest.raises(GardenError, match="wets nothing"):
        water.emitter_spacing(0.0, "loam")
    with pytest.raises(GardenError, match="is no trunk"):
        water.tree_litres(-0.1)


def test_the_order_in_which_plants_are_named_does_not_matter(small_garden, catalogue):
    place = small_garden.site.place
    eto = water.reference(small_garden.site.climate, latitude=place.latitude, elevation=place.elevation)
    dry, thirsty = catalogue["Salvia nemorosa"], catalogue["Cercis canadensis"]
    for kinds in ((dry, thirsty), (thirsty, dry)):
        found = water.zone("bed", 10.0, kinds, eto, None, soil="loam")
        assert (found.factor, found.thirstiest) == (0.5, "Cercis canadensis")
