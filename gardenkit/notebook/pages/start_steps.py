"""The garden's steps in words, each with the notebook that made it: any of them gone back to, states kept by a name."""

import datetime as dt
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.pages.forms import relist
from gardenkit.notebook.part import Part
from gardenkit.storage import Step

if TYPE_CHECKING:
    from gardenkit.notebook.pages.start import StartPage

LAST_STEPS = 60  # steps offered to go back to. House value.
SEEN = 8  # lines of them seen at once. House value.


class Steps(Part):
    """The list of steps, where the garden stands in it, the button that goes there, and states by their names."""

    page: "StartPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.last = controls.choice(
            "Every step, the newest first", None, [("none yet", None)], lambda _: None, name="last", lines=SEEN
        )
        back = controls.button("Go to the chosen step", self.go_back, name="go-back", width="96%")
        self.kept = controls.choice("Or to a named state", None, [("choose ...", None)], self.go_to, name="kept-state")
        self.name = controls.field(
            "Name the garden as it stands now", "", self.keep, name="state-name", hint="first idea"
        )
        self.widget = w.VBox([heading("Steps"), self.last, back, self.kept, self.name], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """List the steps and the named states."""
        every, at = self.page.session.steps(), self.page.session.at
        steps = every[-LAST_STEPS:]
        offered: list[tuple[str, int | None]] = [(told(s, here=s.number == at), s.number) for s in reversed(steps)]
        if steps and steps[0].follows == 0:
            offered.append(("the beginning", 0))
        relist(self.last, offered or [("none yet", None)], at)
        named: list[tuple[str, int | None]] = [(s.name, s.number) for s in every if s.name]
        relist(self.kept, [("choose ...", None), *named], None)

    # ---- handlers

    @handler
    def go_back(self) -> None:
        """Go to the state after the chosen step; the steps after it stay in the list, to go forward to again."""
        number = self.last.bar.value
        if number is None:
            raise GardenError("there is no step to go back to yet; every change to the garden is one")
        self._go(number)

    @handler
    def go_to(self, number: int | None) -> None:
        """Go to a state that was given a name."""
        if number is not None:
            self.kept.show(None)  # so that the same state can be chosen again where it is asked about first
            self._go(number, again="choose it again")

    @handler
    def keep(self, name: str) -> None:
        """Keep the garden as it stands now under a name."""
        if not name.strip():
            return
        self.page.session.name_state(name)
        self.name.show("")
        self.refresh()
        self.message.say(f'kept as "{" ".join(name.split())}"; it stays in the list however much is changed')

    # ---- helpers

    def _go(self, number: int, *, again: str = "press again") -> None:
        self.page.ask_first(number, again=again)
        self.message.say(f"the garden stands again as after: {self.page.session.jump(number)}")


def told(step: Step, *, here: bool) -> str:
    """Return a step in words: what, its name, when by this machine's clock, in which notebook, whether it is now."""
    when = f"{dt.datetime.fromtimestamp(step.when).astimezone():%d %b %H:%M}".lstrip("0")
    where = f", {step.notebook.removesuffix('.ipynb')}" if step.notebook else ""
    named = f' = "{step.name}"' if step.name else ""
    return f"{'now: ' if here else ''}{step.label}{named} ({when}{where})"
