"""Ways: whether one gets from place to place without steps, how wide a walk is, how many steps it has."""

from collections.abc import Iterable, Mapping
from heapq import heappop, heappush
from typing import TYPE_CHECKING

import attrs

from gardenkit.brief.asking import Answer, Asked
from gardenkit.findings import LOCAL_CODE, Finding
from gardenkit.garden.answers.judging import GRAVE, compared, not_known
from gardenkit.geometry import plane
from gardenkit.project.rules import path_findings, path_slopes
from gardenkit.structure.path_rules import LEVEL, SlopeRule
from gardenkit.structure.ramp_runs import RAILED
from gardenkit.structure.structure import Path
from gardenkit.units import counted, listed

if TYPE_CHECKING:
    from gardenkit.garden import Garden

PASSABLE = ("surface", "access", "slope")  # topics of what keeps one off a path
TOUCHING = 0.3  # m between a door and a terrace that begins at it. House value.
RAMP = "raise the ground at the door, or build a ramp to it"
SILL = 0.013  # m: the most a threshold may stand up. 2010 ADA Standards 303.3 (1/2 in, bevelled)


def against_wheels(garden: "Garden", path: Path) -> tuple[Finding, ...]:
    """Return what the accessible-route rule holds against a path that runs, along its whole length; one that is built
    as a ramp goes by the rule for ramps.
    """
    rule: SlopeRule = "ramp" if path.slope_rule == "ramp" else "accessible route"
    asked = attrs.evolve(path, use="wheelchair", slope_rule=rule)
    said = path_findings(
        asked,
        garden.layout.routes[path.name],
        garden.project.site,
        garden.ground_to_be,
        garden.project.structure.supports,
    )
    return tuple(f for f in said if f.seriousness in GRAVE)


def kept_off(garden: "Garden", name: str) -> str:
    """Return what the findings hold against going along a path, in a sentence; empty when nothing does."""
    where = f'path "{name}"'
    held = [f for f in garden.layout.findings if f.where == where and f.topic in PASSABLE and f.seriousness in GRAVE]
    return next((f"{f.where} {f.what}" for f in held), "")


def step_free_way(garden: "Garden", asked: Asked) -> Answer:
    """Return whether the paths from one place to another keep the accessible-route rule, by the way that breaks it
    least; a floor that stands above the ground at its door is a step.
    """
    if garden.ground_to_be is None:
        return not_known("the ground has no heights yet; take spot heights in 03_site_measurement")
    lost = {name for name in (p.name for p in garden.project.structure.paths) if name not in garden.layout.routes}
    bad = {p.name: against_wheels(garden, p) for p in garden.project.structure.paths if p.name not in lost}
    way = _way(garden, asked.thing, asked.other, {name: len(found) for name, found in bad.items()})
    if way is None:
        return Answer(verdict="not met", figure=f"no way leads from {asked.thing} to {asked.other} yet")
    faults = [fault for name in way for fault in bad[name]]
    steps = _floor_steps(garden, (asked.thing, asked.other))
    by = f"by {listed(way)}" if way else "without a path"
    if faults:
        broken = f"{counted(len(faults), 'thing')} on the way against the accessible-route rule"
        why = f"{faults[0].where} {faults[0].what}"
        return Answer(verdict="not met", figure=f"{by}: {broken}", why=why, where=way[0], value=float(len(faults)))
    figure = f"{by}: keeps the accessible-route rule along its whole length"
    if steps:
        return Answer(verdict="partly met", figure=figure, why=f"but {steps}", help=RAMP, where=asked.thing, value=0.0)
    steep = _needs_rails(garden, way)
    if steep:
        why = f"but {steep} rises as a ramp, and needs handrails on both sides ({RAILED.source}); {LOCAL_CODE}"
        return Answer(verdict="partly met", figure=figure, why=why, help="build handrails", where=steep, value=0.0)
    return Answer(verdict="met", figure=figure, why=LOCAL_CODE, value=0.0)


def walk_width(garden: "Garden", asked: Asked) -> Answer:
    """Return how wide a walk is, at the narrowest of its gates too, with what keeps one off it."""
    path = next(p for p in garden.project.structure.paths if p.name == asked.thing)
    if path.name not in garden.layout.routes:
        return not_known(f'path "{path.name}" does not run anywhere yet; mend it in 04_structure')
    narrow = [f for f in garden.layout.findings if f.beside == path.name and f.rule == "gate narrows path"]
    clear, by = min([(path.width, ""), *((f.wanted or 0.0, f" at {f.where}") for f in narrow)])
    figure = f"{clear:.2f} m wide{by}, wanted at least {asked.amount:.2f} m"
    return compared(asked, clear, figure, but=kept_off(garden, path.name), where=path.name)


