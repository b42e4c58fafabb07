"""Supports for climbers and trained fruit: put up, sized and dragged; what to buy and what they stand before."""

from typing import Any

import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import supports_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, picture, plan_scale, refill, row
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.records import by_name
from gardenkit.structure.kinds import SUPPORTS
from gardenkit.structure.kinds.support_parts import PostChoice, posts_of
from gardenkit.structure.posts import POST_RULES
from gardenkit.structure.structure import Support
from gardenkit.structure.training import FORMS
from gardenkit.units import show_length


class SupportsPage(BonesPage):
    """One support at a time left, dragged on the plan; parts, cautions and the wall it stands before below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.support_name = self.structure.supports[0].name if self.structure.supports else ""
        self.table = w.HTML()
        self.advice = AdviceList(self, topics=shown.TOPICS, about=self._is_about, chosen=self.redraw)
        self.elevation = w.HTML(layout=w.Layout(width="100%"))
        panel = [*self._own_controls(), *self._post_controls(), *self._new_controls(), *self._wall_controls()]
        panel.append(self.undo_row())
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        self.widget = controls.page(self.message, panel, self.board, [self.elevation, self.table, self.advice.widget])

    def _own_controls(self) -> list[w.Widget]:
        self.chosen = controls.choice("Support", None, [], self.choose, name="which-support")
        self.name = controls.field("Name", "", self.rename, name="support-name")
        self.kind = controls.choice("Kind", "arch", list(SUPPORTS), lambda v: self.set(kind=v), name="support-kind")
        self.height = controls.field("Height", "", lambda v: self.set_length("height", v), name="support-height")
        self.depth = controls.field("Depth across its line", "", lambda v: self.set_length("depth", v))
        self.open = controls.slider(
            "Light let through", 0.8, 0, 1, 0.05, lambda v: self.set(openness=v), show="{:.0%}".format, live=False
        )
        self.against = controls.choice("Fixed to", "", [("nothing", "")], lambda v: self.set(against=v))
        forms = [(self.garden.say(form), form) for form in FORMS]
        self.form = controls.choice("Trained form", "espalier", forms, lambda _: self.show_tables())
        sizes = [self.height, self.depth, self.open]
        return [self.chosen, self.name, self.kind, *sizes, self.against, self.form]

    def _post_controls(self) -> list[w.Widget]:
        rules = [(self.garden.say(rule), rule) for rule in POST_RULES]
        self.rule = controls.choice("Depth rule", rules[0][1], rules, self.set_rule, name="post-rule")
        hint = "ask the building office"
        self.frost = controls.field("Local frost depth", "", self.set_frost, name="frost", hint=hint)
        return [heading("Posts, for all supports"), self.rule, self.frost]

    def _new_controls(self) -> list[w.Widget]:
        self.new = controls.field("Called", "", lambda _: None, name="new-support")
        self.new_kind = controls.choice("of kind", "arch", list(SUPPORTS), lambda _: None, name="new-support-kind")
        add = controls.button("Add", self.add, width="48%", name="add-support")
        gone = controls.button("Delete", self.remove, width="48%", name="remove-support")
        return [heading("Another support"), self.new, self.new_kind, row(add, gone)]

    def _wall_controls(self) -> list[w.Widget]:
        self.wall = controls.choice("Wall", None, [], lambda _: self.draw_wall(), name="wall")
        self.year = controls.slider(
            "Plants as they stand in year", 5, 0, 15, 1, lambda _: self.draw_wall(), show="{:.0f}".format, live=False
        )
        return [heading("A wall from outside"), self.wall, self.year]

    def refresh(self) -> None:
        """Show the supports as they stand."""
        self.support_name = refill(self.chosen, [s.name for s in self.structure.supports], self.support_name) or ""
        site = self.project.site
        walls = [*(b.name for b in site.buildings), *(f.name for f in site.fences)]
        refill(self.against, [("nothing: it stands free", ""), *((n, n) for n in walls)], self.against.bar.value)
        refill(self.wall, shown.walls(site), self.wall.bar.value or shown.fullest_wall(self.project))
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
        self._redraw()
        self._tables()
        self.advice.show()
        self._draw_wall()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose(self, name: str) -> None:
        """Turn to another support."""
        self.support_name = name
        self.refresh()

    @handler
    def show_tables(self) -> None:
        """Show parts and cautions again."""
        self._tables()

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self._redraw()

    @handler
    def draw_wall(self) -> None:
        """Draw the wall again."""
        self._draw_wall()

    def set(self, **changes: Any) -> None:
        """Change the chosen support."""
        name = self.support_name
        self.edit(f"{next(iter(changes))} of {name}", lambda p: edits.change_support(p, name, **changes))

    @handler
    def set_length(self, key: str, typed: str) -> None:
        """Set a height or depth from what was typed."""
        self.set(**{key: self.metres(typed or "0", f"the {key} of {self.support_name}")})

    def set_rule(self, rule: str) -> None:
        """Choose by which rule posts go into the ground."""
        self.edit("post rule", lambda p: edits.set_post_rule(p, rule))

    @handler
    def set_frost(self, typed: str) -> None:
        """Set the local frost depth; empty for none or not known."""
        depth = self.metres(typed, "the frost depth") if typed.strip() else 0.0
        self.edit("frost depth", lambda p: edits.set_frost_depth(p, depth))

    def rename(self, typed: str) -> None:
        """Give the support another name; plants on it follow."""
        old, new = self.support_name, " ".join(typed.split())
        self.support_name = new
        if new == old or not self.edit(f"rename {old}", lambda p: edits.rename_support(p, old, to=new)):
            self.support_name = old

    def add(self) -> None:
        """Put up another support of the usual size, to be dragged where it belongs."""
        name, kind = self.new.bar.value, self.new_kind.bar.value
        if self.edit(f"put up {name}", lambda p: edits.add_support(p, name, kind)):
            self.new.show("")
            self.choose(self.structure.supports[-1].name)

    def remove(self) -> None:
        """Take the chosen support out."""
        name = self.support_name
        self.edit(f"take out {name}", lambda p: edits.remove_support(p, name))

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: an end of the line, or the middle to move it whole."""
        name, (kind, _, which) = self.support_name, handle.partition(":")
        if kind == "whole":
            self.edit(f"move {name}", lambda p: edits.move_support(p, name, to=at))
        else:
            self.edit(f"move {name}", lambda p: edits.move_support_end(p, name, int(which), to=at))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _support(self) -> Support:
        return by_name(self.structure.supports, self.support_name, "support")

    def posts(self) -> PostChoice:
        """Return how posts are set in this garden."""
        return posts_of(self.structure)

    def _is_about(self, line: Finding) -> bool:
        return shown.is_about(line, self.support_name)

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = shown.handles(self._support()) if self.support_name else ()
        self.plan.set_handles(self.handles)

    def _tables(self) -> None:
        if not self.support_name:
            self.table.value = ""
            return
        self.table.value = shown.tables(self.project, self._support(), form=self.form.bar.value)

    def _draw_wall(self) -> None:
        scene = self.wall_scene()
        self.elevation.value = picture(scene) if scene is not None else ""

    def wall_scene(self) -> Scene | None:
        """Return the chosen wall to scale, with what stands before it in the chosen year; None without a building."""
        if self.wall.bar.value is None:
            return None
        return shown.wall_drawn(self.garden, *self.wall.bar.value, year=int(self.year.bar.value))

    def scene(self) -> Scene:
        """Return the plan as it stands."""
        scale = plan_scale(self.project.site)
        lit = self.advice.marks(scale)
        return garden_scene(self.project, self.garden.layout, scale=scale, extra=lit, textures=False)

    def summary(self) -> str:
        """Return the supports in words."""
        lines = [
            f"{s.name}: {s.kind}, {show_length(s.height, self.project.units)} high" for s in self.structure.supports
        ]
        return "\n".join(lines) or "No support yet"
