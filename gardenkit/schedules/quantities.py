"""The take-off: how much mulch, compost, gravel, sand, stone and edging the garden takes, and what to order."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, GardenError
from gardenkit.geometry import nearby, outlines, plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.joints import between_stones
from gardenkit.project.layout import Layout
from gardenkit.project.root_rules import roots_kept
from gardenkit.schedules.crops import crop_lines
from gardenkit.schedules.dug_out import dug_lines, stone_gap_lines
from gardenkit.schedules.earth import earth_lines
from gardenkit.schedules.in_fill import held_in_fill, less_fill
from gardenkit.schedules.lighting import light_lines
from gardenkit.schedules.lines import Line
from gardenkit.schedules.steps import flight_lines
from gardenkit.schedules.things import thing_lines
from gardenkit.schedules.weights import weight_said
from gardenkit.site.amendments import COMPOST_NEW_BED, MULCH, MULCH_AT_STEM, layer_volume
from gardenkit.sources import HOUSE, MEMORY, PLAIN, Figure
from gardenkit.structure import build_up
from gardenkit.structure.build_up import TakeOff
from gardenkit.structure.flights import under_steps
from gardenkit.structure.kinds import bond_kind, bond_words, ground_kind, laid_in, parts_list, purpose_of, surface_kind
from gardenkit.structure.kinds.frames import DEPTH_UNKNOWN
from gardenkit.structure.kinds.placed import SOFTWOOD
from gardenkit.structure.kinds.support_parts import Part, posts_of
from gardenkit.structure.kinds.surfaces import COMPACTING, EDGING_DEEP, EDGING_THICK
from gardenkit.structure.laying import Laying
from gardenkit.structure.pond import OVERLAP, pond
from gardenkit.structure.posts import hole_diameter, post_rule
from gardenkit.structure.structure import GroundArea, Path, StoneChoice
from gardenkit.units import (
    CUBIC_FOOT,
    INCH,
    POUND,
    System,
    as_built,
    in_both,
    show_length,
)

IOWA = "Iowa State Univ. Extension: 3-4 in on well drained soil, 2-3 in on heavy soil, 6 in or more off trunks"
MULCH_DEPTH = Figure(3 * INCH, "m", IOWA)
COMPOST_DEPTH = Figure(COMPOST_NEW_BED[0], "m", COMPOST_NEW_BED[0].source)
STEM_GAP = Figure(2.5 * INCH, "m", f"2-3 in for shrubs and perennials; {MEMORY}")
TRUNK_GAP = Figure(6 * INCH, "m", IOWA)
NO_ROOTS = ", none within the root protection circles of trees to keep"
ROOT_SLIVER = 0.01  # m2: less of a bed in a circle is not worth the words. House value.
WOODY = ("tree", "conifer", "wall fruit")
BOUGHT_AS = {  # item of an order: words of the parts it is bought for; timber has its section
    "post": ("post",),
    "lattice": ("lattice",),
    "fence boards": ("infill boards",),
    "wire": ("wire", "rod"),
    "fixing": ("eye bolt", "turnbuckle", "finial"),
}
LEAST_JOINT = Figure(0.005, "m3", f"less joint filling is swept up, not ordered; {HOUSE}")
AT_EDGE = (
    0.05  # m: an edge nearer than this to a house, the boundary or paving needs no edging of its own. House value.
)

AT_STEPS = 0.005  # m: nearer to the steps of its own path it is an edge of these. House value.


@attrs.frozen(kw_only=True)
class Depths:
    """Depths of what is spread, metres: a house's own choice within the published ranges."""

    mulch: float = float(MULCH_DEPTH)
    compost: float = float(COMPOST_DEPTH)


# ---- the take-off


