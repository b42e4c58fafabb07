"""The plan beside the wants: a click on it says what the want in the form is about, and what was said is ringed."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.brief.want_kinds import WANT_KINDS
from gardenkit.brief.want_kinds.row import EVERY_THING, WantKind
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.overlays import CHOSEN_INK, chosen_shape_mark
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Shape
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import plan_scale
from gardenkit.notebook.part import Part
from gardenkit.project.pointing import named_at, shape_named

if TYPE_CHECKING:
    from gardenkit.notebook.pages.wants import WantsPage

SCREEN_PX = (560, 620)  # most width and height. House values.
HINT = "Click on the plan what the want is about, or choose it by its name."


class WantsPlan(Part):
    """The plan, and which of the two things of a want the next click says."""

    page: "WantsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.says = controls.choice("A click on the plan says", "thing", [("thing", "thing")], lambda _: None)
        self.plan = self.page.live_plan(self.scene(), width_px=SCREEN_PX[0], most_height_px=SCREEN_PX[1])
        self.plan.on_click(self.click)
        self.board = self.plan.board(lambda *_: None)
        self.ringed: tuple[Wish, ...] = ()
        self.asked_of_plan = False
        for field in ("thing", "other"):
            self.page.list.form.boxes[field].bar.observe(lambda _: self.page.attempt(self.mark), "value")
        self.hint = controls.label(HINT)
        self.widget = w.VBox([self.hint, self.says, self.board], layout=w.Layout(display="none"))

    def refresh(self) -> None:
        """Draw the garden as it stands."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self._hide_an_empty_plan()

    def mark(self) -> None:
        """Ring on the plan what the want in the form is about."""
        ringed = tuple(wish for _, wish in self._about())
        if ringed != self.ringed:
            self.plan.update(self.scene())

    def ask(self, row: WantKind | None) -> None:
        """Offer what a click can say of a kind of want; the plan is there while one is asked about a thing of it."""
        offered = [(words.lower(), field) for field, kinds, words in _fields(row) if kinds]
        forms.relist(self.says, offered or [("nothing", "")], self.says.bar.value)
        self.says.layout.display = "" if len(offered) > 1 else "none"
        self.asked_of_plan = bool(offered)
        self._hide_an_empty_plan()
        self.widget.layout.display = "" if offered or self._about() else "none"
        self.mark()

    def _hide_an_empty_plan(self) -> None:
        drawn = bool(self.project.site.boundary)
        self.board.layout.display = "" if drawn else "none"
        self.hint.layout.display = "" if drawn and self.asked_of_plan else "none"

    @handler
    def click(self, at: Point) -> None:
        """Take what stands where the plan was clicked for the want in the form; the next click says its other thing."""
        form = self.page.list.form
        row, field = WANT_KINDS.get(form.boxes["fact"].bar.value), str(self.says.bar.value or "")
        if row is None or not field:
            raise GardenError("choose first what the want is checked by; not every check is about a thing of the plan")
        kinds = row.thing if field == "thing" else row.other
        name = named_at(self.project, at, kinds)
        if not name:
            raise GardenError(f"there is no {' or '.join(kinds)} where you clicked; click on one, or choose it by name")
        form.fill(**{field: name})
        self.message.say(f"{_short(row.thing_words if field == 'thing' else row.other_words)}: {name}")
        if field == "thing" and row.other:
            self.says.show("other")

    def scene(self) -> Scene:
        """Return the plan of the garden, what the want in the form is about ringed and named."""
        garden, about = self.garden, self._about()
        self.ringed = tuple(wish for _, wish in about)
        scale = plan_scale(self.project.site, width_px=SCREEN_PX[0], high_px=SCREEN_PX[1])
        rings = [chosen_shape_mark(shape, scale=scale) for shape, _ in about]
        return garden_scene(self.project, garden.layout, plants=False, scale=scale, extra=rings, wishes=self.ringed)

    def _about(self) -> list[tuple[Shape, Wish]]:
        """Return where each thing lies that the want in the form is about, with the words that say what it is to it,
        and the thing by which a want of the list is answered where that is another.
        """
        boxes = self.page.list.form.boxes
        row = WANT_KINDS.get(boxes["fact"].bar.value)
        found = []
        for field, kinds, words in _fields(row):
            name = str(boxes[field].bar.value or "")
            shape = shape_named(self.project, name, kinds) if name and kinds else None
            if shape is not None:
                found.append((shape, _named(words, name, shape)))
        look = self._look()
        shape = shape_named(self.project, look, EVERY_THING) if look else None
        if shape is not None and look not in [str(boxes[field].bar.value or "") for field in ("thing", "other")]:
            found.append((shape, _named("look here", look, shape)))
        return found

    def _look(self) -> str:
        """Return where the chosen want of the list is answered, empty while none is chosen or another kind is typed."""
        chosen = self.page.list.chosen
        if chosen is None or (chosen.asks is None and chosen.check is None):
            return ""
        by = chosen.asks.kind if chosen.asks is not None else chosen.check.fact
        if self.page.list.form.boxes["fact"].bar.value != by:
            return ""
        return self.page.judged()[self.page.list.position()].where


# ---- helpers


def _fields(row: WantKind | None) -> tuple[tuple[str, tuple[str, ...], str], ...]:
    """Return the fields of a kind of want that are about a thing of the plan: the kinds it may be, and its words."""
    if row is None:
        return ()
    return (("thing", row.thing, _short(row.thing_words)), ("other", row.other, _short(row.other_words)))


def _short(words: str) -> str:
    return words.partition(" (")[0]


def _named(words: str, name: str, shape: Shape) -> Wish:
    low_x, low_y, high_x, high_y = plane.bounds(shape)
    middle = (low_x + high_x) / 2, (low_y + high_y) / 2
    return Wish(text=f"{words}: {name}", at=middle, colour=CHOSEN_INK, bold=True, rank=0)
