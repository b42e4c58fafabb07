"""A scan or photo of an old plan laid under the plan by two known points, to trace over."""

import base64
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.brief.photo import jpeg, photo
from gardenkit.brief.pictures import add_picture
from gardenkit.drawing.scene import Bounds
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.site.tracing import Underlay, laid_out, picture_size, underlay, underlay_by_length
from gardenkit.storage import PICTURES_FOLDER, SITE_PHOTOS_FOLDER
from gardenkit.units import length, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.ground import GroundPage

PICTURE_PX = 1400  # most pixels of a scan sent to the page. House value.
SCAN_ENTRIES = (
    Entry(key="a", words="A is at: x, y on the plan", hint="0, 0"),
    Entry(key="b", words="B is at: x, y on the plan", hint="40', 0"),
    Entry(key="between", words="or only: from A to B it measures", hint="40'"),
)
HINT = (
    "Choose a picture; drag A and B on the plan onto two places in it that you know; say where they are; place the "
    "picture. Then draw over it."
)


class ScanPart(Part):
    """Chooses the picture, asks where its two marks are, and lays it; ``marks`` are A and B on the plan."""

    page: "GroundPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.marks: dict[str, Point] = {}
        self.pictures: dict[str, str] = {}
        self.upload = w.FileUpload(
            accept="image/*", multiple=False, description="Choose a scan or photo", layout=w.Layout(width="96%")
        )
        self.upload.observe(lambda change: self.take(change["new"]), "value")
        self.form = Form(SCAN_ENTRIES, name="scan")
        buttons = controls.row(
            controls.button("Place the picture", self.put, name="place-scan", width="60%"),
            controls.button("Take away", self.drop, width="36%"),
        )
        self.widget = w.VBox([controls.label(HINT), self.upload, self.form, buttons])

    def refresh(self) -> None:
        """Put the marks back where the records have them."""
        held = self.project.site.underlay
        self.marks = {} if held is None else {"A": held.plan_a, "B": held.plan_b}

    # ---- handlers

    def take(self, files: Any) -> None:
        """Keep an uploaded picture and lay it under the plan at a guess, to be placed by two known points."""
        for file in files:
            self.attempt(self._take, file["name"], bytes(file["content"]))
        self.upload.unobserve_all("value")
        self.upload.value = ()
        self.upload.observe(lambda change: self.take(change["new"]), "value")

    @handler
    def put(self) -> None:
        """Place the picture by its two marked points."""
        placed = self._placed()
        if self.edit("place the scan", lambda p: edits.set_underlay(p, placed)):
            long = show_length(placed.scale * 100, self.project.units)
            self.message.say(f"the picture is placed: {long} for 100 pixels, turned {placed.turned:.1f} degrees")

    def drop(self) -> None:
        """Take the picture away from under the plan; its file stays in the folder."""
        self.edit("take the scan away", lambda p: edits.set_underlay(p, None))

    def mark(self, which: str, at: Point) -> None:
        """Take in where A or B was dragged to."""
        self.marks[which] = at
        self.message.say(f"{which} is marked on the picture; say where it is on the plan, then place the picture")

    # ---- what the plan shows

    def columns(self) -> dict[str, list[Any]]:
        """Return the picture as the plan's image column, empty without one or when its file cannot be read."""
        held = self.project.site.underlay
        if held is None:
            return no_picture()
        path = self._path(held)
        try:
            wide, high = picture_size(path)
        except GardenError as error:
            self.message.problem(f"the scan under the plan is not shown: {error}")
            return no_picture()
        key = f"{held.picture}:{path.stat().st_mtime_ns}"
        if key not in self.pictures:
            self.pictures = {key: data_url(path)}
        x, y = held.to_plan((wide / 2, high / 2))  # a picture is turned about its middle
        across, up = held.size(wide, high)
        turned = -math.radians(held.turned)
        return {"url": [self.pictures[key]], "x": [x], "y": [y], "w": [across], "h": [up], "angle": [turned]}

    def bounds(self) -> Bounds | None:
        """Return the ground that the picture covers, None when its file cannot be read."""
        held = self.project.site.underlay
        if held is None:
            return None
        try:
            return held.bounds(*picture_size(self._path(held)))
        except GardenError:
            return None

    # ---- helpers

    def _path(self, held: Underlay) -> Path:
        own = Path(self.page.session.folder) / SITE_PHOTOS_FOLDER / held.picture
        return own if own.exists() else own.parent.parent / PICTURES_FOLDER / held.picture  # where it once was kept

    def _placed(self) -> Underlay:
        old = self.project.site.underlay
        if old is None:
            raise GardenError("there is no picture yet; choose a scan or photo first")
        units, texts = self.project.units, self.form.texts()
        a, b = (old.to_pixel(self.marks[k]) for k in "AB")
        if texts["a"] and texts["b"]:
            plan = [forms.point(texts[k], units, f"point {k.upper()} of the scan") for k in "ab"]
            return underlay(a, b, plan[0], plan[1], picture=old.picture)
        if texts["between"]:
            long = length(texts["between"], bare=forms.bare_unit(units), where="the length from A to B")
            return underlay_by_length(a, b, long, picture=old.picture)
        raise GardenError("say where A and B are on the plan, or how far they are apart; then place the picture")

    def _take(self, name: str, content: bytes) -> None:
        folder = self.page.session.folder / SITE_PHOTOS_FOLDER
        picture = add_picture(folder, name, content).file
        site = self.project.site
        over = plane.bounds(plane.region(site.boundary)) if site.boundary else None
        laid = laid_out(picture, picture_size(folder / picture), over=over)
        if self.edit(f"scan {picture}", lambda p: edits.set_underlay(p, laid)):
            self.page.plan.drag_the_scan()
            self.message.say(
                "drag A and B onto two places of the picture that you have measured, say where they are, then place "
                "the picture"
            )


def data_url(path: Path) -> str:
    """Return a picture as text that the page can show, made smaller when it is large."""
    small = photo(path)
    small.thumbnail((PICTURE_PX, PICTURE_PX))
    return "data:image/jpeg;base64," + base64.b64encode(jpeg(small, quality=80)).decode("ascii")


def no_picture() -> dict[str, list[Any]]:
    """Return the columns of a scan that is not there."""
    return {key: [] for key in ("url", "x", "y", "w", "h", "angle")}