def quantities(
    project: Project, worked: Layout, catalogue: Catalogue | None = None, *, depths: Depths | None = None
) -> tuple[Line, ...]:
    """Return every line of the take-off for a worked-out garden: beds, paths, areas, supports, things."""
    chosen = depths or Depths()
    lines: list[Line] = []
    standing, roots = worked.plants_by_bed(project.planting.plants), plane.pieces(roots_kept(project.site))
    lawns = [worked.ground_areas[p.name] for p in project.structure.ground_areas if ground_kind(p.kind).item == "lawn"]
    rooted = nearby.which_meet([bed.region for bed in worked.beds], roots)
    for bed, met in zip(worked.beds, rooted, strict=True):
        here = plane.union(roots[k] for k in met)
        of_bed = bed_lines(bed.name, bed.region, standing[bed.name], catalogue, depths=chosen, roots=here)
        lines += [line for line in of_bed if line.item != "mulch" or purpose_of(bed.purpose).mulch]
        if bed.edging_kind:
            lines.append(_edge(bed.name, bed.edging, f"{bed.edging_kind}, along paths and lawn"))
    for path in project.structure.paths:
        if path.name in worked.routes:
            free = free_edge(between_flights(path, worked), path.name, project, worked)
            lines += [*path_lines(path, worked, edged=free, units=project.units), *flight_lines(path, worked)]
            if surface_kind(path.surface).stone == "single":
                lines += stone_gap_lines(path, between_stones(worked, path.name), lawns=lawns, roots=roots)
    for ground_area in project.structure.ground_areas:
        region = worked.ground_areas[ground_area.name]
        free = free_edge(region, ground_area.name, project, worked)
        lines += ground_area_lines(ground_area, region, edged=free, units=project.units)
        built = ground_kind(ground_area.kind).built_as
        if ground_area.edging and not (built and surface_kind(built).edged):
            lines.append(_edge(ground_area.name, free, f"{ground_area.edging}, along beds and open ground"))
    lines += [
        *support_lines(project),
        *post_hole_lines(project),
        *thing_lines(project),
        *light_lines(project),
        *crop_lines(project, worked),
    ]
    held = held_in_fill(lines, worked)
    lines = [less_fill(line, held) for line in lines] + list(earth_lines(project, worked, built=sum(held.values())))
    return tuple(line for line in lines if line.amount > 0)


def bed_lines(
    name: str,
    region: plane.Region,
    plants: Sequence[Plant],
    catalogue: Catalogue | None,
    *,
    depths: Depths,
    roots: plane.Region = plane.NOWHERE,
) -> tuple[Line, ...]:
    """Return mulch and compost of one bed; mulch leaves each stem its gap, compost the ``roots`` of trees to keep."""
    area = plane.area(region)
    dug = plane.area(plane.difference(region, roots))
    clear = area - _stems(region, plants, catalogue) if plants else area
    mulch_rule = (
        f"{show_length(depths.mulch, small=True)} ({depths.mulch * 1000:.0f} mm) deep, none within "
        f"{STEM_GAP / INCH:g} in of stems and {TRUNK_GAP / INCH:g} in of trunks"
    )
    compost_rule = f"{show_length(depths.compost, small=True)} ({depths.compost * 1000:.0f} mm) dug in before planting"
    return (
        Line(
            item="mulch",
            where=name,
            amount=layer_volume(clear, depths.mulch),
            unit="m3",
            area=clear,
            rule=mulch_rule,
            source=IOWA,
        ),
        Line(
            item="compost",
            where=name,
            amount=layer_volume(dug, depths.compost),
            unit="m3",
            area=dug,
            rule=compost_rule + (NO_ROOTS if dug < area - ROOT_SLIVER else ""),
            source=COMPOST_DEPTH.source,
        ),
    )


def between_flights(path: Path, worked: Layout) -> plane.Region:
    """Return the ground of a path that its surface covers: all but that of its steps, which bring their own treads."""
    steps = under_steps(worked.flights.get(path.name, ()), worked.routes[path.name])
    return plane.difference(worked.surfaces[path.name], steps) if path.flights else worked.surfaces[path.name]


