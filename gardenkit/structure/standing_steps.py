"""What is to be said about steps and ramps that stand by themselves: their run, their rails, what they lead to."""

from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.levels import Surface
from gardenkit.site.site import Building
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.flights import LEVEL
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.things_steps import LAST, RULES
from gardenkit.structure.ramp_runs import RAILED as RAMP
from gardenkit.structure.ramps import RAMP_RULES, ramp, ramp_findings
from gardenkit.structure.steps import BANDS, Steps, in_band, step_findings
from gardenkit.structure.structure import Structure, Thing
from gardenkit.structure.things import ground_of_thing
from gardenkit.units import INCH, in_both, show_length

STEPS_RUN, STEPS_RISE, RAMP_RUN = "steps run", "steps rise", "ramp run"  # the names of the rules
BEHIND = Figure(0.15, "m", f"what begins so near behind the last riser is what steps lead to; {HOUSE}")
SHORT = Figure(0.01, "m", f"a ramp so much too short is as good as right: sizes are typed to the centimetre; {HOUSE}")


def climbing_findings(
    structure: Structure, buildings: Sequence[Building], ground: Surface | None
) -> tuple[Finding, ...]:
    """Return what is to be said about every thing that one goes up, on the ground as it is to be."""
    found: list[Finding] = []
    for thing in structure.things:
        kind, where = thing_kind(thing.kind), f'{thing.kind} "{thing.name}"'
        said: list[Finding] = []
        if kind.steps is not None:
            made = kind.steps(thing)
            said += step_findings(where, made, handrail=thing.handrail, stride=False)
            said += [*_run(where, made), *_too_high(where, made.rise, RULES.most_flight, RULES.source)]
        elif kind.slopes is not None:
            said += _ramp(thing, where, kind.slopes(thing))
            said += _too_high(where, thing.height, RAMP.rise_per_run, RAMP.source)
        if kind.steps is not None or kind.slopes is not None:
            said += _leads_to(thing, where, structure, buildings, ground)
        found += (attrs.evolve(one, at=thing.at, subject=("thing", thing.name)) for one in said)
    return tuple(found)


def _run(where: str, made: Steps) -> list[Finding]:
    """Say how deep the flight wants to be where its risers and treads make no even stride."""
    if not made.treads or in_band(made.riser, made.tread, band=made.band):
        return []
    low, high, source = BANDS[made.band]
    least, most = (made.treads * (both * INCH - 2 * made.riser) + LAST for both in (low, high))
    what = (
        f"{made.risers} risers of {in_both(made.riser)} with treads of {in_both(made.tread)} make no even stride; make "
        f"it {show_length(least)} to {show_length(most)} deep from front to back, or change its height"
    )
    why = f"twice the riser and the tread are {low:g} to {high:g} in"
    said = attrs.evolve(_said(where, what, source, "caution"), why=why)
    return [attrs.evolve(said, rule=STEPS_RUN, wanted=(least + most) / 2)]


def _ramp(thing: Thing, where: str, run: float) -> list[Finding]:
    """Say how wide a ramp must be, which rails it wants, and how deep it must be to be as gentle as its rule."""
    made = ramp(thing.height, slope=min(RAMP.slope, thing.height / run))
    found = [
        one
        for one in ramp_findings(where, made, width=thing.width, handrail=thing.handrail)
        if one.seriousness != "note"  # how many runs and landings is for a ramp that is yet to be laid out
    ]
    wanted = thing.height / RAMP.slope + (thing.depth - run)
    if thing.depth < wanted - SHORT:
        steepest = RAMP_RULES["IRC other"]
        what = (
            f"rises 1 in {run / thing.height:.1f}, steeper than 1 in {1 / RAMP.slope:.0f}; make it "
            f"{show_length(wanted)} deep from front to back, or less high"
        )
        worse: Seriousness = "warning" if thing.height / run > steepest.slope * (1 + 1e-9) else "caution"
        why = f"away from the exit door some codes go to 1 in {1 / steepest.slope:.0f}: {steepest.source}"
        found.append(attrs.evolve(_said(where, what, RAMP.source, worse), why=why, rule=RAMP_RUN, wanted=wanted))
    return found


def _too_high(where: str, rise: float, most: float, source: str) -> list[Finding]:
    if rise <= most + 1e-9:
        return []
    what = f"climbs {show_length(rise)} in one go, at most {show_length(most)}: make two of it with a landing between"
    return [_said(where, what, source, "warning")]


def _leads_to(
    thing: Thing, where: str, structure: Structure, buildings: Sequence[Building], ground: Surface | None
) -> list[Finding]:
    """Say where what one goes up ends higher or lower than the deck or the ground that begins at its last riser."""
    foot, head = _along(thing, thing.depth / 2), _along(thing, -thing.depth / 2 - BEHIND)
    floors = [one for one in structure.things if thing_kind(one.kind).sat_on and _covers(one, head)]
    if floors:
        to = f'{floors[0].kind} "{floors[0].name}"'
        rise = floors[0].height + _rise(ground, foot, floors[0].at)
    elif ground is None or any(plane.contains(plane.region(one.outline), head) for one in buildings):
        return []
    else:
        to, rise = "the ground behind it", _rise(ground, foot, head)
    if abs(rise - thing.height) <= LEVEL:
        return []
    if rise <= LEVEL:
        what = f"{to} lies no higher than its foot: nothing to climb; turn it round, move it, or delete it"
        return [_said(where, what, LEVEL.source, "warning")]
    what = f"climbs {show_length(thing.height)}, and {to} lies {show_length(rise)} above its foot; make it so high"
    return [attrs.evolve(_said(where, what, PLAIN, "warning"), rule=STEPS_RISE, wanted=rise)]


def _along(thing: Thing, ahead: float) -> Point:
    """Return the place on the middle line of a thing so many metres ahead of its middle."""
    return plane.moved(plane.turned(((0.0, ahead),), thing.facing), thing.at)[0]


def _covers(thing: Thing, at: Point) -> bool:
    return plane.contains(ground_of_thing(thing), at)


def _rise(ground: Surface | None, low: Point, high: Point) -> float:
    """Return how much the ground rises between two places; 0 where no heights are measured."""
    if ground is None:
        return 0.0
    below, above = ground.at(np.array([low, high], dtype=float))
    return float(above - below)


def _said(where: str, what: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=f"{what}; {LOCAL_CODE}", source=source, seriousness=seriousness, topic="steps")
