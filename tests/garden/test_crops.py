"""Beds for vegetables: nothing ornamental goes in, crops stand in rows, families move on, and all of it is told."""

import math
from pathlib import Path

import attrs
import pytest

from gardenkit.drawing.from_the_side import side_scene
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.drawing.scene import Area, Symbol
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.session import Session
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project, edits
from gardenkit.project.crops import crop_rows
from gardenkit.project.crops_seen import standing_with_crops
from gardenkit.project.edits import planting, structure
from gardenkit.project.plant_choice import bed_grounds, beds_arranged
from gardenkit.site.climate import Climate
from gardenkit.site.site import Site
from gardenkit.structure.things import BELOW_RIM
from gardenkit.units import FOOT

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
CARROT, TOMATO, PEA = "Daucus carota subsp. sativus", "Solanum lycopersicum", "Pisum sativum"
FROST = Climate(last_frost="05-10", first_frost="10-01")


def plot(beds: int = 3, *, wide: float = 4 * FOOT, long: float = 8 * FOOT) -> Project:
    """Return a plot with raised beds of 4 x 8 ft outside to outside, all for vegetables."""
    made = Project(name="plot", site=Site(boundary=PLOT, climate=FROST))
    for n in range(beds):
        made = structure.add_thing(
            made, "raised bed", at=(2.5 + 3.5 * n, 3.0), name=f"bed {n + 1}", width=wide, depth=long, height=0.4
        )
        made = structure.change_bed(made, f"bed {n + 1}", purpose="vegetables")
    return made


def planted() -> Project:
    made = plot()
    for n, name in enumerate((CARROT, TOMATO, PEA)):
        made = planting.add_crop(made, name, f"bed {n + 1}")
    return made


def told(project: Project) -> list[str]:
    return [f.what for f in Garden(project, Path()).advice if f.topic == "crops"]


def test_a_bed_within_walls_takes_its_purpose_from_the_beds_page_and_keeps_it() -> None:
    made = plot(1)
    assert [bed.purpose for bed in Garden(made, Path()).beds if bed.name == "bed 1"] == ["vegetables"]
    (thing,) = made.structure.things
    assert thing.purpose == "vegetables"
    with pytest.raises(GardenError, match="the nearest known"):
        structure.change_bed(made, "bed 1", purpose="vegetable")


def test_nothing_ornamental_is_arranged_where_it_does_not_belong() -> None:
    made = plot(2)
    assert {bed.name for bed in bed_grounds(made)} == {"Bed 1"}
    assert beds_arranged(made) == ("Bed 1",)
    with pytest.raises(GardenError, match="for vegetables"):
        bed_grounds(made, ["bed 1"])
    odd = attrs.evolve(made, planting=Planting(plants=(Plant(number=1, species="Salvia nemorosa", at=(2.5, 3.0)),)))
    assert any("1 plant in it to look at" in what for what in told(odd))


def test_rows_fill_a_four_by_eight_bed_as_the_spacing_table_says() -> None:
    """A bed of 48 x 96 in between boards of 2 in: 44 x 92 in inside. Tomatoes 24 in all ways (Kansas State): one row
    down the middle of 44 in, three plants in 92 in; carrots 3 in (0.08 m): 13 or 14 rows of 29.
    """
    made = planted()
    rows = {one.crop.species: one for one in crop_rows(made, Garden(made, Path()).layout, 0)}
    assert (len(rows[TOMATO].lines), len(rows[TOMATO].plants)) == (1, 3)
    inside = (4 * FOOT - 4 * 0.0254, 8 * FOOT - 4 * 0.0254)
    assert len(rows[CARROT].lines) == math.floor(inside[0] / 0.08)
    assert len(rows[CARROT].plants) == len(rows[CARROT].lines) * math.floor(inside[1] / 0.08)
    half = planting.change_crop(made, 0, share=0.5)
    (first, *_) = crop_rows(half, Garden(half, Path()).layout, 0)
    assert len(first.plants) == pytest.approx(len(rows[CARROT].plants) / 2, rel=0.15)


def test_a_family_that_comes_back_too_soon_is_found_and_the_remedy_moves_it_on() -> None:
    made = planted()
    line = next(f for f in Garden(made, Path()).advice if "come back to it" in f.what and f.remedy)
    moved = edits.apply(made, line.remedy) if line.remedy else made
    assert not [what for what in told(moved) if "come back" in what]
    beds = {(c.species, c.year): c.bed for c in moved.planting.crops}
    assert [beds[TOMATO, year] for year in range(3)] == ["bed 2", "bed 3", "bed 1"]
    again = {one.crop.bed for one in crop_rows(moved, Garden(moved, Path()).layout, 4) if one.crop.species == TOMATO}
    assert again == {"bed 3"}  # year 5 is the second of the cycle


def test_two_beds_bring_a_family_back_after_two_years_which_is_said() -> None:
    made = plot(2)
    made = planting.add_crop(planting.add_crop(made, CARROT, "bed 1"), TOMATO, "bed 2")
    turned = planting.rotate_crops(made)
    assert any("after 2 years" in what for what in told(turned))
    with pytest.raises(GardenError, match="two or more beds"):
        planting.rotate_crops(plot(1))


