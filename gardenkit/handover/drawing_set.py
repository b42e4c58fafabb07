"""The drawing set: cover, existing and removals, setting-out, hardscape, planting as planted and as grown, one PDF."""

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from gardenkit.drawing.drawing_set import FROM_THE_SIDE, existing_scene, hardscape_scene, planting_scene
from gardenkit.drawing.faded import of_its_area, shown_area
from gardenkit.drawing.furniture import NAMED_SCALES
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.levels_plan import found_heights, levels_scene
from gardenkit.drawing.plan_crops import creeping_keys, creeping_marks
from gardenkit.drawing.plan_levels import INTERVALS
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.drawing.section_cut import said
from gardenkit.findings import LOCAL_CODE, GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.handover import details, services, setting_out, sheet, sides
from gardenkit.handover.keyed import keyed
from gardenkit.handover.listed import Entry
from gardenkit.handover.paper import (
    LETTERS,
    Issue,
    Leaf,
    SheetSize,
    centred,
    column,
    fitted,
    saved,
    written,
)
from gardenkit.handover.pdf import Pen
from gardenkit.project.joints import joint_plants
from gardenkit.project.level_figures import level_rows
from gardenkit.project.paved_levels import paved_fall
from gardenkit.saying import of_goods
from gardenkit.schedules.dug_out import DIGGING
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.quantities import support_parts
from gardenkit.schedules.setting_out import fixed_points
from gardenkit.site.levels import slope_of
from gardenkit.site.tree_protection import root_protection_area, root_protection_radius, root_rule
from gardenkit.sources import COMMON, HOUSE
from gardenkit.structure.earthwork import BULKING
from gardenkit.structure.kinds import ground_kind
from gardenkit.structure.kinds.fences import fence_kind
from gardenkit.structure.kinds.support_parts import posts_of
from gardenkit.units import System, counted, show_area, show_length, show_volume, show_weight

TITLE = "Drawing set"
COVER, EXISTING, HARDSCAPE, PLANTING = "Cover and list of sheets", "Existing and removals", "Hardscape", "Planting plan"
PROTECTION = (
    "Fence off every circle before work begins and keep it fenced until it ends: inside it no digging, filling, "
    "storing, washing out or machine. The circles are a rule (%s); an arborist may ask for more. "
    f"{LOCAL_CODE.capitalize()} whether a tree is protected before anything is cut."
)
REMOVALS = (
    "To be removed: drawn broken and crossed. Look for nests, services and shared ownership before felling. "
    "A broken line round a building is the edge of its roof, a fine one round a meter or cover is kept free."
)
BUILD = (
    "Widths and surfaces as written on the plan; set out by L2, built up as L3.2 shows. Quantities are net of waste. "
    "Timber in the ground: durable or treated for it, fixings galvanised or stainless; kind and finish of wood, stone, "
    "paving and gravel as the client chooses from samples. "
    f"Spans, footings and walls that hold ground are for a builder or engineer; {LOCAL_CODE}."
)
CHOSEN = "chosen with the client, in none of the sums"
LEVELS = "Levels and earthworks"
STEEP = "agree an edge wall, a step or a bank there before it is dug"
AWAY = " away from it, under thresholds and any damp course"
STEP_OFF = 0.1  # m that paving may stand over the ground beside it without one. House value.
EARTH = (
    "Heights over the plan's zero; as found in brackets. Contours as found are broken. Have buried services marked "
    "before digging; keep soil and machines off root protection circles. Soil is measured as it lies unless it "
    f"says loose. Walls that hold ground are for an engineer above the local limit; {LOCAL_CODE}."
)
DRIFTS = (
    "Each outline is one drift of one kind: its key and how many are planted in it. A dot is a plant. Broken outlines "
    "are bulbs under the others; trees and climbers are open outlines over them, as wide as they will grow. Look up "
    "the key in the plant list; the list counts every plant of the garden."
)


def write(garden: Garden, target: Path, *, issue: Issue | None = None) -> int:
    """Write the drawing set as one PDF; returns its size in bytes. See ``leaves``."""
    return saved(written(garden.project, leaves(garden), issue or Issue.of(garden.project), title=TITLE), target)


