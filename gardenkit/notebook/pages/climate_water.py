"""The water that each bed would ask for, by one publisher's plant factors and one way of counting rain."""

from typing import Any

import ipywidgets as w

from gardenkit import weather_units
from gardenkit.drawing import style
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.site.water import FACTORS, RAIN_METHODS, mean_year, plant_factor
from gardenkit.units import show_area

UNKNOWN = "The water a bed asks for is worked out once the place and monthly temperatures are known and a bed is drawn."


class NeedPart(Part):
    """Family, planting and rain left; ``table`` is every bed's water by month."""

    def build(self) -> None:
        """Make the widgets, once."""
        family = next(iter(FACTORS))
        self.family = controls.choice(
            "Plant factors after", family, [(self.garden.say(f), f) for f in FACTORS], self.choose_family, name="family"
        )
        self.planting = controls.choice("Planting", "moderate", list(FACTORS[family]), self.again, name="planting")
        self.rain = controls.choice(
            "Rain counted by", "half", [(self.garden.say(m), m) for m in RAIN_METHODS], self.again, name="rain-method"
        )
        self.table = w.HTML()
        self.widget = w.VBox([self.family, self.planting, self.rain])

    def refresh(self) -> None:
        """Show the water by bed."""
        rows = self.rows()
        if not rows:
            self.table.value = controls.label(UNKNOWN).value
            return
        volume, units = weather_units.water(self.project.units), self.project.units
        shown = [
            (name, show_area(area, units), *(round(volume.shown(v)) for v in litres)) for name, area, litres in rows
        ]
        heads = (f"supplementary watering, {volume.unit} a month", "area", *style.MONTHS)
        covered = not any(any(litres) for *_, litres in rows)
        note = f'<div class="gk-label">{escaped(self.garden.say(self._note(covered=covered)))}</div>'
        self.table.value = controls.table_html(heads, shown) + note

    def rows(self) -> tuple[tuple[str, float, tuple[float, ...]], ...]:
        """Return every bed's area (m2) and the litres it asks for in each month, and all beds together."""
        return self.garden.bed_need(
            self.planting.bar.value, family=self.family.bar.value, rain_method=self.rain.bar.value
        )

    def choose_family(self, family: str) -> None:
        """Use another publisher's plant factors; families are never mixed."""
        words = list(FACTORS[family])
        forms.relist(self.planting, [(word, word) for word in words], words[len(words) // 2])
        self.again(family)

    @handler
    def again(self, _: Any) -> None:
        """Work the water out again."""
        self.refresh()

    def _note(self, *, covered: bool) -> str:
        planting, family = self.planting.bar.value, self.family.bar.value
        factor = plant_factor(planting, family=family)
        rain = RAIN_METHODS[self.rain.bar.value][1]
        note = (
            f"{planting}: {float(factor):g} of reference evapotranspiration ({factor.source}); rain: {rain}. Mean rain "
            "hides dry spells."
        )
        if covered:
            note = f"By these settings a year of mean rain covers all that the beds ask for. {note}"
        if self.garden.water:
            said = weather_units.water(self.project.units).say(mean_year(bed.litres for bed in self.garden.water))
            note += f" As planted, each bed for its own kinds, the garden asks for {said} in a mean year."
        return note
