"""The planting year by year: annuals again, and what division yields."""

import pytest

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.divisions import PARTS, PARTS_OF_SPREADERS, divided, divided_every, divided_in
from gardenkit.planting.planting import Plant
from gardenkit.schedules.by_year import planting_years
from gardenkit.schedules.phases import phases, year_lines
from gardenkit.schedules.plants import plant_schedule

CATALOGUE = load_catalogue()
CLUMP, RUNNER, ANNUAL, PEONY = (
    "Salvia nemorosa",
    "Fragaria chiloensis",
    "Cosmos sulphureus",
    "Paeonia lactiflora 'Festiva Maxima'",
)


def plants(kind: str, many: int, **words: int) -> list[Plant]:
    return [Plant(number=n, species=kind, at=(n, 0), **words) for n in range(1, many + 1)]


def test_an_annual_is_sown_in_its_year_and_its_ground_is_open_in_the_next() -> None:
    first, second = planting_years(plants(ANNUAL, 6), CATALOGUE)
    assert (first.year, first.sown) == (0, ((ANNUAL, 6),))
    assert (second.year, second.open_again) == (1, ((ANNUAL, 6),))
    spacing = CATALOGUE[ANNUAL].spacing_m
    assert second.opens == pytest.approx(6 * spacing * spacing * 3**0.5 / 2)


def test_an_annual_with_a_last_year_is_sown_again_each_year_until_then() -> None:
    years = planting_years(plants(ANNUAL, 4, until=2), CATALOGUE)
    assert [one.sown for one in years] == [((ANNUAL, 4),)] * 3 + [()]
    assert years[-1].open_again == ((ANNUAL, 4),)


def test_a_perennial_is_divided_when_its_care_says_and_gives_parts_less_the_one_set_back() -> None:
    every = divided_every(CATALOGUE[CLUMP])
    assert every == 4
    (year,) = planting_years(plants(CLUMP, 5), CATALOGUE)
    (one,) = year.divided
    assert (year.year, one.plants, one.spare) == (4, 5, 5 * (int(PARTS) - 1))
    assert year.covers == pytest.approx(one.spare * CATALOGUE[CLUMP].spacing_m ** 2 * 3**0.5 / 2)
    assert divided(CATALOGUE[RUNNER], 2).spare == 2 * (int(PARTS_OF_SPREADERS) - 1)
    assert planting_years(plants(CLUMP, 5, until=5), CATALOGUE) == ()  # a filler is taken out, not divided


def test_what_does_not_like_to_be_divided_is_left_alone() -> None:
    assert divided_every(CATALOGUE[PEONY]) is None
    assert planting_years(plants(PEONY, 3), CATALOGUE) == ()


def test_the_order_of_work_ends_with_a_line_a_year() -> None:
    years = planting_years([*plants(CLUMP, 5), *plants(ANNUAL, 6)], CATALOGUE)
    lines = year_lines(years, 2027)
    assert lines[0] == f"2027: sow or plant 6 {ANNUAL}"
    assert lines[-1].startswith(f"2031: divide 5 {CLUMP}, each in its season: up to 10 plants more for nothing")
    last = phases(paths=0, stones=0, supports=0, ground_areas=0, trees=0, plants=11, first_year=2027, yearly=lines)[-1]
    assert (last.name, last.work) == ("The planting from year to year", lines)


def test_parts_on_the_plan_are_told_of_their_year_and_not_bought() -> None:
    every = int(divided_every(CATALOGUE[CLUMP]) or 0)
    parts = [Plant(number=9, species=CLUMP, at=(3, 0), year=every, divided=True)]
    found = divided_in(CATALOGUE[CLUMP], [*plants(CLUMP, 5), *parts], every)
    assert (found.spare, found.placed, found.free) == (10, 1, 9)
    lines = year_lines(planting_years([*plants(CLUMP, 5), *parts], CATALOGUE), 2027)
    assert lines[0].endswith("; 1 of them stands on the plan")
    (line,) = plant_schedule([*plants(CLUMP, 5), *parts], CATALOGUE, {})
    assert (line.count, line.bought, line.cost) == (6, 5, 5 * line.price)
