"""The design drawn into a photo: of its true size at its true place, behind what stands there, with its shadow."""

import math

import attrs
import numpy as np
import pytest
from PIL import Image

from gardenkit.drawing.painted.picture import Quality, paint
from gardenkit.drawing.painted_view import Moment, Prospect, subject_of
from gardenkit.drawing.photo_view import InPhoto, in_photo, photo_stage, under_one_slider
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.site.photo_camera import Pose, pixels_of
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.site.site_photos import InFront, PhotoMark, SitePhoto
from gardenkit.structure.structure import Structure, Thing

CATALOGUE = load_catalogue()
SIZE = (400, 300)
POSE = Pose(eye=(0.3, -2.0, 1.6), towards=4.0, lean=-6.0, roll=2.0, angle=66.0)
HOUSE = Building(name="house", outline=((-9.0, 9.0), (-2.0, 9.0), (-2.0, 14.0), (-9.0, 14.0)), roof="flat")
WALL = Fence(name="garden wall", line=((-1.0, 6.0), (1.4, 6.0)), height=1.0)
SITE = Site(
    boundary=((-10.0, -3.0), (10.0, -3.0), (10.0, 20.0), (-10.0, 20.0)),
    place=Place(name="Greenwich", latitude=51.4769, longitude=0.0, timezone="Europe/London"),
    buildings=(HOUSE,),
    fences=(WALL,),
)
BED = Thing(name="box", kind="raised bed", at=(2.6, 7.0), width=1.6, depth=1.0, height=0.6, facing=0.0)
WHEN = Moment(year=0, month=6, hour=12.0)
SPOTS = {
    "house, left foot": (-9.0, 9.0, 0.0),
    "house, right foot": (-2.0, 9.0, 0.0),
    "house, right eaves": (-2.0, 9.0, 2.7),
    "house, left eaves": (-9.0, 9.0, 2.7),
    "wall, left foot": (-1.0, 6.0, 0.0),
    "wall, right top": (1.4, 6.0, 1.0),
    "post in the lawn": (3.0, 3.0, 0.4),
}


def project(*things: Thing, site: Site = SITE) -> Project:
    return Project(name="Invented plot", site=site, structure=Structure(things=things))


@pytest.fixture(scope="module")
def photo() -> Image.Image:
    """The place as it is, rendered from a made-up camera."""
    as_found = project()
    worked = layout(as_found)
    scene = photo_stage(as_found, worked, POSE, SIZE, WHEN)
    subject = subject_of(Prospect(project=as_found, worked=worked, catalogue=CATALOGUE), scene, WHEN, None)
    return Image.fromarray(paint(subject, Quality(across=SIZE[0], finer=1.0)).pixels)


def taken(*in_front: InFront) -> SitePhoto:
    seen = pixels_of(POSE, SIZE, np.array(list(SPOTS.values()))).tolist()
    marks = tuple(
        PhotoMark(name=name, pixel=(x, y), at=spot[:2], height=spot[2])
        for (name, spot), (x, y) in zip(SPOTS.items(), seen, strict=True)
    )
    return SitePhoto(name="lawn", file="lawn.jpg", wide=SIZE[0], high=SIZE[1], marks=marks, in_front=in_front)


def drawn(photo: Image.Image, *things: Thing, site: Site = SITE, in_front: tuple[InFront, ...] = ()) -> InPhoto:
    made = project(*things, site=site)
    return in_photo(made, layout(made), CATALOGUE, photo=taken(*in_front), picture=photo, when=WHEN, most=SIZE[0])