def leaves(garden: Garden, *, scale: float | None = None, paper: str = "") -> tuple[Leaf, ...]:
    """Return every sheet of the set, all at one scale on one size of paper.

    Raises GardenError without a boundary, or when no sheet holds the plan.
    """
    if not garden.project.site.boundary:
        raise GardenError("the drawing set needs the boundary; draw or measure it first")
    keyed = [(garden.catalogue[p.species], p.at) for p in garden.project.planting.plants]
    plants = [(species, garden.keys[species.botanical], at) for species, at in keyed]
    between = between_stones(garden)

    def planted(n: float) -> Scene:
        title = of_its_area(garden, f"{PLANTING} as planted")
        drawn = planting_scene(garden.project, garden.layout, plants, scale=n, title=title, between=between)
        return shown_area(garden, drawn)

    scene, size = fitted(planted, garden.project, scale=scale, paper=paper)
    n, name = scene.scale, size.name
    found = [
        *_existing(garden, size, n),
        *setting_out.leaves(garden, scale=n, paper=name),
        *_hardscape(garden, size, n),
        *(_levels(garden, size, n) if garden.layout.lie is not None else ()),
        *details.leaves(garden, size, number="L3.2"),
        *_planting(garden, scene, size),
    ]
    if plants:
        found += sheet.leaves(garden, scale=n, paper=name)
    found += services.leaves(garden, size, n, first=6)
    return (_cover(garden, found, size, n), *found)


def between_stones(garden: Garden) -> tuple[tuple[Mark, ...], tuple[Wish, ...]]:
    """Return the marks and the keys of what creeps between the stones of paths."""
    creeping = joint_plants(garden.project, garden.layout, garden.catalogue)
    return creeping_marks(creeping, garden.catalogue), creeping_keys(creeping, garden.keys)


def built(garden: Garden) -> list[tuple[str, str, str]]:
    """Return what, how much and by which rule: the take-off of paths and areas, the parts of every support."""
    units, structure = garden.units, garden.project.structure
    apart = {bed.name for bed in garden.beds} | {s.name for s in structure.supports}
    climbed = {line.where for line in garden.quantities if line.item == "step risers"}
    rows = []
    for line in garden.quantities:
        in_pieces = line.item == "steps" and line.where in climbed  # told as risers and treads
        if line.where not in apart and line.item not in DIGGING and not in_pieces:  # digging stands on L3.1
            amount = counted(line.count, "piece") if line.count else line.shown(units)
            if line.unit == "kg" and line.area:
                amount += f", {show_area(line.area, units)}"
            named = of_goods(ITEMS.get(line.item, line.item), units)
            rows.append((f"{line.where}: {named}", amount, garden.say(of_goods(line.rule, units))))
    posts = posts_of(structure, units)
    bag, across = show_weight(posts.bag.weight, units), said(posts.across, units)
    for support, part in support_parts(garden.project):
        name = f"concrete, bag of {bag}" if part.unit == "bags" else part.called(units)
        name += f", {across} square" if part.name == "post" else ""
        long = f", {show_length(part.length, units)} long" if part.length else ""
        unit = "" if part.unit == "pieces" else f" {part.unit.replace('m2', 'm²')}"
        note = garden.say(of_goods(_bare(part.note), units))
        rows.append((f"{support}: {of_goods(name, units)}{long}", garden.say(f"{part.count:g}{unit}"), note))
    for seat in structure.seats:
        size = f"{show_length(seat.width, units)} wide, {show_length(seat.depth, units)} deep"
        rows.append((f"{seat.name}: seat", "1", f"{size}; {CHOSEN}"))
    return rows


# ---- the sheets


def _cover(garden: Garden, others: Sequence[Leaf], size: SheetSize, scale: float) -> Leaf:
    drawn = garden_scene(garden.project, garden.layout, garden.catalogue, scale=scale, massed=True, names=False)
    scene = shown_area(garden, drawn)

    def draw(pen: Pen) -> None:
        centred(pen, scene, size)
        x, low, right, y = column(size)
        pen.text((x, y), "List of sheets", size_mm=3.4, bold=True)
        rows = [("L0", COVER, ""), *((o.number, o.title, o.at_scale or NAMED_SCALES.get(o.scale, "")) for o in others)]
        step = min(5.5, (y - low) / len(rows))
        for number, title, at_scale in rows:
            y -= step
            pen.text((x, y), number, size_mm=LETTERS, bold=True)
            pen.text((x + 11, y), title, size_mm=LETTERS, width=right - x - 34)
            pen.text((right, y), at_scale, size_mm=LETTERS, anchor="end")

    return Leaf(number="L0", title=of_its_area(garden, COVER), size=size, draw=draw)


