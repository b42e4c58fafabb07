"""The photo on the page of the designer's own photo: kept in the garden's folder, with the camera its marks give."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.brief.pictures import add_picture
from gardenkit.drawing.columns import moved_handles
from gardenkit.drawing.photo_marks import photo_marks
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms, wall_pictures
from gardenkit.notebook.pages.scan import no_picture
from gardenkit.notebook.pages.wall_sides import WIDTH_PX
from gardenkit.notebook.part import Part
from gardenkit.project.edits import photos as edits
from gardenkit.site.photo_camera import Found, advice, camera_of
from gardenkit.site.site_photos import SitePhoto
from gardenkit.site.tracing import picture_size
from gardenkit.storage import SITE_PHOTOS_FOLDER
from gardenkit.units import show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.own_photo import OwnPhotoPage

NO_PHOTO = [("add one first", "")]


class TakenPhoto(Part):
    """A photo of the site in the garden's folder, and the camera that its marks give."""

    page: "OwnPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.name = ""
        self.found: Found | None = None
        self.problem = ""
        self._shown: tuple[Any, ...] = ()
        self.photos = controls.choice("Photo", "", NO_PHOTO, self.choose, name="own-photo")
        self.upload = w.FileUpload(
            accept="image/*", multiple=False, description="Add a photo of the site", layout=w.Layout(width="96%")
        )
        self.upload.observe(self._uploaded, "value")
        self.plan = wall_pictures.plan(wall_pictures.empty_scene("Add a photo of the site: it is shown here"))
        self.plan.on_click(self._clicked)
        self.under = wall_pictures.under(self.plan)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self._dragged)
        remove = controls.button("Remove this photo", self.page.remove, name="remove-photo", width="96%")
        self.controls = [self.upload, self.photos, remove]

    def refresh(self) -> None:
        """List the photos, find the camera again and draw the marks."""
        names = [photo.name for photo in self.project.site.photos]
        if self.name not in names:
            self.name = names[0] if names else ""
        forms.relist(self.photos, [(n, n) for n in names] or NO_PHOTO, self.name)
        self._find()
        self._show()
        self.plan.update(self.scene())
        self.plan.set_handles(self.page.handles_on_photo())

    @property
    def chosen(self) -> SitePhoto | None:
        """The photo that is shown, as on record."""
        return next((photo for photo in self.project.site.photos if photo.name == self.name), None)

    def needed(self) -> SitePhoto:
        """Return the photo that is shown. Raises GardenError without one."""
        one = self.chosen
        if one is None:
            raise GardenError("there is no photo yet; add a photo of the site first")
        return one

    def path(self, photo: SitePhoto) -> Path:
        """Return the file of a photo."""
        return self.page.session.folder / SITE_PHOTOS_FOLDER / Path(photo.file).name

    @handler
    def choose(self, name: str) -> None:
        """Show another photo."""
        self.name = name
        self.page.refresh()

    def take(self, files: Any) -> None:
        """Keep an uploaded photo in the garden's folder of site photos and put it on record."""
        for file in files:
            self._take(file["name"], bytes(file["content"]))

    @handler
    def _take(self, name: str, content: bytes) -> None:
        folder = self.page.session.folder / SITE_PHOTOS_FOLDER
        file = add_picture(folder, name, content).file
        wide, high = picture_size(folder / file)
        known = {photo.name for photo in self.project.site.photos}
        if self.page.edit(
            f"photo {file}", lambda p: edits.add_photo(p, Path(file).stem, file=file, wide=wide, high=high)
        ):
            self.name = next(photo.name for photo in self.project.site.photos if photo.name not in known)
            self.page.refresh()
            self.message.say(f"{file} is kept in the garden's folder {SITE_PHOTOS_FOLDER}; now mark places on it")
        else:
            (folder / file).unlink(missing_ok=True)  # no record knows it

    def findings(self) -> tuple[Finding, ...]:
        """Return what to know about how well the photo is placed."""
        one = self.chosen
        return () if one is None or self.found is None else advice(one, self.found, self.project.units)

    def words(self) -> str:
        """Return the photos and their cameras in words."""
        return "\n".join(self._said(photo) for photo in self.project.site.photos)

    def _said(self, photo: SitePhoto) -> str:
        if photo.name != self.name or self.found is None:
            return f"{photo.name}: {len(photo.marks)} marks"
        pose, units = self.found.pose, self.project.units
        eye = show_length(pose.eye[2], units)
        return (
            f"{photo.name}: {len(photo.marks)} marks fit to {self.found.fit:.1f} pixels, {self.found.worst} worst; "
            f"taken from {forms.show_point((pose.eye[0], pose.eye[1]), units)}, {eye} above the plan's zero, "
            f"{pose.angle:.0f} degrees wide; the place is known to about {show_length(self.found.doubt, units)}"
        )

    def scene(self) -> Scene:
        """Return the lines over the photo."""
        one = self.chosen
        if one is None:
            return wall_pictures.empty_scene("Add a photo of the site: it is shown here")
        return photo_marks(one, self.found, self.page.marking.begun, across_px=WIDTH_PX)

    def _clicked(self, at: Point) -> None:
        self.page.marking.click(at)

    def _find(self) -> None:
        self.found, self.problem, one = None, "", self.chosen
        if one is None:
            return
        try:
            self.found = camera_of(one)
        except GardenError as error:
            self.problem = str(error)

    def _show(self) -> None:
        """Put the photo under its marks, where it is another than before."""
        one = self.chosen
        key = (one.file, one.wide, one.high) if one is not None else ()
        if key == self._shown:
            return
        self._shown = key
        self.under.data = no_picture()
        self.plan.reframe(self.scene())
        if one is not None:
            self.page.attempt(self._lay, one)

    def _lay(self, one: SitePhoto) -> None:
        self.under.data = wall_pictures.photo_columns(self.path(one), (one.wide, one.high))

    def _dragged(self, _: str, data: dict[str, list[Any]]) -> None:
        for handle, at in moved_handles(data, self.page.handles_on_photo()):
            self.page.drop(handle, at)

    def _uploaded(self, change: dict[str, Any]) -> None:
        if change["new"]:
            self.take(change["new"])
            self.upload.value = ()
