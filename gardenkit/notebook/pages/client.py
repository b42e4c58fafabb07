"""The client copy: one HTML file that works with no network, a plan to scale on paper, and what they hold."""

from pathlib import Path

import ipywidgets as w

from gardenkit.handover import booklet, bundle, drawing_set, dxf, geojson, setting_out, sheet
from gardenkit.handover.paper import Issue
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page, handler

FILE, SHEET = "client_copy.html", "planting_plan.pdf"
SETTING_OUT, PLACES = "setting_out.pdf", "setting_out.csv"
DRAWINGS, CAD, MAP = "drawing_set.pdf", "plan.dxf", "plan.geojson"


class ClientPage(Page):
    """A button for each document, and how large each came out."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.written: dict[str, int] = {}
        self.revision = "A"
        revision = controls.field("revision of the drawings", self.revision, self.revise, name="revision")
        make = controls.button("Write the client copy", self.write, name="client-copy", width="96%")
        paper = controls.button("Write the plan to scale (PDF)", self.write_sheet, name="sheet", width="96%")
        out = controls.button(
            "Write the setting-out sheet (PDF and CSV)", self.write_setting_out, name="setting-out", width="96%"
        )
        drawings = controls.button("Write the drawing set (PDF)", self.write_drawings, name="drawing-set", width="96%")
        cad = controls.button(
            "Write the plan for CAD and maps (DXF and GeoJSON)", self.write_cad, name="cad", width="96%"
        )
        every = controls.button("Write all documents into one folder", self.write_all, name="bundle", width="96%")
        self.result, self.advice = w.HTML(), AdviceList(self)
        hint = controls.label(
            "One HTML file: opens in any browser, with no network, month and year sliders still live. Send it by mail."
        )
        self.widget = controls.page(
            self.message, [hint, make, revision, paper, out, drawings, cad, every], self.result, [self.advice.widget]
        )

    def refresh(self) -> None:
        """Show which documents are there and what is still open in the design."""
        rows = [
            (name, f"{path.stat().st_size / 1e6:.2f} MB", str(path)) if path.exists() else (name, "not written yet", "")
            for name in (FILE, SHEET, SETTING_OUT, PLACES, DRAWINGS, CAD, MAP)
            for path in [self.session.folder / name]
        ]
        self.result.value = controls.table_html(("document", "size", "where"), rows)
        self.advice.show()

    def write(self) -> None:
        """Write the client copy into the garden folder."""
        self.message.say("working out the garden ...")
        if self.attempt(self._write):
            self.attempt(self.refresh)

    def write_sheet(self) -> None:
        """Write the plan to scale into the garden folder."""
        self.message.say("drawing the sheet ...")
        if self.attempt(self._write_sheet):
            self.attempt(self.refresh)

    @handler
    def revise(self, text: str) -> None:
        """Take the revision that the title blocks of the next drawings carry."""
        self.revision = Issue(revision=text.strip()).revision
        self.message.say(f"drawings now carry revision {self.revision}")

    @handler
    def write_setting_out(self) -> None:
        """Write the setting-out sheet and its table of places into the garden folder."""
        self.message.say("measuring the plan out ...")
        folder = self.session.folder
        self.written[SETTING_OUT] = setting_out.write(
            self.garden, folder / SETTING_OUT, issue=Issue(revision=self.revision)
        )
        places = setting_out.write_csv(self.garden, folder / PLACES)
        self.written[PLACES] = (folder / PLACES).stat().st_size
        self.refresh()
        self.message.say(f"written: {folder / SETTING_OUT}, and its {places} places as {PLACES}")

    @handler
    def write_drawings(self) -> None:
        """Write the drawing set into the garden folder: one PDF with every sheet a contractor builds from."""
        self.message.say("drawing the set ...")
        target = self.session.folder / DRAWINGS
        self.written[DRAWINGS] = drawing_set.write(self.garden, target, issue=Issue(revision=self.revision))
        self.refresh()
        self.message.say(f"written: {target}")

    @handler
    def write_cad(self) -> None:
        """Write the plan as DXF at real size, and as GeoJSON on the map, into the garden folder."""
        folder = self.session.folder
        self.written[CAD] = dxf.write(self.garden, folder / CAD)
        self.refresh()
        self.written[MAP] = geojson.write(self.garden, folder / MAP)
        self.refresh()
        self.message.say(f"written: {folder / CAD} and {MAP}")

    @handler
    def write_all(self) -> None:
        """Write every document, with a read-me, into one folder of the garden."""
        self.message.say("writing all documents ...")
        folder = self.session.folder / bundle.FOLDER
        written = bundle.write(self.garden, folder, revision=self.revision)
        self.refresh()
        self.message.say(f"written: {len(written)} documents in {folder}; {bundle.READ_ME} says what each is for")

    @property
    def target(self) -> Path:
        """Where the client copy is written."""
        return self.session.folder / FILE

    def _write(self) -> None:
        self.written[FILE] = booklet.write(self.garden, self.target)
        self.message.say(f"written: {self.target}")

    def _write_sheet(self) -> None:
        path = self.session.folder / SHEET
        self.written[SHEET] = sheet.write(self.garden, path, issue=Issue(revision=self.revision))
        self.message.say(f"written: {path}")

    def summary(self) -> str:
        """Return what was written."""
        done = ", ".join(f"{name} ({size / 1e6:.1f} MB)" for name, size in self.written.items())
        return f"Client copy of {self.project.name}: {done or 'not written yet'}"
