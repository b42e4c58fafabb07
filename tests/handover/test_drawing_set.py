"""The drawing set: every sheet numbered, listed, to scale, inside its border, and counting what the garden holds."""

import math
import re
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import attrs
import pytest
from pypdf import PageObject, PdfReader

from gardenkit.drawing.drawing_set import LOOKED, existing_scene, planting_scene
from gardenkit.drawing.elevation import PICTURE_EDGE
from gardenkit.drawing.scene import Label, Scene, on_paper
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import drawing_set, services, sides
from gardenkit.handover.paper import (
    AMERICAN_PAPERS,
    BLOCK,
    COLUMN,
    ISO_PAPERS,
    MARGIN,
    PAPERS,
    Issue,
    Leaf,
    centred,
    fitted,
    frame,
    millimetres,
    papers_of,
    ways,
    written,
)
from gardenkit.project import Project
from gardenkit.project.edits.structure import add_note
from gardenkit.project.paved_levels import paved_fall
from gardenkit.saying import of_goods
from gardenkit.schedules import lighting, pipes
from gardenkit.schedules.dug_out import DIGGING
from gardenkit.schedules.irrigation_zones import zones
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.setting_out import fixed_points
from gardenkit.site.place import Place
from gardenkit.site.tree_protection import root_protection_area, root_protection_radius
from gardenkit.structure.kinds import ground_kind
from gardenkit.structure.structure import GroundArea
from gardenkit.units import show_length

from .reading_sheets import Word, runs, words

EXAMPLES = Path(__file__).parents[2] / "examples"
NUMBERS = ["L0", "L1", "L2", "L2.1", "L3", "L3b", "L3.1", "L3.2", "L3.2.2", "L4", "L5", "L6", "L7", "L7b", "L8"]


@attrs.frozen(eq=False)
class Read:
    garden: Garden
    pages: list[PageObject]
    said: list[list[Word]]
    mm: float

    def sheet(self, number: str) -> list[Word]:
        return self.said[NUMBERS.index(number)]


