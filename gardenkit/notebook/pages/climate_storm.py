"""The heaviest rain: what an hour brings once in ten years, by which a soakaway is sized."""

import ipywidgets as w

from gardenkit import weather_units
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.units import millimetres

ASKED = "National weather services give it by place: rain of 60 minutes, once in ten years."


class StormPart(Part):
    """One figure, as a weather service gives it."""

    def build(self) -> None:
        """Make the widgets, once."""
        hint = "1.9 in" if self.project.units == "imperial" else "48 mm"
        self.form = Form((Entry(key="storm", words="An hour's rain, once in ten years", hint=hint),), name="storm")
        take = controls.button("Set this rain", self.take, name="storm", width="96%")
        self.widget = w.VBox([controls.label(ASKED), self.form, take])

    def refresh(self) -> None:
        """Show what is on record."""
        storm = self.project.site.climate.storm
        self.form.show({"storm": "" if storm is None else weather_units.rain(self.project.units).typed(storm)})

    @handler
    def take(self) -> None:
        """Take in the rain of a heavy hour."""
        typed = self.form.texts()["storm"]
        storm = millimetres(typed, self.project.units, "the rain of an hour") if typed else None
        self.edit("the heaviest rain", lambda p: edits.change_climate(p, storm=storm))
