"""The client copy: one HTML file that works with no network, a plan to scale on paper, and what they hold."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import ipywidgets as w

from gardenkit.garden import Garden
from gardenkit.handover import (
    booklet,
    bundle,
    drawing_set,
    dxf,
    gardeners_sheet,
    geojson,
    plan_files,
    setting_out,
    sheet,
)
from gardenkit.handover.paper import Issue
from gardenkit.notebook import controls, rendered
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.jobs import Job
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages.client_issue import IssuePart, WarningsPart
from gardenkit.progress import Tell, until

FILE, OFFICE, SHEET = "client_copy.html", "office_copy.html", "planting_plan.pdf"
SETTING_OUT, PLACES = "setting_out.pdf", "setting_out.csv"
CARE = "gardeners_sheet.pdf"
DRAWINGS, CAD, MAP = "drawing_set.pdf", "plan.dxf", "plan.geojson"
PICTURE, PLANTS = "plan.svg", "plants.csv"
# A document on paper: the words of its button, and what writes it. A row is all that a new one needs here.
ON_PAPER: dict[str, tuple[str, Callable[..., int]]] = {
    SHEET: ("Write the plan to scale (PDF)", sheet.write),
    CARE: ("Write the gardener's sheet (PDF)", gardeners_sheet.write),
    DRAWINGS: ("Write the drawing set (PDF)", drawing_set.write),
}


class ClientPage(Page):
    """A button for each document, a bar and a Stop button while one is written, and how large each came out."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.written: dict[str, int] = {}
        self.issue, self.warnings = IssuePart(self), WarningsPart(self)
        self.result, self.advice = w.HTML(), AdviceList(self)
        self.job = Job(self, can_stop=True, name="documents", tip="stop writing; what was there before stays as it was")
        self.widget = controls.page(
            self.message,
            [
                *self._buttons(),
                self.job.widget,
                self.issue.widget,
            ],
            w.VBox([self.result, self.warnings.widget], layout=w.Layout(width="100%")),
            [self.advice.widget],
        )

    def _buttons(self) -> list[w.Widget]:
        """Return a button for each document, and for all of them at once, below what the editions are."""
        hint = controls.label(
            "One HTML file: opens in any browser, with no network, month and year sliders still live. The client "
            "edition tells the design, the office edition every figure, warning and source."
        )
        make = controls.button("Write the client edition", self.write, name="client-copy", width="96%")
        office = controls.button("Write the office edition", self.write_office, name="office-copy", width="96%")
        paper = [
            controls.button(words, partial(self.write_on_paper, name), name=Path(name).stem, width="96%")
            for name, (words, _) in ON_PAPER.items()
        ]
        out = controls.button(
            "Write the setting-out sheet",
            self.write_setting_out,
            tip="as PDF, its places as CSV too",
            name="setting-out",
            width="96%",
        )
        cad = controls.button("Write plan: DXF, SVG, GeoJSON", self.write_cad, name="cad", width="96%")
        filmed = controls.button(
            "Write the client edition with films",
            self.write_with_films,
            tip="the garden over fifteen years and a walk along the first path; takes a minute or more",
            name="client-films",
            width="96%",
        )
        every = controls.button(
            "Write all documents", self.write_all, tip="into one folder", name="bundle", width="96%"
        )
        books = controls.button(
            "Write all, and the notebooks",
            self.write_with_notebooks,
            tip="the same folder, with every notebook as a page to read; takes minutes",
            name="bundle-notebooks",
            width="96%",
        )
        return [hint, make, filmed, office, *paper, out, cad, every, books]

    def refresh(self) -> None:
        """Show which documents are there and what is still open in the design."""
        rows = [
            (name, f"{path.stat().st_size / 1e6:.2f} MB" if path.exists() else "not written yet")
            for name in (FILE, OFFICE, *ON_PAPER, SETTING_OUT, PLACES, CAD, PICTURE, PLANTS, MAP)
            for path in [self.session.folder / name]
        ]
        self.result.value = controls.table_html(("document in the garden folder", "size"), rows)
        self.issue.refresh()
        self.warnings.refresh()
        self.advice.show()

    @handler
    def write(self) -> None:
        """Write the client copy into the garden folder; while warnings are open, say that it waits for them."""
        if self._waits():
            return
        target = self.target
        self._start(FILE, lambda garden, tell: {FILE: booklet.write(garden, target, tell=tell)}, f"written: {target}")

    @handler
    def write_with_films(self) -> None:
        """Write the client copy with films of the years, of one year's round and a walk; it takes a minute or more."""
        if self._waits():
            return
        target = self.target
        self._start(
            FILE,
            lambda garden, tell: {FILE: booklet.write(garden, target, with_films=True, tell=tell)},
            f"written with its films: {target}",
        )

    def _waits(self) -> bool:
        """Return whether the client edition waits for open warnings, as in every design that goes on; says so."""
        if many := len(self.garden.open_warnings):
            self.message.say(booklet.waiting(many, ", listed on this page"))
        return bool(many)

    @handler
    def write_office(self) -> None:
        """Write the office edition into the garden folder."""
        target = self.session.folder / OFFICE
        self._start(
            OFFICE,
            lambda garden, tell: {OFFICE: booklet.write(garden, target, edition="office", tell=tell)},
            f"written: {target}",
        )

    @handler
    def write_on_paper(self, name: str) -> None:
        """Write a document on paper into the garden folder."""
        target, issue, write = self.session.folder / name, Issue.of(self.project), ON_PAPER[name][1]
        self._start(name, lambda garden, _: {name: write(garden, target, issue=issue)}, f"written: {target}")

    @handler
    def write_setting_out(self) -> None:
        """Write the setting-out sheet and its table of places into the garden folder."""
        folder, issue = self.session.folder, Issue.of(self.project)

        def work(garden: Garden, tell: Tell) -> dict[str, int]:
            size = setting_out.write(garden, folder / SETTING_OUT, issue=issue)
            tell(0.9, "writing the table of places ...")
            setting_out.write_csv(garden, folder / PLACES)
            return {SETTING_OUT: size, PLACES: (folder / PLACES).stat().st_size}

        self._start(SETTING_OUT, work, f"written: {folder / SETTING_OUT}, and its places as {PLACES}")

    @handler
    def write_cad(self) -> None:
        """Write the plan as DXF at real size, as SVG to scale, with the plants' places as a table, and as GeoJSON on
        the map, into the garden folder.
        """
        folder = self.session.folder

        def work(garden: Garden, tell: Tell) -> dict[str, int]:
            written = {CAD: dxf.write(garden, folder / CAD), PICTURE: plan_files.write_svg(garden, folder / PICTURE)}
            written[PLANTS] = plan_files.write_plants(garden, folder / PLANTS)
            self.written.update(written)  # stands, also when the place for the map is not known yet
            tell(0.5, "writing the map ...")
            return written | {MAP: geojson.write(garden, folder / MAP)}

        self._start(CAD, work, f"written: {folder / CAD}, {PICTURE}, {PLANTS} and {MAP}")

    @handler
    def write_all(self) -> None:
        """Write every document, with a read-me, into one folder of the garden."""
        self._bundle()

    @handler
    def write_with_notebooks(self) -> None:
        """Write every document and every notebook, run on a copy of the garden, into one folder; it takes minutes."""
        self._bundle(rendered.for_bundle(self.session.folder))

    def _bundle(self, *also: bundle.Document) -> None:
        folder = self.session.folder / bundle.FOLDER

        def work(garden: Garden, tell: Tell) -> dict[str, int]:
            written = bundle.write(garden, folder, also=also, tell=tell)
            return {path.name: path.stat().st_size for path in written if path.is_file()}

        self._start(
            "all documents", work, f"written: all documents in {folder}; {bundle.READ_ME} says what each is for"
        )

    @property
    def target(self) -> Path:
        """Where the client copy is written."""
        return self.session.folder / FILE

    def _start(self, what: str, work: Callable[[Garden, Tell], dict[str, int]], said: str) -> None:
        """Do the work beside the page, with a bar and a Stop button; ``work`` returns how many bytes a document has."""
        garden = self.garden
        self.message.say("")

        def done(written: dict[str, int]) -> None:
            self.written |= written
            self.refresh()
            self.message.say(said)

        self.job.start(
            f"writing {what} ...",
            lambda tell, stopped: work(garden, until(stopped, tell, what=what)),
            done,
            failed=self.refresh,
        )

    def summary(self) -> str:
        """Return what was written."""
        done = ", ".join(f"{name} ({size / 1e6:.1f} MB)" for name, size in self.written.items())
        return f"Client copy of {self.project.name}: {done or 'not written yet'}"
