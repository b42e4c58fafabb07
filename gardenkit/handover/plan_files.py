"""The planting plan for other programs: a drawing to scale as SVG, and where each plant stands as a table."""

import csv
import io
from pathlib import Path

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.live_copy import FULL_YEAR
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover.paper import USUAL_SCALES, saved
from gardenkit.handover.tables import plain_cell
from gardenkit.project.season import early_summer
from gardenkit.units import FOOT

HEADS, BETWEEN = ("number", "key", "plant", "x {}", "y {}", "bed"), "between stones"


def write_svg(garden: Garden, target: Path) -> int:
    """Write the planting plan in its true size in millimetres to scale; returns its size in bytes.

    Raises GardenError without a boundary.
    """
    project = garden.project
    if not project.site.boundary:
        raise GardenError("the plan to scale needs the boundary; draw or measure it first")
    scene = garden_scene(
        project,
        garden.layout,
        garden.catalogue,
        year=FULL_YEAR,
        month=early_summer(project.site),
        scale=USUAL_SCALES[garden.units][0],
        to_scale=True,
        title=f"Planting plan of {project.name}",
        lit=False,
    )
    return saved(svg(scene, exact=True).encode("utf-8"), target)


def write_plants(garden: Garden, target: Path) -> int:
    """Write every plant with its place on the plan, in metres or decimal feet; returns the size in bytes.

    What creeps between stones has no number: it is planted evenly and its places are a proposal.
    """
    unit, each = ("ft", FOOT) if garden.units == "imperial" else ("m", 1.0)
    plants = garden.project.planting.plants
    beds = {one.number: bed for bed, those in garden.layout.plants_by_bed(plants).items() for one in those}
    text = io.StringIO(newline="")
    page = csv.writer(text, lineterminator="\r\n")
    page.writerow([head.format(unit) for head in HEADS])
    for plant in (*plants, *garden.creeping):
        name = garden.catalogue[plant.species].botanical
        where = beds.get(plant.number, "") if plant.number else BETWEEN
        spot = [f"{metres / each:.3f}" for metres in plant.at]
        page.writerow((plant.number or "", garden.keys[name], plain_cell(name), *spot, plain_cell(where)))
    return saved(text.getvalue().encode("utf-8-sig"), target)
