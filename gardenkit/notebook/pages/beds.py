"""Beds named, split, joined and drawn by their corners, paved or lawn areas put down, and the measures of each."""

from typing import Any

import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import beds_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, plan_scale, refill, row
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.records import by_name
from gardenkit.project.sunlight import SunMap
from gardenkit.structure.bed_edits import crossing_line
from gardenkit.structure.beds import BedShape
from gardenkit.structure.kinds import PATCHES
from gardenkit.units import show_area


class BedsPage(BonesPage):
    """The plan with handles on corners left to drag, the list of beds and their measures below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.bed_name, self.area_name, self.dragging = "", "", shown.DRAGS[0]
        self.cut: Line = ()
        self.sun: SunMap | None = None
        self.table = w.HTML()
        self.advice = AdviceList(self, topics=shown.TOPICS, chosen=self.redraw)
        panel = [*self._bed_controls(), *self._area_controls(), *self._plan_controls(), self.undo_row()]
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        self.widget = controls.page(self.message, panel, self.board, [self.table, self.advice.widget])

    def _bed_controls(self) -> list[w.Widget]:
        self.chosen = controls.choice("Bed", None, [], self.choose, name="which-bed")
        self.name = controls.field("Name", "", self.rename, name="bed-name")
        self.soil = controls.field("Soil", "", lambda v: self.set(soil=v.strip()), hint="as the rest of the garden")
        hint = "brick, steel, spade edge ..."
        self.edging = controls.field("Edging", "", lambda v: self.set(edging=v.strip()), hint=hint)
        self.drag = controls.choice("Drag on the plan", shown.DRAGS[0], shown.DRAGS, self.set_dragging, name="bed-drag")
        corners = controls.button("Draw corners", self.draw_corners, width="48%", name="draw-bed")
        reset = controls.button("Reset to path edge", self.reset, tip="what the paths leave, again", width="48%")
        split = controls.button("Split bed", self.start_split, width="32%", name="split")
        cut = controls.button("Apply split", self.apply_split, width="32%", name="cut")
        leave = controls.button("Cancel", self.cancel_split, width="32%")
        self.other = controls.choice("Join with", None, [], lambda _: None)
        join = controls.button("Join beds", self.join, width="48%", name="join")
        clear = controls.button("Clear name", self.clear_name, tip="and its corners, if it was drawn", width="48%")
        self.typed_corners = controls.field("Corners, x, y; x, y; ...", "", lambda _: None, name="corners")
        new = controls.button("Add a bed with these corners", self.draw_typed, width="96%")
        fields = [self.chosen, self.name, self.soil, self.edging, self.drag]
        rows = [row(corners, reset), row(split, cut, leave), self.other, row(join, clear), self.typed_corners, new]
        return [*fields, *rows]

    def _area_controls(self) -> list[w.Widget]:
        self.area = controls.choice("Area", None, [], self.choose_area, name="patch")
        self.area_named = controls.field("Name", "", self.rename_area, name="area-name")
        self.kind = controls.choice("Kind", next(iter(PATCHES)), list(PATCHES), lambda _: None)
        add = controls.button("Add", self.add_area, width="48%", name="add-patch")
        gone = controls.button("Delete", self.remove_area, width="48%")
        fewer = controls.button("Fewer corners", self.simplify, tip="so that each can be dragged", width="48%")
        return [heading("Paved or lawn areas"), self.area, self.area_named, self.kind, row(add, gone), fewer]

    def _plan_controls(self) -> list[w.Widget]:
        self.rounds = controls.tick("Show space for tree crowns", True, lambda _: self.redraw())
        self.narrow = controls.tick("Show where it is narrow", False, lambda _: self.redraw())
        with_sun = controls.button("Work out the sun on the beds", self.show_sun, width="96%", name="bed-sun")
        return [heading("On the plan"), self.rounds, self.narrow, with_sun]

    def refresh(self) -> None:
        """Show beds and areas as they stand."""
        worked = self.layout()
        names = [b.name for b in worked.beds]
        self.bed_name = refill(self.chosen, names, self.bed_name) or ""
        refill(self.other, [n for n in names if n != self.bed_name], self.other.bar.value)
        self.area_name = refill(self.area, [p.name for p in self.structure.patches], self.area_name) or ""
        self.area_named.show(self.area_name)
        if self.bed_name:
            shape = self._shape()
            for box, value in ((self.name, shape.name), (self.soil, shape.soil), (self.edging, shape.edging_kind)):
                box.show(value)
        self._redraw()
        self.table.value = shown.tables(self.garden, self.sun)
        self.advice.show()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose(self, name: str) -> None:
        """Turn to another bed."""
        self.bed_name, self.cut = name, ()
        self.refresh()

    def choose_area(self, name: str) -> None:
        """Turn to another paved or lawn area, and show its handles."""
        self.area_name = name
        self.set_dragging(shown.DRAGS[1])

    @handler
    def set_dragging(self, what: str) -> None:
        """Show other handles."""
        self.dragging = what
        self.drag.show(what)
        self.refresh()

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self._redraw()

    def rename(self, typed: str) -> None:
        """Name the bed; a numbered leftover becomes a bed of its own by that."""
        old, new = self.bed_name, " ".join(typed.split())
        self.bed_name = new
        if new == old or not self.edit(f"name {new}", lambda p: edits.rename_bed(p, old, to=new)):
            self.bed_name = old

    def set(self, **changes: Any) -> None:
        """Set the soil or edging of the bed."""
        name = self.bed_name
        self.edit(f"{next(iter(changes))} of {name}", lambda p: edits.change_bed(p, name, **changes))

    def draw_corners(self) -> None:
        """Make the bed one with corners of its own, to be dragged."""
        name = self.bed_name
        if self.edit(f"draw the corners of {name}", lambda p: edits.draw_bed_corners(p, name)):
            self.set_dragging(shown.DRAGS[0])

    def reset(self) -> None:
        """Reset the bed to the path's edge: what the paths leave again."""
        name = self.bed_name
        self.edit(f"reset {name} to the path's edge", lambda p: edits.reset_bed(p, name))

    @handler
    def start_split(self) -> None:
        """Put a line across the bed, to be dragged before the split is applied."""
        self.cut = crossing_line(self._shape())
        self.message.say("drag the two ends of the line, then press Apply split")
        self._redraw()

    @handler
    def apply_split(self) -> None:
        """Split the bed along the line."""
        if not self.cut:
            raise GardenError("there is no line yet; press Split bed first and drag its ends")
        name, line = self.bed_name, self.cut
        if self.edit(f"split {name}", lambda p: edits.split_bed(p, name, line)):
            self.cut = ()
            self.refresh()

    @handler
    def cancel_split(self) -> None:
        """Take the line away without splitting."""
        self.cut = ()
        self.refresh()

    def join(self) -> None:
        """Make one bed of two that touch."""
        name, other = self.bed_name, self.other.bar.value or ""
        self.edit(f"join {name} and {other}", lambda p: edits.join_beds(p, name, other))

    def clear_name(self) -> None:
        """Let the bed be a numbered leftover again."""
        name = self.bed_name
        self.edit(f"clear the name {name}", lambda p: edits.clear_bed_name(p, name))

    @handler
    def draw_typed(self) -> None:
        """Add a bed with typed corners."""
        corners = self.points(self.typed_corners.bar.value, "the new bed")
        if self.edit("draw a bed", lambda p: edits.draw_bed(p, corners)):
            self.typed_corners.show("")
            self.choose(self.structure.beds[-1].name)

    def add_area(self) -> None:
        """Add a paved or lawn area in the roomiest place, to be dragged."""
        kind = self.kind.bar.value
        if self.edit(f"add a {kind}", lambda p: edits.add_area(p, kind)):
            self.choose_area(self.structure.patches[-1].name)

    def remove_area(self) -> None:
        """Delete the chosen area."""
        name = self.area_name
        self.edit(f"delete {name}", lambda p: edits.remove_area(p, name))

    def rename_area(self, typed: str) -> None:
        """Give the area another name; paths that go to it follow."""
        old, new = self.area_name, " ".join(typed.split())
        self.area_name = new
        if new == old or not self.edit(f"rename {old}", lambda p: edits.rename_area(p, old, to=new)):
            self.area_name = old

    def simplify(self) -> None:
        """Give the chosen area so few corners that each can be dragged."""
        name = self.area_name
        self.edit(f"fewer corners for {name}", lambda p: edits.simplify_area(p, name))

    @handler
    def show_sun(self) -> None:
        """Work out the sun on every bed as things stand today."""
        self.message.say("working out the sun on the ground ...")
        self.sun = self.garden.sun()
        self.refresh()
        self.message.say("")

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``between:2``, ``patch:0``, ``whole:``, ``cut:1:0`` or ``line:0``."""
        kind, _, which = handle.partition(":")
        bed, area = self.bed_name, self.area_name
        match kind:
            case "corner":
                self.edit(f"move a corner of {bed}", lambda p: edits.move_bed_corner(p, bed, int(which), to=at))
            case "between":
                self.edit(f"add a corner to {bed}", lambda p: edits.add_bed_corner(p, bed, int(which), at=at))
            case "patch":
                self.edit(f"move a corner of {area}", lambda p: edits.move_area_corner(p, area, int(which), to=at))
            case "whole":
                self.edit(f"move {area}", lambda p: edits.move_area(p, area, to=at))
            case "line":
                self.cut = tuple(at if i == int(which) else p for i, p in enumerate(self.cut))
            case "cut":
                number, point = (int(part) for part in which.split(":"))
                self.edit("move a dividing line", lambda p: edits.move_cut(p, number, point, to=at))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _shape(self) -> BedShape:
        return by_name(self.layout().beds, self.bed_name, "bed")

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = shown.handles(
            self.structure, self.cut, bed=self.bed_name, area=self.area_name, dragging=self.dragging
        )
        self.plan.set_handles(self.handles)

    def scene(self) -> Scene:
        """Return the plan with room for crowns, narrow places and the line to cut along."""
        marks = shown.marks(
            self.garden, self.cut, bed=self.bed_name, rounds=self.rounds.bar.value, narrow=self.narrow.bar.value
        )
        scale = plan_scale(self.project.site)
        lit = self.advice.marks(scale)
        return garden_scene(self.project, self.garden.layout, scale=scale, extra=(*marks, *lit), textures=False)

    def summary(self) -> str:
        """Return the beds in words."""
        units = self.project.units
        return "\n".join(f"bed {b.name}: {show_area(b.area, units)}" for b in self.layout().beds) or "No bed yet"
