"""A path too steep for its rule is mended by its gentlest way where one keeps the rule, else by steps."""

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import Finding, Remedy
from gardenkit.garden import Garden
from gardenkit.garden.remedies import remedied
from gardenkit.notebook import gardens
from gardenkit.project import edits
from gardenkit.project.edits import structure
from gardenkit.project.rules import path_slope
from gardenkit.structure.path_rules import SLOPES, TOO_STEEP

SOURCE = gardens.example("quarry_brow_hillside")


@pytest.fixture(scope="module")
def garden() -> Garden:
    """The hillside as it was before any steps, the way to its arbour leaving the walk further up, where it is steep."""
    project = structure.change_path(storage.load(SOURCE).project, "pine walk", joins_at=0.27)
    bare = tuple(attrs.evolve(path, flights=()) for path in project.structure.paths)
    return Garden(attrs.evolve(project, structure=attrs.evolve(project.structure, paths=bare)), SOURCE)


@pytest.fixture(scope="module")
def advised(garden: Garden) -> dict[str, Finding]:
    """Every finding about a path too steep, with its remedy, by the path's name."""
    lines = garden.advice_about(("slope",))
    found = (one for line in lines for one in (line.members or (line,)) if one.rule == TOO_STEEP)
    return {one.subject[1]: one for one in found if one.subject is not None}


def too_steep(garden: Garden) -> set[str]:
    return {one.where for one in garden.layout.findings if one.rule == TOO_STEEP}


def steepest(garden: Garden, name: str) -> float:
    path = next(p for p in garden.project.structure.paths if p.name == name)
    assert garden.ground is not None
    return abs(path_slope(path, garden.layout.routes[name], garden.ground).steepest)


def edit_of(remedy: Remedy) -> str:
    return remedy.steps[0].edit


def test_the_gentlest_way_is_taken_with_one_press_and_the_finding_is_gone(
    garden: Garden, advised: dict[str, Finding]
) -> None:
    mended = {name: one.remedy for name, one in advised.items() if one.remedy is not None}
    assert {edit_of(remedy) for remedy in mended.values()} == {"structure.use_route", "structure.add_flight"}
    for name, remedy in mended.items():
        after = Garden(edits.apply(garden.project, remedy), garden.folder)
        assert f'path "{name}"' in too_steep(garden) - too_steep(after)
        assert steepest(after, name) < steepest(garden, name)
        # the grades of the trail rule, as printed in ``SLOPES`` with their source
        assert steepest(after, name) <= max(limit for limit, _ in SLOPES["trail"][1]) + 1e-6


def test_steps_are_offered_only_where_no_way_is_gentle_enough(garden: Garden, advised: dict[str, Finding]) -> None:
    stepped = [name for name, one in advised.items() if one.remedy and edit_of(one.remedy) == "structure.add_flight"]
    for name in stepped:
        flat = structure.use_route(garden.project, name, curvature=1.0, sway=3, first_side="left")
        assert f'path "{name}"' in too_steep(Garden(flat, garden.folder))


@pytest.mark.parametrize("asked", [{"use": "wheelchair"}, {"use": "riding mower"}, {"slope_rule": "ramp"}])
def test_no_steps_are_offered_on_a_path_for_wheels(garden: Garden, asked: dict[str, str]) -> None:
    wheeled = Garden(structure.change_path(garden.project, "orchard walk", **asked), garden.folder)
    one = next(f for f in wheeled.layout.findings if f.rule == TOO_STEEP and f.where == 'path "orchard walk"')
    named = attrs.evolve(one, subject=("path", "orchard walk"))
    assert remedied(wheeled, named).remedy is None
