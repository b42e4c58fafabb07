"""The picture: what one sees from a place, in one month, in four seasons, over the years, walking, or from the side."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit.drawing.film import Film, walk_film, walk_strip, year_film, years_film
from gardenkit.drawing.framing import framed_well
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted.picture import FINE, HALF, QUICK, Quality, is_ready
from gardenkit.drawing.painted_view import Moment, Prospect, painted_scene, prospect
from gardenkit.drawing.painter import painted_seasons
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import Lookout, places_to_look_from, season_strip, view_scene
from gardenkit.drawing.view_camera import ANGLE
from gardenkit.drawing.view_sun import DAY, USUAL_HOUR, sunlight
from gardenkit.drawing.view_things import COMPANY, Company
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.planting import year_buttons
from gardenkit.notebook.pages.seasons_film import Player
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue import Catalogue
from gardenkit.progress import Tell, until
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.planting_figures import SEASONS, YEARS
from gardenkit.project.season import early_summer, standing
from gardenkit.site.place import Place

if TYPE_CHECKING:
    from gardenkit.notebook.pages.seasons import SeasonsPage

SHOWS = (
    "one view",
    "four seasons",
    "years 1, 5 and 15",
    "from the side",
    "film: fifteen years",
    "film: round the year",
    "walk along a path",
    "along a path, as a strip",
)
ALONE = "nobody"
COMPANY_AWAY = 4.0  # m before the eye that someone stands for scale. House value.
MANNERS = ("painted", "with the pen")
MANY = 150  # plants: from here a quick sketch is shown first. House value.
NOWHERE = "there is nowhere to look from yet; give the boundary, a gate, a window or a seat in 03_site_measurement"
FIRST = (
    "painting the first picture ... On a computer that has painted none yet this takes up to a minute, as the painter "
    "is made ready for its processor; after that a second or two."
)
FULL_MM, HALF_MM = 240.0, 118.0  # a picture alone, and one of two beside each other
Draw = Callable[[Tell], str | Film]
WIDE, BESIDE = "max-width:1000px", "flex:0 1 calc(50% - 6px);min-width:320px"


class View(Part):
    """Where from, when and what to show; the pictures are drawn beside the page. Nothing is saved."""

    page: "SeasonsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.wanted_again = self._owed = False
        self._of: Garden | None = None  # the garden that was drawn
        self._drawn: dict[tuple[object, ...], Scene] = {}  # what was drawn of it
        self.job = Job(self.page, can_stop=True, name="view", tip="stop drawing; the picture before stays")
        self.picture = w.HTML(layout=w.Layout(width="100%"))
        self.place = controls.choice("Look from", None, [], self.again, name="view-from")
        self.what = controls.choice("Show", SHOWS[0], SHOWS, self.again, name="view-show")
        self.year = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.again, show="{:.0f}".format, live=False, name="view-year"
        )
        month = early_summer(self.project.site)
        self.month = controls.month_slider("Month", month, self.again, live=False, name="view-month")
        self.day = controls.day_slider(DAY, self.again, name="view-day")
        words = "Hour of the day (after dark the lamps are lit)"
        self.hour = controls.hour_slider(words, int(USUAL_HOUR), self.again, name="view-hour")
        self.company = controls.choice("For scale", ALONE, (ALONE, *COMPANY), self.again, name="view-scale")
        self.manner = controls.choice("Drawn", MANNERS[0], MANNERS, self.again, name="view-manner")
        self.angle = controls.slider(
            "Width of view", ANGLE, 40, 90, 5, self.again, show="{:.0f}°".format, live=False, name="view-angle"
        )
        years = year_buttons(self.go_to_year, name="view-year")
        self.controls = [self.place, self.what, self.year, years, self.month, self.day, self.hour, self.angle]
        self.controls += [self.company, self.manner]
        self.player = Player(self.page, self.picture)

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
        """Draw what is asked for, a slow one as a sketch first; while a drawing is under way, once more after."""
        if not self.places():
            self.picture.value = controls.label(f"{NOWHERE[0].upper()}{NOWHERE[1:]}.").value
            return
        if self.job.is_running:
            self.wanted_again = True
            return
        slow = len(self.project.planting.plants) > MANY or not is_ready()
        if self.what.bar.value == SHOWS[0] and self.is_painted and slow:
            self.job.start("sketching ...", self._sketch, self._sketched)
            return
        self._draw()

    def is_awaited(self) -> bool:
        """Whether the picture is still being drawn; it is kept in the notebook when it is done."""
        self._owed = self.job.is_running
        return self._owed

    # --- what is seen -------------------------------------------------------------------------------------------

    def places(self) -> tuple[Lookout, ...]:
        """Return where one can look from."""
        if not self.project.site.boundary:
            return ()
        return places_to_look_from(self.project, self.garden.layout)

    def lookout(self) -> Lookout:
        """Return the place chosen to look from, turned to where the garden shows. Raises GardenError without any."""
        places = {place.name: place for place in self.places()}
        if not places:
            raise GardenError(NOWHERE)
        place = places.get(self.place.bar.value) or next(iter(places.values()))
        year, month = self.when()
        plants = standing(self.project, self.garden.catalogue, year=year, month=month)
        return framed_well(place, self.project.site, plants, angle=self.angle.bar.value, worked=self.garden.layout)

    def when(self) -> tuple[int, int]:
        """Return the year and the month looked at."""
        return int(self.year.bar.value), int(self.month.bar.value)

    @property
    def is_painted(self) -> bool:
        """Whether pictures are painted, not drawn with the pen."""
        return bool(self.manner.bar.value == MANNERS[0])

    def moment(self, year: int) -> Moment:
        """Return when one looks: at night where the sun is down at the hour asked for."""
        (_, month), day = self.when(), int(self.day.bar.value)
        hour = None if self.hour.bar.value == USUAL_HOUR else float(self.hour.bar.value)
        site = self.project.site
        night = hour is not None and site.place != Place() and sunlight(site, month, hour, day=day) is None
        return Moment(year=year, month=month, day=day, hour=hour, night=night)

    def scene(self, *, year: int | None = None, width: float = FULL_MM, quality: Quality | None = FINE) -> Scene:
        """Return what is seen from the chosen place in the chosen month, and year unless another is given.

        ``quality`` None is drawn with the pen, whatever the control says.
        """
        eye, (chosen, _) = self.lookout(), self.when()
        moment = self.moment(chosen if year is None else year)
        how = quality if self.is_painted else None
        key = (eye, moment, self.angle.bar.value, width, how, self.company.bar.value)
        return self._once(key, lambda: self._view(eye, moment, width, how))

    def _once(self, key: tuple[object, ...], draw: Callable[[], Scene]) -> Scene:
        """Return a drawing of the garden as it stands, made once: the page, its words and its picture show the same."""
        if self._of is not self.garden:
            self._of, self._drawn = self.garden, {}
        if key not in self._drawn:
            self._drawn[key] = draw()
        return self._drawn[key]

    def _view(self, eye: Lookout, when: Moment, width: float, quality: Quality | None) -> Scene:
        title = f"{self.project.name} from: {eye.name}, {_said(when)}, year {when.year}"
        kind = str(self.company.bar.value)
        at = plane.towards(eye.eye, eye.towards + 8.0, COMPANY_AWAY)
        company = None if kind == ALONE else Company(kind=kind, at=at)
        if quality is not None:
            how: Any = {"width": width, "title": title, "company": company, "quality": quality}
            return painted_scene(self._prospect(), at=eye, when=when, **how)
        return self._penned(
            view_scene,
            eye,
            month=when.month,
            year=when.year,
            day=when.day,
            hour=when.hour,
            width=width,
            title=title,
            company=company,
        )

    def four_seasons(self) -> Scene:
        """Return the view in spring, summer, autumn and winter."""
        eye, (year, _) = self.lookout(), self.when()
        return self._once((eye, year, self.angle.bar.value, self.is_painted), lambda: self._strip(eye, year))

    def _strip(self, eye: Lookout, year: int) -> Scene:
        title = f"{self.project.name} from: {eye.name}, four seasons of year {year}"
        if self.is_painted:
            return painted_seasons(self._prospect(), at=eye, year=year, title=title)
        return self._penned(season_strip, eye, year=year, title=title)

    def _penned(self, draw: Callable[..., Scene], eye: Lookout, **what: Any) -> Scene:
        """Return what one sees of the garden as it stands from a place, drawn, as wide as the control says."""
        angle = self.angle.bar.value
        return draw(*self._garden(), eye=eye.eye, towards=eye.towards, eye_height=eye.height, angle=angle, **what)

    def _prospect(self) -> Prospect:
        return prospect(self.garden, self.angle.bar.value)

    def _garden(self) -> tuple[Project, Layout, Catalogue]:
        return self.project, self.garden.layout, self.garden.catalogue

    # --- helpers ------------------------------------------------------------------------------------------------

    def _sketch(self, tell: Tell, _: Stopped) -> str:
        del tell
        return _held(self.scene(quality=QUICK if is_ready() else None), WIDE)

    def _sketched(self, found: str) -> None:
        self.picture.value = found
        self._draw()

    def _draw(self) -> None:
        work: tuple[Draw, ...] = (self._one, self._seasons, self._years, self._side, *[self._film] * 3, self._along)
        draw = _until_stopped(work[SHOWS.index(self.what.bar.value)])
        self.job.start(self._saying("drawing ..."), draw, self._done, self._once_more)

    def _saying(self, words: str) -> str:
        """Return the words for a picture under way, and why it takes longer where it is the first."""
        return words if is_ready() or not self.is_painted else FIRST

    def _one(self, tell: Tell) -> str:
        tell(0.3, self._saying("drawing the view ..."))
        return _held(self.scene(), WIDE)

    def _seasons(self, tell: Tell) -> str:
        tell(0.2, f"drawing {len(SEASONS)} seasons ...")
        return _held(self.four_seasons(), WIDE)

    def _years(self, tell: Tell) -> str:
        made = []
        for number, year in enumerate(YEARS):
            tell(number / len(YEARS), f"drawing year {year} ...")
            made.append(_held(self.scene(year=year, width=HALF_MM, quality=HALF), BESIDE))
        return f'<div style="display:flex;flex-wrap:wrap;gap:10px">{"".join(made)}</div>'

    def _side(self, tell: Tell) -> str:
        chosen, month = self.when()
        made, years = [], sorted({*YEARS, chosen})
        for number, year in enumerate(years):
            tell(number / len(years), self._saying(f"drawing year {year} from the side ..."))
            made.append(_held(self.page.side.scene(year=year, month=month), WIDE))
        return "".join(made)

    def _film(self, tell: Tell) -> Film:
        """Return the film asked for; a walk goes along the path one stands on, else along the first."""
        eye, (year, _month), of = self.lookout(), self.when(), self._prospect()
        match SHOWS.index(self.what.bar.value):
            case 4:
                return years_film(of, at=eye, tell=tell)
            case 5:
                return year_film(of, at=eye, year=year, tell=tell)
        return walk_film(of, path=self._path(eye), when=self.moment(year), tell=tell)

    def _along(self, tell: Tell) -> str:
        eye, (year, _month) = self.lookout(), self.when()
        scene = walk_strip(self._prospect(), path=self._path(eye), when=self.moment(year), tell=tell)
        return _held(scene, WIDE)

    def _path(self, eye: Lookout) -> str:
        """Return the path one stands on, else the first. Raises GardenError without any."""
        paths = list(self.garden.layout.routes)
        if not paths:
            raise GardenError("there is no path to walk along yet; draw one in 04_structure")
        return next((name for name in paths if eye.name.startswith(f"{name},")), paths[0])

    def _done(self, found: str | Film) -> None:
        if isinstance(found, Film):
            self.player.show(found)
        else:
            self.player.close()
            self.picture.value = found
            if self._owed:
                self.page.keep_anew()
        self._once_more()

    def _once_more(self) -> None:
        if self.wanted_again:
            self.wanted_again = False
            self.look()


def _until_stopped(draw: Draw) -> Callable[[Tell, Stopped], str | Film]:
    return lambda tell, stopped: draw(until(stopped, tell, what="the picture", done="drawn"))


def _said(when: Moment) -> str:
    """Return the month, or the day and hour where these were asked for."""
    month = MONTHS[when.month - 1]
    if when.hour is None and when.day == DAY:
        return month
    at = f" at {when.hour:.0f}:00" if when.hour is not None else ""
    return f"{when.day} {month}{at}"


def _held(scene: Scene, style: str) -> str:
    return f'<div style="{style}">{svg(scene)}</div>'
