"""The plan of sun and shade: a month's hours or classes, or the shadows of one hour, with a spot to drag."""

import datetime as dt
from typing import TYPE_CHECKING, Any, get_args

import attrs
import ipywidgets as w

from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.furniture import legend
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.sun_scenes import Laid, classes_laid, hours_laid, light_laid, shadows_laid
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped
from gardenkit.notebook.part import Part
from gardenkit.project.season import early_summer
from gardenkit.project.sunlight import DayPart, LightMap, SunMap
from gardenkit.site import shade
from gardenkit.site.site import ground
from gardenkit.site.sky import sun_words
from gardenkit.site.sun_classes import DEFAULT, SUN_CLASSES, sun_classes

if TYPE_CHECKING:
    from gardenkit.notebook.pages.sun import SunPage

WIDTH_PX, MOST_HEIGHT_PX = 700, 800
SHOWN_YEAR = 2025  # year whose calendar the date slider runs through; the sun stands alike every year
HOURS, LIGHT, CLASSES, SHADOWS = SHOWS = ("hours of sun", "daily light", "sun classes", "shadows at one hour")
LIGHT_ADDS = (
    "Daily light is what plants count: moles of light a day, straight from the sun and from the whole sky, with the "
    "usual cloud. On north sides, in courtyards and under light trees it can be more than the hours of sun say; where "
    "cloud is usual, less."
)
PARTS = get_args(DayPart)
YEARS: tuple[tuple[str, int | None], ...] = (
    ("as it is now", None),
    *((f"with the planting, year {y}", y) for y in (1, 5, 10, 15)),
)


