"""Paths added, locked and surfaced: other ways one might wander, what each costs, the cut list, what goes under it."""

from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Disc, Label, Mark, Scene, Stroke
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import (
    HIGH_PX,
    WIDTH_PX,
    BonesPage,
    by_name,
    heading,
    new_name,
    plan_scale,
    put,
    refill,
    row,
)
from gardenkit.project.layout import Layout, propose
from gardenkit.structure.build_up import cut_list, layers_for, take_off
from gardenkit.structure.meander import LONGEST, Meander
from gardenkit.structure.path_rules import SLOPES, WIDTHS, passes
from gardenkit.structure.safety import stone_weight
from gardenkit.structure.structure import HeldPoint, HeldStone, PalletStone, Path, Structure
from gardenkit.units import show_area, show_length, show_volume, show_weight

SURFACES = ("stepping stones", "flagstones", "paving", "gravel", "bark", "grass")
LOCK_AT = (0.2, 0.4, 0.6, 0.8)  # shares along a path where it is pinned when locked. House value.
WAYS = ("#7a3b12", "#20639b", "#6a3d7c", "#2f6b3a")  # colour and number of each way proposed; told apart by the number
MOST_CUTS = 40


class PathsPage(BonesPage):
    """One path at a time: its ends, surface and standard left, ways to wander on the plan, cut list below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.path_name = self.structure.paths[0].name if self.structure.paths else ""
        self.ways: tuple[Meander, ...] = ()
        self._ways_of: Path | None = None
        self.chosen = controls.choice("Path", None, [], self.choose, name="which-path")
        self.name = controls.field("Its name", "", self.rename, name="path-name")
        self.surface = controls.choice("Surface", SURFACES[0], SURFACES, lambda v: self.set(surface=v))
        self.use = controls.choice(
            "Wide enough for", "garden path", list(WIDTHS), lambda v: self.set(use=v), name="use"
        )
        self.rule = controls.choice("Slope held against", "trail", list(SLOPES), lambda v: self.set(slope_rule=v))
        self.clear = controls.field("Kept clear of walls", "", self.set_clear)
        self.joins = controls.slider(
            "Joins the other path at",
            0.5,
            0.05,
            0.95,
            0.01,
            lambda v: self.set(joins_at=v),
            show="{:.0%}".format,
            name="joins",
        )
        lock = controls.button(
            "Lock the path", self.lock_path, tip="pin it as it runs now", width="48%", name="lock-path"
        )
        stones = controls.button("Lock the stones", self.lock_stones, tip="keep every stone where it lies", width="48%")
        self.held = controls.choice("Held by hand", None, [], lambda _: None)
        free = controls.button("Let go of it", self.release, width="48%")
        free_all = controls.button("Let go of all", self.release_all, width="48%")
        self.length = controls.slider(
            "At most this much longer than direct", LONGEST, 1.05, 2.0, 0.05, lambda _: None, show="{:.2f} times".format
        )
        look = controls.button("Look for ways to wander", self.search, name="search", width="96%")
        self.way = controls.choice("Way", None, [], lambda _: self.attempt(self._redraw), name="way")
        take = controls.button("Take this one", self.take, name="take-way", width="96%")
        self.pallet = w.Textarea(placeholder=self._pallet_hint(), layout=w.Layout(width="96%", height="76px"))
        use_pallet = controls.button("Lay from this pallet", self.set_pallet, width="96%", name="pallet")
        self.thick = controls.field("Thickness of the stone", "", self.set_thickness)
        self.new = controls.field("A new path called", "", lambda _: None, name="new-path")
        self.start = controls.choice("From", None, [], lambda _: None, name="from")
        self.end = controls.choice("To", None, [], lambda _: None, name="to")
        add = controls.button("Add the path", self.add, width="48%", name="add-path")
        gone = controls.button("Remove this path", self.remove, width="48%", name="remove-path")
        self.trade, self.below = w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.chosen,
            self.name,
            self.surface,
            self.use,
            self.rule,
            self.clear,
            self.joins,
            heading("Ways to wander"),
            self.length,
            look,
            self.way,
            take,
            heading("Keep what is good"),
            row(lock, stones),
            self.held,
            row(free, free_all),
            heading("Another path"),
            self.new,
            self.start,
            self.end,
            row(add, gone),
            heading("Stones you have"),
            self.thick,
            self.pallet,
            use_pallet,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.trade, self.below])

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
        self.below.value = self._tables(worked) if self.path_name in worked.routes else ""
        if worked.problems:
            self.message.problem("; ".join(worked.problems))

    def places(self) -> list[str]:
        """Return the names a path may go between, paths left out."""
        return [
            *(o.name for o in self.project.site.doors_and_gates()),
            *(s.name for s in self.structure.seats),
            *(p.name for p in self.structure.patches),
        ]

    # --- handlers -----------------------------------------------------------------------------------------------

    def choose(self, name: str) -> None:
        """Turn to another path."""
        self.path_name, self.ways = name, ()
        self.attempt(self.refresh)

    def set(self, **changes: Any) -> None:
        """Change the chosen path; the moves of one slider are one step of undo."""
        key = next(iter(changes))
        self.attempt(self._set, f"{key.replace('_', ' ')} of {self.path_name}", changes, f"{self.path_name} {key}")

    def rename(self, typed: str) -> None:
        """Give the path another name; paths that join it follow."""
        self.attempt(self._rename, typed)

    def set_clear(self, typed: str) -> None:
        """Keep the path a typed distance off walls and obstacles."""
        self.attempt(lambda: self._set("clear of walls", {"clear_of_walls": self.metres(typed, "the distance")}))

    def set_thickness(self, typed: str) -> None:
        """Set how thick the stone is."""
        self.attempt(self._set_thickness, typed)

    def set_pallet(self) -> None:
        """Lay the stones of a pallet the designer has measured: on each line how many, over and along the path."""
        self.attempt(self._set_pallet)

    def lock_path(self) -> None:
        """Pin the path as it runs now, so that no slider moves it."""
        self.attempt(self._lock_path)

    def lock_stones(self) -> None:
        """Keep every stone where it lies."""
        self.attempt(self._lock_stones)

    def release(self) -> None:
        """Let go of the chosen held point or stone."""
        self.attempt(self._release)

    def release_all(self) -> None:
        """Let the path and its stones run by the sliders again."""
        self.attempt(self._set, f"let go of {self.path_name}", {"held": (), "held_stones": ()})

    def search(self) -> None:
        """Look for ways the path might wander; nothing is changed before one is taken."""
        self.message.say("trying ways round what stands there ...")
        if self.attempt(self._search):
            self.message.say(f"{len(self.ways)} ways found; choose one and take it, or leave the path as it is")

    def take(self) -> None:
        """Take the chosen way."""
        self.attempt(self._take)

    def add(self) -> None:
        """Add a path between two places, or from a place to another path."""
        self.attempt(self._add)

    def remove(self) -> None:
        """Take the chosen path out."""
        self.attempt(self._remove)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged held point."""
        index = int(handle.partition(":")[2])
        held = tuple(HeldPoint(at=at) if i == index else p for i, p in enumerate(self._path().held))
        self._set(f"move a point of {self.path_name}", {"held": held})

    # --- helpers ------------------------------------------------------------------------------------------------

    def _path(self) -> Path:
        return by_name(self.structure.paths, self.path_name, "path")

    def _set(self, label: str, changes: dict[str, Any], gesture: str = "") -> None:
        name = self._path().name

        def with_path(s: Structure) -> Structure:
            changed = attrs.evolve(by_name(s.paths, name, "path"), **changes)
            return attrs.evolve(s, paths=put(s.paths, name, changed))

        self.change(label, with_path, gesture=gesture)

    def _rename(self, typed: str) -> None:
        old = self._path().name
        if typed.strip() == old:
            return
        new = new_name(typed, [*self.places(), *(p.name for p in self.structure.paths)], "path")
        swap = {old: new}

        def renamed(s: Structure) -> Structure:
            paths = tuple(
                attrs.evolve(
                    p, name=swap.get(p.name, p.name), start=swap.get(p.start, p.start), end=swap.get(p.end, p.end)
                )
                for p in s.paths
            )
            return attrs.evolve(s, paths=paths)

        self.path_name = new
        if not self.change(f"rename {old}", renamed):
            self.path_name = old

    def _set_thickness(self, typed: str) -> None:
        thick = self.metres(typed, "the thickness of the stone")
        if not 0.01 <= thick <= 0.3:
            raise GardenError(f"stone {self.typed(thick)} thick is not for a path; give half an inch to a foot")
        self._set("thickness of the stone", {"stones": attrs.evolve(self._path().stones, thickness=thick)})

    def _set_pallet(self) -> None:
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
        self._set("pallet", {"stones": attrs.evolve(self._path().stones, pallet=tuple(stones))})

    def _lock_path(self) -> None:
        route = self.layout().routes.get(self._path().name)
        if route is None:
            raise GardenError(f'path "{self.path_name}" does not run anywhere, so there is nothing to lock')
        spots = [route.curve.at(share * route.length)[0] for share in LOCK_AT]
        held = tuple(HeldPoint(at=(round(float(x), 3), round(float(y), 3))) for x, y in spots)
        self._set(f"lock {self.path_name}", {"held": held})

    def _lock_stones(self) -> None:
        laid = self.layout().layings.get(self._path().name)
        if laid is None or not laid.stones or self._path().surface != "stepping stones":
            raise GardenError(f'path "{self.path_name}" has no stepping stones to lock; choose that surface first')
        own = {h.number: h for h in self._path().held_stones}
        held = tuple(
            own.get(s.number, HeldStone(number=s.number, at=(round(s.at[0], 3), round(s.at[1], 3))))
            for s in laid.stones
        )
        self._set(f"lock the stones of {self.path_name}", {"held_stones": held})

    def _release(self) -> None:
        chosen, path = self.held.bar.value, self._path()
        if not chosen:
            raise GardenError(f'nothing on path "{path.name}" is held by hand')
        kind, which = chosen
        if kind == "point":
            self._set("let go of a point", {"held": tuple(p for i, p in enumerate(path.held) if i != which)})
        else:
            kept = tuple(h for h in path.held_stones if h.number != which)
            self._set("let go of a stone", {"held_stones": kept})

    def _search(self) -> None:
        self.ways = propose(self.project, self._path().name, length_factor=self.length.bar.value)
        self._ways_of = self._path()
        refill(self.way, [(f"{i + 1}: {m.goal}", i) for i, m in enumerate(self.ways)], None)
        self._redraw()

    def _take(self) -> None:
        if not self.ways or self.way.bar.value is None:
            raise GardenError("no way is chosen; look for ways to wander first")
        way = self.ways[self.way.bar.value].path
        self._set(
            f"{self.ways[self.way.bar.value].goal} for {self.path_name}",
            {"bend": way.bend, "sway": way.sway, "first_side": way.first_side},
        )

    def _add(self) -> None:
        known = [*self.places(), *(p.name for p in self.structure.paths)]
        name = new_name(self.new.bar.value, known, "path")
        start, end = self.start.bar.value, self.end.bar.value
        if start is None or end is None or start == end:
            raise GardenError("a path needs two different places; choose where it starts and where it ends")
        path = Path(name=name, start=start, end=end)
        if self.change(f"add {name}", lambda s: attrs.evolve(s, paths=(*s.paths, path))):
            self.new.show("")
            self.choose(name)

    def _remove(self) -> None:
        name = self._path().name
        joined = [p.name for p in self.structure.paths if name in (p.start, p.end)]
        if joined:
            raise GardenError(f'path "{joined[0]}" joins "{name}"; remove or turn that one first')
        self.change(f"remove {name}", lambda s: attrs.evolve(s, paths=tuple(p for p in s.paths if p.name != name)))

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
        if self._ways_of is not None and attrs.evolve(path, bend=0, sway=0, first_side="left") != attrs.evolve(
            self._ways_of, bend=0, sway=0, first_side="left"
        ):
            self.ways, self._ways_of = (), None
        refill(self.way, [(f"{i + 1}: {m.goal}", i) for i, m in enumerate(self.ways)], self.way.bar.value)

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        held = self._path().held if self.path_name else ()
        self.handles = tuple(
            Handle(id=f"held:{i}", kind="path", at=p.at, tip=f"held point {i + 1}") for i, p in enumerate(held)
        )
        self.plan.set_handles(self.handles)
        self.trade.value = self._trade_table()

    def _trade_table(self) -> str:
        units = self.project.units
        rows = [
            (
                i + 1,
                m.goal,
                show_length(m.length, units),
                f"{100 * (m.factor - 1):.0f} % longer than direct",
                f"a crown {show_length(2 * m.pocket, units)} across",
                show_length(m.straight_view, units),
                "not known" if m.steepest is None else f"{m.steepest:.1f} %",
            )
            for i, m in enumerate(self.ways)
        ]
        heads = ("", "best for", "length", "against direct", "room beside it for", "longest straight look", "steepest")
        return controls.table_html(heads, rows, caption="Ways to wander, and what each costs") if rows else ""

    def _tables(self, worked: Layout) -> str:
        path, units = self._path(), self.project.units
        laid, region = worked.layings[path.name], worked.surfaces[path.name]
        layers = layers_for(path.surface)
        off = take_off(region, path.surface, laid, path.stones, sides=2 * worked.routes[path.name].length)
        rows = [
            ("surface", path.surface, show_area(off.area, units)),
            ("wide enough for", ", ".join(passes(path.width)) or "nobody by the named figures", ""),
            ("dig out", "", show_volume(off.dug, units)),
            ("base", f"{show_length(layers.base, units, small=True)} deep", show_volume(off.base, units)),
            ("bedding", f"{show_length(layers.bedding, units, small=True)} deep", show_volume(off.bedding, units)),
            ("loose", f"{show_length(layers.surface, units, small=True)} deep", show_volume(off.surface, units)),
            ("stone", f"{len(laid.stones)} stones", show_weight(off.stone_weight, units)),
            ("between the stones", "for creeping plants or joint filling", show_area(off.joint_area, units)),
            ("joint filling", "", show_volume(off.joint, units)),
            ("edging, both sides", "", show_length(off.edging, units)),
        ]
        kept = [r for r in rows if not r[2].startswith("0") or r[0] in ("surface",)]
        made = controls.table_html(("what goes into it", "", ""), kept)
        cuts = [
            (
                c.number + 1,
                f"{show_length(c.across, units, small=True)} x {show_length(c.along, units, small=True)}",
                show_weight(c.weight, units),
                show_weight(stone_weight(c.across, c.along, c.thickness), units),
            )
            for c in cut_list(laid, path.stones)[:MOST_CUTS]
        ]
        heads = ("stone", "cut from, over x along", "weighs", "before cutting")
        cut = controls.table_html(heads, cuts, caption="Cut list, largest first") if cuts else ""
        where = f'path "{path.name}"'
        found: list[Finding] = [f for f in worked.findings if f.where.startswith(where)]
        said = controls.findings_html(found, units=units, limit=20)
        scroll = f'<div style="max-height:300px;overflow:auto">{cut}</div>'
        side = f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{made}{scroll}</div>'
        return side + said

    def _pallet_hint(self) -> str:
        return "12 x 24 in x 18 in" if self.project.units == "imperial" else "12 x 0.60 m x 0.45 m"

    def scene(self) -> Scene:
        """Return the plan with the ways proposed."""
        return garden_scene(
            self.project,
            self.layout(),
            scale=plan_scale(self.project.site),
            extra=self._ways_drawn(),
            textures=False,
        )

    def _ways_drawn(self) -> tuple[Mark, ...]:
        marks: list[Mark] = []
        for i, m in enumerate(self.ways):
            chosen, colour = self.way.bar.value == i, WAYS[i % len(WAYS)]
            line = tuple((float(x), float(y)) for x, y in m.route.curve.points[::4])
            tip = f"{i + 1}: {m.goal}"
            marks.append(
                Stroke(
                    points=line,
                    colour=colour,
                    width_mm=0.7 if chosen else 0.35,
                    dash=() if chosen else (2.0, 1.2),
                    layer="overlay",
                    tip=tip,
                )
            )
            x, y = m.route.curve.at((0.35 + 0.1 * i) * m.length)[0]
            at = (float(x), float(y))
            marks.append(
                Disc(at=at, radius=0.24, fill="#fdfcf8", stroke=colour, width_mm=0.3, layer="overlay", tip=tip)
            )
            marks.append(Label(at=at, text=str(i + 1), size_mm=2.6, colour=colour, bold=True, layer="overlay"))
        return tuple(marks)

    def summary(self) -> str:
        """Return the paths in words."""
        worked = self.layout()
        lines = [
            f"{p.name}: from {p.start} to {p.end}, {p.surface}" for p in self.structure.paths if p.name in worked.routes
        ]
        return "\n".join(lines) or "No path yet"
