"""Grading and access: printed limits of building codes, access standards and lawn care, and slope conversions."""

import pytest

from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.geometry import plane
from gardenkit.site import grading
from gardenkit.site.grading import (
    fall_away,
    ground_findings,
    inches_per_foot,
    path_findings,
    percent_of_inches,
    ramp_findings,
    run_of,
    slope_degrees,
    within_ratio,
)
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import surface
from gardenkit.site.site import Building
from gardenkit.units import FOOT, INCH


@pytest.mark.parametrize(
    ("percent", "inches", "degrees"),
    [(1, "0.12", "0.57"), (2, "0.24", "1.15"), (5, "0.60", "2.86")],
)
def test_percent_in_inches_per_foot_and_degrees(percent, inches, degrees):
    assert f"{inches_per_foot(percent):.2f}" == inches
    assert f"{slope_degrees(percent):.2f}" == degrees


@pytest.mark.parametrize(
    ("percent", "run", "degrees"),
    [(5, 20, "2.86"), (100 / 12, 12, "4.76"), (25, 4, "14.04"), (100 / 3, 3, "18.43"), (50, 2, "26.57")],
)
def test_ratio_slopes_in_degrees(percent, run, degrees):
    assert run_of(percent) == pytest.approx(run, rel=1e-12)
    assert f"{slope_degrees(percent):.2f}" == degrees


def test_quarter_inch_per_foot_is_exactly_1_to_48():
    assert f"{percent_of_inches(0.25):.4f}" == "2.0833"
    assert run_of(percent_of_inches(0.25)) == pytest.approx(48, rel=1e-12)


@pytest.mark.parametrize(
    ("percent", "run", "passes"),
    [(percent_of_inches(0.25), 48, True), (2.1, 48, False), (2.0, 48, True), (5.0, 20, True), (5.1, 20, False)],
)
def test_ratios_are_compared_with_a_tolerance(percent, run, passes):
    assert within_ratio(percent, run) is passes
    assert within_ratio(-percent, run) is passes


# IRC R401.3 (2006): at least 6 in within the first 10 ft (152 mm in 3048 mm); hard surfaces 2 %; 5 % where short.
def house_on(fall_in_10_ft, **options):
    """Findings for a 6 m house on ground that falls evenly in all four directions by so many metres in 10 ft."""
    house = Building(name="House", outline=((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0)))
    grade = fall_in_10_ft / (10 * FOOT)
    spots = [SpotHeight(at=(x, y), height=0.0) for x in (0.0, 6.0) for y in (0.0, 6.0)]
    reach = 8.0
    for x in (-reach, 0.0, 6.0, 6 + reach):
        for y in (-reach, 0.0, 6.0, 6 + reach):
            out = max(-x, x - 6, -y, y - 6, 0.0)
            if out:
                spots.append(SpotHeight(at=(x, y), height=-grade * out))
    return fall_away(surface(spots), [house], **options)


def test_six_inches_in_ten_feet_is_5_percent_not_6():
    assert f"{grading.FALL_HEIGHT / grading.FALL_WITHIN * 100:.1f}" == "5.0"
    assert (round(grading.FALL_HEIGHT * 1000), round(grading.FALL_WITHIN * 1000)) == (152, 3048)
    assert f"{slope_degrees(5.0):.2f}" == "2.86"


def test_six_inches_in_ten_feet_passes_on_every_wall():
    assert house_on(6 * INCH) == ()


def test_five_inches_in_ten_feet_is_reported_for_every_wall_with_edition_and_local_code():
    found = house_on(5 * INCH)
    assert [f.where for f in found] == [f"House, wall {n}" for n in (1, 2, 3, 4)]
    assert all(f.seriousness == "caution" and f.source == "IRC R401.3 (2006)" and LOCAL_CODE in f.why for f in found)
    assert "4.2 %" in found[0].what


def test_ground_falling_to_the_house_is_a_warning():
    found = house_on(-4 * INCH)
    assert len(found) == 4
    assert all(f.seriousness == "warning" and "towards the house" in f.what for f in found)


def test_hard_surface_needs_only_2_percent():
    paving = plane.region([(-4, -4), (10, -4), (10, 10), (-4, 10)])
    assert house_on(0.021 * 10 * FOOT, hard=[paving]) == ()
    assert "2 % or more" in house_on(0.019 * 10 * FOOT, hard=[paving])[0].why


def test_close_boundary_falls_back_to_5_percent_and_later_editions_to_a_drain():
    plot = ((-1.5, -1.5), (7.5, -1.5), (7.5, 7.5), (-1.5, 7.5))
    earlier, later = house_on(3 * INCH, boundary=plot), house_on(3 * INCH, boundary=plot, edition="later")
    assert "5 % or more where there is less than 10 ft" in earlier[0].why
    assert earlier[0].seriousness == "caution"
    assert "drain or swale" in later[0].what
    assert (later[0].seriousness, later[0].source) == ("note", "IRC R401.3, editions after 2006 (wording from memory)")


