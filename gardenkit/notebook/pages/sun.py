"""Sun and shade: each month's sun, the hours at one spot, shadows at any hour, walls, and the sun diary."""

import datetime as dt
from typing import Any

import attrs
import ipywidgets as w
import numpy as np
from IPython.core.getipython import get_ipython
from IPython.display import HTML, display

from gardenkit import reading
from gardenkit.drawing import charts, style
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.furniture import legend
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.overlays import cell_rings, shadow_marks, sun_legend, sun_marks
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Area, Mark, Scene
from gardenkit.drawing.svg import svg
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.project.advice import growing_sun
from gardenkit.project.edits import site as edits
from gardenkit.project.layout import layout
from gardenkit.project.season import catalogue_of
from gardenkit.project.solids import ground_height, solids
from gardenkit.project.sunlight import SunMap, sun_map
from gardenkit.site import shade, sun
from gardenkit.site.place import Place
from gardenkit.site.site import ground
from gardenkit.site.sky import sun_day, sun_position, sun_table
from gardenkit.site.sun_classes import DEFAULT, SUN_CLASSES, class_map, sun_class, sun_classes
from gardenkit.site.sun_diary import DiaryReport, Observation, compare
from gardenkit.units import compass_word, show_length

WIDTH_PX, MOST_HEIGHT_PX = 700, 800
SHOWN_YEAR = 2025  # year whose calendar the date slider runs through; the sun stands alike every year
SHOWS = ("hours of sun", "sun classes", "shadows at one hour")
PARTS = ("all day", "morning", "afternoon")
YEARS: tuple[tuple[str, int | None], ...] = (
    ("as it is now", None),
    *((f"with the planting, year {y}", y) for y in (1, 5, 10, 15)),
)
CLASS_COLOURS = ("#3a4766", "#73809a", "#bdb98c", "#faedaa")  # shade to sun, each lighter, to be read in grey too
LEAST_STEP = 0.02  # share of the work between two moves of the progress bar
WALL_CELL = 0.3048  # m between points on a wall
MISSING = "the sun map needs the place and the boundary; give them on the page of the ground"
DIARY_ENTRIES = (
    Entry(key="date", words="Date", hint="2025-06-14"),
    Entry(key="start", words="From, clock time", hint="10:30"),
    Entry(key="end", words="To", hint="12:00"),
    Entry(key="seen", words="The spot lay mostly in", options=(("sun", "sun"), ("shade", "shade"))),
    Entry(key="note", words="Note", hint="under a clear sky"),
)