def steps_most(garden: "Garden", asked: Asked) -> Answer:
    """Return how many steps a path has, and whether the findings ask for more."""
    flights = garden.layout.flights.get(asked.thing)
    if flights is None:
        return not_known(f'path "{asked.thing}" does not run anywhere yet; mend it in 04_structure')
    if garden.ground_to_be is None and flights:
        return not_known("the ground has no heights yet, so the steps cannot be counted; take spot heights")
    risers = sum(one.steps.risers for one in flights if one.steps is not None)
    steep = [f for f in garden.layout.findings if f.where == f'path "{asked.thing}"' and f.topic == "slope"]
    but = next((f"{f.where} {f.what}" for f in steep if f.seriousness in GRAVE), "")
    figure = f"{counted(risers, 'step')}, wanted at most {asked.amount:.0f}"
    return compared(asked, float(risers), figure, but=but, where=asked.thing)


# ---- helpers


def _way(garden: "Garden", start: str, end: str, cost: Mapping[str, int]) -> tuple[str, ...] | None:
    """Return the paths of the way between two places with the fewest faults, then the fewest paths; None without."""
    joined = _joined(garden, cost)
    seen: set[str] = set()
    queue: list[tuple[int, int, str, tuple[str, ...]]] = [(0, 0, start, ())]
    while queue:
        faults, many, here, way = heappop(queue)
        if here == end:
            return way
        if here in seen:
            continue
        seen.add(here)
        for there in joined.get(here, ()):
            on = there in cost
            heappush(queue, (faults + cost.get(there, 0), many + on, there, (*way, there) if on else way))
    return None


def _joined(garden: "Garden", running: Iterable[str]) -> dict[str, list[str]]:
    """Return what touches what: paths and the places or paths they go to, doors and the terraces at them."""
    pairs = [
        (p.name, end) for p in garden.project.structure.paths if p.name in set(running) for end in (p.start, p.end)
    ]
    for opening in garden.project.site.doors_and_gates():
        line = plane.line((opening.start, opening.end))
        for name, region in garden.layout.ground_areas.items():
            if not region.is_empty and plane.distance(region, line) <= TOUCHING:
                pairs.append((opening.name, name))
    for seat in garden.project.structure.seats:
        pairs += [(seat.name, n) for n, region in garden.layout.ground_areas.items() if plane.contains(region, seat.at)]
    found: dict[str, list[str]] = {}
    for a, b in pairs:
        found.setdefault(a, []).append(b)
        found.setdefault(b, []).append(a)
    return found


def _needs_rails(garden: "Garden", way: Iterable[str]) -> str:
    """Return the first path of a way that rises as a ramp by more than goes without handrails; empty when none does."""
    ground = garden.ground_to_be
    for path in garden.project.structure.paths:
        if path.name not in way or path.slope_rule != "ramp" or ground is None or _railed(garden, path):
            continue
        for piece in path_slopes(path, garden.layout.routes[path.name], ground):
            if abs(piece.steepest) > LEVEL[0][0] and piece.length * abs(piece.steepest) / 100 > RAILED.rails_above:
                return path.name
    return ""


def _railed(garden: "Garden", path: Path) -> bool:
    return path.handrails and bool(garden.layout.ramps.get(path.name))


def _floor_steps(garden: "Garden", places: Iterable[str]) -> str:
    """Return in a sentence by how much the floor behind a door stands above or below the ground before it."""
    floors = {b.name: b.floor for b in garden.project.site.buildings}
    for opening in garden.project.site.openings:
        if (
            opening.name not in places
            or opening.kind != "door"
            or opening.on not in floors
            or garden.ground_to_be is None
        ):
            continue
        rise = floors[opening.on] - garden.ground_to_be.height(opening.middle)
        if abs(rise) > SILL:
            side = "above" if rise > 0 else "below"
            return f"the floor at {opening.name} lies {abs(rise):.2f} m {side} the ground before it; {LOCAL_CODE}"
    return ""
