"""Beds named, split, joined and drawn by their corners, lawns and patios put down, and the measures of each."""

import math
from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Disc, Label, Mark, Scene, Stroke
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point, Region
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import (
    HIGH_PX,
    WIDTH_PX,
    BonesPage,
    by_name,
    free_name,
    heading,
    moved,
    new_name,
    plan_scale,
    put,
    refill,
    row,
    without,
)
from gardenkit.project.bed_measures import bed_measures
from gardenkit.project.sunlight import SunMap, sun_map
from gardenkit.structure.bed_edits import corners_of, crossing_line, cut_in_two, dividing_cut, fewer_corners, joined
from gardenkit.structure.beds import BedShape, spine_of
from gardenkit.structure.patio import area_for_people
from gardenkit.structure.structure import Bed, Patch, Structure
from gardenkit.units import show_area, show_length

PATCHES = ("lawn", "patio", "gravel", "pond", "shed base")
DRAGS = ("corners of the bed", "lawn and patio", "dividing lines")
MOST_CORNERS = 14  # a patch with more is moved whole, until its outline is made simpler. House value.
TOGETHER = 0.15  # m: a corner dragged this near to its neighbour is taken out. House value.
ROOM_BETWEEN = 0.6  # m: a shorter side has no handle to add a corner. House value.
NARROW = 0.9  # m: a place narrower than this suits upright growers only. House value.
SMALL_TREE = 2.4  # m: a crown this wide is a small tree's. House value.


