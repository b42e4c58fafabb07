"""What may not enter the root protection circle of a tree that stays: digging, compost, footings."""

import math

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.project import Project
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.schedules.quantities import quantities
from gardenkit.site.site import ExistingTree, Site
from gardenkit.structure.structure import Cable

PLOT = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
OAK = ExistingTree(name="oak", at=(10.0, 10.0), height=9, spread=8, trunk_diameter=0.3)  # 3.6 m by BS 5837


def plot(**tree: object) -> Project:
    return Project(name="p", site=Site(boundary=PLOT, trees=(attrs.evolve(OAK, **tree),)))


def compost(project: Project) -> float:
    return sum(line.area for line in quantities(project, layout(project)) if line.item == "compost")


def said(project: Project, tmp_path) -> list[str]:
    return [f.sentence() for f in Garden(project, tmp_path).advice_about(("clearance",)) if "oak" in f.sentence()]


def test_no_compost_is_dug_in_among_roots() -> None:
    """The bed is the whole plot, 400 m2, less the circle of 3.6 m radius: 40.7 m2."""
    assert compost(plot()) == pytest.approx(400 - math.pi * 3.6**2, rel=1e-3)
    assert compost(plot(keep=False)) == pytest.approx(400, rel=1e-3)
    (line,) = [x for x in quantities(plot(), layout(plot())) if x.item == "compost"]
    assert "none within the root protection circles" in line.rule


def test_another_rule_keeps_another_circle_clear() -> None:
    other = site_edits.set_root_rule(plot(), "18 x stem diameter")
    assert compost(other) == pytest.approx(400 - math.pi * 5.4**2, rel=1e-3)


def test_what_is_dug_or_footed_there_is_said(tmp_path) -> None:
    patio = edits.add_area(
        plot(), "patio", outline=((11.0, 9.0), (16.0, 9.0), (16.0, 12.0), (11.0, 12.0)), name="terrace"
    )
    assert any("terrace" in one and "dug or footed" in one for one in said(patio, tmp_path))
    arch = edits.add_support(plot(), "arch", "arch", line=((11.0, 8.0), (12.5, 8.0)))
    assert any("arch" in one and "dug or footed" in one for one in said(arch, tmp_path))
    lawn = edits.add_area(plot(), "lawn", outline=((11.0, 9.0), (16.0, 9.0), (16.0, 12.0), (11.0, 12.0)))
    assert not any("dug or footed" in one for one in said(lawn, tmp_path))
    assert any("no compost is dug in" in one for one in said(lawn, tmp_path))
    assert not said(plot(keep=False), tmp_path)


def test_a_cable_laid_among_roots_is_said(tmp_path) -> None:
    def lit(*line: tuple[float, float]) -> Project:
        made = plot()
        return attrs.evolve(made, structure=attrs.evolve(made.structure, cables=(Cable(name="cable", line=line),)))

    assert any("cable would be laid" in one for one in said(lit((0.5, 10.4), (19.5, 10.4)), tmp_path))
    assert not any("cable would be laid" in one for one in said(lit((0.5, 0.5), (19.5, 0.5)), tmp_path))
