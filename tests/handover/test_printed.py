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


@pytest.mark.parametrize(("units", "paper"), [("metric", "A4"), ("imperial", "letter")])
def test_the_paper_is_that_of_the_country(plain_garden: Project, tmp_path: Path, units: System, paper: str) -> None:
    told = with_wants(attrs.evolve(plain_garden, units=units), tmp_path, 1)
    assert printed.printed(told).paper == paper
