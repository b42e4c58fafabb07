"""Whoever follows the setting-out sheet with two tapes puts stones and posts where the plan has them.

The sheet is read with pypdf only: its words, and its lines in mm. The crossing of two circles is worked out here.
"""

import csv
import math
import re
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import attrs
import pytest
from pypdf import PageObject, PdfReader

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import setting_out as sheets
from gardenkit.handover.paper import BLOCK, COLUMN, MARGIN
from gardenkit.project import Project
from gardenkit.schedules.setting_out import setting_out
from gardenkit.units import INCH

from .reading_sheets import Word, runs, words

EXAMPLES = sorted(p for p in (Path(__file__).parents[2] / "examples").iterdir() if p.is_dir())
Point = tuple[float, float]


@attrs.frozen(eq=False)
class Read:
    """A garden and its sheet as a reader finds it: pages, the words of each, mm per metre."""

    garden: Garden
    pages: list[PageObject]
    said: list[list[Word]]
    mm: float


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda p: p.name)
def read(request: pytest.FixtureRequest) -> Read:
    garden = Garden.open(request.param)
    pages = list(PdfReader(BytesIO(sheets.sheet(garden)), strict=True).pages)
    said = [words(page) for page in pages]
    scale = next(
        word.text for word in said[0] if word.text.startswith('scale 1/4" = 1') or "scale 1 : 50," in word.text
    )
    return Read(garden, pages, said, 1000 / 48 if "1/4" in scale else 1000 / 50)


def metres(text: str) -> float:
    """A length as a tape shows it: 12' 3½", or 3.735 m."""
    if text.endswith(" m"):
        return float(text[:-2])
    found = re.fullmatch(r"""(-?)(?:(\d+)')? ?(?:(\d*)(½?)")?""", text)
    assert found, text
    minus, feet, inches, half = found.groups()
    size = 0.3048 * int(feet or 0) + 0.0254 * (int(inches or 0) + (0.5 if half else 0.0))
    return -size if minus else size


def table(read: Read) -> dict[int, tuple[str, float, float, list[tuple[str, float]]]]:
    """Return the rows of the table on all pages: what, along, off (left of the baseline is positive), two ties."""
    rows = {}
    for said in read.said:
        for at, word in enumerate(said):
            ties = re.fullmatch(r"([A-Z]) (\S.*?) {3}([A-Z]) (\S.*)", word.text)
            if ties:
                number, what, along, off = (w.text for w in said[at - 4 : at])
                side = -1.0 if off.endswith(" R") else 1.0
                far = [(ties[1], metres(ties[2])), (ties[3], metres(ties[4]))]
                rows[int(number)] = what, metres(along), side * metres(off.removesuffix(" L").removesuffix(" R")), far
    return rows


def lettered(read: Read) -> dict[str, Point]:
    """Return where each lettered point lies on the plan: the corner of house or plot that the sheet shows it at."""
    site = read.garden.project.site
    corners = [*site.boundary, *(p for b in site.buildings for p in b.outline)]
    big = {
        w.text: (w.x / read.mm, w.y / read.mm) for w in read.said[0] if len(w.text) == 1 and abs(w.size - 2.8) < 0.01
    }

    def misses(shift: Point) -> float:
        return max(min(math.dist((x + shift[0], y + shift[1]), c) for c in corners) for x, y in big.values())

    a = big["A"]
    shift = min(((c[0] - a[0], c[1] - a[1]) for c in corners), key=misses)
    assert misses(shift) < 1.0 / read.mm  # all letters are centred on a corner to 1 mm of paper
    return {k: min(corners, key=lambda c: math.dist((x + shift[0], y + shift[1]), c)) for k, (x, y) in big.items()}


def crossings(a: Point, r: float, b: Point, s: float) -> list[Point]:
    """Return where the circles round a and b of radii r and s cross."""
    apart = math.dist(a, b)
    along = (r * r - s * s + apart * apart) / (2 * apart)
    up = math.sqrt(max(0.0, r * r - along * along))
    ux, uy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    return [(a[0] + along * ux - way * up * uy, a[1] + along * uy + way * up * ux) for way in (1, -1)]


def test_two_people_with_tapes_rebuild_stones_posts_and_all_else_within_an_inch(read: Read) -> None:
    rows, fixed = table(read), lettered(read)
    garden = read.garden
    found = setting_out(garden.project, garden.layout, garden.catalogue)
    assert sorted(rows) == [m.number for m in found.marks]
    (ax, ay), (bx, by) = fixed["A"], fixed["B"]
    long = math.dist(fixed["A"], fixed["B"])
    ux, uy = (bx - ax) / long, (by - ay) / long
    rebuilt = {}
    for number, (_, along, off, ((a, r), (b, s))) in rows.items():
        square = (ax + along * ux - off * uy, ay + along * uy + off * ux)
        rebuilt[number] = min(crossings(fixed[a], r, fixed[b], s), key=lambda p, q=square: math.dist(p, q))
        assert math.dist(square, found.marks[number - 1].at) < INCH / 2
    assert max(math.dist(rebuilt[m.number], m.at) for m in found.marks) < INCH
    stones = {
        f"{name}, stone {s.number + 1}": s.at for name, laid in garden.layout.layings.items() for s in laid.stones
    }
    named = {what: rebuilt[number] for number, (what, *_) in rows.items()}
    assert all(math.dist(named[name], at) < INCH for name, at in stones.items())
    for support in garden.project.structure.supports:
        if support.kind in ("arch", "arbour", "pergola"):  # four posts, half the depth off each end of its line
            (px, py), (qx, qy) = support.line
            half, wide = support.depth / 2, math.dist((px, py), (qx, qy))
            nx, ny = -(qy - py) / wide * half, (qx - px) / wide * half
            posts = [at for name, at in named.items() if name.startswith(f"{support.name}, post")]
            asked = [(x + way * nx, y + way * ny) for x, y in support.line for way in (1, -1)]
            assert len(posts) == 4
            assert all(min(math.dist(at, post) for post in posts) < INCH for at in asked)


