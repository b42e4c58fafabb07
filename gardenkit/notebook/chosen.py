"""What was clicked on a plan and is the matter of another step: its few fields, its place and the advice about it."""

import html

import attrs
import ipywidgets as w

from gardenkit.drawing.overlays import chosen_shape_mark
from gardenkit.findings import Finding
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList, names
from gardenkit.notebook.one_plan import StepPlan
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages.bones import plan_scale
from gardenkit.notebook.pages.bones_fields import AREA, BED, PATH, SEAT, SUPPORT, THING
from gardenkit.notebook.pages.ground_fields import KINDS
from gardenkit.notebook.pages.levels_fields import LEVEL
from gardenkit.notebook.pages.notes_fields import NOTE
from gardenkit.notebook.part import Part
from gardenkit.notebook.place import PlaceOf
from gardenkit.notebook.record_editor import Kind, RecordEditor
from gardenkit.project.edits.drawn import HEIGHT
from gardenkit.project.edits.moved import Sort
from gardenkit.project.pointing import Pointed, pointed_shape


@attrs.frozen(kw_only=True)
class Shown:
    """How a kind is shown when it was clicked: its fields, how it is put elsewhere, which advice is about it."""

    kind: Kind
    topics: tuple[str, ...]
    sort: Sort | None = None


SHOWN = {
    one.kind.word: one
    for one in (
        *(  # ground heights are drawn, and clicked, on their own step only
            Shown(kind=kind, topics=("site", "clearance", "permit", "structure"))
            for kind in KINDS
            if kind.word != HEIGHT
        ),
        Shown(kind=SEAT, sort="seat", topics=("room", "view", "access")),
        Shown(kind=THING, sort="thing", topics=("room", "permit", "water", "light", "steps")),
        Shown(kind=SUPPORT, sort="support", topics=("supports", "training", "posts", "building")),
        Shown(kind=AREA, sort="area", topics=("patio", "structure", "safety")),
        Shown(kind=BED, topics=("bed", "reach", "crops")),
        Shown(kind=LEVEL, sort="level", topics=("levels", "slope", "permit")),
        Shown(kind=NOTE, sort="note", topics=("clearance", "permit")),
        Shown(kind=PATH, topics=("bend", "width", "slope", "access", "gap", "pace", "surface", "stone")),
    )
}


class Chosen(Part):
    """The fields of one thing that another step is about. Hidden while what is chosen is the step's own, or nothing."""

    def __init__(self, page: Page, plan: StepPlan) -> None:
        self.plan = plan
        self.pointed: Pointed | None = None
        self.editors: dict[str, RecordEditor] = {}
        super().__init__(page)

    def build(self) -> None:
        """Make the widgets, once; the fields of a kind when one of it is first clicked."""
        self.heading, self.fields = w.HTML(), w.VBox([], layout=w.Layout(width="100%"))
        self.place = PlaceOf(self.page, self._put)
        self.advice = AdviceList(self.page, about=self._is_about)
        go = controls.button("Let go of it", self.let_go, tip="Escape", name="chosen-let-go", width="96%")
        go.add_class("gk-key-Escape")
        boxes = [self.heading, self.fields, self.place.widget, self.advice.widget, go]
        self.widget = w.VBox(boxes, layout=w.Layout(width="100%", display="none"))
        self.widget.add_class("gk-chosen-elsewhere")
        self.page.session.watch(lambda _: self.follow())

    @handler
    def show(self, pointed: Pointed) -> None:
        """Show the fields of what was clicked, ringed on the plan."""
        self.pointed = pointed
        if pointed.word not in self.editors:
            made = RecordEditor(self.page, (SHOWN[pointed.word].kind,), name="chosen")
            made.which.layout.display = made.add_button.layout.display = "none"
            self.editors[pointed.word] = made
        self.editors[pointed.word].turn_to(pointed.name)
        self._show()
        self.advice.ask(SHOWN[pointed.word].topics)

    @handler
    def follow(self) -> None:
        """Show it as it stands; let go of it when it is gone."""
        if self.pointed is not None and self.plan.on_top:
            self._show()
            self.advice.show()

    def let_go(self) -> None:
        """Choose nothing of another step."""
        if self.pointed is not None:
            self.pointed = None
            self.widget.layout.display = "none"
            self.plan.light(self, ())

    # ---- helpers

    def _show(self) -> None:
        if self.pointed is None:
            return
        editor = self.editors[self.pointed.word]
        editor.show()
        self.pointed = attrs.evolve(self.pointed, name=editor.title)
        shape = pointed_shape(self.project, self.pointed)
        if shape is None:
            self.let_go()
            return
        title = html.escape(f"{self.pointed.word} {editor.title}")
        self.heading.value = f'<div class="gk-label" role="status"><b>Chosen: {title}</b></div>'
        self.fields.children = (editor.widget,)
        self.widget.layout.display = ""
        self.place.refresh()
        self.plan.light(self, (chosen_shape_mark(shape, scale=plan_scale(self.project.site)),))

    def _put(self) -> tuple[Sort, str] | None:
        sort = None if self.pointed is None else SHOWN[self.pointed.word].sort
        return None if sort is None or self.pointed is None else (sort, self.pointed.name)

    def _is_about(self, line: Finding) -> bool:
        return self.pointed is not None and any(names(one, self.pointed.name) for one in (line, *line.members))
