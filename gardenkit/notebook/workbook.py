"""What the notebooks call: open a garden, then show one page of it, or several as the steps of a desk."""

import gc
import html
from collections.abc import Iterable
from functools import partial
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import Any

from IPython.core.getipython import get_ipython
from IPython.display import HTML, display

from gardenkit.findings import GardenError, nearest
from gardenkit.notebook.board import tie_labels
from gardenkit.notebook.desk import Desk
from gardenkit.notebook.head import Head
from gardenkit.notebook.one_plan import OnePlan
from gardenkit.notebook.session import Session
from gardenkit.notebook.session import open_garden as _open
from gardenkit.notebook.steps import STEPS

# Every page of the workbook by the name the notebooks call it by: the class in ``notebook.pages.NAME``.
PAGES = {
    "start": "StartPage",  # the whole garden, and beginning another
    "style": "StylePage",  # pictures and style
    "wants": "WantsPage",  # the wants list
    "areas": "AreasPage",  # areas of the property
    "ground": "GroundPage",  # the place, the boundary and what stands on the ground
    "survey": "SurveyPage",  # the tape survey and ground heights
    "traverse": "TraversePage",  # a traverse walked round the plot
    "wall_photo": "WallPhotoPage",  # windows and doors marked on a photo of a wall
    "sun": "SunPage",  # sun and shade
    "soil": "SoilPage",  # the soil
    "climate": "ClimatePage",  # climate and water
    "structure": "StructurePage",  # paths, stones and beds, live
    "paths": "PathsPage",  # adding paths, route options, cut lists
    "beds": "BedsPage",  # beds, lawns and patios
    "supports": "SupportsPage",  # supports and walls
    "levels": "LevelsPage",  # how the ground will lie, cut and fill
    "notes": "NotesPage",  # notes, dimensions, services, setbacks
    "climbs": "ClimbsPage",  # steps and ramps
    "seen": "SeenPage",  # sightlines: what is seen and hidden
    "alternatives": "AlternativesPage",  # other structures for the same garden
    "layering": "LayeringPage",  # plants in layers
    "suits": "SuitsPage",  # which plants suit a spot
    "palette": "PalettePage",  # proposing a palette
    "arrange": "ArrangePage",  # the palette composed in the beds: proposals side by side
    "seasons": "SeasonsPage",  # views through the year and the years
    "own_photo": "OwnPhotoPage",  # the design in a photo of the site
    "plants": "PlantsPage",  # the plant catalogue
    "care": "CarePage",  # quantities, costs, water and care
    "journal": "JournalPage",  # the journal of the living garden
    "client": "ClientPage",  # the documents for the client
}


# Objects made before the youngest are searched, and how many such searches before older ones are. House value, tried:
# the findings of 2,000 plants take a quarter less time than by Python's own 700, 10, 10.
SEARCHES = (20_000, 20, 20)


def open_garden(folder: str | Path | None = None) -> Session:
    """Open a garden and make the page ready for it."""
    _speak_plainly()
    session = _open(folder)
    tie_labels()
    _set_aside()
    session.head = Head(session)
    return session


def page(garden: Session, name: str) -> Any:
    """Return one page of a garden by its name in ``PAGES``; raises GardenError naming the nearest known one."""
    return _kind(name)(garden)


def desk(garden: Session, *names: str) -> Desk:
    """Return several pages as the steps of one desk with one live plan; raises GardenError for an unknown name."""
    for name in names:
        _named(name, STEPS)
    return Desk(garden, {name: partial(_step, name) for name in names})


def _step(name: str, garden: Session, on: OnePlan) -> Any:
    return _kind(name)(garden, on=on)


def _kind(name: str) -> Any:
    _named(name, PAGES)
    return getattr(import_module(f"gardenkit.notebook.pages.{name}"), PAGES[name])


def _named(name: str, known: Iterable[str]) -> None:
    if name not in known:
        raise GardenError(f'the workbook has no page "{name}"{nearest(name, known)}; it has: {", ".join(known)}')


def _set_aside() -> None:
    """Let the search for unused objects in a kernel pass over the libraries and the garden as it was opened, and come
    less often: what stays as long as the notebook does was looked through again a dozen times in one edit.
    """
    if get_ipython() is not None:
        gc.collect()
        gc.freeze()
        gc.set_threshold(*SEARCHES)


def _speak_plainly() -> None:
    """Let a problem in a cell be shown as its one sentence instead of a traceback."""
    shell = get_ipython()
    if shell is not None:
        shell.set_custom_exc((GardenError,), _say)


def _say(
    shell: Any, _: type[BaseException], error: BaseException, traceback: TracebackType, tb_offset: int | None = None
) -> None:
    del shell, traceback, tb_offset
    display(
        HTML(
            f'<div role="alert" style="padding:8px 12px;border-left:4px solid #9b2915">{html.escape(str(error))}</div>'
        )
    )
