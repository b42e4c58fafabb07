"""A garden by script is the garden that the pages' edits make, to the letter of its project file; so are refusals."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import gardenkit as gk
from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.project.edits import planting, site
from gardenkit.project.edits.structure import beds, paths, seats
from gardenkit.site.site import Building


def by_script(folder: Path) -> Garden:
    garden = gk.new(folder, name="Quince Yard", units="metric")
    garden = gk.place(garden, latitude=51.0, longitude=-1.0, timezone="Europe/London", zone="8b")
    garden = gk.boundary(garden, (12, 18))
    garden = gk.house(garden, "house", (2, 0), (10, 5), eaves=5)
    garden = gk.opening(garden, "door", "garden door", (5, 5), (6, 5), on="house", sill=0, head=2.1)
    garden = gk.seat(garden, "bench", (9, 15), facing=200)
    garden = gk.path(garden, "walk", start="garden door", end="bench", width=0.9)
    garden = gk.bed(garden, "Long bed", (1, 7), (4, 16))
    return gk.plant(garden, "Salvia nemorosa", (2, 8), (2.5, 9))


def by_pages(folder: Path) -> Garden:
    """The same edits in the order in which the pages' buttons make them."""
    gk.new(folder, name="Quince Yard", units="metric")
    house = Building(name="house", outline=((2.0, 0.0), (10.0, 0.0), (10.0, 5.0), (2.0, 5.0)), eaves=5.0)
    salvia = Garden.open(folder).catalogue["Salvia nemorosa"]
    door: dict[str, Any] = {"at": (5.5, 5.0), "width": 1.0, "sill": 0.0, "head": 2.1}
    here: dict[str, Any] = {"latitude": 51.0, "longitude": -1.0, "timezone": "Europe/London"}
    changes: tuple[Callable[[Any], Any], ...] = (
        lambda p: site.change_climate(site.set_place(p, **here), zone="8b"),
        lambda p: site.set_boundary(p, ((0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (0.0, 18.0))),
        lambda p: site.add_thing(p, house),
        lambda p: site.add_opening(p, "door", "garden door", **door),
        lambda p: seats.add_seat(p, "bench", at=(9.0, 15.0), facing=200),
        lambda p: paths.add_path(p, "walk", start="garden door", end="bench", width=0.9),
        lambda p: beds.draw_bed(p, ((1.0, 7.0), (4.0, 7.0), (4.0, 16.0), (1.0, 16.0)), name="Long bed"),
        lambda p: planting.add_plants(p, salvia, [(2.0, 8.0), (2.5, 9.0)]),
    )
    for change in changes:
        storage.edit(folder, "a press of a button", change)
    return Garden.open(folder)


def test_script_and_pages_write_the_same_project_file(tmp_path: Path) -> None:
    script, pages = by_script(tmp_path / "script"), by_pages(tmp_path / "pages")
    assert script.project == pages.project
    files = [(tmp_path / name / "garden.json").read_bytes() for name in ("script", "pages")]
    assert files[0] == files[1]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda g: gk.house(g, "house", (2, 8), (4, 9)), "already something called"),
        (lambda g: gk.opening(g, "window", "loft", (8, 12), (9, 12)), "from the nearest wall"),
        (lambda g: gk.opening(g, "gate", "gate", (5, 0), (6, 0), on="house"), 'lies in the boundary, not in "house"'),
        (lambda g: gk.plant(g, "Salvia nemorosa", (5, 3)), "would stand inside house"),
        (lambda g: gk.plant(g, "Salvia nemorosa", (5, 8), support="arch"), "there is no support"),
        (lambda g: gk.boundary(g, (0, 0), (5, 5), (5, 0), (0, 5)), "boundary"),
    ],
)
def test_a_script_is_refused_what_a_page_is(wrong, said: str, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    garden = by_script(tmp_path / "script")
    with pytest.raises(GardenError, match=said):
        wrong(garden)
    assert gk.open(tmp_path / "script").project == garden.project
