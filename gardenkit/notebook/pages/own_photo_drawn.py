"""The design drawn into the designer's own photo at a year, a month and an hour: before and after under one slider."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.brief.photo import photo as read_photo
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted_view import Moment
from gardenkit.drawing.photo_view import in_photo, under_one_slider
from gardenkit.drawing.view_sun import DAY
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.planting import year_buttons
from gardenkit.notebook.part import Part
from gardenkit.progress import Tell
from gardenkit.project.season import early_summer
from gardenkit.site.photo_camera import camera_of

if TYPE_CHECKING:
    from gardenkit.notebook.pages.own_photo import OwnPhotoPage


class Drawn(Part):
    """The design in the photo at a year, month and hour: before and after under one slider."""

    page: "OwnPhotoPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self._of: tuple[object, ...] = ()
        self.job = Job(self.page, name="own-photo")
        self.picture = w.HTML(layout=w.Layout(width="100%"))
        self.year = controls.slider(
            "Year after planting", 5, 0, 15, 1, self.again, show="{:.0f}".format, live=False, name="photo-year"
        )
        start = early_summer(self.project.site)
        self.month = controls.month_slider("Month", start, self.again, live=False, name="photo-month")
        self.day = controls.day_slider(DAY, self.again, name="photo-day")
        self.hour = controls.hour_slider("Hour it was taken at", 14, self.again, name="photo-hour")
        years = year_buttons(self.go_to_year, name="photo-year")
        draw = controls.button("Draw the design into the photo", self.look, name="photo-draw", width="96%")
        self.controls = [self.year, years, self.month, self.day, self.hour, draw, self.job.widget]

    def refresh(self) -> None:
        """Put away a picture of a garden or photo that has changed."""
        if self._of and self._of != self._key():
            self._of, self.picture.value = (), controls.label("The garden has changed: draw the design in again.").value

    def go_to_year(self, year: int) -> None:
        """Look at year 1, 5, 10 or 15."""
        self.year.bar.value = float(year)

    @handler
    def again(self, _: object) -> None:
        """Draw again at another moment, once it was asked for."""
        if self._of:
            self._start()

    @handler
    def look(self) -> None:
        """Draw the design into the photo."""
        self._start()

    def _start(self) -> None:
        one = self.page.photo.needed()
        camera_of(one)  # says at once what is missing
        self._of = self._key()
        self.job.start("painting the design into the photo ...", self._paint, self._done)

    def _paint(self, tell: Tell, _: Stopped) -> str:
        tell(0.2, "painting the design into the photo ...")
        one, year, month = self.page.photo.needed(), int(self.year.bar.value), int(self.month.bar.value)
        made = in_photo(
            self.project,
            self.garden.layout,
            self.garden.catalogue,
            photo=one,
            picture=read_photo(self.page.photo.path(one)),
            when=Moment(year=year, month=month, day=int(self.day.bar.value), hour=float(self.hour.bar.value)),
        )
        return under_one_slider(made, f"{one.name}: {MONTHS[month - 1]}, year {year}")

    def _done(self, found: str) -> None:
        self.picture.value = found

    def _key(self) -> tuple[object, ...]:
        return self.project, self.page.photo.name
