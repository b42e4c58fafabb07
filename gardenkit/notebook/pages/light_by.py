"""By what places are judged for plants: the hours of sun they get, or their daily light. A setting of the garden."""

import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.part import Part
from gardenkit.planting.planting import DAILY_LIGHT, HOURS, LIGHT_BY
from gardenkit.project.edits import planting as edits

SAID = {
    HOURS: "Hours of sun are what labels count by: direct sun under a clear sky.",
    DAILY_LIGHT: "Daily light adds the light of the sky, on north sides, in courtyards and under light trees, and "
    "takes off the usual cloud. 10 mol count as 3 hours of sun, 20 as 6 (growers' rule of thumb, second-hand).",
}


class LightBy(Part):
    """The choice, and what it does in a sentence; the palette, the proposals and the advice follow it."""

    def build(self) -> None:
        """Make the widgets, once."""
        chosen = self.project.planting.light_by
        self.by = controls.choice("Judge places by", chosen, LIGHT_BY, self.choose, name="light-by")
        self.note = w.HTML()
        self.widget = w.VBox([self.by, self.note])
        self.refresh()

    def refresh(self) -> None:
        """Show the setting as it stands."""
        chosen = self.project.planting.light_by
        self.by.show(chosen)
        self.note.value = controls.label(SAID[chosen]).value

    def choose(self, by: str) -> None:
        """Judge places by the other measure from now on."""
        self.edit(f"judge places by {by}", lambda p: edits.judge_light_by(p, by))
