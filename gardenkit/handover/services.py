"""The sheets of what is laid and seen beside the plan: irrigation, lighting, and the garden from the side."""

import string
from collections.abc import Callable

from gardenkit.drawing.by_night import by_night
from gardenkit.drawing.faded import of_its_area, shown_area
from gardenkit.drawing.garden import MONTHS, structure_scene
from gardenkit.drawing.legend import Sign
from gardenkit.drawing.plan_things import LAMPLIGHT
from gardenkit.drawing.section_cut import said
from gardenkit.drawing.services import LINES, OF_LIGHT, irrigation_scene, lighting_scene
from gardenkit.findings import LOCAL_CODE
from gardenkit.garden import Garden
from gardenkit.geometry.plane import Point
from gardenkit.handover import sides, wording
from gardenkit.handover.keyed import keyed
from gardenkit.handover.listed import Entry
from gardenkit.handover.paper import Leaf, SheetSize
from gardenkit.saying import of_goods
from gardenkit.schedules import irrigation_zones, lighting, pipes
from gardenkit.schedules.irrigation import WATERINGS, drained_months
from gardenkit.schedules.irrigation_zones import Zone
from gardenkit.schedules.water_pressure import PIPE_SOLD, WORKING, ZonePressure, zone_pressures
from gardenkit.schedules.watering import FIRST_WEEKS
from gardenkit.site.notes import supplied_at
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.placed import LIGHTS as LIGHTS_SOLD
from gardenkit.structure.kinds.placed import Lamp
from gardenkit.structure.structure import Thing
from gardenkit.units import System, show_length, show_pressure

IRRIGATION, LIGHTING = "Irrigation", "Lighting"
WATER = (
    "Tap, backflow preventer, filter, regulator, then a valve a zone, opened in turn by the controller. Lay the rows "
    "as drawn, emitters as listed; flush before the ends are closed. Each pipe is drawn its shortest way from the "
    "valve box: lay those of one way in one trench beside paths. Pipes go round the house, water and the roots of "
    "trees to keep; among roots they lie on the ground, under mulch; under paths, steps and walls in a sleeve, set "
    "before these are built. Find what lies in the ground before you dig. Where it freezes, drain the pipes before. "
    "Test the flow of the tap first, by a bucket and a watch, and its pressure while it runs. "
    f"{LOCAL_CODE.capitalize()} and your water district about backflow."
)
AGREED = "No tap is recorded: tap and valve box are drawn at a house corner; agree the supply point before digging."
NO_WALL = "No tap and no wall for one is recorded: agree the supply point and the pipes' ways before digging."
HUNG = "No transformer is recorded: it is drawn on the free wall nearest a lamp; agree its place."
LIGHTS = (
    "12 V from one transformer. The socket, the transformer's supply and all mains are an electrician's work; "
    f"{LOCAL_CODE}. Bury the cable where no spade goes, lead it round roots; shield lamps from windows and sky."
)
NIGHT = (
    "What each lamp lights: the nearer it, the lighter. Plants that grow before a lamp, and walls, dim it; try the "
    "lamps on a dark evening before their places are fixed."
)
LEAST_RISE = 0.35  # m of rise that is told of: half a psi. House value.


def leaves(garden: Garden, size: SheetSize, scale: float, *, first: int) -> tuple[Leaf, ...]:
    """Return the sheets that this garden has, numbered on from L``first``."""
    makers: tuple[Callable[[Garden, SheetSize, float, str], tuple[Leaf, ...]], ...] = (
        _irrigation,
        _lighting,
        sides.leaves,
    )
    found: list[Leaf] = []
    for make in makers:
        made = make(garden, size, scale, f"L{first}")
        found += made
        first += bool(made)
    return tuple(found)


# ---- irrigation