def test_boundary_exactly_ten_feet_off_counts_as_ten_feet():
    off = 10 * FOOT
    plot = ((-off, -off), (6 + off, -off), (6 + off, 6 + off), (-off, 6 + off))
    assert house_on(6 * INCH, boundary=plot) == ()


def test_unknown_edition_is_refused():
    with pytest.raises(GardenError, match="2006 or later"):
        house_on(0.1, edition="2031")


# 2010 ADA Standards s.405: 1:12; 1:10 up to 6 in and 1:8 up to 3 in on existing sites; 30 in (760 mm) a run.
@pytest.mark.parametrize(
    ("rise", "run", "existing", "passes"),
    [
        (30 * INCH, 30 * FOOT, False, True),
        (0.760, 12 * 0.760, False, True),
        (6 * INCH, 5 * FOOT, False, False),
        (6 * INCH, 5 * FOOT, True, True),
        (7 * INCH, 70 * INCH, True, False),
        (3 * INCH, 2 * FOOT, True, True),
        (3 * INCH, 22 * INCH, True, False),
        (31 * INCH, 32 * FOOT, False, False),
    ],
)
def test_ramp_steepness_and_rise(rise, run, existing, passes):
    warned = [f for f in ramp_findings(rise, run, name="ramp", existing=existing) if f.seriousness == "warning"]
    assert (not warned) is passes
    assert all("private gardens are not generally bound" in f.why and LOCAL_CODE in f.why for f in warned)


def test_thirty_inches_at_1_to_12_takes_thirty_feet():
    assert grading.RAMP * 30 / 12 == 30
    assert [round(one.rise / INCH, 9) for one in grading.RAMP_LIMITS] == [30, 6, 3]
    assert [one.run for one in grading.RAMP_LIMITS] == [12, 10, 8]


def test_ramp_cross_slope_width_and_handrails():
    base = {"name": "ramp"}
    assert ramp_findings(5 * INCH, 2.0, cross=percent_of_inches(0.25), width=36 * INCH, **base) == ()
    assert "1:48" in ramp_findings(5 * INCH, 2.0, cross=2.1, **base)[0].what
    assert "0.91 m" in ramp_findings(5 * INCH, 2.0, width=35 * INCH, **base)[0].what
    assert "handrails" in ramp_findings(7 * INCH, 3.0, **base)[0].what


def test_walk_is_a_ramp_above_1_to_20_and_unpaved_may_cross_at_1_to_20():
    assert path_findings(5.0, name="walk", cross=percent_of_inches(0.25)) == ()
    assert "ramp" in path_findings(5.1, name="walk")[0].what
    assert "1:48" in path_findings(4.0, name="walk", cross=2.1)[0].what
    assert path_findings(4.0, name="walk", cross=5.0, paved=False) == ()


def test_landing_and_counter_slope_figures():
    assert round(grading.LANDING / INCH) == 60
    assert grading.COUNTER_SLOPE == 20


# Lawn: good turf to 25 %, practical limit 50 % (lawn-care bulletin no. 118). Patio: 1 % even finish, 2 % preferred.
def sloping(percent):
    spots = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    return surface([SpotHeight(at=at, height=-at[0] * percent / 100) for at in spots])


PIECE = plane.region([(1, 1), (9, 1), (9, 9), (1, 9)])


@pytest.mark.parametrize(
    ("use", "percent", "seriousness"),
    [
        ("lawn", 25.0, None),
        ("lawn", 26.0, "caution"),
        ("lawn", 50.0, "caution"),
        ("lawn", 51.0, "warning"),
        ("lawn", 0.5, "note"),
        ("patio", 2.0, None),
        ("patio", percent_of_inches(0.25), None),
        ("patio", 1.0, "note"),
        ("patio", 0.5, "warning"),
        ("patio", 4.0, "caution"),
    ],
)
def test_patio_and_lawn_bands(use, percent, seriousness):
    found = ground_findings(sloping(percent), PIECE, name="piece", use=use)
    assert [f.seriousness for f in found] == ([seriousness] if seriousness else [])


def test_patio_falling_to_the_house_is_a_warning():
    away = ground_findings(sloping(2.0), PIECE, name="patio", use="patio", house=(0.0, 5.0))
    towards = ground_findings(sloping(2.0), PIECE, name="patio", use="patio", house=(10.0, 5.0))
    assert away == ()
    assert "towards the house" in towards[0].what
