"""Numbers as people write them, read or asked about, never cut; the ways of writing are those of Unicode's CLDR
(decimal and grouping signs of en, de, fr, de-CH), from memory.
"""

import datetime as dt
import math
import random
from collections.abc import Callable, Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.units import area, bearing, length, millimetres, water


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("3", 3.0),
        ("3.25", 3.25),
        ("3,25", 3.25),
        (".5", 0.5),
        ("7.", 7.0),
        ("-4", -4.0),
        ("−4,5", -4.5),
        ("0.250", 0.25),
        ("12,500.5", 12_500.5),
        ("1.250,5", 1250.5),
        ("1,250,000", 1_250_000.0),
        ("1.250.000", 1_250_000.0),
        ("12 500,5", 12_500.5),
        ("12\u00a0500", 12_500.0),
        ("12\u202f500,5", 12_500.5),
        ("12’500.5", 12_500.5),
    ],
)
def test_a_number_is_read_as_people_write_it(typed: str, value: float) -> None:
    assert reading.number(typed, "it") == value


@pytest.mark.parametrize("typed", ["12,500", "12.500", "1,250", "-3.000"])
def test_what_could_mean_two_things_is_asked_about(typed: str) -> None:
    with pytest.raises(GardenError, match="could mean") as caught:
        reading.number(typed, "the width")
    _, _, offered = str(caught.value).partition("; type ")
    for way in offered.split(", or "):
        assert reading.number(way, "the width") in reading.meanings(typed, "it")  # each way offered is read


@pytest.mark.parametrize(
    "typed",
    ["", " ", "a lot", "nan", "inf", "1e5", "0x1f", "1_000", "1,2,3", "12,50,000", "1.2.3", "--3", "٣", "½", "3 4"],
)
def test_what_is_no_number_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="for the width"):
        reading.number(typed, "the width")


def test_a_number_has_a_limit_of_digits() -> None:
    assert reading.number("123456789012345", "it") == 123456789012345
    with pytest.raises(GardenError, match="too many digits"):
        reading.number("1" * 16, "it")


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("12,500", 12_500),
        ("$3,200", 3200),
        ("USD 3.200", 3200),
        ("$12.50", 12.5),
        (" 12,5 ", 12.5),
        ("1,234.56 $", 1234.56),
    ],
)
def test_money_has_no_thousandths(typed: str, value: float) -> None:
    assert reading.amount(typed, "budget", money="$") == value


@pytest.mark.parametrize("typed", ["", "$", "a lot", "-3", "1e12", "999999999999", "nan"])
def test_an_amount_that_is_none_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="budget"):
        reading.amount(typed, "budget", money="$")


def test_of_two_meanings_the_one_in_range_is_taken() -> None:
    assert reading.between("7,250", "pH", low=0, high=14) == 7.25
    assert reading.between("1,250", "rain", low=100, high=2000) == 1250
    assert reading.between("45 %", "share", low=0, high=100, unit="percent") == 45
    with pytest.raises(GardenError, match=r"could mean 1250 or 1\.25"):
        reading.between("1,250", "rain", low=0, high=2000)
    with pytest.raises(GardenError, match="pH 15 is outside 0 to 14"):
        reading.between("15", "pH", low=0, high=14)


@pytest.mark.parametrize(
    ("typed", "time"),
    [
        ("10:30", dt.time(10, 30)),
        ("9.15", dt.time(9, 15)),
        ("14", dt.time(14)),
        ("0:05", dt.time(0, 5)),
        ("2:30 pm", dt.time(14, 30)),
        ("12 am", dt.time(0)),
        ("12:15 p.m.", dt.time(12, 15)),
        ("14h30", dt.time(14, 30)),
    ],
)
def test_a_time_is_read(typed: str, time: dt.time) -> None:
    assert reading.time(typed, "from") == time


@pytest.mark.parametrize("typed", ["9.5", "9:5", "25", "10:60", "13 pm", "0 am", "", "noon", "10:30:15", "-1", "24:00"])
def test_what_is_no_time_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="like 10:30"):
        reading.time(typed, "from")


@pytest.mark.parametrize("typed", ["6/5/2025", "5.6.2025", "2025-02-30", "2025-13-01", "25-06-05", "", "2025-06-14x"])
def test_what_is_no_date_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="like 2025-06-14"):
        reading.date(typed)


def test_a_date_is_read() -> None:
    assert reading.date(" 2025-6-04 ") == dt.date(2025, 6, 4)


