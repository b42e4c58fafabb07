"""The garden painted square to a line: to scale, cut at the line, the paper left where nothing stands."""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from gardenkit.drawing import painted_side
from gardenkit.drawing.from_the_side import side_scene
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.drawing.scene import Picture, Symbol
from gardenkit.garden import Garden
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.site.site import Building, Fence, Site

PLOT = ((0.0, 0.0), (10.0, 0.0), (10.0, 9.0), (0.0, 9.0))
LINE = ((0.0, 2.0), (10.0, 2.0))
BOUNDS = (0.0, -0.5, 10.0, 3.0)


def spans(site: Site, monkeypatch: pytest.MonkeyPatch) -> tuple[float, float, float, float]:
    """Return from where to where something is painted: metres along the line and heights."""
    monkeypatch.setattr(painted_side, "DOTS", 2.0)
    garden = Garden(Project(name="side", site=site), Path())
    made = painted_side.side_picture(
        prospect(garden),
        Moment(year=1, month=6),
        line=LINE,
        depth=6.0,
        bounds=BOUNDS,
        scale=50.0,
    )
    covered = np.asarray(Image.open(io.BytesIO(made.data)).convert("RGBA"))[..., 3] > 127
    rows, columns = covered.shape
    ys, xs = np.nonzero(covered)
    return (
        10.0 * float(xs.min()) / columns,
        10.0 * float(xs.max() + 1) / columns,
        3.0 - 3.5 * float(ys.max() + 1) / rows,
        3.0 - 3.5 * float(ys.min()) / rows,
    )


@pytest.mark.parametrize("beyond", [0.0, 6.0])
def test_what_stands_beyond_the_line_is_as_large_as_on_it(beyond: float, monkeypatch: pytest.MonkeyPatch) -> None:
    wall = Fence(name="wall", kind="wall", line=((2.0, 2.0 + beyond), (8.0, 2.0 + beyond)), height=1.5)
    assert spans(Site(boundary=PLOT, fences=(wall,)), monkeypatch) == pytest.approx((2.0, 8.0, 0.0, 1.5), abs=0.04)


def test_what_stands_before_the_line_does_not_hide_what_is_beyond_it(monkeypatch: pytest.MonkeyPatch) -> None:
    near = Fence(name="near wall", kind="wall", line=((0.0, 0.5), (10.0, 0.5)), height=2.5)
    house = Building(name="house", outline=((1.0, -3.0), (9.0, -3.0), (9.0, 0.5), (1.0, 0.5)))
    wall = Fence(name="wall", kind="wall", line=((4.0, 5.0), (6.0, 5.0)), height=1.0)
    site = Site(boundary=PLOT, fences=(near, wall), buildings=(house,))
    assert spans(site, monkeypatch) == pytest.approx((4.0, 6.0, 0.0, 1.0), abs=0.04)


def test_a_painted_elevation_names_what_the_pen_draws() -> None:
    plants = tuple(Plant(number=n, species="Salvia nemorosa 'Caradonna'", at=(2.0 + n, 3.0)) for n in (1, 2, 3))
    garden = Garden(Project(name="side", site=Site(boundary=PLOT), planting=Planting(plants=plants)), Path())

    def names(*, with_pen: bool) -> list[str]:
        shown = side_scene(prospect(garden), Moment(year=5, month=6), line=LINE, depth=6.0, with_pen=with_pen)
        assert any(isinstance(mark, Picture) for mark in shown.marks) is not with_pen
        return [mark.tip for mark in shown.marks if isinstance(mark, Symbol)]

    assert len(names(with_pen=True)) == 4  # the person too
    assert names(with_pen=True) == names(with_pen=False)
