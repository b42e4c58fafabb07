"""A proposed arrangement stands as a gardener would plant it: roomy, layered, in odd groups, in fitting sun."""

import math
import sys
from collections import Counter

import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.medial import circles
from gardenkit.planting.arranging import (
    Aims,
    Arrangement,
    BedGround,
    Settings,
    Surroundings,
    arrange,
    kernel,
    usual_counts,
)
from gardenkit.planting.arranging.energy import energy, moved_energy, parts, state_of
from gardenkit.planting.arranging.ground import cells_of
from gardenkit.planting.arranging.kinds import apart, clashes, groups_of, kind_of
from gardenkit.planting.arranging.search import search
from gardenkit.planting.arranging.start import costs, holds, sun_misfit
from gardenkit.planting.arranging.steps import board, groups, prepared
from gardenkit.planting.balance import beside
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.layering import groups as standing_groups
from gardenkit.planting.layering import height_order
from gardenkit.planting.planting import Plant
from gardenkit.planting.setbacks import Around, Glass, Service, setback_findings
from gardenkit.planting.species import Species
from gardenkit.planting.standing import mature
from gardenkit.planting.sun_need import hours_of
from gardenkit.site.site import ExistingTree
from gardenkit.structure.structure import Support
from gardenkit.units import FOOT

CATALOGUE = load_catalogue()
PATH = plane.region([(0, 4), (18, 4), (18, 5), (0, 5)])
WAY = ((0.0, 4.5), (18.0, 4.5))
HOUSE_WALL = plane.region([(0, -4), (18, -4), (18, 0), (0, 0)])
QUICK = 30_000  # moves: enough for these gardens


def bed(name: str, left: float, low: float, right: float, high: float) -> BedGround:
    region = plane.region([(left, low), (right, low), (right, high), (left, high)])
    return BedGround(name=name, region=region, pockets=circles(region))


SOUTH = (bed("gate", 0, 0, 6, 4), bed("middle", 6.3, 0, 12, 4), bed("seat", 12.3, 0, 18, 4))
NORTH = (bed("left", 0, 5, 6, 9), bed("back", 6.3, 5, 12, 9), bed("corner", 12.3, 5, 18, 9))
BEDS = (*SOUTH, *NORTH)
AROUND = Around(
    paths=(("path", PATH),),
    walls=(("house", HOUSE_WALL),),
    windows=(Glass(name="kitchen window", line=((2, 0), (4, 0)), sill=0.9),),
    services=(Service(name="gas box", kind="gas box", line=((17.5, 8.5),)),),
)
SUPPORTS = (
    Support(name="arch", kind="arch", line=((6.15, 3.8), (6.15, 5.2))),
    Support(name="wires", kind="wall wires", line=((13, 9.1), (17, 9.1)), height=2.4),
)
SURROUNDINGS = Surroundings(
    around=AROUND, ways=(WAY,), viewpoints=((9.0, 4.5),), supports=SUPPORTS, sun=lambda places: 2.0 + 0.7 * places[:, 1]
)
NAMES = (
    "Magnolia grandiflora 'Little Gem'",
    "Clematis montana",
    "Lonicera sempervirens",
    "Hydrangea paniculata",
    "Ilex crenata 'Convexa'",
    "Salvia nemorosa 'Caradonna'",
    "Nepeta × faassenii",
    "Rudbeckia fulgida 'Goldsturm'",
    "Panicum virgatum",
    "Hosta 'Halcyon'",
    "Geranium sanguineum",
    "Phlox subulata",
    "Allium cristophii",
    "Ageratum houstonianum",
)


def kinds_of(names: tuple[str, ...] = NAMES) -> list[Species]:
    return [CATALOGUE[name] for name in names]


KINDS = kinds_of()


@pytest.fixture(scope="module")
def proposal() -> Arrangement:
    return arrange(KINDS, BEDS, SURROUNDINGS, seed=3, moves=QUICK)


def planted(found: Arrangement) -> list[tuple[Plant, Species]]:
    return [(p, CATALOGUE[p.species]) for p in found.plants]


def at_of(found: Arrangement, *layers: str) -> np.ndarray:
    return np.array([p.at for p, s in planted(found) if s.layer in layers]).reshape(-1, 2)


# ---- where plants stand


def test_every_layer_of_the_palette_is_planted(proposal: Arrangement) -> None:
    missing = (
        {s.botanical for s in KINDS} - {p.species for p in proposal.plants} - {u.species for u in proposal.unplaced}
    )
    assert missing == set()
    assert {CATALOGUE[p.species].layer for p in proposal.plants} >= {"tree", "climber", "shrub", "perennial", "grass"}


