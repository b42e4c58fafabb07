"""Choosing and composing are quick enough to be asked for often: ratios of times within one run, printed."""

import time
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from turns import least, told

from gardenkit.geometry import plane
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Candidate, Wishes, propose, worth_of
from gardenkit.planting.choosing_rules import rules_for
from gardenkit.planting.composing import TASTES, Aims, BedGround, Composition, Surroundings, Taste, labels, proposals
from gardenkit.planting.composing.drifts import divided
from gardenkit.planting.composing.ground import ground_of
from gardenkit.planting.composing.kinds import kind_of
from gardenkit.planting.setbacks import Around

pytestmark = pytest.mark.benchmark
CATALOGUE = load_catalogue()
WISHES = Wishes(colours=("#6b4aa0", "#f0b5c8", "#f7f5ee"), colour_share=0.6)
PALETTE = (
    "Hydrangea paniculata",
    "Ilex crenata 'Convexa'",
    "Panicum virgatum",
    "Salvia nemorosa 'Caradonna'",
    "Nepeta × faassenii",
    "Rudbeckia fulgida 'Goldsturm'",
    "Hosta 'Halcyon'",
    "Geranium sanguineum",
    "Epimedium × versicolor 'Sulphureum'",
    "Phlox subulata",
)
PATH = plane.region([(0, 4), (18, 4), (18, 5), (0, 5)])
SURROUNDINGS = Surroundings(
    around=Around(paths=(("path", PATH),)), ways=(((0.0, 4.5), (9.0, 4.5), (18.0, 4.5)),), walked=PATH
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


def test_choosing_costs_no_more_than_sixty_times_its_own_linear_relaxation() -> None:
    among = sorted(candidates(), key=lambda c: c.species.key)
    rules = rules_for([c.species for c in among], np.zeros(len(among)), WISHES, shift_days=0.0)
    worth = np.array([sum(worth_of(c, WISHES.colours).values()) for c in among])
    rows, low = np.array([r.sense * r.row for r in rules]), np.array([r.sense * r.amount for r in rules])

    def relaxed() -> float:
        found = milp(-worth, bounds=Bounds(0, 1), constraints=LinearConstraint(rows, lb=low))
        return float(-found.fun)

    best = propose(among, WISHES)
    whole, loose = least(
        lambda: propose(among, WISHES), relaxed, rounds=3, kept=lambda found: found[0] <= 60 * found[1]
    )
    matter = f"choosing {len(best.choices)} of {len(among)} kinds, proven best ({whole:.2f} s), of its relaxation"
    told(matter, f"{whole / loose:.1f} x", "60")
    assert best.proven
    assert best.worth <= relaxed() + 1e-6
    assert whole <= 60 * loose


def test_saying_which_wishes_to_relax_costs_no_more_than_forty_times_choosing() -> None:
    among = candidates()
    hard = Wishes(months=tuple(range(1, 13)), colours=("#c03a2b",), kinds_a_month=3, evergreen_share=0.5)
    easy, elastic = least(
        lambda: propose(among, WISHES),
        lambda: propose(among, hard),
        rounds=2,
        kept=lambda found: found[1] <= 40 * found[0],
    )
    told("saying which wishes to relax, of choosing", f"{elastic / easy:.1f} x", "40")
    assert propose(among, hard).relaxed
    assert elastic <= 40 * easy


def composed(size: float, tastes: Sequence[Taste] = TASTES) -> tuple[Composition, ...]:
    return proposals([CATALOGUE[n] for n in PALETTE], beds(size), SURROUNDINGS, catalogue=CATALOGUE, tastes=tastes)


def test_twice_the_ground_costs_no_more_than_three_times_the_composing() -> None:
    usual = TASTES[:1]
    made: list[Composition] = []
    once, twice = least(
        lambda: composed(0.5, usual),
        lambda: made.append(composed(1.0, usual)[0]),
        rounds=1,
        kept=lambda found: found[1] <= 3.0 * found[0],
    )
    (four,) = least(lambda: composed(1.0), rounds=1, kept=lambda found: found[0] <= 6.0 * twice)
    matter = f"composing {len(made[-1].plants)} plants in six beds ({twice:.2f} s), of half the ground"
    told(matter, f"{twice / once:.1f} x", "3.0")
    told("four proposals, of one", f"{four / twice:.1f} x", "6.0")
    assert twice <= 3.0 * once
    assert four <= 6.0 * twice  # the ground is looked at once for all


def test_the_default_effort_reaches_97_of_a_hundred_of_forty_times_the_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    kinds = [kind_of(CATALOGUE[n]) for n in PALETTE]
    drifters = [k for k in kinds if k.part in ("drift", "carpet")]
    ground = ground_of(beds(0.35)[:3], SURROUNDINGS)
    division = divided(ground, np.ones(len(ground), dtype=bool), Taste(), np.random.default_rng(1))

    def sought(effort: float, seed: int) -> tuple[float, float]:
        monkeypatch.setattr(labels, "MOVES_A_DRIFT", effort)
        start = time.perf_counter()
        found = labels.labelled(
            division, drifters, [drifters[0].species], (), Aims(), Taste(), np.random.default_rng(seed)
        )
        return sum(found.terms.values()), time.perf_counter() - start

    usual = labels.MOVES_A_DRIFT
    start = float(np.mean([sought(1 / len(division.drifts), seed)[0] for seed in range(4)]))
    found = [sought(usual, seed) for seed in range(4)]
    most, long = sought(40 * usual, 1)
    reached, short = (start - np.mean([f[0] for f in found])) / (start - most), np.mean([f[1] for f in found])
    told(f"{len(division.drifts)} drifts, of what forty times the tries gain", f"{reached:.1%}", "97 %")
    told("forty times the tries, of the time", f"{long / short:.0f} x", "at least 10")
    assert reached >= 0.97
    assert long >= 10 * short
