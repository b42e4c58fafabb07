"""Paths added, pinned and surfaced: route options and what each costs, the cut list, the materials."""

from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import paths_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, plan_scale, refill, row
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.records import by_name
from gardenkit.project.layout import propose
from gardenkit.structure.kinds import SURFACES
from gardenkit.structure.meander import LONGEST, Meander
from gardenkit.structure.path_rules import SLOPES, WIDTHS
from gardenkit.structure.structure import PalletStone, Path


class PathsPage(BonesPage):
    """One path at a time: its ends, surface and standard left, route options on the plan, cut list below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.path_name = self.structure.paths[0].name if self.structure.paths else ""
        self.ways: tuple[Meander, ...] = ()
        self._ways_of: Path | None = None
        self.trade, self.below = w.HTML(), w.HTML()
        own, routes = self._path_controls(), self._route_controls()
        panel = [*own, *routes, *self._pin_controls(), *self._new_controls(), *self._pallet_controls()]
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel.append(self.undo_row())
        self.widget = controls.page(self.message, panel, self.board, [self.trade, self.below])

    def _path_controls(self) -> list[w.Widget]:
        self.chosen = controls.choice("Path", None, [], self.choose, name="which-path")
        self.name = controls.field("Name", "", self.rename, name="path-name")
        first = next(iter(SURFACES))
        self.surface = controls.choice("Surface", first, list(SURFACES), lambda v: self.set(surface=v))
        self.use = controls.choice(
            "Design width for", "garden path", list(WIDTHS), lambda v: self.set(use=v), name="use"
        )
        self.rule = controls.choice("Slope standard", "trail", list(SLOPES), lambda v: self.set(slope_rule=v))
        self.clear = controls.field("Kept clear of walls", "", self.set_clear)
        share = "{:.0%}".format
        self.joins = controls.slider(
            "Joins the other path at", 0.5, 0.05, 0.95, 0.01, lambda v: self.set(joins_at=v), show=share, name="joins"
        )
        return [self.chosen, self.name, self.surface, self.use, self.rule, self.clear, self.joins]

    def _route_controls(self) -> list[w.Widget]:
        times = "{:.2f} times".format
        self.length = controls.slider(
            "At most this much longer than direct", LONGEST, 1.05, 2.0, 0.05, lambda _: None, show=times
        )
        look = controls.button("Find route options", self.search, name="search", width="96%")
        self.way = controls.choice("Option", None, [], lambda _: self.redraw(), name="way")
        take = controls.button("Use this route", self.take, name="take-way", width="96%")
        return [heading("Route options"), self.length, look, self.way, take]

    def _pin_controls(self) -> list[w.Widget]:
        tip = "keep it as it runs now"
        lock = controls.button("Pin the path", self.pin_path, tip=tip, width="48%", name="lock-path")
        stones = controls.button("Pin the stones", self.pin_stones, tip="keep every stone where it lies", width="48%")
        self.held = controls.choice("Pinned", None, [], lambda _: None)
        free = controls.button("Unpin", self.release, width="48%")
        free_all = controls.button("Unpin all", self.release_all, width="48%")
        return [heading("Keep what is good"), row(lock, stones), self.held, row(free, free_all)]

    def _new_controls(self) -> list[w.Widget]:
        self.new = controls.field("A new path called", "", lambda _: None, name="new-path")
        self.start = controls.choice("From", None, [], lambda _: None, name="from")
        self.end = controls.choice("To", None, [], lambda _: None, name="to")
        add = controls.button("Add path", self.add, width="48%", name="add-path")
        gone = controls.button("Delete path", self.remove, width="48%", name="remove-path")
        return [heading("Another path"), self.new, self.start, self.end, row(add, gone)]

    def _pallet_controls(self) -> list[w.Widget]:
        self.pallet = w.Textarea(placeholder=self._pallet_hint(), layout=w.Layout(width="96%", height="76px"))
        use_pallet = controls.button("Lay from this pallet", self.set_pallet, width="96%", name="pallet")
        self.thick = controls.field("Thickness of the stone", "", self.set_thickness)
        return [heading("Stones you have"), self.thick, self.pallet, use_pallet]

    def refresh(self) -> None:
        """Show the chosen path as it stands."""
        names = [p.name for p in self.structure.paths]
        self.path_name = refill(self.chosen, names, self.path_name) or ""
        places = self.places()
        refill(self.start, places, self.start.bar.value)
        refill(self.end, [*places, *names], self.end.bar.value or next(iter(places[1:]), None))
        if self.path_name:
            self._show(self._path())
        self._redraw()
        worked = self.layout()
        self.below.value = shown.tables(self.garden, self._path()) if self.path_name in worked.routes else ""
        if worked.problems:
            self.message.problem("; ".join(worked.problems))

    def places(self) -> list[str]:
        """Return the names a path may go between, paths left out."""
        return list(edits.places(self.project))

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose(self, name: str) -> None:
        """Turn to another path."""
        self.path_name, self.ways = name, ()
        self.refresh()

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self._redraw()

    def set(self, **changes: Any) -> None:
        """Change the chosen path; the moves of one slider are one step of undo."""
        name, key = self.path_name, next(iter(changes))
        label = f"{key.replace('_', ' ')} of {name}"
        self.edit(label, lambda p: edits.change_path(p, name, **changes), gesture=f"{name} {key}")

    def rename(self, typed: str) -> None:
        """Give the path another name; paths that join it follow."""
        old, new = self.path_name, " ".join(typed.split())
        self.path_name = new
        if new == old or not self.edit(f"rename {old}", lambda p: edits.rename_path(p, old, to=new)):
            self.path_name = old

    @handler
    def set_clear(self, typed: str) -> None:
        """Keep the path a typed distance off walls and obstacles."""
        self.set(clear_of_walls=self.metres(typed, "the distance"))

    @handler
    def set_thickness(self, typed: str) -> None:
        """Set how thick the stone is."""
        name, thick = self.path_name, self.metres(typed, "the thickness of the stone")
        self.edit("thickness of the stone", lambda p: edits.lay_stones(p, name, thickness=thick))

    @handler
    def set_pallet(self) -> None:
        """Lay the stones of a pallet the designer has measured: on each line how many, over and along the path."""
        name, stones = self.path_name, self._pallet_stones()
        self.edit("pallet", lambda p: edits.set_pallet(p, name, stones))

    def pin_path(self) -> None:
        """Pin the path as it runs now, so that no slider moves it."""
        name = self.path_name
        self.edit(f"pin {name}", lambda p: edits.pin_path(p, name))

    def pin_stones(self) -> None:
        """Keep every stone where it lies."""
        name = self.path_name
        self.edit(f"pin the stones of {name}", lambda p: edits.pin_stones(p, name))

    @handler
    def release(self) -> None:
        """Unpin the chosen point or stone."""
        name, chosen = self.path_name, self.held.bar.value
        if not chosen:
            raise GardenError(f'nothing on path "{name}" is pinned')
        kind, which = chosen
        undo = edits.unpin_point if kind == "point" else edits.unpin_stone
        self.edit(f"unpin a {kind}", lambda p: undo(p, name, which))

    def release_all(self) -> None:
        """Let the path and its stones run by the sliders again."""
        name = self.path_name
        self.edit(f"unpin {name}", lambda p: edits.unpin(p, name))

    @handler
    def search(self) -> None:
        """Look for route options; nothing is changed before one is used."""
        self.message.say("trying routes round what stands there ...")
        self.ways = propose(self.project, self._path().name, length_factor=self.length.bar.value)
        self._ways_of = self._path()
        refill(self.way, shown.way_names(self.ways), None)
        self._redraw()
        self.message.say(f"{len(self.ways)} routes found; choose one and use it, or leave the path as it is")

    @handler
    def take(self) -> None:
        """Use the chosen route."""
        if not self.ways or self.way.bar.value is None:
            raise GardenError("no route is chosen; find route options first")
        name, chosen = self.path_name, self.ways[self.way.bar.value]
        bends = {"bend": chosen.path.bend, "sway": chosen.path.sway, "first_side": chosen.path.first_side}
        self.edit(f"{chosen.goal} for {name}", lambda p: edits.use_route(p, name, **bends))

    def add(self) -> None:
        """Add a path between two places, or from a place to another path."""
        name = self.new.bar.value
        start, end = self.start.bar.value or "", self.end.bar.value or ""
        if self.edit(f"add {name}", lambda p: edits.add_path(p, name, start=start, end=end)):
            self.new.show("")
            self.choose(self.structure.paths[-1].name)

    def remove(self) -> None:
        """Delete the chosen path."""
        name = self.path_name
        self.edit(f"delete {name}", lambda p: edits.remove_path(p, name))

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged pinned point."""
        name, index = self.path_name, int(handle.partition(":")[2])
        self.edit(f"move a point of {name}", lambda p: edits.move_point(p, name, index, to=at))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _path(self) -> Path:
        return by_name(self.structure.paths, self.path_name, "path")

    def _pallet_stones(self) -> tuple[PalletStone, ...]:
        stones = []
        for number, line in enumerate((x for x in self.pallet.value.splitlines() if x.strip()), 1):
            parts = [part.strip() for part in line.replace("×", "x").split(" x ")]
            if len(parts) != 3 or not parts[0].isdigit() or int(parts[0]) < 1:
                raise GardenError(
                    f'line {number} of the pallet ("{line.strip()}") cannot be read; write how many x over x along, '
                    f"such as {self._pallet_hint()}"
                )
            over, along = (self.metres(part, f"line {number} of the pallet") for part in parts[1:])
            stones.append(PalletStone(across=over, along=along, count=int(parts[0])))
        return tuple(stones)

    def _show(self, path: Path) -> None:
        names = {p.name for p in self.structure.paths}
        for box, value in (
            (self.name, path.name),
            (self.surface, path.surface),
            (self.use, path.use),
            (self.rule, path.slope_rule),
            (self.joins, path.joins_at),
            (self.clear, self.typed(path.clear_of_walls)),
            (self.thick, self.typed(path.stones.thickness)),
        ):
            box.show(value)
        self.joins.layout.display = None if {path.start, path.end} & names else "none"
        held: list[tuple[str, tuple[str, int]]] = [(f"point {i + 1}", ("point", i)) for i in range(len(path.held))]
        held += [(f"stone {h.number + 1}", ("stone", h.number)) for h in path.held_stones]
        refill(self.held, held or [("nothing", "")], self.held.bar.value)
        straight: dict[str, Any] = {"bend": 0, "sway": 0, "first_side": "left"}
        searched = self._ways_of
        if searched is not None and attrs.evolve(path, **straight) != attrs.evolve(searched, **straight):
            self.ways, self._ways_of = (), None
        refill(self.way, shown.way_names(self.ways), self.way.bar.value)

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        held = self._path().held if self.path_name else ()
        self.handles: tuple[Handle, ...] = tuple(
            Handle(id=f"held:{i}", kind="path", at=p.at, tip=f"pinned point {i + 1}") for i, p in enumerate(held)
        )
        self.plan.set_handles(self.handles)
        self.trade.value = shown.trade_table(self.ways, self.project.units)

    def _pallet_hint(self) -> str:
        return "12 x 24 in x 18 in" if self.project.units == "imperial" else "12 x 0.60 m x 0.45 m"

    def scene(self) -> Scene:
        """Return the plan with the route options."""
        marks = shown.ways_drawn(self.ways, self.way.bar.value)
        scale = plan_scale(self.project.site)
        return garden_scene(self.project, self.layout(), scale=scale, extra=marks, textures=False)

    def summary(self) -> str:
        """Return the paths in words."""
        worked = self.layout()
        lines = [
            f"{p.name}: from {p.start} to {p.end}, {p.surface}" for p in self.structure.paths if p.name in worked.routes
        ]
        return "\n".join(lines) or "No path yet"
