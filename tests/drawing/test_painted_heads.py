"""Heads of flowers close by: each by itself, thinner to its tip, lit on the side of the sun, fewer florets far off."""

import attrs
import numpy as np
import pytest

from gardenkit.drawing.painted.drifts import Model, _model
from gardenkit.drawing.painted.forms import UP
from gardenkit.drawing.painted.heads import HEADS, SPECK, built
from gardenkit.drawing.painted.plants import Set, parts_of
from gardenkit.drawing.painted.setting import set_again
from gardenkit.drawing.painted.shapes import STICK
from gardenkit.drawing.painted.splats import within_of
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view_plants import _character
from gardenkit.drawing.view_standing import Grown
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.flower_heads import flower_head
from gardenkit.planting.season import appearance

CATALOGUE = load_catalogue()
VIOLET = "#6a3fb0"
CLOSE = 800.0  # pixels a metre


def stand(name: str, month: int, *, half: float = 0.25, tall: float = 0.6, scale: float = CLOSE) -> Set:
    """Return a kind as it stands in a month."""
    species = CATALOGUE[name]
    look = appearance(species, month)
    plant = PlantDrawn(
        number=1,
        key="",
        at=(0.0, 0.0),
        height=tall,
        spread=2 * half,
        form=species.form,
        foliage=look.foliage or "#777777",
        leaf="leaf" if look.in_leaf else "bare",
        layer=species.layer,
        name=name,
    )
    grown = Grown(drawn=plant, flowers=look.flowers, **_character(species, look))
    return Set(plant=grown, foot=np.zeros(3), half=half, tall=tall, scale=scale)


def test_a_spire_thins_to_its_tip_and_a_globe_is_as_wide_as_high() -> None:
    def spans(form: str) -> tuple[np.ndarray, np.ndarray]:
        one = built(np.zeros((1, 3)), UP[None], VIOLET, form, HEADS[form], CLOSE, eye=VIOLET)  # type: ignore[index,arg-type]
        return np.hypot(one.at[:, 0], one.at[:, 1]), one.at[:, 2]

    off, high = spans("spire")
    tip = high > np.quantile(high, 0.85)
    assert off[tip].max() < 0.5 * off[~tip].max()
    assert np.ptp(high) > 4 * off.max()
    off, high = spans("ball")
    assert np.ptp(high) == pytest.approx(2 * off.max(), rel=0.1)
    off, high = spans("umbel")
    assert 5 * np.ptp(high) < 2 * off.max()  # a flat plate


@pytest.mark.parametrize(
    ("name", "month"), [("Salvia nemorosa 'Caradonna'", 6), ("Echinacea purpurea", 8), ("Achillea millefolium", 7)]
)
def test_near_heads_stand_above_the_leaves_with_gaps_between_them(name: str, month: int) -> None:
    one = stand(name, month)
    leaves, *_, heads = parts_of(one)
    assert np.quantile(heads.at[:, 2], 0.1) > np.quantile(leaves.at[:, 2], 0.7)
    # seen from above, heads leave more than half of the plant's round open
    dots = 120
    seen = np.zeros((dots, dots), dtype=bool)
    reach = np.linalg.norm(heads.along, axis=1)
    grid = (np.arange(dots) + 0.5) / dots * 2 * one.half - one.half
    for (x, y, _), size in zip(heads.at, reach, strict=True):
        seen |= (grid[:, None] - x) ** 2 + (grid[None, :] - y) ** 2 < size**2
    within = grid[:, None] ** 2 + grid[None, :] ** 2 < one.half**2
    assert 0.1 < seen[within].mean() < 0.6


def test_a_head_has_a_sunny_side_and_a_side_in_its_own_shade() -> None:
    one = built(np.zeros((1, 3)), UP[None], VIOLET, "ball", HEADS["ball"], CLOSE, eye=VIOLET)
    made = Model(
        spans=np.stack((one.at, one.along, one.across, one.facing)).astype(np.float32),
        paint=one.paint,
        within=within_of(one),
    )
    spans, paint = np.empty_like(made.spans), np.empty_like(made.paint)
    sun = np.array([0.8, 0.0, 0.6])
    stands = np.array([0.0, 0.0, 0.0, 1.0, 1.0, 0.0])
    set_again(made.spans, made.paint, made.within, stands, sun, spans, paint)
    towards = one.at @ sun > 0.5 * float(HEADS["ball"].half)
    away = one.at @ sun < -0.5 * float(HEADS["ball"].half)
    assert paint[towards, 4].mean() > 1.8 * paint[away, 4].mean()


