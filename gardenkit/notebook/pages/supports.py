"""Supports for climbers and trained fruit: put up, sized and dragged; what to buy and what they stand before."""

from typing import Any

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import drawn, garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.wall_view import wall_scene
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import (
    HIGH_PX,
    WIDTH_PX,
    BonesPage,
    by_name,
    heading,
    moved,
    new_name,
    picture,
    plan_scale,
    put,
    refill,
    row,
    without,
)
from gardenkit.project.season import catalogue_of, standing
from gardenkit.site.site import Building
from gardenkit.structure.kinds import SUPPORTS, parts_list, support_kind
from gardenkit.structure.kinds.support_parts import PostChoice, post_of, posts_of
from gardenkit.structure.posts import POST_RULES, post_findings
from gardenkit.structure.structure import Support
from gardenkit.structure.supports import match
from gardenkit.structure.training import FORMS
from gardenkit.structure.wall_elevation import StandingPlant, wall_elevation
from gardenkit.units import in_system, show_area, show_length

SUMMER = 7
TALLEST = 6.0  # m: higher is not a garden support


class SupportsPage(BonesPage):
    """One support at a time left, dragged on the plan; parts, cautions and the wall it stands before below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.support_name = ""
        self.catalogue = catalogue_of(self.session.folder)
        self.chosen = controls.choice("Support", None, [], self.choose, name="which-support")
        self.name = controls.field("Its name", "", self.rename, name="support-name")
        self.kind = controls.choice("Kind", "arch", list(SUPPORTS), lambda v: self.set(kind=v), name="support-kind")
        self.height = controls.field("Height", "", lambda v: self.set_length("height", v), name="support-height")
        self.depth = controls.field("Depth across, arbour and pergola", "", lambda v: self.set_length("depth", v))
        self.open = controls.slider(
            "Open to light", 0.8, 0, 1, 0.05, lambda v: self.set(openness=v), show="{:.0%}".format, live=False
        )
        self.against = controls.choice("Fixed to", "", [("nothing: it stands free", "")], lambda v: self.set(against=v))
        self.form = controls.choice(
            "Trained form, espalier", "espalier", list(FORMS), lambda _: self.attempt(self._tables)
        )
        self.rule = controls.choice(
            "Posts go in by the rule", "one third of total", list(POST_RULES), self.set_rule, name="post-rule"
        )
        self.frost = controls.field("Frost depth here, from the building office", "", self.set_frost, name="frost")
        self.new = controls.field("A new support called", "", lambda _: None, name="new-support")
        self.new_kind = controls.choice("of kind", "arch", list(SUPPORTS), lambda _: None, name="new-support-kind")
        add = controls.button("Put it up", self.add, width="48%", name="add-support")
        gone = controls.button("Take it out", self.remove, width="48%", name="remove-support")
        self.wall = controls.choice("Wall to look at", None, [], lambda _: self.attempt(self._draw_wall), name="wall")
        self.year = controls.slider(
            "Year after planting",
            5,
            0,
            15,
            1,
            lambda _: self.attempt(self._draw_wall),
            show="{:.0f}".format,
            live=False,
            name="wall-year",
        )
        self.elevation, self.table, self.findings = w.HTML(), w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.chosen,
            self.name,
            self.kind,
            self.height,
            self.depth,
            self.open,
            self.against,
            self.form,
            heading("Posts, for all supports"),
            self.rule,
            self.frost,
            heading("Another support"),
            self.new,
            self.new_kind,
            row(add, gone),
            heading("A wall from outside"),
            self.wall,
            self.year,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.elevation, self.table, self.findings])

    def refresh(self) -> None:
        """Show the supports as they stand."""
        self.support_name = refill(self.chosen, [s.name for s in self.structure.supports], self.support_name) or ""
        site = self.project.site
        fixed = [
            ("nothing: it stands free", ""),
            *((n, n) for n in (*(b.name for b in site.buildings), *(f.name for f in site.fences))),
        ]
        refill(self.against, fixed, self.against.bar.value)
        refill(
            self.wall,
            [
                (f"{b.name}, {_side(b, k, site.y_bearing)}", (b.name, k))
                for b in site.buildings
                for k in range(len(b.outline))
            ],
            self.wall.bar.value or self._wall_with_most(),
        )
        if self.support_name:
            support = self._support()
            for box, value in (
                (self.name, support.name),
                (self.kind, support.kind),
                (self.height, self.typed(support.height)),
                (self.depth, self.typed(support.depth)),
                (self.open, support.openness),
                (self.against, support.against),
            ):
                box.show(value)
        self.rule.show(self.structure.post_rule)
        self.frost.show(self.typed(self.structure.frost_depth) if self.structure.frost_depth else "")
        self.plan.update(self.scene())
        self.handles = tuple(self._handles())
        self.plan.set_handles(self.handles)
        self._tables()
        self._draw_wall()

    # --- handlers -----------------------------------------------------------------------------------------------

    def choose(self, name: str) -> None:
        """Turn to another support."""
        self.support_name = name
        self.attempt(self.refresh)

    def set(self, **changes: Any) -> None:
        """Change the chosen support."""
        self.attempt(self._set, f"{next(iter(changes))} of {self.support_name}", changes)

    def set_length(self, key: str, typed: str) -> None:
        """Set a height or depth from what was typed."""
        self.attempt(self._set_length, key, typed)

    def set_rule(self, rule: str) -> None:
        """Choose by which rule posts go into the ground."""
        self.change("post rule", lambda s: attrs.evolve(s, post_rule=rule))

    def set_frost(self, typed: str) -> None:
        """Set the local frost depth; empty for none or not known."""
        self.attempt(self._set_frost, typed)

    def rename(self, typed: str) -> None:
        """Give the support another name; plants on it follow."""
        self.attempt(self._rename, typed)

    def add(self) -> None:
        """Put up another support of the usual size, to be dragged where it belongs."""
        self.attempt(self._add)

    def remove(self) -> None:
        """Take the chosen support out."""
        self.attempt(self._remove)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: an end of the line, or the middle to move it whole."""
        support = self._support()
        kind, _, which = handle.partition(":")
        if kind == "whole":
            (ax, ay), (bx, by) = support.line[0], support.line[-1]
            line = moved(support.line, (at[0] - (ax + bx) / 2, at[1] - (ay + by) / 2))
        else:
            line = tuple(at if i == int(which) else p for i, p in enumerate(support.line))
        self._set(f"move {support.name}", {"line": line})

    # --- helpers ------------------------------------------------------------------------------------------------

    def _support(self) -> Support:
        return by_name(self.structure.supports, self.support_name, "support")

    def _set(self, label: str, changes: dict[str, Any]) -> None:
        old = self._support()
        new = attrs.evolve(old, **changes)
        if plane.line(new.line).length < 0.2:
            raise GardenError(f'support "{new.name}" would be under 0.2 m long; drag its ends further apart')
        self.change(label, lambda s: attrs.evolve(s, supports=put(s.supports, old.name, new)))

    def _set_length(self, key: str, typed: str) -> None:
        value = self.metres(typed or "0", f"the {key} of {self.support_name}")
        if (key == "height" and value <= 0.2) or value > TALLEST:
            raise GardenError(
                f"a {key} of {self.typed(value)} does not make a support; give {self.typed(0.3)} to "
                f"{self.typed(TALLEST)}"
            )
        self._set(f"{key} of {self.support_name}", {key: value})

    def _set_frost(self, typed: str) -> None:
        depth = self.metres(typed, "the frost depth") if typed.strip() else 0.0
        if depth > 3.0:
            raise GardenError(
                f"a frost depth of {self.typed(depth)} is deeper than ground freezes; ask the building office"
            )
        self.change("frost depth", lambda s: attrs.evolve(s, frost_depth=depth))

    def _rename(self, typed: str) -> None:
        old = self._support().name
        if typed.strip() == old:
            return
        new = new_name(typed, [s.name for s in self.structure.supports], "support")
        self.support_name = new

        def renamed(project: Any) -> Any:
            supports = put(
                project.structure.supports,
                old,
                attrs.evolve(by_name(project.structure.supports, old, "support"), name=new),
            )
            plants = tuple(attrs.evolve(p, support=new) if p.support == old else p for p in project.planting.plants)
            return attrs.evolve(
                project,
                structure=attrs.evolve(project.structure, supports=supports),
                planting=attrs.evolve(project.planting, plants=plants),
            )

        if not self.edit(f"rename {old}", renamed):
            self.support_name = old

    def _add(self) -> None:
        name = new_name(self.new.bar.value, [s.name for s in self.structure.supports], "support")
        kind = self.new_kind.bar.value
        usual = support_kind(kind).usual
        x, y = self._free_spot()
        line = ((round(x - usual.length / 2, 3), round(y, 3)), (round(x + usual.length / 2, 3), round(y, 3)))
        made = Support(name=name, kind=kind, line=line, height=usual.height, depth=usual.depth, openness=usual.openness)
        if self.change(f"put up {name}", lambda s: attrs.evolve(s, supports=(*s.supports, made))):
            self.new.show("")
            self.choose(name)

    def _free_spot(self) -> Point:
        beds = self.layout().beds
        if beds:
            return max(beds, key=lambda b: b.depth).at
        if self.project.site.boundary:
            return plane.centre(plane.region(self.project.site.boundary))
        raise GardenError("there is no boundary yet, so no ground to put a support on; draw it on the site page")

    def _remove(self) -> None:
        name = self._support().name
        on = [p for p in self.project.planting.plants if p.support == name]
        if on:
            raise GardenError(
                f'plant {on[0].number} ({on[0].species}) grows on "{name}"; move it on the layering page first'
            )
        self.change(f"take out {name}", lambda s: attrs.evolve(s, supports=without(s.supports, name)))

    def _handles(self) -> list[Handle]:
        if not self.support_name:
            return []
        support = self._support()
        (ax, ay), (bx, by) = support.line[0], support.line[-1]
        ends = [
            Handle(id=f"end:{i}", kind="path", at=p, tip=f"end of {support.name}") for i, p in enumerate(support.line)
        ]
        return [*ends, Handle(id="whole:", kind="seat", at=((ax + bx) / 2, (ay + by) / 2), tip=f"move {support.name}")]

    def _wall_with_most(self) -> tuple[str, int] | None:
        """Return the wall that has most supports, doors and windows on it: the first to be looked at."""
        site = self.project.site
        most: tuple[int, tuple[str, int] | None] = (0, None)
        for building in site.buildings:
            for number in range(len(building.outline)):
                marks = wall_elevation(building, number, openings=site.openings, supports=self.structure.supports).marks
                count = sum(3 if m.kind == "support" else 1 for m in marks)
                most = max(most, (count, (building.name, number)), key=lambda pair: pair[0])
        return most[1]

    def posts(self) -> PostChoice:
        """Return how posts are set in this garden."""
        return posts_of(self.structure)

    def advice(self) -> tuple[Finding, ...]:
        """Return what is to be said about the chosen support, its climbers and its posts."""
        support = self._support()
        found = [f for f in self.layout().findings if f.where == support.name or f.where.startswith(f"{support.name},")]
        found += [f for f in self.layout().findings if f.where == "supports"]
        surface = "masonry" if support.against in {b.name for b in self.project.site.buildings} else ""
        for plant in self.project.planting.plants:
            species = self.catalogue[plant.species] if plant.support == support.name else None
            if species is not None and species.climbs_by:
                said = match(species.climbs_by, species.weight, support, surface=surface)
                found += [attrs.evolve(f, where=f"{support.name}, {species.botanical}") for f in said]
        return tuple(dict.fromkeys(found))

    def _tables(self) -> None:
        units = self.project.units
        if not self.support_name:
            self.table.value = self.findings.value = ""
            return
        support = self._support()
        try:
            parts = parts_list(
                support, posts=self.posts(), form=self.form.bar.value, openings=self.project.site.openings
            )
        except GardenError as error:
            parts = ()
            self.message.problem(str(error))
        rows = []
        for part in parts:
            count = (
                show_area(part.count, units)
                if part.unit == "m2"
                else (show_length(part.count, units) if part.unit == "m" else f"{part.count:g} {part.unit}")
            )
            rows.append(
                (part.name, count, show_length(part.length, units) if part.length else "", in_system(part.note, units))
            )
        own = controls.table_html(("to buy", "how much", "each", "by what"), rows, caption=f"Parts of {support.name}")
        posts = ""
        if any(p.name == "post" for p in parts):
            lines = []
            for rule in POST_RULES:
                one = post_of(support, attrs.evolve(self.posts(), rule=rule))
                found = post_findings("", one, frost_depth=self.structure.frost_depth)
                said = "; ".join(f.what.split(";")[0] for f in found if f.seriousness == "warning")
                lines.append(
                    (
                        "chosen" if rule == self.structure.post_rule else "",
                        rule,
                        show_length(one.buried, units),
                        show_length(one.length, units),
                        said,
                    )
                )
            posts = controls.table_html(
                ("", "rule", "in the ground", "whole post", "beware"),
                lines,
                caption="How deep a post goes, by each rule",
            )
        self.table.value = (
            f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{own}{posts}</div>'
        )
        self.findings.value = controls.findings_html(self.advice(), units=units, limit=24)

    def _draw_wall(self) -> None:
        scene = self.wall_scene()
        self.elevation.value = picture(scene) if scene is not None else ""

    def wall_scene(self) -> Scene | None:
        """Return the chosen wall to scale, with what stands before it in the chosen year; None without a building."""
        if self.wall.bar.value is None:
            return None
        name, number = self.wall.bar.value
        building = by_name(self.project.site.buildings, name, "building")
        year = int(self.year.bar.value)
        grown = standing(self.project, self.catalogue, year=year, month=SUMMER)
        spots = [
            StandingPlant(name=g.species.botanical, at=g.plant.at, height=g.height, spread=g.size.spread)
            for g in grown
            if g.height > 0
        ]
        wall = wall_elevation(
            building, number, openings=self.project.site.openings, supports=self.structure.supports, plants=spots
        )
        on = {m.name for m in wall.marks if m.kind == "plant"}
        ends = (building.outline[number], building.outline[(number + 1) % len(building.outline)])
        near = [p for p, g in zip(drawn(grown), grown, strict=True) if g.species.botanical in on]
        title = f"{building.name}, {_side(building, number, self.project.site.y_bearing)}: July, year {year}"
        return wall_scene(
            wall,
            ends,
            near,
            supports=self.structure.supports,
            title=title,
            scale=max(44.0, wall.length * 1000 / 200),
            units=self.project.units,
        )

    def scene(self) -> Scene:
        """Return the plan as it stands."""
        return garden_scene(self.project, self.layout(), scale=plan_scale(self.project.site), textures=False)

    def summary(self) -> str:
        """Return the supports in words."""
        lines = [
            f"{s.name}: {s.kind}, {show_length(s.height, self.project.units)} high" for s in self.structure.supports
        ]
        return "\n".join(lines) or "No support yet"


def _side(building: Building, number: int, y_bearing: float) -> str:
    """Return which way a wall looks: north, north-east ... and how long it is in the order of the outline."""
    a, b = building.outline[number], building.outline[(number + 1) % len(building.outline)]
    facing = (plane.heading(a, b) + 90 + y_bearing) % 360
    names = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
    return f"{names[round(facing / 45) % 8]} wall {number + 1}"