def test_all_plants_keep_from_walls_windows_paths_and_services(proposal: Arrangement) -> None:
    setbacks = [f for f in setback_findings(planted(proposal), AROUND) if "where about" not in f.what]
    assert setbacks == []


def test_neighbours_are_apart_as_asked(proposal: Arrangement) -> None:
    settings = Settings()
    for i, (a, one) in enumerate(planted(proposal)):
        for b, other in planted(proposal)[:i]:
            assert math.dist(a.at, b.at) >= apart(kind_of(one), kind_of(other), settings) - 1e-6


def test_the_tree_stands_where_its_crown_overhangs_by_at_most_half_its_radius(proposal: Arrangement) -> None:
    for plant, species in planted(proposal):
        if species.layer == "tree":
            home = next(b for b in BEDS if plane.contains(b.region, plant.at))
            edge = plane.distance(
                plane.line([*plane.corners(home.region), plane.corners(home.region)[0]]), plane.point(plant.at)
            )
            assert edge >= 0.5 * species.spread / 2 - 1e-6
            assert (
                plane.distance(HOUSE_WALL, plane.point(plant.at)) >= 10 * FOOT
            )  # a regional tree guide, planting.md b2


def test_every_plant_of_the_usual_counts_is_placed_or_accounted_for(proposal: Arrangement) -> None:
    counts = Counter(p.species for p in proposal.new)
    asked = usual_counts(KINDS, sum(plane.area(b.region) for b in BEDS))
    lost = Counter({u.species: u.count for u in proposal.unplaced})
    for species in KINDS:
        assert counts[species.botanical] + lost[species.botanical] == asked[species.botanical]


def test_herbs_stand_in_close_odd_groups(proposal: Arrangement) -> None:
    herbs = [(p, s) for p, s in planted(proposal) if kind_of(s).role == "herb"]
    sizes = Counter(len(group) for group in standing_groups(mature(herbs)))
    odd = sum(size * n for size, n in sizes.items() if size % 2)
    assert odd >= 0.8 * len(herbs)  # two groups of one kind that touch read as one
    assert sizes[1] <= 0.03 * len(herbs)  # a stray that found no free place beside its group


def test_a_lone_drift_is_one_odd_group() -> None:
    found = arrange([CATALOGUE["Nepeta × faassenii"]], BEDS[:1], Surroundings(), counts={"Nepeta × faassenii": 5})
    assert [len(g) for g in standing_groups(mature(planted(found)))] == [5]


def test_low_plants_stand_in_front_of_tall_ones(proposal: Arrangement) -> None:
    layered = [(p, s) for p, s in planted(proposal) if kind_of(s).role in ("bush", "herb")]
    order = height_order(mature(layered), WAY)
    assert order.pairs > 20
    assert order.share <= 0.15  # the share from which layering_findings speaks


def test_bedding_lines_the_path(proposal: Arrangement) -> None:
    bedding = at_of(proposal, "annual")
    assert len(bedding) >= 3
    assert plane.point_distances(bedding, PATH).mean() < 1.0


def test_plants_that_want_shade_get_the_shadier_ground() -> None:
    hosta, sage = CATALOGUE["Hosta 'Halcyon'"], CATALOGUE["Salvia nemorosa 'Caradonna'"]
    surroundings = Surroundings(sun=lambda places: np.where(places[:, 0] < 3.0, 1.0, 9.0))
    found = arrange([hosta, sage], [bed("one", 0, 0, 6, 4)], surroundings, moves=QUICK)
    for plant, species in planted(found):
        assert (plant.at[0] < 3.0) == (species is hosta)


def test_sun_misfit_counts_hours_outside_the_range() -> None:
    sage = CATALOGUE["Salvia nemorosa 'Caradonna'"]  # best in full sun, stands part
    full, part = hours_of("full")[0], hours_of("part")[0]
    hours = np.array([full, (full + part) / 2, part, part - 2.0])
    assert sun_misfit(sage, hours).tolist() == [0.0, 0.25, 0.25, 1.25]