class SunPage(Page):
    """Sliders for month, date and hour left, the map right with a spot to drag, the spot's year and the walls below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.catalogue = catalogue_of(self.session.folder)
        self.month = 6
        self.year: int | None = None
        self.date, self.hour = dt.date(SHOWN_YEAR, 6, 21), 12.0
        self.spot, self.moved = self._first_spot(), False
        self.handles: tuple[Handle, ...] = ()
        self.walls: tuple[object, list[tuple[Any, ...]]] = (None, [])
        self.show_what = controls.choice("Show", SHOWS[0], SHOWS, lambda _: self.attempt(self._switched), name="show")
        self.month_bar = controls.slider(
            "Month", 6, 1, 12, 1, self.set_month, show=lambda v: MONTHS[int(v) - 1], name="month"
        )
        self.part = controls.choice(
            "Part of the day", PARTS[0], PARTS, lambda _: self.attempt(self._redraw), name="part"
        )
        self.when = controls.choice("Garden", None, YEARS, self.set_year, name="year")
        self.setting = controls.choice(
            "Sun classes after", DEFAULT, list(SUN_CLASSES), lambda _: self.attempt(self._redraw), name="classes"
        )
        self.setting_note = w.HTML()
        first = (self.date - dt.date(SHOWN_YEAR, 1, 1)).days
        self.date_bar = controls.slider(
            "Date", first, 0, 364, 1, self.set_date, show=lambda v: f"{_day(v):%d %B}".lstrip("0"), name="date"
        )
        self.hour_bar = controls.slider("Clock time", 12, 4, 22, 0.25, self.set_hour, show=_clock, name="hour")
        self.progress = w.FloatProgress(value=0, min=0, max=1, layout=w.Layout(width="96%", visibility="hidden"))
        self.diary = Form(DIARY_ENTRIES, name="diary")
        self.take_out = controls.choice("Take an entry out", None, [("choose ...", None)], self.take_entry_out)
        diary = [
            controls.label("What you saw at the spot, under a clear sky:"),
            self.diary,
            controls.button("Add to the sun diary", self.add_entry, name="add-diary", width="96%"),
            self.take_out,
        ]
        hint = controls.label("Drag the round handle on the plan: its year of sun stands below.")
        self.map_controls = w.VBox([self.month_bar, self.part, self.setting, self.setting_note])
        self.hour_note = w.HTML()
        self.hour_controls = w.VBox([self.date_bar, self.hour_bar, self.hour_note])
        self.chart, self.spot_words, self.wall_table, self.diary_table = w.HTML(), w.HTML(), w.HTML(), w.HTML()
        sun.compiled_ready()  # asking starts the fast kernel loading while the first map is worked out without it
        self._with_bar_on_page(self._map)
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.show_what,
            self.when,
            self.map_controls,
            self.hour_controls,
            self.progress,
            hint,
            *diary,
            self.undo_row(),
        ]
        right = forms.beside(
            self.board, w.VBox([self.spot_words, self.wall_table], layout=w.Layout(flex="1 1 330px", min_width="0"))
        )
        self.widget = controls.page(self.message, panel, right, [self.chart, self.diary_table])
        self._switched()

    def refresh(self) -> None:
        """Show the garden's sun as the site and planting stand."""
        if not (self.moved and plane.contains(ground(self.project.site), self.spot)):
            self.spot = self._first_spot()
        self._redraw()
        self._show_walls()
        self._show_diary()

    # --- handlers -----------------------------------------------------------------------------------------------

    def set_month(self, month: float) -> None:
        """Look at another month; nothing is saved."""
        self.month = int(month)
        self.attempt(self._redraw)

    def set_year(self, year: int | None) -> None:
        """Look at the garden now, or with its planting grown; nothing is saved."""
        self.year = year
        self.attempt(self._redraw)
        self.attempt(self._show_walls)

    def set_date(self, day: float) -> None:
        """Look at the shadows of another date."""
        self.date = _day(day)
        self.attempt(self._redraw)

    def set_hour(self, hour: float) -> None:
        """Look at the shadows of another hour of the clock."""
        self.hour = hour
        self.attempt(self._redraw)

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in where the spot was dragged to."""
        for _name, at in moved_handles(data, self.handles):
            self.attempt(self.set_spot, at)
        self.attempt(self._redraw)

    def set_spot(self, at: Point) -> None:
        """Look at another spot; a spot off the open ground goes to its nearest edge."""
        open_ground = ground(self.project.site)
        spot = at if open_ground.is_empty or plane.contains(open_ground, at) else plane.nearest_on(open_ground, at)
        self.spot, self.moved = (round(spot[0], 3), round(spot[1], 3)), True

    @handler
    def add_entry(self) -> None:
        """Add what was seen at the spot to the sun diary."""
        texts = self.diary.texts()
        height = ground_height(self.project.site)(self.spot)
        entry = Observation(
            at=self.spot,
            date=reading.date(texts["date"]),
            start=reading.time(texts["start"], "from"),
            end=reading.time(texts["end"], "to"),
            sunny=texts["seen"] == "sun",
            height=round(height, 3),
            note=texts["note"],
        )
        compare(
            [entry], (), self.project.site.place
        )  # an entry that cannot be, such as one that ends before it starts, is refused
        if self.edit("sun diary", lambda p: edits.add_observation(p, entry)):
            self.diary.fill(start="", end="", note="")
            self.message.say("added to the sun diary; the table below sets it beside what is worked out")

    def take_entry_out(self, index: int | None) -> None:
        """Take one entry out of the sun diary."""
        if index is None:
            return
        self.edit("take an entry out of the sun diary", lambda p: edits.remove_observation(p, index))

    # --- what is worked out -------------------------------------------------------------------------------------

    def map(self) -> SunMap:
        """Return the sun map as it is shown. Raises GardenError while the place or the boundary is missing."""
        return sun_map(self.project, self.catalogue, year=self.year, progress=self._told)

    def hours(self) -> FloatArray:
        """Return the hours shown on the map, (rows, columns), of the chosen month and part of the day."""
        shown = self.map()
        morning, whole = shown.morning[self.month - 1], shown.hours[self.month - 1]
        part = self.part.bar.value
        return np.asarray(whole if part == PARTS[0] else morning if part == PARTS[1] else whole - morning)

    def spot_hours(self) -> FloatArray:
        """Return the twelve monthly hours of direct sun a day at the spot."""
        return self.map().at(self.spot)

    def diary_report(self) -> DiaryReport:
        """Return the sun diary set beside the computation, with the garden as it is now."""
        site = self.project.site
        return compare(site.diary, solids(self.project), site.place, y_bearing=site.y_bearing)

    def wall_rows(self) -> list[tuple[Any, ...]]:
        """Return for every house wall its name, facing, length and mean hours of direct sun in June and December."""
        site = self.project.site
        if site.place == Place() or not site.buildings:
            return []
        bodies = solids(self.project, self.catalogue, year=self.year)
        key = (site.place, site.y_bearing, bodies)
        if self.walls[0] != key:
            walls = [wall for b in site.buildings for wall in shade.building_walls(b, cell=WALL_CELL)]
            hours = sun.wall_sun_hours(
                walls, bodies, sun_table(site.place), y_bearing=site.y_bearing, progress=self._told
            )
            rows = [
                (
                    wall.name,
                    _facing(wall, site.y_bearing),
                    show_length(wall.grid.columns * wall.grid.cell, self.project.units),
                    float(found[5].mean()),
                    float(found[11].mean()),
                )
                for wall, found in zip(walls, hours, strict=True)
            ]
            self.walls = (key, rows)
        return self.walls[1]

    # --- helpers ------------------------------------------------------------------------------------------------

    def _map(self) -> None:
        if self._can():
            self.map()

    def _can(self) -> bool:
        return bool(self.project.site.boundary) and self.project.site.place != Place()

    def _told(self, share: float) -> None:
        if share >= 1:
            self.progress.layout.visibility = "hidden"
            self.progress.value = 0
        elif share - self.progress.value >= LEAST_STEP:
            self.progress.layout.visibility = "visible"
            self.progress.value = share

    def _with_bar_on_page(self, work: Any) -> None:
        """Do the first work with the progress bar above the page, which is not shown yet; without a notebook, just do
        it.
        """
        if get_ipython() is None or not self._can():
            work()
            return
        words = controls.label("Working out a year of sun ...")
        place = display(w.VBox([w.HTML(controls.STYLE), words, self.progress]), display_id=True)
        work()
        if place is not None:
            place.update(HTML(""))

    def _first_spot(self) -> Point:
        if self.project.structure.seats:
            return self.project.structure.seats[0].at
        open_ground = ground(self.project.site)
        return (0.0, 0.0) if open_ground.is_empty else plane.centre(open_ground)

    def _switched(self) -> None:
        hourly = self.show_what.bar.value == SHOWS[2]
        self.map_controls.layout.display = "none" if hourly else ""
        self.hour_controls.layout.display = "" if hourly else "none"
        self._redraw()

    def _redraw(self) -> None:
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.handles = (Handle(id="spot", kind="path", at=self.spot, tip="the spot"),) if self._can() else ()
        self.plan.set_handles(self.handles)
        found = sun_classes(self.setting.bar.value)
        self.setting_note.value = (
            f'<div class="gk-label" style="font-size:12px">{escaped(found.source)}; {escaped(found.unnamed)}</div>'
        )
        self.hour_note.value = controls.label(self.sun_words()).value
        self._show_spot()
        if not self._can():
            self.message.problem(MISSING)
        elif MISSING in self.message.value:
            self.message.say("")

    def _show_spot(self) -> None:
        if not self._can():
            self.chart.value = self.spot_words.value = ""
            return
        hours = self.spot_hours()
        drawn = charts.bar_chart(
            [float(v) for v in hours], title="Direct sun at the spot", unit="hours a day", highlight=self.month - 1
        )
        self.chart.value = forms.picture(svg(drawn), width_px=640)
        mean = growing_sun(hours, self.project.site)
        table = sun_table(self.project.site.place).day_length
        setting = self.setting.bar.value
        morning = self.map()
        column = SunMap(grid=morning.grid, hours=morning.morning, morning=morning.morning).at(self.spot)
        month = self.month - 1
        rows = [
            ("where", forms.show_point(self.spot, self.project.units)),
            ("growing season", f"{mean:.1f} hours a day: {sun_class(mean, setting=setting).name}"),
            (MONTHS[month], f"{hours[month]:.1f} hours: {sun_class(float(hours[month]), setting=setting).name}"),
            ("morning, afternoon", f"{column[month]:.1f} and {hours[month] - column[month]:.1f} hours"),
            ("open ground would have", f"{table[month]:.1f} hours"),
            ("counted", "a clear sky, sunrise to sunset; cloud is not"),
        ]
        self.spot_words.value = controls.table_html(("the spot", f"classes after {setting}"), rows)

    def _show_walls(self) -> None:
        seasons = ("winter", "summer") if self.project.site.place.latitude < 0 else ("summer", "winter")
        heads = ("wall", "faces", "length", f"June, {seasons[0]}", f"December, {seasons[1]}")
        rows = [
            (name, faces, long, f"{june:.1f} h", f"{december:.1f} h")
            for name, faces, long, june, december in self.wall_rows()
        ]
        words = "Mean hours of direct sun a day over each wall"
        self.wall_table.value = controls.table_html(heads, rows, caption=words) if rows else ""

    def _show_diary(self) -> None:
        diary = self.project.site.diary
        forms.relist(self.take_out, [("choose ...", None), *((_entry_words(o), i) for i, o in enumerate(diary))], None)
        if not diary or self.project.site.place == Place():
            self.diary_table.value = ""
            return
        report = self.diary_report()
        rows = [
            (
                _entry_words(line.observation),
                f"{line.light:.0%} of direct light",
                "✔ agrees" if line.agrees else "✘ differs",
                line.shaded_by,
                line.observation.note,
            )
            for line in report.lines
        ]
        heads = (f"sun diary: {report.agreement:.0%} agree", "worked out", "", "most in the way", "note")
        shown = controls.table_html(heads, rows)
        self.diary_table.value = shown + (
            controls.findings_html(report.findings, say=self.garden.say) if report.findings else ""
        )

    def scene(self) -> Scene:
        """Return the plan with the map or the shadows that are shown."""
        what = self.show_what.bar.value
        if not self._can():
            return self._plan((), "the ground", ())
        if what == SHOWS[2]:
            return self._shadow_scene()
        part = "" if self.part.bar.value == PARTS[0] else f", {self.part.bar.value}"
        title = f"{MONTHS[self.month - 1]}{part}, " + ("as it is now" if self.year is None else f"year {self.year}")
        hours, grid = self._masked(), self.map().grid
        if what == SHOWS[0]:
            marks = sun_marks(hours, x0=grid.left, y0=grid.bottom, cell=grid.cell)
            return self._plan(marks, f"Hours of sun a day: {title}", sun_legend())
        return self._class_scene(hours, title)

    def _class_scene(self, hours: FloatArray, title: str) -> Scene:
        found, grid = sun_classes(self.setting.bar.value), self.map().grid
        numbers = class_map(np.nan_to_num(hours), setting=found.name)
        colours = _spread_colours(len(found.classes))
        marks = [
            Area(rings=rings, fill=colours[i], alpha=0.85, layer="sun", tip=one.name)
            for i, one in enumerate(found.classes)
            if (rings := cell_rings((numbers == i) & np.isfinite(hours), x0=grid.left, y0=grid.bottom, cell=grid.cell))
        ]
        words = [
            (colours[i], f"{one.name}, {'over' if one.above else 'from'} {one.from_hours:g} h")
            for i, one in enumerate(found.classes)
        ]
        return self._plan(tuple(marks), f"Sun classes: {title}", tuple(words))

    def _shadow_scene(self) -> Scene:
        site, when = self.project.site, dt.datetime.combine(self.date, _time(self.hour))
        bodies = solids(self.project, self.catalogue, year=self.year)
        shadows = shade.shadows_at(bodies, site.place, when, y_bearing=site.y_bearing)
        plot = plane.region(site.boundary)
        regions = [plane.intersection(plane.region(s.outline), plot) for s in shadows]
        marks = [m for s, r in zip(shadows, regions, strict=True) for m in shadow_marks([r], alpha=0.5 * s.opacity)]
        title = f"Shadows on {self.date.day} {self.date:%B} at {_clock(self.hour)}"
        return self._plan(tuple(marks), title, (("#99a0ae", "shadow, darker where less light comes through"),))

    def sun_words(self) -> str:
        """Return where the sun stands at the chosen hour, and when it rises and sets that day."""
        place = self.project.site.place
        when = dt.datetime.combine(self.date, _time(self.hour))
        position, day = sun_position(place, when), sun_day(place, self.date)
        stands = (
            f"The sun stands {position.elevation:.0f}° high in the {compass_word(position.azimuth)}"
            if position.up
            else "The sun is down"
        )
        return f"{stands}; sunrise {day.rise:%H:%M}, sunset {day.set:%H:%M}." if day.rise and day.set else f"{stands}."

    def _plan(self, marks: tuple[Mark, ...], title: str, rows: tuple[tuple[str, str], ...]) -> Scene:
        site = self.project.site
        scale = screen_scale(site, width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX)
        year = 0 if self.year is None else self.year
        shadows = self.show_what.bar.value == SHOWS[2]
        grown, month = shadows and self.year is not None, self.date.month if shadows else self.month
        made = garden_scene(
            self.project,
            layout(self.project),
            self.catalogue,
            plants=grown,
            year=year,
            month=month,
            extra=marks,
            scale=scale,
            textures=False,
            names=not grown,
            title=title,
        )
        if not rows:
            return made
        key, bounds = legend(rows, made.bounds, scale=scale)
        return attrs.evolve(made, marks=(*made.marks, *key), bounds=bounds)

    def _masked(self) -> FloatArray:
        """Return the hours shown with everything but the open ground left blank."""
        grid, hours = self.map().grid, self.hours()
        held = plane.inside(ground(self.project.site), grid.points).reshape(hours.shape)
        return np.where(held, hours, np.nan)

    def summary(self) -> str:
        """Return the sun in words."""
        if not self._can():
            return f"Sun of {self.project.name}: the place and the boundary are still missing"
        hours = self.spot_hours()
        said = ", ".join(f"{month} {value:.1f}" for month, value in zip(style.MONTHS, hours, strict=True))
        return f"Direct sun at {forms.show_point(self.spot, self.project.units)}, hours a day: {said}"


def page(session: Any) -> SunPage:
    """Return the page for a garden."""
    return SunPage(session)


def _day(number: float) -> dt.date:
    return dt.date(SHOWN_YEAR, 1, 1) + dt.timedelta(days=int(number))


def _time(hour: float) -> dt.time:
    return dt.time(int(hour), round(hour % 1 * 60))


def _clock(hour: float) -> str:
    return f"{_time(hour):%H:%M}"


def _facing(wall: sun.Wall, y_bearing: float) -> str:
    return compass_word(plane.heading(wall.start, wall.end) + 90 + y_bearing)


def _entry_words(entry: Observation) -> str:
    return f"{entry.date:%d %b %Y} {entry.start:%H:%M}-{entry.end:%H:%M}, {'sun' if entry.sunny else 'shade'}"


def _spread_colours(count: int) -> tuple[str, ...]:
    """Return the colours of some classes from shade to sun, the first always the darkest and the last the lightest."""
    last = len(CLASS_COLOURS) - 1
    return tuple(CLASS_COLOURS[round(i * last / max(count - 1, 1))] for i in range(count))
