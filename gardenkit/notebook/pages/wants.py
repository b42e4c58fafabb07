"""The wants list: what the client asked for, how much it matters, and whether the design meets it so far."""

import attrs
import ipywidgets as w

from gardenkit import reading
from gardenkit.brief import wants
from gardenkit.brief.wants import FACTS, Judged, Want
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page
from gardenkit.project import Project

_SIGN = {"met": "✔ met", "not met": "✘ not met", "not yet known": "? not yet known", "to be judged by eye": "◦ by eye"}


class WantsPage(Page):
    """The list with its verdicts, and a row of fields to add a want."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.table = w.HTML()
        self.text = controls.field("What the client wants", "", lambda _: None, name="want", hint="in their words")
        self.weight = controls.choice("How much it matters", "wish", ["must", "wish", "maybe"], lambda _: None)
        known = [("judge by eye", None), *((f.words, key) for key, f in FACTS.items())]
        self.fact = controls.choice("Checked by", None, known, lambda _: None)
        self.compare = controls.choice("", "at least", ["at least", "at most", "exactly"], lambda _: None)
        self.amount = controls.field("Amount", "1", lambda _: None, name="amount")
        self.budget = controls.field("Budget for plants", "", self.set_budget, name="budget", hint="none")
        self.remove = controls.choice("Take a want off the list", None, [("choose ...", None)], self.take_off)
        add = controls.button("Add this want", self.add, name="add-want", width="96%")
        fields = [self.text, self.weight, self.fact, self.compare, self.amount, add, self.remove, self.budget]
        self.widget = controls.page(self.message, [*fields, self.undo_row()], self.table)

    def refresh(self) -> None:
        """Show the list with verdicts as the design stands."""
        rows = [(_SIGN[j.verdict], j.want.text, j.want.weight, _measured(j)) for j in self.judged()]
        self.table.value = controls.table_html(("", "want", "weight", "measured"), rows)
        self.remove.quiet = True
        self.remove.bar.options = [("choose ...", None), *((x.text, i) for i, x in enumerate(self.project.brief.wants))]
        self.remove.bar.value = None
        self.remove.quiet = False
        budget = self.project.brief.budget
        self.budget.show("" if budget is None else f"{budget:g}")

    def judged(self) -> tuple[Judged, ...]:
        """Return every want with its verdict."""
        return self.garden.wants

    def add(self) -> None:
        """Add the want that was typed."""
        self.attempt(self._add)

    def _add(self) -> None:
        text = self.text.bar.value.strip()
        if not text:
            raise GardenError("the want is empty; type what the client wants in their words")
        check = None
        if self.fact.bar.value is not None:
            amount = reading.amount(self.amount.bar.value, FACTS[self.fact.bar.value].words)
            check = wants.check_for(self.fact.bar.value, self.compare.bar.value, amount)
        want = Want(text=text, weight=self.weight.bar.value, check=check)
        if self.edit(f'add want "{text}"', lambda p: _with_wants(p, (*p.brief.wants, want))):
            self.text.show("")

    def take_off(self, index: int | None) -> None:
        """Take one want off the list."""
        if index is not None:
            gone = self.project.brief.wants[index]
            self.edit(f'take off "{gone.text}"', lambda p: _with_wants(p, tuple(x for x in p.brief.wants if x != gone)))

    def set_budget(self, text: str) -> None:
        """Set or clear the budget."""

        def change(project: Project) -> Project:
            budget = reading.amount(text, "budget", money=True) if text.strip() else None
            return attrs.evolve(project, brief=attrs.evolve(project.brief, budget=budget))

        self.edit("budget", change)

    def summary(self) -> str:
        """Return the list in words."""
        if not self.project.brief.wants:
            return "no wants on the list yet"
        return "\n".join(f"{_SIGN[j.verdict]}: {j.want.text} ({j.want.weight}) {_measured(j)}" for j in self.judged())


def _with_wants(project: Project, listed: tuple[Want, ...]) -> Project:
    return attrs.evolve(project, brief=attrs.evolve(project.brief, wants=listed))


def _measured(judged: Judged) -> str:
    check = judged.want.check
    if check is None:
        return ""
    fact = FACTS[check.fact]
    wanted = f"{fact.words}: wanted {check.compare} {check.amount:g} {fact.unit}".strip()
    return wanted if judged.value is None else f"{wanted}, is {judged.value:.3g} {fact.unit}".strip()
