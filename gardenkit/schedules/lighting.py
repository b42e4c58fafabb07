"""The low-voltage lights of a garden: the cable from lamp to lamp, its transformer, and what to mind."""

import math
from functools import lru_cache
from itertools import pairwise

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.geometry.rows import along
from gardenkit.project import Project
from gardenkit.schedules.lines import Line as TakenOff
from gardenkit.site.free_walls import nearest_free
from gardenkit.site.notes import supplied_at
from gardenkit.site.site import Site, root_circles
from gardenkit.site.tree_protection import root_rule
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure import low_voltage
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.low_voltage import Run
from gardenkit.structure.structure import Thing
from gardenkit.units import System, listed, show_length

WHERE = "garden lights"
TOPIC = "light"
MAINS = "the socket, the transformer's supply and all mains are an electrician's work"
CLEAR_OF_ROOTS = Figure(0.05, "m", HOUSE)  # from a cable led round roots to their circle
WALL = 0.1  # m into a house that its own wall may be followed; numerical choice
REACH = Figure(0.6, "m", f"a lamp's own lead reaches a cable so far off; {HOUSE}")


def lights(project: Project) -> tuple[Thing, ...]:
    """Return the things of a garden that are lamps on a low-voltage cable."""
    return tuple(one for one in project.structure.things if thing_kind(one.kind).lamp is not None)


def cable_line(project: Project) -> Line:
    """Return the way of the cable: from the transformer written on the plan, else the free house wall nearest to any
    lamp, each time on to the nearest lamp, round houses and the roots of trees that stay where that can be.

    Empty without lamps; without a wall clear of doors and windows it begins at the first lamp.
    """
    left = [one.at for one in lights(project)]
    if not left:
        return ()
    written = supplied_at(project.site.notes, "transformer")
    starts = [written] if written else [place for at in left if (place := nearest_free(project.site, at))]
    here: Point = min(starts, key=lambda p: min(math.dist(p, at) for at in left), default=left[0])
    line = [here]
    while left:
        here = min(left, key=lambda at: math.dist(here, at))
        left.remove(here)
        line.append(here)
    return _led_round(project.site, tuple(line))


@lru_cache(maxsize=32)
def _led_round(site: Site, line: Line) -> Line:
    """Return a cable's way led round root protection circles and houses, leg by leg; a leg with no way round stays
    straight.
    """
    shut: list[Region] = [plane.circle(tree.at, far + CLEAR_OF_ROOTS, sides=64) for tree, far in root_circles(site)]
    shut += [plane.grown(plane.region(house.outline), -WALL) for house in site.buildings]
    if not shut or not site.boundary:
        return line
    free = plane.difference(plane.region(site.boundary), plane.union(shut))
    led = [line[0]]
    for a, b in pairwise(line):
        piece = plane.NOWHERE
        if any(plane.meet(plane.line((a, b)), one) for one in shut):
            piece = ways.one_piece(free, a, b)
        led += [*(ways.shortest(piece, a, b) if not piece.is_empty else ())[1:-1], b]
    return tuple(led)


@attrs.frozen(kw_only=True)
class Fed:
    """A cable on the plan, as laid by hand or worked out: its way, and its lamps with their metres of cable."""

    where: str
    line: Line
    lamps: tuple[tuple[float, Thing], ...]

    def run(self) -> Run:
        """Return the gauge and transformer it wants. Raises GardenError where one run will not do."""
        found = [(far, float(lamp.watts)) for far, one in self.lamps if (lamp := thing_kind(one.kind).lamp)]
        made = low_voltage.cable_for(found)
        long = math.fsum(math.dist(a, b) for a, b in pairwise(self.line)) * (1 + low_voltage.SLACK)
        return attrs.evolve(made, length=max(long, made.length))