@pytest.mark.parametrize("typed", ["12' 15\"", "3 ft 12 in", "3 ft 12 1/2 in"])
def test_inches_beyond_twelve_after_feet_are_asked_about(typed: str) -> None:
    with pytest.raises(GardenError, match="inches stand after the feet"):
        length(typed)
    assert length("30 in") == pytest.approx(0.762)  # alone they may be any number


@pytest.mark.parametrize("typed", ["76° 75'", "N 20 60' E"])
def test_minutes_beyond_sixty_are_no_bearing(typed: str) -> None:
    with pytest.raises(GardenError, match="bearing"):
        bearing(typed)


READERS: dict[str, Callable[[str], object]] = {
    "number": lambda text: reading.number(text, "it"),
    "money": lambda text: reading.amount(text, "it", money="$"),
    "amount": lambda text: reading.amount(text, "it"),
    "percent": lambda text: reading.between(text, "it", low=0, high=100),
    "date": reading.date,
    "time": lambda text: reading.time(text, "it"),
    "months": lambda text: reading.months(text, "it"),
    "length": lambda text: length(text, where="it", signed=True),
    "metric length": lambda text: length(text, bare="m", where="it"),
    "millimetres": lambda text: millimetres(text, "metric", "it"),
    "area": lambda text: area(text, "imperial", "it"),
    "water": lambda text: water(text, "metric", "it"),
    "whole": lambda text: reading.whole(text, "it", low=0, high=99_999),
    "bearing": lambda text: bearing(text, where="it"),
}
SIGNS = "0123456789.,:-'\"/ ½$€%°NSEWapmftinc\u00a0−’"
TEXTS = st.text(SIGNS, max_size=14) | st.text(max_size=40)
LOOKED_FOR = 100  # texts that hypothesis makes, which makes a short one of one that fails
THROWN = 400  # texts thrown besides, a reader: in a tenth of the time; --often 250 makes them 100,000


def thrown(many: int) -> Iterator[str]:
    """Yield texts by chance: of what people write measures with, and of any letters at all."""
    chance = random.Random("texts")
    for _ in range(many):
        if chance.random() < 0.7:
            yield "".join(chance.choices(SIGNS, k=chance.randrange(15)))
        else:
            most = chance.choice((0x7F, 0x2FF, 0xD7FF))
            yield "".join(map(chr, chance.choices(range(most + 1), k=chance.randrange(41))))


@pytest.mark.parametrize("name", READERS)
def test_any_text_is_read_or_named_in_one_sentence(name: str, often: int) -> None:
    reader = READERS[name]

    @settings(max_examples=LOOKED_FOR, deadline=None, database=None)
    @given(TEXTS)
    def tried(text: str) -> None:
        read_or_named(reader, text)

    tried()
    for text in thrown(THROWN * often):
        read_or_named(reader, text)


def read_or_named(reader: Callable[[str], object], text: str) -> None:
    try:
        found = reader(text)
    except GardenError as error:
        assert "\n" not in str(error), text
        assert len(str(error)) < 400, text
    else:
        assert not isinstance(found, float) or math.isfinite(found), text


@given(st.floats(-1e9, 1e9, allow_nan=False).map(lambda value: round(value, 2)))
def test_a_number_written_with_any_signs_reads_back(value: float) -> None:
    english = f"{value:,.2f}"
    german = english.translate(str.maketrans(",.", ".,"))
    for written in (english, german, english.replace(",", "\u202f"), english.replace(",", "'"), f"{value:.2f}"):
        assert reading.number(written, "it") == value


@pytest.mark.parametrize(
    ("typed", "money"),
    [
        ("NZ$ 3,200", "NZ$ "),
        ("NZ$3.200", "NZD "),
        ("$3,200 NZD", "NZ$ "),
        ("$3,200", "NZ$ "),
        ("3 200 kr", "SEK "),
        ("CHF 3200", "CHF "),
        ("3'200 CHF", "Fr. "),
        ("US$ 3,200.00", "$"),
        ("3.200,00 €", "€"),
        ("eur 3200", "€"),
        ("Rs. 3200", "₹"),
        ("3200", "anything"),
    ],
)
def test_money_is_read_with_its_sign_or_code_before_or_after(typed: str, money: str) -> None:
    assert reading.amount(typed, "the budget", money=money) == 3200.0


