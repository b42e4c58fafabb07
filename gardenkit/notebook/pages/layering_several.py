"""The part of the plan of plants for several at once: chosen by clicks, a box, kind or bed, and changed together."""

import html
from collections import Counter
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.overlays import chosen_mark
from gardenkit.drawing.scene import Mark
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Line, Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.planting.planting import Plant
from gardenkit.planting.standing import standing_at
from gardenkit.project import Project
from gardenkit.project.edits import planting as edits
from gardenkit.project.pointing import plants_in_bed, plants_in_box, plants_in_lasso
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.notebook.pages.layering import LayeringPage

BY = {"imperial": "1', 0", "metric": "0.3, 0"}
HOW = (
    "Click plants to choose them or leave them out; two clicks beside plants are the corners of a box; "
    "over the plan stand a box and a lasso to drag."
)


class SeveralPlants(Part):
    """Which plants, and what is done to all of them as one step of undo."""

    page: "LayeringPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.numbers: frozenset[int] = frozenset()
        self.corner: Point | None = None
        self.on = controls.tick("Clicks choose several", False, self.turn)
        self.on.bar.add_class("gk-tick-several")
        self.said = w.HTML()
        self.kind = controls.choice("All of a kind", None, [("choose ...", None)], self.add_kind, name="several-kind")
        self.bed = controls.choice("All in a bed", None, [("choose ...", None)], self.add_bed, name="several-bed")
        self.by = controls.field(
            "Move or copy by: right, up", BY[self.project.units], lambda _: None, name="several-by"
        )
        self.to_bed = controls.choice(
            "Copy to bed", None, [("choose ...", None)], lambda _: None, name="several-to-bed"
        )
        self.controls = [
            self.on,
            self.kind,
            self.bed,
            self.said,
            self.by,
            controls.row(self._button("Move", self.move), self._button("Duplicate", self.duplicate)),
            self.to_bed,
            controls.row(
                self._button("Mirror left to right", self.mirror), self._button("Copy to bed", self.copy_to_bed)
            ),
            controls.row(self._button("Align", self.align), self._button("Spread evenly", self.spread)),
            controls.row(self._button("Remove all", self.remove), self._button("Swap for the kind", self.swap)),
            controls.row(self._button("Group", self.group), self._button("Ungroup", self.ungroup)),
            controls.row(self._button("Lock all", self.lock), self._button("Let go", self.let_go)),
        ]

    def refresh(self) -> None:
        """Show how many are chosen, of which kinds; what is gone is let go of."""
        there = {p.number: p.species for p in self.project.planting.plants}
        locked = {p.number for p in self.project.planting.plants if p.locked}
        self.numbers = self.numbers & there.keys()
        nothing: list[tuple[str, str | None]] = [("choose ...", None)]
        forms.relist(self.kind, [*nothing, *((k, k) for k in sorted(set(there.values())))], None)
        forms.relist(self.bed, [*nothing, *((b.name, b.name) for b in self.garden.beds)], None)
        kinds = Counter(there[number] for number in self.numbers).most_common()
        forms.relist(self.to_bed, [*nothing, *((b.name, b.name) for b in self.garden.beds)], self.to_bed.bar.value)
        told = [f"{counted(len(self.numbers), 'plant')} chosen", *(f"{count} {kind}" for kind, count in kinds[:6])]
        told += ["and more"] if len(kinds) > 6 else []
        told += [f"{kept} locked"] if (kept := len(self.numbers & locked)) else []
        text = "; ".join(told) if self.numbers else HOW
        self.said.value = f'<div class="gk-label" role="status">{html.escape(text)}</div>'

    # ---- choosing

    @handler
    def turn(self, on: bool) -> None:
        """Let clicks on the plan choose several plants, or one again."""
        self.on.show(bool(on))
        self.corner = None
        self.page.redraw()

    @handler
    def click(self, at: Point) -> None:
        """Take a clicked plant in or out; beside all plants, take the corner of a box."""
        page = self.page
        found = standing_at(self.garden.standing(year=page.year, month=page.month), at)
        if found is not None:
            self.numbers, self.corner = self.numbers ^ self._with_group(found.plant), None
        elif self.corner is None:
            self.corner = at
            self.message.say("one corner of a box; click its opposite corner")
        else:
            self.take_box(self.corner, at)
            self.corner = None
            self.message.say("")
        self._show()

    def choose(self, numbers: Iterable[int]) -> None:
        """Choose these plants and no others."""
        self.numbers, self.corner = frozenset(numbers), None
        self._show()

    @handler
    def take_box(self, one: Point, other: Point) -> None:
        """Choose the plants in a box over the plan too, given by two opposite corners."""
        self.numbers |= plants_in_box(self.project.planting, one, other, year=self.page.year)
        self._show()

    @handler
    def take_lasso(self, line: Line) -> None:
        """Choose the plants inside a line drawn round them too."""
        self.numbers |= plants_in_lasso(self.project.planting, line, year=self.page.year)
        self._show()

    @handler
    def add_kind(self, kind: str | None) -> None:
        """Choose every plant of a kind too."""
        self.numbers |= {p.number for p in self.project.planting.plants if p.species == kind}
        self._show()

    @handler
    def add_bed(self, name: str | None) -> None:
        """Choose every plant in a bed too."""
        if name is not None:
            self.numbers |= plants_in_bed(self.project, name)
        self._show()

    @handler
    def let_go(self) -> None:
        """Choose none."""
        self.numbers, self.corner = frozenset(), None
        self._show()

    # ---- changing

    def move(self) -> None:
        """Move all that are chosen together."""
        self._change("move", lambda p: edits.move_plants(p, self._chosen(), by=self._by()))

    def duplicate(self) -> None:
        """Plant one more of each; the copies are chosen then, to be moved."""
        self._copied("duplicate", lambda p: edits.duplicate_plants(p, self._chosen(), by=self._by()))

    def mirror(self) -> None:
        """Plant the mirrored ones of all that are chosen over the upright line at their right edge, one more of each;
        the mirrored ones are chosen then.
        """
        spots = [p.at for p in self.project.planting.plants if p.number in self.numbers]
        right = max((x for x, _ in spots), default=0.0)
        room = self.page.apart(self.numbers) / 2
        axis = ((right + room, 0.0), (right + room, 1.0))
        self._copied("mirror", lambda p: edits.mirror_plants(p, self._chosen(), axis=axis))

    @handler
    def copy_to_bed(self) -> None:
        """Plant one more of each in the middle of another bed, as they stand to one another; the copies are chosen."""
        bed = self.to_bed.bar.value
        if bed is None:
            raise GardenError('choose the bed to copy them to under "Copy to bed" first')
        self._copied("copy to a bed", lambda p: edits.copy_plants_to_bed(p, self._chosen(), bed))

    def align(self) -> None:
        """Put all that are chosen in one straight line."""
        self._change("align", lambda p: edits.align_plants(p, self._chosen()))

    def spread(self) -> None:
        """Spread all that are chosen evenly between the two furthest apart."""
        self._change("spread evenly", lambda p: edits.spread_plants(p, self._chosen()))

    def remove(self) -> None:
        """Take out all that are chosen."""
        self._change("remove", lambda p: edits.remove_plants(p, self._chosen()))

    @handler
    def swap(self) -> None:
        """Put the kind that is typed under "Another kind" in the place of all that are chosen."""
        kind = self.page.another.species()
        self._change("swap", lambda p: edits.swap_plants(p, self._chosen(), kind))

    def group(self) -> None:
        """Make all that are chosen one group, chosen and dragged together from now on."""
        self._change("group", lambda p: edits.group_plants(p, self._chosen()))

    def ungroup(self) -> None:
        """Take the groups of all that are chosen apart."""
        self._change("ungroup", lambda p: edits.ungroup_plants(p, self._chosen()))

    def lock(self) -> None:
        """Lock all that are chosen, or unlock them where all are locked."""
        chosen = [p for p in self.project.planting.plants if p.number in self.numbers]
        locked = not all(p.locked for p in chosen)
        self._change("lock" if locked else "unlock", lambda p: edits.lock_plants(p, self._chosen(), locked=locked))

    # ---- helpers

    def marks(self, scale: float) -> tuple[Mark, ...]:
        """Return a ring round every chosen plant."""
        catalogue = self.garden.catalogue
        plants = [p for p in self.project.planting.plants if p.number in self.numbers]
        return tuple(chosen_mark(p.at, catalogue[p.species].spread, scale=scale) for p in plants)

    def _button(self, text: str, pressed: Callable[[], object]) -> w.Button:
        return controls.button(text, pressed, width="49%", name="-".join(["several", *text.lower().split()]))

    def _change(self, does: str, change: Callable[[Project], Project]) -> bool:
        return self.edit(f"{does} {counted(len(self.numbers), 'plant')}", change)

    def _copied(self, does: str, change: Callable[[Project], Project]) -> None:
        known = {p.number for p in self.project.planting.plants}
        if self._change(does, change):
            self.numbers = frozenset(p.number for p in self.project.planting.plants) - known
            self._show()

    def _with_group(self, plant: Plant) -> frozenset[int]:
        of_group = (p.number for p in self.project.planting.plants if plant.group and p.group == plant.group)
        return frozenset((plant.number, *of_group))

    def _chosen(self) -> tuple[int, ...]:
        if not self.numbers:
            raise GardenError("no plants are chosen; choose them by clicks, a box, a kind or a bed first")
        return tuple(sorted(self.numbers))

    def _by(self) -> Point:
        return forms.point(str(self.by.bar.value), self.project.units, "how far to the right and up")

    def _show(self) -> None:
        self.refresh()
        self.page.redraw()