def path_take_off(path: Path, worked: Layout, *, units: System = "imperial") -> build_up.TakeOff:
    """Return the quantities of one path that runs, edged on both sides, less what its steps bring."""
    treads = sum(one.risers[-1] - one.risers[0] for one in worked.flights.get(path.name, ()) if one.risers)
    sides, laying = 2 * (worked.routes[path.name].length - treads), worked.layings[path.name]
    slabs = surface_kind(path.surface).stone == "slabs"
    choice = _bond_choice(path.bond, path.stones) if slabs else path.stones
    layers = build_up.layers_for(path.surface, units=units)
    return build_up.take_off(between_flights(path, worked), path.surface, laying, choice, layers=layers, sides=sides)


def _bond_choice(bond: str, usual: StoneChoice | None = None) -> StoneChoice:
    """Return stones as thick and as heavy as the units of a bond; the ``usual`` ones without a bond."""
    choice = usual or StoneChoice()
    if not bond:
        return choice
    kind = bond_kind(bond)
    return attrs.evolve(choice, thickness=float(kind.thick), density=float(kind.density))


def path_lines(
    path: Path, worked: Layout, *, edged: float | None = None, units: System = "imperial"
) -> tuple[Line, ...]:
    """Return what lies under, in and beside one path; ``edged`` metres of its edge are held, both sides without it."""
    laying, found = worked.layings[path.name], path_take_off(path, worked, units=units)
    lines = [*_layers(path.name, found, path.surface, units)]
    if path.bond and surface_kind(path.surface).stone == "slabs" and found.stone_area:
        lines.append(_bonded(path.name, between_flights(path, worked), path.bond))
    elif found.stone_area:
        item = "paving" if surface_kind(path.surface).stone == "slabs" else "stones"
        heaviest = max((s.weight for s in laying.stones), default=0.0)
        rule = f"{in_both(path.stones.thickness)} thick at {path.stones.density * CUBIC_FOOT / POUND:.0f} lb/cu ft"
        if heaviest:
            rule += f", heaviest {heaviest / POUND:.0f} lb ({heaviest:.0f} kg)"
        source = (
            "stone suppliers' estimating weight, 165 lb/cu ft"
            if path.stones == attrs.evolve(path.stones, density=StoneChoice().density)
            else "weight as the designer gave it"
        )
        lines.append(
            Line(
                item=item,
                where=path.name,
                amount=found.stone_weight,
                unit="kg",
                area=found.stone_area,
                count=len(laying.stones),
                rule=rule,
                source=source,
            )
        )
    if surface_kind(path.surface).loose == "topsoil" and found.area:
        rule = "the grass of the path, on its topsoil"
        lines.append(Line(item="lawn", where=path.name, amount=found.area, unit="m2", area=found.area, rule=rule))
    if surface_kind(path.surface).edged:
        thick, deep = (in_both(as_built(one, units)) for one in (EDGING_THICK, EDGING_DEEP))
        strip = f"steel strip {thick} by {deep} unless you choose another"
        rule = f"{strip}; both sides of the path, not along house, boundary or paving"
        lines.append(_edge(path.name, found.edging if edged is None else edged, rule))
    return (*lines, *_dug(path.name, found, path.surface))


def ground_area_lines(
    ground_area: GroundArea, region: plane.Region, *, edged: float | None = None, units: System = "imperial"
) -> tuple[Line, ...]:
    """Return what one paved or lawn area takes, by the row of its kind; ``edged`` metres of its edge are held."""
    kind, area = ground_kind(ground_area.kind), plane.area(region)
    if kind.built_as:
        return _built(ground_area, region, kind.built_as, plane.perimeter(region) if edged is None else edged, units)
    if kind.base is not None:
        deep = as_built(kind.base, units)
        amount = area * deep * (1 + COMPACTING)
        rule = f"{in_both(deep)}, and 10 % more for compacting"
        item, source = "crushed stone", kind.base.source
        base = Line(item=item, where=ground_area.name, amount=amount, unit="m3", area=area, rule=rule, source=source)
        return (base, *dug_lines(ground_area.name, area * deep, "for its base"))
    if kind.water and area > 0:
        made = pond(region, depth=ground_area.depth or float(kind.deep or 0.0), lift=ground_area.lift, units=units)
        sides = " by ".join(show_length(side) for side in made.liner)
        rule = (
            f"liner {sides}: each side of the pond, twice its depth of {show_length(made.depth)}, and 1 ft at each edge"
        )
        liner = Line(
            item="pond",
            where=ground_area.name,
            amount=made.liner_area,
            unit="m2",
            rule=rule,
            source=OVERLAP.source,
            sheet=made.liner,
        )
        return (liner, *dug_lines(ground_area.name, made.litres / 1000, "the pond's hole", priced=False))
    if kind.sown is not None:
        rule, source = (
            f"{kind.rule}: {area * kind.sown / POUND:.2f} lb ({1000 * area * kind.sown:.0f} g) of seed",
            kind.sown.source,
        )
        return (
            Line(item=kind.item, where=ground_area.name, amount=area, unit="m2", area=area, rule=rule, source=source),
        )
    return (Line(item=kind.item, where=ground_area.name, amount=area, unit="m2", area=area, rule=kind.rule),)