def _irrigation(garden: Garden, size: SheetSize, scale: float, number: str) -> tuple[Leaf, ...]:
    if not garden.water:
        return ()
    zones = irrigation_zones.zones(garden.water)
    of_bed = {bed: zone.number for zone in zones for bed in zone.beds}
    middles = {bed.name: bed.at for bed in garden.beds}
    title = of_its_area(garden, IRRIGATION)
    tap = pipes.supply_point(garden.project, garden.layout, garden.water)
    drawn = irrigation_scene(
        garden.project,
        garden.layout,
        rows=[row for water in garden.water for row in irrigation_zones.rows(garden.layout, water)],
        pipes=pipes.supply(garden.project, garden.layout, garden.water),
        tap=tap,
        names=[(f"zone {of_bed[water.bed]}", middles[water.bed]) for water in garden.water],
        scale=scale,
        title=title,
    )
    scene = shown_area(garden, drawn)

    asked = {one.number: one for one in zone_pressures(garden.project, garden.layout, garden.water)}
    entries = [
        Entry(
            head=f"Zone {zone.number}, {zone.thirst} need",
            lines=(*_told(garden, zone), *([_pressure(garden, asked[zone.number])] if zone.number in asked else [])),
        )
        for zone in zones
    ]
    year = [Entry(head=what, lines=(told,)) for what, told in wording.water_of_a_year(garden)]
    written = supplied_at(garden.project.site.notes, "tap") is not None
    note = WATER if written else f"{AGREED if tap else NO_WALL} {WATER}"
    return keyed(scene, size, number=number, title=title, entries=[*entries, *year], note=note, more=LINES)


def _told(garden: Garden, zone: Zone) -> list[str]:
    flow = wording.liquid(zone.litres_an_hour, garden.units)
    drip = next(water.drip for water in garden.water if water.bed == zone.beds[0])
    spaced, apart = (said(far, garden.units) for far in (drip.emitter_spacing, drip.row_spacing))
    each_gives = wording.trickle(drip.emitter_flow, garden.units)
    busy = [f"{MONTHS[m][:3]} {zone.minutes[m]:.0f}" for m in range(12) if zone.minutes[m] >= 1]
    cold = [MONTHS[month - 1][:3] for month in drained_months(garden.project.site.climate)]
    drained = f"; drained in {', '.join(cold)}" if cold else ""
    each = ", each on a valve of its own and watered after the one before"
    split = f"; more than a usual tap gives: lay its rows in {zone.parts} equal parts{each}" if zone.parts > 1 else ""
    return [
        ", ".join(zone.beds),
        f"{zone.emitters} emitters of {each_gives} an hour, {spaced} apart, rows {apart} apart, {flow} an hour{split}",
        f"minutes, {WATERINGS:g} times a week without rain: {', '.join(busy)}{drained}",
        *_new(garden, zone),
    ]


def _new(garden: Garden, zone: Zone) -> list[str]:
    """Return how a zone is watered in the weeks after planting."""
    minutes = garden.watering.first_minutes(zone) if garden.watering else 0.0
    if minutes < 1:
        return []
    often = ", then ".join(
        f"{weeks} weeks {f'{times} times' if times > 1 else 'once'} a week" for weeks, times in FIRST_WEEKS
    )
    return [f"after planting: {minutes:.0f} minutes at a time, {often}, less what rain brings"]


def _pressure(garden: Garden, one: ZonePressure) -> str:
    """Return what pressure a zone asks for and where it is lost, with what to do where that is too much."""
    units = garden.units
    pipe, row = show_length(one.pipe_length, units), show_length(one.row_length, units)
    lost = f"{_lost(one.pipe, units)} in {pipe} of {of_goods(PIPE_SOLD, units)} pipe"
    rise = f", {show_pressure(one.rise, units)} for the rise" if one.rise > LEAST_RISE else ""
    told = (
        f"the tap must give {show_pressure(one.asked, units)} while it runs, and what filter, valve and backflow "
        f"preventer take besides: of it {show_pressure(float(WORKING), units)} for the emitters, {lost}, "
        f"{_lost(one.row, units)} in a row of {row}{rise} ({one.bed})"
    )
    uneven = "; the row's end gets too little: feed it from its middle" if one.uneven else ""
    return f"{told}{uneven}{'; more than a usual tap keeps: a wider pipe, or split it' if one.too_much else ''}"


