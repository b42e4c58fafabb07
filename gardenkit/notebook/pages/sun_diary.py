"""The sun diary: what was seen at a spot under a clear sky, set beside what is worked out for it."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit import reading
from gardenkit.notebook import controls
from gardenkit.notebook.part import Part
from gardenkit.notebook.record_editor import Column, Kind, RecordEditor
from gardenkit.project import Project
from gardenkit.project.edits import site as edits
from gardenkit.site.sun_diary import Observation

if TYPE_CHECKING:
    from gardenkit.notebook.pages.sun import SunPage

SUNNY = (("sun", "sun"), ("shade", "shade"))


def _clock(key: str, words: str, called: str, *, hint: str) -> Column:
    """Return the field of a time of day."""
    return Column(
        key=key,
        words=words,
        hint=(hint, hint),
        read=lambda text, *_: reading.time(text, called),
        show=lambda value, _: f"{value:%H:%M}",
        listed=True,
        own=True,
    )


COLUMNS = (
    Column(
        key="date",
        words="Date",
        hint=("2025-06-14", "2025-06-14"),
        read=lambda text, *_: reading.date(text),
        show=lambda value, _: value.isoformat(),
    ),
    _clock("start", "From, clock time", "from", hint="10:30"),
    _clock("end", "To", "to", hint="12:00"),
    Column(
        key="sunny",
        words="The spot lay mostly in",
        options=SUNNY,
        read=lambda text, *_: text == "sun",
        show=lambda value, _: "sun" if value else "shade",
        listed=True,
    ),
    Column(
        key="note",
        words="Note",
        hint=("under a clear sky", "under a clear sky"),
        read=lambda text, *_: text.strip(),
        show=lambda value, _: str(value),
        own=True,
    ),
)


class DiaryPart(Part):
    """Entries at the spot on the plan left; the table of all of them."""

    page: "SunPage"

    def build(self) -> None:
        """Make the widgets, once."""
        entry = Kind(
            word="entry",
            columns=COLUMNS,
            of=lambda project: project.site.diary,
            add=lambda project, values: edits.add_seen(project, at=self.page.plan.spot, **values),
            change=lambda project, old, values: edits.change_seen(project, _index(project, old), **values),
            remove=lambda project, old: edits.remove_observation(project, _index(project, old)),
        )
        self.editor = RecordEditor(self.page, (entry,), name="diary", chose=self._to_its_spot)
        self.table = w.HTML()
        said = controls.label("What you saw at the spot, under a clear sky:")
        self.widget = w.VBox([said, self.editor.widget], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show every entry beside what is worked out."""
        self.editor.show()
        report = self.garden.diary
        if report is None:
            self.table.value = ""
            return
        rows = [
            (
                _words(line.observation),
                f"{line.light:.0%} of direct light",
                "✔ agrees" if line.agrees else "✘ differs",
                line.shaded_by,
                line.observation.note,
            )
            for line in report.lines
        ]
        heads = (f"sun diary: {report.agreement:.0%} agree", "worked out", "", "most in the way", "note")
        self.table.value = controls.table_html(heads, rows)

    def _to_its_spot(self) -> None:
        if self.editor.chosen is not None:
            self.page.plan.set_spot(self.editor.chosen.at)
            self.page.looked()


def _index(project: Project, entry: Observation) -> int:
    """Return which line of the diary an entry is; past the end when it is gone, which the edit refuses."""
    diary = project.site.diary
    return diary.index(entry) if entry in diary else len(diary)


def _words(entry: Observation) -> str:
    return f"{entry.date:%d %b %Y} {entry.start:%H:%M}-{entry.end:%H:%M}, {'sun' if entry.sunny else 'shade'}"
