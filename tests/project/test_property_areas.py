"""Areas of the property: what lies in each, counted without loss or double, judged and drawn by itself."""

import io
from pathlib import Path

import attrs
import ezdxf
import pytest

import gardenkit as gk
from gardenkit import storage
from gardenkit.drawing.faded import shown_area
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Area, Label
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.handover import booklet, drawing_set, dxf, wording
from gardenkit.handover.contents import contents
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.areas import AreasPage
from gardenkit.notebook.session import Session
from gardenkit.planting.planting import Plant
from gardenkit.project import Project, check
from gardenkit.project.edits import brief, handover, site, structure

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 16.0), (0.0, 16.0))
FRONT, BACK = ((0.0, 0.0), (12.0, 0.0), (12.0, 8.0), (0.0, 8.0)), ((0.0, 8.0), (12.0, 8.0), (12.0, 16.0), (0.0, 16.0))
KINDS = ("Salvia nemorosa", "Geum rivale")


def halves() -> Project:
    """Return a plot of two halves: a path over the whole, a patio and a bench in front, plants in both."""
    made = site.set_boundary(Project(name="plot", units="metric"), PLOT)
    made = site.set_place(made, latitude=42.0, longitude=-72.0, timezone="America/New_York")
    made = site.add_opening(made, "gate", "gate", at=(6.0, 0.0), width=1.2, sill=0.0, head=1.2)
    made = structure.add_seat(made, "bench", at=(6.0, 13.0))
    made = structure.add_path(made, "walk", start="gate", end="bench", width=1.0, curvature=0.0, surface="paving")
    made = structure.add_area(made, "patio", name="terrace", outline=((1.0, 1.0), (4.0, 1.0), (4.0, 4.0), (1.0, 4.0)))
    plants = [
        Plant(number=n, species=KINDS[n % 2], at=(9.0 + 0.3 * (n % 3), 2.0 if n <= 4 else 11.0)) for n in range(1, 11)
    ]
    made = attrs.evolve(made, planting=attrs.evolve(made.planting, plants=tuple(plants)))
    made = brief.add_property_area(made, "front", outline=FRONT, state="built", built=2024)
    return brief.add_property_area(made, "back", outline=BACK)


@pytest.fixture
def garden(tmp_path: Path) -> Garden:
    return Garden(halves(), tmp_path)


def test_two_halves_add_up_to_the_whole(garden: Garden):
    front, back = garden.of_area("front"), garden.of_area("back")
    assert (len(front.planted), len(back.planted)) == (4, 6)
    assert front.bed_area + back.bed_area == pytest.approx(garden.bed_area, abs=1e-6)
    assert front.costs.plants + back.costs.plants == pytest.approx(garden.costs.plants)
    mulch = [sum(q.amount for q in one.quantities if q.item == "mulch") for one in (front, back, garden)]
    assert mulch[0] + mulch[1] == pytest.approx(mulch[2], rel=1e-6)
    assert sum(line.count for line in front.schedule) == 4


def test_what_reaches_over_two_areas_is_counted_with_the_one_that_holds_most_of_it(garden: Garden):
    front, back = garden.of_area("front"), garden.of_area("back")
    assert [p.name for p in front.counted.structure.paths] == ["walk"]  # 8 of its 13 m
    assert not back.counted.structure.paths
    assert [p.name for p in front.counted.structure.ground_areas] == ["terrace"]
    assert [s.name for s in back.counted.structure.seats] == ["bench"]
    assert front.keys.items() <= garden.keys.items()


def test_an_area_is_what_it_holds_by_name_and_follows_a_new_name():
    made = brief.change_property_area(halves(), "front", outline=(), holds=("terrace", "walk"))
    here = Garden(made, Path()).of_area("front")
    worked = here.layout
    expected = plane.area(worked.ground_areas["terrace"]) + plane.area(worked.surfaces["walk"])
    assert plane.area(here.area_ground) == pytest.approx(expected)
    renamed = structure.rename_path(structure.rename_area(made, "terrace", to="court"), "walk", to="way")
    assert renamed.areas[0].holds == ("court", "way")
    check(renamed)
    with pytest.raises(GardenError, match='made up of "court"; take it off that area'):
        structure.remove_area(renamed, "court")


def test_areas_are_named_ordered_and_let_go_of_with_their_wants():
    made = brief.ask_for(halves(), text="shrubs", area="back", fact="plants", amount=5)
    made = brief.rename_property_area(made, "back", to="orchard")
    assert made.brief.wants[0].area == "orchard"
    assert [a.name for a in brief.move_property_area(made, "orchard", to=0).areas] == ["orchard", "front"]
    gone = brief.remove_property_area(made, "orchard")
    assert [a.name for a in gone.areas] == ["front"] and gone.brief.wants[0].area == ""
    check(gone)
    with pytest.raises(GardenError, match='already something called "front"'):
        brief.rename_property_area(made, "orchard", to=" front ")


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"holds": ("lawn",)}, '"lawn", which is no bed, path'),
        ({"state": "built", "built": None}, "give the year in which it was"),
        ({"state": "as found", "built": 2024}, "leave its year out"),
        ({"outline": ((0.0, 0.0), (40.0, 0.0), (40.0, 9.0))}, "outside the boundary"),
    ],
)
def test_what_an_area_cannot_be_is_said_in_one_sentence(fields: dict[str, object], said: str):
    with pytest.raises(GardenError, match=said):
        brief.change_property_area(halves(), "front", **fields)


