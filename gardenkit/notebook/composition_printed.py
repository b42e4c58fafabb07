"""The report of a planting on the console: coverage, layering, grouping, repetition, as it stands and as proposed."""

from collections.abc import Mapping, Sequence

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.musts import limits
from gardenkit.planting.composing import TERMS, Composition
from gardenkit.planting.composing.register import parts_of_the_whole
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.composed import composed
from gardenkit.project.plant_choice import kinds_of

WIDE = 44  # letters of the first column


def lines(garden: Garden, *, proposals: bool = False, tell: Tell = quiet) -> tuple[str, ...]:
    """Return the report, line by line. Raises GardenError where there is nothing to report on."""
    columns, costs = dict[str, Mapping[str, str]](), dict[str, Mapping[str, float]]()
    if garden.composition is not None:
        columns["as it stands"] = dict(garden.composition.rows())
    for letter, one in zip("ABCD", _proposed(garden, tell) if proposals else (), strict=False):
        columns[letter] = dict(one.figures.rows())
        costs[letter] = parts_of_the_whole(one.terms)
    if not columns:
        raise GardenError("nothing is planted in the beds yet; plant something, or ask for proposals")
    rows = list(dict.fromkeys(name for column in columns.values() for name in column))
    said = [_row(garden.project.name, list(columns))]
    said += [_row(name, [garden.say(column.get(name, "-")) for column in columns.values()]) for name in rows]
    if costs:
        said += ["", _row("what is missed, part of the whole", ["", *costs][-len(columns) :])]
        pad = [""] * (len(columns) - len(costs))
        said += [_row(TERMS[key][0], [*pad, *(f"{one[key]:.0%}" for one in costs.values())]) for key in TERMS]
    return tuple(said)


# ---- helpers


def _row(name: str, cells: Sequence[str]) -> str:
    return f"{name[:WIDE]:{WIDE}}" + "".join(f"  {cell:>20}" for cell in cells)


def _proposed(garden: Garden, tell: Tell) -> tuple[Composition, ...]:
    project, catalogue = garden.project, garden.catalogue
    return composed(
        project,
        kinds_of(project.planting.palette, catalogue),
        catalogue=catalogue,
        sun=garden.sun_if_known(progress=lambda share: tell(0.3 * share, "working out the sun")),
        limits=[one for one in limits(garden, catalogue) if one.must],
        progress=part(tell, 0.3, 1.0),
    )
