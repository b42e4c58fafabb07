"""The take-off: how much mulch, compost, gravel, sand, stone and edging the garden takes, and what to order."""

from collections.abc import Sequence

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.lighting import light_lines
from gardenkit.schedules.lines import Line
from gardenkit.schedules.steps import flight_lines
from gardenkit.schedules.things import thing_lines
from gardenkit.site.amendments import COMPOST_NEW_BED, MULCH, MULCH_AT_STEM, layer_volume
from gardenkit.sources import MEMORY, PLAIN, Figure
from gardenkit.structure import build_up
from gardenkit.structure.build_up import COMPACTING, TakeOff
from gardenkit.structure.kinds import parts_list, patch_kind, surface_kind
from gardenkit.structure.kinds.support_parts import Part, posts_of
from gardenkit.structure.laying import Laying
from gardenkit.structure.posts import POST_RULES
from gardenkit.structure.structure import Patch, Path, StoneChoice
from gardenkit.units import (
    CUBIC_FOOT,
    INCH,
    POUND,
    show_length,
)

IOWA = "Iowa State Univ. Extension: 3-4 in on well drained soil, 2-3 in on heavy soil, 6 in or more off trunks"
MULCH_DEPTH = Figure(3 * INCH, "m", IOWA)
COMPOST_DEPTH = Figure(COMPOST_NEW_BED[0], "m", COMPOST_NEW_BED[0].source)
STEM_GAP = Figure(2.5 * INCH, "m", f"2-3 in for shrubs and perennials; {MEMORY}")
TRUNK_GAP = Figure(6 * INCH, "m", IOWA)
WOODY = ("tree", "conifer", "wall fruit")


@attrs.frozen(kw_only=True)
class Depths:
    """Depths of what is spread, metres: a house's own choice within the published ranges."""

    mulch: float = float(MULCH_DEPTH)
    compost: float = float(COMPOST_DEPTH)


# ---- the take-off


def quantities(
    project: Project, worked: Layout, catalogue: Catalogue | None = None, *, depths: Depths | None = None
) -> tuple[Line, ...]:
    """Return every line of the take-off for a worked-out garden: beds, paths, patches, supports, things."""
    chosen = depths or Depths()
    lines: list[Line] = []
    standing = worked.plants_by_bed(project.planting.plants)
    for bed in worked.beds:
        lines += bed_lines(bed.name, bed.region, standing[bed.name], catalogue, depths=chosen)
        if bed.edging_kind:
            lines.append(_edge(bed.name, bed.edging, f"{bed.edging_kind}, along paths and lawn"))
    for path in project.structure.paths:
        if path.name in worked.routes:
            lines += [*path_lines(path, worked), *flight_lines(path, worked)]
    for patch in project.structure.patches:
        lines += patch_lines(patch, worked.patches[patch.name])
    lines += [*support_lines(project), *thing_lines(project), *light_lines(project)]
    return tuple(line for line in lines if line.amount > 0)


def bed_lines(
    name: str, region: plane.Region, plants: Sequence[Plant], catalogue: Catalogue | None, *, depths: Depths
) -> tuple[Line, ...]:
    """Return mulch and compost of one bed; mulch leaves each stem its gap."""
    area = plane.area(region)
    clear = plane.area(plane.difference(region, _stems(plants, catalogue))) if plants else area
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
            amount=layer_volume(area, depths.compost),
            unit="m3",
            area=area,
            rule=compost_rule,
            source=COMPOST_DEPTH.source,
        ),
    )


def path_take_off(path: Path, worked: Layout) -> build_up.TakeOff:
    """Return the quantities of one path that runs, edged on both sides."""
    sides, laying = 2 * worked.routes[path.name].length, worked.layings[path.name]
    return build_up.take_off(worked.surfaces[path.name], path.surface, laying, path.stones, sides=sides)


def path_lines(path: Path, worked: Layout) -> tuple[Line, ...]:
    """Return what lies under, in and beside one path."""
    laying, found = worked.layings[path.name], path_take_off(path, worked)
    lines = [*_layers(path.name, found, path.surface)]
    if found.stone_area:
        item = "paving" if surface_kind(path.surface).stone == "slabs" else "stones"
        heaviest = max((s.weight for s in laying.stones), default=0.0)
        rule = f"{path.stones.thickness / INCH:.3g} in thick at {path.stones.density * CUBIC_FOOT / POUND:.0f} lb/cu ft"
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
    if surface_kind(path.surface).edged:
        lines.append(_edge(path.name, found.edging, "both sides of the path"))
    return tuple(lines)


