"""Supports for climbers and trained fruit: put up, sized and dragged; what to buy and what they stand before."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import Finding
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.grips import grips
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import supports_shown as shown
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, picture, plan_scale, refill
from gardenkit.notebook.pages.bones_fields import SUPPORT
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import HELD_UP, TAPE
from gardenkit.project.pointing import support_at
from gardenkit.structure.kinds.support_parts import PostChoice, posts_of
from gardenkit.structure.posts import POST_RULES
from gardenkit.structure.training import FORMS
from gardenkit.structure.wall_elevation import fullest_wall
from gardenkit.units import show_length


class SupportsPage(BonesPage):
    """One support at a time left, dragged on the plan; parts, cautions and the wall it stands before below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.table = w.HTML()
        self.advice = AdviceList(self, topics=shown.TOPICS, about=self._is_about, chosen=self.redraw)
        self.elevation = w.HTML(layout=w.Layout(width="100%"))
        panel = [*self._own_controls(), *self._post_controls(), *self._wall_controls()]
        panel.append(self.undo_row())
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words = (*HELD_UP, TAPE)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=(SUPPORT.word,))
        panel.insert(0, self.draw.widget)
        self.board = self.plan.board(self.edited)
        self.widget = controls.page(self.message, panel, self.board, [self.elevation, self.table, self.advice.widget])

    def _own_controls(self) -> list[w.Widget]:
        self.supports = RecordEditor(self, (SUPPORT,), name="support", chose=self.refresh, opens=True)
        forms = [(self.garden.say(form), form) for form in FORMS]
        self.form = controls.choice("Trained form", "espalier", forms, lambda _: self.show_tables())
        self.place = PlaceOf(self, lambda: ("support", self.support_name) if self.supports.chosen else None)
        return [self.supports.widget, self.place.widget, self.form]

    def _post_controls(self) -> list[w.Widget]:
        rules = [(self.garden.say(rule), rule) for rule in POST_RULES]
        self.rule = controls.choice("Depth rule", rules[0][1], rules, self.set_rule, name="post-rule")
        hint = "ask the building office"
        self.frost = controls.field("Local frost depth", "", self.set_frost, name="frost", hint=hint)
        return [heading("Posts, for all supports"), self.rule, self.frost]

    def _wall_controls(self) -> list[w.Widget]:
        self.wall = controls.choice("Wall", None, [], lambda _: self.draw_wall(), name="wall")
        self.year = controls.slider(
            "Plants as they stand in year", 5, 0, 15, 1, lambda _: self.draw_wall(), show="{:.0f}".format, live=False
        )
        return [heading("A wall from outside"), self.wall, self.year]

    def refresh(self) -> None:
        """Show the supports as they stand."""
        self.supports.show()
        site, supports = self.project.site, self.structure.supports
        refill(
            self.wall,
            shown.walls(site),
            self.wall.bar.value or fullest_wall(site.buildings, openings=site.openings, supports=supports),
        )
        self.place.refresh()
        self.rule.show(self.structure.post_rule)
        self.frost.show(self.typed(self.structure.frost_depth) if self.structure.frost_depth else "")
        self._redraw()
        self._tables()
        self.advice.show()
        self._draw_wall()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def click(self, at: Point) -> None:
        """Turn to the support that was clicked on the plan."""
        found = support_at(self.structure, at)
        if found is not None and found.name != self.support_name:
            self.supports.turn_to(found.name)

    def show_drawn(self, _: str, name: str) -> None:
        """Turn to the support that was just drawn."""
        if name:
            self.supports.turn_to(name)

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

    def set_rule(self, rule: str) -> None:
        """Choose by which rule posts go into the ground."""
        self.edit("post rule", lambda p: edits.set_post_rule(p, rule))

    @handler
    def set_frost(self, typed: str) -> None:
        """Set the local frost depth; empty for none or not known."""
        depth = self.metres(typed, "the frost depth") if typed.strip() else 0.0
        self.edit("frost depth", lambda p: edits.set_frost_depth(p, depth))

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: an end of the line, or the middle to move it whole."""
        name, (kind, _, which) = self.support_name, handle.partition(":")
        if kind == "whole":
            self.edit(f"move {name}", lambda p: edits.move_support(p, name, to=at))
        else:
            self.edit(f"move {name}", lambda p: edits.move_support_end(p, name, int(which), to=at))

    # --- helpers ------------------------------------------------------------------------------------------------

    @property
    def support_name(self) -> str:
        """The support in the form."""
        return self.supports.title

    def posts(self) -> PostChoice:
        """Return how posts are set in this garden."""
        return posts_of(self.structure, self.project.units)

    def _is_about(self, line: Finding) -> bool:
        return shown.is_about(line, self.support_name)

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = (
            (*shown.handles(self.supports.chosen), *grips(self.project, "support", self.support_name))
            if self.supports.chosen
            else ()
        )
        self.plan.set_handles(self.handles)

    def _tables(self) -> None:
        one = self.supports.chosen
        self.table.value = shown.tables(self.project, one, form=self.form.bar.value) if one is not None else ""

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
