"""Choosing and arranging are quick enough to be asked for often: ratios of times within one run, printed."""

import time
from collections.abc import Callable

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from gardenkit.geometry import plane
from gardenkit.planting.arranging import Aims, BedGround, Settings, Surroundings, arrange, kernel
from gardenkit.planting.arranging.energy import energy
from gardenkit.planting.arranging.kinds import clashes
from gardenkit.planting.arranging.start import costs
from gardenkit.planting.arranging.steps import board, groups, prepared
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Candidate, Wishes, propose, worth_of
from gardenkit.planting.choosing_rules import rules_for
from gardenkit.planting.setbacks import Around

pytestmark = pytest.mark.benchmark
CATALOGUE = load_catalogue()
WISHES = Wishes(colours=("#6b4aa0", "#f0b5c8", "#f7f5ee"), colour_share=0.6)
COUNTS = {
    "Hydrangea paniculata": 3,
    "Ilex crenata 'Convexa'": 5,
    "Panicum virgatum": 12,
    "Salvia nemorosa 'Caradonna'": 35,
    "Nepeta × faassenii": 35,
    "Rudbeckia fulgida 'Goldsturm'": 25,
    "Hosta 'Halcyon'": 20,
    "Geranium sanguineum": 30,
    "Ageratum houstonianum": 15,
    "Phlox subulata": 20,
}  # 200 plants
PATH = plane.region([(0, 4), (18, 4), (18, 5), (0, 5)])
SURROUNDINGS = Surroundings(
    around=Around(paths=(("path", PATH),)), ways=(((0.0, 4.5), (18.0, 4.5)),), viewpoints=((0.0, 4.5),)
)


def beds(size: float) -> list[BedGround]:
    """Six beds, three on each side of the path, ``size`` of 24 square metres each."""
    found = []
    for column in range(3):
        for low, high in ((4 - 4 * size, 4), (5, 5 + 4 * size)):
            left = 6.0 * column + 0.1
            region = plane.region([(left, low), (left + 5.8, low), (left + 5.8, high), (left, high)])
            found.append(BedGround(name=f"bed {len(found)}", region=region))
    return found


def candidates() -> list[Candidate]:
    dice = np.random.default_rng(7)
    return [Candidate(species=s, score=float(dice.random())) for s in CATALOGUE]


def fastest(*jobs: Callable[[], object], rounds: int = 3) -> list[float]:
    """Return the least seconds of each job, taken in turn."""
    least = [float("inf")] * len(jobs)
    for _ in range(rounds):
        for i, job in enumerate(jobs):
            start = time.perf_counter()
            job()
            least[i] = min(least[i], time.perf_counter() - start)
    return least


def test_choosing_costs_no_more_than_sixty_times_its_own_linear_relaxation() -> None:
    among = sorted(candidates(), key=lambda c: c.species.key)
    rules = rules_for([c.species for c in among], np.zeros(len(among)), WISHES, shift_days=0.0)
    worth = np.array([sum(worth_of(c, WISHES.colours).values()) for c in among])
    rows, least = np.array([r.sense * r.row for r in rules]), np.array([r.sense * r.amount for r in rules])

    def relaxed() -> float:
        found = milp(-worth, bounds=Bounds(0, 1), constraints=LinearConstraint(rows, lb=least))
        return float(-found.fun)

    best = propose(among, WISHES)
    whole, loose = fastest(lambda: propose(among, WISHES), relaxed)
    print(
        f"\nchoosing {len(best.choices)} of {len(among)}: {whole:.3f} s, proven best {best.proven}, "
        f"relaxation {loose:.3f} s, ratio {whole / loose:.1f}; worth {best.worth:.3f} of at most {relaxed():.3f}"
    )
    assert best.proven
    assert best.worth <= relaxed() + 1e-6
    assert whole < 2.0  # s, the target of the design
    assert whole <= 60 * loose


def test_saying_which_wishes_to_relax_costs_no_more_than_forty_times_choosing() -> None:
    among = candidates()
    hard = Wishes(months=tuple(range(1, 13)), colours=("#c03a2b",), kinds_a_month=2, evergreen_share=0.5)
    easy, elastic = fastest(lambda: propose(among, WISHES), lambda: propose(among, hard), rounds=2)
    print(f"\nchoosing {easy:.3f} s; infeasible, three programmes more: {elastic:.3f} s, ratio {elastic / easy:.1f}")
    assert propose(among, hard).relaxed
    assert elastic <= 40 * easy


def test_arranging_200_plants_in_six_beds_and_twice_as_many() -> None:
    kinds = [CATALOGUE[name] for name in COUNTS]
    twice = {name: 2 * n for name, n in COUNTS.items()}
    small, large = beds(1.0), beds(2.0)
    made = arrange(kinds, small, SURROUNDINGS, counts=COUNTS)  # compiles

    def plain() -> object:
        return arrange(kinds, small, SURROUNDINGS, counts=COUNTS, engine="plain")

    compiled, double = fastest(
        lambda: arrange(kinds, small, SURROUNDINGS, counts=COUNTS),
        lambda: arrange(kinds, large, SURROUNDINGS, counts=twice),
    )
    (slow,) = fastest(plain, rounds=1)
    print(
        f"\narranging {len(made.plants)} of {sum(COUNTS.values())} plants in 6 beds: {compiled:.2f} s compiled, "
        f"{slow:.2f} s plain ({slow / compiled:.1f} x); 400 plants {double:.2f} s ({double / compiled:.1f} x); "
        f"objective {made.objective:.0f}: " + ", ".join(f"{name} {value:.0f}" for name, value in made.parts)
    )
    assert len(made.plants) >= 190
    assert dict(made.parts)["spacing"] == 0.0
    assert double <= 4.4 * compiled  # at most with the square of the plants


def test_one_compiled_try_costs_at_most_a_fiftieth_of_counting_the_plan_once() -> None:
    work, wanted = prepared(
        [CATALOGUE[name] for name in COUNTS],
        beds(1.0),
        SURROUNDINGS,
        keep=(),
        catalogue=None,
        counts=COUNTS,
        settings=Settings(),
        aims=Aims(),
    )
    cost = costs(work.kinds, work.room, work.cells, work.beds, sun=3.0, place=2.0)
    groups(work, wanted, cost, ("bush", "herb"), crowded=True)
    setup, state = board(work, cost, clashes(work.kinds), 0)
    draws, warm, radius = np.random.default_rng(1).random((20_000, 6)), np.full(20_000, 0.1), np.full(20_000, 1.0)
    kernel.anneal(setup, state, draws[:10], warm, radius)  # compiles
    tries, count = fastest(lambda: kernel.anneal(setup, state, draws, warm, radius), lambda: energy(setup, state))
    print(f"\none try {tries / 20_000 * 1e6:.1f} us, counting {len(state.at)} plants in NumPy {count * 1e3:.1f} ms")
    assert tries / 20_000 <= count / 50
