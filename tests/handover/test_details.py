"""The sheet of details: depths of published tables, true to scale on paper, every built thing of the garden on it."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from gardenkit.drawing import built_details
from gardenkit.drawing.built_sides import support_scene
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import Area, Hatch, Label
from gardenkit.drawing.section_cut import Cut, Note, cut_scene
from gardenkit.garden import Garden
from gardenkit.handover import details, drawing_set
from gardenkit.handover.paper import MARGIN, Issue, frame, millimetres, ways, written
from gardenkit.structure.kinds import parts_list, thing_kind
from gardenkit.structure.kinds.support_parts import PostChoice
from gardenkit.structure.posts import post
from gardenkit.structure.steps import steps
from gardenkit.units import FOOT, INCH

from .reading_sheets import runs, words

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = ("fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside")


def depths(cut: Cut) -> list[float]:
    """Return how deep each box of a cut is, m, from the top down."""
    boxes = [mark.rings[0] for mark in cut.marks if isinstance(mark, Area) and mark.layer == "structure"]
    return [round(ring[2][1] - ring[0][1], 6) for ring in boxes]


def wides(cut: Cut) -> list[float]:
    boxes = [mark.rings[0] for mark in cut.marks if isinstance(mark, Area) and mark.layer == "structure"]
    return [round(ring[1][0] - ring[0][0], 6) for ring in boxes]


def test_a_paved_walk_is_built_up_as_the_paving_institute_has_it() -> None:
    """ICPI: 4 in of compacted base, 1 in of bedding, the base 6 in past the paving on both sides."""
    cut = built_details.surface_cut("paving", width=1.0, thickness=2 * INCH, units="imperial", scale=12.0)
    assert depths(cut) == pytest.approx([2 * INCH, 1 * INCH, 4 * INCH])
    assert wides(cut) == pytest.approx([1.0, 1.0, 1.0 + 12 * INCH])
    said = " ".join(note.words for note in cut.notes)
    assert 'compacted, 4"' in said
    assert 'dug to 7"' in said


def test_gravel_lies_3_in_deep_between_edges_and_a_wide_place_is_drawn_from_one_edge() -> None:
    cut = built_details.surface_cut("gravel", width=1.0, thickness=0.05, units="imperial", scale=12.0)
    assert depths(cut)[0] == pytest.approx(3 * INCH)  # stone supplier: 3 in on a walk
    assert len(depths(cut)) == 3
    wide = built_details.surface_cut("gravel", width=6.0, thickness=0.05, units="imperial", scale=12.0)
    assert len(depths(wide)) == 2
    assert wide.right - wide.left < 2.0


def test_a_fence_post_6_ft_high_goes_3_ft_down_in_a_hole_three_posts_wide() -> None:
    """Newspaper repair column: a third of the whole length in the ground, the hole three times the post."""
    choice = PostChoice(frost_depth=0.0)
    cut = built_details.post_cut(post(72 * INCH), choice, units="imperial", scale=12.0)
    assert depths(cut)[0] == pytest.approx(36 * INCH)
    assert wides(cut)[:2] == pytest.approx([10.5 * INCH, 3.5 * INCH])


def test_steps_are_drawn_with_the_riser_and_tread_that_were_worked_out() -> None:
    flight = steps(36 * INCH, most_riser=6 * INCH)
    cut = built_details.steps_cut(flight, units="imperial", scale=12.0)
    (outline,) = (mark.rings[0] for mark in cut.marks if isinstance(mark, Area))
    ups = sorted({round(y, 6) for _, y in outline if y > 0})
    assert ups == pytest.approx([6 * INCH * k for k in (1, 2, 3, 4)])
    assert any("6 risers" in note.words for note in cut.notes)


@pytest.mark.parametrize("name", NAMES)
def test_every_built_path_place_and_post_has_its_detail(name: str) -> None:
    garden = Garden.open(EXAMPLES / name)
    found = details.details(garden, details.SCALES[garden.units][0][0])
    where = {place for detail in found for place in detail.where}
    assert set(garden.layout.routes) <= where
    assert {p.name for p in garden.project.structure.ground_areas if p.kind in ("patio", "gravel", "pond")} <= where
    flights = {f"{path}, flight {f.number}" for path, all_ in garden.layout.flights.items() for f in all_ if f.steps}
    assert flights <= where
    assert {t.name for t in garden.project.structure.things if thing_kind(t.kind).steps} <= where
    assert {wall.name for wall in garden.earth.walls} <= where if garden.earth is not None else True
    assert len({detail.title for detail in found}) == len(found)


@pytest.mark.parametrize("name", NAMES)
def test_on_paper_nothing_crosses_the_border_and_widths_are_true(name: str) -> None:
    garden = Garden.open(EXAMPLES / name)
    size = ways("ANSI D" if garden.units == "imperial" else "A3")[1]
    leaves = details.leaves(garden, size, number="L9")
    read = PdfReader(BytesIO(written(garden.project, leaves, Issue(), title="details")), strict=True)
    (mm,) = [1000 / n for n, words in details.SCALES[garden.units] if words == leaves[0].at_scale]
    said = [words(page) for page in read.pages]
    for page in said:
        assert all(MARGIN < w.x < size.wide - MARGIN and MARGIN < w.y < size.high - MARGIN for w in page)
        assert min(w.size for w in page) >= 2.5 - 1e-3
    drawn = [run for page in read.pages for run in runs(page)]
    narrow = [
        path for path in garden.project.structure.paths if path.width <= 1.3 and path.surface != "stepping stones"
    ]
    assert narrow
    for path in narrow:
        assert min(abs(run - path.width * mm) for run in drawn) < 0.2
    assert any(leaves[0].at_scale in w.text for page in said for w in page)


def test_a_small_sheet_gets_details_of_a_smaller_scale_and_holds_them_whole() -> None:
    garden = Garden.open(EXAMPLES / "lantern_lane_strip")
    large, small = (details.leaves(garden, size, number="L9") for size in (ways("A1")[0], ways("A4")[1]))
    assert large[0].at_scale == "1 : 10" != small[0].at_scale
    low_x, low_y, high_x, high_y = frame(small[0].size)
    n = next(n for n, words in details.SCALES["metric"] if words == small[0].at_scale)
    for _, left, top, _, one in details._placed(details.details(garden, n), small[0].size):
        wide, high = millimetres(one.scene)
        assert low_x <= left and left + wide <= high_x
        assert low_y <= top - details.HEAD - high and top <= high_y


def test_the_longest_note_beside_a_cut_has_its_room() -> None:
    words = "a note that says far more than the fifty-two millimetres kept for it can hold in letters of their size"
    cut = Cut(marks=(), notes=(Note(at=(0.0, 0.0), words=words),), left=-1.0, right=1.0, low=-1.0, high=1.0)
    scene = cut_scene(cut, title="one", scale=10.0)
    (label,) = [mark for mark in scene.marks if isinstance(mark, Label)]
    assert label.at[0] + text_width(words, label.size_mm) / 1000 * 10 <= scene.bounds[2] + 1e-9


def test_a_wall_of_4_ft_has_6_in_of_base_4_in_buried_and_12_in_of_gravel() -> None:
    """allanblockblog.com, 2018: 6 in of base and 1 in buried a foot of wall, a trench of 10 in; 12 in of gravel behind:
    vitolilandscapedesign.com.
    """
    cut = built_details.wall_cut(4 * FOOT, units="imperial", scale=12.0)
    gravel, _, base, block = [
        mark.rings[0] for mark in cut.marks if isinstance(mark, Area) and mark.layer == "structure"
    ]
    assert base[2][1] - base[0][1] == pytest.approx(6 * INCH)
    assert base[0][1] == pytest.approx(-10 * INCH)  # the trench
    assert block[0][1] == pytest.approx(-4 * INCH) and block[2][1] == pytest.approx(4 * FOOT)
    assert gravel[1][0] - gravel[0][0] == pytest.approx(12 * INCH)
    assert gravel[0][1] == pytest.approx(block[0][1])
    said = " ".join(note.words for note in cut.notes)
    assert '12" behind' in said and '4" of it below' in said and "drain pipe" in said


def test_a_metric_garden_is_built_and_counted_in_round_millimetres() -> None:
    garden = Garden.open(EXAMPLES / "lantern_lane_strip")
    notes = [one.text for d in details.details(garden, 10.0) for one in d.scene.marks if isinstance(one, Label)]
    assert {"gravel, 75 mm deep", "crushed stone, compacted, 100 mm", "hole 270 mm wide, 1.25 m deep"} <= set(notes)
    assert not [note for note in notes if " cm" in note]
    (gravel,) = [one for one in garden.quantities if (one.where, one.item) == ("lane walk", "gravel")]
    assert gravel.amount == pytest.approx(gravel.area * 0.075)
    assert garden.say(gravel.rule) == "75 mm deep"
    listed = {what: rule for what, _, rule in drawing_set.built(garden)}
    assert listed["lane walk: gravel"] == "75 mm deep"
    assert listed["terrace: paving"] == "50 mm stone, joints not taken off"
    assert listed["lane walk: edging"].startswith("steel strip 3 mm by 125 mm unless you choose another; both sides")
    assert "edging, steel 3 mm by 125 mm, level with the surface" in notes
    assert "pond: pond liner with its underlay" in listed
    paved = next(amount for what, amount, _ in drawing_set.built(garden) if what == "terrace: paving")
    assert paved.endswith(" m²")  # a mason lays an area, whoever drives it here carries a weight


def test_wires_are_drawn_from_the_side_at_the_heights_they_are_bought_for() -> None:
    garden = Garden.open(EXAMPLES / "lantern_lane_strip")
    (wires,) = [one for one in garden.project.structure.supports if one.kind == "wall wires"]
    scene = support_scene(wires, units="metric", scale=50.0)
    (drawn,) = [mark for mark in scene.marks if isinstance(mark, Hatch)]
    heights = [f"{line[0][1]:.2f}" for line in drawn.lines]
    (part,) = [
        part for part in parts_list(wires, posts=PostChoice(units="metric")) if part.name.startswith("wire rope")
    ]
    assert part.note == f"at {', '.join(heights)} m"
    assert scene.title == f"scented wires: wall wires, at {', '.join(f'{high} m' for high in heights)}"
