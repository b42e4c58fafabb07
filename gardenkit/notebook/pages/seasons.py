"""What one sees through the years: the view in perspective, the garden from the side, balance and winter."""

import math
from collections.abc import Callable

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.elevation import elevation_scene, wall_behind
from gardenkit.drawing.garden import MONTHS, drawn, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Mark, Scene, Stroke
from gardenkit.drawing.svg import svg
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view import Lookout, places_to_look_from, season_strip, view_scene
from gardenkit.drawing.view_ground import SEASONS as SKY_SEASONS
from gardenkit.drawing.view_plants import grown_trees
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.jobs import Job, Stopped, Tell
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import heading, refill
from gardenkit.notebook.pages.planting import (
    PlantingPage,
    months_words,
    rich_table,
    swatches,
    title,
    wide_page,
    year_buttons,
)
from gardenkit.planting.diversity import ENOUGH
from gardenkit.project.planting_figures import SEASONS, YEARS, Share, figures, sides, winter
from gardenkit.project.season import local_months, northern_month, standing
from gardenkit.site.site import Building

PLAN_PX = 330
LEAST_LINE = 0.5  # m: a line to look at the garden from the side is at least this long
SHOWS = ("one view", "four seasons", "years 1, 5 and 15", "from the side")
BEYOND = 0.8  # m the line runs past the boundary, so that plants at the edge are seen whole. House value.
LINE_INK = "#7a3b12"


