"""What is written on the plan: notes with leaders, dimensions, services known, setbacks and easements."""

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, plan_scale
from gardenkit.notebook.pages.notes_fields import NOTE
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import TAPE, WRITTEN
from gardenkit.project.pointing import note_at

WHOLE = "whole:"  # the handle of all of a note
TOPICS = ("clearance", "permit", "safety")


class NotesPage(BonesPage):
    """One note at a time left, its points dragged on the plan; what lies over services and easements below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.notes = RecordEditor(self, (NOTE,), name="note", chose=self.turned, opens=True)
        self.advice = AdviceList(self, topics=TOPICS, chosen=self.redraw, first=lambda: (self.notes.title,))
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        words = (*(kind for kind, _ in WRITTEN), TAPE)
        self.draw = Draw(self, self.plan, words, made=self.show_drawn, choose=self.click, chooses=(NOTE.word,))
        self.board = self.plan.board(self.edited)
        self.place = PlaceOf(self, lambda: ("note", self.notes.title) if self.notes.title else None)
        panel = [self.draw.widget, self.notes.widget, self.place.widget, self.undo_row()]
        self.widget = controls.page(self.message, panel, self.board, [self.advice.widget])

    def refresh(self) -> None:
        """Show the notes as they stand."""
        self.notes.show()
        self.place.refresh()
        self._redraw()
        self.advice.show()

    @handler
    def click(self, at: Point) -> None:
        """Turn to the note that was clicked on the plan."""
        found = note_at(self.project.site.notes, at)
        if found is not None and found.name != self.notes.title:
            self.notes.turn_to(found.name)

    def show_drawn(self, _: str, name: str) -> None:
        """Turn to the note that was just drawn, to type its words."""
        if name:
            self.notes.turn_to(name)

    @handler
    def turned(self) -> None:
        """Show the note that was turned to, its place and what is said about it."""
        self.refresh()

    @handler
    def redraw(self) -> None:
        """Draw the plan again."""
        self._redraw()

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged point of the chosen note, or all of it: ``point:1`` or ``whole:``."""
        name = self.notes.title
        if handle == WHOLE:
            self.edit(f"move {name}", lambda p: edits.move_note(p, name, to=at))
            return
        number = int(handle.partition(":")[2])
        self.edit(f"move {name}", lambda p: edits.move_note_point(p, name, number, to=at))

    def chosen_spots(self) -> Line:
        """Return the points of the chosen note."""
        return self.notes.chosen.line if self.notes.chosen is not None else ()

    def _redraw(self) -> None:
        self.plan.update(self.scene())
        one = self.notes.chosen
        line = one.line if one is not None else ()
        self.handles: tuple[Handle, ...] = tuple(
            Handle(id=f"point:{number}", kind="path", at=at, tip=f"{one.name}, point {number + 1}")
            for number, at in enumerate(line)
        )
        if one is not None and len(one.line) > 1:
            self.handles += (Handle(id=WHOLE, kind="seat", at=one.middle, tip=f"move {one.name}"),)
        self.plan.set_handles(self.handles)

    def scene(self) -> Scene:
        """Return the plan as it stands."""
        scale = plan_scale(self.project.site)
        lit = self.advice.marks(scale)
        return garden_scene(self.project, self.garden.layout, scale=scale, extra=lit, textures=False)

    def summary(self) -> str:
        """Return the notes in words."""
        lines = [f"{note.name}: {note.kind}{f', {note.text}' if note.text else ''}" for note in self.project.site.notes]
        return "\n".join(["Written on the plan:", *lines]) if lines else "Nothing is written on the plan yet"