def _lost(metres: float, units: System) -> str:
    """Return a loss of pressure, in words where it is next to nothing."""
    return show_pressure(metres, units) if metres > LEAST_RISE else "next to nothing"


# ---- lighting


def _lighting(garden: Garden, size: SheetSize, scale: float, number: str) -> tuple[Leaf, ...]:
    fed = lighting.cables(garden.project)
    if not fed:
        return ()
    lamps = {one.at: one for one in lighting.lights(garden.project)}
    ordered = dict.fromkeys(one.at for cable in fed for _, one in sorted(cable.lamps, key=lambda pair: pair[0]))
    named: list[tuple[str, Point]] = [(str(k), at) for k, at in enumerate(ordered, 1)]
    title = of_its_area(garden, LIGHTING)
    drawn = lighting_scene(
        garden.project, garden.layout, cables=[cable.line for cable in fed], lamps=named, scale=scale, title=title
    )
    scene = shown_area(garden, drawn)
    entries = [
        *(Entry(head=f"{text}  {lamps[at].name}", lines=(_lamp(garden, lamps[at]),)) for text, at in named),
        *(
            Entry(head=finding.where, lines=(garden.say(finding.what),))
            for finding in lighting.light_findings(garden.project)
            if lighting.MAINS not in finding.what  # LIGHTS says so
        ),
    ]
    known = garden.project.structure.cables or supplied_at(garden.project.site.notes, "transformer")
    note = LIGHTS if known else f"{HUNG} {LIGHTS}"
    day = keyed(scene, size, number=number, title=title, entries=entries, note=note, more=OF_LIGHT)
    letter = string.ascii_lowercase[len(day) % 26]
    return (*day, *_by_night(garden, size, scale, f"{number}{letter}"))


def _by_night(garden: Garden, size: SheetSize, scale: float, number: str) -> tuple[Leaf, ...]:
    """Return the sheet that shows what the lamps light, in the colour of their light, with what each gives."""
    project, title = garden.project, of_its_area(garden, f"{LIGHTING} by night")
    plain = structure_scene(project, garden.layout, title=title, scale=scale, textures=False)
    lamps = {thing.kind: kind for thing in project.structure.things if (kind := thing_kind(thing.kind)).lamp}
    entries = [
        Entry(head=name, lines=(f"{kind.lamp.lumens:g} lumens, {_reach(garden, kind.lamp)}",))
        for name, kind in lamps.items()
        if kind.lamp is not None
    ]
    lights = {thing.light for thing in project.structure.things if thing_kind(thing.kind).lamp}
    colours = [
        Sign(words=f"ground lit in {light} white, {LIGHTS_SOLD[light]:,.0f} K", fill=colour)
        for light, colour in LAMPLIGHT.items()
        if light in lights
    ]
    scene = shown_area(garden, by_night(plain, project.structure.things))
    return keyed(scene, size, number=number, title=title, entries=entries, note=NIGHT, more=colours)


def _reach(garden: Garden, lamp: Lamp) -> str:
    far = show_length(float(lamp.pool), garden.units)
    if lamp.beam is not None:
        return f"a beam {lamp.beam:g} degrees wide, the way it faces, drawn {far} long"
    return f"the ground {far} {'ahead' if lamp.ahead else 'round it'}"


def _lamp(garden: Garden, one: Thing) -> str:
    """Return what a lamp is, what it takes and how high it stands."""
    lamp = thing_kind(one.kind).lamp
    gives = f", {lamp.watts:g} W, {lamp.shown(one.light)}" if lamp else ""
    return f"{one.kind}{gives}, {said(one.height, garden.units)} high"