@pytest.mark.parametrize(
    ("typed", "money", "theirs"),
    [
        ("€3,200", "$", "€"),
        ("3.200 CHF", "$", "CHF"),
        ("NZ$ 3,200", "$", "NZ$"),
        ("$3,200", "€", "$"),
        ("$3,200 CAD", "$", "CAD"),
        ("£1", "EUR ", "£"),
    ],
)
def test_a_sum_in_another_money_is_never_taken_as_the_gardens(typed: str, money: str, theirs: str) -> None:
    ours = money.strip()
    with pytest.raises(GardenError, match="the budget") as caught:
        reading.amount(typed, "the budget", money=money)
    said = f'"{typed}" for the budget is in {theirs}, and this garden\'s sums are in {ours}'
    assert str(caught.value) == f"{said}; give it in {ours}, or change its money beside the budget"


@given(st.floats(0, 999_999_999.0).map(lambda value: float(f"{round(value, 9):.12g}")))
def test_a_number_shown_in_a_field_is_read_as_the_same_number(value: float) -> None:
    assert reading.number(reading.shown(value), "it") == value
    assert reading.amount(reading.shown(value), "it", money="$") == value


@pytest.mark.parametrize(
    "typed",
    [
        "3200 sq ft",
        "kr",
        "m 90",
        "90m",
        "3200 ft",
        "2 ac",
        "20 mm",
        "100 sf",
        "5 kgs",
        "2 cup",
        "$ 90 €",
        "90 abc",
        "9 ha",
    ],
)
def test_what_is_no_money_is_asked_about(typed: str) -> None:
    with pytest.raises(GardenError, match="as an amount for the budget"):
        reading.amount(typed, "the budget", money="$")


@pytest.mark.parametrize("typed", ["$3200", "3200 €", "USD 5", "2 ac"])
def test_what_is_no_money_has_no_currency(typed: str) -> None:
    with pytest.raises(GardenError, match="with no unit"):
        reading.amount(typed, "the crew")


@pytest.mark.parametrize("typed", ["1,250", "1.250"])
def test_the_price_of_something_small_may_have_thousandths(typed: str) -> None:
    with pytest.raises(GardenError, match="could mean"):
        reading.amount(typed, "mulch", money="$", small=True)


@pytest.mark.parametrize("typed", ["2,4", "1.5", "²", "9" * 5000, "๓", "0", "21", "", "3 ft", "1e1", "2%"])
def test_a_number_of_things_is_whole_and_never_rounded(typed: str) -> None:
    with pytest.raises(GardenError) as caught:
        reading.whole(typed, "the year", low=1, high=20)
    assert len(str(caught.value)) < 160


def test_of_two_meanings_of_a_number_of_things_the_whole_one_is_taken() -> None:
    assert reading.whole(" 12 ", "plants", low=1, high=2000) == 12
    assert reading.whole("1,250", "plants", low=1, high=2000) == 1250


@pytest.mark.parametrize(
    ("typed", "unit"), [("45%%%", "percent"), ("45%%", "percent"), ("7%", ""), ("7°", "percent"), ("30°°", "degrees")]
)
def test_a_sign_stands_once_and_only_with_its_unit(typed: str, unit: str) -> None:
    with pytest.raises(GardenError, match="cannot read"):
        reading.between(typed, "it", low=0, high=100, unit=unit)


@pytest.mark.parametrize("typed", ["00051", "005", "123", "٣"])
def test_a_month_has_two_digits_at_most(typed: str) -> None:
    with pytest.raises(GardenError, match="as months"):
        reading.months(typed, "flowers")


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("1,5; 2,5", ["1,5", "2,5"]),
        ("1,5 2,5", ["1,5", "2,5"]),
        ("1, 2, 3", ["1", "2", "3"]),
        ("1,2,3", ["1", "2", "3"]),
        ("1.5\t\t2", ["1.5", "2"]),
        ("", []),
    ],
)
def test_a_decimal_comma_does_not_part_numbers(typed: str, parts: list[str]) -> None:
    assert reading.several(typed) == parts


@pytest.mark.parametrize(
    ("typed", "months"),
    [
        ("April", (4,)),
        ("apr-jun, Oct.", (4, 5, 6, 10)),
        ("November to February", (1, 2, 11, 12)),
        ("3; 5 and 7", (3, 5, 7)),
        ("", ()),
    ],
)
def test_months_are_read_by_name_or_number_and_run_over_the_end_of_the_year(
    typed: str, months: tuple[int, ...]
) -> None:
    assert reading.months(typed, "flowers") == months


@pytest.mark.parametrize("typed", ["summer", "13", "0", "May to", "ma", "1 to 2 to 3", "٣"])
def test_what_is_no_month_is_named(typed: str) -> None:
    with pytest.raises(GardenError, match="as months for flowers; type them like April to June, October"):
        reading.months(typed, "flowers")
