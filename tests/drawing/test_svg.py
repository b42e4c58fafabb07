"""SVG output: well-formed, described, escaped, and true to scale when asked."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing.plan import plan_scene
from gardenkit.drawing.scene import Area, Disc, Dots, Hatch, Label, Scene, Stroke, Symbol, on_ground, on_paper, shifted
from gardenkit.drawing.svg import svg

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = ((0.0, 0.0), (1.2, 0.0), (1.2, 1.2), (0.0, 1.2))


def scene(*marks: object, scale: float = 48.0, title: str = "T", description: str = "D") -> Scene:
    return Scene(marks=marks, bounds=(-1.2, -2.4, 4.8, 3.6), title=title, description=description, scale=scale)  # type: ignore[arg-type]


def read(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def test_a_whole_plan_is_well_formed(garden) -> None:  # type: ignore[no-untyped-def]
    root = read(svg(plan_scene(title="Corner", **garden.parts())))
    assert root.tag == f"{SVG}svg"
    assert len(root.findall(f"{SVG}g")) >= 5


def test_the_picture_is_described_for_readers_who_cannot_see_it(garden) -> None:  # type: ignore[no-untyped-def]
    root = read(svg(plan_scene(title="Corner", **garden.parts())))
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert root.get("role") == "img"
    assert title is not None
    assert description is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
    assert title.text == "Corner"
    for word in ("gate path", "South bed", "60 plants of 5 kinds", "Old apple", "20 degrees from north"):
        assert word in (description.text or "")


@settings(max_examples=60)
@given(st.text(max_size=30), st.text(max_size=30), st.text(min_size=1, max_size=30))
def test_any_text_a_designer_types_is_escaped(title: str, description: str, name: str) -> None:
    marks = (
        Label(at=(0, 0), text=name),
        Symbol(marks=(Disc(at=(0, 0), radius=1),), tip=name),
        Area(rings=(SQUARE,), fill="#ffffff", tip=name),
    )
    root = read(svg(scene(*marks, title=title, description=description)))
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {
        "svg",
        "title",
        "desc",
        "rect",
        "g",
        "text",
        "circle",
        "path",
    }


def test_a_bed_named_like_markup_stays_words() -> None:
    text = svg(scene(Label(at=(0, 0), text='<script>alert("x")</script> & Söhne')))
    assert "<script" not in text
    found = read(text).find(f".//{SVG}text")
    assert found is not None
    assert found.text == '<script>alert("x")</script> & Söhne'


def test_it_fills_the_page_by_default_and_measures_true_when_asked() -> None:
    """6.0 m at 1/4 in = 1 ft (1 : 48) is 125 mm on the sheet."""
    assert read(svg(scene())).get("width") == "100%"
    exact = read(svg(scene(), exact=True))
    assert (exact.get("width"), exact.get("height")) == ("125.00mm", "125.00mm")
    assert exact.get("viewBox") == "0 0 125 125"


def corners_of(path: str) -> list[list[tuple[float, float]]]:
    """The corners of each part of a path of ``M``, ``m``, ``l``, ``h`` and ``Z``, as the standard has them read."""
    x = y = 0.0
    parts: list[list[tuple[float, float]]] = []
    for command, numbers in re.findall(r"([MmlhZ])([^MmlhZ]*)", path):
        values = [float(number) for number in re.findall(r"-?\d*\.?\d+", numbers)]
        if command == "h":
            values = [values[0], 0.0]
        if command in "Mm":
            parts.append([])
        for dx, dy in zip(values[::2], values[1::2], strict=True):
            x, y = (dx, dy) if command == "M" else (x + dx, y + dy)
            parts[-1].append((round(x, 6), round(y, 6)))
    return parts


def test_a_long_line_of_short_steps_does_not_drift() -> None:
    points = tuple((0.00317 * i, 0.00713 * (i % 7)) for i in range(900))
    path = read(svg(scene(Stroke(points=points, colour="#111111")))).find(f".//{SVG}path")
    assert path is not None
    (corners,) = corners_of(path.get("d") or "")
    assert len(corners) == 900
    for (x, y), (left, up) in zip(corners, points, strict=True):
        assert x == pytest.approx(1000 * (left + 1.2) / 48, abs=0.0051)
        assert y == pytest.approx(1000 * (3.6 - up) / 48, abs=0.0051)


def test_dots_lie_where_they_should_and_are_as_wide() -> None:
    path = read(svg(scene(Dots(points=SQUARE, radius=0.1, fill="#444444")))).find(f".//{SVG}path")
    assert path is not None
    assert path.get("stroke-linecap", "round") == "round"  # as the whole drawing has it
    assert float(path.get("stroke-width") or 0) == pytest.approx(2 * 100 / 48, abs=0.0051)
    firsts = [part[0] for part in corners_of(path.get("d") or "")]
    assert firsts == [pytest.approx((1000 * (x + 1.2) / 48, 1000 * (3.6 - y) / 48), abs=0.0051) for x, y in SQUARE]


@pytest.mark.parametrize(("scale", "side_mm"), [(48.0, 25.0), (96.0, 12.5), (50.0, 24.0), (100.0, 12.0)])
def test_a_square_of_1_2_m_is_drawn_to_scale(scale: float, side_mm: float) -> None:
    path = read(svg(scene(Area(rings=(SQUARE,), fill="#ffffff"), scale=scale))).find(f".//{SVG}path")
    assert path is not None
    (corners,) = corners_of(path.get("d") or "")
    xs = [x for x, _ in corners]
    assert max(xs) - min(xs) == pytest.approx(side_mm, abs=0.011)


def test_up_on_the_plan_is_up_on_the_sheet() -> None:
    low, high = (read(svg(scene(Disc(at=(0, y), radius=0.1)))).find(f".//{SVG}circle") for y in (0.0, 2.0))
    assert low is not None
    assert high is not None
    assert float(high.get("cy") or 0) < float(low.get("cy") or 0)


def test_every_kind_of_mark_is_drawn() -> None:
    marks = (
        Area(rings=(SQUARE,), fill="#aabbcc", stroke="#000000", dash=(1.0, 1.0), alpha=0.5),
        Stroke(points=SQUARE, colour="#111111"),
        Hatch(lines=(SQUARE[:2], SQUARE[2:]), colour="#222222"),
        Disc(at=(0, 0), radius=0.5, stroke="#333333"),
        Dots(points=SQUARE, radius=0.1, fill="#444444"),
        Label(at=(0, 0), text="words", turn=30.0, bold=True, italic=True, halo="#ffffff", anchor="end"),
    )
    text = svg(scene(*marks))
    assert all(colour in text for colour in ("#aabbcc", "#111111", "#222222", "#333333", "#444444"))
    assert (text.count("<circle"), text.count("h.01")) == (1, 4)
    assert 'stroke-dasharray="1 1"' in text
    assert "rotate(30 25 75)" in text


def test_layers_are_painted_from_the_ground_up() -> None:
    marks = [Label(at=(0, 0), text="a"), Disc(at=(0, 0), radius=1, layer="planting"), Disc(at=(0, 0), radius=1)]
    groups = [g.get("class") for g in read(svg(scene(*marks))).findall(f"{SVG}g")]
    assert groups == ["ground", "planting", "labels"]


def test_two_different_drawings_on_a_page_have_different_ids() -> None:
    ids = {read(svg(scene(title=title))).find(f"{SVG}title").get("id") for title in ("June", "July")}  # type: ignore[union-attr]
    assert len(ids) == 2


def test_paper_and_ground_lengths_are_each_others_inverse() -> None:
    assert on_paper(1.2, 48) == pytest.approx(25.0)
    assert on_ground(25.0, 48) == pytest.approx(1.2)


def test_shifting_moves_every_kind_of_mark() -> None:
    marks = [
        Symbol(marks=(Disc(at=(0, 0), radius=1), Area(rings=(SQUARE,)))),
        Hatch(lines=(SQUARE,), colour="#000000"),
        Dots(points=SQUARE, radius=1, fill="#000000"),
        Label(at=(0, 0), text="a"),
    ]
    symbol, hatch, dots, label = shifted(marks, (2.0, 3.0))
    assert isinstance(symbol, Symbol)
    assert symbol.marks[0] == Disc(at=(2.0, 3.0), radius=1)
    assert isinstance(hatch, Hatch)
    assert hatch.lines[0][2] == (3.2, 4.2)
    assert isinstance(dots, Dots)
    assert dots.points[0] == (2.0, 3.0)
    assert isinstance(label, Label)
    assert label.at == (2.0, 3.0)
