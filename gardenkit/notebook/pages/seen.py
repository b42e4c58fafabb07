"""Views from gate, seat or window in any month of any year: how far, how much of the path, what hides it."""

from collections.abc import Callable
from typing import Any

import attrs

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.overlays import isovist_marks
from gardenkit.drawing.scene import Mark, Scene, Stroke
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.pages.bones import HIGH_PX, WIDTH_PX, BonesPage, heading, plan_scale, refill
from gardenkit.notebook.pages.seen_figures import SeenFigures
from gardenkit.project import views
from gardenkit.project.season import early_summer
from gardenkit.project.views import Eye
from gardenkit.structure.sightlines import Screening, Seen, View
from gardenkit.units import show_area

ANYWHERE = "a place of my own"
SHOWN, HIDDEN = "#2f6b3a", "#9a2f14"  # told apart by the line too: full where it shows, broken where it does not
NO_PLANTS = -1
NOTHING_YET = (
    "nothing can be looked at yet: draw the boundary and add a gate, a window or a seat in the step The ground as "
    "found (notebook 03), then come back"
)


class SeenPage(BonesPage):
    """Eye, month and year left, the seen ground on the plan, what is seen and hidden below. Nothing here is saved."""

    def build(self) -> None:
        """Make the widgets, once."""
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
        self.told = SeenFigures(self)
        self._of: Garden | None = None  # the garden that was looked at
        self._known: dict[tuple[object, ...], Any] = {}  # what was seen of it
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX, handles=self.handles)
        self.board = self.plan.board(self.edited)
        panel = [
            self.place,
            self.posture,
            self.month,
            self.year,
            self.path,
            self.target,
            heading("From here"),
            self.told.figures,
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.told.below, self.told.advice.widget])

    def refresh(self) -> None:
        """Show what is seen."""
        places = list(views.places_to_look_from(self.project))
        if self.project.site.boundary and self.spot == (0.0, 0.0):
            ground = self.garden.layout.ground
            self.spot = plane.inscribed_circle(ground, tolerance=0.1)[0]
        refill(self.place, [*places, ANYWHERE], self.place.bar.value)
        refill(self.path, list(self.garden.layout.routes), self.path.bar.value)
        here = self.place.bar.value
        others = [p for p in places if p != here]
        seats = [s.name for s in self.structure.seats if s.name != here]
        refill(self.target, others, self.target.bar.value or (seats[0] if seats else None))
        if not self.project.site.boundary:
            self._nothing_yet()
            return
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

    def _once(self, what: str, look: Callable[[], Any], *more: object) -> Any:
        """Return what is seen, worked out once for an eye, a month and a year of one garden."""
        if self._of is not self.garden:
            self._of, self._known = self.garden, {}
        key = (what, self.eye(), *self.when().values(), *more)
        if key not in self._known:
            self._known[key] = look()
        return self._known[key]

    def view(self) -> View:
        """Return the level view."""
        month, year = self.when()["month"] or 6, self.when()["year"]
        catalogue = self.garden.catalogue
        seen: View = self._once(
            "view", lambda: views.look(self.project, self.eye(), month=month, year=year, catalogue=catalogue)
        )
        return seen

    def shown(self) -> Seen | None:
        """Return how much of the chosen path shows; None without a path."""
        name, month, year = self.path.bar.value, self.when()["month"] or 6, self.when()["year"]
        if name is None:
            return None

        def look() -> Seen:
            worked, catalogue = self.garden.layout, self.garden.catalogue
            return views.path_seen(self.project, worked, name, self.eye(), month=month, year=year, catalogue=catalogue)

        part: Seen = self._once("path", look, name)
        return part

    def hidden(self) -> Screening | None:
        """Return how well the chosen place is screened from the eye, by month; None without such a place."""
        target, year = self.target.bar.value, self.when()["year"]
        if target is None:
            return None
        screen: Screening = self._once(
            "hidden",
            lambda: views.screened(self.project, target, self.eye(), year=year, catalogue=self.garden.catalogue),
            target,
        )
        return screen

    def _nothing_yet(self) -> None:
        """Say what to do first."""
        self.plan.update(self.scene())
        self.told.clear()
        self.message.say(NOTHING_YET)

    def _redraw(self) -> None:
        eye = self.eye()
        at = views.eye_point(self.project, eye)[:2]
        self.plan.update(self.scene())
        self.handles = (Handle(id="eye", kind="seat", at=(at[0], at[1]), tip="drag to look from elsewhere"),)
        self.plan.set_handles(self.handles)
        self.told.refresh()

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
            self.garden.layout,
            self.garden.catalogue if year is not None else None,
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
        points = [(float(x), float(y)) for x, y, _ in views.path_points(self.project, self.garden.layout, name)]
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
        if not self.project.site.boundary:
            return NOTHING_YET
        part, units = self.shown(), self.project.units
        said = f"From {self.eye().place}: {show_area(self.view().measures.area, units)} in view"
        return f"{said}, {part.share:.0%} of {self.path.bar.value} shows" if part is not None else said
