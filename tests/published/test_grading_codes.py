"""Grading and access: printed limits of building codes, access standards and lawn care, and slope conversions."""

import pytest

from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.geometry import plane
from gardenkit.site import grading
from gardenkit.site.grading import (
    fall_away,
    ground_findings,
)
from gardenkit.site.heights import SpotHeight
from gardenkit.site.levels import surface
from gardenkit.site.site import Building
from gardenkit.units import FOOT, INCH


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


def test_a_fall_below_nothing_is_said_as_a_rise_and_none_as_level():
    """Half an inch up or none in 10 ft: too little for a bank before the wall, and no number below zero."""
    up, none = house_on(-0.5 * INCH)[0].what, house_on(0.0)[0].what
    assert 'rises ½" in 10\' 0" (0.4 %)' in up
    assert "is level for 10' 0\"" in none
    assert "-" not in up + none


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
        ("patio", 100 * 0.25 / 12, None),
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
