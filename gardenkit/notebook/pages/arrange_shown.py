"""What the arrange page shows: proposals as cards, each a small plan with a sentence, and a table of their figures."""

from collections.abc import Callable, Sequence
from typing import Protocol

import attrs
import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.controls import Labelled
from gardenkit.notebook.page import escaped
from gardenkit.notebook.pages.planting import row, title
from gardenkit.planting.composing import TASTES, Composition
from gardenkit.planting.composing.said import differing, sentences
from gardenkit.project import Project

WIDTH_PX = 440  # of each of the small plans
COLUMNS = "repeat(auto-fit, minmax(min(340px, 100%), 1fr))"  # as many plans side by side as the page is wide for
LETTERS = "ABCD"
# What the designer weighs, each against the usual: the key of the taste, the words of its slider.
WEIGHTS = {
    "boldness": "Larger drifts",
    "repetition": "The signature plant comes back",
    "shrubs": "Ground given to shrubs",
    "order": "Low strictly before tall",
    "colour": "Harmony of colour",
    "edging": "Width of the edging",
}


@attrs.frozen(eq=False, kw_only=True)
class Proposals:
    """What was composed, the garden it was composed for, and the beds (none: all)."""

    found: tuple[Composition, ...]
    basis: Project
    beds: tuple[str, ...]

    @property
    def finished(self) -> bool:
        """Whether none was left out by stopping."""
        return len(self.found) == len(TASTES)


class CardPage(Protocol):
    """The page that cards stand on."""

    def use(self, number: int) -> bool:
        """Write a proposal into the garden."""

    def more_like(self, number: int) -> bool:
        """Compose more in the character of one."""


class Card(w.VBox):
    """One proposal on the page: its letter and character, the plan, the sentence, what can be done with it."""

    def __init__(self, page: "CardPage", number: int) -> None:
        letter = LETTERS[number]
        self.heading, self.plan, self.words = w.HTML(), w.HTML(), w.HTML()
        use = controls.button(
            "Use this one", lambda: page.use(number), name=f"use-{letter}", width="48%", tip="one step, undone by Undo"
        )
        more = controls.button(
            "More like this", lambda: page.more_like(number), name=f"more-{letter}", width="48%", tip="four of its kind"
        )
        layout = w.Layout(max_width=f"{WIDTH_PX + 40}px", min_width="0", display="none", padding="0 12px 10px 0")
        super().__init__([self.heading, self.plan, self.words, row(use, more)], layout=layout)
        self.add_class(f"gk-proposal-{letter}")

    def hide(self) -> None:
        """Take the card off the page."""
        self.layout.display = "none"
        self.heading.value = self.plan.value = self.words.value = ""

    def show(self, heading: str, plan: str, words: str) -> None:
        """Show a proposal."""
        self.heading.value, self.plan.value = title(heading), plan
        self.words.value = f'<div class="gk-label" style="margin:4px 0 6px">{escaped(words)}</div>'
        self.layout.display = "flex"


def strip(controls: Sequence[w.Widget]) -> w.HBox:
    """Return controls side by side over the whole width, in more lines where the page is narrow."""
    held = [w.VBox([one], layout=w.Layout(flex="1 1 250px", min_width="0", max_width="420px")) for one in controls]
    return w.HBox(held, layout=w.Layout(width="100%", flex_flow="row wrap", grid_gap="4px 18px"))


def weight_bars() -> dict[str, Labelled]:
    """Return a slider for each thing that is weighed."""
    return {
        key: controls.slider(words, 1.0, 0.5, 2.0, 0.1, lambda _: None, show="{:.1f} times the usual".format)
        for key, words in WEIGHTS.items()
    }


def said_of(made: Proposals, number: int) -> str:
    """Return what a proposal is, how it differs from the others and which kinds found no place; lengths in metres."""
    words, lost = sentences(made.found)[number], made.found[number].left_out
    if number:
        words += f" {differing(made.found[number], made.found[0]):.0%} of the ground is planted otherwise than in A."
    return words + (f" No place was found for {', '.join(lost)}." if lost else "")


def figures_table(made: Proposals, told: Callable[[str], str]) -> str:
    """Return the figures of all proposals side by side; ``told`` says a text in the garden's units."""
    columns = [dict(one.figures.rows()) for one in made.found]
    names = dict.fromkeys(name for column in columns for name in column)
    rows = [(name, *(told(column.get(name, "–")) for column in columns)) for name in names]
    return controls.table_html(("figures of the proposals", *LETTERS[: len(columns)]), rows)
