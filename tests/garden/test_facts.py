"""Every fact a want can be checked by is measured, and a step-free want goes by the rule that the findings use."""

from functools import cache
from pathlib import Path

import attrs
import pytest

from gardenkit.brief.wants import FACTS, Check, Want, judge
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.project import Project
from gardenkit.project.edits import brief, site, structure
from gardenkit.site.heights import SpotHeight
from gardenkit.structure.path_rules import CROSS_SLOPE, LEVEL

SQUARE = ((0.0, 0.0), (12.0, 0.0), (12.0, 16.0), (0.0, 16.0))


@cache
def examples() -> tuple[Garden, ...]:
    return tuple(Garden.open(folder) for folder in gardens.examples())


def test_every_fact_of_the_wants_list_is_measured_on_an_example() -> None:
    measured = set().union(*(garden.facts for garden in examples()))
    assert measured == set(FACTS)


@pytest.mark.parametrize("fact", sorted(set(FACTS) - {"step_free_paths"}))  # which has its own cases below
def test_a_want_of_every_fact_is_met_in_one_example_and_not_in_another(fact: str) -> None:
    known = {g: g.facts[fact] for g in examples() if fact in g.facts}
    least, most = min(known, key=lambda g: known[g]), max(known, key=lambda g: known[g])
    half_way = (known[least] + known[most]) / 2
    assert known[least] < known[most], known
    for compare, verdicts in (("at least", ("not met", "met")), ("at most", ("met", "not met"))):
        want = Want(text="so much of it", check=Check(fact=fact, compare=compare, amount=half_way))
        found = [judge([want], g.facts)[0] for g in (least, most)]
        assert tuple(one.verdict for one in found) == verdicts
        assert [one.value for one in found] == [known[least], known[most]]


def walk(rise: float, across: float, **path: object) -> Garden:
    """Return a plot with one straight path of 15 m that rises ``rise`` m along and tilts ``across`` m."""
    corners = [SpotHeight(at=(x, y), height=rise * y / 16 + across * x / 12) for x, y in SQUARE]
    made = site.set_boundary(Project(name="plot"), SQUARE)
    made = site.add_opening(made, "gate", "front", at=(6.0, 0.0), width=1.2, sill=0.0, head=1.2)
    made = site.add_opening(made, "gate", "back", at=(6.0, 16.0), width=1.2, sill=0.0, head=1.2)
    made = site.set_heights(made, corners)
    options = {"surface": "paving", "width": 1.0, "curvature": 0.0} | path
    made = structure.add_path(made, "walk", start="front", end="back", **options)
    want = Want(text="step-free", weight="must", check=Check(fact="step_free_paths", amount=1))
    return Garden(brief.add_want(made, want), Path())


# 2010 ADA Standards 403.3: running slope not steeper than 1:20, cross slope not steeper than 1:48; 403.5.1: 36 in wide;
# 302: no openings in the surface that a wheel falls into (here: stones laid with gaps)
@pytest.mark.parametrize(
    ("garden", "verdict"),
    [
        (walk(0.7, 0.0), "met"),  # 4.4 % along
        (walk(0.9, 0.0), "not met"),  # 5.6 % along: over 1:20
        (walk(0.0, 0.20), "met"),  # 1.7 % across
        (walk(0.0, 0.30), "not met"),  # 2.5 % across: over 1:48
        (walk(0.0, 0.0, width=0.8), "not met"),  # 31 in
        (walk(0.0, 0.0, surface="stepping stones"), "not met"),
    ],
    ids=["gentle", "steep", "level across", "tilted", "narrow", "gapped"],
)
def test_a_step_free_want_goes_by_the_accessible_route_rule(garden: Garden, verdict: str) -> None:
    assert garden.wants[-1].verdict == verdict
    assert LEVEL[0][0] == 5.0
    assert float(CROSS_SLOPE) == pytest.approx(100 / 48)


def test_a_width_as_wanted_is_only_partly_met_where_the_findings_keep_one_off_the_path() -> None:
    wide = Want(text="a wheelchair can reach the back gate", check=Check(fact="path_width", amount=0.91))
    gapped = walk(0.0, 0.0, use="wheelchair", surface="stepping stones").project
    judged = Garden(brief.add_want(gapped, wide), Path()).wants[-1]
    assert (judged.verdict, judged.value) == ("partly met", 1.0)
    assert "do not carry wheels" in judged.but
    paved = walk(0.0, 0.0, use="wheelchair").project
    assert Garden(brief.add_want(paved, wide), Path()).wants[-1].verdict == "met"
    steep = walk(3.0, 0.0).project
    assert "rises" in Garden(brief.add_want(steep, wide), Path()).wants[-1].but


def test_a_step_free_want_is_not_known_before_the_ground_is_measured() -> None:
    garden = walk(0.0, 0.0)
    bare = attrs.evolve(garden.project, site=attrs.evolve(garden.project.site, heights=()))
    assert Garden(bare, Path()).wants[-1].verdict == "not yet known"


def test_a_figure_is_to_be_seen_at_the_thing_that_decides_it() -> None:
    made = structure.add_path(walk(0.9, 0.0).project, "narrow", start="front", end="back", width=0.6, curvature=0.5)
    for fact, compare in (("path_width", "at least"), ("path_length", "at least"), ("seats", "at least")):
        made = brief.add_want(made, Want(text=fact, check=Check(fact=fact, compare=compare, amount=1)))
    where = {one.want.text: one.where for one in Garden(made, Path()).wants}
    assert (where["path_width"], where["path_length"]) == ("narrow", "narrow")  # the bent one is the longer
    assert where["seats"] == "the plan"  # there is none yet
