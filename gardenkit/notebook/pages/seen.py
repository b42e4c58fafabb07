"""What one sees from gate, seat or window in any month of any year: how far, how much of the path, what hides it."""

import attrs
import ipywidgets as w

from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.charts import bar_chart
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.overlays import isovist_marks
from gardenkit.drawing.scene import Mark, Scene, Stroke
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, plan_scale, refill
from gardenkit.project import views
from gardenkit.project.season import catalogue_of, early_summer
from gardenkit.project.views import Eye
from gardenkit.structure.perspective import look_finding
from gardenkit.structure.sightlines import Screening, Seen, View, path_finding, screening_finding
from gardenkit.units import show_area, show_length

ANYWHERE = "a place of my own"
SHOWN, HIDDEN = "#2f6b3a", "#9a2f14"  # told apart by the line too: full where it shows, broken where it does not
NO_PLANTS = -1


class SeenPage(BonesPage):
    """Eye, month and year left, the seen ground on the plan, what is seen and hidden below. Nothing here is saved."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.catalogue = catalogue_of(self.session.folder)
        self.spot: Point = (0.0, 0.0)
        self.place = controls.choice("Look from", None, [], self.look_from, name="look-from")
        self.posture = controls.choice(
            "Eye",
            "",
            [("as usual there", ""), ("standing", "standing"), ("seated", "seated")],
            lambda _: self.attempt(self.refresh),
        )
        self.month = controls.month_slider(
            "Month", early_summer(self.project.site), lambda _: self.attempt(self._redraw), name="seen-month"
        )
        self.year = controls.slider(
            "Year after planting",
            5,
            NO_PLANTS,
            15,
            1,
            lambda _: self.attempt(self._redraw),
            show=lambda v: "without the plants" if v < 0 else f"{v:.0f}",
            name="seen-year",
        )
        self.path = controls.choice(
            "How much shows of", None, [], lambda _: self.attempt(self._redraw), name="seen-path"
        )
        self.target = controls.choice(
            "How well is hidden", None, [], lambda _: self.attempt(self._redraw), name="screened"
        )
        self.figures, self.below = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [
            self.place,
            self.posture,
            self.month,
            self.year,
            self.path,
            self.target,
            heading("From here"),
            self.figures,
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.below])

    def refresh(self) -> None:
        """Show what is seen."""
        places = list(views.places_to_look_from(self.project))
        if self.project.site.boundary and self.spot == (0.0, 0.0):
            ground = self.layout().ground
            self.spot = plane.inscribed_circle(ground, tolerance=0.1)[0]
        refill(self.place, [*places, ANYWHERE], self.place.bar.value)
        refill(self.path, list(self.layout().routes), self.path.bar.value)
        here = self.place.bar.value
        others = [p for p in places if p != here]
        seats = [s.name for s in self.structure.seats if s.name != here]
        refill(self.target, others, self.target.bar.value or (seats[0] if seats else None))
        self._redraw()

    # --- handlers -----------------------------------------------------------------------------------------------

    def look_from(self, place: str) -> None:
        """Look from another place."""
        del place
        self.attempt(self.refresh)

    def drop(self, handle: str, at: Point) -> None:
        """Look from where the eye was dragged; nothing is saved."""
        del handle
        before = self.spot, self.place.bar.value
        self.spot = at
        refill(self.place, list(self.place.bar.options), ANYWHERE)
        try:
            views.eye_point(self.project, self.eye())
        except GardenError:
            self.spot = before[0]
            refill(self.place, list(self.place.bar.options), before[1])
            raise
        self._redraw()

    # --- helpers ------------------------------------------------------------------------------------------------

    def eye(self) -> Eye:
        """Return who looks."""
        posture = self.posture.bar.value
        if self.place.bar.value in (ANYWHERE, None):
            return Eye(place="there", at=self.spot, height=views.POSTURES[posture or "standing"])
        return views.eye_at(self.project, self.place.bar.value, posture=posture)

    def when(self) -> dict[str, int | None]:
        """Return the month and year looked at; year None without the design's plants."""
        year = int(self.year.bar.value)
        return {"month": int(self.month.bar.value), "year": None if year < 0 else year}

    def view(self) -> View:
        """Return the level view."""
        when = self.when()
        return views.look(
            self.project, self.eye(), month=when["month"] or 6, year=when["year"], catalogue=self.catalogue
        )

    def shown(self) -> Seen | None:
        """Return how much of the chosen path shows; None without a path."""
        name, when = self.path.bar.value, self.when()
        if name is None:
            return None
        return views.path_seen(
            self.project,
            self.layout(),
            name,
            self.eye(),
            month=when["month"] or 6,
            year=when["year"],
            catalogue=self.catalogue,
        )

    def hidden(self) -> Screening | None:
        """Return how well the chosen place is screened from the eye, by month; None without such a place."""
        if self.target.bar.value is None:
            return None
        return views.screened(
            self.project, self.target.bar.value, self.eye(), year=self.when()["year"], catalogue=self.catalogue
        )

    def _redraw(self) -> None:
        eye = self.eye()
        at = views.eye_point(self.project, eye)[:2]
        self.plan.update(self.scene())
        self.handles = (Handle(id="eye", kind="seat", at=(at[0], at[1]), tip="drag to look from elsewhere"),)
        self.plan.set_handles(self.handles)
        self._tables(eye)

    def _tables(self, eye: Eye) -> None:
        units, view, part = self.project.units, self.view(), self.shown()
        m = view.measures
        around = views.enclosed(self.project, view, year=self.when()["year"], catalogue=self.catalogue)
        ratio = f"{around.median_ratio:.1f} to 1" if around.median_ratio < 1e3 else "open"
        rows = [
            ("ground in view", show_area(m.area, units)),
            ("longest look", show_length(m.longest_view, units)),
            ("mean look", show_length(m.mean_view, units)),
            ("edges that hide more", show_length(m.occlusivity, units)),
            ("compactness, 1 is a circle", f"{m.compactness():.2f}"),
            ("distance to height round about", ratio),
            ("looked over or past", f"{100 * around.open_share:.0f} % of directions"),
            *((name, f"{100 * share:.0f} %") for name, share in around.shares if share),
        ]
        self.figures.value = controls.table_html(("", ""), rows)
        stops = [(s.name, f"{100 * s.share:.0f} %", show_length(s.length, units)) for s in view.stops[:8]]
        blocks = [controls.table_html(("ends the view", "of all directions", "edge seen"), stops)]
        found: list[Finding] = []
        name = self.path.bar.value
        if part is not None and name is not None:
            found.append(path_finding(f'path "{name}"', eye.place, part))
            try:
                look = views.path_looks(self.project, self.layout(), name, eye, part)
                found.append(look_finding(f'path "{name}" from {eye.place}', look))
            except GardenError as error:
                found.append(Finding(where=f'path "{name}"', what=str(error), topic="view"))
            hidden = [(n, f"{100 * share:.0f} %") for n, share in part.hidden_by[:8]]
            blocks.append(controls.table_html((f"hides of {name}", "of its length"), hidden))
        chart = ""
        screen = self.hidden()
        if screen is not None:
            target = self.target.bar.value
            found.append(screening_finding(target, eye.place, screen))
            month = int(self.month.bar.value)
            by = [(n, f"{100 * months[month - 1]:.0f} %") for n, months in screen.by[:8]]
            blocks.append(controls.table_html((f"hides {target}", f"alone, {MONTHS[month - 1]}"), by))
            title = f"How much of {target} is hidden from {eye.place}, by month"
            chart = svg(
                bar_chart([100 * s for s in screen.share], title=title, unit="%", highlight=month - 1, colour="#9db28a")
            )
            chart = f'<div style="flex:1 1 420px;max-width:640px;min-width:420px">{chart}</div>'
        side = "".join(f"<div>{block}</div>" for block in blocks)
        self.below.value = (
            f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{side}{chart}</div>'
            f"{controls.findings_html(found, say=self.garden.say)}"
        )

    def scene(self) -> Scene:
        """Return the plan with the ground in view and the path, shown and hidden."""
        scale = plan_scale(self.project.site)
        marks: tuple[Mark, ...] = ()
        if self.place.bar.value is not None and self.project.site.boundary:
            view = self.view()
            marks = (
                *isovist_marks(plane.region(view.outline()), view.eye[:2], scale=scale, name=self.eye().place),
                *self._path_marks(),
            )
        year = self.when()["year"]
        return garden_scene(
            self.project,
            self.layout(),
            self.catalogue if year is not None else None,
            year=year or 0,
            month=self.when()["month"] or 6,
            scale=scale,
            extra=marks,
            textures=False,
        )

    def _path_marks(self) -> list[Mark]:
        part, name = self.shown(), self.path.bar.value
        if part is None or name is None:
            return []
        points = [(float(x), float(y)) for x, y, _ in views.path_points(self.project, self.layout(), name)]
        marks: list[Mark] = []
        start = 0
        for i in range(1, len(points)):
            if i == len(points) - 1 or part.shown[i] != part.shown[start]:
                seen = bool(part.shown[start])
                stroke = Stroke(
                    points=tuple(points[start : i + 1]),
                    colour=SHOWN if seen else HIDDEN,
                    width_mm=0.7,
                    layer="overlay",
                    tip=f"{name}: {'shows' if seen else 'hidden'} from {self.eye().place}",
                )
                marks.append(stroke if seen else attrs.evolve(stroke, dash=(1.2, 1.4)))
                start = i
        return marks

    def summary(self) -> str:
        """Return the view in words."""
        part, units = self.shown(), self.project.units
        said = f"From {self.eye().place}: {show_area(self.view().measures.area, units)} in view"
        return f"{said}, {100 * part.share:.0f} % of {self.path.bar.value} shows" if part is not None else said
