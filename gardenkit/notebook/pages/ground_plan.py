"""The plan of the ground as found: points to drag, corners to click in, a scan to trace over."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import ipywidgets as w
from bokeh.models import ColumnDataSource, PointDrawTool

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.found import clicked_marks, found_scene, letters_of, words_on_empty_ground
from gardenkit.drawing.overlays import chosen_shape_mark
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.scan import no_picture
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.project.pointing import thing_at
from gardenkit.site.site import Site

if TYPE_CHECKING:
    from gardenkit.notebook.pages.ground import GroundPage

SCREEN_PX = (700, 800)  # width, most height
EMPTY = "Give the boundary, or choose a scan: the plan is drawn here"


def _corners(site: Site) -> list[Handle]:
    return [Handle(id=f"corner:{i}", kind="path", at=p, tip=f"corner {i + 1}") for i, p in enumerate(site.boundary)]


def _trees(site: Site) -> list[Handle]:
    return [Handle(id=f"tree:{t.name}", kind="plant", at=t.at, tip=t.name) for t in site.trees]


def _openings(site: Site) -> list[Handle]:
    return [Handle(id=f"opening:{o.name}", kind="seat", at=o.middle, tip=o.name) for o in site.openings]


def _house_corners(site: Site) -> list[Handle]:
    return [
        Handle(id=f"house:{n}:{i}", kind="path", at=p, tip=f"{b.name}, corner {i + 1}")
        for n, b in enumerate(site.buildings)
        for i, p in enumerate(b.outline)
    ]


THE_SCAN = "the scan's A and B"
DRAGS: dict[str, Callable[[Site], list[Handle]]] = {
    "boundary corners": _corners,
    "trees": _trees,
    "doors, windows, gates": _openings,
    "house corners": _house_corners,
    THE_SCAN: lambda _: [],  # they are the page's own until the picture is placed
}


class GroundPlan(Part):
    """The live plan with what is dragged on it and where clicks go; its page says where clicked corners are typed."""

    page: "GroundPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.handles: tuple[Handle, ...] = ()
        self.drag = controls.choice("Drag on the plan", next(iter(DRAGS)), list(DRAGS), self._again, name="drag")
        self.clicking = controls.tick("Click the plan to put in corners", False, self.click_corners)
        self.plan = LivePlan(self.scene(), width_px=SCREEN_PX[0], most_height_px=SCREEN_PX[1], handles=())
        self.under = ColumnDataSource(data=no_picture(), name="underlay")
        self.plan.figure.image_url(
            url="url", x="x", y="y", w="w", h="h", angle="angle", anchor="center", source=self.under, level="image"
        )
        self.plan.on_click(self.choose)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)

    def refresh(self) -> None:
        """Draw the ground as it stands."""
        self.redraw()
        self.under.data = self.page.scan.columns()

    def redraw(self) -> None:
        """Draw the plan and its handles again."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.handles = tuple(self._handles())
        self.plan.set_handles(self.handles)

    # ---- handlers

    def click_corners(self, on: bool) -> None:
        """Let clicks on the plan put corners into the open form."""
        self.plan.figure.select_one(PointDrawTool).add = bool(on)
        self.attempt(self.redraw)

    def drag_the_scan(self) -> None:
        """Show the handles of the scan's two marks."""
        self.drag.show(THE_SCAN)
        self.redraw()

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged or clicked on the plan."""
        known, before = {h.id for h in self.handles}, self.project
        for name, x, y in zip(data["id"], data["x"], data["y"], strict=False):
            if name not in known:
                self.attempt(self.clicked, (float(x), float(y)))
        for handle, at in moved_handles(data, self.handles):
            self.attempt(self.drop, handle, (round(at[0], 3), round(at[1], 3)))
        if self.project is not before:  # the edit has shown it already
            return
        said = self.message.value
        self.attempt(self.redraw)
        self.message.value = said or self.message.value

    def clicked(self, at: Point) -> None:
        """Put a clicked place into the open form: the boundary, or the corners, line or place of a thing."""
        if not self.clicking.bar.value:
            return
        shown = forms.show_point(at, self.project.units)
        box = self.page.clicked_into()
        several = isinstance(box.bar, w.Textarea)
        before = str(box.bar.value).rstrip()
        box.show(f"{before}\n{shown}".lstrip("\n") if several else shown)

    @handler
    def choose(self, at: Point) -> None:
        """Open the form of what stands where the plan was clicked, unless clicks put in corners."""
        found = None if self.clicking.bar.value else thing_at(self.project.site, at)
        if found is not None:
            self.page.show_thing(found)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``house:0:3``, ``tree:plum``, ``opening:gate`` or ``scan:A``."""
        what, _, which = handle.partition(":")
        if what == "scan":
            self.page.scan.mark(which, at)
        elif what == "corner":
            self.edit("move a corner", lambda p: edits.move_boundary_corner(p, int(which), to=at))
        elif what == "house":
            number, corner = (int(part) for part in which.split(":"))
            name = self.project.site.buildings[number].name
            self.edit(f"move a corner of {name}", lambda p: edits.move_thing_corner(p, name, corner, to=at))
        else:
            self.edit(f"move {which}", lambda p: edits.move_thing(p, which, to=at))

    # ---- what is drawn

    def scene(self) -> Scene:
        """Return the site as found, over its scan when there is one."""
        return found_scene(
            self.project.site,
            title=f"{self.project.name}: the ground as found",
            units=self.project.units,
            screen_px=SCREEN_PX,
            scan=self.page.scan.bounds(),
            whole_scan=self.drag.bar.value == THE_SCAN,
            extra=self._marks,
        )

    def _again(self, _: object) -> None:
        self.attempt(self.redraw)

    def _handles(self) -> Sequence[Handle]:
        if self.clicking.bar.value:
            return ()  # a click on a handle would take hold of it instead of putting in a corner
        if self.drag.bar.value == THE_SCAN:
            tip = "a place in the picture you have measured"
            marks = self.page.scan.marks
            return [Handle(id=f"scan:{k}", kind="path", at=at, tip=f"{k}: {tip}") for k, at in marks.items()]
        return DRAGS[self.drag.bar.value](self.project.site)

    def _marks(self, scale: float) -> list[Mark]:
        site = self.project.site
        marks = letters_of(self.page.scan.marks, scale) if self.drag.bar.value == THE_SCAN else []
        if not site.boundary and site.underlay is None:
            marks.append(words_on_empty_ground(EMPTY))
        chosen = self.page.things.chosen
        if chosen is not None:
            marks.append(chosen_shape_mark(edits.shape_of(chosen), scale=scale))
        return [*marks, *clicked_marks(self._typed(), scale), *self.page.lit(scale)]

    def _typed(self) -> tuple[Point, ...]:
        if not self.clicking.bar.value:
            return ()
        try:
            return forms.points(str(self.page.clicked_into().bar.value), self.project.units, "the corners")
        except GardenError:
            return ()