class SeasonsPage(PlantingPage):
    """Where from, when and what to show on the left; the pictures on the right; the figures below. Nothing is saved."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.line: tuple[Point, Point] | None = None
        self.wanted_again = False
        self.job = Job(self, name="view")
        self.place = controls.choice("Look from", None, [], self._again_soon, name="view-from")
        self.what = controls.choice("Show", SHOWS[0], SHOWS, self._again_soon, name="view-show")
        self.year_bar = controls.slider(
            "Year after planting", 5, 0, 15, 1, self._again_soon, show="{:.0f}".format, live=False, name="view-year"
        )
        self.month_bar = controls.slider(
            "Month", 6, 1, 12, 1, self._again_soon, show=lambda v: MONTHS[int(v) - 1], live=False, name="view-month"
        )
        self.angle = controls.slider(
            "Width of view", 65, 40, 90, 5, self._again_soon, show="{:.0f}°".format, live=False, name="view-angle"
        )
        self.depth = controls.slider(
            "From the side: how deep", 3.0, 1.0, 12.0, 0.5, self._again_soon, show=self._depth_words, live=False
        )
        self.picture, self.figures = w.HTML(layout=w.Layout(width="100%")), w.HTML()
        self.tables = forms.beside(w.HTML(), w.HTML(), w.HTML())
        self.plan = LivePlan(self.scene_of_line(), width_px=PLAN_PX, most_height_px=420)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.place,
            self.what,
            self.year_bar,
            year_buttons(self.go_to_year, name="view-year"),
            self.month_bar,
            self.angle,
            heading("From the side"),
            controls.label("Drag the two ends of the line; one looks at it square, from A on the left to B."),
            self.board,
            self.depth,
            controls.button("Look from the other side", self.turn_line, name="turn-line", width="96%"),
            self.job.widget,
        ]
        right = w.VBox([self.picture], layout=w.Layout(width="100%", min_width="0"))
        self.widget = wide_page(self.message, panel, right, [self.tables])

    def refresh(self) -> None:
        """Show the garden as it stands."""
        places = [place.name for place in self.places()]
        refill(self.place, places, self.place.bar.value)
        self._redraw_plan()
        self._show_figures()
        self._look()

    # --- handlers -----------------------------------------------------------------------------------------------

    def go_to_year(self, year: int) -> None:
        """Look at year 1, 5, 10 or 15."""
        self.year_bar.bar.value = float(year)

    def drop(self, handle: str, at: Point) -> None:
        """Put one end of the line that is looked at from the side."""
        a, b = self._line()
        new = (at, b) if handle == "A" else (a, at)
        if math.dist(*new) < LEAST_LINE:
            raise GardenError(
                f"the line to look at would be {self.lengths(math.dist(*new))} long; "
                f"drag its ends at least {self.lengths(LEAST_LINE)} apart"
            )
        self.line = new
        self._look_from_side()

    @handler
    def turn_line(self) -> None:
        """Look at the line from its other side."""
        a, b = self._line()
        self.line = (b, a)
        self._look_from_side()

    # --- what is worked out -------------------------------------------------------------------------------------

    def places(self) -> tuple[Lookout, ...]:
        """Return where one can look from."""
        if not self.project.site.boundary:
            return ()
        return places_to_look_from(self.project, self.garden.layout)

    def lookout(self) -> Lookout:
        """Return the place chosen to look from. Raises GardenError when there is none."""
        places = {place.name: place for place in self.places()}
        if not places:
            raise GardenError(
                "there is nowhere to look from yet; give the boundary, a gate, a window or a seat on the site page"
            )
        return places.get(self.place.bar.value) or next(iter(places.values()))

    def view(self, *, year: int | None = None, month: int | None = None, width: float = 240.0) -> Scene:
        """Return what is seen from the chosen place in a year and month."""
        eye = self.lookout()
        year, month = self._when(year, month)
        return view_scene(
            self.project,
            self.garden.layout,
            self.catalogue,
            eye=eye.eye,
            towards=eye.towards,
            year=year,
            month=month,
            eye_height=eye.height,
            angle=self.angle.bar.value,
            width=width,
            title=f"{self.project.name} from: {eye.name}, {MONTHS[month - 1]}, year {year}",
        )

    def four_seasons(self) -> Scene:
        """Return the view in spring, summer, autumn and winter."""
        eye, (year, _) = self.lookout(), self._when(None, None)
        return season_strip(
            self.project,
            self.garden.layout,
            self.catalogue,
            eye=eye.eye,
            towards=eye.towards,
            year=year,
            months=local_months(self.project.site, (4, 6, 10, 1)),
            eye_height=eye.height,
            angle=self.angle.bar.value,
            title=f"{self.project.name} from: {eye.name}, four seasons of year {year}",
        )

    def from_the_side(self, *, year: int | None = None, month: int | None = None) -> Scene:
        """Return the garden looked at square to the line, in a year and month."""
        a, b = self._line()
        year, month = self._when(year, month)
        site = self.project.site
        standing_now = standing(self.project, self.catalogue, year=year, month=month)
        shown = [*self._trees(month), *drawn([s for s in standing_now if s.height > 0])]
        walls = [
            wall_behind(house, [o for o in site.openings if o.on == house.name], (a, b)) for house in self._behind()
        ]
        wide = math.dist(a, b)
        return elevation_scene(
            shown,
            line=(a, b),
            depth=self.depth.bar.value,
            walls=walls,
            units=self.project.units,
            scale=max(24.0, 1000 * (wide + 2.0) / 240),
            title=f"From the side: {MONTHS[month - 1]}, year {year}",
        )

    # --- helpers ------------------------------------------------------------------------------------------------

    def _when(self, year: int | None, month: int | None) -> tuple[int, int]:
        return (
            int(self.year_bar.bar.value) if year is None else year,
            int(self.month_bar.bar.value) if month is None else month,
        )

    def _again_soon(self, _: object) -> None:
        self.attempt(self._look)

    def _look(self) -> None:
        if not self.places():
            self.picture.value = controls.label(
                "Nowhere to look from yet: give the boundary, a gate, a window or a seat on the site page."
            ).value
            return
        if self.job.is_running:
            self.wanted_again = True
            return
        work = self._work()

        def done(found: str) -> None:
            self.picture.value = found
            if self.wanted_again:
                self.wanted_again = False
                self._look()

        self.job.start("drawing ...", work, done)

    def _work(self) -> Callable[[Tell, Stopped], str]:
        """Return the drawing to do, as the controls ask for it now."""
        what = self.what.bar.value

        def years(tell: Tell) -> str:
            made = []
            for number, year in enumerate(YEARS):
                tell(number / len(YEARS), f"drawing year {year} ...")
                made.append(svg(self.view(year=year, width=118.0)))
            held = "".join(f'<div style="flex:0 1 calc(50% - 6px);min-width:320px">{one}</div>' for one in made)
            return f'<div style="display:flex;flex-wrap:wrap;gap:10px">{held}</div>'

        def side(tell: Tell) -> str:
            del tell
            chosen_years = sorted({*YEARS, int(self.year_bar.bar.value)})
            made = [svg(self.from_the_side(year=year)) for year in chosen_years]
            return "".join(f'<div style="max-width:1000px">{one}</div>' for one in made)

        def one(tell: Tell) -> str:
            tell(0.3, "drawing the view ...")
            return f'<div style="max-width:1000px">{svg(self.view())}</div>'

        def seasons(tell: Tell) -> str:
            tell(0.2, "drawing four seasons ...")
            return f'<div style="max-width:1000px">{svg(self.four_seasons())}</div>'

        chosen = dict(zip(SHOWS, (one, seasons, years, side), strict=True))[what]

        def work(tell: Tell, stopped: Stopped) -> str:
            del stopped
            return chosen(tell)

        return work

    def _look_from_side(self) -> None:
        self.what.show(SHOWS[3])
        self._redraw_plan()
        self._look()

    def _line(self) -> tuple[Point, Point]:
        """Return the line looked at from the side: as dragged, else across the ground in front of its middle."""
        if self.line is not None:
            return self.line
        boundary = self.project.site.boundary
        if not boundary:
            return (0.0, 0.0), (5.0, 0.0)
        left, low, right, high = plane.bounds(plane.region(boundary))
        y = low + (high - low) / 3
        return (left - BEYOND, y), (right + BEYOND, y)

    def _behind(self) -> list[Building]:
        """Return the buildings that stand beyond the line."""
        (ax, ay), (bx, by) = self._line()
        return [
            house
            for house in self.project.site.buildings
            if sum((y - ay) * (bx - ax) - (x - ax) * (by - ay) for x, y in house.outline) > 0
        ]

    def _trees(self, month: int) -> list[PlantDrawn]:
        """Return the trees that are there and stay, as they look from the side in a month."""
        site = self.project.site
        turned = northern_month(site, month)
        season = SKY_SEASONS[turned % 12 // 3]
        grown = grown_trees(site, self.catalogue, season, month)
        return [attrs.evolve(tree.drawn, key=tree.drawn.name) for tree in grown]

    def _redraw_plan(self) -> None:
        scene = self.scene_of_line()
        self.plan.update(scene)
        self.plan.reframe(scene)
        a, b = self._line()
        self.handles = (
            Handle(id="A", kind="seat", at=a, tip="A: left end"),
            Handle(id="B", kind="seat", at=b, tip="B: right end"),
        )
        self.plan.set_handles(self.handles)

    def scene_of_line(self) -> Scene:
        """Return the small plan with the line that is looked at from the side."""
        a, b = self._line()
        line: tuple[Mark, ...] = (Stroke(points=(a, b), colour=LINE_INK, width_mm=0.6, layer="overlay"),)
        return garden_scene(
            self.project,
            self.garden.layout,
            self.catalogue,
            year=5,
            names=False,
            textures=False,
            extra=line,
            scale=screen_scale(self.project.site, width_px=PLAN_PX),
        )

    def _show_figures(self) -> None:
        found = figures(self.project, self.catalogue)
        if found is None:
            for part in self.tables.children:
                part.value = ""
            return
        left, middle, right = self.tables.children
        varied = found.diversity
        left.value = title("Left and right of the path") + self._sides_table()
        middle.value = title("Balance and variety, year 10") + controls.table_html(
            ("", "", ""),
            [
                ("evergreen plants", f"{found.evergreen:.0%}", "of all plants; about a third is usual"),
                ("evergreen in the winter picture", f"{found.evergreen_mass:.0%}", "of what stands in January"),
                ("neighbours of another leaf texture", f"{found.texture_contrast:.0%}", f"of {found.neighbours} pairs"),
                ("neighbours with another form", f"{found.form_contrast:.0%}", f"of {found.neighbours} pairs"),
                ("textures", ", ".join(f"{v:.0%} {k}" for k, v in found.textures.items()), ""),
                ("Shannon", f"{varied.shannon:.2f}", f"as varied as {varied.effective_kinds:.1f} even kinds"),
                ("Simpson", f"{varied.simpson:.2f}", "chance that two plants differ in kind"),
                *(
                    (
                        f"commonest {s.rank} of {found.woody} woody",
                        f"{s.name} {s.share:.0%}",
                        _rule_words(s, found.woody),
                    )
                    for s in found.shares
                ),
            ],
        )
        right.value = title("Winter interest") + self._winter_table()

    def _sides_table(self) -> str:
        rows = [
            (one.path, one.year, *(_lean(one.left[season]) for season in SEASONS))
            for one in sides(self.project, self.catalogue)
        ]
        return controls.table_html(("path", "year", *SEASONS), rows) if rows else controls.label("no path yet").value

    def _winter_table(self) -> str:
        rows = [
            (
                r.botanical,
                r.count,
                ", ".join(r.interest),
                swatches((r.foliage,) if r.foliage else ()),
                months_words(r.fruit),
                months_words(r.flowers),
            )
            for r in winter(self.project, self.catalogue)
        ]
        heads = ("kind", "plants", "to look at", "leaf or stem", "fruit", "flower")
        return (
            rich_table(heads, rows) if rows else controls.label("Nothing stands out from December to February.").value
        )

    def _depth_words(self, metres: float) -> str:
        return self.lengths(metres)

    def scene(self) -> Scene | None:
        """Return the view."""
        return self.view() if self.places() else None

    def summary(self) -> str:
        """Return what is seen, in words."""
        return self.view().description if self.places() else "There is nowhere to look from yet."


def _lean(left: float | None) -> str:
    if left is None:
        return "nothing"
    if abs(left - 0.5) < 0.05:
        return "even"
    return f"{left:.0%} left" if left > 0.5 else f"{1 - left:.0%} right"


def _rule_words(one: Share, woody: int) -> str:
    word = "within" if one.share <= one.most + 1e-9 else "above"
    few = f"; it says little of fewer than {ENOUGH:.0f}" if woody < ENOUGH else ""
    return f"{word} the {one.most:.0%} of the 10-20-30 rule{few}"
