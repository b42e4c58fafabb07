"""A photo of a wall taken from the side, drawn with a window whose place is known, worked as a designer would."""

import html
import io
import math
from pathlib import Path

import attrs
import numpy as np
import pytest
from PIL import Image, ImageDraw

from gardenkit import storage
from gardenkit.front import making
from gardenkit.geometry.plane import Point
from gardenkit.notebook import workbook
from gardenkit.notebook.pages.wall_known import KNOWN
from gardenkit.notebook.pages.wall_photo import WallPhotoPage
from gardenkit.notebook.session import Session
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.site.heights import SpotHeight
from gardenkit.site.wall_sides import held_by, side_of, sides
from gardenkit.storage import PICTURES_FOLDER
from gardenkit.structure.structure import Structure

WALL = ("house", 4)  # of the Fennel Street example: the north wall, 8.2296 m, eaves 2.9 m; nothing is on it
LONG, EAVES = 8.2296, 2.9
GARAGE = (4.0, 0.0, 7.0, 2.1)  # m: left, foot, right, top of the rectangle that was measured
WINDOW = (1.2, 0.9, 2.7, 2.2)  # m: the window to be found
SIZE = (1500, 1000)
WALL_COLOUR, GARAGE_COLOUR, WINDOW_COLOUR = (200, 190, 170), (120, 40, 40), (20, 40, 120)


def seen(at: Point) -> Point:
    """Return the pixel of a place on the wall for a pinhole camera 8 m off, at 1.5 m height, turned 25 degrees."""
    turn, away, eye, focal, centre = math.radians(25), 8.0, (4.1, 1.5), 950.0, (1300, 500)
    x, y = at[0] - eye[0], at[1] - eye[1]
    right, ahead = x * math.cos(turn) - away * math.sin(turn), x * math.sin(turn) + away * math.cos(turn)
    return (centre[0] + focal * right / ahead, centre[1] - focal * y / ahead)


def ring(box: tuple[float, float, float, float]) -> list[Point]:
    x1, y1, x2, y2 = box
    return [seen(at) for at in ((x1, y1), (x2, y1), (x2, y2), (x1, y2))]


@pytest.fixture(scope="module")
def photo() -> bytes:
    picture = Image.new("RGB", SIZE, "#9fc0e0")
    pen = ImageDraw.Draw(picture)
    for box, colour in (((0, 0, LONG, EAVES), WALL_COLOUR), (GARAGE, GARAGE_COLOUR), (WINDOW, WINDOW_COLOUR)):
        pen.polygon(ring(box), fill=colour)
    held = io.BytesIO()
    picture.save(held, "PNG")
    return held.getvalue()


@pytest.fixture
def page(garden: Session, photo: bytes) -> WallPhotoPage:
    """The page with the wall chosen, the photo taken and A B C D dragged onto the garage's corners."""
    page = WallPhotoPage(garden)
    page.wall.walls.bar.value = WALL
    page.photo.take([{"name": "North wall.PNG", "content": photo}])
    page.wall.foot.bar.value = "0"
    put(page, ring(GARAGE))
    page.straight.known.rectangle.fill(width="3 m", height="2.1 m", at="4 m, 0 m")
    page.straight.straighten()
    assert page.failures == []
    return page


def put(page: WallPhotoPage, pixels: list[Point]) -> None:
    for key, (x, y) in zip("ABCD", pixels, strict=True):
        page.drop(f"corner:{key}", (x, SIZE[1] - y))


def mark(page: WallPhotoPage, box: tuple[float, float, float, float]) -> None:
    page.drop("mark:1", box[:2])
    page.drop("mark:2", box[2:])


def said(page: WallPhotoPage) -> str:
    return html.unescape(page.message.value)


def refused(page: WallPhotoPage, before: object, words: str) -> None:
    assert words in said(page)
    assert 'role="alert"' in said(page)
    assert page.project == before
    assert page.failures == []