def cables(project: Project) -> tuple[Fed, ...]:
    """Return the cables of a garden with the lamps on each: as the designer laid them, else one from lamp to lamp.

    A lamp hangs on the cable that passes it nearest, within ``REACH``.
    """
    lamps = lights(project)
    laid = project.structure.cables
    if not laid:
        line = cable_line(project)
        worked = {at: far for far, at in _distances(line)}
        every = tuple((worked[one.at] * (1 + low_voltage.SLACK), one) for one in lamps)
        return (Fed(where=WHERE, line=line, lamps=every),) if lamps else ()
    on: dict[str, list[tuple[float, Thing]]] = {cable.name: [] for cable in laid}
    for one in lamps:
        off, far, name = min((off, far, cable.name) for cable in laid for far, off in [along(cable.line, one.at)])
        if off <= REACH:
            on[name].append(((far + off) * (1 + low_voltage.SLACK), one))
    return tuple(Fed(where=cable.name, line=cable.line, lamps=tuple(on[cable.name])) for cable in laid)


def _distances(line: Line) -> list[tuple[float, Point]]:
    """Return each corner of a line with how far along it stands."""
    far, found = 0.0, [(0.0, line[0])] if line else []
    for a, b in pairwise(line):
        far += math.dist(a, b)
        found.append((far, b))
    return found


def light_lines(project: Project) -> tuple[TakenOff, ...]:
    """Return the cables and transformers of the take-off; nothing where one run cannot feed the lamps."""
    found: list[TakenOff] = []
    for one in cables(project):
        try:
            run = one.run()
        except GardenError:
            continue
        way = "as laid on the plan" if project.structure.cables else "from the house from lamp to lamp"
        rule = f"{run.cable(project.units)} cable, {way}, 10 % more for slack"
        rated = f"{run.transformer} W for {run.watts:g} W of lamps"
        source = low_voltage.LOADED.source
        found += [
            TakenOff(item="cable", where=one.where, amount=run.length, unit="m", rule=rule, source=low_voltage.OHMS),
            TakenOff(item="transformer", where=one.where, amount=1, unit="each", rule=rated, source=source),
        ]
    return tuple(found)


def light_findings(project: Project) -> tuple[Finding, ...]:
    """Return which cable and transformer the lights want, how much voltage is lost, and whose work the mains are."""
    every = cables(project)
    fed = {lamp.name for one in every for _, lamp in one.lamps}
    dark = [lamp.name for lamp in lights(project) if lamp.name not in fed]
    found = [_of_a_cable(one, project.units) for one in every]
    if not project.structure.cables:
        found += [through for one in every for through in _through_roots(project.site, one)]
    if dark:
        what = f"no cable passes {', '.join(dark)} within {show_length(REACH)}; lay one there, or move the lamp to one"
        found.append(_finding(what, REACH.source, "warning"))
    if not found:
        return ()
    mains = f"{MAINS}; {LOCAL_CODE}"
    return (*found, _finding(mains, COMMON, "caution"))


def _of_a_cable(one: Fed, units: System) -> Finding:
    try:
        run = one.run()
    except GardenError as error:
        return _finding(str(error), low_voltage.MOST_DROP.source, "warning", one.where)
    left = low_voltage.VOLTS - run.drop
    what = (
        f"{len(one.lamps)} lamps take {run.watts:g} W on {show_length(run.length)} of {run.cable(units)} cable: "
        f"{run.drop:.2f} V are lost on the way, {left:.2f} V reach the last; a transformer of {run.transformer} W"
    )
    source = f"{low_voltage.OHMS}; {low_voltage.MOST_DROP.source}; {low_voltage.LOADED.source}"
    return _finding(what, source, "note", one.where)


def _through_roots(site: Site, one: Fed) -> list[Finding]:
    """Return where a cable from lamp to lamp has no way round the roots of a tree that stays."""
    found = []
    for tree, far in root_circles(site):
        if plane.meet(plane.line(one.line), plane.circle(tree.at, far, sides=64)):
            lamps = [lamp.name for _, lamp in one.lamps if math.dist(lamp.at, tree.at) < far]
            move = f"move {listed(lamps)} out of it" if lamps else "lay a cable by hand another way"
            what = (
                f"the cable to them runs within {show_length(far)} of the stem of {tree.name}: {move}, or dig by hand "
            )
            found.append(_finding(f"{what}between the roots and cut none", root_rule(site.root_rule).source, "caution"))
    return found


def _finding(what: str, source: str, seriousness: Seriousness, where: str = WHERE) -> Finding:
    return Finding(where=where, what=what, source=source, seriousness=seriousness, topic=TOPIC)
