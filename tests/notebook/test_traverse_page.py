"""The traverse page closes the textbook loop and makes it the boundary; what cannot be read is named by its course."""

from pathlib import Path

import pytest

from gardenkit import storage
from gardenkit.geometry import plane
from gardenkit.notebook.pages.traverse import TraversePage
from gardenkit.notebook.session import Session
from gardenkit.project import Project

# A textbook exercise (site.md E3): a loop of four courses in feet.
LOOP = "80.40; N 76 E\n46.30; S 36 E\n72.80; S 61 W\n68.00; N 38 W"


@pytest.fixture
def page(tmp_path: Path) -> TraversePage:
    storage.create(tmp_path / "plot", Project(name="plot"))
    return TraversePage(Session(tmp_path / "plot"))


def test_the_textbook_loop_closes_and_becomes_the_boundary(page: TraversePage) -> None:
    page.text.value = LOOP
    page.work_out()
    assert page.adjusted is not None
    assert page.adjusted.misclosure.linear / 0.3048 == pytest.approx(0.421, abs=0.001)  # unrounded, printed 0.422
    assert "1 : 635" in page.results.value  # unrounded, printed 1:634
    page.use()
    area = plane.area(plane.region(page.project.site.boundary)) / 0.3048**2
    assert area == pytest.approx(4169.13, abs=0.02)  # printed 4169.13; 4169.14 from unrounded courses
    page.undo()
    assert page.project.site.boundary == ()
    assert page.failures == []


def test_a_turned_plan_turns_the_boundary_with_it(page: TraversePage) -> None:
    import attrs

    page.session.edit("turn", lambda p: attrs.evolve(p, site=attrs.evolve(p.site, y_bearing=90.0)))
    page.text.value = "10 m; 0\n10 m; 90\n10 m; 180\n10 m; 270"
    page.work_out()
    page.use()
    # The y axis points east: a first course due north runs along the plan's negative x axis.
    assert (-10.0, 0.0) in {(round(x, 6), round(y, 6)) for x, y in page.project.site.boundary}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("80.4", "has no bearing"),
        ("80.4; sideways", "cannot read the bearing"),
        ("long; N 5 E", "cannot read the length"),
        ("", "0 courses cannot close"),
        ("10; 0\n10; 90", "2 courses cannot close"),
        ("10; 0\n14.14; 135\n10; 0\n14.14; 225", "crosses or touches itself"),
    ],
)
def test_what_cannot_be_closed_is_said_and_nothing_changes(page: TraversePage, typed: str, said: str) -> None:
    before = page.project
    page.text.value = typed
    page.work_out()
    assert said in page.message.value
    page.use()
    assert page.project == before
    assert page.failures == []
