"""The start: the whole garden in one picture, where it is kept, and how to begin one of your own."""

from pathlib import Path
from typing import Any

import ipywidgets as w

from gardenkit import storage
from gardenkit.brief import wants
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.notebook import controls, gardens
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.project.edits import brief as edits

SHOWN_YEAR, SHOWN_MONTH = 5, 6
PICTURE_PX = 640
STEPS = (
    ("01_inspiration_and_style", "pictures, their colours, and the style as settings"),
    ("02_wants_list", "what the client asked for, checked as the design grows"),
    ("03_site_measurement", "tape survey, levels, sun, soil, climate, water"),
    ("04_structure", "paths, stones, beds, supports, what is seen"),
    ("05_layering", "plants in layers, by month and by year"),
    ("06_quantities_and_care", "what to buy, what it costs, what to do when"),
    ("07_client_copy", "one file to hand to the client"),
)


class StartPage(Page):
    """The picture right; left the garden's particulars, and fields to begin or choose another garden."""

    def build(self) -> None:
        """Make the widgets, once."""
        project = self.project
        self.name = controls.field("Garden", project.name, lambda v: self.tell(name=v), name="garden")
        self.client = controls.field("Client", project.client, lambda v: self.tell(client=v))
        self.designer = controls.field("Designer", project.designer, lambda v: self.tell(designer=v))
        self.units = controls.choice("Units", project.units, ["imperial", "metric"], lambda v: self.tell(units=v))
        self.folder = controls.field(
            "Folder for a new garden", "", lambda _: None, name="folder", hint=str(gardens.home() / "my garden")
        )
        begin = controls.button("Begin a new garden", self.begin, name="begin", width="96%")
        known = [("choose ...", None), *((f"{storage.load(p).project.name} (example)", p) for p in gardens.examples())]
        self.other = controls.choice("Or work on a copy of an example", None, known, self.copy_example)
        self.picture, self.steps = w.HTML(), w.HTML()
        panel = [self.name, self.client, self.designer, self.units, self.undo_row(), self.folder, begin, self.other]
        self.widget = controls.page(self.message, panel, self.picture, [self.steps])

    def refresh(self) -> None:
        """Show the garden as it stands."""
        project = self.project
        for box, value in (
            (self.name, project.name),
            (self.client, project.client),
            (self.designer, project.designer),
            (self.units, project.units),
        ):
            box.show(value)
        held = f'<div style="max-width:{PICTURE_PX}px">{svg(self.scene())}</div>' if project.site.boundary else _EMPTY
        self.picture.value = held
        where = controls.label(f"Kept in {self.session.folder}; every change is saved as you make it.").value
        counts = controls.label(
            f"{len(project.planting.plants)} plants, {len(project.structure.paths)} paths, "
            f"{wants.told(self.garden.wants)}."
        ).value
        self.steps.value = where + counts + controls.table_html(("open next", "for"), STEPS)

    def tell(self, **changes: Any) -> None:
        """Change the garden's name, client, designer or units."""
        key = next(iter(changes))
        self.edit(key, lambda p: edits.set_cover(p, **changes))

    @handler
    def begin(self) -> None:
        """Make a new empty garden and let every notebook work on it from now on."""
        typed = self.folder.bar.value.strip()
        if not typed:
            raise GardenError("type a folder for the new garden, such as " + str(gardens.home() / "my garden"))
        folder = Path(typed).expanduser()
        if not folder.is_absolute():
            folder = gardens.home() / folder
        gardens.new_garden(folder, units=self.project.units)
        self._turn_to(folder)

    def copy_example(self, source: Path | None) -> None:
        """Work on the designer's own copy of an example."""
        if source is not None:
            self.attempt(lambda: self._turn_to(gardens.working_copy(source.name)))

    def _turn_to(self, folder: Path) -> None:
        gardens.choose(folder)
        self.session.turn_to(folder)
        self.message.say(f"now working on {folder}; run the first cell of any other notebook again to open it there")

    def scene(self) -> Scene:
        """Return the whole garden as a picture."""
        return garden_scene(
            self.project,
            self.garden.layout,
            self.garden.catalogue,
            year=SHOWN_YEAR,
            month=SHOWN_MONTH,
            scale=screen_scale(self.project.site, width_px=PICTURE_PX, most_height_px=1.3 * PICTURE_PX),
            title=f"{self.project.name}: {MONTHS[SHOWN_MONTH - 1]}, year {SHOWN_YEAR}",
        )

    def summary(self) -> str:
        """Return the garden in words."""
        project = self.project
        made_up = " (an invented demonstration garden)" if project.invented else ""
        whom = escaped(project.client) or "a client"
        return f"{project.name}{made_up} for {whom}: {len(project.planting.plants)} plants"


_EMPTY = (
    '<div class="gk-label" style="padding:40px;border:1px dashed #777;max-width:520px">'
    "This garden is empty. Begin with the wants list, "
    "then measure the ground in 03_site_measurement: the plan appears here as soon as there is a boundary.</div>"
)