def free_edge(region: plane.Region, name: str, project: Project, worked: Layout) -> float:
    """Return how many metres of the edge of a path or area lie along open ground, where loose material would spread."""
    site = project.site
    others = [shape for key, shape in {**worked.surfaces, **worked.ground_areas}.items() if key != name]
    held = [*others, *(plane.region(house.outline) for house in site.buildings)]
    (close,) = nearby.which_meet([plane.grown(region, 3 * AT_EDGE)], held)
    near = [plane.grown(held[k], AT_EDGE) for k in close]
    if name in worked.routes:
        near.append(plane.grown(under_steps(worked.flights.get(name, ()), worked.routes[name]), AT_STEPS))
    if site.boundary:
        near.append(plane.grown(plane.line([*site.boundary, site.boundary[0]]), AT_EDGE))
    open_ground = plane.difference(plane.grown(region, AT_EDGE), plane.union(near))
    rims = [plane.line([*ring, ring[0]]) for ring in plane.rings(region)]
    pieces = [piece for rim in rims for piece in plane.lines_within(rim, open_ground)]
    return sum(math.dist(a, b) for piece in pieces for a, b in pairwise(piece))


def _bonded(where: str, region: plane.Region, bond: str) -> Line:
    """Return the units of paving laid in a bond, those of the cut pieces counted whole."""
    kind, laid = bond_kind(bond), laid_in(region, bond)
    ordered, how = bond_words(region, bond)
    rule = f"{how}; {kind.unit} {_inches(kind.long)} x {_inches(kind.wide)} x {_inches(kind.thick)}"
    return Line(
        item="paving",
        where=where,
        amount=laid.area * kind.thick * kind.density,
        unit="kg",
        area=plane.area(region),
        count=ordered,
        rule=f"{rule} in, joints {_inches(kind.joint)} in",
        source=kind.more.source,
    )


def _inches(metres: float) -> str:
    return f"{metres / INCH:.4g}"


def _built(
    ground_area: GroundArea, region: plane.Region, surface: str, edged: float, units: System
) -> tuple[Line, ...]:
    """Return what an area takes that is built up like a path of a surface."""
    where, slabs = ground_area.name, surface_kind(surface).stone == "slabs"
    choice = _bond_choice(ground_area.bond) if slabs else StoneChoice()
    found = build_up.take_off(region, surface, Laying(), choice, layers=build_up.layers_for(surface, units=units))
    lines = _layers(where, found, surface, units)
    if ground_area.bond and slabs and found.stone_area:
        lines.append(_bonded(where, region, ground_area.bond))
    elif found.stone_area:
        rule = f"{in_both(StoneChoice().thickness)} stone, joints not taken off"
        lines.append(Line(item="paving", where=where, amount=found.stone_weight, unit="kg", area=found.area, rule=rule))
    if surface_kind(surface).edged:
        lines.append(_edge(where, edged, f"round the {surface}, not along house, boundary or paving"))
    return (*lines, *_dug(where, found, surface))


