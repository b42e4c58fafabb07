"""Full-size cutting templates, measured in the PDF by another reader: the stone to 0.5 mm, over its sheets."""

import io
import math
import re
from pathlib import Path

import attrs
import pytest
import words_shown
from pypdf import PageObject, PdfReader
from test_units_everywhere import FOREIGN

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.handover import bundle
from gardenkit.handover.contents import contents
from gardenkit.handover.paper import Issue
from gardenkit.handover.template import OVERLAP, millimetres, sheet_of, templates, tiles_of, write_stone
from gardenkit.progress import quiet
from gardenkit.project import Project
from gardenkit.project.edits import site, structure

POINT = 25.4 / 72  # mm
HEART = tuple(
    (
        6.0 + 0.45 * math.sin(t) ** 3,
        5.0 + 0.03 * (13 * math.cos(t) - 5 * math.cos(2 * t) - 2 * math.cos(3 * t) - math.cos(4 * t)),
    )
    for t in (2 * math.pi * (k + 0.5) / 36 for k in range(36))
)


def plot(**more: object) -> Project:
    made = site.set_boundary(Project(name="plot", units="metric"), [(0, 0), (12, 0), (12, 10), (0, 10)])
    for name, y in (("front", 0.0), ("back", 10.0)):
        made = site.add_opening(made, "gate", name, at=(6.0, y), width=1.2, sill=0.0, head=1.2)
    return structure.add_path(made, "walk", start="front", end="back", curvature=0.0, **more)


def with_heart() -> Project:
    return structure.add_cut_stone(plot(), HEART, name="heart")


def test_the_bundle_has_templates_where_a_stone_is_cut_and_its_words_are_read(tmp_path: Path) -> None:
    names = [[name for name, *_ in bundle.documents_of(Garden(made, tmp_path))] for made in (plot(), with_heart())]
    assert names[0] + ["stone_templates.pdf"] == names[1]
    (write,) = [write for name, _, write in bundle.documents_of(Garden(with_heart(), tmp_path)) if "template" in name]
    target = tmp_path / "stone_templates.pdf"
    write(contents(Garden(with_heart(), tmp_path), with_sun=False), target, Issue(), quiet)
    said = [one.text for one in words_shown.READERS[".pdf"](target)]
    assert any(line.startswith("heart: in walk, about ") for line in said)
    assert not [line for line in said if FOREIGN["metric"].search(line)]


def drawn(page: PageObject) -> list[tuple[float, tuple[float, float], tuple[float, float]]]:
    """Return (pen width, end, end) of every straight line on a page, mm."""
    found, pen, at = [], 0.0, (0.0, 0.0)
    said = page.get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]
    for width, x, y, kind in re.findall(r"(-?[\d.]+) w\b|(-?[\d.]+) (-?[\d.]+) ([ml])\b", said):
        if width:
            pen = float(width) * POINT
            continue
        end = (float(x) * POINT, float(y) * POINT)
        if kind == "l":
            found.append((pen, at, end))
        at = end
    return found


def test_the_stone_is_measured_on_its_sheets_to_half_a_millimetre() -> None:
    """Every corner of the outline is found where it lies on the plan, its sheets laid over each other as they say."""
    garden = Garden(with_heart(), Path())
    outline = garden.project.structure.paths[0].cut_stones[0].outline
    wide, high = sheet_of(garden)
    assert (wide, high) == (210.0, 297.0)  # ISO 216 A4
    tiles, found = tiles_of(outline, wide, high), []
    book = PdfReader(io.BytesIO(templates(garden, Issue())))
    assert len(book.pages) == len(tiles) > 4
    long = 0.0
    for tile, page in zip(tiles, book.pages, strict=True):
        assert float(page.mediabox.width) * POINT == pytest.approx(wide, abs=0.01)
        for pen, a, b in drawn(page):
            if pen == pytest.approx(0.35, abs=0.01):  # the stone's own line
                found += [(x - 12.0 + tile.left, y - 12.0 + tile.low) for x, y in (a, b)]
                long += math.dist(a, b)
    corners = millimetres(outline)
    assert max(min(math.dist(corner, at) for at in found) for corner in corners) < 0.5
    assert long >= sum(math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)) - 0.5


