"""How what is built is made, cut through: paths and paving, steps, a post in its hole, a raised bed, a pond.

Every depth is that of the kind's own table, by which the quantities are counted.
"""

import math

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Disc, Mark
from gardenkit.drawing.section_cut import (
    CONCRETE,
    SAND,
    SOIL,
    STONE_BASE,
    WATER,
    Cut,
    Note,
    box,
    broken,
    finely,
    level,
    measure,
    outlined,
    said,
    soil,
)
from gardenkit.schedules.earth import BACKFILL, BASE, BASE_WIDE, BURY
from gardenkit.structure.build_up import layers_for
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.kinds.support_parts import PostChoice
from gardenkit.structure.kinds.surfaces import EDGING_DEEP, EDGING_THICK
from gardenkit.structure.kinds.timber_sizes import TimberSize
from gardenkit.structure.posts import Post, hole_diameter
from gardenkit.structure.steps import Steps
from gardenkit.units import FOOT, INCH, System, as_built

AROUND = 0.15  # m of soil drawn beyond and below what is built. House value.
WIDEST = 1.3  # m: what is wider is drawn from one edge only. House value.
SHOWN_EDGE = 0.75  # m of it. House value.
HEAD_SHOWN = 0.45  # m of a rafter on the side of the roof. House value.
POST_SHOWN = 0.35  # m of a post above the ground. House value.
CAP = 0.1  # m of soil over the gravel behind a wall. House value.
PIPE_WIDE = 4 * INCH  # m: the drain behind a wall. Common practice, no source.
MOST_RISERS = 4  # of a flight that are drawn. House value.


def surface_cut(surface: str, *, width: float, thickness: float, units: System, scale: float) -> Cut:
    """Return the cut across a path or place of ``surface``, ``width`` metres wide; one edge only where it is wide."""
    kind, depth = surface_kind(surface), layers_for(surface, units=units)
    stone = thickness if kind.stone != "none" else 0.0
    rows = [
        (stone, f"{surface}, {said(stone, units)} thick", style.STONES[0]),
        (depth.surface, f"{kind.loose}, {said(depth.surface, units)} deep", style.GROUND.get(surface, SAND)),
        (depth.bedding, f"bedding, sand or screenings, {said(depth.bedding, units)}", SAND),
        (depth.base, f"crushed stone, compacted, {said(depth.base, units)}", STONE_BASE),
    ]
    one_edge = width > WIDEST
    half = SHOWN_EDGE if one_edge else width
    total = sum(row[0] for row in rows)
    left, right = -depth.overdig - AROUND, half + (0.0 if one_edge else depth.overdig + AROUND)
    marks: list[Mark] = [soil(left, -total - AROUND, right)]
    notes: list[Note] = []
    top = 0.0
    for deep, words, fill in rows:
        if deep <= 0:
            continue
        out = depth.overdig if fill == STONE_BASE else 0.0
        marks.append(box(-out, top - deep, half + (0.0 if one_edge else out), top, fill))
        notes.append(Note(at=(half * 0.9, top - deep / 2), words=words))
        top -= deep
    if kind.edged:
        thick, deep = as_built(EDGING_THICK, units), as_built(EDGING_DEEP, units)
        for x in (-thick,) if one_edge else (-thick, half):
            marks.append(box(x, -deep, x + thick, 0.0, style.INK))
        words = f"edging, steel {said(thick, units)} by {said(deep, units)}, level with the surface"
        notes.append(Note(at=(half if not one_edge else -thick / 2, -0.01), words=words))
    notes.append(Note(at=(half * 0.8, -total - 0.04), words="firm ground, dug to " + said(total, units)))
    marks += [level(left, 0.0), *([broken(right, -total - AROUND, 0.03)] if one_edge else [level(half, right)])]
    up = 0.07
    if not one_edge:
        marks += measure((0.0, up), (half, up), units, scale)
    if depth.overdig and depth.base:
        below = -total - AROUND + 0.05
        marks += measure((-depth.overdig, below), (0.0, below), units, scale)
    return Cut(marks=tuple(marks), notes=tuple(notes), left=left, right=right, low=-total - AROUND, high=up + 0.06)