def test_a_want_for_one_area_is_judged_by_what_lies_there(tmp_path: Path):
    made = brief.ask_for(halves(), text="five plants in front", area="front", fact="plants", amount=5)
    made = brief.ask_for(made, text="five plants behind", area="back", fact="plants", amount=5)
    made = brief.ask_for(made, text="salvia in front", area="front", asks="plant_wanted", words=("Salvia",), amount=3)
    made = brief.ask_for(made, text="ten plants", fact="plants", amount=10)
    judged = Garden(made, tmp_path).wants
    assert [(one.verdict, one.value) for one in judged] == [("not met", 4), ("met", 6), ("not met", 2), ("met", 10)]


def test_the_plan_of_an_area_fades_the_rest_and_its_client_copy_tells_of_it_alone(garden: Garden):
    back = garden.of_area("back")
    scene = shown_area(back, garden_scene(garden.project, garden.layout, garden.catalogue))
    veil, edge = (mark for mark in scene.marks[-2:] if isinstance(mark, Area))
    covered = plane.difference(plane.region(veil.rings[0]), plane.region(edge.rings[0]))
    assert plane.contains(covered, (6.0, 4.0)) and not plane.contains(covered, (6.0, 12.0))
    pale = {m.text for m in scene.marks if isinstance(m, Label) and m.colour != "#20261f"}
    assert "terrace" in pale and "bench" not in pale
    page = booklet.page(contents(back, with_sun=False), edition="office")
    assert "<title>plot: back" in page
    assert "built in 2024" in page
    assert "terrace" not in page[page.index('id="materials"') : page.index('id="cost"')]


def test_the_client_edition_of_an_area_waits_for_its_own_warnings_alone(garden: Garden):
    crowded = garden.of_area("front").open_warnings
    each, here = ({m for line in lines for m in line.members or (line,)} for lines in (garden.open_warnings, crowded))
    assert here and here < each
    made = garden.project
    for line in crowded:
        made = handover.accept(made, where=line.where, what=line.what, reason="thinned in the third year")
    page = booklet.render(Garden(made, garden.folder).of_area("front"))
    assert "Area by area, in the order of work" in page and "1. front" in page


def test_a_script_names_an_area_and_has_its_plan(tmp_path: Path):
    made = gk.boundary(gk.new(tmp_path / "plot", units="metric"), (12, 16))
    corners = ((0.0, 0.0), (6.0, 0.0), (6.0, 8.0), (0.0, 8.0))
    made = gk.edit(made, "court", lambda p: brief.add_property_area(p, "court", outline=corners, built=2027))
    assert made.project.areas[0].stands == "in design, to be built in 2027"
    assert "Area court of the property, the rest faded." in gk.plan(made, area="court")
    assert plane.area(made.of_area("court").area_ground) == pytest.approx(48.0)


def test_the_page_draws_names_orders_and_writes_an_area(tmp_path: Path):
    folder = tmp_path / "garden"
    gardens.copy_garden(gardens.examples()[0], folder)
    page = AreasPage(Session(folder))
    page.draw.begin("area of the property")
    for at in ((0.5, 0.5), (6.0, 0.5), (6.0, 5.0), (0.5, 5.0)):
        page.draw.click(at)
    page.draw.done()
    assert page.list.title == "Area"
    page.list.form.fill(name="by the gate", built="2028")
    page.list.change()
    path = page.project.structure.paths[0].name
    page.list.choose(None)
    page.list.form.fill(name="the way", holds=path, outline="", built="", state="as found")
    page.list.add()
    page.earlier()
    assert [a.name for a in page.project.areas] == ["the way", "by the gate"]
    assert "to be built in 2028" in page.table.value
    page.click((1.0, 1.0))
    assert page.list.title == "by the gate"
    page.drop("2", (5.0, 4.0))
    assert page.project.areas[1].outline[2] == (5.0, 4.0)
    assert page.failures == []
    rows = wording.property_areas(page.garden)
    assert rows[1]["plants"] == f"{len(page.garden.of_area('by the gate').planted)}"
    assert storage.load(folder).project.areas == page.project.areas


def test_the_sheets_and_drawings_of_an_area_fade_the_rest_and_set_out_its_own_places(garden: Garden):
    back = garden.of_area("back")
    assert {mark.number for mark in back.setting_out.marks} < {mark.number for mark in garden.setting_out.marks}
    sheets = drawing_set.leaves(back)
    titles = [leaf.title for leaf in sheets]
    assert "Hardscape of back" in titles and "Planting plan of back as grown, June of year 10" in titles
    text = dxf.drawing(back).decode()
    document = ezdxf.read(io.StringIO(text))
    assert not document.audit().errors
    layers = {kind: set() for kind in ("POINT", "LWPOLYLINE")}
    for one in document.modelspace():
        layers.setdefault(one.dxftype(), set()).add(one.dxf.layer)
    assert {"REST-AREA", "SEAT", "AREA-LIMIT", "BOUNDARY"} <= layers["POINT"] | layers["LWPOLYLINE"]
    assert document.layers.get("REST-AREA").color == dxf.PALE
    outside = [one for one in document.modelspace().query("POINT") if one.dxf.layer.startswith("REST-PLANT")]
    assert len(outside) == 4  # the four plants of the front
    assert "REST-" not in dxf.drawing(garden).decode()
