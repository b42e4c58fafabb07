"""The wants list: what the client asked for and refuses, how much it matters, whether the design meets it so far."""

from pathlib import Path
from typing import Any

import ipywidgets as w

from gardenkit import reading, storage
from gardenkit.brief import wants
from gardenkit.brief.pricing import Covers
from gardenkit.brief.want_kinds import WANT_KINDS
from gardenkit.brief.wants import Judged
from gardenkit.notebook import controls, gardens
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.pages.planting import Html, rich_table
from gardenkit.notebook.pages.want_fields import NOTHING, WANT, field_words, shown_fields, typed
from gardenkit.notebook.pages.wants_plan import WantsPlan
from gardenkit.notebook.record_editor import RecordEditor
from gardenkit.planting.suitability import REFUSALS
from gardenkit.project.edits import brief as edits
from gardenkit.project.wanted import kind_of_thing, offered

_SIGN = {
    "met": "✔\u00a0met",
    "partly met": "◐\u00a0partly\u00a0met",
    "not met": "✘\u00a0not\u00a0met",
    "not yet known": "?\u00a0not\u00a0yet known",
    "to be judged by eye": "◦\u00a0by\u00a0eye",
}
COVERS: list[tuple[str, Covers]] = [
    ("plants, materials and reserve", "plants and materials"),
    ("plants alone", "plants"),
    ("everything: labour, delivery and tax too", "plants, materials and labour"),
]


