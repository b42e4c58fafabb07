"""The wants list: what the client asked for and refuses, how much it matters, whether the design meets it so far."""

import ipywidgets as w

from gardenkit import reading
from gardenkit.brief import wants
from gardenkit.brief.brief import Covers
from gardenkit.brief.wants import FACTS, Judged, Want
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.planting.suitability import REFUSALS
from gardenkit.project.edits import brief as edits
from gardenkit.units import SQUARE_FOOT, length, show_area, show_length

_SIGN = {"met": "✔ met", "not met": "✘ not met", "not yet known": "? not yet known", "to be judged by eye": "◦ by eye"}
COVERS: list[tuple[str, Covers]] = [
    ("plants, materials and reserve", "plants and materials"),
    ("plants alone", "plants"),
]
_WEIGHTS = ("must", "wish", "maybe")


class WantsPage(Page):
    """The list with its verdicts; a form for one want; what the client refuses; the budget."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.chosen: int | None = None
        self.table, self.head = w.HTML(), w.HTML()
        self.which = controls.choice("Want", None, [("a new one", None)], self.choose, name="which-want")
        self.text = controls.field("What the client wants", "", lambda _: None, name="want", hint="in their words")
        self.weight = controls.choice("How much it matters", "wish", _WEIGHTS, lambda _: None)
        known = [("judge by eye", None), *((f.words, key) for key, f in FACTS.items())]
        self.fact = controls.choice("Checked by", None, known, lambda _: None, name="want-fact")
        self.compare = controls.choice("How", "at least", ["at least", "at most", "exactly"], lambda _: None)
        self.amount = controls.field("Amount", "1", lambda _: None, name="amount")
        buttons = forms.side_by_side(
            controls.button("Add", self.add, name="add-want", width="32%"),
            controls.button("Change", self.change, name="change-want", width="32%"),
            controls.button("Remove", self.remove, name="remove-want", width="32%"),
        )
        order = forms.side_by_side(
            controls.button("Up", self.up, name="want-up", width="48%"),
            controls.button("Down", self.down, name="want-down", width="48%"),
        )
        self.refusals = {word: controls.tick(word, False, self._ticked) for word in REFUSALS}
        self.other = controls.field("Refused in other words", "", self._ticked, name="refuse", hint="berries; bees")
        self.budget = controls.field("Budget", "", self.set_budget, name="budget", hint="none")
        self.covers = controls.choice("It covers", COVERS[0][1], COVERS, self.set_covers, name="budget-covers")
        panel = [self.which, self.text, self.weight, self.fact, self.compare, self.amount, buttons, order]
        refused = [controls.label("No plant may be or do:"), *self.refusals.values(), self.other]
        self.widget = controls.page(
            self.message, [*panel, *refused, self.budget, self.covers, self.undo_row()], w.VBox([self.head, self.table])
        )

    def refresh(self) -> None:
        """Show the list with verdicts as the design stands."""
        brief, judged = self.project.brief, self.judged()
        rows = [(_SIGN[j.verdict], j.want.text, j.want.weight, self.measured(j)) for j in judged]
        self.table.value = controls.table_html(("", "want", "weight", "measured"), rows)
        self.head.value = controls.label(wants.told(judged)).value
        if self.chosen is not None and self.chosen >= len(brief.wants):
            self.chosen = None
        options = [("a new one", None), *((want.text, i) for i, want in enumerate(brief.wants))]
        forms.relist(self.which, options, self.chosen)
        for word, box in self.refusals.items():
            box.show(word in brief.refuses)
        self.other.show("; ".join(word for word in brief.refuses if word not in self.refusals))
        self.budget.show("" if brief.budget is None else f"{brief.budget:g}")
        self.covers.show(brief.budget_covers)

    def judged(self) -> tuple[Judged, ...]:
        """Return every want with its verdict."""
        return self.garden.wants

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def choose(self, index: int | None) -> None:
        """Show one want in the form; None clears the way for a new one."""
        self.chosen = index
        if index is None:
            self.text.show("")
            return
        want = self.project.brief.wants[index]
        self.text.show(want.text)
        self.weight.show(want.weight)
        self.fact.show(want.check.fact if want.check else None)
        if want.check:
            self.compare.show(want.check.compare)
            self.amount.show(self.typed(want.check.amount, FACTS[want.check.fact].unit))

    @handler
    def add(self) -> None:
        """Add the want that was typed."""
        want = self._want()
        if self.edit(f'add want "{want.text}"', lambda p: edits.add_want(p, want)):
            self.text.show("")
            self.chosen = None

    @handler
    def change(self) -> None:
        """Change the chosen want to what the form says."""
        index, want = self._index(), self._want()
        self.edit(f'change want "{want.text}"', lambda p: edits.change_want(p, index, want))

    @handler
    def remove(self) -> None:
        """Take the chosen want off the list."""
        index = self._index()
        self.chosen = None
        self.edit("take a want off the list", lambda p: edits.remove_want(p, index))

    def up(self) -> None:
        """Move the chosen want up the list."""
        self._move(-1)

    def down(self) -> None:
        """Move the chosen want down the list."""
        self._move(1)

    @handler
    def _move(self, by: int) -> None:
        index = self._index()
        to = min(max(index + by, 0), len(self.project.brief.wants) - 1)
        self.chosen = to
        self.edit("reorder the wants", lambda p: edits.move_want(p, index, to=to))

    @handler
    def _ticked(self, _: object) -> None:
        words = [word for word, box in self.refusals.items() if box.bar.value]
        words += [word.strip() for word in str(self.other.bar.value).split(";")]
        self.edit("what the client refuses", lambda p: edits.set_refusals(p, words))

    @handler
    def set_budget(self, text: str) -> None:
        """Set or clear the budget."""
        budget = reading.amount(text, "budget", money=True) if text.strip() else None
        self.edit("budget", lambda p: edits.set_budget(p, budget))

    def set_covers(self, covers: Covers) -> None:
        """Say what the budget is for."""
        self.edit("what the budget covers", lambda p: edits.set_budget(p, p.brief.budget, covers=covers))

    # --- helpers ------------------------------------------------------------------------------------------------

    def _index(self) -> int:
        if self.chosen is None:
            raise GardenError("no want is chosen; choose one from the list first")
        return self.chosen

    def _want(self) -> Want:
        check = None
        key = self.fact.bar.value
        if key is not None:
            check = wants.check_for(key, self.compare.bar.value, self._amount(FACTS[key]))
        return Want(text=str(self.text.bar.value), weight=self.weight.bar.value, check=check)

    def _amount(self, fact: wants.Fact) -> float:
        text, imperial = str(self.amount.bar.value), self.project.units == "imperial"
        if fact.unit == "m":
            return length(text, bare="ft" if imperial else "m", where=fact.words)
        if fact.unit == "m2":
            number = reading.amount(text.lower().replace("sq ft", "").replace("m2", "").replace("m²", ""), fact.words)
            return number * SQUARE_FOOT if imperial and "m" not in text.lower() else number
        return reading.amount(text, fact.words)

    def typed(self, amount: float, unit: str) -> str:
        """Return an amount as the designer would type it, in the garden's units."""
        if unit == "m":
            return show_length(amount, self.project.units)
        if unit == "m2":
            return show_area(amount, self.project.units)
        return f"{amount:g}"

    def measured(self, judged: Judged) -> str:
        """Return what a want asks for and what was measured, in the garden's units."""
        check = judged.want.check
        if check is None:
            return ""
        fact = FACTS[check.fact]
        shown = "" if fact.unit in ("m", "m2") else f" {fact.unit}"
        wanted = f"{fact.words}: wanted {check.compare} {self.typed(check.amount, fact.unit)}{shown}".strip()
        if judged.value is None:
            return wanted
        value = self.typed(round(judged.value, 3), fact.unit) if fact.unit in ("m", "m2") else f"{judged.value:.3g}"
        return f"{wanted}, is {value}{shown}".strip()

    def summary(self) -> str:
        """Return the list in words."""
        if not self.project.brief.wants:
            return "no wants on the list yet"
        listed = (f"{_SIGN[j.verdict]}: {j.want.text} ({j.want.weight}) {self.measured(j)}" for j in self.judged())
        return "\n".join((wants.told(self.judged()), *listed))
