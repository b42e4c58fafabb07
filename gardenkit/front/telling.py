"""What a script asks of a garden: its plan as SVG, the hours of sun, the advice, the client copy."""

from pathlib import Path

from gardenkit.drawing.by_night import by_night
from gardenkit.drawing.faded import shown_area
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.svg import svg
from gardenkit.front import glossary
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.handover import booklet
from gardenkit.project.edits.records import by_name
from gardenkit.storage.files import replace_safely


def plan(
    garden: Garden,
    target: str | Path | None = None,
    *,
    year: int = 5,
    month: int | None = None,
    area: str = "",
    night: bool = False,
) -> str:
    """Return the plan in a month of a year after planting as SVG text, and write it to ``target`` when one is given.

    Without a ``month`` it is the garden's own early summer; with an ``area`` of the property the rest is faded; by
    ``night`` it is dark but where the garden's lamps reach.
    """
    part = garden.of_area(area) if area else garden
    scene = garden_scene(garden.project, garden.layout, garden.catalogue, year=year, month=month)
    if night:
        scene = by_night(scene, garden.project.structure.things)
    drawn = svg(shown_area(part, scene))
    if target is not None:
        replace_safely(Path(target), drawn.encode("utf-8"))
    return drawn


def sun(garden: Garden, bed: str, *, year: int | None = None) -> dict[str, float]:
    """Return the mean hours of direct sun a day in each month at the middle of a bed; ``year``: with its plants."""
    middle = plane.centre(by_name(garden.beds, bed, "bed").region)
    return {month: round(float(h), 1) for month, h in zip(MONTHS, garden.sun(year).at(middle), strict=True)}


def advice(garden: Garden) -> tuple[str, ...]:
    """Return everything the rules say about the garden, the most serious first, in its own units."""
    return tuple(garden.say(f"{f.seriousness}: {f.sentence()}") for f in garden.said)


def client_copy(garden: Garden, target: str | Path, *, area: str = "") -> Path:
    """Write the document for the client, one HTML file that needs no network; returns where it is. With an ``area`` it
    tells of that area of the property alone.
    """
    booklet.write(garden.of_area(area) if area else garden, Path(target))
    return Path(target)


def help(word: str = "") -> None:  # noqa: A001 - read as gk.help
    """Print what the front door offers and the words it uses; with a word, only what it means."""
    print(glossary.told(word))  # noqa: T201 - printing is what it is for