def test_groups_of_one_kind_are_repeated_along_the_way() -> None:
    kinds, count = (
        kinds_of(("Nepeta × faassenii", "Panicum virgatum")),
        {"Nepeta × faassenii": 15, "Panicum virgatum": 9},
    )
    surroundings = Surroundings(around=Around(paths=(("path", PATH),)), ways=(WAY,))
    found = arrange(kinds, BEDS, surroundings, counts=count, moves=QUICK)
    _, along, _ = beside(np.array([p.at for p in found.plants if p.species == "Nepeta × faassenii"]), WAY)
    assert along.max() - along.min() > 6.0


def test_a_heavier_aim_for_balance_evens_out_the_two_sides() -> None:
    kinds = kinds_of(("Hydrangea paniculata", "Panicum virgatum", "Nepeta × faassenii"))
    surroundings = Surroundings(around=Around(paths=(("path", PATH),)), ways=(WAY,))

    def lean(weight: float, seed: int) -> float:
        aims = Aims(balance=weight)
        found = arrange(kinds, (BEDS[0], BEDS[3]), surroundings, aims=aims, seed=seed, moves=QUICK)
        plants = planted(found)
        _, _, left = beside(np.array([p.at for p, _ in plants]), WAY)
        mass = np.array([kind_of(s).mass for _, s in plants])
        return float(abs(mass[left].sum() - mass[~left].sum()) / mass.sum())

    assert sum(lean(20.0, seed) for seed in (1, 2)) < 0.6 * sum(lean(0.0, seed) for seed in (1, 2))


def test_colours_that_flower_together_and_clash_are_told_apart_from_those_that_never_meet() -> None:
    kinds = [kind_of(s) for s in kinds_of(("Salvia nemorosa 'Caradonna'", "Nepeta × faassenii", "Panicum virgatum"))]
    ill = clashes(kinds)
    assert np.array_equal(ill, ill.T)
    assert ill[0, 1] < 0.2  # two violet blues
    assert (ill >= 0).all()
    assert (ill <= 1).all()


# ---- supports


def test_climbers_stand_at_a_support_that_holds_them(proposal: Arrangement) -> None:
    climbers = [p for p, s in planted(proposal) if s.layer == "climber"]
    assert climbers
    for plant in climbers:
        support = next(s for s in SUPPORTS if s.name == plant.support)
        assert holds(support, CATALOGUE[plant.species])
        assert plane.distance(plane.line(support.line), plane.point(plant.at)) <= 0.75 + 1e-6


def test_a_heavy_climber_is_not_put_on_a_trellis() -> None:
    heavy = next(s for s in CATALOGUE.layer("climber") if s.weight == "heavy")
    trellis = Support(name="trellis", kind="trellis", line=((1, 0.1), (3, 0.1)))
    found = arrange([heavy], [bed("one", 0, 0, 6, 4)], Surroundings(supports=(trellis,)), moves=40)
    assert found.plants == ()
    assert "it is heavy" in found.unplaced[0].why


def test_without_a_support_a_climber_stays_out_with_the_reason() -> None:
    found = arrange([CATALOGUE["Lonicera sempervirens"]], [bed("one", 0, 0, 6, 4)], moves=40)
    assert [(u.species, u.count, u.why) for u in found.unplaced] == [
        ("Lonicera sempervirens", 1, "there is no support for it to grow on")
    ]


# ---- what stays


def test_kept_plants_stay_exactly_and_count() -> None:
    kept = Plant(number=41, species="Nepeta × faassenii", at=(1.234567, 2.345678), locked=True, note="by hand")
    found = arrange(KINDS, BEDS, SURROUNDINGS, keep=[kept], counts={"Nepeta × faassenii": 6}, moves=QUICK)
    assert found.plants[0] is kept
    assert sum(p.species == kept.species for p in found.new) <= 5
    assert min(p.number for p in found.new) == 42
    assert len({p.number for p in found.plants}) == len(found.plants)


def test_kept_plants_too_near_each_other_are_named_not_moved() -> None:
    pair = [Plant(number=n, species="Nepeta × faassenii", at=(1.0 + n / 10, 2.0)) for n in (1, 2)]
    found = arrange([], BEDS, keep=pair, catalogue=CATALOGUE, moves=40)
    assert found.plants == tuple(pair)
    assert [f.where for f in found.findings] == ["plant 1, Nepeta × faassenii"]
    assert "stands 0.10 m from plant 2" in found.findings[0].what


def test_a_kept_plant_outside_all_beds_is_named() -> None:
    found = arrange(
        [], BEDS, keep=[Plant(number=1, species="Nepeta × faassenii", at=(9.0, 4.5))], catalogue=CATALOGUE, moves=40
    )
    assert [f.what for f in found.findings] == ["stands in no bed; it is kept as it is"]