def straightened_picture(page: WallPhotoPage) -> np.ndarray:
    import base64

    url = page.straight.under.data["url"][0]
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(url.split(",")[1]))).convert("RGB"), dtype=float)


def coloured(page: WallPhotoPage, colour: tuple[int, int, int]) -> tuple[float, float, float, float]:
    """Return the rectangle of a colour on the straightened picture, in metres as the page lays it on the wall."""
    picture, under = straightened_picture(page), page.straight.under.data
    rows, columns = np.nonzero(np.abs(picture - np.array(colour)).sum(axis=2) < 60)
    wide, high = under["w"][0], under["h"][0]
    left, top = under["x"][0] - wide / 2, under["y"][0] + high / 2
    dx, dy = wide / picture.shape[1], high / picture.shape[0]
    low, high_up = top - (rows.max() + 1) * dy, top - rows.min() * dy
    return (left + columns.min() * dx, low, left + (columns.max() + 1) * dx, high_up)


def test_the_window_of_a_slanting_photo_is_straightened_onto_its_true_place(page: WallPhotoPage) -> None:
    assert coloured(page, WINDOW_COLOUR) == pytest.approx(WINDOW, abs=0.02)  # a pixel of the drawing is 1.7 cm
    assert coloured(page, GARAGE_COLOUR) == pytest.approx(GARAGE, abs=0.02)


def test_a_window_marked_where_the_photo_shows_it_is_stored_within_a_centimetre(page: WallPhotoPage) -> None:
    x1, y1, x2, y2 = WINDOW
    assert page.straight.square is not None
    low, high = page.straight.square.to_wall(seen((x1, y1))), page.straight.square.to_wall(seen((x2, y2)))
    mark(page, (*low, *high))
    page.mark.name.bar.value = "larder window"
    page.mark.add()
    assert page.failures == []
    new = page.project.site.opening("larder window")
    assert (new.kind, new.on) == ("window", "house")
    assert (new.sill, new.head) == pytest.approx((0.9, 2.2), abs=0.01)
    # the north wall runs from (8.2296, 18.288) to (0, 18.288), left to right from outside
    assert new.start == pytest.approx((LONG - 1.2, 18.288), abs=0.01)
    assert new.end == pytest.approx((LONG - 2.7, 18.288), abs=0.01)
    saved = storage.load(page.session.folder).project.site.openings[-1]
    assert saved.name == "larder window"
    assert saved.start == pytest.approx(new.start, abs=1e-3)  # files are written to the millimetre or finer


def test_the_walls_own_corners_pointed_at_to_the_nearest_pixel_give_the_window_within_a_centimetre(
    page: WallPhotoPage,
) -> None:
    page.straight.known.rectangle.fill(width=f"{LONG} m", height=f"{EAVES} m", at="0, 0")
    put(page, [(round(x), round(y)) for x, y in ring((0, 0, LONG, EAVES))])
    assert page.straight.square is not None
    for at in ((1.2, 0.9), (2.7, 0.9), (2.7, 2.2), (1.2, 2.2)):
        assert page.straight.square.to_wall(seen(at)) == pytest.approx(at, abs=0.01)


def test_four_measured_points_give_the_same_wall_as_a_rectangle(page: WallPhotoPage) -> None:
    corners = [(0.0, 0.0), (7.0, 0.0), (2.7, 2.2), (0.0, EAVES)]
    page.straight.known.which.bar.value = KNOWN[1]
    page.straight.known.four.fill(**{k: f"{x} m, {y} m" for k, (x, y) in zip("abcd", corners, strict=True)})
    put(page, [seen(at) for at in corners])
    assert page.straight.square is not None
    assert page.straight.square.to_wall(seen((1.2, 0.9))) == pytest.approx((1.2, 0.9), abs=1e-6)
    assert coloured(page, WINDOW_COLOUR) == pytest.approx(WINDOW, abs=0.02)