@pytest.fixture(scope="module", params=["lantern_lane_strip"])
def read(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Read:
    garden = Garden.open(EXAMPLES / request.param)
    target = tmp_path_factory.mktemp("set") / "drawing_set.pdf"
    assert drawing_set.write(garden, target, issue=Issue(revision="C")) == target.stat().st_size
    pages = list(PdfReader(BytesIO(target.read_bytes()), strict=True).pages)
    return Read(garden, pages, [words(page) for page in pages], 1000 / 48 if garden.units == "imperial" else 1000 / 50)


@pytest.mark.parametrize(
    ("stem", "radius", "area"),
    [
        (0.075, 0.9, 3),
        (0.15, 1.8, 10),
        (0.2, 2.4, 18),
        (0.3, 3.6, 41),
        (0.4, 4.8, 72),
        (0.5, 6.0, 113),
        (1.25, 15, 707),
    ],
)
def test_root_protection_is_the_published_table(stem: float, radius: float, area: float) -> None:
    # BS 5837:2012, table of root protection areas (second-hand): mm of stem, m, m2
    assert root_protection_radius(stem) == pytest.approx(radius)
    assert round(root_protection_area(stem)) == area
    assert root_protection_radius(2.0) == 15.0  # capped


def test_every_sheet_has_its_title_block_and_stands_in_the_list_of_sheets(read: Read) -> None:
    listed = [w.text for w in read.said[0]]
    for number, page, said in zip(NUMBERS, read.pages, read.said, strict=True):
        wide, high = (float(side) * 25.4 / 72 for side in page.mediabox[2:])
        assert any(sorted((wide, high)) == pytest.approx(sorted(size), abs=0.1) for size in PAPERS.values())
        block = [w.text for w in said if w.x > wide - MARGIN - COLUMN and w.y < MARGIN + BLOCK]
        assert number in block
        assert number in listed
        assert any(re.fullmatch(r"\d{4}-\d\d-\d\d, revision C", text) for text in block)
        assert any(" on " in text and text.endswith("paper") for text in block)
        assert min(w.size for w in said) >= 2.5 - 1e-3
        assert all(MARGIN < w.x < wide - MARGIN and MARGIN < w.y < high - MARGIN for w in said)
        places = [(w.text, round(w.x, 2), round(w.y, 2)) for w in said]
        assert len(places) == len(set(places))


def test_every_plan_is_true_to_two_tenths_of_a_millimetre(read: Read) -> None:
    for number in ("L1", "L2", "L3", "L3.1", "L4", "L5", "L6", "L7"):
        drawn = runs(read.pages[NUMBERS.index(number)])
        for building in read.garden.project.site.buildings:
            for a, b in pairwise([*building.outline, building.outline[0]]):
                assert min(abs(run - math.dist(a, b) * read.mm) for run in drawn) < 0.2


def test_the_circle_round_each_kept_tree_is_drawn_at_twelve_stems(read: Read) -> None:
    drawn = runs(read.pages[NUMBERS.index("L1")])
    for tree in read.garden.project.site.trees:
        lines = [w.text for w in read.sheet("L1") if w.text.startswith(tree.name)]
        if tree.keep:
            side = 2 * 12 * tree.trunk_diameter * math.sin(math.pi / 180) * read.mm  # of 180 sides
            assert sum(abs(run - side) < 0.01 for run in drawn) >= 170
        else:
            assert any("removed" in line for line in lines)


def test_drifts_and_the_plant_list_count_every_plant(read: Read) -> None:
    planted: dict[str, int] = {}
    for plant in read.garden.project.planting.plants:
        key = read.garden.keys[read.garden.catalogue[plant.species].botanical]
        planted[key] = planted.get(key, 0) + 1
    said = read.sheet("L4")
    on_plan: dict[str, int] = {}
    for w in said:
        found = re.fullmatch(r"([A-Z]+\d?) (\d+)", w.text)
        if found and found[1] in planted:
            on_plan[found[1]] = on_plan.get(found[1], 0) + int(found[2])
    assert on_plan == planted
    texts = [w.text for w in said]
    in_list = {
        key: int(texts[at + 1]) for at, key in enumerate(texts[:-1]) if key in planted and texts[at + 1].isdigit()
    }
    assert in_list == planted


def test_what_creeps_between_stones_has_its_key_on_the_planting_plan() -> None:
    """The corner's walk is planted with as many as its plant list counts; with stones of cut paving none would be."""
    garden = Garden.open(EXAMPLES / "fennel_street_corner")
    (walk,) = (path for path in garden.project.structure.paths if path.creeping)
    (line,) = (one for one in garden.schedule if one.species.botanical == walk.creeping)
    marks, wishes = drawing_set.between_stones(garden)
    assert [wish.text for wish in wishes] == [f"{line.key} {line.count}"]
    scene = planting_scene(garden.project, garden.layout, [], scale=48.0, title="t", between=(marks, wishes))
    assert sum(mark.text == f"{line.key} {line.count}" for mark in scene.marks if isinstance(mark, Label)) == 1


def test_steps_that_stand_alone_are_on_the_hardscape_sheet_and_those_of_paths_in_their_pieces() -> None:
    garden = Garden.open(EXAMPLES / "quarry_brow_hillside")
    heads = [what for what, *_ in drawing_set.built(garden)]
    assert any(head.startswith("door steps: steps") for head in heads)
    assert any(head.endswith("flight 7: step risers") for head in heads)
    assert not any("flight" in head and ": steps" in head for head in heads)


def test_paths_and_posts_stand_on_the_hardscape_sheet(read: Read) -> None:
    texts = " ".join(w.text for w in [*read.sheet("L3"), *read.sheet("L3b")])
    for path in read.garden.project.structure.paths:
        assert f"{path.name}: {path.surface}, " in texts
    assert re.search(r"(seat arch|pergola): post, .* long 4", texts)
    for line in read.garden.quantities:
        if line.where in read.garden.layout.routes and line.item not in DIGGING:
            assert f"{line.where}: {of_goods(ITEMS[line.item], read.garden.units)}" in texts
    for seat in read.garden.project.structure.seats:
        assert f"{seat.name}: seat" in texts
    assert "more in the schedules" not in texts
    assert "no source" not in texts  # sources are for the office


def test_what_is_dug_stands_on_the_sheet_of_levels_whole(read: Read) -> None:
    texts = " ".join(w.text for w in read.sheet("L3.1"))
    for line in read.garden.quantities:
        if line.item == "excavation":
            assert f"{line.where}: dig {line.shown(read.garden.units)}" in texts
        if line.item == "spoil away":
            assert f"; {line.shown(read.garden.units)} of it loose" in texts
    lie = read.garden.layout.lie
    assert lie is not None
    for area in read.garden.project.structure.ground_areas:
        if ground_kind(area.kind).falls == "patio":
            assert f"{area.name}: levels the ground lies from " in texts
            fall = paved_fall(read.garden.layout.ground_areas[area.name], lie, read.garden.project.site.buildings)
            assert f" along {fall.along}, falling {fall.percent:.1f} % away from it" in texts
            for mark in read.garden.setting_out.marks:
                if mark.what.startswith(f"{area.name}, "):
                    height = show_length(round(fall.level(mark.at), 2) + 0.0, read.garden.units)
                    assert re.search(rf"[:,] {mark.number}: {re.escape(height)}[,;]", texts)


def test_what_stands_is_listed_and_nothing_new_is_drawn_as_found(read: Read) -> None:
    texts = " ".join(w.text for w in read.sheet("L1"))
    site = read.garden.project.site
    for one in (*site.fences, *site.obstacles):
        assert f"{one.name}: stays" in texts
    assert {one.name for one in site.fences} <= {w.text for w in read.sheet("L1")}
    deck = attrs.evolve(next(o for o in site.openings if o.kind == "gate"), name="deck gate", on="court")
    court = GroundArea(name="court", kind="patio", outline=((0, 0), (1, 0), (1, 1)))
    new = attrs.evolve(
        read.garden.project,
        site=attrs.evolve(site, openings=(*site.openings, deck)),
        structure=attrs.evolve(read.garden.project.structure, ground_areas=(court,)),
    )
    named = {str(mark.text) for mark in existing_scene(new, scale=48.0, title="x").marks if isinstance(mark, Label)}
    assert "deck gate" not in named and named & {o.name for o in site.openings if o.kind == "gate"}
    assert "more in the schedules" not in texts


def test_paper_follows_the_country_and_only_without_one_the_units() -> None:
    def lying(timezone: str, units: str) -> tuple[str, ...]:
        site = attrs.evolve(Project(name="x").site, place=Place(timezone=timezone))
        return papers_of(attrs.evolve(Project(name="x"), units=units, site=site))

    assert lying("America/New_York", "metric") == AMERICAN_PAPERS
    assert lying("Pacific/Auckland", "imperial") == ISO_PAPERS  # ISO 216
    assert lying("", "imperial") == AMERICAN_PAPERS
    areas = [PAPERS[name][0] * PAPERS[name][1] for name in AMERICAN_PAPERS]
    assert areas == sorted(areas)


def test_a_garden_without_a_boundary_says_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(GardenError, match="drawing set needs the boundary"):
        drawing_set.leaves(Garden(Project(name="bare"), tmp_path))


@pytest.mark.parametrize("revision", ["", "   ", "a b", "x" * 9, "<b>"])
def test_a_revision_that_fits_no_title_block_is_one_sentence(revision: str) -> None:
    with pytest.raises(GardenError, match="write up to eight letters or figures"):
        Issue(revision=revision)


@attrs.define
class Kept:
    """A pen that keeps where drawings go on a sheet, mm; the scale bar in the column beside them is none."""

    boxes: list[tuple[str, float, float, float, float]] = attrs.field(factory=list)

    def scene(self, scene: Scene, *, left: float, top: float, within: object = None) -> None:
        if within is None:
            return
        wide, high = millimetres(scene, scene.bounds)
        self.boxes.append((scene.title, left, top - high, left + wide, top))

    def text(self, *said: object, **how: object) -> None:
        """Nothing: words are read on the real sheet."""


def test_levels_are_taken_from_a_spot_that_is_found_from_a_corner_of_the_house(read: Read) -> None:
    said = " ".join(w.text for w in read.sheet("L3.1"))
    found = re.search(r"the spot at (-?[\d.]+ m).*?, ([\d.]+) m from corner A of L2", said)
    assert found
    first = fixed_points(read.garden.project.site)[0].at
    far = {f"{math.dist(one.at, first):.2f}": one.height for one in read.garden.project.site.heights}
    assert found[1] == f"{far[found[2]]:.2f} m"
    assert min(far, key=float) == found[2]


@pytest.mark.parametrize(
    ("number", "signs"),
    [
        ("L1", ("roots of a tree to keep: fence it off", "tree to be removed", "boundary")),
        (
            "L3",
            (
                "gravel",
                "flagstones",
                "seat; triangle: the way one looks from it",
                "table; dots: room to draw chairs out",
                "S to S: the line of the elevations",
            ),
        ),
        ("L2", ("table; dots: room to draw chairs out", "seat; triangle: the way one looks from it")),
        ("L3.1", ("contour of the ground as found", "wall or hedge")),
        ("L6", ("row of dripline", "tap and valve box", "pipe; a dot where it meets the first row")),
        ("L7", ("cable, 12 V; a ring: transformer, dots: lamps", "ground that a lamp lights")),
    ],
)
def test_what_is_drawn_on_a_sheet_stands_in_its_legend_once(read: Read, number: str, signs: tuple[str, ...]) -> None:
    said = [w.text for w in read.sheet(number)]
    assert "Drawn here" in said
    for sign in (*signs, "building; long dashes: edge of its roof", "gate, as it swings", "door, as it swings"):
        assert said.count(sign) == 1


def test_the_sides_of_the_boundary_are_written_on_the_sheet_of_what_is_there(read: Read) -> None:
    corners = read.garden.project.site.boundary
    said = [w.text for w in read.sheet("L1")]
    for a, b in pairwise([*corners, corners[0]]):
        assert show_length(math.dist(a, b), read.garden.units) in said


def test_every_contour_that_is_long_enough_carries_its_height(read: Read) -> None:
    said = [w.text for w in read.sheet("L3.1")]
    for found in ("(-0.20)", "(-0.10)"):
        assert found in said


def test_the_crown_of_an_old_tree_is_whole_on_a_sheet_that_may_be_chosen(read: Read) -> None:
    """A crown two metres over the edge takes a wider sheet, or stands farther aside; without room it is cut."""
    site = read.garden.project.site
    wide = attrs.evolve(site.trees[0], spread=9.0, keep=True)
    project = attrs.evolve(read.garden.project, site=attrs.evolve(site, trees=(wide,)))

    def draw(scale: float) -> Scene:
        return existing_scene(project, scale=scale, title="x")

    scene, size = fitted(draw, project, scale=None, paper="")
    pen = Kept()
    centred(pen, scene, size)  # type: ignore[arg-type]
    _, left, _, _, top = pen.boxes[0]
    low_x, low_y, high_x, high_y = frame(size)
    for x, y in ((wide.at[0] - 4.4, wide.at[1]), (wide.at[0] + 4.4, wide.at[1]), (wide.at[0], wide.at[1] + 4.4)):
        assert low_x < left + on_paper(x - scene.bounds[0], scene.scale) < high_x
        assert low_y < top - on_paper(scene.bounds[3] - y, scene.scale) < high_y


def test_a_tap_and_a_transformer_on_the_plan_are_where_pipes_and_cable_begin(read: Read) -> None:
    bare = attrs.evolve(read.garden.project, site=attrs.evolve(read.garden.project.site, notes=()))
    tap, hung = (1.0, 2.0), (2.0, 3.0)
    supplied = add_note(add_note(bare, "tap", line=(tap,)), "transformer", line=(hung,))
    changed = Garden(project=supplied, folder=read.garden.folder)
    assert {pipe[0] for pipe in pipes.supply(supplied, changed.layout, changed.water)} == {tap}
    assert lighting.cable_line(supplied)[0] == hung
    assert "is recorded" not in " ".join(w.text for w in [*read.sheet("L6"), *read.sheet("L7")])
    first = services.leaves(Garden(project=bare, folder=read.garden.folder), ways("A3")[1], 50.0, first=6)
    text = " ".join(w.text for leaf in first[:2] for w in words(page_of(bare, leaf)))
    assert "No tap is recorded" in text and "No transformer is recorded" in text


def test_the_lighting_sheet_shows_the_garden_by_night_too(read: Read) -> None:
    said = " ".join(w.text for w in read.sheet("L7b"))
    assert "Lighting by night" in said
    assert "ground lit in warm white, 2,700 K" in said
    assert "100 lumens, the ground" in said


def page_of(project: Project, leaf: Leaf) -> PageObject:
    return PdfReader(BytesIO(written(project, [leaf], Issue(), title="one"))).pages[0]


def test_the_irrigation_sheet_tells_of_new_plants_and_of_a_dry_year(read: Read) -> None:
    said = " ".join(w.text for w in read.sheet("L6"))
    assert (
        said.count("minutes at a time, 2 weeks 3 times a week, then 2 weeks 2 times a week, then 2 weeks once a week")
        == 2
    )
    assert re.search(r"[\d,]+ L in a year of mean rain, [\d,]+ L in one of half the rain; butts give [\d,]+ L", said)
    dripped = [zone.emitters for zone in zones(read.garden.water)]
    told = re.findall(r"([\d,]+) emitters of 3.4 L an hour, 300 mm apart", said)
    assert len(dripped) == 2
    assert [int(one.replace(",", "")) for one in told] == dripped


def test_elevations_show_every_support_with_its_height_and_the_line_is_on_the_plan(read: Read) -> None:
    said = [w.text for w in read.sheet("L8")]
    for support in read.garden.project.structure.supports:
        assert any(text.startswith(f"{support.name}: {support.kind}") for text in said)
        assert show_length(support.height, read.garden.units) in said
    assert [w.text for w in read.sheet("L3")].count(LOOKED) == 2


def test_elevations_are_painted_to_scale(read: Read) -> None:
    content = read.pages[NUMBERS.index("L8")].get_contents()
    assert content is not None
    put = re.findall(rb"([\d.]+) 0 0 [\d.]+ [\d.]+ [\d.]+ cm\s+/FormXob", content.get_data())
    line = sides.line_on_plan(read.garden)
    wide = read.mm * math.dist(line[0], line[-1]) + 2 * PICTURE_EDGE
    assert [float(each) * 25.4 / 72 for each in put] == pytest.approx([wide] * len(sides.YEARS), abs=0.02)


@pytest.mark.parametrize("paper", ["A3", "A4"])
def test_no_elevation_crosses_the_border_or_another(read: Read, paper: str) -> None:
    size = ways(paper)[1]
    low_x, low_y, high_x, high_y = frame(size)
    drawn: list[tuple[int, str]] = []
    for page, leaf in enumerate(sides.leaves(read.garden, size, 50.0, "L8")):
        pen = Kept()
        leaf.draw(pen)  # type: ignore[arg-type]
        for k, (name, left, low, right, top) in enumerate(pen.boxes):
            assert low_x < left < right < high_x
            assert low_y < low < top < high_y
            drawn.append((page, name))
            for other, x, y, end, above in pen.boxes[:k]:
                assert right <= x or end <= left or top <= y or above <= low, (name, other)
    assert len(drawn) == 2 + len(read.garden.project.structure.supports)
    assert (max(page for page, _ in drawn) > 0) == (paper == "A4")
