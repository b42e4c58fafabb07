"""What is seen and hidden in figures: how far one looks, what ends the view, how well a place is screened."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing.charts import bar_chart
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding, GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.project import views
from gardenkit.structure.perspective import look_finding
from gardenkit.structure.sightlines import Screening, View, path_finding, screening_finding
from gardenkit.units import show_area, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.seen import SeenPage

MOST_NAMED = 8  # things that end a view or hide a place. House value.
OPEN = 1e3  # a place this many times as wide as what stands round it is high is open


class SeenFigures(Part):
    """Figures beside the plan, tables and the year of a screen below it, and what the rules say of the view."""

    page: "SeenPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.figures, self.below = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.advice = AdviceList(self.page, of_garden=False, more=self.findings)

    def clear(self) -> None:
        """Show nothing."""
        self.figures.value = self.below.value = ""
        self.advice.widget.layout.display = "none"

    def refresh(self) -> None:
        """Show what is seen from where the eye is."""
        view = self.page.view()
        self.figures.value = controls.table_html(("", ""), self._rows(view))
        stops = [(s.name, f"{s.share:.0%}", show_length(s.length, self.project.units)) for s in view.stops[:MOST_NAMED]]
        blocks = [controls.table_html(("ends the view", "of all directions", "edge seen"), stops)]
        part, name = self.page.shown(), self.page.path.bar.value
        if part is not None:
            hides = [(n, f"{share:.0%}") for n, share in part.hidden_by[:MOST_NAMED]]
            blocks.append(controls.table_html((f"hides of {name}", "of its length"), hides))
        screen, chart = self.page.hidden(), ""
        if screen is not None:
            blocks.append(self._screen_table(screen))
            chart = self._screen_chart(screen)
        side = "".join(f"<div>{block}</div>" for block in blocks)
        self.below.value = (
            f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{side}{chart}</div>'
        )
        self.advice.widget.layout.display = ""
        self.advice.show()

    def _rows(self, view: View) -> list[tuple[str, str]]:
        units, m = self.project.units, view.measures
        around = views.enclosed(self.project, view, year=self.page.when()["year"], catalogue=self.garden.catalogue)
        return [
            ("ground in view", show_area(m.area, units)),
            ("longest look", show_length(m.longest_view, units)),
            ("mean look", show_length(m.mean_view, units)),
            ("edges that hide more", show_length(m.occlusivity, units)),
            ("compactness, 1 is a circle", f"{m.compactness():.2f}"),
            (
                "distance to height round about",
                f"{around.median_ratio:.1f} to 1" if around.median_ratio < OPEN else "open",
            ),
            ("looked over or past", f"{around.open_share:.0%} of directions"),
            *((name, f"{share:.0%}") for name, share in around.shares if share),
        ]

    def _screen_table(self, screen: Screening) -> str:
        month = int(self.page.month.bar.value) - 1
        by = [(name, f"{months[month]:.0%}") for name, months in screen.by[:MOST_NAMED]]
        return controls.table_html((f"hides {self.page.target.bar.value}", f"alone, {MONTHS[month]}"), by)

    def _screen_chart(self, screen: Screening) -> str:
        month = int(self.page.month.bar.value)
        title = f"{self.page.target.bar.value} hidden from {self.page.eye().place}"
        chart = svg(bar_chart(screen.percent, title=title, unit="%", highlight=month - 1, colour="#9db28a"))
        return forms.picture(chart, width_px=forms.CHART_PX)

    def findings(self) -> list[Finding]:
        """Return what the rules say of the path as it is looked at, and of how well the chosen place is hidden."""
        found: list[Finding] = []
        if not self.project.site.boundary:
            return found
        part, name, eye = self.page.shown(), self.page.path.bar.value, self.page.eye()
        if part is not None and name is not None:
            found.append(path_finding(f'path "{name}"', eye.place, part))
            try:
                look = views.path_looks(self.project, self.garden.layout, name, eye, part)
                found.append(look_finding(f'path "{name}" from {eye.place}', look))
            except GardenError as error:
                found.append(Finding(where=f'path "{name}"', what=str(error), topic="view"))
        screen = self.page.hidden()
        if screen is not None:
            found.append(screening_finding(self.page.target.bar.value, eye.place, screen))
        return found
