"""The start: the whole garden in one picture, where it is kept, and how to begin one of your own."""

from pathlib import Path
from typing import Any

import ipywidgets as w

from gardenkit import storage
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.front import making
from gardenkit.notebook import controls, gardens
from gardenkit.notebook.notebooks import FOLDER, notebooks_of, where_they_are
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.pages.start_steps import Steps
from gardenkit.project.edits import brief as edits
from gardenkit.project.season import early_summer
from gardenkit.storage.files import trouble
from gardenkit.units import counted

SHOWN_YEAR = 5
PICTURE_PX = 640
PICTURE_WIDE = "clamp(300px, 46vw, 1400px)"  # of the window's width. House value.
SEEN = 0.85  # of the window's height that the plan takes at most. House value.
STEPS = (
    ("01_inspiration_and_style", "pictures, their colours, and the style as settings"),
    ("02_wants_list", "what the client asked for, checked as the design grows"),
    ("03_site_measurement", "tape survey, levels, sun, soil, climate, water"),
    ("04_structure", "paths, stones, beds, supports, sightlines"),
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
            "Or a folder for a new garden", "", lambda _: None, name="folder", hint=str(gardens.home() / "my garden")
        )
        begin = controls.button("Begin a new garden", self.begin, name="begin", width="96%")
        mine = [("choose ...", None), *((_called(p), p) for p in gardens.kept())]
        self.kept = controls.choice("Open one of your gardens", None, mine, self.open_kept, name="kept")
        self.path = controls.field("Or the garden in any folder", "", lambda _: None, name="path", hint="its folder")
        opening = controls.button("Open this garden", self.open_typed, name="open", width="96%")
        self.history = Steps(self)
        known = [("choose ...", None), *((f"{storage.load(p).project.name} (example)", p) for p in gardens.examples())]
        self.other = controls.choice("Or work on a copy of an example", None, known, self.copy_example)
        self.picture = w.HTML(layout=w.Layout(width=PICTURE_WIDE, max_width="100%"))
        self.steps = w.HTML()
        told = [self.name, self.client, self.designer, self.units, self.undo_row(), self.history.widget]
        panel = [*told, heading("Another garden"), self.kept, self.path, opening, self.folder, begin, self.other]
        seen = w.VBox([self.picture, self.steps], layout=w.Layout(width="100%"))
        self.widget = controls.page(self.message, panel, seen)

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
        self.history.refresh()
        self.picture.value = self._picture() if project.site.boundary else _EMPTY
        where = controls.label(f"Kept in {self.session.folder}; every change is saved as you make it.").value
        counts = controls.label(
            f"{counted(len(project.planting.plants), 'plant')}, {counted(len(project.structure.paths), 'path')}."
        ).value
        self.steps.value = where + self._own_notebooks() + counts + controls.table_html(("open next", "for"), STEPS)

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
        folder = gardens.at_home(typed)
        making.new(folder, units=self.project.units)
        self._turn_to(folder)

    @handler
    def copy_example(self, source: Path | None) -> None:
        """Work on the designer's own copy of an example."""
        if source is not None:
            self._turn_to(gardens.working_copy(source.name))

    @handler
    def open_kept(self, folder: Path | None) -> None:
        """Work on one of the gardens in the home folder."""
        if folder is not None:
            self._turn_to(folder)

    @handler
    def open_typed(self) -> None:
        """Work on the garden in the typed folder, wherever it lies."""
        typed = self.path.bar.value.strip()
        if not typed:
            raise GardenError(f"type the folder of a garden, such as {gardens.home() / 'my garden'}")
        folder = gardens.at_home(typed)
        if not storage.is_garden(folder):
            raise GardenError(
                f'there is no garden in "{folder}"; a garden is a folder that holds {storage.PROJECT_FILE}'
            )
        self._turn_to(folder)

    def _own_notebooks(self) -> str:
        """Say where the garden's own notebooks are, while this page runs in those of another garden."""
        said = where_they_are(self.session.folder)
        if not said or Path.cwd() == self.session.folder.resolve() / FOLDER:
            return ""
        return str(
            controls.label(f"This notebook belongs to another folder: what it shows is saved there; {said}").value
        )

    def _turn_to(self, folder: Path) -> None:
        """Work on another garden, and give it its own notebooks; where they cannot be written it opens all the same."""
        gardens.choose(folder)
        self.session.turn_to(folder)
        said = [f"now working on {folder}; run the first cell of any other notebook again to open it there"]
        try:
            said.append(notebooks_of(folder)[1])
        except OSError as error:
            said.append(f"it has no notebooks of its own yet: {trouble(error)}")
        self.refresh()  # says where they are now
        self.message.say(". ".join(text[0].upper() + text[1:] for text in said if text) + ".")

    def _picture(self) -> str:
        """Return the plan as large as the window has room for, all of it seen at once."""
        scene = self.scene()
        low_x, low_y, high_x, high_y = scene.bounds
        widest = 100 * SEEN * (high_x - low_x) / (high_y - low_y)
        return f'<div style="width:min(100%,{widest:.0f}vh)">{svg(scene)}</div>'

    def scene(self) -> Scene:
        """Return the whole garden as a picture."""
        month = early_summer(self.project.site)
        return garden_scene(
            self.project,
            self.garden.layout,
            self.garden.catalogue,
            year=SHOWN_YEAR,
            month=month,
            scale=screen_scale(self.project.site, width_px=PICTURE_PX, most_height_px=1.3 * PICTURE_PX),
            title=f"{self.project.name}: {MONTHS[month - 1]}, year {SHOWN_YEAR}",
        )

    def summary(self) -> str:
        """Return the garden in words."""
        project = self.project
        made_up = " (an invented demonstration garden)" if project.invented else ""
        whom = escaped(project.client) or "a client"
        return f"{project.name}{made_up} for {whom}: {counted(len(project.planting.plants), 'plant')}"


def _called(folder: Path) -> str:
    """Return a garden's name and folder; of one that cannot be read the folder alone."""
    try:
        return f"{storage.load(folder).project.name} ({folder.name})"
    except GardenError:
        return f"{folder.name} (cannot be read)"


_EMPTY = (
    '<div class="gk-label" style="padding:40px;border:1px dashed #777;max-width:520px">'
    "This garden is empty. Begin with the wants list, "
    "then measure the ground in 03_site_measurement: the plan appears here as soon as there is a boundary.</div>"
)
