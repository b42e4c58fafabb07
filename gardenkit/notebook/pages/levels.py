"""Levels: how the ground will lie, what is dug and filled for it, what holds it, and ways without steps over it."""

import ipywidgets as w

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.levels_plan import levels_scene
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.grips import grips
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale
from gardenkit.notebook.pages.levels_fields import LEVEL
from gardenkit.notebook.pages.levels_ways import WaysPart
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import LEVELS, TAPE
from gardenkit.project.edits.site import set_root_rule
from gardenkit.project.level_figures import level_rows
from gardenkit.project.pointing import level_at
from gardenkit.site.tree_protection import ROOT_RULES

TOPICS = ("levels", "permit", "clearance", "slope", "access", "safety")


class LevelsPage(BonesPage):
    """One level at a time left, dragged on the plan of contours before and after; soil, walls and advice below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.levels = RecordEditor(self, (LEVEL,), name="level", chose=self.redraw, opens=True)
        self.table = w.HTML()
        self.advice = AdviceList(self, topics=TOPICS, chosen=self.redraw, first=lambda: (self.levels.title,))
        self.place = PlaceOf(self, lambda: ("level", self.levels.title) if self.levels.chosen else None)
        self.ways = WaysPart(self)
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words = (*(word for word, _ in LEVELS), TAPE)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=(LEVEL.word,))
        self.board = self.plan.board(self.edited)
        rules = [(self.garden.say(rule), rule) for rule in ROOT_RULES]
        self.roots = controls.choice("Roots of kept trees by", None, rules, self.set_root_rule, name="root-rule")
        panel = [
            self.draw.widget,
            self.levels.widget,
            self.place.widget,
            *self.ways.controls,
            self.roots,
            self.undo_row(),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.table, self.advice.widget])

    def refresh(self) -> None:
        """Show the levels as they stand."""
        self.levels.show()
        self.place.refresh()
        self.ways.refresh()
        self.roots.show(self.project.site.root_rule)
        self._redraw()
        self.table.value = controls.table_html(("levels", ""), level_rows(self.garden.earth, self.project.units))
        self.advice.show()

    # ---- handlers

    @handler
    def click(self, at: Point) -> None:
        """Turn to the level that was clicked on the plan."""
        found = level_at(self.structure, at)
        if found is not None and found.name != self.levels.title:
            self.levels.turn_to(found.name)

    def set_root_rule(self, rule: str) -> None:
        """Choose by which rule the roots of kept trees are protected."""
        self.edit("root protection rule", lambda p: set_root_rule(p, rule))

    def show_drawn(self, _: str, name: str) -> None:
        """Turn to the level that was just drawn."""
        if name:
            self.levels.turn_to(name)

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self.place.refresh()
        self._redraw()

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged level."""
        name = handle.partition(":")[2]
        if name not in [one.name for one in self.structure.levels]:
            raise GardenError(f'there is no level "{name}" any more; choose another')
        self.edit(f"move level {name}", lambda p: edits.move_level(p, name, to=at))

    # ---- helpers

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        self.handles: tuple[Handle, ...] = tuple(
            Handle(id=f"level:{one.name}", kind="seat", at=one.at, tip=one.name)
            for one in self.structure.levels
            if not one.of
        )
        if self.levels.chosen:
            self.handles += grips(self.project, "level", self.levels.title)
        self.plan.set_handles(self.handles)

    def scene(self) -> Scene:
        """Return the plan of levels as it stands."""
        scale = plan_scale(self.project.site)
        lit = (*self.advice.marks(scale), *self.ways.marks(scale))
        return levels_scene(
            self.project, self.garden.layout, scale=scale, title=self.project.name, extra=lit, to_scale=False
        )

    def summary(self) -> str:
        """Return the levels in words."""
        rows = level_rows(self.garden.earth, self.project.units)
        return "\n".join(f"{what}: {how}" for what, how in rows)
