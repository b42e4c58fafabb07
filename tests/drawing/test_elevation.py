"""The side view: heights and widths to scale, near plants before far ones."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.drawing.elevation import along_and_beyond, elevation_scene, wall_behind
from gardenkit.drawing.labels import label_box, overlaps
from gardenkit.drawing.scene import Area, Label, Symbol, plain
from gardenkit.drawing.silhouettes import PROFILES, side_symbol, silhouette
from gardenkit.drawing.symbols import HABITS, PlantDrawn

LINE = ((6.5, 0.0), (14.5, 0.0))


@given(
    st.sampled_from(sorted(PROFILES)), st.floats(0.05, 25), st.floats(0.05, 15), st.sampled_from(["tree", "perennial"])
)
def test_a_plant_is_as_high_and_as_wide_as_it_says(form: str, height: float, spread: float, layer: str) -> None:
    plant = PlantDrawn(
        number=1, key="K", at=(0, 0), height=height, spread=spread, form=form, foliage="#86a070", layer=layer
    )
    symbol = side_symbol(plant, at=3.0, scale=48.0)
    xs, ys = np.array([p for m in symbol.marks if isinstance(m, Area) and m.stroke for p in m.rings[0]]).T
    assert ys.max() == pytest.approx(height)
    assert (xs.min(), xs.max()) == pytest.approx((3.0 - spread / 2, 3.0 + spread / 2))


def test_every_form_has_a_side_and_a_plan() -> None:
    assert set(PROFILES) == set(HABITS)


@pytest.mark.parametrize("form", sorted(PROFILES))
def test_a_silhouette_is_the_same_on_both_sides(form: str) -> None:
    outline = silhouette(form)
    assert outline[:, 0] == pytest.approx(-outline[::-1, 0])


def test_left_of_the_line_is_beyond_it() -> None:
    assert along_and_beyond((3.0, 2.0), ((1.0, 1.0), (9.0, 1.0))) == pytest.approx((2.0, 1.0))


def test_far_plants_are_drawn_before_near_ones(garden) -> None:  # type: ignore[no-untyped-def]
    scene = elevation_scene(garden.plants, line=LINE, title="South bed")
    names = [m.tip for m in scene.marks if isinstance(m, Symbol) and "(" in m.tip]
    order = {p.name: p.at[1] for p in garden.plants}
    assert len(names) == 60
    assert order[names[0].split(" (")[0]] >= order[names[-1].split(" (")[0]]


def test_plants_out_of_sight_of_the_line_are_left_out(garden) -> None:  # type: ignore[no-untyped-def]
    scene = elevation_scene(garden.plants, line=LINE, title="South bed", depth=0.7)
    assert sum(isinstance(m, Symbol) and "(" in m.tip for m in scene.marks) == 15


def test_the_wall_behind_shows_the_openings_that_face_the_line(garden) -> None:  # type: ignore[no-untyped-def]
    house = garden.site.buildings[0]
    wall = wall_behind(house, garden.site.openings, ((0.0, 0.0), (18.0, 0.0)))
    assert (wall.left, wall.right, wall.height) == (0.0, 9.0, 2.7)
    assert [kind for *_, kind in wall.openings] == ["door", "window"]


@pytest.mark.parametrize("scale", [48.0, 96.0])
def test_keys_under_the_line_do_not_overlap(garden, scale: float) -> None:  # type: ignore[no-untyped-def]
    scene = elevation_scene(garden.plants, line=LINE, title="South bed", scale=scale)
    boxes = [label_box(m, scale) for m in plain(scene.marks) if isinstance(m, Label)]
    assert not any(overlaps(a, b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_the_view_is_described_by_heights(garden) -> None:  # type: ignore[no-untyped-def]
    scene = elevation_scene(garden.plants, line=LINE, title="South bed")
    assert scene.description.startswith("Side view of 60 plants. Heights: Echinacea pallida 3.3 ft;")