def test_trees_that_are_there_keep_their_ground() -> None:
    oak = ExistingTree(name="old oak", at=(3.0, 2.0), height=12.0, spread=8.0, crown_base=2.0)
    found = arrange(
        kinds_of(("Hydrangea paniculata", "Hosta 'Halcyon'")), SOUTH, Surroundings(trees=(oak,)), moves=QUICK
    )
    assert found.new
    for plant, species in planted(found):
        least = 0.75 * (8.0 + species.spread) / 2 if species.height > 2.0 else 0.45
        assert math.dist(plant.at, oak.at) >= least - 1e-6


def test_shrubs_stand_free_not_as_a_hedge() -> None:
    holly = CATALOGUE["Ilex crenata 'Convexa'"]  # the catalogue's spacing is for a hedge
    assert holly.spacing_m < 0.75 * holly.spread
    assert apart(kind_of(holly), kind_of(holly), Settings()) == pytest.approx(0.75 * holly.spread)


def test_a_tree_too_wide_for_every_bed_is_left_out_with_the_figure() -> None:
    wide = max(CATALOGUE.layer("tree"), key=lambda s: s.spread)
    found = arrange([wide], SOUTH, moves=40)
    assert found.plants == ()
    assert found.unplaced[0].why.startswith(
        f"its stem needs {wide.spread / 4:.2f} m to the bed's edge; the widest bed has"
    )


# ---- the search


def test_the_same_seed_gives_the_same_plan_and_another_seed_another(proposal: Arrangement) -> None:
    again = arrange(KINDS, BEDS, SURROUNDINGS, seed=3, moves=QUICK)
    other = arrange(KINDS, BEDS, SURROUNDINGS, seed=4, moves=QUICK)
    assert again.plants == proposal.plants
    assert other.plants != proposal.plants


def test_progress_rises_to_the_end_and_the_objective_falls() -> None:
    told: list[tuple[float, float]] = []
    arrange(KINDS, BEDS, SURROUNDINGS, moves=QUICK, progress=lambda share, value: told.append((share, value)))
    assert [share for share, _ in told] == pytest.approx([(n + 1) / 40 for n in range(40)])
    assert told[-1][1] < told[0][1]


def test_stopping_early_still_gives_a_plan_that_keeps_apart() -> None:
    calls = iter(range(100))
    found = arrange(KINDS, BEDS, SURROUNDINGS, moves=QUICK, stop=lambda: next(calls) >= 3)
    assert not found.is_complete
    assert any("stopped early" in f.what for f in found.findings)
    assert dict(found.parts)["spacing"] == 0.0
    assert found.new


def test_the_objective_is_the_sum_of_its_parts(proposal: Arrangement) -> None:
    assert {name for name, _ in proposal.parts} == {
        "sun and place",
        "spacing",
        "grouping",
        "repetition",
        "colour",
        "height order",
        "balance",
    }
    assert proposal.objective == pytest.approx(sum(value for _, value in proposal.parts))


def searched_board():
    work, wanted = prepared(
        KINDS, BEDS, SURROUNDINGS, keep=(), catalogue=None, counts=None, settings=Settings(), aims=Aims()
    )
    cost = costs(work.kinds, work.room, work.cells, BEDS, sun=3.0, place=2.0)
    groups(work, wanted, cost, ("bush", "herb"), crowded=True)
    return board(work, cost, clashes(work.kinds), 0)


def test_the_compiled_count_is_the_plain_count() -> None:
    setup, state = searched_board()
    assert energy(setup, state) > 0
    assert kernel.whole_energy(setup, state) == pytest.approx(energy(setup, state), rel=1e-9)


def test_the_running_total_of_the_compiled_search_is_the_counted_one() -> None:
    setup, state = searched_board()
    before = energy(setup, state)
    draws = np.random.default_rng(5).random((20_000, 6))
    change = kernel.anneal(setup, state, draws, np.full(20_000, 0.1), np.full(20_000, 1.0))
    assert change < 0
    assert before + change == pytest.approx(energy(setup, state), rel=1e-6)
    fresh = state_of(setup, state.at, state.cell, len(SURROUNDINGS.ways))
    assert parts(setup, fresh) == pytest.approx(parts(setup, state))