def test_far_heads_have_fewer_florets_and_stay_as_large() -> None:
    at = np.zeros((1, 3))
    counts = [
        len(built(at, UP[None], VIOLET, "spire", HEADS["spire"], scale, eye=VIOLET).at) for scale in (800, 200, 40, 8)
    ]
    assert counts == sorted(counts, reverse=True)
    assert counts[0] > 30
    assert counts[-1] == 1
    far = 0.9 * SPECK / HEADS["spire"].half  # too slim for florets, tall enough for a stroke
    strokes = built(at, UP[None], VIOLET, "spire", HEADS["spire"], far, eye=VIOLET)
    assert set(strokes.paint[:, 3]) == {STICK}
    ends = np.concatenate((strokes.at + strokes.along, strokes.at - strokes.along))[:, 2]
    assert np.ptp(ends) == pytest.approx(HEADS["spire"].high, rel=0.3)


def test_an_allium_is_one_globe_on_a_stalk_above_withered_leaves() -> None:
    name = "Allium hollandicum 'Purple Sensation'"
    one = stand(name, 6, half=0.08, tall=0.8)
    withered = attrs.evolve(one, plant=attrs.evolve(one.plant, in_leaf=0.0))
    leaves, stalks, globe = parts_of(withered)
    assert leaves.at[:, 2].max() < 0.3 * one.tall
    assert globe.at[:, 2].min() > 0.7 * one.tall
    assert np.ptp(globe.at[:, 0]) < 0.16
    assert stalks.at[:, 2].max() < globe.at[:, 2].max()


def test_the_new_leaves_of_an_evergreen_stand_over_those_of_last_year() -> None:
    species = CATALOGUE["Nandina domestica"]
    month = 4
    look = appearance(species, month)
    assert _character(species, look)["old_leaves"] == species.foliage_summer
    assert _character(species, appearance(species, 7))["old_leaves"] is None
    old, new, *_ = parts_of(stand(species.botanical, month, half=0.4, tall=1.2))
    green = old.paint[:, 1].astype(int) - old.paint[:, 0]
    assert (green > 0).mean() > 0.9  # last year's are green
    assert (new.paint[:, 0].astype(int) > new.paint[:, 1]).mean() > 0.9  # the new ones bronze
    assert len(old.at) > 0.2 * len(new.at)


def test_buds_swell_in_the_month_before_the_leaves() -> None:
    species = CATALOGUE["Aronia melanocarpa"]
    months = [m for m in range(1, 13) if appearance(species, m).budding]
    assert months == [species.leaf_on - 1]  # type: ignore[operator]
    winter, spring = (
        _model(stand(species.botanical, m, half=0.6, tall=1.4).plant, 0.6, 1.4, CLOSE) for m in (1, months[0])
    )
    assert winter is not None and spring is not None

    def green(one: Model) -> int:
        return int((one.paint[:, 1].astype(int) > one.paint[:, 0].astype(int) + 8).sum())

    assert green(spring) > 300 > green(winter)


def test_creeping_phlox_is_a_carpet_of_single_flowers() -> None:
    assert flower_head(CATALOGUE["Phlox subulata"]) == "cup"
    assert flower_head(CATALOGUE["Phlox paniculata 'David'"]) == "mophead"


def test_the_heads_of_a_low_mat_stay_low() -> None:
    blooming = CATALOGUE["Thymus serpyllum"].bloom_months[0]
    mat, high = (stand("Thymus serpyllum", blooming, half=0.2, tall=tall) for tall in (0.06, 0.6))
    tops = [max(float(part.at[:, 2].max()) for part in parts_of(one)) for one in (mat, high)]
    assert tops[0] < 1.5 * 0.06
    assert tops[1] > 0.5
