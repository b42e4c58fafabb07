"""The parts of the wall photo page: which wall, its photo with four points, the straightened wall, the mark on it."""

from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import ipywidgets as w

from gardenkit.brief.pictures import add_picture
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms, wall_pictures
from gardenkit.notebook.pages.scan import no_picture
from gardenkit.notebook.pages.wall_known import KnownPoints
from gardenkit.notebook.pages.wall_sides import wall_scene
from gardenkit.notebook.part import Part
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.project.solids import ground_height
from gardenkit.site.openings import OpeningKind
from gardenkit.site.tracing import Rectifier, picture_size, rectifier
from gardenkit.site.wall_sides import (
    Rectangle,
    Side,
    check_foot,
    first_mark,
    mark_advice,
    marked_opening,
    side_of,
    sides,
)
from gardenkit.storage import SITE_PHOTOS_FOLDER
from gardenkit.units import length, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.wall_photo import WallPhotoPage

CORNERS = "ABCD"
UNSAID = [("choose ...", None)]
STRAIGHTENED = (
    "the photo is straightened: its wall should fill the drawn edges. Now drag 1 to the lower left and 2 to the upper "
    "right of a window or door"
)
KEPT = "is kept with the photos of the site. Drag A, B, C and D onto four places of the wall that you have measured"


class WhichWall(Part):
    """The wall that the photo shows, and how high its foot lies."""

    page: "WallPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.chosen: tuple[str, int] | None = None  # building and number of its side
        self.walls = controls.choice("Wall", None, UNSAID, self.choose, name="wall")
        self.foot = controls.field("Foot of the wall above the plan's zero", "", self.measure, name="wall-foot")

    def refresh(self) -> None:
        """List the walls; one that is gone is let go of."""
        listed = sides(self.project.site)
        if self.chosen not in [(s.building, s.number) for s in listed]:
            self.chosen = None
            self.page.straight.forget()
        offered = [(s.words(self.project.units), (s.building, s.number)) for s in listed]
        forms.relist(self.walls, [*UNSAID, *offered], self.chosen)

    @handler
    def choose(self, wall: tuple[str, int] | None) -> None:
        """Take another wall; its foot is put on the measured ground."""
        self.chosen = wall
        self.page.straight.forget()
        if wall is not None:
            foot = ground_height(self.project.site)(self.side().start)
            self.foot.show(show_length(foot, self.project.units))
        self.page.straight.straighten_if_ready()
        self.page.redraw()

    @handler
    def measure(self, _: object) -> None:
        """Take another height of the foot."""
        self.page.redraw()

    def side(self) -> Side:
        """Return the chosen wall. Raises GardenError when none is chosen, or it is gone."""
        if self.chosen is None:
            raise GardenError("no wall is chosen; choose the wall that the photo shows")
        return side_of(self.project.site, *self.chosen)

    def foot_height(self) -> float:
        """Return the height of the wall's foot in metres. Raises GardenError for a length that cannot be read."""
        bare, text = forms.bare_unit(self.project.units), str(self.foot.bar.value).strip() or "0"
        return length(text, bare=bare, where="the foot of the wall", signed=True)