def test_days_follow_the_frost_of_the_place() -> None:
    """The last frost on 10 May: peas 6 to 4 weeks before it, tomatoes 1 to 3 weeks after."""
    lines = {line.botanical: line for line in Garden(planted(), Path()).crops}
    assert (lines[PEA].begins.isoformat()[5:], lines[PEA].ends.isoformat()[5:]) == ("03-29", "04-12")
    assert (lines[TOMATO].begins.isoformat()[5:], lines[TOMATO].ends.isoformat()[5:]) == ("05-17", "05-31")
    short = attrs.evolve(planted(), site=Site(boundary=PLOT, climate=attrs.evolve(FROST, first_frost="07-01")))
    assert any("are left before frost" in what for what in told(short))


def test_crops_are_drawn_ordered_cared_for_and_handed_over() -> None:
    garden = Garden(planted(), Path())
    plan = garden_scene(garden.project, garden.layout, garden.catalogue)
    tips = [getattr(mark, "tip", "") for mark in plan.marks]
    assert any(tip.startswith("tomato in bed 2: 3 plants") for tip in tips)
    bought = {(line.where, line.item): line.amount for line in garden.quantities}
    assert bought["bed 2", "vegetable plant"] == 3
    assert bought["bed 1", "vegetable seed"] >= 4  # 14 rows of 2.3 m, a packet for 7.5 m
    assert not [line for line in garden.quantities if line.item == "mulch" and line.where == "bed 1"]
    assert {(t.task, t.botanical) for t in garden.care} >= {("sow", "carrot in bed 1"), ("harvest", "tomato in bed 2")}
    seen = standing_with_crops(garden.project, garden.catalogue, year=0, month=7)
    assert sum(one.species.botanical == TOMATO for one in seen) == 3
    assert not standing_with_crops(garden.project, garden.catalogue, year=0, month=1)
    copy = booklet.render(garden, edition="office", with_sun=False)
    assert "Vegetables, year by year" in copy and "Solanaceae" in copy


def test_crops_stand_on_the_drawing_from_the_side_in_the_soil_of_their_raised_bed() -> None:
    garden = Garden(planted(), Path())

    def seen(month: int) -> list[Symbol]:
        line = ((0.5, 2.0), (11.5, 2.0))
        drawn = side_scene(prospect(garden), Moment(year=0, month=month), line=line, depth=4.0)
        return [mark for mark in drawn.marks if isinstance(mark, Symbol) and "Solanum" in mark.tip]

    low = [min(y for part in one.marks if isinstance(part, Area) for y in _ups(part)) for one in seen(7)]
    assert low and min(low) == pytest.approx(0.4 - BELOW_RIM, abs=0.02)
    assert not seen(1)


def _ups(area: Area) -> list[float]:
    return [y for ring in area.rings for _, y in ring]


def test_crops_follow_a_bed_that_is_renamed_and_say_when_it_is_gone() -> None:
    made = structure.rename_thing(planted(), "bed 2", to="south bed")
    assert [c.bed for c in made.planting.crops] == ["bed 1", "south bed", "bed 3"]
    assert any("no bed any more" in what for what in told(structure.remove_thing(made, "south bed")))
    drawn = structure.rename_bed(plot(1), "Bed 1", to="border")
    with pytest.raises(GardenError, match="for looking at"):
        planting.add_crop(drawn, PEA, "border")


def test_the_beds_page_plans_and_rotates_crops(tmp_path: Path) -> None:
    from gardenkit import storage

    storage.create(tmp_path / "plot", planted())
    shown = BedsPage(Session(tmp_path / "plot"))
    shown.crops.rotate()
    assert shown.failures == []
    assert len(shown.project.planting.crops) == 9
    assert "year 3" in shown.crops.table.value


def test_a_raised_bed_becomes_one_for_vegetables_on_the_beds_page(tmp_path: Path) -> None:
    from gardenkit import storage

    plain = structure.add_thing(Project(name="plot", site=Site(boundary=PLOT)), "raised bed", at=(3.0, 3.0), name="new")
    storage.create(tmp_path / "plot", plain)
    shown = BedsPage(Session(tmp_path / "plot"))
    shown.beds.turn_to("new")
    shown.beds.form.fill(purpose="vegetables")
    shown.beds.change()
    shown.crops.editor.form.fill(species=TOMATO, bed="new")
    shown.crops.editor.add()
    assert shown.failures == []
    assert [(crop.bed, crop.species) for crop in shown.project.planting.crops] == [("new", TOMATO)]
    assert "tomato" in shown.crops.table.value


def test_names_of_crops_stand_on_the_plan() -> None:
    from gardenkit.drawing.plan_crops import crop_names

    garden = Garden(planted(), Path())
    rows = [(one, garden.catalogue[one.crop.species]) for one in crop_rows(garden.project, garden.layout, 0)]
    wishes: tuple[Wish, ...] = crop_names(rows)
    assert [wish.text for wish in wishes] == ["carrot", "tomato", "garden pea"]
