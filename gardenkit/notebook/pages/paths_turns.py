"""The part of the paths page about what a path swings round: a tree, a thing, a seat, an area or a drawn bed."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.geometry.plane import Line
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.pages.planting import kind_named
from gardenkit.notebook.part import Part
from gardenkit.notebook.record_editor import Column, Kind, RecordEditor
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import Drawable
from gardenkit.structure.structure import Turn
from gardenkit.units import System, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.paths import PathsPage

POCKET = "pocket for the tree typed below"
HINT = "e.g. serviceberry"


class Turns(Part):
    """What the chosen path swings round, in the order of its way, and on which hand one has it."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.editor = RecordEditor(self.page, (self._kind(),), name="turn")
        self.of = ""  # the path whose turns are listed
        words = "It then runs in fair curves past each, as near as it keeps clear; curvature and number of curves rest."
        self.pocket = Drawable(word=POCKET, form="spot", draw=self._pocket, names=_beds)
        self.kind = controls.field("Tree of the pocket", "", lambda _: self.show_kind(), name="pocket-kind", hint=HINT)
        self.wide = w.HTML()
        self.and_swings = controls.tick("The path swings round it", True, lambda _: None)
        self.controls = [heading("Swings round"), controls.label(words), self.editor.widget]
        self.controls += [self.kind, self.wide, self.and_swings]

    def refresh(self) -> None:
        """List what the chosen path swings round."""
        if self.of != self.page.path_name:
            self.of, self.editor.chosen = self.page.path_name, None
        self.editor.show()

    @handler
    def show_kind(self) -> None:
        """Say how wide the typed tree grows, and what to do next."""
        kind = kind_named(self.garden.catalogue, self.kind.bar.value)
        wide = show_length(kind.spread, self.project.units)
        how = f"{kind.botanical} spreads {wide} when grown: choose &ldquo;{POCKET}&rdquo; above, then click its place"
        self.wide.value = f"<p>{how}</p>"

    def _pocket(self, project: Project, points: Line) -> Project:
        kind = kind_named(self.garden.catalogue, self.kind.bar.value)
        path = self.page.path_name if self.and_swings.bar.value else ""
        return edits.pocket_round(project, kind, at=points[0], path=path)

    def _kind(self) -> Kind:
        def name() -> str:
            return self.page.path_name

        def turns(project: Project) -> tuple[Turn, ...]:
            return next((p.round for p in project.structure.paths if p.name == name()), ())

        def offered(project: Project) -> list[tuple[str, str]]:
            return [(what, what) for what in edits.turns_for(project, name())]

        what = Column(key="what", words="Swings round", read=_as_typed, show=_as_shown, offered=offered, options=NONE)
        return Kind(
            word="turn",
            columns=(what, HAND),
            of=turns,
            add=lambda project, values: edits.add_turn(project, name(), values["what"], hand=values["hand"]),
            change=lambda project, old, values: edits.change_turn(project, name(), turns(project).index(old), **values),
            remove=lambda project, old: edits.remove_turn(project, name(), turns(project).index(old)),
        )


def _beds(project: Project) -> list[str]:
    return [bed.name for bed in project.structure.beds]


def _as_typed(typed: str, *_: object) -> str:
    return typed


def _as_shown(value: str, _: System) -> str:
    return value


NONE = (("choose what", ""),)
HANDS = (("whichever is nearer", ""), ("the left hand", "left"), ("the right hand", "right"))
HAND = Column(key="hand", words="One has it on", read=_as_typed, show=_as_shown, options=HANDS, listed=True)