class Photo(Part):
    """A photo from the garden's site photos, or one that is added to them, with A B C D to be dragged onto it."""

    page: "WallPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.held: dict[Path, dict[str, Point]] = {}  # A B C D of every photo in pixels, while the page is open
        self.name: str | None = None
        self.size = (0, 0)  # in pixels
        self.photos = controls.choice("Photo", None, UNSAID, self.choose, name="wall-photo")
        self.upload = w.FileUpload(
            accept="image/*", multiple=False, description="Add a photo of the wall", layout=w.Layout(width="96%")
        )
        self.upload.observe(self._uploaded, "value")
        self.plan = wall_pictures.plan(self.scene())
        self.under = wall_pictures.under(self.plan)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.page.edited)

    def refresh(self) -> None:
        """List the photos in the garden's folder of site photos."""
        names = wall_pictures.photos_in(self.folder)
        if self.name not in names:
            self.name, self.under.data = None, no_picture()
            self.page.straight.square = None
        forms.relist(self.photos, [*UNSAID, *((name, name) for name in names)], self.name)

    @property
    def folder(self) -> Path:
        """The garden's folder of photos of the site."""
        return self.page.session.folder / SITE_PHOTOS_FOLDER

    @property
    def path(self) -> Path:
        """The file of the photo that is shown."""
        return self.folder / (self.name or "")

    @handler
    def choose(self, photo: str | None) -> None:
        """Show another photo from the garden's folder of site photos, with its four points as they were left."""
        self._show(photo)

    def take(self, files: Any) -> None:
        """Keep an uploaded photo in the garden's folder of site photos and show it."""
        for file in files:
            self._take(file["name"], bytes(file["content"]))

    def corners(self) -> dict[str, Point]:
        """Return A B C D of the photo that is shown, in pixels right and down; at first in the middle of it."""
        return self.held.get(self.path) or wall_pictures.first_corners(self.size)

    def drop(self, corner: str, at: Point) -> None:
        """Put one of A B C D at a place of the drawing, pixels right and up."""
        self.held[self.path] = self.corners() | {corner: wall_pictures.pixel_at(at, self.size)}

    def redraw(self) -> tuple[Handle, ...]:
        """Draw the lines over the photo again; returns the handles on it."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        handles = tuple(wall_pictures.corner_handles(self.corners() if self.name else {}, self.size[1]))
        self.plan.set_handles(handles)
        return handles

    def scene(self) -> Scene:
        """Return the lines over the photo."""
        if self.name is None:
            return wall_pictures.empty_scene("Add a photo of the wall: it is shown here")
        straight = self.page.straight
        return wall_pictures.photo_scene(self.size, self.corners(), straight.square, self.page.mark.place)

    @handler
    def _take(self, name: str, content: bytes) -> None:
        picture = add_picture(self.folder, name, content)
        self._show(picture.file)
        self.page.refresh()
        self.message.say(f"{picture.file} {KEPT}")

    def _show(self, photo: str | None) -> None:
        self.name, self.page.straight.square, self.under.data = None, None, no_picture()
        if photo is not None:
            self.size = picture_size(self.folder / photo)
            self.name = photo
            self.under.data = wall_pictures.photo_columns(self.path, self.size)
        self.page.straight.straighten_if_ready()
        self.page.redraw()

    def _uploaded(self, change: dict[str, Any]) -> None:
        if change["new"]:
            self.take(change["new"])
            self.upload.value = ()


class Straightened(Part):
    """Where the four points are on the wall; with that the photo is laid square under the drawn wall."""

    page: "WallPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.square: Rectifier | None = None
        self.points: tuple[Point, ...] = ()  # where A B C D are on the wall
        self.made_from: tuple[Any, ...] = ()  # what the straightened picture was made from
        self.known = KnownPoints(self.project.units)
        self.button = controls.button("Straighten the photo", self.straighten, name="straighten", width="96%")
        self.plan = wall_pictures.plan(self.scene())
        self.under = wall_pictures.under(self.plan)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.page.edited)

    def forget(self) -> None:
        """Let go of what belongs to another wall."""
        self.square = self.page.mark.place = None

    def straighten(self) -> None:
        """Make the photo square from the four points."""
        if self.attempt(self._straighten):
            self.message.say(STRAIGHTENED)
        self.attempt(self.page.redraw)

    def straighten_if_ready(self) -> None:
        """Make the photo square as soon as all that it takes is known."""
        if self.page.photo.name is not None and self.page.wall.chosen is not None and self.known.filled():
            self.attempt(self._straighten)

    def _straighten(self) -> None:
        self.square = None  # what is refused leaves no picture that looks true
        photo, side = self.page.photo, self.page.wall.side()
        if photo.name is None:
            raise GardenError("there is no photo yet; add a photo of the wall first")
        points, foot = self.known.points(), self.page.wall.foot_height()
        square = rectifier([photo.corners()[k] for k in CORNERS], points)
        check_foot(side, foot)
        self.square, self.points = square, points
        if self.page.mark.place is None:
            self.page.mark.place = first_mark(side, foot)

    def redraw(self) -> tuple[Handle, ...]:
        """Draw the wall again, the photo under it; returns the handles on it."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        handles = tuple(wall_pictures.mark_handles(self.page.mark.shown()))
        self.plan.set_handles(handles)
        photo = self.page.photo
        if self.square is None or photo.name is None:
            self.made_from, self.under.data = (), no_picture()
            return handles
        side, foot = self.page.wall.side(), self.page.wall.foot_height()
        made_from = (photo.path, tuple(photo.corners().values()), self.points, side, foot)
        if made_from != self.made_from:
            self.under.data = wall_pictures.straight_columns(photo.path, self.square, side, foot)
            self.made_from = made_from
        return handles

    def scene(self) -> Scene:
        """Return the wall seen square on."""
        wall = self.page.wall
        if wall.chosen is None:
            first = "Choose a wall" if self.project.site.buildings else "Add the house in the ground as found first"
            return wall_pictures.empty_scene(f"{first}: it is drawn here")
        site, units, mark = self.project.site, self.project.units, self.page.mark.shown()
        return wall_scene(site, wall.side(), foot=wall.foot_height(), units=units, mark=mark)