def _existing(garden: Garden, size: SheetSize, scale: float) -> tuple[Leaf, ...]:
    title = of_its_area(garden, EXISTING)
    scene = shown_area(garden, existing_scene(garden.project, scale=scale, title=title))

    note = f"{PROTECTION % root_rule(garden.project.site.root_rule).name} {REMOVALS}"
    entries = [Entry(head=name, lines=(said,)) for name, said in (*_trees(garden), *_stands(garden))]
    return keyed(scene, size, number="L1", title=title, entries=entries, note=note, heading="What stands there")


def _trees(garden: Garden) -> list[tuple[str, str]]:
    """Return each tree that stands there and what is said of it: stem, circle, new work inside the circle."""
    units, rule, lines = garden.units, garden.project.site.root_rule, []
    for tree in garden.project.site.trees:
        stem = show_length(tree.trunk_diameter, units, small=True)
        if not tree.keep:
            lines.append((f"{tree.name}: to be removed", f"stem {stem}, with its stump"))
            continue
        far = root_protection_radius(tree.trunk_diameter, rule)
        circle = plane.circle(tree.at, far, sides=96)
        ground = show_area(root_protection_area(tree.trunk_diameter, rule), units)
        new = {**garden.layout.surfaces, **garden.layout.ground_areas, **garden.layout.things}
        inside = {name: plane.area(plane.intersection(circle, region)) for name, region in new.items()}
        work = [f"{name} ({show_area(area, units)})" for name, area in inside.items() if area > 0.05]
        asked = f"; inside it lie {', '.join(work)}: ask an arborist how before digging" if work else ""
        kept = f"stem {stem}, root protection radius {show_length(far, units)}, {ground}{asked}"
        lines.append((f"{tree.name}: keep", kept))
    return lines or [("none", "No tree is recorded on the site.")]


def _stands(garden: Garden) -> list[tuple[str, str]]:
    """Return the walls, fences and hedges as found, and what is kept clear of; all of it stays."""
    units, site = garden.units, garden.project.site
    rows = [
        (
            f"{fence.name}: stays",
            f"{fence_kind(fence).name}, {show_length(fence.height, units)} high, "
            f"{show_length(plane.line(fence.line).length, units)} long; keep it from harm",
        )
        for fence in site.fences
    ]
    for one in site.obstacles:
        clear = f"; keep {show_length(one.clearance, units)} round it clear" if one.clearance else ""
        tall = f"{show_length(one.height, units)} high" if one.height else "level with the ground"
        rows.append((f"{one.name}: stays", f"{tall}{clear}"))
    return rows


def _hardscape(garden: Garden, size: SheetSize, scale: float) -> tuple[Leaf, ...]:
    title = of_its_area(garden, HARDSCAPE)
    looked = sides.line_on_plan(garden)
    drawn = hardscape_scene(garden.project, garden.layout, scale=scale, title=title, looked=looked)
    scene = shown_area(garden, drawn)
    entries = [Entry(head=what, amount=amount, lines=(rule,)) for what, amount, rule in built(garden)]
    heading = "Quantities" if entries else ""
    more = [FROM_THE_SIDE] if looked else []
    return keyed(scene, size, number="L3", title=title, entries=entries, note=BUILD, heading=heading, more=more)


def _levels(garden: Garden, size: SheetSize, scale: float) -> tuple[Leaf, ...]:
    spots, title = found_heights(garden.project, scale=scale), of_its_area(garden, LEVELS)
    scene = shown_area(garden, levels_scene(garden.project, garden.layout, scale=scale, title=title, extra=spots))
    levels = level_rows(garden.earth, garden.units) if garden.earth is not None else _as_found(garden)
    said = (*_measure_from(garden), *levels, *_paved_levels(garden), *_step_levels(garden), *_dug(garden))
    entries = [Entry(head=what, lines=(amount,)) for what, amount in said]
    return keyed(scene, size, number="L3.1", title=title, entries=entries, note=EARTH)


def _measure_from(garden: Garden) -> list[tuple[str, str]]:
    """Return the measured spot that the others are taken from: the one nearest the first fixed point of setting out."""
    first, heights = fixed_points(garden.project.site)[0], garden.project.site.heights
    if not heights:
        return []
    spot = min(heights, key=lambda one: math.dist(one.at, first.at))
    off, high = show_length(math.dist(spot.at, first.at), garden.units), show_length(spot.height, garden.units)
    named = f" ({spot.name})" if spot.name else ""
    return [("measure from", f"the spot at {high}{named}, {off} from corner A of L2; take the others from it")]