def test_what_was_stored_is_said_in_the_gardens_own_units_and_undone_in_one_step(page: WallPhotoPage) -> None:
    before = page.project
    mark(page, (0.3048, 0.9144, 1.524, 2.1336))
    rows = dict(page.mark.rows())
    assert (rows["width"], rows["from the wall's left end"]) == ("4' 0\"", "1' 0\"")
    page.mark.name.bar.value = "larder window"
    page.mark.add()
    assert "4' 0\" wide, sill at 3' 0\", head at 7' 0\"" in said(page)
    page.undo()
    assert page.project == before


def test_heights_count_from_the_measured_ground_at_the_walls_foot(garden: Session, photo: bytes) -> None:
    ground = (SpotHeight(at=(0.0, 18.0), height=-0.4), SpotHeight(at=(8.0, 18.0), height=-0.4))
    garden.edit("heights", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, heights=ground)))
    page = WallPhotoPage(garden)
    page.wall.walls.bar.value = WALL
    assert page.wall.foot.bar.value == "-1' 3½\""
    page.wall.foot.bar.value = "-0.4 m"
    page.photo.take([{"name": "n.png", "content": photo}])
    page.straight.known.rectangle.fill(width="3 m", height="2.1 m", at="4 m, 0 m")
    put(page, ring(GARAGE))
    mark(page, WINDOW)
    page.mark.name.bar.value = "larder window"
    page.mark.add()
    new = page.project.site.opening("larder window")
    assert (new.sill, new.head) == pytest.approx((0.5, 1.8), abs=1e-6)


def test_each_photo_keeps_its_four_points_while_the_page_is_open_and_none_are_saved(
    page: WallPhotoPage, photo: bytes
) -> None:
    mine, before = page.photo.corners(), page.project
    page.photo.take([{"name": "other.png", "content": photo}])
    assert page.photo.corners() != mine
    page.photo.photos.bar.value = "north_wall.jpg"
    assert page.photo.corners() == mine
    assert page.project == before
    assert page.failures == []


def test_a_wall_starts_at_its_left_end_seen_from_outside(garden: Session) -> None:
    site = garden.project.site
    kitchen = next(s for s in sides(site) if s.start == (4.8768, 13.4112))
    assert held_by(site, kitchen, foot=0.0)[0][1][0] == pytest.approx(5.7912 - 4.8768)
    assert [s.faces for s in sides(site) if s.number in (0, WALL[1])] == pytest.approx(
        [(180 + site.y_bearing) % 360, site.y_bearing]
    )


def test_a_file_that_is_no_photo_is_refused_and_not_kept(page: WallPhotoPage) -> None:
    before, folder = page.project, page.session.folder / PICTURES_FOLDER
    kept = sorted(folder.iterdir())
    page.photo.take([{"name": "wall.jpg", "content": b"a shopping list"}])
    refused(page, before, "wall.jpg is not a picture that can be read")
    assert sorted(folder.iterdir()) == kept


@pytest.mark.parametrize(
    ("moved", "words"),
    [
        ({"B": (0.5, 0.5), "A": (0.25, 0.25), "C": (0.75, 0.75)}, "lie in a line"),
        ({"A": (0.75, 0.25), "B": (0.25, 0.25), "C": (0.75, 0.75), "D": (0.25, 0.75)}, "not in order"),
        ({"A": (0.25, 0.25), "B": (0.25, 0.75), "C": (0.75, 0.75), "D": (0.75, 0.25)}, "the other way"),
    ],
)
def test_points_in_a_line_or_out_of_order_are_refused_and_leave_nothing_to_mark(
    page: WallPhotoPage, moved: dict[str, Point], words: str
) -> None:
    before = page.project
    for key, (x, y) in moved.items():
        page.drop(f"corner:{key}", (x * SIZE[0], y * SIZE[1]))
    page.straight.straighten()
    refused(page, before, words)
    assert page.straight.under.data["url"] == []
    page.mark.name.bar.value = "larder window"
    page.mark.add()
    refused(page, before, "straighten the photo first")
    put(page, ring(GARAGE))
    assert page.straight.square is not None


