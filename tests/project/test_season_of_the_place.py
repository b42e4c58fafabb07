"""The first picture of a garden is its own early summer: June in the north, December in the south."""

from collections.abc import Callable
from io import BytesIO

import attrs
import pytest
from pypdf import PdfReader

from gardenkit.drawing.scene import Scene
from gardenkit.handover import booklet, sheet
from gardenkit.handover.contents import contents
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import page
from gardenkit.project import Project

# Early summer by the calendar of each half of the earth: the month of the June or December solstice.
PLACES = {"fennel_street_corner": ("June", 6), "lantern_lane_strip": ("December", 12)}
FIRST = ("start", "layering", "arrange")


@pytest.fixture(scope="module", params=PLACES)
def session(request: pytest.FixtureRequest, changed_example: Callable[..., Session]) -> Session:
    return changed_example(request.param, "three plants, for speed", few_plants)


def few_plants(project: Project) -> Project:
    return attrs.evolve(project, planting=attrs.evolve(project.planting, plants=project.planting.plants[:3]))


def summer(session: Session) -> tuple[str, int]:
    return PLACES[session.folder.name]


@pytest.mark.parametrize("name", FIRST)
def test_a_page_opens_in_early_summer(session: Session, name: str) -> None:
    scene = page(session, name).scene()
    assert isinstance(scene, Scene)
    assert summer(session)[0] in scene.title


@pytest.mark.parametrize("name", ["seen", "seasons", "sun"])
def test_a_month_slider_stands_at_early_summer(session: Session, name: str) -> None:
    shown = page(session, name)
    bar = {"seen": "month", "seasons": "view.month", "sun": "plan.month_bar"}[name]
    for part in bar.split("."):
        shown = getattr(shown, part)
    assert shown.bar.value == summer(session)[1]


def test_the_papers_show_early_summer(session: Session) -> None:
    word, _ = summer(session)
    told = contents(session.garden, with_sun=False)
    text = booklet.page(told, edition="office")
    assert f"{word}, year 10 after planting" in text
    assert f'{word}, year 1"' in text
    plan = PdfReader(BytesIO(sheet.sheet(told.garden)))
    assert plan.metadata and plan.metadata.title
    assert f"Planting plan as grown, {word} of year 10" in plan.metadata.title
