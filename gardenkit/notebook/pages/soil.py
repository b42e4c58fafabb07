"""The soil: jar and hole tests typed in, the texture triangle, what the soil holds, and what it takes to change it."""

from typing import Any

import ipywidgets as w

from gardenkit import weather_units
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.site_charts import texture_triangle
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.soil_changes import AcidityPart, VolumesPart
from gardenkit.notebook.pages.soil_tests import LIME_WORDS, TestsPart
from gardenkit.site.soil import (
    DRAINAGE,
    DRAINAGE_SOURCES,
    available_water_mm,
    drainage_class,
    ph_class,
    shares_of,
    soil_findings,
    soil_texture,
)
from gardenkit.site.texture import soil_group
from gardenkit.units import show_length

PICTURE_PX = 560
USUAL_SCHEME = "Cornell"


class SoilPage(Page):
    """The tests left, the triangle right, below it what follows: water held, drainage, pH, amendments, volumes."""

    def build(self) -> None:
        """Make the widgets, once."""
        usual = "12 in" if self.project.units == "imperial" else "30 cm"
        self.depth = controls.field("Depth of the roots", usual, self._again, name="root-depth")
        called = "Drainage called after"
        self.scheme = controls.choice(called, USUAL_SCHEME, list(DRAINAGE), self._again, name="scheme")
        self.tests, self.acidity, self.volumes = TestsPart(self), AcidityPart(self), VolumesPart(self)
        self.triangle, self.facts = w.HTML(), w.HTML()
        self.advice = AdviceList(self, topics=("soil",), more=self._told)
        steps = forms.sections(
            [
                ("What was tested", [self.tests.widget]),
                ("Reading the tests", [self.depth, self.scheme]),
                ("Changing the pH", [self.acidity.widget]),
                ("Compost, topsoil, mulch", [self.volumes.widget]),
            ]
        )
        words = w.VBox([self.facts, self.acidity.table], layout=w.Layout(flex="1 1 330px", min_width="0"))
        right = forms.beside(self.triangle, words)
        below = [self.volumes.table, self.advice.widget]
        self.widget = controls.page(self.message, [steps, self.undo_row()], right, below)

    def refresh(self) -> None:
        """Show the soil and what follows from it."""
        self.tests.refresh()
        self.triangle.value = forms.picture(svg(self.scene()), width_px=PICTURE_PX)
        self.advice.show()
        self._show()

    @handler
    def show_what_follows(self) -> None:
        """Show what follows from the soil on record and from what is typed."""
        self.advice.show()
        self._show()

    def facts_rows(self) -> list[tuple[str, str]]:
        """Return what the tests say."""
        soil, units = self.project.site.soil, self.project.units
        kind, shares, scale = soil_texture(soil), shares_of(soil), weather_units.held(self.project.units)
        rows = [
            ("texture", "not known" if kind is None else f"{kind} (counts as {soil_group(kind)} in amendment tables)")
        ]
        if shares is not None:
            rows.append(("sand, silt, clay", " · ".join(f"{s:.0f} %" for s in shares)))
        if kind is not None:
            depth = self.volumes.length(self.depth, "the depth of the roots")
            held = scale.span(*available_water_mm(kind, root_depth=depth))
            rows.append((f"water plants can draw from {show_length(depth, units, small=True)}", held))
        rows.append(("pH", "not known" if soil.ph is None else f"{soil.ph:.1f}, {ph_class(soil.ph)}"))
        rows.append(("free lime", LIME_WORDS[soil.free_lime]))
        rate, scheme = soil.drainage_mm_per_hour, self.scheme.bar.value
        if rate is not None:
            rows.append(("drainage", f"{scale.say(rate)} an hour: {drainage_class(rate, scheme=scheme)}"))
            rows.append(("called so by", self.garden.say(DRAINAGE_SOURCES[scheme])))
        if soil.organic_matter_percent is not None:
            rows.append(("organic matter", f"{soil.organic_matter_percent:g} %"))
        return [*rows, ("tested", soil.source or "not said")]

    def _show(self) -> None:
        self.message.say("")
        self.facts.value = controls.table_html(("the soil", ""), self.facts_rows())
        self.volumes.refresh()
        self.acidity.refresh()

    def _again(self, _: Any) -> None:
        self.show_what_follows()

    def _told(self) -> tuple[Finding, ...]:
        """Return what the register does not know of: other words for the drainage, and what is only typed here."""
        scheme = self.scheme.bar.value
        called = soil_findings(self.project.site.soil, scheme=scheme) if scheme != USUAL_SCHEME else ()
        return (*called, *self.volumes.findings(), *self.acidity.findings())

    def scene(self) -> Scene:
        """Return the texture triangle with this soil on it."""
        soil = self.project.site.soil
        return texture_triangle(shares_of(soil), name=soil_texture(soil) or "")

    def summary(self) -> str:
        """Return the soil in words."""
        return "\n".join(f"{name}: {value}" for name, value in self.facts_rows())
