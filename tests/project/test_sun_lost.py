"""Plants that lose their sun are named with the year, by the sun maps of a small garden whose trees grow."""

import pytest

from gardenkit.findings import Finding
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.planting import DAILY_LIGHT, LIGHT_BY, Plant, Planting
from gardenkit.project import Project
from gardenkit.project.advice import planting_findings
from gardenkit.site.place import Place
from gardenkit.site.site import Site

CATALOGUE = load_catalogue()
LOVER = "Origanum vulgare"
FAST, SLOW = "× Hesperotropsis leylandii", "Picea abies"
SITE = Site(
    boundary=((0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)),
    place=Place(latitude=45.0, longitude=-93.0, timezone="America/Chicago"),
)


def told(tree: str, light_by: str = LIGHT_BY[0], year: int = 0) -> tuple[Finding, ...]:
    """Return what is said of a sun-lover that stands north of three trees, planted with them or in a later year."""
    trees = (Plant(number=k, species=tree, at=at) for k, at in enumerate(((4.6, 7.0), (6.0, 5.6), (7.4, 7.0)), 2))
    lover = Plant(number=1, species=LOVER, at=(6.0, 7.0), year=year)
    planting = Planting(plants=(lover, *trees), light_by=light_by)
    found = planting_findings(Project(name="shaded", site=SITE, planting=planting), CATALOGUE)
    return tuple(one for one in found if one.rule == "loses sun")


@pytest.mark.parametrize("light_by", LIGHT_BY)
def test_the_year_is_named_and_an_earlier_one_where_the_trees_grow_faster(light_by: str) -> None:
    assert CATALOGUE[LOVER].sun_range == ("full",)
    (soon,), (late,) = told(FAST, light_by), told(SLOW, light_by)
    assert soon.where == late.where == f"plant 1, {LOVER}"
    assert soon.seriousness == late.seriousness == "caution"
    assert "now and too little from about year 5: " in soon.what
    assert " in year 10; it needs " in soon.what
    assert "now and too little from about year 10: " in late.what
    assert " in year 10;" not in late.what
    needs = "20.0 mol" if light_by == DAILY_LIGHT else "6.0 h"
    assert soon.what.endswith(f"; it needs {needs}")
    assert late.what.endswith(f"; it needs {needs}")


def test_no_year_is_named_in_which_the_plant_is_not_there_yet() -> None:
    (later,) = told(FAST, year=7)
    assert "from about year 10: " in later.what
