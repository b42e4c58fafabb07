"""Plant symbols: as wide as the plant, told apart by form, season and flower."""

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing.scene import Area, Disc, Dots, Hatch, Symbol
from gardenkit.drawing.symbols import CANOPY_ALPHA, HABITS, PlantDrawn, plant_symbol, tree_symbol, unit_outline
from gardenkit.planting.catalogue_columns import FORMS


def plant(**given_: object) -> PlantDrawn:
    values: dict[str, object] = {
        "number": 3,
        "key": "SAL",
        "at": (4.0, 2.0),
        "height": 1.0,
        "spread": 1.2,
        "form": "round",
        "foliage": "#86a070",
    }
    return PlantDrawn(**{**values, **given_})  # type: ignore[arg-type]


def body(symbol: Symbol) -> Area:
    return next(mark for mark in symbol.marks if isinstance(mark, Area))


@settings(max_examples=60)
@given(st.sampled_from(sorted(HABITS)), st.floats(0.1, 20), st.sampled_from([48.0, 96.0]), st.integers(1, 500))
def test_every_symbol_reaches_exactly_half_the_spread(form: str, spread: float, scale: float, number: int) -> None:
    drawn = body(plant_symbol(plant(form=form, spread=spread, number=number), scale=scale))
    reach = max(math.dist(p, (4.0, 2.0)) for p in drawn.rings[0])
    assert reach == pytest.approx(spread / 2)


@pytest.mark.parametrize("form", FORMS)
def test_every_form_of_the_catalogue_has_a_symbol_of_its_own(form: str) -> None:
    assert form in HABITS


@pytest.mark.parametrize(("one", "other"), list(combinations(sorted(HABITS), 2)))
def test_no_two_forms_are_drawn_alike(one: str, other: str) -> None:
    a, b = unit_outline(one), unit_outline(other)
    assert a.shape != b.shape or not np.allclose(a, b) or HABITS[one].inner != HABITS[other].inner


@pytest.mark.parametrize("form", sorted(HABITS))
def test_nothing_of_a_symbol_lies_outside_its_spread(form: str) -> None:
    marks = plant_symbol(plant(form=form, flower="#c95f8a"), scale=48).marks
    ribs = [p for mark in marks if isinstance(mark, Hatch) for line in mark.lines for p in line]
    flowers = [mark for mark in marks if isinstance(mark, Dots)]
    assert all(math.dist(p, (4.0, 2.0)) <= 0.6 + 1e-9 for p in ribs)
    assert all(math.dist(p, (4.0, 2.0)) + dots.radius <= 0.6 for dots in flowers for p in dots.points)


def test_flowers_show_only_in_flower_and_in_their_colour() -> None:
    assert not any(isinstance(mark, Dots) for mark in plant_symbol(plant(), scale=48).marks)
    dots = [m for m in plant_symbol(plant(flower="#c95f8a"), scale=48).marks if isinstance(m, Dots)]
    assert [d.fill for d in dots] == ["#c95f8a"]


def test_evergreen_leafy_bare_and_hidden_plants_look_different() -> None:
    drawn = {leaf: plant_symbol(plant(leaf=leaf), scale=48) for leaf in ("evergreen", "leaf", "bare", "below ground")}
    assert body(drawn["evergreen"]).width_mm > body(drawn["leaf"]).width_mm
    assert sum(isinstance(m, Area) for m in drawn["evergreen"].marks) == 2
    assert body(drawn["leaf"]).fill == "#86a070"
    assert body(drawn["bare"]).dash
    assert body(drawn["bare"]).fill != "#86a070"
    assert body(drawn["below ground"]).fill is None
    assert len({repr(symbol.marks) for symbol in drawn.values()}) == 4


def test_trees_are_seen_through_and_drawn_above_what_is_under_them() -> None:
    tree = plant_symbol(plant(layer="tree", spread=6.0, height=8.0), scale=48)
    assert tree.layer == "canopy"
    assert body(tree).alpha == CANOPY_ALPHA < 0.5
    assert any(isinstance(mark, Disc) and mark.at == (4.0, 2.0) for mark in tree.marks)


def test_ferns_and_bulbs_have_their_own_symbols_whatever_their_form() -> None:
    as_clump = body(plant_symbol(plant(form="clump"), scale=48))
    for layer in ("fern", "bulb"):
        assert len(body(plant_symbol(plant(form="clump", layer=layer), scale=48)).rings[0]) != len(as_clump.rings[0])


def test_a_trained_plant_lies_along_its_support() -> None:
    ring = np.array(body(plant_symbol(plant(form="trained", turn=0.0), scale=48)).rings[0])
    wide, deep = np.ptp(ring, axis=0)
    assert wide > 3 * deep
    turned = np.array(body(plant_symbol(plant(form="trained", turn=90.0), scale=48)).rings[0])
    assert np.ptp(turned[:, 1]) > 3 * np.ptp(turned[:, 0])


def test_a_symbol_has_few_corners() -> None:
    for form in HABITS:
        symbol = plant_symbol(plant(form=form, spread=0.5), scale=96)
        assert sum(len(ring) for mark in symbol.marks if isinstance(mark, Area) for ring in mark.rings) <= 60


def test_a_tip_names_the_plant_and_its_size() -> None:
    symbol = plant_symbol(plant(name="Salvia nemorosa", flower="#5b4a9a"), scale=48)
    assert symbol.tip == "Salvia nemorosa (SAL): about 1.00 m high, about 1.20 m wide, in leaf, in flower"


def test_an_existing_tree_to_be_removed_is_crossed_out_and_not_filled() -> None:
    kept = tree_symbol((0, 0), 4.0, form="round", trunk=0.3, keep=True, tip="")
    gone = tree_symbol((0, 0), 4.0, form="round", trunk=0.3, keep=False, tip="")
    assert body(kept).fill is not None
    assert body(gone).fill is None
    assert body(gone).dash
    assert next(m for m in kept.marks if isinstance(m, Disc)).radius == 0.15
