"""The part of the paths page about steps: the flights in the chosen path, and what each comes to on the ground."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import attrs
import ipywidgets as w

from gardenkit.notebook import controls
from gardenkit.notebook.pages import columns
from gardenkit.notebook.pages import paths_shown as shown
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.part import Part
from gardenkit.notebook.record_editor import Column, Kind, RecordEditor, Values
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.layout import layout
from gardenkit.structure.structure import Flight
from gardenkit.units import System, show_length

if TYPE_CHECKING:
    from gardenkit.notebook.pages.paths import PathsPage


@attrs.frozen(kw_only=True)
class FlightTyped:
    """A flight as it stands in the form: where it begins and ends along the path, and its figures, as they are typed;
    ``index`` is its place among the path's flights, 0 first.
    """

    start: str
    end: str
    most_riser: str
    least_tread: str
    handrail: bool
    index: int


class Flights(Part):
    """The flights of steps in the chosen path: where each begins and ends, its risers and treads, its handrail."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.editor = RecordEditor(self.page, (self._kind(),), name="flight")
        self.of = ""  # the path whose flights are listed
        self.table = w.HTML()
        words = "Landings at top and bottom are part of a flight; its rise is that of the ground below."
        self.controls = [heading("Flights of steps"), controls.label(words), self.editor.widget]

    def refresh(self) -> None:
        """List the flights of the chosen path, and what they come to."""
        if self.of != self.page.path_name:
            self.of, self.editor.chosen = self.page.path_name, None
        self.editor.show()
        self.table.value = shown.flight_table(self.garden.layout.flights.get(self.of, ()), self.project.units)

    def _kind(self) -> Kind:
        def name() -> str:
            return self.page.path_name

        return Kind(
            word="flight",
            columns=COLUMNS,
            of=lambda project: _typed(project, name()),
            add=lambda project, values: edits.add_flight(project, name(), **values),
            change=lambda project, old, values: edits.change_flight(project, name(), old.index, **_new(values)),
            remove=lambda project, old: edits.remove_flight(project, name(), old.index),
        )


def _typed(project: Project, name: str) -> tuple[FlightTyped, ...]:
    units = project.units
    return tuple(
        FlightTyped(
            start=show_length(one.start, units),
            end=show_length(one.end, units),
            most_riser=show_length(one.flight.most_riser, units, small=True),
            least_tread=show_length(one.flight.least_tread, units, small=True),
            handrail=one.flight.handrail,
            index=one.number - 1,
        )
        for one in layout(project).flights.get(name, ())
    )


def _new(values: Values) -> Mapping[str, Any]:
    """Return what was typed anew: what still stands as it was shown is no number, and stays exactly as it is."""
    return {key: value for key, value in values.items() if not isinstance(value, str)}


def _as_shown(value: str, _: System) -> str:
    return value


def _length(key: str, words: str, *, hint: tuple[str, str] = ("", ""), start: tuple[str, str] = ("", "")) -> Column:
    own = not any(start)
    return Column(
        key=key,
        words=words,
        read=columns.above if key != "start" else columns.level,
        show=_as_shown,
        hint=hint,
        start=start,
        own=own,
        listed=key == "end",
    )


_USUAL = Flight(start=0.0, end=1.0)


def _start(metres: float) -> tuple[str, str]:
    return show_length(metres, "imperial", small=True), show_length(metres, "metric", small=True)


COLUMNS = (
    _length("start", "From, along the path", hint=("16'", "5")),
    _length("end", "To, along the path", hint=("26' 6\"", "8")),
    _length("most_riser", "Risers at most", start=_start(_USUAL.most_riser)),
    _length("least_tread", "Treads at least", start=_start(_USUAL.least_tread)),
    columns.either("handrail", "Handrail"),
)
