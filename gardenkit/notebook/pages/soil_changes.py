"""What it takes to change a soil: lime or sulphur for its pH, and compost, topsoil and mulch by the cubic yard."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.findings import Finding, GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.site.amendments import Amendment, change_ph, compost_findings, layer_volume, mulch_findings, tables_for
from gardenkit.units import length, show_area, show_dose, show_spread, show_volume

if TYPE_CHECKING:
    from gardenkit.notebook.pages.soil import SoilPage

ALL_BEDS = "all beds"


class SoilPart(Part):
    """A part of the soil page: what is typed in it changes only what is shown."""

    page: "SoilPage"

    def again(self, _: Any) -> None:
        """Show what follows from what is typed."""
        self.page.show_what_follows()

    def length(self, box: controls.Labelled, where: str) -> float:
        """Return the metres that a field holds; a bare number is inches or centimetres."""
        return length(str(box.bar.value) or "0", bare="in" if self.project.units == "imperial" else "cm", where=where)

    def beds(self) -> list[tuple[str, float]]:
        """Return every bed with its area in m2, and all of them together."""
        beds = [(bed.name, bed.area) for bed in self.garden.beds]
        return [*beds, (ALL_BEDS, self.garden.bed_area)] if beds else []


class AcidityPart(SoilPart):
    """Bed, pH wanted and table left; ``table`` says what to spread."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.bed = controls.choice("Bed", ALL_BEDS, [ALL_BEDS], self.again, name="bed")
        self.wanted = controls.field("pH wanted", "", self.again, name="wanted", hint="6.5")
        self.by = controls.choice("By the table", None, [("choose ...", None)], self.again, name="table")
        self.bare = controls.tick("Bare bed: dug in all at once", False, self.again)
        self.table = w.HTML()
        self.widget = w.VBox([self.bed, self.wanted, self.by, self.bare])

    def refresh(self) -> None:
        """Offer the beds and tables there are, and show what it takes."""
        beds = [ALL_BEDS, *(b.name for b in self.garden.beds)]
        forms.relist(self.bed, [(name, name) for name in beds], self.bed.bar.value)
        names = tables_for(self.project.site.soil.ph, self._wanted())
        forms.relist(self.by, [("choose ...", None), *((n, n) for n in names)], self.by.bar.value)
        self.table.value = ""
        made, units = self.made(), self.project.units
        if made is None:
            return
        rows = [
            ("spread", f"{made.material} on {self.bed.bar.value}, {show_area(made.area, units)}"),
            ("rate", _span(made.low_g_per_m2, made.high_g_per_m2, lambda g: show_spread(g, units))),
            ("in all", _span(made.low_kg, made.high_kg, lambda kg: show_dose(kg, units))),
            ("in how many goes", f"{made.applications}" + (", months apart" if made.applications > 1 else "")),
            ("verdict", "impractical; see the findings" if made.impractical else "can be done"),
            ("source", made.source),
        ]
        self.table.value = controls.table_html((f"to pH {self.wanted.bar.value}", f"table “{made.table}”"), rows)

    def made(self) -> Amendment | None:
        """Return what it takes to reach the pH wanted, by the chosen bed and table; None until all is given."""
        wanted, table = self._wanted(), self.by.bar.value
        if wanted is None or table is None:
            return None
        where = self.bed.bar.value
        areas = dict(self.beds())
        if not areas:
            raise GardenError("there is no bed yet; lay paths or draw beds in 04_structure first")
        bare = bool(self.bare.bar.value)
        soil = self.project.site.soil
        return change_ph(soil, wanted=wanted, table=table, area=areas[where], bare_bed=bare, where=where)

    def findings(self) -> tuple[Finding, ...]:
        """Return what the change is told; nothing while it cannot be worked out, which the page says itself."""
        try:
            made = self.made()
        except GardenError:
            return ()
        return () if made is None else tuple(made.findings)

    def _wanted(self) -> float | None:
        return forms.number_or_none(str(self.wanted.bar.value), "the pH wanted", low=3.0, high=9.5)


class VolumesPart(SoilPart):
    """Depths left; ``table`` is every bed's compost, topsoil and mulch."""

    def build(self) -> None:
        """Make the widgets, once."""
        usual = "3 in" if self.project.units == "imperial" else "75 mm"
        self.compost = controls.field("Compost, mixed in", usual, self.again, name="compost")
        self.topsoil = controls.field("Topsoil on top", "0", self.again, name="topsoil")
        self.mulch = controls.field("Mulch", usual, self.again, name="mulch")
        self.table = w.HTML()
        self.widget = w.VBox([self.compost, self.topsoil, self.mulch])

    def refresh(self) -> None:
        """Show the volumes."""
        rows = self.rows()
        heads = ("bed", "area", "compost", "topsoil", "mulch")
        self.table.value = controls.table_html(heads, rows) if rows else ""

    def rows(self) -> list[tuple[str, ...]]:
        """Return compost, topsoil and mulch for every bed, and for all."""
        fields = ((self.compost, "the compost"), (self.topsoil, "the topsoil"), (self.mulch, "the mulch"))
        depths, units = [self.length(box, words) for box, words in fields], self.project.units
        return [
            (
                name,
                show_area(area, units),
                *(show_volume(layer_volume(area, d), units) if d else "none" for d in depths),
            )
            for name, area in self.beds()
        ]

    def findings(self) -> tuple[Finding, ...]:
        """Return what such depths are told."""
        try:
            mulch, compost = self.length(self.mulch, "the mulch"), self.length(self.compost, "the compost")
        except GardenError:
            return ()
        return (*mulch_findings(mulch, where=ALL_BEDS), *compost_findings(compost, where=ALL_BEDS))


def _span(low: float, high: float, show: Callable[[float], str]) -> str:
    return show(low) if show(low) == show(high) else f"{show(low)} to {show(high)}"