def patch_lines(patch: Patch, region: plane.Region) -> tuple[Line, ...]:
    """Return what one paved or lawn area takes, by the row of its kind."""
    kind, area = patch_kind(patch.kind), plane.area(region)
    if kind.built_as:
        return _built(patch.name, region, kind.built_as)
    if kind.base is not None:
        amount = area * kind.base * (1 + COMPACTING)
        rule = f"{kind.base / INCH:g} in, and 10 % more for compacting"
        item, source = "crushed stone", kind.base.source
        return (Line(item=item, where=patch.name, amount=amount, unit="m3", area=area, rule=rule, source=source),)
    return (Line(item=kind.item, where=patch.name, amount=area, unit="m2", area=area, rule=kind.rule),)


def _built(where: str, region: plane.Region, surface: str) -> tuple[Line, ...]:
    """Return what an area takes that is built up like a path of a surface."""
    found = build_up.take_off(region, surface, Laying(), StoneChoice())
    lines = _layers(where, found, surface)
    if found.stone_area:
        rule = f"{StoneChoice().thickness / INCH:.2g} in stone, joints not taken off"
        lines.append(Line(item="paving", where=where, amount=found.stone_weight, unit="kg", area=found.area, rule=rule))
    if surface_kind(surface).edged:
        lines.append(_edge(where, plane.perimeter(region), f"round the {surface}"))
    return tuple(lines)


def support_lines(project: Project) -> tuple[Line, ...]:
    """Return the bags of concrete for the posts of each support."""
    return tuple(
        Line(
            item="concrete",
            where=name,
            amount=part.count,
            unit="each",
            rule=part.note or "holes three posts wide, a third of each post in the ground",
            source=POST_RULES[project.structure.post_rule][1],
        )
        for name, part in support_parts(project)
        if part.name.startswith("concrete")
    )


def support_parts(project: Project) -> tuple[tuple[str, Part], ...]:
    """Return (support, part) for every piece that the supports are built from; one without length has none."""
    choice = posts_of(project.structure)
    found: list[tuple[str, Part]] = []
    for support in project.structure.supports:
        try:
            found += [
                (support.name, part) for part in parts_list(support, posts=choice, openings=project.site.openings)
            ]
        except GardenError:  # said on the structure page; the take-off goes on without it
            continue
    return tuple(found)


def areas(worked: Layout) -> tuple[tuple[str, str, float, float], ...]:
    """Return (kind, name, area m2, edge m) of every bed, path and patch."""
    rows = [("bed", bed.name, bed.area, bed.edging) for bed in worked.beds]
    rows += [("path", name, plane.area(r), 2 * worked.routes[name].length) for name, r in worked.surfaces.items()]
    rows += [("patch", name, plane.area(r), plane.perimeter(r)) for name, r in worked.patches.items()]
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
    if not project.structure.frost_depth and support_lines(project):
        what = "posts are reckoned without frost; ask the building office for the frost depth and set posts below it"
        found.append(Finding(where="supports", what=what, source=LOCAL_CODE, seriousness="caution", topic="supports"))
    return tuple(found)


# ---- helpers


def _layers(where: str, found: TakeOff, surface: str) -> list[Line]:
    kind = surface_kind(surface)
    layers = kind.layers
    rows = (
        ("crushed stone", found.base * (1 + COMPACTING), layers.base, found.base_area),
        ("bedding", found.bedding, layers.bedding, found.stone_area if kind.stone == "single" else found.area),
        (kind.loose, found.surface, layers.surface, found.area),
        ("joint filling", found.joint, 0.0, found.joint_area),
    )
    return [
        Line(
            item=item,
            where=where,
            amount=amount,
            unit="m3",
            area=area,
            rule=_depth_rule(item, depth, layers.overdig),
            source=getattr(depth, "source", PLAIN),
        )
        for item, amount, depth, area in rows
        if amount > 0
    ]


def _depth_rule(item: str, depth: float, overdig: float) -> str:
    if item == "joint filling":
        return "joints filled to the thickness of the stone"
    words = f"{depth / INCH:.3g} in ({depth * 1000:.0f} mm) deep"
    if item == "crushed stone":
        words += f", {overdig / INCH:.3g} in past the edge, and 10 % more for compacting"
    return words


def _edge(where: str, length: float, rule: str) -> Line:
    return Line(item="edging", where=where, amount=length, unit="m", rule=rule)


def _stems(plants: Sequence[Plant], catalogue: Catalogue | None) -> plane.Region:
    def gap(plant: Plant) -> float:
        woody = catalogue is not None and plant.species in catalogue and catalogue[plant.species].layer in WOODY
        return float(TRUNK_GAP if woody else STEM_GAP)

    return plane.union(plane.circle(p.at, gap(p), sides=16) for p in plants)
