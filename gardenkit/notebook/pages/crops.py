"""The crops of a garden on its page: what is grown on which bed in which year, and how many plants that takes."""

from typing import Any

import ipywidgets as w

from gardenkit import reading
from gardenkit.notebook import controls
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import columns
from gardenkit.notebook.record_editor import Column, Kind, RecordEditor, Values
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.crops import crop_kinds
from gardenkit.project import Project
from gardenkit.project.edits import planting as edits
from gardenkit.project.layout import layout
from gardenkit.structure.kinds import purpose_of
from gardenkit.units import show_length

MOST_YEARS = 21


def _listed() -> tuple[tuple[str, str], ...]:
    catalogue = load_catalogue()
    kinds = sorted((catalogue[name] for name in crop_kinds()), key=lambda s: (s.family, s.common))
    return tuple((f"{s.family}: {s.common}, {' or '.join(s.sun_range)} sun", s.botanical) for s in kinds)


def _for_crops(project: Project) -> list[tuple[str, str]]:
    return [(bed.name, bed.name) for bed in layout(project).beds if purpose_of(bed.purpose).crops]


def _year(text: str, what: str) -> int:
    return reading.whole(text or "1", what, low=1, high=MOST_YEARS, unit="years") - 1


def _share(text: str, what: str) -> float | None:
    return reading.between(text, what, low=1, high=100, unit="percent") / 100 if text.strip() else None


def _changed(project: Project, old: Any, values: Values) -> Project:
    given = {key: value for key, value in values.items() if value is not None}
    return edits.change_crop(project, project.planting.crops.index(old), **given)


CROP = Kind(
    word="crop",
    columns=(
        columns.text("species", "Crop, by family", options=_listed()),
        columns.text("bed", "Bed for vegetables", options=(("", ""),), offered=_for_crops, listed=True),
        Column(
            key="year",
            words="Year of the rotation",
            own=True,
            start=("1", "1"),
            read=lambda text, _, what: _year(text, what),
            show=lambda value, _: f"{value + 1}",
            listed=True,
        ),
        Column(
            key="share",
            words="Share of the bed, percent",
            own=True,
            hint=("what is left of it",) * 2,
            read=lambda text, _, what: _share(text, what),
            show=lambda value, _: f"{100 * value:g}",
        ),
    ),
    of=lambda project: project.planting.crops,
    add=lambda project, values: edits.add_crop(project, **values),
    change=_changed,
    remove=lambda project, old: edits.remove_crop(project, project.planting.crops.index(old)),
)


class Crops:
    """The list of crops with its form, the rotation, and the table of every year."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.editor = RecordEditor(page, (CROP,), name="which-crop")
        turn = controls.button(
            "Rotate over the beds", self.rotate, tip="each year on to the next bed", name="rotate-crops"
        )
        self.table = w.HTML()
        self.widget = w.VBox([self.editor.widget, turn], layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show the crops as they stand."""
        self.editor.show()
        units = self.page.project.units
        rows = [
            (
                f"year {line.year + 1}",
                line.bed,
                f"{line.words} ({line.family})",
                f"{line.plants}",
                f"{line.rows} rows, {show_length(line.between, units, small=True)} apart",
                f"{line.does} {line.begins:%d %b} to {line.ends:%d %b}",
                "after some years, then each year" if line.ready is None else f"from {line.ready[0]:%d %b}",
            )
            for line in self.page.garden.crops
        ]
        heads = ("", "bed", "crop", "plants", "rows", "put in", "ready")
        self.table.value = controls.table_html(heads, rows) if rows else ""

    def rotate(self) -> None:
        """Move the crops on from bed to bed over the years."""
        self.page.edit("rotate the crops over the beds", edits.rotate_crops)
