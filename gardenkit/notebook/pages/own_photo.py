"""The design in the designer's own photo: places marked on the photo and the plan, then before and after."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Label, Mark, Scene, Stroke, on_ground
from gardenkit.drawing.style import BUILT, EYE, PAPER
from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale
from gardenkit.notebook.pages.own_photo_drawn import Drawn
from gardenkit.notebook.pages.own_photo_marks import Marking
from gardenkit.notebook.pages.own_photo_parts import TakenPhoto
from gardenkit.project.edits import photos as edits

SIGHT = 3.0  # m: how long the camera's looking direction is drawn on the plan. House value.
TICK_MM = 2.0


class OwnPhotoPage(BonesPage):
    """Photo, marks and moment left; the photo with its marks, then before and after; the plan beside."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.photo = TakenPhoto(self)
        self.marking = Marking(self)
        self.drawn = Drawn(self)
        self.advice = AdviceList(self, of_garden=False, more=self.findings)
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX)
        self.plan.on_click(self.marking.take_from_plan)
        self.board = self.plan.board(lambda *_: None)
        panel = [*self.photo.controls, *self.marking.controls, *self.drawn.controls, self.undo_row()]
        right = w.VBox([self.photo.board, self.marking.list, self.advice.widget, self.drawn.picture])
        self.widget = controls.page(self.message, panel, right, [self.board])

    def refresh(self) -> None:
        """Show the photos, what is marked, and how well the camera fits."""
        self.photo.refresh()
        self.marking.refresh()
        self.drawn.refresh()
        self.advice.show()
        self.plan.update(self.scene())
        self.plan.set_handles(())

    def drop(self, handle: str, at: Point) -> None:
        """Put a mark that was dragged on the photo, ``mark:NAME``, at a place there (pixels right and up)."""
        self.marking.move(handle.partition(":")[2], at)

    def findings(self) -> tuple[Finding, ...]:
        """Return what to know about how well the photo is placed."""
        return self.photo.findings()

    def handles_on_photo(self) -> tuple[Handle, ...]:
        """Return the marks as points that can be dragged on the photo."""
        one = self.photo.chosen
        if one is None:
            return ()
        return tuple(
            Handle(id=f"mark:{m.name}", kind="plant", at=(m.pixel[0], one.high - m.pixel[1]), tip=m.name)
            for m in one.marks
        )

    @handler
    def remove(self) -> None:
        """Take the chosen photo off the record; its file stays."""
        name = self.photo.needed().name
        self.edit(f"remove photo {name}", lambda p: edits.remove_photo(p, name))

    def scene(self) -> Scene:
        """Return the plan with the marks, and where the photo was taken from and which way."""
        scale = plan_scale(self.project.site)
        extra: list[Mark] = []
        one, found = self.photo.chosen, self.photo.found
        reach = on_ground(TICK_MM, scale)
        for number, mark in enumerate(one.marks if one is not None else (), start=1):
            x, y = mark.at
            for ends in (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))):
                extra.append(Stroke(points=ends, colour=EYE, width_mm=BUILT, layer="overlay"))
            extra.append(Label(at=(x + reach, y + reach), text=str(number), size_mm=3.2, colour=EYE, halo=PAPER))
        if found is not None:
            eye = (found.pose.eye[0], found.pose.eye[1])
            for off in (-found.pose.angle / 2, 0.0, found.pose.angle / 2):
                end = plane.towards(eye, found.pose.towards + off, SIGHT)
                extra.append(Stroke(points=(eye, end), colour=EYE, width_mm=BUILT, layer="overlay"))
        return garden_scene(self.project, self.garden.layout, scale=scale, extra=tuple(extra), textures=False)

    @property
    def is_blank(self) -> bool:
        """Whether no photo of the site is chosen."""
        return self.photo.chosen is None

    def summary(self) -> str:
        """Return the photos in words."""
        return self.photo.words() or "No photo of the site is added yet"
