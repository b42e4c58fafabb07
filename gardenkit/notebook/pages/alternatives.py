"""Other bones for the same garden: kept under a name, held against each other in plan and figures, taken up again."""

import ipywidgets as w

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import ORDER
from gardenkit.garden import Garden
from gardenkit.garden.alternatives import Compared, compared, with_structure
from gardenkit.handover import options as side_by_side
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import BonesPage, plan_scale, refill
from gardenkit.progress import until
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.structure.alternatives import NOW
from gardenkit.units import show_area, show_length, show_weight

WIDTH_PX = 520


class AlternativesPage(BonesPage):
    """Two structures side by side, with a table of what differs."""

    def build(self) -> None:
        """Make the widgets, once."""
        self._of: Garden | None = None  # the garden that the others were made from
        self._others: dict[str, Garden] = {}
        self.name = controls.field(
            "Keep the structure as it stands, under the name", "", lambda _: None, name="alternative"
        )
        keep = controls.button("Keep it", self.keep, width="48%", name="keep")
        self.left = controls.choice("Option A", None, [], lambda _: self.attempt(self.refresh), name="left")
        self.right = controls.choice("Option B", None, [], lambda _: self.attempt(self.refresh), name="right")
        take = controls.button("Use option B", self.take, width="48%", name="take-alternative")
        gone = controls.button("Delete option", self.throw_away, width="48%")
        told = controls.button(
            "Write all options as a page for the client",
            self.write,
            tip="plans, views, costs, water, care and wants side by side, in one HTML file",
            name="options",
            width="96%",
        )
        self.job = Job(self, can_stop=True, name="options", tip="stop writing; what was there before stays as it was")
        self.plans, self.table = w.HTML(layout=w.Layout(width="100%")), w.HTML()
        panel = [self.name, keep, self.left, self.right, controls.row(take, gone), told, self.job.widget]
        panel += [self.undo_row()]
        seen = w.VBox([self.plans, self.table], layout=w.Layout(width="100%"))
        self.widget = controls.page(self.message, panel, seen)

    def refresh(self) -> None:
        """Show the two chosen structures."""
        names = [NOW, *(a.name for a in self.project.alternatives)]
        refill(self.left, names, self.left.bar.value)
        refill(self.right, names, self.right.bar.value if self.right.bar.value in names[1:] else names[-1])
        pair = (self.left.bar.value, self.right.bar.value)
        drawn = "".join(
            f'<div style="flex:1 1 0;min-width:300px;max-width:{WIDTH_PX}px">{svg(self.drawn(n))}</div>' for n in pair
        )
        self.plans.value = f'<div style="display:flex;gap:14px;flex-wrap:wrap;width:100%">{drawn}</div>'
        self.table.value = self._table(pair)
        if not self.project.alternatives:
            self.message.say(
                "nothing is kept beside this structure yet: keep it under a name, change it above, then compare"
            )

    @property
    def is_blank(self) -> bool:
        """Whether nothing is kept to be compared with."""
        return not self.project.alternatives

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def keep(self) -> None:
        """Keep the structure as it stands under the typed name."""
        name = " ".join(self.name.bar.value.split())
        if self.edit(f"keep {name}", lambda p: edits.keep_alternative(p, name)):
            self.name.show("")
            refill(self.right, list(self.right.bar.options), name)
            self.refresh()
            self.message.say(f'kept as "{name}"; change the structure and compare')

    def take(self) -> None:
        """Use option B as the garden's own structure; the one it replaces is kept under a name of its own."""
        name = self._other()
        if self.edit(f"use {name}", lambda p: edits.use_alternative(p, name)):
            self.message.say(f'"{name}" is the garden\'s structure now; what it replaced is kept too')

    def throw_away(self) -> None:
        """Delete option B."""
        name = self._other()
        self.edit(f"delete {name}", lambda p: edits.delete_alternative(p, name))

    @handler
    def write(self) -> None:
        """Write every option side by side, as one page for the client, into the garden folder."""
        garden, target = self.garden, self.session.folder / side_by_side.FILE
        self.message.say("")
        self.job.start(
            "writing the options ...",
            lambda tell, stopped: side_by_side.write(garden, target, tell=until(stopped, tell, what="the options")),
            lambda _: self.message.say(f"written: {target}"),
        )

    # --- helpers ------------------------------------------------------------------------------------------------

    def _other(self) -> str:
        return str(self.right.bar.value or "")

    def garden_with(self, name: str) -> Garden:
        """Return the garden with the structure of that name; remembered while the garden stays as it is."""
        if self._of is not self.garden:
            self._of, self._others = self.garden, {}
        if name not in self._others:
            self._others[name] = with_structure(self.garden, name)
        return self._others[name]

    def figures(self, name: str) -> Compared:
        """Return the figures of one structure."""
        return compared(self.garden_with(name))

    def _table(self, pair: tuple[str, str]) -> str:
        units = self.project.units
        a, b = (self.figures(name) for name in pair)

        def line(words: str, left: str, right: str) -> tuple[str, str, str]:
            return words, left, right if left != right else "the same"

        rows = [
            line("paths, in all", show_length(a.path_length, units), show_length(b.path_length, units)),
            line("stone", show_weight(a.stone_weight, units), show_weight(b.stone_weight, units)),
            line("stones", str(a.stones), str(b.stones)),
            line("paths and paving", show_area(a.hard_area, units), show_area(b.hard_area, units)),
            line("lawn", show_area(a.lawn_area, units), show_area(b.lawn_area, units)),
            line("beds", f"{a.beds}, {show_area(a.bed_area, units)}", f"{b.beds}, {show_area(b.bed_area, units)}"),
            line("edging of beds", show_length(a.edging, units), show_length(b.edging, units)),
            line("largest crown that fits", show_length(a.largest_crown, units), show_length(b.largest_crown, units)),
            line("path seen from its start, planted, in year five", _share(a.path_seen), _share(b.path_seen)),
            line("steepest path", _percent(a.steepest), _percent(b.steepest)),
            line("wants met", f"{a.wants_met} of {a.wants}", f"{b.wants_met} of {b.wants}"),
            *(
                line(word, str(a.findings[word]), str(b.findings[word]))
                for word in ORDER
                if a.findings[word] or b.findings[word]
            ),
            line("paths that do not fit", str(len(a.problems)), str(len(b.problems))),
        ]
        return controls.table_html(("", *(name if len(name) < 18 else f"{name[:17]}…" for name in pair)), rows)

    def drawn(self, name: str) -> Scene:
        """Return the plan of one structure."""
        other, title = self.garden_with(name), f"{self.project.name}: {name}"
        return garden_scene(
            other.project,
            other.layout,
            scale=plan_scale(self.project.site, width_px=WIDTH_PX, high_px=None),
            textures=False,
            title=title,
        )

    def scene(self) -> Scene:
        """Return the plan of the right structure."""
        return self.drawn(self._other() or NOW)

    def summary(self) -> str:
        """Return what is kept, in words."""
        kept = [a.name for a in self.project.alternatives]
        return f"Kept beside the structure as it stands: {', '.join(kept) or 'nothing yet'}"


def _share(value: float | None) -> str:
    return "not known" if value is None else f"{100 * value:.0f} %"


def _percent(value: float | None) -> str:
    return "not known" if value is None else f"{value:.1f} %"
