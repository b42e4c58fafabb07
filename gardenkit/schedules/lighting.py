"""The low-voltage lights of a garden: the cable from lamp to lamp, its transformer, and what to mind."""

import math
from itertools import pairwise

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.schedules.lines import Line as TakenOff
from gardenkit.sources import COMMON
from gardenkit.structure import low_voltage
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.low_voltage import Run
from gardenkit.structure.structure import Thing
from gardenkit.units import show_length

WHERE = "garden lights"
TOPIC = "light"


def lights(project: Project) -> tuple[Thing, ...]:
    """Return the things of a garden that are lamps on a low-voltage cable."""
    return tuple(one for one in project.structure.things if thing_kind(one.kind).lamp is not None)


def cable_line(project: Project) -> Line:
    """Return the way of the cable: from the house wall nearest to any lamp, each time on to the nearest lamp.

    Empty without lamps; without a house it begins at the first lamp.
    """
    left = [one.at for one in lights(project)]
    if not left:
        return ()
    walls = [plane.region(house.outline) for house in project.site.buildings]
    starts = [plane.nearest_on(wall, at) for wall in walls for at in left]
    here: Point = min(starts, key=lambda p: min(math.dist(p, at) for at in left), default=left[0])
    line = [here]
    while left:
        here = min(left, key=lambda at: math.dist(here, at))
        left.remove(here)
        line.append(here)
    return tuple(line)


def run_of(project: Project) -> Run | None:
    """Return the cable and transformer for a garden's lights; None without any. Raises GardenError where one run will
    not do.
    """
    line = cable_line(project)
    if not line:
        return None
    watts = {one.at: float(lamp.watts) for one in lights(project) if (lamp := thing_kind(one.kind).lamp)}
    far, lamps = 0.0, []
    for a, b in pairwise(line):
        far += math.dist(a, b) * (1 + low_voltage.SLACK)
        lamps.append((far, watts[b]))
    return low_voltage.cable_for(lamps)


def light_lines(project: Project) -> tuple[TakenOff, ...]:
    """Return the cable and transformer of the take-off; empty without lights, or where one run will not do."""
    try:
        run = run_of(project)
    except GardenError:
        return ()
    if run is None:
        return ()
    rule = f"{run.gauge} gauge, from the house from lamp to lamp, 10 % more for slack"
    rated = f"{run.transformer} W for {run.watts:g} W of lamps"
    return (
        TakenOff(item="cable", where=WHERE, amount=run.length, unit="m", rule=rule, source=low_voltage.OHMS),
        TakenOff(item="transformer", where=WHERE, amount=1, unit="each", rule=rated, source=low_voltage.LOADED.source),
    )


def light_findings(project: Project) -> tuple[Finding, ...]:
    """Return which cable and transformer the lights want, how much voltage is lost, and whose work the mains are."""
    try:
        run = run_of(project)
    except GardenError as error:
        return (_finding(str(error), low_voltage.MOST_DROP.source, "warning"),)
    if run is None:
        return ()
    left = low_voltage.VOLTS - run.drop
    what = (
        f"{len(lights(project))} lamps take {run.watts:g} W on {show_length(run.length)} of {run.gauge} gauge cable: "
        f"{run.drop:.2f} V are lost on the way, {left:.2f} V reach the last; a transformer of {run.transformer} W"
    )
    mains = f"the socket, the transformer's supply and all mains are an electrician's work; {LOCAL_CODE}"
    source = f"{low_voltage.OHMS}; {low_voltage.MOST_DROP.source}; {low_voltage.LOADED.source}"
    return (_finding(what, source, "note"), _finding(mains, COMMON, "caution"))


def _finding(what: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=WHERE, what=what, source=source, seriousness=seriousness, topic=TOPIC)