def test_no_tape_goes_through_a_building(read: Read) -> None:
    from shapely import LineString, Polygon

    houses = [Polygon(b.outline).buffer(-0.05) for b in read.garden.project.site.buildings]
    fixed = lettered(read)
    garden = read.garden
    for mark in setting_out(garden.project, garden.layout, garden.catalogue).marks:
        for tie in mark.ties:
            line = LineString([fixed[tie.letter], mark.at])
            assert not any(line.intersects(house) for house in houses), mark.what


def test_path_edges_stand_at_every_three_feet_or_metre(read: Read) -> None:
    from shapely import Point as Spot
    from shapely import union_all

    each = 0.9144 if read.garden.units == "imperial" else 1.0  # an international yard
    said, routes = [what for what, *_ in table(read).values()], read.garden.layout.routes
    for name, route in routes.items():
        stations = [what.rpartition(" at ")[2] for what in said if what.startswith(f"{name}, ") and " edge at " in what]
        others = union_all([other.region for key, other in routes.items() if key != name])
        for number in range(math.floor(route.length / each) + 1):
            if Spot(*route.curve.at(number * each)[0]).distance(others) > route.width:
                asked = f"{3 * number} ft" if read.garden.units == "imperial" else f"{number}.0 m"
                assert asked in stations, f"{name} at {asked}"


def test_the_sheet_is_true_to_two_tenths_of_a_millimetre(read: Read) -> None:
    drawn, site = runs(read.pages[0]), read.garden.project.site
    for outline in (site.boundary, *(b.outline for b in site.buildings)):
        for a, b in pairwise([*outline, outline[0]]):
            if not any(
                abs(math.dist(a, o.start) + math.dist(o.start, b) - math.dist(a, b)) < 0.01 for o in site.openings
            ):
                assert min(abs(run - math.dist(a, b) * read.mm) for run in drawn) < 0.2
    shown = ["3'", "6'"] if read.garden.units == "imperial" else ["1", "2"]
    a, b = (next(w for w in read.said[0] if w.text == text) for text in shown)
    step = (0.9144 if read.garden.units == "imperial" else 1.0) * read.mm
    assert math.dist((a.x, a.y), (b.x, b.y)) == pytest.approx(step, abs=0.2)


def test_every_number_stands_on_the_plan_and_letters_are_large_enough_and_inside_the_border(read: Read) -> None:
    numbers = {int(w.text) for w in read.said[0] if w.text.isdigit()}
    assert set(table(read)) <= numbers
    for page, said in zip(read.pages, read.said, strict=True):
        wide, high = (float(side) * 25.4 / 72 for side in page.mediabox[2:])
        assert min(word.size for word in said) >= 2.5 - 1e-3
        assert all(MARGIN < w.x < wide - MARGIN and MARGIN < w.y < high - MARGIN for w in said)
        block = [w.text for w in said if w.x > wide - MARGIN - COLUMN and w.y < MARGIN + BLOCK]
        assert {"for", "design", "date", read.garden.project.name} <= set(block)
        assert any(re.fullmatch(r"L2(\.\d)?", text) for text in block)
        assert any("revision A" in text for text in block)


def test_every_text_is_in_the_text_layer_once(read: Read) -> None:
    for said in read.said:
        places = [(w.text, round(w.x, 2), round(w.y, 2)) for w in said]
        assert len(places) == len(set(places))


def test_every_place_is_in_the_csv_with_its_own_coordinates(read: Read, tmp_path: Path) -> None:
    garden = read.garden
    found = setting_out(garden.project, garden.layout, garden.catalogue)
    assert sheets.write_csv(garden, tmp_path / "places.csv") == len(found.marks)
    with (tmp_path / "places.csv").open(encoding="utf-8", newline="") as page:
        rows = list(csv.DictReader(page))
    assert [int(row["number"]) for row in rows] == [m.number for m in found.marks]
    head, each = ("x_ft", 0.3048) if garden.units == "imperial" else ("x_m", 1.0)  # an international foot is 0.3048 m
    assert [each * float(row[head]) for row in rows] == pytest.approx([m.at[0] for m in found.marks], abs=0.0006)


def test_a_name_that_a_spreadsheet_would_run_is_only_text(tmp_path: Path) -> None:
    garden = Garden.open(EXAMPLES[0])
    structure = garden.project.structure
    seats = (attrs.evolve(structure.seats[0], name="=1+1"), *structure.seats[1:])
    paths = tuple(p for p in structure.paths if structure.seats[0].name not in (p.start, p.end))
    named = attrs.evolve(garden.project, structure=attrs.evolve(structure, seats=seats, paths=paths))
    sheets.write_csv(Garden(named, EXAMPLES[0]), tmp_path / "places.csv")
    assert "'=1+1" in (tmp_path / "places.csv").read_text(encoding="utf-8")


def test_a_garden_without_a_boundary_says_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(GardenError, match="setting out needs the boundary"):
        sheets.sheet(Garden(Project(name="bare"), tmp_path))