class WantsPage(Page):
    """The list with its verdicts; a form for one want; what the client refuses; the budget."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.table, self.head = w.HTML(), w.HTML()
        self.against = AdviceList(self, topics=("wants",), about=lambda found: found.rule == "contradiction")
        self.list = RecordEditor(self, (WANT,), name="want", chose=self.fields)
        self.list.form.boxes["fact"].bar.observe(self._turned, "value")
        order = controls.row(
            controls.button("Up", self.up, name="want-up", width="48%"),
            controls.button("Down", self.down, name="want-down", width="48%"),
        )
        self.plan = WantsPlan(self)
        self.refusals = {word: controls.tick(word, False, self._ticked) for word in REFUSALS}
        self.other = controls.field("Refused in other words", "", self._ticked, name="refuse", hint="berries; bees")
        self.budget = controls.field("Budget", "", self.set_budget, name="budget", hint="none")
        self.money = controls.field("Sums are written in", "", self.set_money, name="money", hint="$, €, CHF")
        self.covers = controls.choice("It covers", COVERS[0][1], COVERS, self.set_covers, name="budget-covers")
        others = (
            one for one in (*gardens.kept(), *gardens.examples()) if one.resolve() != self.session.folder.resolve()
        )
        mine = [(folder.name, folder) for folder in others]
        self.others = controls.choice(
            "Take the wants of another garden", None, [("choose ...", None), *mine], self.take_from, name="take-wants"
        )
        ticks = w.HBox(list(self.refusals.values()), layout=w.Layout(width="100%", flex_flow="row wrap"))
        for box in self.refusals.values():
            box.layout.width = "142px"
        refused = [heading("What is refused"), controls.label("No plant may be or do:"), ticks, self.other]
        self.widget = controls.page(
            self.message,
            [self.list.widget, order, self.undo_row()],
            w.VBox([self.plan.widget, self.head, self.table, self.against.widget]),
            [
                *refused,
                heading("The budget"),
                self.budget,
                self.money,
                self.covers,
                heading("From elsewhere"),
                self.others,
            ],
        )

    def refresh(self) -> None:
        """Show the list with verdicts as the design stands."""
        brief, judged = self.project.brief, self.judged()
        rows = [(_SIGN[j.verdict], self._told(j)) for j in judged]
        self.table.value = rich_table(("", "want and answer"), rows) if rows else ""
        self.head.value = controls.label(wants.told(judged)).value
        self.list.show()
        self.fields()
        self.plan.refresh()
        self.against.show()
        for word, box in self.refusals.items():
            box.show(word in brief.refuses)
        self.other.show("; ".join(word for word in brief.refuses if word not in self.refusals))
        self.budget.show("" if brief.budget is None else reading.shown(brief.budget))
        self.money.show(brief.currency.strip())
        self.covers.show(brief.budget_covers)

    def judged(self) -> tuple[Judged, ...]:
        """Return every want with its verdict."""
        return self.garden.wants

    # --- handlers -----------------------------------------------------------------------------------------------

    def up(self) -> None:
        """Move the chosen want up the list."""
        self._move(-1)

    def down(self) -> None:
        """Move the chosen want down the list."""
        self._move(1)

    @handler
    def _move(self, by: int) -> None:
        index = self.list.position()
        to = min(max(index + by, 0), len(self.project.brief.wants) - 1)
        self.edit("reorder the wants", lambda p: edits.move_want(p, index, to=to))

    @handler
    def take_from(self, folder: Path | None) -> None:
        """Take the wants of another garden; what they were about there is to be chosen here."""
        self.others.show(None)
        if folder is None:
            return
        taken = storage.load(folder).project.brief.wants
        if self.edit(f"take the wants of {folder.name}", lambda p: edits.take_wants(p, taken)):
            self.message.say(f"took the wants of {folder.name}; choose for each what it is about in this garden")

    @handler
    def _ticked(self, _: object) -> None:
        words = [word for word, box in self.refusals.items() if box.bar.value]
        words += [word.strip() for word in str(self.other.bar.value).split(";")]
        self.edit("what the client refuses", lambda p: edits.set_refusals(p, words))

    @handler
    def set_budget(self, text: str) -> None:
        """Set or clear the budget."""
        budget = reading.amount(text, "budget", money=self.project.brief.currency) if text.strip() else None
        self.edit("budget", lambda p: edits.set_budget(p, budget))

    @handler
    def set_money(self, text: str) -> None:
        """Say in which money the garden's sums are; no figure is changed by it."""
        before = self.project.brief.currency.strip()
        if self.edit("the money of the garden", lambda p: edits.set_money(p, text)):
            now = self.project.brief.currency.strip()
            self.message.say(
                f"sums are in {now} now, no longer in {before}; what was typed keeps its figures: check them"
            )

    def set_covers(self, covers: Covers) -> None:
        """Say what the budget is for."""
        self.edit("what the budget covers", lambda p: edits.set_budget(p, p.brief.budget, covers=covers))

    # --- helpers ------------------------------------------------------------------------------------------------

    def fields(self) -> None:
        """Show the fields that the kind of want in the form takes, and offer the things of the plan it can be about."""
        boxes = self.list.form.boxes
        key = boxes["fact"].bar.value
        row = WANT_KINDS.get(key)
        for name, box in boxes.items():
            taken = name in shown_fields(key) and (name != "area" or bool(self.project.areas))
            box.layout.display = "" if taken else "none"
        self.plan.ask(row)
        for name, words in field_words(key).items():
            boxes[name].beside[0].value = controls.label(words).value
        for name, kinds in (("thing", row.thing if row else ()), ("other", row.other if row else ())):
            here = offered(self.project, kinds)
            lost = ((f"{one} (not on this plan)", one) for one in self._lost() if row)
            forms.relist(boxes[name], [*NOTHING, *here, *lost], boxes[name].bar.value)

    def _lost(self) -> list[str]:
        """Return the names that wants are about and that nothing on the plan bears: those of another alternative."""
        asked = [want.asks for want in self.project.brief.wants if want.asks]
        named = {name for one in asked for name in (one.thing, one.other) if name}
        return sorted(name for name in named if not kind_of_thing(self.project, name))

    def _turned(self, change: dict[str, Any]) -> None:
        """Show the fields of another kind of want, with its usual amount, or that of the chosen want of the kind."""
        self.attempt(self.fields)
        row, chosen = WANT_KINDS.get(change["new"]), self.list.chosen
        if row is not None and row.compare:
            own = chosen.asks if chosen is not None and chosen.asks and chosen.asks.kind == row.key else None
            amount = row.start if own is None else own.amount
            self.list.form.fill(amount=typed(amount, row.unit, self.project.units))

    def wanted(self, judged: Judged) -> str:
        """Return a want in the client's words, for whom it is and for which area of the property."""
        said = f"{judged.want.text} (for {judged.want.whom})" if judged.want.whom else judged.want.text
        return f"{judged.want.area}: {said}" if judged.want.area else said

    def _told(self, judged: Judged) -> Html:
        """Return a want, how much it matters, how the plan answers it and where to look."""
        soft = '<span style="color:#666">{}</span>'
        lines = [f"<b>{escaped(self.wanted(judged))}</b> {soft.format(judged.want.weight)}"]
        lines += [escaped(self.answered(judged))] if self.answered(judged) else []
        lines += [soft.format(f"look at: {escaped(judged.where)}")] if judged.where else []
        return Html("<br>".join(lines))

    def answered(self, judged: Judged) -> str:
        """Return what was measured, and what would help where it is not as wanted."""
        return " \u2192 ".join(part for part in (self.measured(judged), judged.helps) if part)

    def measured(self, judged: Judged) -> str:
        """Return what a want asks for and what was measured, in the garden's units."""
        return self.garden.say(judged.measured(self.project.units))

    def summary(self) -> str:
        """Return the list in words."""
        if not self.project.brief.wants:
            return "no wants on the list yet"
        listed = (f"{_SIGN[j.verdict]}: {self.wanted(j)} ({j.want.weight}) {self.answered(j)}" for j in self.judged())
        return "\n".join((wants.told(self.judged()), *listed))