@pytest.mark.parametrize("number", [1, 5])
def test_any_other_stone_is_measured_on_its_sheets_to_half_a_millimetre(tmp_path: Path, number: int) -> None:
    garden = Garden(plot(), tmp_path)
    stone = next(s for s in garden.layout.layings["walk"].stones if s.number == number - 1)
    tiles, found = tiles_of(stone.outline, *sheet_of(garden)), []
    book = PdfReader(write_stone(garden, "walk", number))
    assert len(book.pages) == len(tiles) > 1
    for tile, page in zip(tiles, book.pages, strict=True):
        for pen, a, b in drawn(page):
            if pen == pytest.approx(0.35, abs=0.01):
                found += [(x - 12.0 + tile.left, y - 12.0 + tile.low) for x, y in (a, b)]
    assert max(min(math.dist(corner, at) for at in found) for corner in millimetres(stone.outline)) < 0.5
    across = max(x for x, _ in found) - min(x for x, _ in found)
    xs = [x for x, _ in stone.outline]
    assert across == pytest.approx(1000 * (max(xs) - min(xs)), abs=0.5)
    assert f"stone {number}: in walk" in book.pages[0].extract_text()
    with pytest.raises(GardenError, match=r'there is no stone 99 in path "walk"; it has stones 1 to \d+'):
        write_stone(garden, "walk", 99)


def test_sheets_lie_over_each_other_and_cover_the_stone() -> None:
    garden = Garden(with_heart(), Path())
    outline = garden.project.structure.paths[0].cut_stones[0].outline
    wide, high = sheet_of(garden)
    tiles = tiles_of(outline, wide, high)
    width, height = (max(p[k] for p in millimetres(outline)) for k in (0, 1))
    inner = wide - 24.0
    columns, rows = {t.column: t.left for t in tiles}, {t.row: t.low for t in tiles}
    assert columns[1] - columns[0] == pytest.approx(inner - OVERLAP)
    assert columns[max(columns)] + inner >= width
    assert rows[max(rows)] + (high - 24.0 - 14.0) >= height


def test_the_bar_to_be_measured_is_100_mm_and_the_caution_is_said() -> None:
    page = PdfReader(io.BytesIO(templates(Garden(with_heart(), Path()), Issue()))).pages[0]
    bars = [math.dist(a, b) for pen, a, b in drawn(page) if pen == pytest.approx(0.4, abs=0.01)]
    assert bars == [pytest.approx(100.0, abs=0.05)]
    said = page.extract_text()
    assert "heart" in said and "100 %" in said and "dust" in said


def test_a_cut_stone_lies_in_place_of_what_it_would_touch_with_the_gap_kept() -> None:
    plain, made = plot(), with_heart()
    before, after = (Garden(p, Path()).layout.layings["walk"] for p in (plain, made))
    path = made.structure.paths[0]
    heart = after.stones[-1]
    assert len(after.stones) <= len(before.stones)
    assert heart.area == pytest.approx(plane.area(plane.region(HEART)), rel=1e-3)
    assert heart.weight == pytest.approx(heart.area * path.stones.thickness * path.stones.density)
    far = [plane.distance(plane.region(s.outline), plane.region(heart.outline)) for s in after.stones[:-1]]
    assert min(far) >= path.stones.gap_low - 1e-3
    lines = [line for line in Garden(made, Path()).quantities if line.item == "stones"]
    assert lines[0].count == len(after.stones)


def test_it_is_moved_turned_and_taken_out_again() -> None:
    made = with_heart()
    number = Garden(made, Path()).layout.layings["walk"].stones[-1].number
    moved = structure.move_stone(made, "walk", number, to=(6.0, 6.0))
    stone = moved.structure.paths[0].cut_stones[0]
    assert plane.centre(plane.region(stone.outline)) == pytest.approx((6.0, 6.0), abs=0.002)
    assert moved.structure.paths[0].held_stones == ()
    turned = structure.turn_cut_stone(made, "heart", degrees=180.0)
    assert plane.area(plane.region(turned.structure.paths[0].cut_stones[0].outline)) == pytest.approx(
        plane.area(plane.region(HEART)), rel=0.01
    )
    assert structure.remove_cut_stone(made, "heart") == plot()
    pinned = structure.pin_stones(made, "walk").structure.paths[0]
    assert number not in {held.number for held in pinned.held_stones}


def test_it_is_refused_where_there_is_no_path_of_stones_and_without_any_no_template_is_written() -> None:
    with pytest.raises(GardenError, match="lies on no path"):
        structure.add_cut_stone(plot(), [(1.0, 1.0), (2.0, 1.0), (2.0, 2.0)])
    with pytest.raises(GardenError, match="lies on no path"):
        structure.add_cut_stone(plot(surface="gravel"), HEART)
    with pytest.raises(GardenError, match="no stone has an outline"):
        templates(Garden(plot(), Path()), Issue())
    gravel = structure.change_path(with_heart(), "walk", surface="gravel")
    assert attrs.evolve(gravel.structure.paths[0]).cut_stones
    with pytest.raises(GardenError, match="no stone has an outline"):
        templates(Garden(gravel, Path()), Issue())
