"""Beds named, split, joined and drawn by their corners, paved or lawn areas put down, and the measures of each."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import beds_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, plan_scale, refill
from gardenkit.notebook.pages.bones_fields import AREA, BED
from gardenkit.notebook.pages.crops import Crops
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import AREAS, TAPE
from gardenkit.project.edits.records import by_name
from gardenkit.project.pointing import area_at
from gardenkit.project.sunlight import SunMap
from gardenkit.structure.bed_edits import crossing_line
from gardenkit.structure.beds import BedShape
from gardenkit.units import show_area

CHOOSES = (BED.word, AREA.word)


class BedsPage(BonesPage):
    """The plan with handles on corners left to drag, the list of beds and their measures below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.dragging = shown.DRAGS[0]
        self.cut: Line = ()
        self.sun: SunMap | None = None
        self.table = w.HTML()
        self.advice = AdviceList(
            self, topics=shown.TOPICS, chosen=self.redraw, first=lambda: (self.bed_name, self.area_name)
        )
        self.crops = Crops(self)
        of_crops = [heading("Crops, year by year"), self.crops.widget]
        panel = [*self._bed_controls(), *self._area_controls(), *of_crops, *self._plan_controls(), self.undo_row()]
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words = ("bed", *AREAS, TAPE)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=CHOOSES)
        panel.insert(0, self.draw.widget)
        self.board = self.plan.board(self.edited)
        self.widget = controls.page(self.message, panel, self.board, [self.table, self.crops.table, self.advice.widget])

    def _bed_controls(self) -> list[w.Widget]:
        self.beds = RecordEditor(self, (BED,), name="which-bed", chose=self.turned_to_bed, opens=True)
        self.drag = controls.choice("Drag on the plan", shown.DRAGS[0], shown.DRAGS, self.set_dragging, name="bed-drag")
        words = "Rectangles keep their right angles"
        self.square = controls.tick(words, True, lambda _: self.redraw())
        corners = controls.button("Draw corners", self.draw_corners, width="48%", name="draw-bed")
        reset = controls.button("Reset to path edge", self.reset, tip="what the paths leave, again", width="48%")
        split = controls.button("Split bed", self.start_split, width="32%", name="split")
        cut = controls.button("Apply split", self.apply_split, width="32%", name="cut")
        leave = controls.button("Cancel", self.cancel_split, width="32%")
        self.other = controls.choice("Join with", None, [], lambda _: None)
        join = controls.button("Join beds", self.join, width="48%", name="join")
        tip = "flat stones a pace apart, until all of the bed is within reach"
        feet = controls.button("Lay foot stones in", self.reach_in, tip=tip, width="48%", name="reach-bed")
        rows = [controls.row(corners, reset), controls.row(split, cut, leave), self.other, controls.row(join, feet)]
        self.bed_place = PlaceOf(self, lambda: ("bed", self.bed_name) if self._bed_moves() else None)
        return [self.beds.widget, self.bed_place.widget, self.drag, self.square, *rows]

    def _area_controls(self) -> list[w.Widget]:
        self.areas = RecordEditor(self, (AREA,), name="ground_area", chose=self.turned_to_area, opens=True)
        fewer = controls.button("Fewer corners", self.simplify, tip="so that each can be dragged", width="48%")
        self.area_place = PlaceOf(self, lambda: ("area", self.area_name) if self._area_moves() else None)
        return [heading("Paved or lawn areas"), self.areas.widget, self.area_place.widget, fewer]

    def _plan_controls(self) -> list[w.Widget]:
        self.rounds = controls.tick("Show space for tree crowns", True, lambda _: self.redraw())
        self.narrow = controls.tick("Show where it is narrow", False, lambda _: self.redraw())
        with_sun = controls.button("Work out the sun on the beds", self.show_sun, width="96%", name="bed-sun")
        return [heading("On the plan"), self.rounds, self.narrow, with_sun]

    def refresh(self) -> None:
        """Show beds and areas as they stand."""
        self.beds.show()
        self.areas.show()
        refill(self.other, [b.name for b in self.layout().beds if b.name != self.bed_name], self.other.bar.value)
        self.crops.refresh()
        self.bed_place.refresh()
        self.area_place.refresh()
        self._redraw()
        self.table.value = shown.tables(self.garden, self.sun)
        self.advice.show()

    # --- handlers -----------------------------------------------------------------------------------------------

    @property
    def bed_name(self) -> str:
        """The bed in the form."""
        return self.beds.title

    @property
    def area_name(self) -> str:
        """The paved or lawn area in the form."""
        return self.areas.title

    def turned_to_bed(self) -> None:
        """Show the bed that was turned to."""
        self.cut = ()
        self.set_dragging(shown.DRAGS[2] if self.dragging == shown.DRAGS[2] else shown.DRAGS[0])

    @handler
    def click(self, at: Point) -> None:
        """Turn to the bed, or the paved or lawn area, where the plan was clicked."""
        area, bed = area_at(self.structure, at), self.garden.layout.bed_at(at)
        if area is not None:
            if area.name != self.area_name:
                self.areas.turn_to(area.name)
            self.set_dragging(shown.DRAGS[1])
        elif bed is not None:
            if bed.name != self.bed_name:
                self.beds.turn_to(bed.name)
            self.set_dragging(shown.DRAGS[0])

    def show_drawn(self, what: str, name: str) -> None:
        """Turn to the bed or area that was just drawn."""
        if name:
            (self.beds if what == "bed" else self.areas).turn_to(name)
            self.set_dragging(shown.DRAGS[0 if what == "bed" else 1])

    def turned_to_area(self) -> None:
        """Show the handles of the area that was turned to."""
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

    def reach_in(self) -> None:
        """Lay foot stones into the bed, so that all of it is within reach."""
        name = self.bed_name
        self.edit(f"foot stones in {name}", lambda p: edits.reach_bed(p, name))

    def join(self) -> None:
        """Make one bed of two that touch."""
        name, other = self.bed_name, self.other.bar.value or ""
        self.edit(f"join {name} and {other}", lambda p: edits.join_beds(p, name, other))

    def simplify(self) -> None:
        """Give the chosen area so few corners that each can be dragged."""
        name = self.area_name
        if self.edit(f"fewer corners for {name}", lambda p: edits.simplify_area(p, name)):
            self.set_dragging(shown.DRAGS[1])

    @handler
    def show_sun(self) -> None:
        """Work out the sun on every bed as things stand today."""
        self.message.say("working out the sun on the ground ...")
        self.sun = self.garden.sun()
        self.refresh()
        self.message.say("")

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``between:2``, ``ground_area:0``, ``whole:``, ``cut:1:0``, ``line:0``."""
        kind, _, which = handle.partition(":")
        bed, area = self.bed_name, self.area_name
        match kind:
            case "corner":
                self.edit(f"move a corner of {bed}", lambda p: edits.move_bed_corner(p, bed, int(which), to=at))
            case "between":
                self.edit(f"add a corner to {bed}", lambda p: edits.add_bed_corner(p, bed, int(which), at=at))
            case "ground_area":
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

    def _bed_moves(self) -> bool:
        own = any(bed.name == self.bed_name and bed.outline for bed in self.structure.beds)
        return own and self.dragging != shown.DRAGS[1]

    def _area_moves(self) -> bool:
        return self.areas.chosen is not None and self.dragging == shown.DRAGS[1]

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = shown.handles(
            self.project,
            self.cut,
            bed=self.bed_name,
            area=self.area_name,
            dragging=self.dragging,
            square=self.square.bar.value,
        )
        self.plan.set_handles(self.handles)

    def chosen_spots(self) -> tuple[Point, ...]:
        """Return two corners of the box round the chosen bed."""
        region = next((bed.region for bed in self.layout().beds if bed.name == self.bed_name), None)
        if region is None or region.is_empty:
            return ()
        low_x, low_y, high_x, high_y = plane.bounds(region)
        return (low_x, low_y), (high_x, high_y)

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
