"""The bones of the garden: paths that bend while a slider moves, stones and beds that follow, points to drag."""

from collections.abc import Callable
from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.overlays import isovist_marks
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale, refill, row
from gardenkit.project import views
from gardenkit.project.layout import Layout
from gardenkit.structure.structure import HeldPoint, HeldStone, Path, StoneChoice, Structure
from gardenkit.units import INCH, show_area, show_length, show_weight

SURFACES = ("stepping stones", "flagstones", "paving", "gravel", "bark", "grass")
FREE_HANDLES = (0.25, 0.5, 0.75)  # shares along a path where it can be taken hold of
PathChange = Callable[[Path], Path]


class StructurePage(BonesPage):
    """Sliders for one path, the live plan, and what the change did to stones and beds."""

    def build(self) -> None:
        """Make the widgets, once."""
        names = [path.name for path in self.project.structure.paths]
        self.path_name = names[0] if names else ""
        self.dragging = "path points"
        stone = self._path().stones if names else StoneChoice()
        path = self._path() if names else Path(name="", start="", end="")
        inches = "{:.1f} in".format if self.project.units == "imperial" else lambda v: f"{v * 2.54:.0f} cm"
        self.chosen = controls.choice("Path", self.path_name or None, names, self.choose, name="path")
        self.bend = controls.slider(
            "Bend", path.bend, 0, 1, 0.01, lambda v: self.set(bend=v), show="{:.0%}".format, name="bend"
        )
        self.sway = controls.slider(
            "Changes side", path.sway, 1, 5, 1, lambda v: self.set(sway=int(v)), show="{:.0f} times".format, name="sway"
        )
        self.width = controls.slider(
            "Width", path.width / INCH, 18, 72, 1, lambda v: self.set(width=v * INCH), show=inches, name="width"
        )
        self.gap_low = controls.slider(
            "Least gap between stones",
            stone.gap_low / INCH,
            2,
            10,
            0.5,
            lambda v: self.set_stones(gap_low=v * INCH),
            show=inches,
            name="gap-low",
        )
        self.gap_high = controls.slider(
            "Greatest gap",
            stone.gap_high / INCH,
            3,
            14,
            0.5,
            lambda v: self.set_stones(gap_high=v * INCH),
            show=inches,
            name="gap-high",
        )
        self.pace = controls.slider(
            "Pace, centre to centre",
            stone.pace / INCH,
            16,
            34,
            0.5,
            lambda v: self.set_stones(pace=v * INCH),
            show=inches,
            name="pace",
        )
        self.surface = controls.choice("Surface", path.surface, SURFACES, lambda v: self.set(surface=v), name="surface")
        self.side = controls.choice(
            "Swings first to the", path.first_side, ["left", "right"], lambda v: self.set(first_side=v)
        )
        self.drag = controls.choice(
            "Drag on the plan", self.dragging, ["path points", "stones", "seats"], self.set_dragging, name="drag"
        )
        self.eye = controls.choice(
            "Show what is seen from", "", [("nowhere", "")], lambda _: self.attempt(self.refresh), name="eye"
        )
        other = controls.button("Other stones", self.other_stones, tip="the same rules, other stones", width="48%")
        free = controls.button(
            "Let go of points", self.let_go, tip="the path and its stones run by the sliders again", width="48%"
        )
        self.figures = w.HTML()
        self.findings = w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.chosen,
            self.bend,
            self.sway,
            self.width,
            self.gap_low,
            self.gap_high,
            self.pace,
            self.surface,
            self.side,
            self.drag,
            self.eye,
            row(other, free),
            self.undo_row(),
            self.figures,
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.findings])

    def refresh(self) -> None:
        """Redraw the plan and the figures from the records."""
        worked = self.layout()
        refill(self.chosen, [path.name for path in self.structure.paths], self.path_name)
        self.path_name = self.chosen.bar.value or ""
        places = [(name, name) for name in views.places_to_look_from(self.project)]
        refill(self.eye, [("nowhere", ""), *places], self.eye.bar.value)
        self.plan.update(self.scene())
        self.handles = tuple(self._handles(worked))
        self.plan.set_handles(self.handles)
        self._show_controls()
        self.figures.value = self._figures(worked)
        self.findings.value = controls.findings_html(worked.findings, units=self.project.units)
        if worked.problems:
            self.message.problem("; ".join(worked.problems))

    # --- handlers -----------------------------------------------------------------------------------------------

    def choose(self, name: str) -> None:
        """Turn the sliders to another path."""
        self.path_name = name
        self.attempt(self.refresh)

    def set(self, **changes: Any) -> None:
        """Change the chosen path by a slider; the moves of one slider are one step of undo."""
        key = next(iter(changes))
        self._change(
            f"{key} of {self.path_name}", lambda path: attrs.evolve(path, **changes), gesture=f"{self.path_name} {key}"
        )

    def set_stones(self, **changes: Any) -> None:
        """Change how the stones are laid; a least gap above the greatest takes the greatest along."""
        key = next(iter(changes))

        def change(path: Path) -> Path:
            stones = attrs.evolve(path.stones, **changes)
            if stones.gap_low > stones.gap_high:
                other: dict[str, Any] = (
                    {"gap_high": stones.gap_low} if key == "gap_low" else {"gap_low": stones.gap_high}
                )
                stones = attrs.evolve(stones, **other)
            return attrs.evolve(path, stones=stones)

        self._change(f"{key.replace('_', ' ')} of {self.path_name}", change, gesture=f"{self.path_name} {key}")

    def other_stones(self) -> None:
        """Lay other stones by the same rules."""
        self._change(
            f"other stones on {self.path_name}",
            lambda path: attrs.evolve(path, stones=attrs.evolve(path.stones, seed=path.stones.seed + 1)),
        )

    def let_go(self) -> None:
        """Forget the points and stones put by hand on the chosen path."""
        self._change(
            f"let go of the points of {self.path_name}", lambda path: attrs.evolve(path, held=(), held_stones=())
        )

    def set_dragging(self, what: str) -> None:
        """Show handles for path points, stones or seats."""
        self.dragging = what
        self.attempt(self.refresh)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``held:0``, ``free:0.50``, ``stone:7`` or ``seat:bench``."""
        kind, _, which = handle.partition(":")
        at = (round(at[0], 3), round(at[1], 3))
        if kind == "seat":
            self._drop_seat(which, at)
        elif kind == "stone":
            self._change(
                f"move stone {int(which) + 1} of {self.path_name}", lambda path: _with_stone(path, int(which), at)
            )
        elif kind == "held":
            self._change(f"move a point of {self.path_name}", lambda path: _with_point(path, int(which), at))
        elif kind == "free":
            order = self._order_of(at)
            self._change(f"bend {self.path_name} by hand", lambda path: _with_new_point(path, order, at))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _change(self, label: str, change: PathChange, *, gesture: str = "") -> None:
        name = self.path_name

        def with_path(s: Structure) -> Structure:
            return attrs.evolve(s, paths=tuple(change(p) if p.name == name else p for p in s.paths))

        self.change(label, with_path, gesture=gesture)

    def _drop_seat(self, name: str, at: Point) -> None:
        self.change(
            f"move {name}",
            lambda s: attrs.evolve(s, seats=tuple(attrs.evolve(x, at=at) if x.name == name else x for x in s.seats)),
        )

    def _path(self) -> Path:
        for path in self.project.structure.paths:
            if path.name == self.path_name:
                return path
        raise GardenError(f'there is no path called "{self.path_name}" any more; choose another')

    def _handles(self, worked: Layout) -> list[Handle]:
        if self.dragging == "seats":
            return [Handle(id=f"seat:{s.name}", kind="seat", at=s.at, tip=s.name) for s in self.project.structure.seats]
        if self.path_name not in worked.routes:
            return []
        path, route = self._path(), worked.routes[self.path_name]
        if self.dragging == "stones":
            return [
                Handle(id=f"stone:{s.number}", kind="stone", at=s.at, tip=f"stone {s.number + 1}")
                for s in worked.layings[path.name].stones
            ]
        held = [Handle(id=f"held:{i}", kind="path", at=p.at, tip="put by hand") for i, p in enumerate(path.held)]
        if held:
            return held + [
                Handle(
                    id=f"free:{share:.2f}",
                    kind="stone",
                    at=_point(route.curve.at(share * route.length)[0]),
                    tip="drag to bend the path here",
                )
                for share in FREE_HANDLES
            ]
        return [
            Handle(
                id=f"free:{share:.2f}",
                kind="path",
                at=_point(route.curve.at(share * route.length)[0]),
                tip="drag to bend the path here",
            )
            for share in FREE_HANDLES
        ]

    def _order_of(self, at: Point) -> int:
        """Return between which held points a new one belongs, by where along the path it lies nearest."""
        curve = self.layout().routes[self.path_name].curve

        def along(point: Point) -> float:
            gaps = ((curve.points - point) ** 2).sum(axis=1)
            return float(curve.along[int(gaps.argmin())])

        return sum(along(held.at) < along(at) for held in self._path().held)

    def _show_controls(self) -> None:
        if not self.project.structure.paths:
            return
        path = self._path()
        for box, value in (
            (self.bend, path.bend),
            (self.sway, path.sway),
            (self.width, path.width / INCH),
            (self.gap_low, path.stones.gap_low / INCH),
            (self.gap_high, path.stones.gap_high / INCH),
            (self.pace, path.stones.pace / INCH),
            (self.surface, path.surface),
            (self.side, path.first_side),
        ):
            box.show(value)

    def _figures(self, worked: Layout) -> str:
        units = self.project.units
        rows = []
        if self.path_name in worked.routes:
            route, laying = worked.routes[self.path_name], worked.layings[self.path_name]
            rows = [
                ("length", show_length(route.length, units)),
                (
                    "tightest bend, radius",
                    show_length(route.tightest_radius, units) if route.tightest_radius < 1e3 else "straight",
                ),
                ("clear of walls", show_length(route.clearance, units)),
            ]
            if laying.stones:
                clear = [gap.clear for gap in laying.gaps]
                rows.append(("stones", f"{len(laying.stones)}, {show_weight(laying.weight, units)}"))
                if clear:
                    low, high = (show_length(gap, units, small=True) for gap in (min(clear), max(clear)))
                    rows.append(("gaps", f"{low} to {high}"))
            share = self.shown_from_start()
            if share is not None:
                rows.append((f"shows from {self._path().start}", f"{100 * share:.0f} %"))
        beds = [(bed.name, show_area(bed.area, units)) for bed in worked.beds]
        return controls.table_html(("path", ""), rows) + controls.table_html(("bed", "area"), beds)

    def shown_from_start(self) -> float | None:
        """Return the share of the chosen path that shows from its start; None when that is no place to look from."""
        start = self._path().start
        if start not in views.places_to_look_from(self.project):
            return None
        return views.path_seen(self.project, self.layout(), self.path_name, views.eye_at(self.project, start)).share

    def scene(self) -> Scene:
        """Return the plan as it stands, with the ground in view when a place to look from is chosen."""
        scale = plan_scale(self.project.site, high_px=HIGH_PX)
        extra: tuple[Mark, ...] = ()
        if self.eye.bar.value:
            seen = views.look(self.project, views.eye_at(self.project, self.eye.bar.value))
            extra = isovist_marks(plane.region(seen.outline()), seen.eye[:2], scale=scale, name=self.eye.bar.value)
        return garden_scene(self.project, self.layout(), scale=scale, extra=extra)

    def summary(self) -> str:
        """Return the structure in words."""
        worked = self.layout()
        lines = [
            f"{name}: {show_length(route.length, self.project.units)}, {len(worked.layings[name].stones)} stones"
            for name, route in worked.routes.items()
        ]
        lines += [f"bed {bed.name}: {show_area(bed.area, self.project.units)}" for bed in worked.beds]
        return "\n".join(lines) or "No path yet"


def _point(row: Any) -> Point:
    return (float(row[0]), float(row[1]))


def _with_stone(path: Path, number: int, at: Point) -> Path:
    kept = tuple(stone for stone in path.held_stones if stone.number != number)
    turn = next((stone.turn for stone in path.held_stones if stone.number == number), 0.0)
    return attrs.evolve(path, held_stones=(*kept, HeldStone(number=number, at=at, turn=turn)))


def _with_point(path: Path, index: int, at: Point) -> Path:
    return attrs.evolve(path, held=tuple(HeldPoint(at=at) if i == index else p for i, p in enumerate(path.held)))


def _with_new_point(path: Path, order: int, at: Point) -> Path:
    return attrs.evolve(path, held=(*path.held[:order], HeldPoint(at=at), *path.held[order:]))
