"""Areas of the property: named, drawn or made up of beds and paths, put in the order of work, each shown by itself."""

import ipywidgets as w

from gardenkit.brief.pictures import file_stem
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.faded import shown_area
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.handover import booklet, bundle, wording
from gardenkit.notebook import controls
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.jobs import Job
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.area_fields import PROPERTY
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.progress import until
from gardenkit.project.edits import brief as edits
from gardenkit.project.edits.drawn import PROPERTY_AREA, TAPE
from gardenkit.project.within import ground_of

YEAR = 5  # of growth in which the plan is shown. House value.
HINT = (
    "Design an area at a time: draw an area on the plan, or name the beds and paths it is made of. Wants can be for "
    "one area, and its plan, schedules, costs and client copy can be had by themselves."
)


class AreasPage(BonesPage):
    """The plan with the chosen area shown and the rest faded; below it every area with how far it has come."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.table = w.HTML()
        self.list = RecordEditor(self, (PROPERTY,), name="property-area", chose=self.redraw)
        order = controls.row(
            controls.button("Earlier", self.earlier, name="area-earlier", width="48%"),
            controls.button("Later", self.later, name="area-later", width="48%"),
        )
        make = controls.button("Write its client edition", self.write, name="area-copy", width="96%")
        every = controls.button("Write all its documents", self.write_all, name="area-documents", width="96%")
        self.job = Job(self, can_stop=True, name="area-documents", tip="stop writing")
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX)
        self.draw = Draw(self, self.plan, (PROPERTY_AREA, TAPE), made=self.show_drawn, choose=self.click)
        self.board = self.plan.board(self.edited)
        panel = [controls.label(HINT), self.draw.widget, self.list.widget, order, make, every, self.job.widget]
        self.widget = controls.page(self.message, [*panel, self.undo_row()], self.board, [self.table])

    def refresh(self) -> None:
        """Show the areas as they stand."""
        self.list.show()
        self._redraw()
        heads = ("turn", "area", "state", "ground", "plants", "estimate", "its wants")
        rows = [(f"{n}", *row.values()) for n, row in enumerate(wording.property_areas(self.garden), start=1)]
        self.table.value = controls.table_html(heads, rows, caption="Areas of the property, in the order of work")

    # ---- handlers

    @handler
    def click(self, at: Point) -> None:
        """Turn to the area that was clicked on the plan."""
        here = [a for a in self.project.areas if plane.contains(ground_of(self.garden.layout, a), at)]
        if here and here[-1].name != self.list.title:
            self.list.turn_to(here[-1].name)

    @handler
    def redraw(self) -> None:
        """Draw the plan again, with the chosen area shown."""
        self._redraw()

    def show_drawn(self, _: str, name: str) -> None:
        """Turn to the area that was just drawn, to be given its name."""
        self.list.turn_to(name)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged corner of the chosen area."""
        name = self.list.title
        self.edit(f"move a corner of {name}", lambda p: edits.move_property_area_corner(p, name, int(handle), to=at))

    def earlier(self) -> None:
        """Give the chosen area an earlier turn."""
        self._move(-1)

    def later(self) -> None:
        """Give the chosen area a later turn."""
        self._move(1)

    @handler
    def _move(self, by: int) -> None:
        to, name = max(self.list.position() + by, 0), self.list.title
        self.edit("reorder the areas", lambda p: edits.move_property_area(p, name, to=to))

    @handler
    def write(self) -> None:
        """Write the client edition of the chosen area into the garden folder."""
        self.list.position()  # one is chosen
        part, name = self.shown(), self.list.title
        target = self.session.folder / f"client_copy_{file_stem(name)}.html"
        self.job.start(
            f"writing {target.name} ...",
            lambda tell, stopped: booklet.write(part, target, tell=until(stopped, tell, what=target.name)),
            lambda _: self.message.say(f"written: {target}"),
            failed=lambda: None,
        )

    @handler
    def write_all(self) -> None:
        """Write every document of the chosen area into a folder of its own: sheets, drawings, schedules, copies."""
        self.list.position()  # one is chosen
        part, name = self.shown(), self.list.title
        folder = self.session.folder / f"{bundle.FOLDER}_{file_stem(name)}"
        self.job.start(
            f"writing the documents of {name} ...",
            lambda tell, stopped: bundle.write(part, folder, tell=until(stopped, tell, what=folder.name)),
            lambda written: self.message.say(f"{len(written)} documents written into {folder}"),
            failed=lambda: None,
        )

    # ---- what is shown

    def shown(self) -> Garden:
        """Return the garden as it is counted in the chosen area, all of it while none is chosen."""
        return self.garden.of_area(self.list.title) if self.list.title else self.garden

    def scene(self) -> Scene:
        """Return the plan, all but the chosen area faded."""
        garden, scale = self.garden, plan_scale(self.project.site)
        drawn = garden_scene(self.project, garden.layout, garden.catalogue, year=YEAR, scale=scale)
        return shown_area(self.shown(), drawn)

    def summary(self) -> str:
        """Return the areas in words."""
        told = (f"{n}. {area.name}: {area.stands}" for n, area in enumerate(self.project.areas, start=1))
        return "\n".join(told) or "the whole property is one area so far"

    def _redraw(self) -> None:
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        corners = enumerate(self.list.chosen.outline if self.list.chosen else ())
        self.handles = tuple(Handle(id=f"{n}", kind="path", at=at, tip=f"corner {n + 1}") for n, at in corners)
        self.plan.set_handles(self.handles)
