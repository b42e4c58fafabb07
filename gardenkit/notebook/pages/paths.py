"""Paths added, pinned and surfaced: route options and what each costs, the cut list, the materials."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import paths_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale, refill
from gardenkit.notebook.pages.paths_lights import LightsAlong
from gardenkit.notebook.pages.paths_parts import AnotherPath, OnePath, Pinned, RouteOptions, StonesOneHas
from gardenkit.notebook.pages.paths_steps import Flights
from gardenkit.notebook.pages.paths_turns import Turns
from gardenkit.notebook.pages.silhouettes import StoneOfAPicture
from gardenkit.notebook.part import Part
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import CUT, TAPE
from gardenkit.project.edits.records import by_name
from gardenkit.project.pointing import named_at
from gardenkit.structure.structure import Path


class PathsPage(BonesPage):
    """One path at a time: its ends, surface and standard left, route options on the plan, cut list below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.path_name = self.structure.paths[0].name if self.structure.paths else ""
        self.chosen = controls.choice("Path", None, [], self.choose, name="which-path")
        self.one, self.routes, self.pinned = OnePath(self), RouteOptions(self), Pinned(self)
        self.another, self.stones = AnotherPath(self), StonesOneHas(self)
        self.flights, self.turns, self.silhouette = Flights(self), Turns(self), StoneOfAPicture(self)
        self.lights = LightsAlong(self)
        self.of_path: tuple[Part, ...] = (
            self.one,
            self.routes,
            self.turns,
            self.flights,
            self.lights,
            self.pinned,
            self.stones,
        )
        self.bends, self.materials = w.HTML(), w.HTML()
        self.advice = AdviceList(self, about=self._is_about, chosen=self.redraw, topics=shown.TOPICS)
        parts = (*self.of_path[:-1], self.another, self.stones, self.silhouette)
        panel = [self.chosen, *(control for part in parts for control in part.controls), self.undo_row()]
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words, own = ("path", CUT, TAPE), (self.turns.pocket,)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=("path",), own=own)
        panel.insert(0, self.draw.widget)
        self.board = self.plan.board(self.edited)
        below = [self.routes.table, self.flights.table, self.bends, self.materials, self.advice.widget]
        self.widget = controls.page(self.message, panel, self.board, below)

    def refresh(self) -> None:
        """Show the chosen path as it stands."""
        self.path_name = refill(self.chosen, [p.name for p in self.structure.paths], self.path_name) or ""
        self.another.refresh()
        for part in self.of_path if self.path_name else ():
            part.refresh()
        self.redraw()
        worked = self.garden.layout
        runs = self.path_name in worked.routes
        self.materials.value = shown.tables(self.garden, self.path()) if runs else ""
        self.bends.value = shown.bends(worked.routes[self.path_name], self.project.units) if runs else ""
        self.advice.show()
        if worked.problems:
            self.message.problem("; ".join(worked.problems))

    # --- handlers -----------------------------------------------------------------------------------------------

    def show_drawn(self, what: str, name: str) -> None:
        """Turn to the path that was just drawn; a stone of its own outline shows in the path it lies in."""
        if what == "path" and name:
            self.choose(name)

    @handler
    def choose(self, name: str) -> None:
        """Turn to another path."""
        self.path_name = name
        self.routes.forget()
        self.refresh()

    @handler
    def click(self, at: Point) -> None:
        """Turn to the path that was clicked on the plan."""
        name = named_at(self.project, at, ("path",))
        if name and name != self.path_name:
            self.choose(name)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged pinned point."""
        name, index = self.path_name, int(handle.partition(":")[2])
        self.edit(f"move a point of {name}", lambda p: edits.move_point(p, name, index, to=at))

    # --- what is shown ------------------------------------------------------------------------------------------

    def path(self) -> Path:
        """Return the chosen path. Raises GardenError when there is none."""
        return by_name(self.structure.paths, self.path_name, "path")

    def redraw(self) -> None:
        """Draw the plan again, with the route options and the pinned points."""
        self.plan.update(self.scene())
        held = self.path().held if self.path_name else ()
        self.handles: tuple[Handle, ...] = tuple(
            Handle(id=f"held:{i}", kind="path", at=p.at, tip=f"pinned point {i + 1}") for i, p in enumerate(held)
        )
        self.plan.set_handles(self.handles)
        self.routes.table.value = shown.trade_table(self.routes.ways, self.project.units)

    def _is_about(self, line: Finding) -> bool:
        return shown.is_about(line, self.path_name)

    def scene(self) -> Scene:
        """Return the plan with the route options."""
        scale = plan_scale(self.project.site)
        marks = shown.ways_drawn(self.routes.ways, self.routes.way.bar.value)
        lit = self.advice.marks(scale)
        return garden_scene(self.project, self.garden.layout, scale=scale, extra=(*marks, *lit), textures=False)

    def summary(self) -> str:
        """Return the paths in words."""
        routes = self.garden.layout.routes
        lines = [f"{p.name}: from {p.start} to {p.end}, {p.surface}" for p in self.structure.paths if p.name in routes]
        return "\n".join(lines) or "No path yet"
