"""Colours out of pictures by share, and colours by name against the list of CSS Color Module Level 4 (W3C)."""

import pytest
from PIL import Image

from gardenkit.brief.colour_names import name_of, read_colour
from gardenkit.brief.palette import palette, shared_colours
from gardenkit.findings import GardenError
from gardenkit.planting.colour import difference


def striped(*shares: tuple[str, int]) -> Image.Image:
    """Return a picture of upright stripes, each of a colour and so many hundredths of the width."""
    made, at = Image.new("RGB", (100, 60)), 0
    for colour, wide in shares:
        made.paste(Image.new("RGB", (wide, 60), colour), (at, 0))
        at += wide
    return made


def test_a_palette_is_the_colours_of_a_picture_with_their_shares() -> None:
    found = palette(striped(("#506e47", 60), ("#755f98", 30), ("#f2f0ea", 10)))
    assert [round(s.share, 2) for s in found] == [0.6, 0.3, 0.1]
    assert all(difference(s.colour, c) < 2.3 for s, c in zip(found, ("#506e47", "#755f98", "#f2f0ea"), strict=True))


def test_shades_nearer_than_the_eye_keeps_apart_are_one_colour() -> None:
    assert difference("#506e47", "#54724b") < 11
    (green,) = palette(striped(("#506e47", 50), ("#54724b", 50)))
    assert green.share == pytest.approx(1.0)


def test_what_two_pictures_share_weighs_by_both() -> None:
    one = palette(striped(("#506e47", 80), ("#c03a5b", 20)))
    other = palette(striped(("#506e47", 40), ("#e2b04a", 60)))
    assert [round(s.share, 2) for s in shared_colours([one, other])] == [0.6, 0.3, 0.1]


# CSS Color Module Level 4, section 6.1, table of named colors
@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("lavender", "#e6e6fa"),
        ("Light Coral", "#f08080"),
        ("rebeccapurple", "#663399"),
        ("darkslategray", "#2f4f4f"),
        ("dark slate grey", "#2f4f4f"),
        (" #ABC ", "#aabbcc"),
        ("#755f98", "#755f98"),
    ],
)
def test_a_colour_is_read_by_code_or_name(typed: str, code: str) -> None:
    assert read_colour(typed) == code


def test_a_colour_is_called_by_the_nearest_name_of_the_list() -> None:
    assert [name_of(c) for c in ("#e6e6fb", "#6b8e24", "#f07f81")] == ["lavender", "olive drab", "light coral"]


@pytest.mark.parametrize(
    ("typed", "said"), [("lavendar", 'nearest known is "lavender"'), ("#12", "type a code"), ("", "type a code")]
)
def test_what_is_no_colour_is_said(typed: str, said: str) -> None:
    with pytest.raises(GardenError, match=said):
        read_colour(typed)
