"""The designer's own photo, worked as a designer would: taken in, marked, its camera found, the design drawn in."""

import html
import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from gardenkit.geometry.plane import Point
from gardenkit.notebook import workbook
from gardenkit.notebook.pages.own_photo import OwnPhotoPage
from gardenkit.notebook.pages.own_photo_marks import ANYTHING, OWN
from gardenkit.notebook.session import Session
from gardenkit.project import Project
from gardenkit.project.edits import photos as edits
from gardenkit.project.edits import site as site_edits
from gardenkit.project.photo_spots import spots
from gardenkit.site.photo_camera import Pose, pixels_of
from gardenkit.site.site_photos import PhotoMark

SIZE = (640, 480)
POSE = Pose(eye=(7.9, 0.4, 1.25), towards=0.0, lean=-5.0, roll=1.0, angle=68.0)  # inside the gate of Fennel Street


@pytest.fixture
def page(garden: Session) -> OwnPhotoPage:
    page: OwnPhotoPage = workbook.page(garden, "own_photo")
    held = io.BytesIO()
    Image.new("RGB", SIZE, "#8fa0b0").save(held, "PNG")
    page.photo.take([{"name": "From the gate.PNG", "content": held.getvalue()}])
    assert page.failures == []
    return page


def visible(page: OwnPhotoPage, *, most: int = 7) -> list[tuple[str, Point]]:
    """Return what stands in the frame with its pixels right and down, as the made-up camera sees it."""
    known = spots(page.project)
    seen = pixels_of(POSE, SIZE, np.array(list(known.values()))).tolist()
    inside = [(n, (x, y)) for n, (x, y) in zip(known, seen, strict=True) if 20 < x < 620 and 20 < y < 460]
    return inside[:: max(1, len(inside) // most)][:most]


def marked(page: OwnPhotoPage) -> list[str]:
    """Mark what stands in the frame in one go; returns the names."""
    known, chosen = spots(page.project), visible(page)

    def change(project: Project) -> Project:
        for name, pixel in chosen:
            mark = PhotoMark(name=name, pixel=pixel, at=known[name][:2], height=known[name][2])
            project = edits.mark_photo(project, project.site.photos[0].name, mark)
        return project

    assert page.edit("mark", change)
    return [name for name, _ in chosen]


def test_a_photo_is_marked_by_clicks_and_its_camera_is_said(page: OwnPhotoPage) -> None:
    assert "has 0 marks" in html.unescape(page.marking.list.value)
    for name, (x, y) in visible(page):
        page.marking.place.show(name)
        page.marking.click((x, SIZE[1] - y))  # the photo's drawing counts upwards
    assert page.failures == [] and page.photo.found is not None, page.message.value
    assert page.photo.found.pose.eye == pytest.approx(POSE.eye, abs=0.02)
    assert [mark.name for mark in page.project.site.photos[0].marks] == [name for name, _ in visible(page)]
    assert "7 marks fit to 0.0 pixels" in page.summary()
    file = page.session.folder / "site_photos" / page.project.site.photos[0].file
    assert file.exists()


def test_a_mark_is_dragged_taken_away_and_undone(page: OwnPhotoPage) -> None:
    names = marked(page)
    page.drop(f"mark:{names[0]}", (100.0, 80.0))
    assert page.project.site.photos[0].marks[0].pixel == (100.0, 400.0)
    page.undo()
    page.marking.place.show(names[-1])
    page.marking.remove()
    assert [mark.name for mark in page.project.site.photos[0].marks] == names[:-1]
    assert page.failures == []


def test_a_place_of_ones_own_is_taken_from_a_click_on_the_plan(page: OwnPhotoPage) -> None:
    page.marking.take_from_plan((3.0, 9.0))
    page.marking.own.fill(name="lamp post, top", height="2 m")
    assert page.marking.place.bar.value == OWN
    page.marking.click((200.0, 300.0))
    (mark,) = page.project.site.photos[0].marks
    assert (mark.name, mark.height, mark.pixel) == ("lamp post, top", 2.0, (200.0, 180.0))
    assert mark.at == pytest.approx((3.0, 9.0), abs=0.01)


def test_what_stands_in_front_is_outlined_and_follows_the_name_of_its_tree(page: OwnPhotoPage) -> None:
    tree = next(tree.name for tree in page.project.site.trees if tree.keep)
    page.marking.does.show(ANYTHING)
    page.marking.tree.show(tree)
    for at in ((10.0, 300.0), (120.0, 470.0), (200.0, 320.0)):
        page.marking.click(at)
    page.marking.close()
    page.edit("rename", lambda p: site_edits.rename_thing(p, tree, to="the old tree"))
    (front,) = page.project.site.photos[0].in_front
    assert front.of == "the old tree" and front.ring[0] == (10.0, 180.0)
    assert not page.edit("remove", lambda p: site_edits.remove_thing(p, "the old tree"))
    assert "outlined on photo" in page.message.value
    assert page.failures == []


def test_before_and_after_stand_under_one_slider_and_a_lost_file_is_one_sentence(page: OwnPhotoPage) -> None:
    page.drawn.look()
    assert "mark at least 4 places" in page.message.value
    marked(page)
    page.drawn.look()
    shown = page.drawn.picture.value
    assert page.failures == [] and shown.count("data:image/webp;base64,") == 2 and 'type="range"' in shown
    Path(page.photo.path(page.photo.needed())).unlink()
    page.drawn.year.bar.value = 9.0
    page.drawn.look()
    assert "add it there" in page.message.value and page.failures == []
