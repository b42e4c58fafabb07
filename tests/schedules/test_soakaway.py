"""A soakaway in a garden: sized by roof, ground and storm, and made as large as it must be."""

from pathlib import Path

import attrs

from gardenkit.findings import Finding
from gardenkit.garden import Garden
from gardenkit.project import Project, edits
from gardenkit.project.edits.site import change_climate, change_soil
from gardenkit.schedules.rainwater import TOO_SMALL
from gardenkit.site.site import Building, Site
from gardenkit.structure.structure import Structure, Thing

HOUSE = Building(name="house", outline=((2.0, 17.0), (14.0, 17.0), (14.0, 20.0), (2.0, 20.0)), eaves=3.0)
PIT = Thing(name="pit", kind="soakaway", at=(8.0, 8.0), width=1.0, depth=1.0, height=0.04, roof=40.0)
PLOT = Project(
    name="plot",
    site=Site(boundary=((0.0, 0.0), (16.0, 0.0), (16.0, 20.0), (0.0, 20.0)), buildings=(HOUSE,)),
    structure=Structure(things=(PIT,)),
)


def said(project: Project) -> list[Finding]:
    return [f for f in Garden(project, Path()).advice if f.topic == "water" and f.subject == ("thing", "pit")]


def test_untested_ground_is_sized_by_the_quick_rule_and_asks_for_the_test() -> None:
    (found,) = said(PLOT)
    assert "is a pit of 1.31 cu yd" in found.what and "wants 2.91 cu yd" in found.what and "Test how fast" in found.what
    assert (found.rule, found.seriousness) == (TOO_SMALL, "caution")


def test_a_pit_too_small_is_made_as_large_as_its_storm_asks() -> None:
    tested = change_climate(change_soil(PLOT, drainage_mm_per_hour=150.0), storm=45.0)
    (found,) = said(tested)
    assert "the storm of ten years that asks most of it lasts" in found.what and found.rule == TOO_SMALL
    assert found.remedy is not None
    (mended,) = said(edits.apply(tested, found.remedy))
    assert (mended.rule, mended.seriousness) == ("", "note")


def test_a_place_whose_storm_is_not_known_is_told_by_which_it_is_sized() -> None:
    found = said(change_soil(PLOT, drainage_mm_per_hour=150.0))
    assert any('1" of rain in an hour' in f.what for f in found)


def test_ground_that_hardly_takes_water_holds_no_soakaway() -> None:
    (found,) = said(change_soil(PLOT, drainage_mm_per_hour=10.0))
    assert "too little water for a soakaway" in found.what


def test_the_pit_is_dug_and_its_soil_carted_away() -> None:
    dug = {line.item: line.amount for line in Garden(PLOT, Path()).quantities if line.where == "pit"}
    assert dug["excavation"] == dug["crushed stone"] == 1.0
    hollow = attrs.evolve(PLOT, structure=Structure(things=(attrs.evolve(PIT, kind="rain garden", height=0.15),)))
    assert {"excavation", "spoil away"} <= {line.item for line in Garden(hollow, Path()).quantities}