def support_lines(project: Project) -> tuple[Line, ...]:
    """Return what each support is built from, by the items it is bought as: posts, timber, lattice, wire, concrete,
    and the gates in it; the first line of each says its weight.
    """
    source = post_rule(project.structure.post_rule)[1]
    deep = {support.name: float(support.depth or DEPTH_UNKNOWN) for support in project.structure.supports}
    made: dict[str, list[Line]] = {}
    for name, part in support_parts(project):
        made.setdefault(name, []).append(_part_line(name, part, depth=deep[name], source=source))
    areas = {area.name for area in project.structure.ground_areas}
    for gate in project.site.openings:
        if gate.kind == "gate" and (gate.on in made or gate.on in areas):
            rule = f'gate "{gate.name}", {show_length(gate.width)} wide, with hinges and latch'
            made.setdefault(gate.on, []).append(
                Line(item="gate", where=gate.on, amount=1, unit="each", count=1, rule=rule)
            )
    return tuple(
        attrs.evolve(
            line, rule=f"{line.rule}; {weight_said(lines)}", source=f"{line.source}; weight: {SOFTWOOD.source}"
        )
        if number == 0
        else line
        for lines in made.values()
        for number, line in enumerate(lines)
    )


def post_hole_lines(project: Project) -> tuple[Line, ...]:
    """Return the soil that the holes of set posts leave over: all of it, as post and concrete fill them."""
    choice, holes = posts_of(project.structure, project.units), dict[str, float]()
    deep = {one.name: one for one in project.structure.supports}
    around = math.pi * hole_diameter(choice.across) ** 2 / 4
    parts = support_parts(project)
    set_in = {name for name, part in parts if part.unit == "bags"}
    for name, part in parts:
        if name in set_in and part.name == "post":
            holes[name] = holes.get(name, 0.0) + part.count * around * (part.length - deep[name].height)
    rule = "the holes of its posts"
    return tuple(line for name, soil in holes.items() for line in dug_lines(name, soil, rule, priced=False))


def _part_line(where: str, part: Part, *, depth: float, source: str) -> Line:
    """Return one part of a support as a line; ``depth`` is how wide its side lattices are, m."""
    if part.name == "concrete":
        rule = part.note or "holes three posts wide, a third of each post in the ground"
        return Line(item="concrete", where=where, amount=part.count, unit="each", rule=rule, source=source)
    rule = part.name if not part.note else f"{part.name}: {part.note}"
    bought = (item for item, words in BOUGHT_AS.items() if any(word in part.name for word in words))
    item = part.size.item if part.size else next(bought, "timber")
    if item == "fixing":
        return Line(item=item, where=where, amount=part.count, unit="each", rule=rule)
    if item in ("lattice", "fence boards"):
        area = part.count if part.unit == "m2" else part.count * part.length * depth
        return Line(item=item, where=where, amount=area, unit="m2", area=area, rule=rule)
    pieces = part.unit == "pieces"
    long = part.count * part.length if pieces else part.count
    return Line(item=item, where=where, amount=long, unit="m", count=round(part.count) if pieces else 0, rule=rule)


def support_parts(project: Project) -> tuple[tuple[str, Part], ...]:
    """Return (support, part) for every piece that the supports are built from; one without length has none."""
    choice = posts_of(project.structure, project.units)
    found: list[tuple[str, Part]] = []
    for support in project.structure.supports:
        try:
            found += [
                (support.name, part) for part in parts_list(support, posts=choice, openings=project.site.openings)
            ]
        except GardenError:  # said in 04_structure; the take-off goes on without it
            continue
    return tuple(found)


def areas(worked: Layout) -> tuple[tuple[str, str, float, float], ...]:
    """Return (kind, name, area m2, edge m) of every bed, path and area."""
    rows = [("bed", bed.name, bed.area, bed.edging) for bed in worked.beds]
    rows += [("path", name, plane.area(r), 2 * worked.routes[name].length) for name, r in worked.surfaces.items()]
    rows += [("ground_area", name, plane.area(r), plane.perimeter(r)) for name, r in worked.ground_areas.items()]
    return tuple(rows)


