"""Texture from a jar, reaction, drainage, water held and amendments behave as a gardener expects."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.site.amendments import layer_volume, mulch_findings, sulphur
from gardenkit.site.soil import (
    AVAILABLE_WATER,
    DRAINAGE,
    Soil,
    available_water_mm,
    drainage_class,
    hole_test_mm_per_hour,
    ph_class,
    soil_findings,
    soil_texture,
)
from gardenkit.site.texture import JAR_TIMINGS, TEXTURES, JarReading, jar_shares, normalised, soil_group, texture
from gardenkit.units import INCH

# -- the jar -----------------------------------------------------------------------------------------------------------


def test_jar_marks_that_go_down_are_refused() -> None:
    with pytest.raises(GardenError, match=r"0\.8, 0\.7, 2 go down"):
        JarReading(sand_mark=0.8, silt_mark=0.7, clay_mark=2.0)


@pytest.mark.parametrize("marks", [(0, 0, 0), (-1, 1, 2), (1, 2, float("nan")), (1, float("inf"), 2)])
def test_jar_marks_that_are_no_heights_are_refused(marks: tuple[float, float, float]) -> None:
    with pytest.raises(GardenError, match="jar marks"):
        JarReading(sand_mark=marks[0], silt_mark=marks[1], clay_mark=marks[2])


def test_unknown_timing_names_the_nearest_known() -> None:
    with pytest.raises(GardenError, match='nearest known is "Montana State"'):
        JarReading(sand_mark=1, silt_mark=2, clay_mark=3, timing="Montana")


def test_silt_waits_two_hours_or_six_by_the_source_named() -> None:
    assert [JAR_TIMINGS[name][1] / 60 for name in ("Colorado State Master Gardener", "Montana State", "Clemson")] == [
        2,
        6,
        2,
    ]


@given(st.lists(st.floats(0.001, 0.3), min_size=3, max_size=3), st.floats(0.1, 100))
def test_a_taller_jar_or_another_unit_gives_the_same_shares(layers: list[float], scale: float) -> None:
    marks = (layers[0], layers[0] + layers[1], sum(layers))
    plain = JarReading(sand_mark=marks[0], silt_mark=marks[1], clay_mark=marks[2])
    scaled = JarReading(sand_mark=marks[0] * scale, silt_mark=marks[1] * scale, clay_mark=marks[2] * scale)
    assert sum(jar_shares(plain)) == pytest.approx(100)
    assert jar_shares(plain) == pytest.approx(jar_shares(scaled), abs=1e-9)


# -- texture -----------------------------------------------------------------------------------------------------------


def test_shares_a_little_off_100_are_scaled_and_far_off_are_refused() -> None:
    assert normalised(41, 40, 20) == pytest.approx((41 / 1.01, 40 / 1.01, 20 / 1.01))
    assert texture(41, 40, 20) == "loam"
    with pytest.raises(GardenError, match="add up to 103 %"):
        texture(43, 40, 20)
    with pytest.raises(GardenError, match="not all percentages"):
        texture(-1, 81, 20)


@given(st.floats(0, 100), st.floats(0, 1))
def test_any_split_of_100_has_a_class(sand: float, share: float) -> None:
    clay = (100 - sand) * share
    assert texture(sand, 100 - sand - clay, clay) in TEXTURES


def test_every_class_has_a_group_and_a_water_range() -> None:
    assert set(AVAILABLE_WATER) == set(TEXTURES)
    assert {soil_group(name) for name in TEXTURES} == {"sandy", "loam", "clay"}
    assert (soil_group("sandy loam"), soil_group("silt loam"), soil_group("clay loam")) == ("sandy", "loam", "clay")


def test_unknown_texture_names_the_nearest_known() -> None:
    with pytest.raises(GardenError, match='nearest known is "sandy loam"'):
        available_water_mm("sandyloam", root_depth=0.3)


# -- reaction and drainage ---------------------------------------------------------------------------------------------


def test_halves_of_a_tenth_round_up() -> None:
    assert (ph_class(6.55), ph_class(5.05)) == ("neutral", "strongly acid")


@given(st.floats(0, 14))
def test_every_ph_has_a_class(ph: float) -> None:
    assert ph_class(ph).endswith(("acid", "neutral", "alkaline"))


@pytest.mark.parametrize("ph", [-0.1, 14.1, float("nan")])
def test_impossible_ph_is_refused(ph: float) -> None:
    with pytest.raises(GardenError, match="outside 0 to 14"):
        ph_class(ph)


def test_four_quarter_hours_of_half_an_inch_are_two_inches_an_hour() -> None:
    assert hole_test_mm_per_hour([0.5 * 25.4] * 4) == pytest.approx(50.8)


def test_hole_test_without_readings_is_refused() -> None:
    with pytest.raises(GardenError, match="drops"):
        hole_test_mm_per_hour([])


@given(st.sampled_from(sorted(DRAINAGE)), st.floats(0, 2000), st.floats(0, 2000))
def test_faster_fall_is_never_a_slower_class(scheme: str, a: float, b: float) -> None:
    names = [name for _rate, name in DRAINAGE[scheme]]
    slow, fast = (names.index(drainage_class(rate, scheme=scheme)) for rate in sorted((a, b)))
    assert slow <= fast


def test_unknown_scheme_names_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "Cornell"'):
        drainage_class(10, scheme="cornel")


# -- the record and its findings ---------------------------------------------------------------------------------------


def test_an_empty_record_asks_for_texture_and_ph() -> None:
    said = " ".join(f.what for f in soil_findings(Soil()))
    assert "texture is not known" in said
    assert "pH is not known" in said


def test_texture_comes_from_shares_or_the_jar() -> None:
    jar = JarReading(sand_mark=0.8, silt_mark=1.6, clay_mark=2.0)
    assert soil_texture(Soil()) is None
    assert soil_texture(Soil(jar=jar)) == "loam"
    assert soil_texture(Soil(jar=jar, sand_percent=90, silt_percent=5, clay_percent=5)) == "sand"
    with pytest.raises(GardenError, match="all three"):
        soil_texture(Soil(sand_percent=40))


def test_impossible_figures_in_the_record_are_refused() -> None:
    with pytest.raises(GardenError, match="organic matter 120 %"):
        Soil(organic_matter_percent=120)
    with pytest.raises(GardenError, match="pH of 15"):
        Soil(ph=15)


def test_poor_drainage_and_limy_soil_are_warned_about() -> None:
    found = soil_findings(Soil(ph=8.0, free_lime=True, drainage_mm_per_hour=10), where='bed "North"')
    warnings = [f for f in found if f.seriousness == "warning"]
    assert [f.where for f in warnings] == ['bed "North"'] * 2
    assert "free lime" in warnings[0].what
    assert "drainage is poor" in warnings[1].what
    assert all(f.source for f in warnings)


def test_good_soil_gets_no_advice() -> None:
    good = Soil(sand_percent=40, silt_percent=40, clay_percent=20, ph=6.5, drainage_mm_per_hour=50)
    assert soil_findings(good) == ()


# -- amendments --------------------------------------------------------------------------------------------------------


def test_sulphur_on_limy_soil_is_impractical_and_says_why() -> None:
    found = sulphur(table="per unit", group="loam", ph_now=7.5, ph_wanted=6.5, area=10, free_lime=True)
    assert found.impractical
    assert "free lime" in found.findings[0].what


def test_too_large_a_change_is_impractical() -> None:
    small = sulphur(table="per unit", group="sandy", ph_now=7.0, ph_wanted=6.5, area=10, free_lime=False)
    large = sulphur(table="per unit", group="sandy", ph_now=7.5, ph_wanted=5.5, area=10, free_lime=False)
    assert (small.impractical, large.impractical) == (False, True)
    assert any("2.0 pH units" in f.what for f in large.findings)


def test_rates_over_the_cap_are_split_into_applications() -> None:
    """20 lb per 1000 sq ft at no more than 10 at a time."""
    grown = sulphur(table="per unit", group="clay", ph_now=7, ph_wanted=6, area=10, free_lime=False)
    bare = sulphur(table="per unit", group="clay", ph_now=7, ph_wanted=6, area=10, free_lime=False, bare_bed=True)
    assert (grown.applications, bare.applications) == (2, 1)
    assert any("2 applications" in f.what for f in grown.findings)


def test_too_many_applications_are_impractical() -> None:
    found = sulphur(table="Michigan State", group="clay", ph_now=6.0, ph_wanted=4.5, area=10, free_lime=False)
    assert found.applications == 6  # 2300 lb per acre at 435.6 at a time
    assert found.impractical


def test_sulphur_cannot_raise_the_ph() -> None:
    with pytest.raises(GardenError, match="lowers the pH"):
        sulphur(table="per unit", group="loam", ph_now=6, ph_wanted=7, area=10, where='bed "East"')


def test_unknown_table_names_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "Kansas column"'):
        sulphur(table="Kansas", group="loam", ph_now=7, ph_wanted=6, area=10)


def test_settling_adds_to_the_order() -> None:
    assert layer_volume(10, 0.1, settling=0.2) == pytest.approx(1.25)
    with pytest.raises(GardenError, match="settling 1"):
        layer_volume(10, 0.1, settling=1)


def test_mulch_outside_two_to_four_inches_is_mentioned() -> None:
    assert mulch_findings(0) == ()
    assert len(mulch_findings(3 * INCH)) == 1  # only: keep it off the stems
    assert "deep" in mulch_findings(6 * INCH)[1].what
    assert "thin" in mulch_findings(1 * INCH)[1].what
