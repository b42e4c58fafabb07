"""The bones of the garden: paths that bend while a slider moves, stones and beds that follow, points to drag."""

from typing import Any

import ipywidgets as w

from gardenkit.drawing.by_night import by_night
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.overlays import isovist_marks
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.garden.register import STRUCTURE
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.controls import Labelled
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import structure_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, heading, plan_scale, refill
from gardenkit.notebook.pages.bones_fields import SEAT, THING
from gardenkit.notebook.pages.seats import SeatsPage
from gardenkit.notebook.pages.stone import OneStone
from gardenkit.project import views
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import CABLE, PLACED, TAPE
from gardenkit.project.edits.records import by_name
from gardenkit.project.pointing import named_at, placed_at
from gardenkit.project.references import PATH_LINES
from gardenkit.project.season import early_summer
from gardenkit.structure.kinds import SURFACES
from gardenkit.structure.structure import Path
from gardenkit.units import INCH, show_area, show_length

HOURS = ("by day", "by night, by its lamps")
CHOOSES = ("path", SEAT.word, THING.word)


class StructurePage(SeatsPage):
    """Sliders for one path, the live plan, and what the change did to stones and beds."""

    def build(self) -> None:
        """Make the widgets, once."""
        names = [path.name for path in self.structure.paths]
        self.path_name = names[0] if names else ""
        self.dragging, self.stone, self.about = shown.DRAGS[0], -1, self.path_name
        path = self._path() if names else Path(name="", start="", end="")
        self.figures = w.HTML()
        self.advice = AdviceList(self, topics=STRUCTURE, chosen=self.redraw, first=self._chosen_names)
        self.of_a_path: list[w.Widget] = [
            *self._path_sliders(path),
            *self._stone_sliders(path),
            *self._path_choices(path),
        ]
        self.no_path = controls.label("There is no path yet: draw one, or add one in the step All paths.")
        self.of_stone = OneStone(self)
        seats = self.seat_controls()
        self.drag = controls.choice("Drag on the plan", self.dragging, shown.DRAGS, self.set_dragging, name="drag")
        nowhere = [("nowhere", "")]
        self.eye = controls.choice("Show sightlines from", "", nowhere, lambda _: self.redraw(), name="eye")
        self.hour = controls.choice("Plan drawn", HOURS[0], HOURS, lambda _: self.redraw(), name="plan-hour")
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words = ("path", "seat", *PLACED, CABLE, TAPE)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=CHOOSES)
        self.board = self.plan.board(self.edited)
        panel = [
            self.draw.widget,
            self.no_path,
            *self.of_a_path,
            self.of_stone.widget,
            *seats,
            heading("On the plan"),
            self.drag,
            self.eye,
            self.hour,
        ]
        panel += [self.undo_row(), self.figures]
        self.widget = controls.page(self.message, panel, self.board, [self.advice.widget])

    def _path_sliders(self, path: Path) -> list[Labelled]:
        names = [path.name] if path.name else []
        self.chosen = controls.choice("Path", path.name or None, names, self.choose, name="path")
        self.curvature = controls.slider(
            "Curvature", path.curvature, 0, 1, 0.01, lambda v: self.set(curvature=v), show="{:.0%}".format, name="curve"
        )
        self.sway = controls.slider(
            "Number of curves", path.sway, 0, 5, 1, lambda v: self.set(sway=int(v)), show=shown.curves, name="sway"
        )
        self.width = self._inches("Width", path.width, (18, 72, 1), "width", lambda v: self.set(width=v))
        return [self.chosen, self.curvature, self.sway, self.width]

    def _stone_sliders(self, path: Path) -> list[Labelled]:
        low, high, pace = path.stones.gap_low, path.stones.gap_high, path.stones.pace
        self.gap_low = self._inches(
            "Least gap between stones", low, (2, 10, 0.5), "gap-low", lambda v: self.set_stones(gap_low=v)
        )
        self.gap_high = self._inches(
            "Greatest gap", high, (3, 14, 0.5), "gap-high", lambda v: self.set_stones(gap_high=v)
        )
        self.pace = self._inches(
            "Pace, centre to centre", pace, (16, 34, 0.5), "pace", lambda v: self.set_stones(pace=v)
        )
        return [self.gap_low, self.gap_high, self.pace]

    def _path_choices(self, path: Path) -> list[w.Widget]:
        kinds = list(SURFACES)
        self.surface = controls.choice("Surface", path.surface, kinds, lambda v: self.set(surface=v), name="surface")
        sides = ["left", "right"]
        self.side = controls.choice("First curve", path.first_side, sides, lambda v: self.set(first_side=v))
        lines = list(PATH_LINES)
        self.line = controls.choice("Line", path.line, lines, lambda v: self.set(line=v), name="line")
        tip = "stones of other sizes and outlines, by the same rules"
        other = controls.button("Shuffle stones", self.other_stones, tip=tip, width="48%")
        free = controls.button("Unpin", self.unpin, tip="the path and its stones run by the sliders again", width="48%")
        return [self.line, self.side, self.surface, controls.row(other, free)]

    def _inches(self, text: str, metres: float, ends: tuple[float, float, float], name: str, changed: Any) -> Labelled:
        """Return a slider in inches, said in the garden's units, that calls with metres."""

        def said(inches: float) -> str:
            return show_length(inches * INCH, self.project.units, small=True)

        return controls.slider(text, metres / INCH, *ends, lambda v: changed(v * INCH), show=said, name=name)

    def refresh(self) -> None:
        """Redraw the plan and the figures from the records."""
        worked = self.layout()
        names = [path.name for path in self.structure.paths]
        self.path_name = refill(self.chosen, names, self.path_name) or ""
        self.no_path.layout.display = "none" if names else None
        for box in self.of_a_path:
            box.layout.display = None if names else "none"
        places = [(name, name) for name in views.places_to_look_from(self.project)]
        refill(self.eye, [("nowhere", ""), *places], self.eye.bar.value)
        self.show_seats()
        self.of_stone.refresh()
        self._redraw()
        self._show_controls()
        self.figures.value = shown.figures(self.garden, self.path_name, self.stone)
        self.advice.show()
        if worked.problems:
            self.message.problem("; ".join(worked.problems))

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose(self, name: str) -> None:
        """Turn the sliders to another path."""
        self.path_name, self.stone, self.about = name, -1, name
        self.refresh()

    @handler
    def click(self, at: Point) -> None:
        """Turn to the seat, thing, stone or path that was clicked on the plan."""
        placed = placed_at(self.structure, at)
        if placed is not None:
            self.about = placed.name
            super().click(at)
            self.set_dragging(shown.DRAGS[2])
            return
        name = named_at(self.project, at, ("path",))
        if name:
            stones = self.layout().layings[name].stones
            hit = next((s.number for s in stones if plane.contains(plane.region(s.outline), at)), -1)
            self.path_name, self.stone, self.about = name, hit, name
            self.chosen.show(name)
            self.set_dragging(shown.DRAGS[0 if hit < 0 else 1])

    def _chosen_names(self) -> tuple[str, ...]:
        return (self.about,)

    def show_drawn(self, what: str, name: str) -> None:
        """Turn to the path, cable, seat or thing that was just drawn."""
        if what == "path":
            self.choose(name)
        elif what == CABLE:
            self.cables.turn_to(name)
        elif name:
            self.about = name
            self.seats.turn_to(name)
            self.set_dragging(shown.DRAGS[2])

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self._redraw()

    def set(self, **changes: Any) -> None:
        """Change the chosen path by a slider; the moves of one slider are one step of undo."""
        name, key = self.path_name, next(iter(changes))
        self.edit(f"{key} of {name}", lambda p: edits.change_path(p, name, **changes), gesture=f"{name} {key}")

    def set_stones(self, **changes: Any) -> None:
        """Change how the stones are laid; a least gap above the greatest takes the greatest along."""
        name, key = self.path_name, next(iter(changes))
        label = f"{key.replace('_', ' ')} of {name}"
        self.edit(label, lambda p: edits.lay_stones(p, name, **changes), gesture=f"{name} {key}")

    def other_stones(self) -> None:
        """Shuffle the stones: other sizes and outlines by the same rules."""
        name = self.path_name
        self.edit(f"shuffle the stones of {name}", lambda p: edits.shuffle_stones(p, name))

    def unpin(self) -> None:
        """Unpin the points and stones put by hand on the chosen path."""
        name = self.path_name
        self.edit(f"unpin {name}", lambda p: edits.unpin(p, name))

    @handler
    def set_dragging(self, what: str) -> None:
        """Show handles for path points, stones or seats."""
        self.dragging = what
        self.drag.show(what)
        self.refresh()

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``held:0``, ``free:0.50``, ``stone:7``, ``seat:bench``, ``gate:side`` ..."""
        name, (kind, _, which) = self.path_name, handle.partition(":")
        match kind:
            case "seat":
                self.edit(f"move {which}", lambda p: edits.move_seat(p, which, to=at))
            case "thing":
                self.edit(f"move {which}", lambda p: edits.move_thing(p, which, to=at))
            case "gate":
                self.edit(f"move {which}", lambda p: site_edits.move_thing(p, which, to=at))
            case "stone":
                number = int(which)
                label = f"move stone {number + 1} of {name}"
                self.edit(label, lambda p: edits.move_stone(p, name, number, to=at))
            case "held":
                self.edit(f"move a point of {name}", lambda p: edits.move_point(p, name, int(which), to=at))
            case "free":
                self.edit(f"bend {name} by hand", lambda p: edits.add_point(p, name, at=at))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _path(self) -> Path:
        return by_name(self.structure.paths, self.path_name, "path")

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = shown.handles(
            self.garden, self.path_name, self.dragging, placed=self.placed()
        )
        self.plan.set_handles(self.handles)

    def _show_controls(self) -> None:
        if not self.path_name:
            return
        path = self._path()
        for box, value in (
            (self.curvature, path.curvature),
            (self.sway, path.sway),
            (self.width, path.width / INCH),
            (self.gap_low, path.stones.gap_low / INCH),
            (self.gap_high, path.stones.gap_high / INCH),
            (self.pace, path.stones.pace / INCH),
            (self.surface, path.surface),
            (self.side, path.first_side),
            (self.line, path.line),
        ):
            box.show(value)

    def scene(self) -> Scene:
        """Return the plan as it stands, with the ground in view when a place to look from is chosen."""
        scale = plan_scale(self.project.site, high_px=HIGH_PX)
        extra: tuple[Mark, ...] = self.advice.marks(scale)
        if self.eye.bar.value:
            eye, month = views.eye_at(self.project, self.eye.bar.value), early_summer(self.project.site)
            seen = views.look(self.project, eye, month=month)
            shape = plane.region(seen.outline())
            extra += isovist_marks(shape, seen.eye[:2], scale=scale, name=self.eye.bar.value)
        drawn = garden_scene(self.project, self.layout(), scale=scale, extra=extra)
        return by_night(drawn, self.structure.things) if self.hour.bar.value == HOURS[1] else drawn

    def summary(self) -> str:
        """Return the structure in words."""
        worked, units = self.layout(), self.project.units
        lines = [
            f"{name}: {show_length(route.length, units)}, {len(worked.layings[name].stones)} stones"
            for name, route in worked.routes.items()
        ]
        lines += [f"bed {bed.name}: {show_area(bed.area, units)}" for bed in worked.beds]
        return "\n".join(lines) or "No path yet"
