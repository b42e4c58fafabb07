"""What shade asks of a palette: ground covers that take it, and ones that bear it dry where a tree drinks."""

import attrs
import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.notebook import gardens
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing_rules import LeastOf
from gardenkit.planting.species import Species
from gardenkit.project import Project, shade_covers
from gardenkit.project.plant_choice import planted_ground, surroundings
from gardenkit.site.site import ExistingTree
from gardenkit.site.soil import Soil, drains_too_fast
from gardenkit.storage import load

KINDS = tuple(load_catalogue())


@pytest.fixture(scope="module")
def example() -> Project:
    return load(gardens.example("lantern_lane_strip")).project


def _asked(
    project: Project, monkeypatch: pytest.MonkeyPatch, *, dark: float, dry: float = 0.0, moisture: str | None = None
) -> dict[str, LeastOf]:
    """Return what is asked with so much of the ground in shade, and so much of it dry."""
    ground = planted_ground(project)
    run = np.arange(len(ground)) / len(ground)
    lit = attrs.evolve(ground, hours=np.where(run < dark, 0.5, 8.0), dry=run < dry)
    monkeypatch.setattr(shade_covers, "planted_ground", lambda project, sun=None: lit)
    return {one.words: one for one in shade_covers.covers_for_shade(project, KINDS, now=None, moisture=moisture)}


def _kinds(one: LeastOf) -> list[Species]:
    return [s for s in KINDS if s.botanical in one.kinds]


def test_two_covers_take_shade_in_any_palette_and_three_where_much_is_dark(example, monkeypatch):
    few, many = (_asked(example, monkeypatch, dark=share) for share in (0.05, 0.6))
    assert few["ground covers for shade"].least == 2 and many["ground covers for shade"].least == 3
    assert all("shade" in s.sun_range and s.role == "ground cover" for s in _kinds(few["ground covers for shade"]))
    assert all(s.layer == "ground cover" for s in _kinds(few["a carpet for shade"]))
    assert "ground covers for dry shade" not in few


def test_dry_shade_asks_for_a_cover_and_a_plant_between_that_bear_it(example, monkeypatch):
    dry = _asked(example, monkeypatch, dark=0.3, dry=0.1)
    cover, between = dry["ground covers for dry shade"], dry["plants between them for dry shade"]
    assert cover.least == between.least == 1
    assert all("dry" in s.moisture and "shade" in s.sun_range for one in (cover, between) for s in _kinds(one))
    assert all(s.role == "ground cover" for s in _kinds(cover))
    assert all(s.role != "ground cover" for s in _kinds(between))
    assert "ground covers for dry shade" in _asked(example, monkeypatch, dark=0.3, moisture="dry")
    assert "ground covers for dry shade" not in _asked(example, monkeypatch, dark=0.0, dry=0.5)


def test_no_more_is_asked_than_suits(example):
    assert shade_covers.covers_for_shade(example, [], now=None) == ()


def test_ground_is_dry_under_a_tree_that_stays_and_where_the_soil_drains_too_fast(example):
    bed = planted_ground(example).points[0]
    tree = ExistingTree(name="oak", at=(float(bed[0]), float(bed[1])), height=9.0, spread=2.0)
    bare = attrs.evolve(example, site=attrs.evolve(example.site, trees=()))
    shaded = attrs.evolve(bare, site=attrs.evolve(bare.site, trees=(tree,)))
    felled = attrs.evolve(bare, site=attrs.evolve(bare.site, trees=(attrs.evolve(tree, keep=False),)))
    assert plane.contains(surroundings(shaded).dry, tree.at)
    assert surroundings(felled).dry.is_empty
    assert planted_ground(shaded).dry[0] and not planted_ground(shaded).dry.all()
    fast = Soil(drainage_mm_per_hour=200.0)
    assert (
        drains_too_fast(fast) and not drains_too_fast(Soil(drainage_mm_per_hour=50.0)) and not drains_too_fast(Soil())
    )
    assert planted_ground(attrs.evolve(bare, site=attrs.evolve(bare.site, soil=fast))).dry.all()