def _paved_levels(garden: Garden) -> list[tuple[str, str]]:
    """Return between which heights each paved area lies, and how it is to fall."""
    lie, units, rows = garden.layout.lie, garden.units, []
    for area in garden.project.structure.ground_areas:
        region = garden.layout.ground_areas[area.name]
        if lie is None or ground_kind(area.kind).falls != "patio" or plane.area(region) < plane.SLIVER:
            continue
        fall, spots = paved_fall(region, lie, garden.project.site.buildings), _numbered(garden, area.name)
        low, high = (
            show_length(round(z, 2) + 0.0, units) for z in (slope_of(lie, region).low, slope_of(lie, region).high)
        )
        where = f"along {fall.along}" if fall.along else "at its middle"
        told = f"the ground lies from {low} to {high}. Lay it at {show_length(round(fall.top, 2) + 0.0, units)} {where}"
        told += f", falling {fall.percent:.1f} %{AWAY if fall.along else ''}"
        levels = [(number, fall.level(at), float(lie.at(np.array([at]))[0])) for number, at in spots]
        heights = ", ".join(f"{n}: {show_length(round(z, 2) + 0.0, units)}" for n, z, _ in levels)
        told += f"; places of L2: {heights}" if heights else ""
        rows.append((f"{area.name}: levels", told + _off_the_ground(levels, units)))
    return rows


def _numbered(garden: Garden, name: str) -> list[tuple[int, Point]]:
    """Return the numbers of setting out along the edge of an area, and where they are."""
    return [(mark.number, mark.at) for mark in garden.setting_out.marks if mark.what.startswith(f"{name}, ")]


def _off_the_ground(levels: Sequence[tuple[int, float, float]], units: System) -> str:
    """Return where paving stands furthest over or under the ground beside it, and what that asks for."""
    if not levels:
        return ""
    number, level, ground = max(levels, key=lambda one: abs(one[1] - one[2]))
    off = level - ground
    said = (
        f"; at {number} that is {show_length(abs(off), units, small=True)} {'over' if off > 0 else 'under'} the ground"
    )
    return f"{said}: {STEEP}" if abs(off) > STEP_OFF else f"{said}, made up or dug to meet it"


def _step_levels(garden: Garden) -> list[tuple[str, str]]:
    """Return the heights of the foot and the head of every flight of steps."""
    lie, units, rows = garden.layout.lie, garden.units, []
    for name, flights in garden.layout.flights.items():
        for one in flights:
            if lie is None or one.rise is None or one.steps is None:
                continue
            foot = float(lie.at(garden.layout.routes[name].curve.at(np.array([one.start, one.end]))).min())
            low, high = (show_length(z, units) for z in (foot, foot + one.steps.rise))
            rows.append((f"{name}, flight {one.number}: levels", f"foot at {low}, head at {high}"))
    return rows


def _dug(garden: Garden) -> list[tuple[str, str]]:
    """Return what is dug for each path, area and hole of a post or pond, and what of it leaves."""
    dug, away = (
        {line.where: line for line in garden.quantities if line.item == item and line.amount > 0} for item in DIGGING
    )
    rows = []
    for where in {**dug, **away}:
        lies = dug[where].amount if where in dug else away[where].amount / BULKING
        below = f", {garden.say(dug[where].rule)}" if where in dug else ""
        loose = show_volume(away[where].amount, garden.units) if where in away else ""
        leaves = f"; {loose} of it loose ({BULKING:g} for 1) leaves, less what is used on the site" if loose else ""
        rows.append((f"{where}: dig {show_volume(lies, garden.units)}", f"as it lies{below}{leaves}"))
    return rows


def _as_found(garden: Garden) -> list[tuple[str, str]]:
    """Return the measured heights of ground that is left as it lies."""
    heights = garden.project.site.heights
    span = max(h.height for h in heights) - min(h.height for h in heights) if heights else 0.0
    deep, apart = (show_length(far, garden.units) for far in (span, INTERVALS[garden.units]))
    return [
        (
            "no new levels are made",
            f"contours of the ground as found, {apart} apart, by {len(heights)} measured heights",
        ),
        ("from the lowest to the highest", deep),
        ("drainage", "keep the falls as found, away from the house; say where water stands after rain"),
    ]


def _bare(note: str) -> str:
    """Return the note of a part without where its figure comes from, which the schedules tell."""
    short = note.partition(": ")[0]
    return short.removesuffix(f"; {COMMON}").removesuffix(f"; {HOUSE}")


def _planting(garden: Garden, scene: Scene, size: SheetSize) -> tuple[Leaf, ...]:
    title = f"{of_its_area(garden, PLANTING)} as planted, {garden.project.planting.first_year}"
    return sheet.with_schedule(garden.schedule, scene, size, number="L4", title=title, note=DRIFTS)
