"""A photo of a wall made square from four measured points, so that its windows and doors can be marked on it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, cast

import ipywidgets as w

from gardenkit.brief.pictures import add_picture
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms, wall_pictures
from gardenkit.notebook.pages.scan import no_picture
from gardenkit.notebook.pages.wall_known import KnownPoints
from gardenkit.notebook.pages.wall_sides import Rectangle, Side, marked_opening, side_of, sides, wall_scene
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.project.solids import ground_height
from gardenkit.site.openings import OpeningKind
from gardenkit.site.tracing import Rectifier, picture_size, rectifier
from gardenkit.storage import PICTURES_FOLDER
from gardenkit.units import length, show_length

CORNERS = "ABCD"
UNSAID = [("choose ...", None)]


class WallPhotoPage(Page):
    """Steps in the panel left; the photo with A B C D, and beside it the straightened wall with a mark to drag."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.held: dict[Path, dict[str, Point]] = {}  # A B C D of every photo in pixels, while the page is open
        self.photo: str | None = None
        self.size = (0, 0)  # of the photo in pixels
        self.wall: tuple[str, int] | None = None  # building and number of its side
        self.square: Rectifier | None = None
        self.mark: Rectangle | None = None
        self.points: tuple[Point, ...] = ()  # where A B C D are on the wall
        self.handles: tuple[Handle, ...] = ()
        self.straight: tuple[Any, ...] = ()  # what the straightened picture was made from
        self.walls = controls.choice("Wall", None, UNSAID, self.choose_wall, name="wall")
        self.photos = controls.choice("Photo", None, UNSAID, self.choose_photo, name="wall-photo")
        self.upload = w.FileUpload(
            accept="image/*", multiple=False, description="Add a photo of the wall", layout=w.Layout(width="96%")
        )
        self.upload.observe(self._uploaded, "value")
        self.known = KnownPoints(self.project.units)
        self.foot = controls.field(
            "Foot of the wall above the plan's zero", "", lambda _: self.attempt(self._redraw), name="wall-foot"
        )
        self.name = controls.field("Name", "", lambda _: None, name="wall-opening", hint="north window")
        self.kind = controls.choice("Kind", "window", ("window", "door"), lambda _: None, name="wall-kind")
        self.measures, self.findings = w.HTML(), w.HTML()
        self.photo_plan = wall_pictures.plan(self.photo_scene())
        self.wall_plan = wall_pictures.plan(self.scene())
        self.photo_under, self.wall_under = wall_pictures.under(self.photo_plan), wall_pictures.under(self.wall_plan)
        self.photo_board = Board(self.photo_plan.figure, {"handles": self.photo_plan.handles}, self.edited)
        self.wall_board = Board(self.wall_plan.figure, {"handles": self.wall_plan.handles}, self.edited)
        both = forms.beside(self.photo_board, self.wall_board)
        self.widget = controls.page(self.message, self._panel(), w.VBox([both, self.measures, self.findings]))

    def refresh(self) -> None:
        """Show the walls, the photos and what is marked."""
        site, units = self.project.site, self.project.units
        listed = sides(site)
        if self.wall not in [(s.building, s.number) for s in listed]:
            self.wall = self.square = self.mark = None
        offered = [(s.words(units), (s.building, s.number)) for s in listed]
        forms.relist(self.walls, [*UNSAID, *offered], self.wall)
        names = wall_pictures.photos_in(self._folder())
        if self.photo not in names:
            self.photo, self.square, self.photo_under.data = None, None, no_picture()
        forms.relist(self.photos, [*UNSAID, *((name, name) for name in names)], self.photo)
        self._redraw()

    # --- handlers -----------------------------------------------------------------------------------------------

    def choose_wall(self, wall: tuple[str, int] | None) -> None:
        """Take another wall; its foot is put on the measured ground."""
        self.wall, self.square, self.mark = wall, None, None
        self.attempt(self._choose_wall)

    @handler
    def choose_photo(self, photo: str | None) -> None:
        """Show another photo from the garden's pictures folder, with its four points as they were left."""
        self._choose_photo(photo)

    def take_photo(self, files: Any) -> None:
        """Keep an uploaded photo in the garden's pictures folder and show it."""
        for file in files:
            self.attempt(self._take_photo, file["name"], bytes(file["content"]))

    def straighten(self) -> None:
        """Make the photo square from the four points."""
        if self.attempt(self._straighten):
            self.message.say(
                "the photo is straightened: its wall should fill the drawn edges. Now drag 1 to the lower left and 2 "
                "to the upper right of a window or door"
            )
        self.attempt(self._redraw)

    @handler
    def add(self) -> None:
        """Put the marked window or door on record."""
        if self.square is None or self.mark is None:
            raise GardenError("there is no straightened photo to mark on yet; straighten the photo first")
        square, mark, foot, units = self.square, self.mark, self._foot(), self.project.units
        building, number = self._side().building, self._side().number
        name, kind = str(self.name.bar.value).strip(), cast("OpeningKind", self.kind.bar.value)

        def change(project: Project) -> Project:
            side = side_of(project.site, building, number)
            opening = marked_opening(
                project.site, side, square, mark, name=name, kind=kind, foot=foot, units=project.units
            )
            return edits.add_thing(project, opening)

        if self.edit(f"add {kind} {name} from a photo", change):
            self.name.show("")
            new = self.project.site.opening(name)
            width, sill, head = (show_length(v, units) for v in (new.width, new.sill, new.head))
            self.message.say(f'added {kind} "{name}": {width} wide, sill at {sill}, head at {head}')

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged on either picture."""
        for handle, at in moved_handles(data, self.handles):
            self.drop(handle, at)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:A`` at a place of the photo (pixels right and up), ``mark:1`` on the wall."""
        self.message.say("")
        what, _, which = handle.partition(":")
        if what == "corner" and self.photo is not None:
            wide, high = self.size
            pixel = (min(max(at[0], 0.0), float(wide)), min(max(high - at[1], 0.0), float(high)))
            self.held[self._path()] = self.corners() | {which: pixel}
            self._straighten_if_ready()
        elif what == "mark" and self.mark is not None:
            self.mark = (*at, *self.mark[2:]) if which == "1" else (*self.mark[:2], *at)
        said = self.message.value
        self.attempt(self._redraw)
        self.message.value = said or self.message.value

    # --- what the handlers do -----------------------------------------------------------------------------------

    def _choose_wall(self) -> None:
        if self.wall is not None:
            foot = ground_height(self.project.site)(self._side().start)
            self.foot.show(show_length(foot, self.project.units))
        self._straighten_if_ready()
        self._redraw()

    def _choose_photo(self, photo: str | None) -> None:
        self.photo, self.square, self.photo_under.data = None, None, no_picture()
        if photo is not None:
            self.size = picture_size(self._folder() / photo)
            self.photo = photo
            self.photo_under.data = wall_pictures.photo_columns(self._path(), self.size)
        self._straighten_if_ready()
        self._redraw()

    def _take_photo(self, name: str, content: bytes) -> None:
        picture = add_picture(self._folder(), name, content)
        self._choose_photo(picture.file)
        self.refresh()
        self.message.say(
            f"{picture.file} is kept in the garden's pictures folder. Drag A, B, C and D onto four places of the wall "
            "that you have measured"
        )

    def _straighten_if_ready(self) -> None:
        if self.photo is not None and self.wall is not None and self.known.filled():
            self.attempt(self._straighten)

    def _straighten(self) -> None:
        self.square = None  # what is refused leaves no picture that looks true
        side = self._side()
        if self.photo is None:
            raise GardenError("there is no photo yet; add a photo of the wall first")
        points = self.known.points()
        square = rectifier([self.corners()[k] for k in CORNERS], points)
        if side.top - self._foot() < 0.1:
            raise GardenError("the foot of the wall lies at or above its top; check the height of its foot")
        self.square, self.points = square, points
        if self.mark is None:
            wide, high = side.length, side.eaves - self._foot()
            self.mark = (0.3 * wide, 0.35 * high, 0.6 * wide, 0.75 * high)

    # --- helpers ------------------------------------------------------------------------------------------------

    def corners(self) -> dict[str, Point]:
        """Return A B C D of the photo that is shown, in pixels right and down; at first in the middle of it."""
        return self.held.get(self._path()) or wall_pictures.first_corners(self.size)

    def _side(self) -> Side:
        if self.wall is None:
            raise GardenError("no wall is chosen; choose the wall that the photo shows")
        return side_of(self.project.site, *self.wall)

    def _foot(self) -> float:
        bare, text = forms.bare_unit(self.project.units), str(self.foot.bar.value).strip() or "0"
        return length(text, bare=bare, where="the foot of the wall", signed=True)

    def _folder(self) -> Path:
        return self.session.folder / PICTURES_FOLDER

    def _path(self) -> Path:
        return self._folder() / (self.photo or "")

    def _uploaded(self, change: dict[str, Any]) -> None:
        if change["new"]:
            self.take_photo(change["new"])
            self.upload.value = ()

    def _panel(self) -> Sequence[w.Widget]:
        return [
            self.walls,
            self.upload,
            self.photos,
            controls.label(wall_pictures.HINT),
            self.known,
            self.foot,
            controls.button("Straighten the photo", self.straighten, name="straighten", width="96%"),
            controls.label("Drag 1 and 2 on the straightened wall to the corners of a window or door."),
            self.name,
            self.kind,
            controls.button("Add this opening", self.add, name="add-opening", width="96%"),
            self.message,
            self.undo_row(),
        ]

    # --- drawing ------------------------------------------------------------------------------------------------

    def _redraw(self) -> None:
        photo, wall = self.photo_scene(), self.scene()
        for plan, scene in ((self.photo_plan, photo), (self.wall_plan, wall)):
            plan.reframe(scene)
            plan.update(scene)
        on_photo = wall_pictures.corner_handles(self.corners() if self.photo else {}, self.size[1])
        on_wall = wall_pictures.mark_handles(None if self.square is None else self.mark)
        self.handles = (*on_photo, *on_wall)
        self.photo_plan.set_handles(on_photo)
        self.wall_plan.set_handles(on_wall)
        self._show_straight()
        rows, advice = self.rows(), self.advice()
        self.measures.value = controls.table_html(("the mark", ""), rows) if rows else ""
        self.findings.value = controls.findings_html(advice, units=self.project.units) if advice else ""

    def _show_straight(self) -> None:
        if self.square is None or self.photo is None:
            self.straight, self.wall_under.data = (), no_picture()
            return
        side, foot = self._side(), self._foot()
        made_from = (self._path(), tuple(self.corners().values()), self.points, side, foot)
        if made_from != self.straight:
            self.wall_under.data = wall_pictures.straight_columns(self._path(), self.square, side, foot)
            self.straight = made_from

    def rows(self) -> list[tuple[str, str]]:
        """Return the mark in figures, none before the photo is straightened."""
        if self.square is None or self.mark is None:
            return []
        return wall_pictures.mark_rows(self.mark, self.square, self._foot(), self.project.units)

    def advice(self) -> tuple[Finding, ...]:
        """Return what to be careful about with the mark."""
        if self.square is None or self.mark is None:
            return ()
        return wall_pictures.mark_advice(self.mark, self.points)

    def photo_scene(self) -> Scene:
        """Return the lines over the photo."""
        if self.photo is None:
            return wall_pictures.empty_scene("Add a photo of the wall: it is shown here")
        return wall_pictures.photo_scene(self.size, self.corners(), self.square, self.mark)

    def scene(self) -> Scene:
        """Return the wall seen square on."""
        if self.wall is None:
            first = "Choose a wall" if self.project.site.buildings else "Add the house in the ground as found first"
            return wall_pictures.empty_scene(f"{first}: it is drawn here")
        mark = None if self.square is None else self.mark
        return wall_scene(self.project.site, self._side(), foot=self._foot(), units=self.project.units, mark=mark)

    def summary(self) -> str:
        """Return the mark in words."""
        if self.wall is None:
            return f"Wall photos of {self.project.name}: no wall is chosen yet"
        said = "; ".join(f"{name}: {value}" for name, value in self.rows())
        return f"{self._side().words(self.project.units)}. {said or 'no photo is straightened yet'}"
