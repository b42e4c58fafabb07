"""The picture: what one sees from a place, in one month, in four seasons, over the years, or from the side."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import Lookout, places_to_look_from, season_strip, view_scene
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.planting import year_buttons
from gardenkit.notebook.part import Part
from gardenkit.progress import Tell
from gardenkit.project.planting_figures import SEASONS, YEARS
from gardenkit.project.season import early_summer

if TYPE_CHECKING:
    from gardenkit.notebook.pages.seasons import SeasonsPage

SHOWS = ("one view", "four seasons", "years 1, 5 and 15", "from the side")
NOWHERE = "there is nowhere to look from yet; give the boundary, a gate, a window or a seat on the site page"
FULL_MM, HALF_MM = 240.0, 118.0  # a picture alone, and one of two beside each other
WIDE, BESIDE = "max-width:1000px", "flex:0 1 calc(50% - 6px);min-width:320px"


class View(Part):
    """Where from, when and what to show; the pictures are drawn beside the page. Nothing is saved."""

    page: "SeasonsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.wanted_again = False
        self._of: Garden | None = None  # the garden that was drawn
        self._drawn: dict[tuple[object, ...], Scene] = {}  # what was drawn of it
        self.job = Job(self.page, name="view")
        self.picture = w.HTML(layout=w.Layout(width="100%"))
        self.place = controls.choice("Look from", None, [], self.again, name="view-from")
        self.what = controls.choice("Show", SHOWS[0], SHOWS, self.again, name="view-show")
        self.year = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.again, show="{:.0f}".format, live=False, name="view-year"
        )
        self.month = controls.month_slider(
            "Month",
            early_summer(self.project.site),
            self.again,
            live=False,
            name="view-month",
        )
        self.angle = controls.slider(
            "Width of view", 65, 40, 90, 5, self.again, show="{:.0f}°".format, live=False, name="view-angle"
        )
        years = year_buttons(self.go_to_year, name="view-year")
        self.controls = [self.place, self.what, self.year, years, self.month, self.angle]

    def refresh(self) -> None:
        """List the places to look from and draw what is asked for."""
        refill(self.place, [place.name for place in self.places()], self.place.bar.value)
        self.look()

    # --- handlers -----------------------------------------------------------------------------------------------

    def go_to_year(self, year: int) -> None:
        """Look at year 1, 5, 10 or 15."""
        self.year.bar.value = float(year)

    @handler
    def again(self, _: object) -> None:
        """Draw again as the controls ask for it now."""
        self.look()

    def look_from_the_side(self) -> None:
        """Show the garden from the side."""
        self.what.show(SHOWS[3])
        self.look()

    def look(self) -> None:
        """Draw what is asked for; while a drawing is under way, once more when it is done."""
        if not self.places():
            self.picture.value = controls.label(f"{NOWHERE[0].upper()}{NOWHERE[1:]}.").value
            return
        if self.job.is_running:
            self.wanted_again = True
            return
        work = {SHOWS[0]: self._one, SHOWS[1]: self._seasons, SHOWS[2]: self._years, SHOWS[3]: self._side}
        self.job.start("drawing ...", work[self.what.bar.value], self._done)

    # --- what is seen -------------------------------------------------------------------------------------------

    def places(self) -> tuple[Lookout, ...]:
        """Return where one can look from."""
        if not self.project.site.boundary:
            return ()
        return places_to_look_from(self.project, self.garden.layout)

    def lookout(self) -> Lookout:
        """Return the place chosen to look from. Raises GardenError when there is none."""
        places = {place.name: place for place in self.places()}
        if not places:
            raise GardenError(NOWHERE)
        return places.get(self.place.bar.value) or next(iter(places.values()))

    def when(self) -> tuple[int, int]:
        """Return the year and the month looked at."""
        return int(self.year.bar.value), int(self.month.bar.value)

    def scene(self, *, year: int | None = None, width: float = FULL_MM) -> Scene:
        """Return what is seen from the chosen place in the chosen month, and year unless another is given."""
        eye, (chosen, month) = self.lookout(), self.when()
        year = chosen if year is None else year
        return self._once((eye, year, month, self.angle.bar.value, width), lambda: self._view(eye, year, month, width))

    def _once(self, key: tuple[object, ...], draw: Callable[[], Scene]) -> Scene:
        """Return a drawing of the garden as it stands, made once: the page, its words and its picture show the same."""
        if self._of is not self.garden:
            self._of, self._drawn = self.garden, {}
        if key not in self._drawn:
            self._drawn[key] = draw()
        return self._drawn[key]

    def _view(self, eye: Lookout, year: int, month: int, width: float) -> Scene:
        title = f"{self.project.name} from: {eye.name}, {MONTHS[month - 1]}, year {year}"
        return self._looked(view_scene, eye, month=month, year=year, width=width, title=title)

    def four_seasons(self) -> Scene:
        """Return the view in spring, summer, autumn and winter."""
        eye, (year, _) = self.lookout(), self.when()
        return self._once((eye, year, self.angle.bar.value), lambda: self._strip(eye, year))

    def _strip(self, eye: Lookout, year: int) -> Scene:
        title = f"{self.project.name} from: {eye.name}, four seasons of year {year}"
        return self._looked(season_strip, eye, year=year, title=title)

    def _looked(self, draw: Callable[..., Scene], eye: Lookout, **what: Any) -> Scene:
        """Return what one sees of the garden as it stands from a place, as wide as the control says."""
        return draw(
            self.project,
            self.garden.layout,
            self.garden.catalogue,
            eye=eye.eye,
            towards=eye.towards,
            eye_height=eye.height,
            angle=self.angle.bar.value,
            **what,
        )

    # --- helpers ------------------------------------------------------------------------------------------------

    def _one(self, tell: Tell, _: Stopped) -> str:
        tell(0.3, "drawing the view ...")
        return _held(self.scene(), WIDE)

    def _seasons(self, tell: Tell, _: Stopped) -> str:
        tell(0.2, f"drawing {len(SEASONS)} seasons ...")
        return _held(self.four_seasons(), WIDE)

    def _years(self, tell: Tell, _: Stopped) -> str:
        made = []
        for number, year in enumerate(YEARS):
            tell(number / len(YEARS), f"drawing year {year} ...")
            made.append(_held(self.scene(year=year, width=HALF_MM), BESIDE))
        return f'<div style="display:flex;flex-wrap:wrap;gap:10px">{"".join(made)}</div>'

    def _side(self, tell: Tell, _: Stopped) -> str:
        del tell
        chosen, month = self.when()
        years = sorted({*YEARS, chosen})
        return "".join(_held(self.page.side.scene(year=year, month=month), WIDE) for year in years)

    def _done(self, found: str) -> None:
        self.picture.value = found
        if self.wanted_again:
            self.wanted_again = False
            self.look()


def _held(scene: Scene, style: str) -> str:
    return f'<div style="{style}">{svg(scene)}</div>'