@pytest.mark.parametrize(
    ("box", "name", "words"),
    [
        ((7.5, 0.9, 8.9, 2.0), "larder window", "beyond the right end of the wall"),
        ((-0.5, 0.9, 1.0, 2.0), "larder window", "1' 7½\" beyond the left end of the wall"),
        ((1.0, -0.3, 2.0, 2.0), "larder window", "beyond the foot of the wall"),
        ((1.0, 0.9, 2.0, 3.4), "larder window", "beyond the top of the wall"),
        ((1.0, 0.9, 1.005, 2.0), "larder window", "has no size"),
        (WINDOW, "side door", 'called "side door" already'),
        (WINDOW, " ", "has no name"),
    ],
)
def test_marks_that_cannot_be_are_refused(
    page: WallPhotoPage, box: tuple[float, float, float, float], name: str, words: str
) -> None:
    before = page.project
    mark(page, box)
    page.mark.name.bar.value = name
    page.mark.add()
    refused(page, before, words)


def test_a_mark_a_little_over_the_edge_is_pulled_onto_the_wall(page: WallPhotoPage) -> None:
    mark(page, (0.5, -0.03, 1.4, 2.0))
    page.mark.name.bar.value = "cellar door"
    page.mark.kind.bar.value = "door"
    page.mark.add()
    door = page.project.site.opening("cellar door")
    assert (door.kind, door.sill) == ("door", pytest.approx(0.0, abs=1e-9))


def test_one_window_is_not_put_over_another(page: WallPhotoPage) -> None:
    mark(page, WINDOW)
    page.mark.name.bar.value = "larder window"
    page.mark.add()
    before = page.project
    page.mark.name.bar.value = "pantry window"
    page.mark.add()
    refused(page, before, 'lies over "larder window"')


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"width": "wide"}, 'cannot read the length "wide"'),
        ({"width": "0"}, "has no size"),
        ({"height": ""}, "the rectangle's height"),
        ({"at": "4 m"}, "not a place"),
    ],
)
def test_lengths_that_cannot_be_read_are_named(page: WallPhotoPage, texts: dict[str, str], words: str) -> None:
    before = page.project
    page.straight.known.rectangle.fill(**texts)
    page.straight.straighten()
    refused(page, before, words)


def test_a_mark_outside_the_four_points_is_called_less_sure(page: WallPhotoPage) -> None:
    mark(page, WINDOW)
    assert "outside A B C D" in page.mark.findings()[0].what
    mark(page, (4.5, 0.5, 6.0, 2.0))
    assert all("outside A B C D" not in f.what for f in page.mark.findings())


def test_a_wall_taken_off_the_record_elsewhere_leaves_the_page_standing(page: WallPhotoPage) -> None:
    def bare(project: Project) -> Project:
        site = attrs.evolve(project.site, buildings=(), openings=())
        brief = attrs.evolve(project.brief, wants=())  # some ask for things of the site
        made = attrs.evolve(project, site=site, structure=Structure(), planting=Planting(), brief=brief)
        return attrs.evolve(made, alternatives=())

    page.session.edit("house", bare)
    assert page.failures == []
    assert page.wall.chosen is None
    page.straight.straighten()
    refused(page, page.project, "no wall is chosen")


def test_an_empty_garden_is_told_to_add_the_house_first(tmp_path: Path) -> None:
    making.new(tmp_path / "empty", name="Trial plot")
    page = workbook.page(Session(tmp_path / "empty"), "wall_photo")
    assert page.failures == []
    assert "Add the house" in page.scene().title
    page.mark.add()
    assert "straighten the photo first" in said(page)


def test_the_page_says_in_words_what_is_marked(page: WallPhotoPage) -> None:
    mark(page, (0.3048, 0.9144, 1.524, 2.1336))
    assert "width: 4' 0\"" in page.summary()
    assert "image/svg+xml" in page._repr_mimebundle_()
    assert side_of(page.project.site, *WALL).length == pytest.approx(LONG)