class SunPlan(Part):
    """The map with its sliders; nothing of it is saved. The page's ``looked`` is called when something else is looked
    at.
    """

    page: "SunPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.month = early_summer(self.project.site)
        self.date, self.hour = dt.date(SHOWN_YEAR, self.month, 21), 12.0
        self.year: int | None = None
        self.spot, self.moved = self._first_spot(), False
        self.handles: tuple[Handle, ...] = ()
        self.show_what = controls.choice("Show", HOURS, SHOWS, self._again, name="show")
        self.when = controls.choice("Garden", None, YEARS, self.set_year, name="year")
        self.setting_note, self.hour_note, self.light_note = w.HTML(), w.HTML(), w.HTML()
        self.map_controls = w.VBox(self._map_controls())
        self.hour_controls = w.VBox(self._hour_controls())
        self.controls = [self.show_what, self.when, self.map_controls, self.hour_controls]
        self.plan = self.page.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX)
        self.board = self.plan.board(self.edited)

    def _map_controls(self) -> list[w.Widget]:
        self.month_bar = controls.month_slider("Month", self.month, self.set_month, name="month")
        self.part = controls.choice("Part of the day", PARTS[0], PARTS, self._again, name="part")
        self.setting = controls.choice("Sun classes after", DEFAULT, list(SUN_CLASSES), self._again, name="classes")
        self.of_hours = w.VBox([self.part, self.setting, self.setting_note])
        return [self.month_bar, self.of_hours, self.light_note]

    def _hour_controls(self) -> list[w.Widget]:
        first = (self.date - dt.date(SHOWN_YEAR, 1, 1)).days
        self.date_bar = controls.slider(
            "Date", first, 0, 364, 1, self.set_date, show=lambda v: f"{_day(v):%d %B}".lstrip("0"), name="date"
        )
        self.hour_bar = controls.slider("Clock time", 12, 4, 22, 0.25, self.set_hour, show=_clock, name="hour")
        return [self.date_bar, self.hour_bar, self.hour_note]

    def refresh(self) -> None:
        """Show the garden's sun as the site and planting stand."""
        if not (self.moved and plane.contains(ground(self.project.site), self.spot)):
            self.spot = self._first_spot()
        self.redraw()

    def redraw(self) -> None:
        """Draw the plan again, with the controls of what is shown, and say what goes with it."""
        what = self.show_what.bar.value
        self.map_controls.layout.display = "none" if what == SHADOWS else ""
        self.hour_controls.layout.display = "" if what == SHADOWS else "none"
        self.of_hours.layout.display = self.light_note.layout.display = ""
        (self.of_hours if what == LIGHT else self.light_note).layout.display = "none"
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.handles = (Handle(id="spot", kind="path", at=self.spot, tip="the spot"),) if self.page.can() else ()
        self.plan.set_handles(self.handles)
        found = sun_classes(self.setting.bar.value)
        self.setting_note.value = (
            f'<div class="gk-label" style="font-size:12px">{escaped(found.source)}; {escaped(found.unnamed)}</div>'
        )
        self.hour_note.value = controls.label(self.sun_words()).value
        self.light_note.value = controls.label(self.light_words()).value

    # ---- handlers

    def set_month(self, month: float) -> None:
        """Look at another month."""
        self.month = int(month)
        self.attempt(self.page.looked)

    def set_year(self, year: int | None) -> None:
        """Look at the garden now, or with its planting grown."""
        self.year = year
        self.attempt(self.page.looked)

    def set_date(self, day: float) -> None:
        """Look at the shadows of another date."""
        self.date = _day(day)
        self.attempt(self.redraw)

    def set_hour(self, hour: float) -> None:
        """Look at the shadows of another hour of the clock."""
        self.hour = hour
        self.attempt(self.redraw)

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in where the spot was dragged to."""
        for _name, at in moved_handles(data, self.handles):
            self.attempt(self.set_spot, at)
        self.attempt(self.page.looked)

    def set_spot(self, at: Point) -> None:
        """Look at another spot; a spot off the open ground goes to its nearest edge."""
        spot = plane.kept_to(ground(self.project.site), at)
        self.spot, self.moved = (round(spot[0], 3), round(spot[1], 3)), True

    # ---- what is worked out and drawn

    def map(self) -> SunMap:
        """Return the sun map as it is shown. Raises GardenError while the place or the boundary is missing."""
        return self.garden.sun(self.year, progress=self.page.told)

    def hours(self) -> FloatArray:
        """Return the hours shown, (rows, columns), of the chosen month and part of the day, NaN off open ground."""
        return self.map().shown(self.month, self.part.bar.value, ground(self.project.site))

    def light(self) -> LightMap:
        """Return the map of daily light as it is shown. Raises GardenError as ``map`` does."""
        return self.garden.daily_light(self.year, progress=self.page.told)

    def light_words(self) -> str:
        """Return what daily light adds to the hours of sun, and what it rests on here."""
        if not (self.shows_light and self.page.knows(self.year, light=True)):
            return LIGHT_ADDS
        known = self.light().known
        return f"{LIGHT_ADDS} Open ground here: {known.light[self.month - 1]:.0f} mol, {known.why}."

    @property
    def shows_light(self) -> bool:
        """Whether daily light is looked at."""
        return bool(self.show_what.bar.value == LIGHT)

    def sun_words(self) -> str:
        """Return where the sun stands at the chosen hour, and when it rises and sets that day."""
        return sun_words(self.project.site.place, self._moment())

    def scene(self) -> Scene:
        """Return the plan with the map or the shadows that are shown."""
        what = self.show_what.bar.value
        if not self.page.can():
            return self._plan(Laid(), "the ground")
        if what == SHADOWS:
            title = f"Shadows on {self.date.day} {self.date:%B} at {_clock(self.hour)}"
            return self._plan(self._shadows(), title)
        if not self.page.knows(self.year, light=self.shows_light):
            return self._plan(Laid(), f"{self.project.name}: the sun is not worked out yet")
        when = "as it is now" if self.year is None else f"year {self.year}"
        if what == LIGHT:
            light = self.light()
            laid = light_laid(light.shown(self.month, ground(self.project.site)), light.grid)
            return self._plan(laid, f"Daily light: {MONTHS[self.month - 1]}, {when}")
        part = "" if self.part.bar.value == PARTS[0] else f", {self.part.bar.value}"
        title = f"{MONTHS[self.month - 1]}{part}, {when}"
        hours, grid = self.hours(), self.map().grid
        if what == HOURS:
            return self._plan(hours_laid(hours, grid), f"Hours of sun a day: {title}")
        return self._plan(classes_laid(hours, grid, setting=self.setting.bar.value), f"Sun classes: {title}")

    def _shadows(self) -> Laid:
        site = self.project.site
        bodies = self.garden.solids(self.year)
        shadows = shade.shadows_at(bodies, site.place, self._moment(), y_bearing=site.y_bearing)
        return shadows_laid(shadows, plane.region(site.boundary))

    def _plan(self, laid: Laid, title: str) -> Scene:
        site = self.project.site
        scale = screen_scale(site, width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX)
        shadows = self.show_what.bar.value == SHADOWS
        grown = shadows and self.year is not None
        made = garden_scene(
            self.project,
            self.garden.layout,
            self.garden.catalogue if grown else None,
            plants=grown,
            year=self.year or 0,
            month=self.date.month if shadows else self.month,
            extra=(*laid.marks, *self.page.lit(scale)),
            scale=scale,
            textures=False,
            names=not grown,
            title=title,
        )
        if not laid.key:
            return made
        key, bounds = legend(laid.key, made.bounds, scale=scale)
        return attrs.evolve(made, marks=(*made.unnamed, *key), bounds=bounds)

    # ---- helpers

    def _again(self, _: object) -> None:
        self.attempt(self.page.looked)

    def _moment(self) -> dt.datetime:
        return dt.datetime.combine(self.date, _time(self.hour))

    def _first_spot(self) -> Point:
        if self.project.structure.seats:
            return self.project.structure.seats[0].at
        open_ground = ground(self.project.site)
        return (0.0, 0.0) if open_ground.is_empty else plane.centre(open_ground)


def _day(number: float) -> dt.date:
    return dt.date(SHOWN_YEAR, 1, 1) + dt.timedelta(days=int(number))


def _time(hour: float) -> dt.time:
    return dt.time(int(hour), round(hour % 1 * 60))


def _clock(hour: float) -> str:
    return f"{_time(hour):%H:%M}"