def quantity_findings(project: Project, *, depths: Depths | None = None) -> tuple[Finding, ...]:
    """Return what to mind when ordering: mulch depth outside the published range, posts without a frost depth."""
    chosen = depths or Depths()
    found: list[Finding] = []
    low, high = MULCH
    if not low <= chosen.mulch <= high:
        found.append(
            Finding(
                where="mulch",
                what=f"{show_length(chosen.mulch, small=True)} is outside {low / INCH:g} to {high / INCH:g} in",
                why="too thin lets weeds through, too thick keeps rain off",
                source=low.source,
                seriousness="caution",
                topic="mulch",
            )
        )
    found.append(
        Finding(where="mulch", what="keep mulch off stems and trunks", source=MULCH_AT_STEM.source, topic="mulch")
    )
    stepped = [path.name for path in project.structure.paths if path.flights]
    if stepped:
        what = (
            f"the steps of {' and '.join(stepped)} are priced by their width, material only; ask a builder for the work"
        )
        found.append(Finding(where="steps", what=what, seriousness="caution", topic="cost"))
    if not project.structure.frost_depth and any(line.item == "concrete" for line in support_lines(project)):
        what = "posts are reckoned without frost; ask the building office for the frost depth and set posts below it"
        found.append(Finding(where="supports", what=what, source=LOCAL_CODE, seriousness="caution", topic="supports"))
    return tuple(found)


# ---- helpers


def _layers(where: str, found: TakeOff, surface: str, units: System) -> list[Line]:
    kind, layers = surface_kind(surface), build_up.layers_for(surface, units=units)
    usual = kind.layers
    rows = (
        ("crushed stone", found.base * (1 + COMPACTING), layers.base, found.base_area, usual.base),
        (
            "bedding",
            found.bedding,
            layers.bedding,
            found.area if kind.stone != "single" else found.stone_area,
            usual.bedding,
        ),
        (kind.loose, found.surface, layers.surface, found.area, usual.surface),
        ("joint filling", found.joint, 0.0, found.joint_area, 0.0),
    )
    return [
        Line(
            item=item,
            where=where,
            amount=amount,
            unit="m3",
            area=area,
            rule=_depth_rule(item, depth, layers.overdig),
            source=getattr(asked, "source", PLAIN),
        )
        for item, amount, depth, area, asked in rows
        if amount > (LEAST_JOINT if item == "joint filling" else 0.0)
    ]


def _dug(where: str, found: TakeOff, surface: str) -> tuple[Line, ...]:
    """Return the digging for a path or paved area: its layers and its stone; soil that is only raked in stays."""
    kept = found.surface if surface_kind(surface).loose == "topsoil" else 0.0
    return dug_lines(where, found.dug - kept, f"to below the layers of the {surface}")


def _depth_rule(item: str, depth: float, overdig: float) -> str:
    if item == "joint filling":
        return "joints filled to the thickness of the stone"
    words = f"{in_both(depth)} deep"
    if item == "crushed stone":
        words += f", {in_both(overdig)} past the edge, and 10 % more for compacting"
    return words


def _edge(where: str, length: float, rule: str) -> Line:
    return Line(item="edging", where=where, amount=length, unit="m", rule=rule)


def _stems(region: plane.Region, plants: Sequence[Plant], catalogue: Catalogue | None) -> float:
    """Return how many square metres of a bed are left free round the stems; only rounds that touch another or the edge
    are cut and joined, which costs most.
    """

    def gap(kind: str) -> float:
        woody = catalogue is not None and kind in catalogue and catalogue[kind].layer in WOODY
        return float(TRUNK_GAP if woody else STEM_GAP)

    of_kind = {kind: gap(kind) for kind in {plant.species for plant in plants}}
    at, gaps = np.array([p.at for p in plants], dtype=float), np.array([of_kind[p.species] for p in plants])
    rounds = np.array(plane.circles(at, gaps, sides=16))
    alone = outlines.inside(rounds, region)
    alone[np.unique(nearby.near_pairs(at, 2 * float(gaps.max())))] = False
    joined = plane.intersection(region, plane.union(rounds[~alone]))
    return float(outlines.areas(rounds[alone]).sum()) + plane.area(joined)
