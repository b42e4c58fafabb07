"""Sun and shade: each month's sun, the hours at one spot, shadows at any hour, walls, and the sun diary."""

from collections.abc import Callable, Sequence

import ipywidgets as w
from IPython.core.getipython import get_ipython
from IPython.display import HTML, display

from gardenkit.drawing.scene import Mark, Scene
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.sun_diary import DiaryPart
from gardenkit.notebook.pages.sun_map import SunPlan
from gardenkit.notebook.pages.sun_spot import SpotPart
from gardenkit.progress import Tell, until
from gardenkit.site import sun
from gardenkit.site.place import Place
from gardenkit.units import show_length

LEAST_STEP = 0.02  # share of the work between two moves of the progress bar
MISSING = "First the place and the boundary, in the step The ground as found: the sun map is worked out from both."
HINT = "Drag the round handle on the plan: its year of sun stands below."
WORKING, LIGHT_WORKING = "Working out a year of sun ...", "Working out a year of light ..."
ON_GROUND = 0.8  # share of the work that the map on the ground is, the rest the walls. House value.
JUNE, DECEMBER = 5, 11


class SunPage(Page):
    """Sliders for month, date and hour left, the map right with a spot to drag, the spot's year and the walls below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.progress = w.FloatProgress(value=0, min=0, max=1, layout=w.Layout(width="96%", display="none"))
        self.job = Job(self, can_stop=True, name="sun", tip="stop working out the sun; the plan stays without it")
        self._known: tuple[Garden, int | None, bool] | None = None  # garden and year whose sun, or light, is there
        self.advice = AdviceList(self, topics=("sun",), chosen=self.looked)
        sun.compiled_ready()  # asking starts the fast kernel loading while the first map is worked out without it
        if not self.garden.sun_takes_long():
            self._with_bar_on_page(lambda: self.garden.sun(progress=self.told))
        self.plan, self.spot, self.diary = SunPlan(self), SpotPart(self), DiaryPart(self)
        self.walls = w.HTML()
        panel = [*self.plan.controls, self.progress, self.job.widget, controls.label(HINT), self.diary.widget]
        panel += [self.undo_row()]
        beside = w.VBox([self.spot.words, self.walls], layout=w.Layout(flex="1 1 330px", min_width="0"))
        below = [self.spot.chart, self.diary.table, self.advice.widget]
        self.widget = controls.page(self.message, panel, forms.beside(self.plan.board, beside), below)

    def refresh(self) -> None:
        """Show the garden's sun as the site and planting stand."""
        self.advice.show()
        self._follow()
        self.plan.refresh()
        self._show_rest()
        self.diary.refresh()

    def looked(self) -> None:
        """Show another month, year, spot or setting."""
        self._follow()
        self.plan.redraw()
        self._show_rest()

    def knows(self, year: int | None, *, light: bool = False) -> bool:
        """Return whether the sun of a year, or its daily ``light``, can be shown now: worked out, or but a moment."""
        if not self.can():
            return False
        known = self._known is not None and self._known[:2] == (self.garden, year) and self._known[2] >= light
        return known or not self.garden.sun_takes_long(year)

    def _follow(self) -> None:
        """Have the sun of the garden and the year that are looked at: that of a large garden beside the page."""
        garden, year, light = self.garden, self.plan.year, self.plan.shows_light
        if self.knows(year, light=light) or not self.can() or self.job.is_running:
            return

        def work(tell: Tell, stopped: Stopped) -> None:
            told = until(stopped, tell, what="the sun map", done="worked out")
            garden.sun(year, progress=lambda share: told(ON_GROUND * share, WORKING))
            garden.wall_sun(year, progress=lambda share: told(ON_GROUND + (1 - ON_GROUND) * share, WORKING))
            if light:
                garden.daily_light(year, progress=lambda share: told(share, LIGHT_WORKING))

        def have(_: None) -> None:
            self._known = garden, year, light
            self.message.say("")
            self.looked()  # where another garden or year is looked at by now, this begins anew

        self.job.start(WORKING, work, have)

    def can(self) -> bool:
        """Return whether there is enough on record for a sun map."""
        return bool(self.project.site.boundary) and self.project.site.place != Place()

    def told(self, share: float) -> None:
        """Show how far the work has come, 0 to 1."""
        if share >= 1:
            self.progress.layout.display = "none"
            self.progress.value = 0
        elif share - self.progress.value >= LEAST_STEP:
            self.progress.layout.display = ""
            self.progress.value = share

    def lit(self, scale: float) -> Sequence[Mark]:
        """Return what lights up the chosen line of advice."""
        return self.advice.marks(scale)

    def wall_rows(self) -> list[tuple[str, str, str, str, str]]:
        """Return for every house wall its name, facing, length and mean hours of direct sun in June and December."""
        year = self.plan.year
        return [
            (
                wall.name,
                wall.faces,
                show_length(wall.length, self.project.units),
                f"{wall.hours[JUNE]:.1f} h",
                f"{wall.hours[DECEMBER]:.1f} h",
            )
            for wall in (self.garden.wall_sun(year, progress=self.told) if self.knows(year) else ())
        ]

    def _show_rest(self) -> None:
        self.spot.refresh()
        seasons = ("winter", "summer") if self.project.site.place.latitude < 0 else ("summer", "winter")
        heads = ("wall", "faces", "length", f"June, {seasons[0]}", f"December, {seasons[1]}")
        rows = self.wall_rows()
        words = "Mean hours of direct sun a day over each wall"
        self.walls.value = controls.table_html(heads, rows, caption=words) if rows else ""
        if not self.can():
            self.message.say(MISSING)
        elif MISSING in self.message.value:
            self.message.say("")

    def _with_bar_on_page(self, work: Callable[[], object]) -> None:
        """Do the first work with the progress bar above the page, which is not shown yet; without a notebook, just do
        it.
        """
        if not self.can():
            return
        if get_ipython() is None:
            work()
            return
        words = controls.label(WORKING)
        place = display(w.VBox([w.HTML(controls.STYLE), words, self.progress]), display_id=True)
        work()
        if place is not None:
            place.update(HTML(""))

    def scene(self) -> Scene:
        """Return the plan with the map or the shadows that are shown."""
        return self.plan.scene()

    def summary(self) -> str:
        """Return the sun in words."""
        if not self.can():
            return f"Sun of {self.project.name}: the place and the boundary are still missing"
        if not self.knows(self.plan.year):
            return f"Sun of {self.project.name}: not worked out yet"
        return self.spot.sentence()
