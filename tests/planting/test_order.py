"""Low in front and tall behind, plants that like company, and covers for shade: asked of small beds of our own."""

import attrs
import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.composing import BedGround, Surroundings, compose
from gardenkit.planting.composing.carpet import closers, colonies
from gardenkit.planting.composing.company import in_company
from gardenkit.planting.composing.figures import figures_of
from gardenkit.planting.composing.given import Aims
from gardenkit.planting.composing.ground import Ground, ground_of
from gardenkit.planting.composing.kinds import Kind, kind_of, may_stand
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.woody import Placed

CATALOGUE = load_catalogue()
BED = plane.region([(0, 0), (6, 0), (6, 3), (0, 3)])
ROUND = Surroundings(walked=plane.region([(0, -1), (6, -1), (6, 0), (0, 0)]))


@pytest.fixture(scope="module")
def ground() -> Ground:
    return ground_of([BedGround(name="border", region=BED)], ROUND)


def _kind(name: str) -> Kind:
    return kind_of(CATALOGUE[name])


def _set(name: str, *at: tuple[float, float], stage: str = "drift") -> list[Placed]:
    return [Placed(kind=_kind(name), at=one, stage=stage) for one in at]


def _square(ground: Ground, at: tuple[float, float]) -> int:
    return int(ground.index.query(at)[1])


def test_low_plants_fit_before_a_tall_one_and_not_right_behind_it(ground: Ground):
    tall, low = _set("Salvia yangii", (3.0, 1.5)), _kind("Heuchera americana")
    order = Order(ground, tall)
    assert order.fits_at(low, _square(ground, (3.0, 0.8)))
    assert not order.fits_at(low, _square(ground, (3.0, 2.2)))
    assert order.fits_at(low, _square(ground, (5.0, 2.2)))  # further off than one looks
    assert order.fits_at(_kind("Salvia azurea"), _square(ground, (3.0, 2.2)))


def test_what_fits_costs_nothing_in_the_figure_and_what_does_not_does(ground: Ground):
    tall, name = _set("Salvia yangii", (3.0, 1.5)), "Heuchera americana"
    fits = Order(ground, tall).fits(_kind(name))
    for at in ((3.0, 0.8), (3.0, 2.2), (3.6, 2.1), (2.5, 1.0)):
        wrong = figures_of(ground, [*tall, *_set(name, at)]).tall_in_front
        assert (wrong == 0.0) == bool(fits[_square(ground, at)]), at


def test_a_tall_plant_does_not_fit_before_a_low_one_but_at_the_back(ground: Ground):
    order = Order(ground, _set("Heuchera americana", (3.0, 1.9), (1.0, 2.9)))
    assert not order.fits_at(_kind("Salvia yangii"), _square(ground, (3.0, 1.2)))
    assert order.fits_at(_kind("Salvia yangii"), _square(ground, (1.0, 2.5)))


def test_one_alone_joins_the_group_beside_it_or_is_left_out_where_it_only_fills(ground: Ground):
    group = _set("Geranium sanguineum", (1.0, 1.0), (1.4, 1.0), (1.2, 1.3))
    more = _set("Heuchera americana", (4.5, 0.8), (4.9, 0.8), (4.7, 1.1))
    joins = _set("Heuchera americana", (1.8, 1.15), stage="ground")
    alone = _set("Heuchera americana", (3.2, 2.6), stage="ground")
    found = in_company([*group, *more, *joins, *alone], 0, ground, lambda kind: may_stand(kind, ground, ROUND))
    assert [p.kind.species.botanical for p in found if p.at == (1.8, 1.15)] == ["Geranium sanguineum"]
    assert not [p for p in found if p.at == (3.2, 2.6)]
    assert figures_of(ground, found).dots == 0.0
    assert in_company(alone, 0, ground, lambda kind: may_stand(kind, ground, ROUND)) == alone  # the last of its kind
    kept = [*joins, *group, *more]
    assert in_company(kept, 1, ground, lambda kind: may_stand(kind, ground, ROUND))[0] is joins[0]


def test_where_trees_drink_in_shade_the_cover_that_bears_it_dry_is_taken(ground: Ground):
    moist, dry = _kind("Mitchella repens"), _kind("Waldsteinia fragarioides")
    assert dry.bears_dry and not moist.bears_dry
    dark = attrs.evolve(ground, hours=np.zeros(len(ground)), dry=ground.points[:, 0] > 3.0)
    chosen = colonies([moist, dry], dark, Aims(), np.random.default_rng(1))
    assert set(chosen[ground.points[:, 0] > 4.6]) == {1}
    assert 0 in chosen


def test_low_covers_that_take_shade_close_the_ground_where_no_carpet_does():
    sunny = [_kind(n) for n in ("Phlox subulata", "Dianthus deltoides", "Sedum rupestre 'Angelina'")]
    sedge, mint = _kind("Carex plantaginea"), _kind("Nepeta racemosa 'Walker's Low'")
    assert closers([*sunny, sedge, mint]) == [*sunny, sedge]
    assert closers([*sunny, _kind("Vinca minor"), sedge]) == [*sunny, _kind("Vinca minor")]


def test_the_signature_is_chosen_by_half_months_of_flower():
    long, short = ("Monarda fistulosa", "Achillea millefolium"), "Tradescantia ohiensis"
    names = [*long, short]
    assert {len(CATALOGUE[name].bloom_months) for name in names} == {3}
    found = compose(
        [CATALOGUE[name] for name in names], [BedGround(name="border", region=BED)], ROUND, catalogue=CATALOGUE
    )
    assert set(found.signature) == set(long)
