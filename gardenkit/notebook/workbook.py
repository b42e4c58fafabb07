"""What the notebooks call: open a garden, then show one page of it."""

import html
from pathlib import Path
from types import TracebackType
from typing import Any

from IPython.core.getipython import get_ipython
from IPython.display import HTML, display

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.notebook.board import load_bokeh
from gardenkit.notebook.pages.alternatives import AlternativesPage
from gardenkit.notebook.pages.arrange import ArrangePage
from gardenkit.notebook.pages.beds import BedsPage
from gardenkit.notebook.pages.care import CarePage
from gardenkit.notebook.pages.client import ClientPage
from gardenkit.notebook.pages.climate import ClimatePage
from gardenkit.notebook.pages.climbs import ClimbsPage
from gardenkit.notebook.pages.ground import GroundPage
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.palette import PalettePage
from gardenkit.notebook.pages.paths import PathsPage
from gardenkit.notebook.pages.plants import PlantsPage
from gardenkit.notebook.pages.seasons import SeasonsPage
from gardenkit.notebook.pages.seen import SeenPage
from gardenkit.notebook.pages.soil import SoilPage
from gardenkit.notebook.pages.start import StartPage
from gardenkit.notebook.pages.structure import StructurePage
from gardenkit.notebook.pages.style import StylePage
from gardenkit.notebook.pages.suits import SuitsPage
from gardenkit.notebook.pages.sun import SunPage
from gardenkit.notebook.pages.supports import SupportsPage
from gardenkit.notebook.pages.survey import SurveyPage
from gardenkit.notebook.pages.traverse import TraversePage
from gardenkit.notebook.pages.wall_photo import WallPhotoPage
from gardenkit.notebook.pages.wants import WantsPage
from gardenkit.notebook.session import Session
from gardenkit.notebook.session import open_garden as _open


def open_garden(folder: str | Path | None = None) -> Session:
    """Open a garden and make the page ready for live plans (works with no network)."""
    _speak_plainly()
    session = _open(folder)
    load_bokeh()
    return session


def start_page(garden: Session) -> StartPage:
    """Return the page of the whole garden, and of beginning another."""
    return StartPage(garden)


def style_page(garden: Session) -> StylePage:
    """Return the page of pictures and style."""
    return StylePage(garden)


def wants_page(garden: Session) -> WantsPage:
    """Return the page of the wants list."""
    return WantsPage(garden)


def ground_page(garden: Session) -> GroundPage:
    """Return the page of the place, the boundary and what stands on the ground."""
    return GroundPage(garden)


def survey_page(garden: Session) -> SurveyPage:
    """Return the page of the tape survey and ground heights."""
    return SurveyPage(garden)


def wall_photo_page(garden: Session) -> WallPhotoPage:
    """Return the page of windows and doors marked on a photo of a wall."""
    return WallPhotoPage(garden)


def sun_page(garden: Session) -> SunPage:
    """Return the page of sun and shade."""
    return SunPage(garden)


def soil_page(garden: Session) -> SoilPage:
    """Return the page of the soil."""
    return SoilPage(garden)


def climate_page(garden: Session) -> ClimatePage:
    """Return the page of climate and water."""
    return ClimatePage(garden)


def structure_page(garden: Session) -> StructurePage:
    """Return the page of paths, stones and beds."""
    return StructurePage(garden)


def paths_page(garden: Session) -> PathsPage:
    """Return the page of adding paths, ways to wander, cut lists."""
    return PathsPage(garden)


def beds_page(garden: Session) -> BedsPage:
    """Return the page of beds, lawns and patios."""
    return BedsPage(garden)


def supports_page(garden: Session) -> SupportsPage:
    """Return the page of supports and walls."""
    return SupportsPage(garden)


def climbs_page(garden: Session) -> ClimbsPage:
    """Return the page of steps and ramps."""
    return ClimbsPage(garden)


def seen_page(garden: Session) -> SeenPage:
    """Return the page of what is seen and hidden."""
    return SeenPage(garden)


def alternatives_page(garden: Session) -> AlternativesPage:
    """Return the page of other structures for the same garden."""
    return AlternativesPage(garden)


def layering_page(garden: Session) -> LayeringPage:
    """Return the page of plants in layers."""
    return LayeringPage(garden)


def suits_page(garden: Session) -> SuitsPage:
    """Return the page of which plants suit a spot."""
    return SuitsPage(garden)


def palette_page(garden: Session) -> PalettePage:
    """Return the page of proposing a palette."""
    return PalettePage(garden)


def arrange_page(garden: Session) -> ArrangePage:
    """Return the page of arranging the palette in the beds."""
    return ArrangePage(garden)


def seasons_page(garden: Session) -> SeasonsPage:
    """Return the page of views through the year and the years."""
    return SeasonsPage(garden)


def plants_page(garden: Session) -> PlantsPage:
    """Return the page of the plant catalogue."""
    return PlantsPage(garden)


def care_page(garden: Session) -> CarePage:
    """Return the page of quantities, costs, water and care."""
    return CarePage(garden)


def client_page(garden: Session) -> ClientPage:
    """Return the page of the documents for the client."""
    return ClientPage(garden)


def traverse_page(garden: Session) -> TraversePage:
    """Return the page of a traverse walked round the plot."""
    return TraversePage(garden)


def is_untouched(garden: Session, example: str) -> bool:
    """Return whether the open garden still is the named example as it came, so that the check cells may ask for its
    figures.
    """
    return garden.project == storage.load(gardens.example(example)).project


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
