"""Lengths as people write them, against the exact factors of the international yard and pound agreement of 1959."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit import units
from gardenkit.findings import GardenError
from gardenkit.saying import in_system, said
from gardenkit.units import LengthError, bearing, feet_inches, length


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("12' 6\"", 3.81),
        ("12'6\"", 3.81),
        ("12 ft 6 in", 3.81),
        ("12ft6", 3.81),
        ("12' 6 1/2\"", 3.8227),
        ("12’ 6½”", 3.8227),
        ('6½"', 0.1651),
        ("1/2 in", 0.0127),
        ("12.5 ft", 3.81),
        ("12' - 6\"", 3.81),
        ("12 feet, 6 inches".replace(",", ""), 3.81),
        ("3.2 m", 3.2),
        ("3,2 m", 3.2),
        ("320 cm", 3.2),
        ("3200mm", 3.2),
        ("2 yd", 1.8288),
        ("10", 3.048),
        (10, 3.048),
    ],
)
def test_a_length_is_read_as_people_write_it(typed: str, metres: float) -> None:
    assert length(typed) == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "abc",
        "12 6 4",
        "12' 6' ",
        "3 m 2 ft 1 m",
        "--3",
        "12' six",
        "1/0 in",
        "nan",
        "1,250 ft",
        "6\" 2'",
        "'",
        "1e5",
    ],
)
def test_what_cannot_be_read_is_named_with_its_place(typed: str) -> None:
    with pytest.raises(LengthError, match="wall A"):
        length(typed, where="wall A")


@pytest.mark.parametrize(
    "typed",
    [
        "3 m - 2 cm",
        "12-",
        "12--",
        "12'-",
        "12' 6\"-",
        "5 -6 in",
        "12 - ft",
        "٣/٤ m",
        "1 m - 5",
        "9" * 390 + "/1",
        "9" * 400,
    ],
)
def test_a_dash_joins_feet_and_inches_alone_and_digits_are_those_of_a_keyboard(typed: str) -> None:
    with pytest.raises(LengthError) as caught:
        length(typed)
    assert len(str(caught.value)) < 250


def test_feet_and_inches_may_be_joined_by_a_dash() -> None:
    assert length("12'-6\"") == length("12 ft - 6 in") == length("12-ft 6-in") == pytest.approx(3.81)


@pytest.mark.parametrize(
    ("typed", "square_metres"),
    [
        ("100 sf", 9.290304),
        ("100 sq. ft.", 9.290304),
        ("100 square feet", 9.290304),
        ("1,250 sq ft", 116.1288),
        ("2 ac", 8093.71284480768),  # of the international foot
        ("0,25 ha", 2500),
        ("100 sq m", 100),
        ("100sqm", 100),
        ("100 m2", 100),
        ("1 250,5 m²", 1250.5),
        ("9 sq yd", 7.52514624),
    ],
)
def test_an_area_is_read_with_its_unit_in_any_garden(typed: str, square_metres: float) -> None:
    for system in ("imperial", "metric"):
        assert units.area(typed, system, "the lawn") == pytest.approx(square_metres, rel=1e-9)  # type: ignore[arg-type]


def test_a_bare_area_is_in_the_garden_s_own_unit() -> None:
    assert units.area("100", "imperial", "the lawn") == pytest.approx(9.290304)
    assert units.area("100", "metric", "the lawn") == 100.0


@pytest.mark.parametrize(
    "typed",
    ["100 ft", "100 yd", "1m00", "1 0 0 m²", "-5 m2", "9e9 m2", "9999 ha", "1,250 m2", "٣ m2", "", "sq ft", "$90"],
)
def test_what_is_no_area_is_asked_about(typed: str) -> None:
    with pytest.raises(GardenError, match="the lawn"):
        units.area(typed, "metric", "the lawn")


def test_water_is_read_in_gallons_or_litres() -> None:
    assert units.water("500 gal", "metric", "it") == units.water("500", "imperial", "it") == pytest.approx(1892.7059)
    assert units.water("2,5 l", "imperial", "it") == 2.5
    with pytest.raises(GardenError, match="an amount of water"):
        units.water("5 galleons", "metric", "it")


def test_a_length_below_zero_is_refused_unless_drops_are_meant() -> None:
    with pytest.raises(LengthError, match="below zero"):
        length("-3 ft")
    assert length("-6 in", signed=True) == pytest.approx(-0.1524)


def test_a_slip_of_the_unit_is_caught() -> None:
    with pytest.raises(LengthError, match="check the unit"):
        length("3200 m")


def test_a_bare_number_takes_the_page_unit() -> None:
    assert length("3.5", bare="m") == 3.5


def test_factors_are_the_exact_ones() -> None:
    # International yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg exactly; US gallon 231 cu in.
    assert units.YARD == 0.9144
    assert pytest.approx(units.YARD, abs=1e-15) == units.FOOT * 3  # binary rounding of 0.3048
    assert pytest.approx(units.FOOT, abs=1e-16) == units.INCH * 12
    assert units.POUND == 0.45359237
    assert pytest.approx(231 * units.INCH**3 * 1000, rel=1e-12) == units.US_GALLON


@given(st.floats(0, 500))
def test_what_is_shown_in_feet_and_inches_reads_back_within_half_a_step(metres: float) -> None:
    assert abs(length(feet_inches(metres, to=8)) - metres) <= units.INCH / 16 + 1e-9


@given(st.floats(0, 500, allow_nan=False))
def test_metres_read_back_as_written(metres: float) -> None:
    assert math.isclose(length(f"{metres:.6f} m"), metres, abs_tol=1e-6)


@pytest.mark.parametrize(
    ("metres", "text"),
    [(3.81, "12' 6\""), (3.8227, "12' 6½\""), (0.1524, '6"'), (0.0127, '½"'), (3.048, "10' 0\""), (0, '0"')],
)
def test_feet_and_inches_are_shown_as_on_a_drawing(metres: float, text: str) -> None:
    assert feet_inches(metres) == text


@pytest.mark.parametrize(
    ("typed", "degrees"),
    [
        ("N 76 E", 76),
        ("S 36 E", 144),
        ("S 61 W", 241),
        ("N 38 W", 322),
        ("76", 76),
        ("76° 30'", 76.5),
        (360, 0),
        ("N 0 E", 0),
    ],
)
def test_bearings_are_read_as_surveyors_write_them(typed: str, degrees: float) -> None:
    # The four quadrant bearings are those of the textbook traverse in site.md E3.
    assert bearing(typed) == pytest.approx(degrees)


@pytest.mark.parametrize(
    ("typed", "degrees"),
    [("76,5", 76.5), ("N 76,5 E", 76.5), ("76° 30' 15\"", 76.504167), ("S 10° 30′ 36″ W", 190.51), ("76.", 76)],
)
def test_bearings_have_decimal_commas_minutes_and_seconds(typed: str, degrees: float) -> None:
    assert bearing(typed) == pytest.approx(degrees, abs=1e-6)


@pytest.mark.parametrize(
    "typed",
    ["N 96 E", "400", "-5", "north", "N 10 N", "76.5° 30'", "76° 60'", "76° 30' 60\"", '76° 15"', "٣", "N ٣ E", "7 6"],
)
def test_a_bearing_that_cannot_be_is_refused(typed: str) -> None:
    with pytest.raises(LengthError, match="bearing"):
        bearing(typed)


@pytest.mark.parametrize(
    ("metric", "imperial"),
    [  # each worked by hand from 25.4 mm an inch, 3.785411784 L a US gallon, 0.45359237 kg a pound (NIST SP 811, exact)
        ("stands 0.65 m from house", "stands 2' 1½\" from house"),
        ("0.38, 0.76 and 1.91 m", "1' 3\", 2' 6\" and 6' 3\""),
        ("stones of 0.38 to 0.76 m", "stones of 1' 3\" to 2' 6\""),
        ("in year 15, 2.30 m high", "in year 15, 7' 6½\" high"),
        ("falls -0.0030 m", 'falls -⅛"'),
        ("by 0.0001 m", 'by under ⅛"'),
        ("3.2 m2 of bed, 3.2 m² of it", "34 sq ft of bed, 34 sq ft of it"),
        ("1.5 m3 of soil", "1.96 cu yd of soil"),
        ("wind 1.5 m/s, gusts 50 km/h", "wind 3.36 mph, gusts 31.1 mph"),
        ("38 L a week, 23 kg, 152 mm", '10 gal a week, 50.7 lb, 6"'),
        ("down to -12 °C", "down to 10 °F"),
        ("within 3 m of the wall, 12 m away", "within 10 ft of the wall, 39 ft away"),
        ("about 2.30 m high", "about 7½ ft high"),
        ("9 in (229 mm) within 10 ft (3048 mm)", "9 in within 10 ft"),
        ("near (2.10, 3.00) m", "near (2.10, 3.00) m"),
    ],
)
def test_a_sentence_says_its_measures_as_the_trade_writes_feet(metric: str, imperial: str) -> None:
    assert in_system(metric, "imperial") == imperial


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("0.65 m", "0.65 m"),
        ("a strip 18 in wide", "a strip 45.7 cm wide"),
        ("2 in a row, 3 in the bed", "2 in a row, 3 in the bed"),
        ("9 in (229 mm) within 10 ft (3048 mm)", "229 mm within 3048 mm"),
        ("over 50 lb", "over 22.7 kg"),
        ("is 29½ in wide, 2½ to 3½ in deep", "is 74.9 cm wide, 6.3 cm to 8.9 cm deep"),
    ],
)
def test_a_sentence_of_a_metric_garden_says_no_feet(written: str, said: str) -> None:
    assert in_system(written, "metric") == said


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("12'6\"", 3.81),
        ("3.5 m", 3.5),
        ("1,5 m", 1.5),
        ("12,000 mm", 12.0),  # nobody writes thousandths of a millimetre
        ("1 200 mm", 1.2),  # BIPM, SI Brochure 5.4.4: digits in threes, parted by a space
        ("1.250,5 cm", 12.505),
        ("1,250.5 cm", 12.505),
        ("0,250 m", 0.25),
    ],
)
def test_a_typed_length_is_read_as_people_write_it(typed: str, metres: float) -> None:
    assert length(typed) == pytest.approx(metres, abs=1e-9)


@pytest.mark.parametrize("typed", ["1,250 m", "12,000", "12,00,0", "1 25 m", "٣"])
def test_a_length_that_could_mean_two_things_or_none_is_asked_about_in_one_sentence(typed: str) -> None:
    with pytest.raises(LengthError) as asked:
        length(typed, where="the width")
    assert typed in str(asked.value)
    assert "for the width" in str(asked.value)
    assert "\n" not in str(asked.value)


@pytest.mark.parametrize(
    ("there", "elsewhere"),
    [
        ("at least 36 in; 2010 ADA Standards 405.2 to 405.8", "an accessibility standard of another country"),
        ("IRC 2021, R311.7, second-hand", "a building code of another country, second-hand"),
        ("IBC 1809.4 and IRC R403.1.4, footing bottom", "a building code of another country, footing bottom"),
        ("29 CFR 1926.1153, OSHA Table 1", "a rule for stone dust of another country"),
        ("read off the USDA Plant Hardiness Zone Map", "read off the Hardiness Zone Map"),
        ("confirm with a local nursery or extension office", "confirm with a local nursery"),
        ("a radar and an ADAGIO", "a radar and an ADAGIO"),
    ],
)
def test_a_rule_of_the_usa_is_named_there_and_in_general_words_elsewhere(there: str, elsewhere: str) -> None:
    assert said(there, "imperial", usa=True) == in_system(there, "imperial")
    assert elsewhere in said(there, "metric", usa=False)
    assert not re.search(r"\b(?:ADA|IRC|IBC|CFR|OSHA|USDA)\b|extension", said(there, "metric", usa=False))