class BedsPage(BonesPage):
    """The plan with handles on corners left to drag, the list of beds and their measures below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.bed_name, self.patch_name, self.dragging = "", "", DRAGS[0]
        self.cut: Line = ()
        self.sun: SunMap | None = None
        self.chosen = controls.choice("Bed", None, [], self.choose, name="which-bed")
        self.name = controls.field("Its name", "", self.rename, name="bed-name")
        self.soil = controls.field("Its soil", "", lambda v: self.set(soil=v.strip()), hint="as the rest of the garden")
        self.edging = controls.field(
            "Its edging", "", lambda v: self.set(edging=v.strip()), hint="brick, steel, spade edge ..."
        )
        self.drag = controls.choice("Drag on the plan", DRAGS[0], DRAGS, self.set_dragging, name="bed-drag")
        corners = controls.button("Draw its corners", self.draw_corners, width="48%", name="draw-bed")
        follow = controls.button("Let it follow", self.follow, tip="what the paths leave, again", width="48%")
        split = controls.button("Split it ...", self.start_split, width="32%", name="split")
        cut = controls.button("Cut here", self.cut_here, width="32%", name="cut")
        leave = controls.button("Leave it", self.leave, width="32%")
        self.other = controls.choice("Join it with", None, [], lambda _: None)
        join = controls.button("Join the two", self.join, width="48%", name="join")
        forget = controls.button("Forget its name", self.forget, tip="and its corners, if it was drawn", width="48%")
        self.typed_corners = controls.field("Corners, x, y; x, y; ...", "", lambda _: None, name="corners")
        new = controls.button("A new bed from these corners", self.draw_typed, width="96%")
        self.patch = controls.choice("Lawn, patio, gravel", None, [], self.choose_patch, name="patch")
        self.kind = controls.choice("Kind", PATCHES[0], PATCHES, lambda _: None)
        add = controls.button("Put one down", self.add_patch, width="48%", name="add-patch")
        gone = controls.button("Take it out", self.remove_patch, width="48%")
        fewer = controls.button("Fewer corners", self.simplify, tip="so that each can be dragged", width="48%")
        self.rounds = controls.tick("Show round places for small trees", True, lambda _: self.attempt(self._redraw))
        self.narrow = controls.tick("Show where it is narrow", False, lambda _: self.attempt(self._redraw))
        with_sun = controls.button("Work out the sun on the beds", self.show_sun, width="96%", name="bed-sun")
        self.table, self.findings = w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.chosen,
            self.name,
            self.soil,
            self.edging,
            self.drag,
            row(corners, follow),
            row(split, cut, leave),
            self.other,
            row(join, forget),
            self.typed_corners,
            new,
            heading("Ground that is not planted"),
            self.patch,
            self.kind,
            row(add, gone),
            fewer,
            heading("On the plan"),
            self.rounds,
            self.narrow,
            with_sun,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.table, self.findings])

    def refresh(self) -> None:
        """Show beds and patches as they stand."""
        worked = self.layout()
        names = [b.name for b in worked.beds]
        self.bed_name = refill(self.chosen, names, self.bed_name) or ""
        refill(self.other, [n for n in names if n != self.bed_name], self.other.bar.value)
        self.patch_name = refill(self.patch, [p.name for p in self.structure.patches], self.patch_name) or ""
        if self.bed_name:
            shape = self._shape()
            for box, value in ((self.name, shape.name), (self.soil, shape.soil), (self.edging, shape.edging_kind)):
                box.show(value)
        self._redraw()
        self.table.value = self._tables()
        found = [f for f in worked.findings if f.topic in ("bed", "reach")]
        self.findings.value = controls.findings_html(found, units=self.project.units)

    # --- handlers -----------------------------------------------------------------------------------------------

    def choose(self, name: str) -> None:
        """Turn to another bed."""
        self.bed_name, self.cut = name, ()
        self.attempt(self.refresh)

    def choose_patch(self, name: str) -> None:
        """Turn to another lawn or patio, and show its handles."""
        self.patch_name = name
        self.set_dragging(DRAGS[1])

    def set_dragging(self, what: str) -> None:
        """Show other handles."""
        self.dragging = what
        self.drag.show(what)
        self.attempt(self.refresh)

    def rename(self, typed: str) -> None:
        """Name the bed; a numbered leftover becomes a bed of its own by that."""
        self.attempt(self._rename, typed)

    def set(self, **changes: Any) -> None:
        """Set the soil or edging of the bed."""
        self.attempt(self._set, f"{next(iter(changes))} of {self.bed_name}", changes)

    def draw_corners(self) -> None:
        """Make the bed one with corners of its own, to be dragged."""
        self.attempt(self._draw_corners)

    def follow(self) -> None:
        """Let the bed be what the paths leave again."""
        self.attempt(self._set, f"{self.bed_name} follows the paths", {"outline": ()})

    def start_split(self) -> None:
        """Put a line across the bed, to be dragged before it is cut."""
        self.attempt(self._start_split)

    def cut_here(self) -> None:
        """Split the bed along the line."""
        self.attempt(self._cut_here)

    def leave(self) -> None:
        """Take the line away without cutting."""
        self.cut = ()
        self.attempt(self.refresh)

    def join(self) -> None:
        """Make one bed of two that touch."""
        self.attempt(self._join)

    def forget(self) -> None:
        """Let the bed be a numbered leftover again."""
        self.attempt(self._forget)

    def draw_typed(self) -> None:
        """Make a new bed from typed corners."""
        self.attempt(self._draw_typed)

    def add_patch(self) -> None:
        """Put down a lawn, patio or other patch in the roomiest place, to be dragged."""
        self.attempt(self._add_patch)

    def remove_patch(self) -> None:
        """Take the chosen patch out."""
        self.attempt(self._remove_patch)

    def simplify(self) -> None:
        """Give the chosen patch so few corners that each can be dragged."""
        self.attempt(self._simplify)

    def show_sun(self) -> None:
        """Work out the sun on every bed as things stand today."""
        self.message.say("working out the sun on the ground ...")
        if self.attempt(self._show_sun):
            self.message.say("")

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``between:2``, ``patch:0``, ``whole:``, ``cut:1:0`` or ``line:0``."""
        kind, _, which = handle.partition(":")
        if kind in ("corner", "between"):
            self._drop_corner(kind, int(which), at)
        elif kind in ("patch", "whole"):
            self._drop_patch(kind, which, at)
        elif kind == "line":
            self.cut = tuple(at if i == int(which) else p for i, p in enumerate(self.cut))
        elif kind == "cut":
            number, point = (int(part) for part in which.split(":"))
            line = tuple(at if i == point else p for i, p in enumerate(self.structure.cuts[number]))
            cuts = tuple(line if i == number else c for i, c in enumerate(self.structure.cuts))
            self.change("move a dividing line", lambda s: attrs.evolve(s, cuts=cuts))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _shape(self) -> BedShape:
        return by_name(self.layout().beds, self.bed_name, "bed")

    def _others(self, *more: Region, without: str = "") -> list[Region]:
        """Return the ground of the other beds."""
        return [b.region for b in self.layout().beds if b.name not in (self.bed_name, without)] + list(more)

    def _record(self) -> Bed:
        """Return the record of the chosen bed; a numbered leftover gets one."""
        shape = self._shape()
        known = next((b for b in self.structure.beds if b.name == shape.name), None)
        return known or Bed(name=shape.name, at=_spot(shape.at))

    def _set(self, label: str, changes: dict[str, Any], *, and_add: tuple[Bed, ...] = ()) -> None:
        old = self._record()
        new = attrs.evolve(old, **changes)

        def with_bed(s: Structure) -> Structure:
            kept = put(s.beds, old.name, new) if any(b.name == old.name for b in s.beds) else (*s.beds, new)
            return attrs.evolve(s, beds=(*kept, *and_add))

        before, self.bed_name = self.bed_name, new.name
        if not self.change(label, with_bed):
            self.bed_name = before

    def _rename(self, typed: str) -> None:
        if typed.strip() != self.bed_name:
            name = new_name(typed, [b.name for b in self.layout().beds], "bed")
            self._set(f"name {name}", {"name": name})

    def _draw_corners(self) -> None:
        self._set(
            f"draw the corners of {self.bed_name}", {"outline": corners_of(self._shape().region, others=self._others())}
        )
        self.set_dragging(DRAGS[0])

    def _start_split(self) -> None:
        self.cut = crossing_line(self._shape())
        self.message.say("drag the two ends of the line, then press Cut here")
        self._redraw()

    def _cut_here(self) -> None:
        if not self.cut:
            raise GardenError("there is no line yet; press Split it first and drag its ends")
        shape, record = self._shape(), self._record()
        line = dividing_cut(shape.region, self.cut, others=self._others())
        halves = cut_in_two(shape.region, line)
        own = 0 if plane.contains(halves[0], record.at) else 1
        name = free_name(f"{shape.name} 2", [b.name for b in self.layout().beds])
        inner = [_spot(plane.inscribed_circle(half)[0]) for half in halves]
        second = Bed(name=name, at=inner[1 - own], soil=record.soil, edging=record.edging)
        at = record.at if plane.contains(halves[own], record.at) else inner[own]
        if record.outline:
            second = attrs.evolve(second, outline=corners_of(halves[1 - own], others=self._others(halves[own])))
            self._set(
                f"split {shape.name}",
                {"outline": corners_of(halves[own], others=self._others(halves[1 - own]))},
                and_add=(second,),
            )
        else:
            first = attrs.evolve(record, at=at)
            kept = without(self.structure.beds, shape.name)
            self.change(
                f"split {shape.name}", lambda s: attrs.evolve(s, beds=(*kept, first, second), cuts=(*s.cuts, line))
            )
        self.cut = ()
        self.refresh()

    def _join(self) -> None:
        shape = self._shape()
        other = by_name(self.layout().beds, self.other.bar.value or "", "bed to join with")
        outline = joined(shape, other, others=self._others(without=other.name))
        kept = without(self.structure.beds, other.name)
        record = attrs.evolve(self._record(), outline=outline)
        beds = put(kept, record.name, record) if any(b.name == record.name for b in kept) else (*kept, record)
        self.change(f"join {shape.name} and {other.name}", lambda s: attrs.evolve(s, beds=beds))

    def _forget(self) -> None:
        name = self._shape().name
        if all(b.name != name for b in self.structure.beds):
            raise GardenError(f'"{name}" is only a number already; there is nothing to forget')
        self.change(f"forget {name}", lambda s: attrs.evolve(s, beds=without(s.beds, name)))

    def _draw_typed(self) -> None:
        outline = plane.outline(self.points(self.typed_corners.bar.value, "the new bed"), where="the new bed")
        region = plane.intersection(plane.region(outline), self.layout().ground)
        if plane.area(region) < self.structure.least_bed:
            raise GardenError("the new bed lies outside the open ground; give corners inside the boundary")
        name = free_name("New bed", [b.name for b in self.layout().beds])
        bed = Bed(name=name, at=_spot(plane.centre(region)), outline=outline)
        if self.change(f"draw {name}", lambda s: attrs.evolve(s, beds=(*s.beds, bed))):
            self.typed_corners.show("")
            self.choose(name)

    def _drop_corner(self, kind: str, index: int, at: Point) -> None:
        old = self._record().outline
        if kind == "between":
            outline: Outline = (*old[: index + 1], at, *old[index + 1 :])
        else:
            near = [old[index - 1], old[(index + 1) % len(old)]]
            if len(old) > 3 and any((at[0] - p[0]) ** 2 + (at[1] - p[1]) ** 2 < TOGETHER**2 for p in near):
                outline = (*old[:index], *old[index + 1 :])
            else:
                outline = tuple(at if i == index else p for i, p in enumerate(old))
        outline = plane.outline(outline, where=f'bed "{self.bed_name}"')
        self._set(f"move a corner of {self.bed_name}", {"outline": outline})

    def _drop_patch(self, kind: str, which: str, at: Point) -> None:
        patch = by_name(self.structure.patches, self.patch_name, "patch")
        if kind == "whole":
            x, y = plane.centre(plane.region(patch.outline))
            outline = moved(patch.outline, (at[0] - x, at[1] - y))
        else:
            corners = tuple(at if i == int(which) else p for i, p in enumerate(patch.outline))
            outline = plane.outline(corners, where=f'{patch.kind} "{patch.name}"')
        new = attrs.evolve(patch, outline=outline)
        self.change(f"move {patch.name}", lambda s: attrs.evolve(s, patches=put(s.patches, patch.name, new)))

    def _add_patch(self) -> None:
        worked, kind = self.layout(), self.kind.bar.value
        spots = sorted((c for b in worked.beds for c in b.pockets), key=lambda c: -c.radius)
        if not spots:
            raise GardenError(f"there is no free ground for a {kind}; make room first")
        (x, y), half = spots[0].at, spots[0].radius / 2**0.5
        outline = tuple(
            (round(x + dx * half, 3), round(y + dy * half, 3)) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        )
        name = free_name(kind, [p.name for p in self.structure.patches])
        patch = Patch(name=name, kind=kind, outline=outline)
        if self.change(f"put down {name}", lambda s: attrs.evolve(s, patches=(*s.patches, patch))):
            self.choose_patch(name)

    def _remove_patch(self) -> None:
        name = by_name(self.structure.patches, self.patch_name, "lawn or patio").name
        self.change(f"take out {name}", lambda s: attrs.evolve(s, patches=without(s.patches, name)))

    def _simplify(self) -> None:
        patch = by_name(self.structure.patches, self.patch_name, "lawn or patio")
        new = attrs.evolve(patch, outline=fewer_corners(patch.outline, most=MOST_CORNERS))
        self.change(
            f"fewer corners for {patch.name}", lambda s: attrs.evolve(s, patches=put(s.patches, patch.name, new))
        )

    def _show_sun(self) -> None:
        self.sun = sun_map(self.project)
        self.refresh()

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles = tuple(self._handles())
        self.plan.set_handles(self.handles)

    def _handles(self) -> list[Handle]:
        found = [
            Handle(id=f"line:{i}", kind="path", at=p, tip="end of the line to cut along")
            for i, p in enumerate(self.cut)
        ]
        if self.dragging == DRAGS[1] and self.patch_name:
            patch = by_name(self.structure.patches, self.patch_name, "patch")
            centre = plane.centre(plane.region(patch.outline))
            found.append(Handle(id="whole:", kind="seat", at=centre, tip=f"move {patch.name}"))
            if len(patch.outline) <= MOST_CORNERS:
                found += [Handle(id=f"patch:{i}", kind="path", at=p, tip="corner") for i, p in enumerate(patch.outline)]
        elif self.dragging == DRAGS[2]:
            found += [
                Handle(id=f"cut:{n}:{i}", kind="path", at=p, tip="dividing line")
                for n, line in enumerate(self.structure.cuts)
                for i, p in enumerate(line)
            ]
        elif self.bed_name and not self.cut:
            bed = next((b for b in self.structure.beds if b.name == self.bed_name), None)
            outline = bed.outline if bed is not None else ()
            found += [Handle(id=f"corner:{i}", kind="path", at=p, tip="corner") for i, p in enumerate(outline)]
            for i, a in enumerate(outline):
                b = outline[(i + 1) % len(outline)]
                if math.dist(a, b) > ROOM_BETWEEN:
                    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                    found.append(Handle(id=f"between:{i}", kind="stone", at=middle, tip="drag to add a corner"))
        return found

    def _tables(self) -> str:
        units = self.project.units
        rows = []
        for m in bed_measures(self.project, self.layout(), sun=self.sun):
            bed = m.bed
            tree = 2 * bed.pockets[0].radius if bed.pockets else 0.0
            rows.append(
                (
                    bed.name,
                    show_area(bed.area, units),
                    show_length(bed.perimeter, units),
                    show_length(bed.edging, units),
                    show_length(bed.depth, units),
                    show_length(bed.reach, units) if bed.reach < 1e6 else "nowhere to stand",
                    f"{m.slope.percent:.1f} %" if m.slope else "not measured",
                    f"{m.sun[0]:.1f} to {m.sun[1]:.1f} h" if m.sun else "not worked out",
                    m.soil,
                    f"a crown {show_length(tree, units)} across" if tree >= SMALL_TREE else "shrubs",
                )
            )
        season = "April to September" if self.project.site.place.latitude >= 0 else "October to March"
        heads = (
            "bed",
            "area",
            "round it",
            "edging",
            "depth across",
            "furthest reach",
            "slope",
            f"sun, {season}",
            "soil",
            "room for",
        )
        patches = [
            (
                p.name,
                p.kind,
                show_area(plane.area(r), units),
                show_length(plane.perimeter(r), units),
                f"about {int(plane.area(r) / area_for_people(1))}" if p.kind == "patio" else "",
            )
            for p in self.structure.patches
            if (r := self.layout().patches[p.name])
        ]
        ground = controls.table_html(("not planted", "", "area", "edge", "people at 25 sq ft each"), patches)
        return controls.table_html(heads, rows) + (f'<div style="height:10px"></div>{ground}' if patches else "")

    def scene(self) -> Scene:
        """Return the plan with round and narrow places and the line to cut along."""
        scale = plan_scale(self.project.site)
        return garden_scene(self.project, self.layout(), scale=scale, extra=tuple(self._marks()), textures=False)

    def _marks(self) -> list[Mark]:
        marks: list[Mark] = []
        units = self.project.units
        if self.cut:
            marks.append(Stroke(points=self.cut, colour="#9a2f14", width_mm=0.5, dash=(2.0, 1.0), layer="overlay"))
        for bed in self.layout().beds:
            if bed.name == self.bed_name:
                marks += [
                    Stroke(points=(*ring, ring[0]), colour="#b5521b", width_mm=0.6, layer="overlay", tip=bed.name)
                    for ring in plane.rings(bed.region)
                ]
            for circle in bed.pockets if self.rounds.bar.value else ():
                if 2 * circle.radius < SMALL_TREE and circle is not bed.pockets[0]:
                    continue
                across = show_length(2 * circle.radius, units)
                marks.append(
                    Disc(
                        at=circle.at,
                        radius=circle.radius,
                        fill="#2f6b3a",
                        stroke="#2f6b3a",
                        alpha=0.12,
                        layer="planting",
                        tip=f"room for a crown {across} across",
                    )
                )
                if 2 * circle.radius >= SMALL_TREE:
                    marks.append(
                        Label(
                            at=(circle.at[0], circle.at[1] - 0.5 * circle.radius),
                            text=across,
                            size_mm=2.0,
                            colour="#24512c",
                            layer="overlay",
                        )
                    )
            if self.narrow.bar.value and plane.area(bed.region) > 0:
                marks += [
                    Disc(at=at, radius=0.05, fill="#6a3d7c", layer="overlay", tip="narrow: upright growers only")
                    for at in spine_of(bed).narrower_than(NARROW)
                ]
        return marks

    def summary(self) -> str:
        """Return the beds in words."""
        units = self.project.units
        return "\n".join(f"bed {b.name}: {show_area(b.area, units)}" for b in self.layout().beds) or "No bed yet"


def _spot(at: Point) -> Point:
    return (round(float(at[0]), 3), round(float(at[1]), 3))