class Mark(Part):
    """A rectangle dragged over a window or door on the straightened wall, in figures, to be put on record."""

    page: "WallPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.place: Rectangle | None = None
        self.name = controls.field("Name", "", lambda _: None, name="wall-opening", hint="north window")
        self.kind = controls.choice("Kind", "window", ("window", "door"), lambda _: None, name="wall-kind")
        self.measures = w.HTML()
        self.advice = AdviceList(self.page, of_garden=False, more=self.findings)
        self.controls = [
            controls.label("Drag 1 and 2 on the straightened wall to the corners of a window or door."),
            self.name,
            self.kind,
            controls.button("Add this opening", self.add, name="add-opening", width="96%"),
        ]

    def refresh(self) -> None:
        """Show the mark in figures, and what to be careful about."""
        rows = self.rows()
        self.measures.value = controls.table_html(("the mark", ""), rows) if rows else ""
        self.advice.widget.layout.display = "" if rows else "none"
        self.advice.show()

    def shown(self) -> Rectangle | None:
        """Return the mark while there is a straightened wall to mark on."""
        return None if self.page.straight.square is None else self.place

    def drop(self, which: str, at: Point) -> None:
        """Put the lower left (1) or the upper right (2) of the mark, metres along the wall and up."""
        if self.place is not None:
            self.place = (*at, *self.place[2:]) if which == "1" else (*self.place[:2], *at)

    @handler
    def add(self) -> None:
        """Put the marked window or door on record."""
        square, mark, units = self.page.straight.square, self.place, self.project.units
        if square is None or mark is None:
            raise GardenError("there is no straightened photo to mark on yet; straighten the photo first")
        side, foot = self.page.wall.side(), self.page.wall.foot_height()
        name, kind = str(self.name.bar.value).strip(), cast("OpeningKind", self.kind.bar.value)

        def change(project: Project) -> Project:
            wall = side_of(project.site, side.building, side.number)
            opening = marked_opening(project.site, wall, square, mark, name=name, kind=kind, foot=foot, units=units)
            return edits.add_thing(project, opening)

        if self.edit(f"add {kind} {name} from a photo", change):
            self.name.show("")
            new = self.project.site.opening(name)
            width, sill, head = (show_length(v, units) for v in (new.width, new.sill, new.head))
            self.message.say(f'added {kind} "{name}": {width} wide, sill at {sill}, head at {head}')

    def rows(self) -> list[tuple[str, str]]:
        """Return the mark in figures, none before the photo is straightened."""
        square = self.page.straight.square
        if square is None or self.place is None:
            return []
        return wall_pictures.mark_rows(self.place, square, self.page.wall.foot_height(), self.project.units)

    def findings(self) -> tuple[Finding, ...]:
        """Return what to be careful about with the mark."""
        mark = self.shown()
        return () if mark is None else mark_advice(mark, self.page.straight.points)
