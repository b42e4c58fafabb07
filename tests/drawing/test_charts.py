"""Charts: bars as long as what they stand for, and the same said in words."""

import pytest

from gardenkit.drawing.charts import MONTH_WIDE, BloomRow, bar_chart, bloom_calendar
from gardenkit.drawing.scene import Area, Label, Scene, plain

ROWS = (
    BloomRow(name="Salvia nemorosa", key="SAL", halves=tuple(range(9, 15)), colours=("#5b4a9a",)),
    BloomRow(name="Hamamelis mollis", key="HAM", halves=(23, 24, 1, 2, 3, 4), colours=("#e8b23a", "#c65a2b")),
    BloomRow(name="Cornus sericea", key="COR", halves=(9, 10), also=(((11, 12, 1), "#a8323a", "red stems"),)),
)


def texts(scene: Scene) -> list[str]:
    return [m.text for m in plain(scene.marks) if isinstance(m, Label)]


def bars(scene: Scene, fill: str) -> list[Area]:
    return [m for m in plain(scene.marks) if isinstance(m, Area) and m.fill == fill]


def width(area: Area) -> float:
    xs = [x for x, _ in area.rings[0]]
    return max(xs) - min(xs)


def test_a_bar_covers_exactly_its_months() -> None:
    (bar,) = bars(bloom_calendar(ROWS), "#5b4a9a")
    assert width(bar) == pytest.approx(3 * MONTH_WIDE)


def test_a_bar_begins_and_ends_at_half_months_and_says_so() -> None:
    row = BloomRow(name="Dianthus deltoides", halves=(10, 11, 12, 13), colours=("#b02040",))
    scene = bloom_calendar([row])
    (bar,) = bars(scene, "#b02040")
    assert width(bar) == pytest.approx(2 * MONTH_WIDE)
    assert "Dianthus deltoides: late May to early Jul" in scene.description
    assert row.months == (5, 6, 7)


def test_winter_bloom_is_split_at_the_turn_of_the_year() -> None:
    assert sorted(width(bar) / MONTH_WIDE for bar in bars(bloom_calendar(ROWS), "#e8b23a")) == pytest.approx([1, 2])


def test_the_months_when_nothing_flowers_say_so() -> None:
    scene = bloom_calendar(ROWS)
    assert texts(scene).count("none") == 6
    assert "Nothing flowers in Mar, Apr, Aug, Sep, Oct, Nov." in scene.description


def test_rows_stand_in_the_order_of_first_flower_with_winter_bloom_last() -> None:
    named = [text for text in texts(bloom_calendar(ROWS)) if "  " in text]
    assert named == ["Cornus sericea  COR", "Salvia nemorosa  SAL", "Hamamelis mollis  HAM"]


def test_berries_and_stems_are_a_thinner_bar_outside_the_bloom() -> None:
    stems = bars(bloom_calendar(ROWS), "#a8323a")
    assert sorted(width(bar) / MONTH_WIDE for bar in stems) == pytest.approx([1, 2])
    assert all(bar.tip == "Cornus sericea: red stems" for bar in stems)


def test_an_empty_calendar_is_still_a_chart() -> None:
    assert texts(bloom_calendar([])).count("none") == 12


def test_bars_are_in_proportion_and_carry_their_figures() -> None:
    scene = bar_chart([1.0, 2.0, 4.0], labels=["a", "b", "c"], title="Sun", unit="h", colour="#123456")
    heights = [max(y for _, y in bar.rings[0]) - min(y for _, y in bar.rings[0]) for bar in bars(scene, "#123456")]
    assert [h / heights[0] for h in heights] == pytest.approx([1, 2, 4])
    assert {"1.0", "2.0", "4.0"} <= set(texts(scene))
    assert scene.description == "Sun, h: a 1.0; b 2.0; c 4.0."


def test_a_bar_of_nothing_is_only_its_figure() -> None:
    assert (
        bars(bar_chart([0.0, 3.0], labels=["a", "b"], title="t", unit="h", colour="#123456"), "#123456").__len__() == 1
    )


def test_one_kind_is_said_in_the_singular() -> None:
    assert bloom_calendar(ROWS[:1]).description.startswith("Bloom calendar of 1 kind.")
    assert bloom_calendar(ROWS).description.startswith("Bloom calendar of 3 kinds.")
