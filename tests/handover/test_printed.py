"""On paper the client edition leaves no page half bare before its plan, and comes on the paper of its country."""

from pathlib import Path

import attrs
import pytest

from gardenkit.brief.brief import Brief
from gardenkit.brief.wants import Want
from gardenkit.garden import Garden
from gardenkit.handover import printed
from gardenkit.handover.contents import Contents, contents
from gardenkit.project import Project
from gardenkit.project.level_figures import level_rows
from gardenkit.site.heights import SpotHeight
from gardenkit.structure.structure import Level
from gardenkit.units import System

LETTER_HIGH, A4_HIGH, EDGES = 279.4, 297.0, 2 * 16.0  # mm: ANSI Y14.1, ISO 216; the edges as page.html sets them


def with_wants(garden: Project, folder: Path, count: int) -> Contents:
    wants = tuple(Want(text=f"wish {n} that is put in a few words" * (1 + n % 2)) for n in range(count))
    return contents(Garden(attrs.evolve(garden, brief=Brief(wants=wants)), folder), with_sun=False)


def test_the_plan_stands_below_a_short_rest_of_wants(plain_garden: Project, tmp_path: Path) -> None:
    heights, page = [], A4_HIGH - EDGES
    for count in range(0, 61, 6):
        told = with_wants(plain_garden, tmp_path, count)
        plan = printed.printed(told).plan
        rest = (printed.before_the_plan(told) + printed.SPARE) % page
        assert 100 <= plan <= 185
        if rest < page / 2 and rest < 120:
            assert rest + printed.ABOUT_THE_PLAN + plan <= page
        heights.append(plan)
    assert len(set(heights)) > 2


def test_the_plan_of_the_ground_leaves_room_for_its_table_below(plain_garden: Project, tmp_path: Path) -> None:
    """A table of six rows and more is not to go on alone onto the next page, with the pictures after it."""
    heights = tuple(SpotHeight(at=(x, y), height=0.1 * y) for x in (0.0, 12.0) for y in (0.0, 8.0))
    court = ((3.0, 2.0), (7.0, 2.0), (7.0, 5.0), (3.0, 5.0))
    level = Level(name="court", at=(5.0, 3.0), height=0.5, outline=court, edge="wall")
    structure = attrs.evolve(plain_garden.structure, levels=(level,))
    project = attrs.evolve(
        plain_garden, structure=structure, site=attrs.evolve(plain_garden.site, heights=heights), units="imperial"
    )
    told = with_wants(project, tmp_path, 0)
    rows = len(level_rows(told.garden.earth, "imperial"))
    ground, page = printed.printed(told).ground, LETTER_HIGH - EDGES
    assert rows >= 6 and printed.LEAST_PLAN <= ground < printed.PLAN
    assert page - 8 < ground + printed.ABOUT_THE_PLAN + printed.SOIL + printed.SOIL_ROW * rows <= page
    assert printed.printed(with_wants(plain_garden, tmp_path, 0)).ground == printed.PLAN


@pytest.mark.parametrize(("units", "paper"), [("metric", "A4"), ("imperial", "letter")])
def test_the_paper_is_that_of_the_country(plain_garden: Project, tmp_path: Path, units: System, paper: str) -> None:
    told = with_wants(attrs.evolve(plain_garden, units=units), tmp_path, 1)
    assert printed.printed(told).paper == paper