def corners(thing: Thing) -> np.ndarray:
    """Return where the formula of the pinhole camera puts the corners of a box (8, 2): written out once more here."""
    (x, y), (w, d) = thing.at, (thing.width / 2, thing.depth / 2)
    focal = SIZE[0] / 2 / math.tan(math.radians(POSE.angle / 2))
    t, p, r = (math.radians(v) for v in (POSE.towards, POSE.lean, POSE.roll))
    found = []
    for dx, dy, h in ((a, b, c) for a in (-w, w) for b in (-d, d) for c in (0.0, thing.height)):
        e, n, z = x + dx - POSE.eye[0], y + dy - POSE.eye[1], h - POSE.eye[2]
        right, level = e * math.cos(t) - n * math.sin(t), e * math.sin(t) + n * math.cos(t)
        ahead, up = level * math.cos(p) + z * math.sin(p), z * math.cos(p) - level * math.sin(p)
        across, over = right * math.cos(r) - up * math.sin(r), right * math.sin(r) + up * math.cos(r)
        found.append((SIZE[0] / 2 + focal * across / ahead, SIZE[1] / 2 - focal * over / ahead))
    return np.array(found)


def test_a_box_of_known_size_is_drawn_where_the_formula_puts_it(photo: Image.Image) -> None:
    made = drawn(photo, BED)
    rows, columns = np.nonzero(made.share > 0.5)
    want = corners(BED)
    assert (columns.min(), columns.max() + 1) == pytest.approx((want[:, 0].min(), want[:, 0].max()), abs=2.0)
    assert (rows.min(), rows.max() + 1) == pytest.approx((want[:, 1].min(), want[:, 1].max()), abs=2.0)
    same = (made.share == 0) & (np.indices(made.share.shape)[0] < rows.min() - 2)
    assert (made.after[same] == made.before[same]).all()  # sky and house stay the photo's own


def test_it_is_hidden_behind_the_wall_and_the_house(photo: Image.Image) -> None:
    behind_house = attrs.evolve(BED, at=(-6.0, 16.0))
    assert drawn(photo, behind_house).share.max() == 0.0
    behind_wall = drawn(photo, attrs.evolve(BED, at=(0.2, 7.0), height=1.8)).share
    left, right = pixels_of(POSE, SIZE, np.array([(0.0, 6.0, 0.5), (0.0, 6.0, 1.25)])).round().astype(int)
    assert behind_wall[left[1], left[0]] == 0.0 and behind_wall[right[1], right[0]] == 1.0


def test_its_shadow_darkens_the_photo_and_nothing_else_does(photo: Image.Image) -> None:
    tall = attrs.evolve(BED, height=1.8)
    made = drawn(photo, tall)
    sunny = pixels_of(POSE, SIZE, np.array([(1.0, 7.5, 0.0)]))[0].astype(int)  # to the side of it
    light = made.after.mean(axis=2) / np.maximum(made.before.mean(axis=2), 1.0)
    assert light[sunny[1], sunny[0]] == pytest.approx(1.0, abs=0.05)
    assert (light[made.share == 0] < 0.8).sum() > 20
    assert (light[made.share == 0] <= 1.08).all()


def test_an_outlined_tree_hides_what_is_beyond_it_and_not_what_is_before_it(photo: Image.Image) -> None:
    tree = ExistingTree(name="old pear", at=(2.4, 4.0), height=5.0, spread=3.0)
    site = attrs.evolve(SITE, trees=(tree,))
    everywhere = ((0, 0), (400, 0), (400, 300), (0, 300))
    outline = (InFront(ring=everywhere, of="old pear"),)
    assert drawn(photo, BED, site=site, in_front=outline).share.max() == 0.0
    before = attrs.evolve(BED, at=(2.0, 2.4))
    assert drawn(photo, before, site=site, in_front=outline).share.max() == 1.0
    assert drawn(photo, BED, in_front=(InFront(ring=everywhere),)).share.max() == 0.0


def test_before_and_after_are_one_picture_with_a_slider_and_escaped_words(photo: Image.Image) -> None:
    html = under_one_slider(drawn(photo, BED), 'the "lawn" <now>')
    assert html.count("<img") == 2 and "&lt;now&gt;" in html and "<now>" not in html
