"""Ground heights as text and back: nothing is lost, and the line that cannot be read is named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.site.heights import SpotHeight
from gardenkit.site.heights_table import heights_text, read_heights
from gardenkit.units import System

POINTS: dict[str, Point] = {"A": (1.25, 2.5), "gate post": (0.0, -3.0)}
metres = st.floats(-60, 60, allow_nan=False)
free = st.builds(SpotHeight, at=st.tuples(metres, metres), height=metres)
named = st.sampled_from(sorted(POINTS)).flatmap(
    lambda name: st.builds(SpotHeight, at=st.just(POINTS[name]), height=metres, name=st.just(name))
)


def placed(name: str) -> Point:
    if name not in POINTS:
        raise GardenError(f'the survey has no point "{name}"')
    return POINTS[name]


@given(st.lists(free | named, max_size=8), st.sampled_from(["imperial", "metric"]))
def test_taking_what_is_shown_again_changes_no_height(heights: list[SpotHeight], system: System) -> None:
    text = heights_text(heights, system=system)
    again = read_heights(text, system=system, placed=placed, known=heights)
    assert len(again) == len(heights)
    assert set(again) <= set(heights)  # two that are shown alike are one place to the designer


def test_places_have_decimal_commas_as_on_the_forms() -> None:
    found = read_heights("3,25, 4,5; 1,5\n3,25; 1\n", system="metric", placed=placed)
    assert [height.at for height in found] == [(3.25, 4.5), (3.0, 25.0)]
    assert [height.height for height in found] == [1.5, 1.0]


def test_feet_and_inches_read_as_the_foot_of_1959() -> None:
    """0.3048 m a foot: the international yard and pound agreement of 1959."""
    found = read_heights("10, 20; -8 in\nA; 1' 6\"\n", system="imperial", placed=placed)
    assert found == (
        SpotHeight(at=(10 * 0.3048, 20 * 0.3048), height=-8 * 0.0254),
        SpotHeight(at=(1.25, 2.5), height=pytest.approx(1.5 * 0.3048), name="A"),
    )


def test_a_named_height_goes_along_with_its_point_and_stays_when_the_point_is_gone() -> None:
    known = (SpotHeight(at=(9.0, 9.0), height=0.1234567, name="A"), SpotHeight(at=(7.0, 7.0), height=2.0, name="Z"))
    again = read_heights(heights_text(known, system="metric"), system="metric", placed=placed, known=known)
    assert again == (SpotHeight(at=POINTS["A"], height=0.1234567, name="A"), known[1])
    (changed,) = read_heights("Z; 2.5", system="metric", placed=placed, known=known)
    assert changed == SpotHeight(at=(7.0, 7.0), height=2.5, name="Z")


@pytest.mark.parametrize(
    ("line", "words"), [("A", "line 2 .* has no height"), ("1, 2; high", "high"), ("; 3", "no point")]
)
def test_a_line_that_cannot_be_read_is_named(line: str, words: str) -> None:
    with pytest.raises(GardenError, match=words):
        read_heights(f"A; 2\n{line}", system="metric", placed=placed)
