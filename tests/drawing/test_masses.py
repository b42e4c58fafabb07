"""Small plans: what touches of one kind is one shape, low kinds below tall ones, and flowers show as dots."""

import attrs

from gardenkit.drawing.masses import mass_marks
from gardenkit.drawing.scene import Area, Dots
from gardenkit.drawing.symbols import PlantDrawn

CATMINT = PlantDrawn(number=1, key="NEP", at=(0.0, 0.0), height=0.5, spread=0.6, form="mound", foliage="#8fa38b")


def drift(count: int, apart: float, **more: object) -> list[PlantDrawn]:
    return [attrs.evolve(CATMINT, number=n, at=(apart * n, 0.0), **more) for n in range(count)]  # type: ignore[arg-type]


def areas(plants: list[PlantDrawn]) -> list[Area]:
    return [mark for mark in mass_marks(plants) if isinstance(mark, Area)]


def test_plants_that_touch_are_one_shape_and_those_apart_are_two() -> None:
    assert [len(area.rings) for area in areas(drift(5, 0.5))] == [1]
    assert [len(area.rings) for area in areas(drift(2, 3.0))] == [2]


def test_low_kinds_lie_below_tall_ones_and_what_sleeps_is_not_drawn() -> None:
    tall = drift(3, 0.5, key="CAL", height=1.4, foliage="#6f9448")
    bulbs = drift(3, 0.1, key="GAL", leaf="below ground")
    assert [area.fill for area in areas([*tall, *bulbs, *drift(3, 0.5)])] == ["#8fa38b", "#6f9448"]


def test_flowers_are_dots_inside_the_crown_and_more_on_a_larger_plant() -> None:
    small, large = drift(1, 1.0, flower="#7a64a8", spread=0.3), drift(1, 1.0, flower="#7a64a8", spread=2.0)
    counts = [len(m.points) for p in (small, large) for m in mass_marks(p) if isinstance(m, Dots)]
    assert counts[0] == 1 < counts[1]
    dots = next(m for m in mass_marks(large) if isinstance(m, Dots))
    assert max(x * x + y * y for x, y in dots.points) < 1.0
    assert not [m for m in mass_marks(drift(2, 1.0)) if isinstance(m, Dots)]
