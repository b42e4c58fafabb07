"""What the levels take: soil dug, placed, taken away or brought in, and the walls that hold it."""

import attrs

from gardenkit.project import Project
from gardenkit.project.earthworks import earthworks
from gardenkit.project.layout import Layout
from gardenkit.schedules.lines import Line
from gardenkit.sources import PLAIN, Figure
from gardenkit.structure.earthwork import BULKING, SHRINKAGE, VOLUMES
from gardenkit.structure.kinds.surfaces import COMPACTING
from gardenkit.units import INCH, as_built, in_both

BACKFILL = Figure(12 * INCH, "m", "12 in of gravel behind a wall: vitolilandscapedesign.com, second-hand")
BASE = Figure(6 * INCH, "m", "6 in of compacted base: allanblockblog.com, 2018")
BURY = Figure(1 * INCH, "m a foot of wall", "1 in of buried block per ft of wall: allanblockblog.com, 2018")
BASE_WIDE = Figure(24 * INCH, "m", "house value: a trench twice as wide as a block")
WHERE, GRID = "levels", "by the grid method"


def earth_lines(project: Project, worked: Layout, *, built: float = 0.0) -> tuple[Line, ...]:
    """Return the lines of the take-off for the levels; none while none are made, or no heights were taken.

    ``built`` m3 of the fill are no soil, but the layers of what is built on it.
    """
    earth = earthworks(project, worked)
    if earth is None:
        return ()
    soil = attrs.evolve(earth.soil, fill=max(0.0, earth.soil.fill - built))
    firmed = f"firmed in layers, up to below what is built on it; {GRID}" if built else f"firmed in layers; {GRID}"
    rows = [
        ("excavation", soil.cut, soil.cut_area, f"soil in the ground: new less found height, {GRID}", PLAIN),
        ("soil placed", soil.fill, soil.fill_area, firmed, PLAIN),
        ("spoil away", soil.away, 0.0, f"what is dug and not placed, loose: {BULKING:g} for 1", VOLUMES),
        (
            "fill soil",
            soil.bought,
            0.0,
            f"what is placed and not dug, loose: {BULKING:g} for 1 and {SHRINKAGE:g} when firmed",
            VOLUMES,
        ),
    ]
    lines = [
        Line(item=item, where=WHERE, amount=amount, unit="m3", area=area, rule=rule, source=source)
        for item, amount, area, rule, source in rows
        if amount > 0.005
    ]
    behind, below, wide = (as_built(one, project.units) for one in (BACKFILL, BASE, BASE_WIDE))
    for name in dict.fromkeys(wall.name for wall in earth.walls):
        mine = [wall for wall in earth.walls if wall.name == name]
        face, long = sum(wall.face for wall in mine), sum(wall.length for wall in mine)
        highest = max(wall.highest for wall in mine)
        buried = long * highest / 12 / INCH * BURY
        lines += [
            Line(
                item="retaining wall",
                where=name,
                amount=face + buried,
                unit="m2",
                area=face,
                rule="the face that shows, and 1 in buried for each foot of height",
                source=BURY.source,
            ),
            Line(
                item="crushed stone",
                where=name,
                amount=(face * behind + long * below * wide) * (1 + COMPACTING),
                unit="m3",
                rule=f"{in_both(behind)} behind the wall and {in_both(below)} below it, and 10 % more for compacting",
                source=f"{BACKFILL.source}; {BASE.source}",
            ),
            Line(item="drain pipe", where=name, amount=long, unit="m", rule="behind the wall", source=BACKFILL.source),
        ]
    return tuple(lines)