def test_what_one_move_costs_is_the_difference_of_the_whole() -> None:
    setup, state = searched_board()
    cells = np.flatnonzero(setup.unary[setup.kind[0]] < 100.0)[[10, 500]]
    first = kernel.whole_energy(setup, state)
    added = moved_energy(setup, state, 0, np.array([state.cell[0], *cells]))
    for cell, value in zip(cells, added[1:], strict=True):
        other = state_of(
            setup,
            setup.points[np.where(np.arange(len(state.cell)) == 0, cell, state.cell)],
            np.where(np.arange(len(state.cell)) == 0, cell, state.cell),
            1,
        )
        assert energy(setup, other) - first == pytest.approx(value - added[0], abs=1e-4)


def test_the_plain_search_gives_a_plan_that_keeps_apart_too() -> None:
    found = arrange(KINDS, BEDS[:2], SURROUNDINGS, moves=12_000, engine="plain")
    assert found.engine == "plain"
    assert dict(found.parts)["spacing"] == 0.0
    assert found.plants == arrange(KINDS, BEDS[:2], SURROUNDINGS, moves=12_000, engine="plain").plants


def test_searching_improves_on_the_first_placing() -> None:
    setup, state = searched_board()
    before = energy(setup, state)
    search(setup, state, seed=1, moves=QUICK)
    assert energy(setup, state) < 0.9 * before


# ---- counts


@pytest.mark.parametrize(
    ("count", "size", "groups_made"),
    [(0, 3, ()), (1, 5, (1,)), (2, 3, (1, 1)), (5, 5, (5,)), (9, 3, (3, 3, 3)), (12, 5, (7, 5)), (10, 9, (5, 5))],
)
def test_counts_fall_into_odd_groups(count: int, size: int, groups_made: tuple[int, ...]) -> None:
    assert groups_of(count, size) == groups_made


def test_usual_counts_are_one_tree_and_groups_of_the_rest() -> None:
    counts = usual_counts(kinds_of(("Clematis montana", "Nepeta × faassenii")), 60.0)
    assert counts["Clematis montana"] == 1
    assert counts["Nepeta × faassenii"] % 5 == 0 or counts["Nepeta × faassenii"] % 3 == 0


# ---- ground and errors


def test_squares_cover_the_beds_and_know_front_from_back() -> None:
    cells = cells_of(BEDS, SURROUNDINGS, size=0.1)
    assert len(cells) * 0.01 == pytest.approx(sum(plane.area(b.region) for b in BEDS), rel=0.02)
    first = cells.bed == 0
    assert (
        cells.depth[first & (cells.points[:, 1] > 3.5)].mean() < cells.depth[first & (cells.points[:, 1] < 0.5)].mean()
    )


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"beds": []}, "no bed with ground"),
        ({"counts": {"Nepeta faassenii 'Walkers Low'": 3}}, "counted but not in the palette"),
        ({"counts": {"Nepeta × faassenii": -3}}, "-3 of Nepeta"),
        ({"keep": [Plant(number=1, species="Rosa invented", at=(1, 1))]}, "not in the palette"),
        ({"surroundings": Surroundings(sun=lambda p: np.zeros((len(p), 3)))}, "sun hours came as a table"),
        ({"surroundings": Surroundings(sun=lambda p: np.full(len(p), np.nan))}, "sun hours came as a table"),
    ],
)
def test_what_cannot_be_arranged_is_refused_in_words(change: dict, message: str) -> None:
    given = {"palette": kinds_of(("Nepeta × faassenii",)), "beds": BEDS, "surroundings": None, "moves": 40, **change}
    with pytest.raises(GardenError, match=message):
        arrange(given.pop("palette"), given.pop("beds"), given.pop("surroundings"), **given)


@pytest.mark.parametrize("setting", [{"overhang": 1.5}, {"between": -0.1}, {"fullness": 2.0}, {"reach": 0.0}])
def test_settings_out_of_range_are_refused(setting: dict) -> None:
    with pytest.raises(GardenError, match="give"):
        Settings(**setting)


def test_nothing_to_plant_is_an_empty_plan() -> None:
    found = arrange([], BEDS, moves=40)
    assert found.plants == ()
    assert found.objective == 0.0


def test_without_numba_the_plain_search_runs_and_the_compiled_one_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    # the package has a function of the same name as this module
    monkeypatch.setattr(sys.modules["gardenkit.planting.arranging.search"], "find_spec", lambda name: None)
    assert arrange(kinds_of(("Nepeta × faassenii",)), BEDS[:1], moves=4000).engine == "plain"
    with pytest.raises(GardenError, match="needs Numba"):
        arrange(kinds_of(("Nepeta × faassenii",)), BEDS[:1], moves=4000, engine="compiled")