def stepping_cut(*, along: float, gap: float, thickness: float, units: System, scale: float) -> Cut:
    """Return the cut along stepping stones: two of them with the ground between."""
    bed = layers_for("stepping stones", units=units).bedding
    total, length = thickness + bed, 2 * along + gap
    left, right = -AROUND, length + AROUND
    marks: list[Mark] = [soil(left, -total - AROUND, right)]
    for x in (0.0, along + gap):
        marks += [
            box(x, -thickness, x + along, 0.0, style.STONES[0]),
            box(x, -total, x + along, -thickness, SAND),
        ]
    up = 0.07
    marks += [
        *measure((0.0, up), (along, up), units, scale),
        *measure((along, up), (along + gap, up), units, scale),
        level(left, 0.0),
        level(along, along + gap),
        level(length, right),
    ]
    notes = (
        Note(at=(length * 0.95, -thickness / 2), words=f"stone, {said(thickness, units)} thick, flush with the ground"),
        Note(at=(length * 0.9, -thickness - bed / 2), words=f"bedding, sand or screenings, {said(bed, units)}"),
        Note(at=(length * 0.85, -total - 0.04), words="firm ground, dug stone by stone"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=left, right=right, low=-total - AROUND, high=up + 0.06)


def steps_cut(steps: Steps, *, units: System, scale: float) -> Cut:
    """Return the cut along a flight: its foot and up to four risers, each riser and tread as it is to be built."""
    count = min(steps.risers, MOST_RISERS)
    whole = count == steps.risers
    points = [(-0.5, 0.0), (0.0, 0.0)]
    for k in range(count):
        x = k * steps.tread
        points += [(x, (k + 1) * steps.riser), (x + steps.tread, (k + 1) * steps.riser)]
    end = points[-1][0] + (0.3 if whole else 0.0)
    points[-1] = (end, points[-1][1])
    top = count * steps.riser
    marks: list[Mark] = [
        outlined([*points, (end, -AROUND), (-0.5, -AROUND)], STONE_BASE, width_mm=0.4),
        *measure((-0.08, 0.0), (-0.08, steps.riser), units, scale, words=finely(steps.riser, units)),
        *measure((0.0, top + 0.06), (steps.tread, top + 0.06), units, scale, words=finely(steps.tread, units)),
    ]
    if not whole:
        marks.append(broken(end, -AROUND, top + 0.02))
    notes = (
        Note(at=(points[3][0], points[3][1]), words=f"{steps.risers} risers of {finely(steps.riser, units)} each"),
        Note(at=(points[3][0], points[3][1] - 0.02), words=f"treads {finely(steps.tread, units)} deep, all alike"),
        Note(at=(end, 0.04), words=f"rise in all {finely(steps.rise, units)}, {said(steps.width, units)} wide"),
        Note(at=(end, -0.04), words=f"landings {said(steps.landing, units)} long, foot and head"),
        Note(at=(end, -0.1), words="footing and base: by the builder, below frost"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=-0.5, right=end, low=-AROUND, high=top + 0.12)


def post_cut(post: Post, choice: PostChoice, *, units: System, scale: float) -> Cut:
    """Return a post in its hole with the concrete round it, the gravel under its foot and the frost line."""
    across, deep = choice.across, post.buried
    hole = hole_diameter(across)
    left, right, low = -hole / 2 - AROUND, hole / 2 + AROUND, -deep - AROUND
    foot = -deep + choice.gravel
    marks: list[Mark] = [
        soil(left, low, right),
        box(-hole / 2, foot, hole / 2, 0.0, CONCRETE),
        box(-across / 2, foot, across / 2, POST_SHOWN, style.TIMBER),
        level(left, -hole / 2),
        level(hole / 2, right),
        *measure((-hole / 2 - 0.05, -deep), (-hole / 2 - 0.05, 0.0), units, scale),
        *measure((-hole / 2, low + 0.05), (hole / 2, low + 0.05), units, scale),
    ]
    notes = [
        Note(
            at=(across / 2, POST_SHOWN * 0.7),
            words=f"post {said(across, units)} square, {said(post.length, units)} long",
        ),
        Note(at=(across / 2, POST_SHOWN * 0.5), words=f"{said(post.above, units)} of it above the ground"),
        Note(at=(hole / 2 * 0.8, -deep * 0.3), words="concrete, sloped off at the top"),
        Note(at=(hole / 2 * 0.8, -deep * 0.9), words=f"hole {said(hole, units)} wide, {said(deep, units)} deep"),
    ]
    if choice.gravel:
        marks.append(box(-hole / 2, -deep, hole / 2, foot, STONE_BASE))
        notes.append(
            Note(at=(hole / 2 * 0.8, -deep + choice.gravel / 2), words=f"gravel, {said(choice.gravel, units)}")
        )
    if choice.frost_depth:
        y = -choice.frost_depth
        marks.append(level(left, -hole / 2, y))
        notes.append(Note(at=(left + 0.02, y), words=f"frost to {said(choice.frost_depth, units)}"))
    return Cut(marks=tuple(marks), notes=tuple(notes), left=left, right=right, low=low, high=POST_SHOWN + 0.05)


def head_cut(
    *, across: float, beam: TimberSize, rafter: TimberSize, over: float, every: float, units: System, scale: float
) -> Cut:
    """Return the cut through one side of a frame overhead: a post between two boards of beam, a rafter on it."""
    thick, deep, tall = beam.thick(units), beam.deep(units), rafter.deep(units)
    left, right, low, half = -over, HEAD_SHOWN, -deep - POST_SHOWN / 2, across / 2
    marks: list[Mark] = [
        box(-half, low, half, 0.0, style.TIMBER),
        box(-half - thick, -deep, -half, 0.0, style.TIMBER, width_mm=0.35),
        box(half, -deep, half + thick, 0.0, style.TIMBER, width_mm=0.35),
        box(left, 0.0, right, tall, style.TIMBER),
        broken(right, 0.0, tall),
        *measure((left, tall + 0.06), (0.0, tall + 0.06), units, scale),
        *measure((-half - thick - 0.05, -deep), (-half - thick - 0.05, 0.0), units, scale),
    ]
    notes = (
        Note(
            at=(right * 0.8, tall / 2),
            words=f"rafter {rafter.said(units)}, every {said(every, units)}, tied down",
        ),
        Note(at=(half + thick / 2, -deep / 3), words=f"beam, two boards {beam.said(units)}, bolted through the post"),
        Note(at=(half * 0.5, low * 0.9), words=f"post {said(across, units)} square"),
        Note(at=(half * 0.5, low * 0.95), words="sizes to be confirmed by a builder or engineer"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=left - 0.05, right=right, low=low, high=tall + 0.12)


def raised_bed_cut(*, width: float, height: float, wall: float, soil_deep: float, units: System, scale: float) -> Cut:
    """Return the cut across a raised bed: two walls with soil between, open to the ground below."""
    left, right = -AROUND, width + AROUND
    marks: list[Mark] = [
        soil(left, -AROUND, right),
        box(wall, 0.0, width - wall, soil_deep, style.GROUND["bed"]),
        box(0.0, 0.0, wall, height, style.TIMBER),
        box(width - wall, 0.0, width, height, style.TIMBER),
        level(left, 0.0),
        level(width, right),
        *measure((0.0, height + 0.06), (width, height + 0.06), units, scale),
        *measure((-0.06, 0.0), (-0.06, height), units, scale),
    ]
    notes = (
        Note(at=(width, height * 0.85), words=f"walls {said(wall, units)} thick, fixed at every corner"),
        Note(at=(width * 0.8, soil_deep * 0.6), words=f"soil {said(soil_deep, units)} deep, settles by a hand"),
        Note(at=(width * 0.75, 0.0), words="no floor: dug over before it is filled"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=left, right=right, low=-AROUND, high=height + 0.12)


def pond_cut(*, deep: float, shelf: float, shelf_wide: float, overlap: float, units: System, scale: float) -> Cut:
    """Return the cut through the edge of a pond: shelf, slope, floor, liner over the edge."""
    slope = (deep - shelf) / math.tan(math.radians(75))
    floor = shelf_wide + slope + 0.35
    bank = [
        (-overlap, 0.0),
        (0.0, 0.0),
        (0.03, -shelf),
        (shelf_wide, -shelf),
        (shelf_wide + slope, -deep),
        (floor, -deep),
    ]
    left, right, low = -overlap - AROUND, floor, -deep - AROUND
    marks: list[Mark] = [
        Area(rings=(((left, 0.0), *bank[1:], (floor, low), (left, low)),), fill=SOIL, layer="ground"),
        outlined([*bank[1:], (floor, -0.05), (0.002, -0.05)], WATER, width_mm=0.12),
        outlined([*bank, *[(x, y - 0.012) for x, y in reversed(bank)]], style.INK, width_mm=0.1),
        level(left, 0.0),
        broken(right, low, -0.03),
        *measure((floor - 0.1, -deep), (floor - 0.1, -0.0), units, scale),
        *measure((-overlap, 0.08), (0.0, 0.08), units, scale),
    ]
    notes = (
        Note(at=(floor * 0.9, -0.05), words="water level, below the edge"),
        Note(at=(shelf_wide * 0.8, -shelf), words=f"shelf {said(shelf_wide, units)} wide, {said(shelf, units)} down"),
        Note(at=(shelf_wide + slope * 0.5, -(shelf + deep) / 2), words="liner on underlay, no sharp stone below"),
        Note(at=(floor * 0.9, -deep), words=f"floor {said(deep, units)} down"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=left, right=right, low=low, high=0.14)


def wall_cut(height: float, *, units: System, scale: float) -> Cut:
    """Return the cut through a dry laid retaining wall that shows ``height`` metres: block, gravel, drain, base."""
    wide, fill, base = (as_built(one, units) for one in (BASE_WIDE, BACKFILL, BASE))
    buried, block = height / FOOT * BURY, wide / 2
    back, foot = block + fill, -buried - base
    left, right, low = -AROUND - wide / 4, back + 0.4, foot - AROUND
    marks: list[Mark] = [
        soil(left, low, right),
        soil(back, 0.0, right, height),
        box(block, -buried, back, height - CAP, STONE_BASE),
        box(block, height - CAP, back, height, SOIL),
        box(-wide / 4, foot, wide * 3 / 4, -buried, STONE_BASE),
        box(0.0, -buried, block, height, style.STONES[0], width_mm=0.35),
        Disc(
            at=(block + PIPE_WIDE, -buried + PIPE_WIDE),
            radius=PIPE_WIDE / 2,
            fill=style.PAPER,
            stroke=style.INK,
            width_mm=0.25,
            layer="structure",
        ),
        level(left, 0.0),
        level(block, right, height),
        broken(right, low, height - 0.02),
        *measure((-0.08, 0.0), (-0.08, height), units, scale),
        *measure((block, height + 0.06), (back, height + 0.06), units, scale),
        *measure((-wide / 4, low + 0.05), (wide * 3 / 4, low + 0.05), units, scale),
    ]
    notes = (
        Note(at=(back * 0.9, height - CAP / 2), words=f"{said(CAP, units)} of soil over cloth, or the paving as drawn"),
        Note(at=(block * 0.5, height * 0.8), words="block or stone, laid dry, leaning back"),
        Note(at=(back * 0.8, height * 0.4), words=f"gravel, {said(fill, units)} behind the wall"),
        Note(at=(block * 0.6, -buried / 2), words=f"{said(buried, units)} of it below the ground"),
        Note(at=(block + PIPE_WIDE, -buried + PIPE_WIDE), words="drain pipe, with a fall to where it runs out"),
        Note(at=(block * 0.8, -buried - base / 2), words=f"crushed stone, compacted, {said(base, units)}"),
    )
    return Cut(marks=tuple(marks), notes=notes, left=left, right=right, low=low, high=height + 0.12)
