"""What the lines of the take-off weigh: each placed thing by its own row, all else by what a unit of it weighs."""

import math
from collections.abc import Iterable, Mapping

from gardenkit.project import Project
from gardenkit.schedules.lines import Line
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.placed import GRAVEL, MOIST_COMPOST, SOFTWOOD, SOIL_DRY
from gardenkit.structure.kinds.support_parts import PostChoice
from gardenkit.structure.kinds.timber_sizes import SIZES, TimberSize
from gardenkit.structure.posts import bag_of
from gardenkit.units import CUBIC_FOOT, FOOT, INCH, POUND, show_weight

BARK = Figure(636 * POUND / (27 * CUBIC_FOOT), "kg/m3", "pine bark mulch, soaked: 636 lb/cu yd (woodmaterialsyard.com)")
TURF = Figure(40 * POUND / (10 * FOOT**2), "kg/m2", "a roll of 10 sq ft weighs 30 to 50 lb (biologyinsights.com)")
ROPE = Figure(
    0.11 / 4 * POUND / FOOT,
    "kg/m",
    "1/8 in wire rope, by its section a quarter of 1/4 in: 0.11 lb a ft (engineeringtoolbox.com)",
)
THICK = Figure(0.75 * INCH, "m", f"boards of fences as planed; {HOUSE}")


def _of(size: TimberSize) -> Figure:
    """Return what a metre of timber weighs."""
    thick, deep = size.thick("imperial"), size.deep("imperial")
    return Figure(thick * deep * SOFTWOOD, "kg/m", f"{size.words} in as planed; {SOFTWOOD.source}")


POST = Figure(PostChoice().across ** 2 * SOFTWOOD, "kg/m", f"a 4 x 4 in post as sawn; {SOFTWOOD.source}")

# By item, kilograms for each m3, m2, metre or piece that it is counted in
UNIT_WEIGHTS: Mapping[str, Figure] = {
    **dict.fromkeys(("crushed stone", "bedding", "joint filling", "gravel"), GRAVEL),
    **dict.fromkeys(("topsoil", "excavation", "soil placed", "raised bed soil"), SOIL_DRY),
    **dict.fromkeys(("mulch", "bark"), BARK),
    "compost": MOIST_COMPOST,
    "lawn": TURF,
    "post": POST,
    **{size.item: _of(size) for size in SIZES},
    "lattice": Figure(4.0, "kg/m2", f"laths crossed; {HOUSE}"),
    "fence boards": Figure(THICK * SOFTWOOD, "kg/m2", f"{THICK.source}; {SOFTWOOD.source}"),
    "gate": Figure(25.0, "kg", f"a boarded gate with its irons; {HOUSE}"),
    "wire": ROPE,
    "fixing": Figure(0.2, "kg", HOUSE),
    "edging": Figure(4.0, "kg/m", f"a steel strip, as the take-off says, with its stakes; {HOUSE}"),
    "pond": Figure(1.5, "kg/m2", f"liner and underlay; {HOUSE}"),
    "handrail": Figure(6.0, "kg/m", f"steel with its posts; {HOUSE}"),
    "meadow seed": Figure(0.004, "kg/m2", "meadowmania.co.uk: 4 g a square metre"),
    "retaining wall": Figure(400.0, "kg/m2", f"a face of block or stone 8 in deep; {COMMON}"),
}


def weight_of(line: Line, project: Project) -> float:
    """Return what a line of the take-off weighs in kilograms; 0 where that is not known."""
    if line.unit == "kg":
        return line.amount
    thing = next((one for one in project.structure.things if one.name == line.where), None)
    if thing is not None:
        kind = thing_kind(thing.kind)
        parts = [part.item for part in kind.counts(thing)]
        if line.item in parts:
            return kind.weight(thing).empty if line.item == parts[0] else 0.0
    if line.item == "concrete":
        return line.amount * bag_of(project.units).weight
    known = UNIT_WEIGHTS.get(line.item)
    return 0.0 if known is None else line.amount * known


def weight_said(lines: Iterable[Line]) -> str:
    """Return what the lines of one support weigh without its concrete in words, with its heaviest piece: a line's
    amount over its ``count`` of pieces.
    """
    own = [(one, one.amount * UNIT_WEIGHTS[one.item]) for one in lines if one.item != "concrete"]
    heaviest = max((kg / one.count for one, kg in own if one.count), default=0.0)
    piece = f", heaviest piece {show_weight(heaviest)}" if heaviest else ""
    return f"about {show_weight(math.fsum(kg for _, kg in own))} without its concrete{piece}"
