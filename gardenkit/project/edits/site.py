"""Every change of the site: the place, the boundary, what stands on the ground, its heights, survey, soil and climate.

A thing on the ground is a building, opening, fence, tree or obstacle; each has a name of its own. Doors and windows
follow the wall they are in, gates the boundary or fence; what is renamed is renamed wherever it is named.
"""

import math
from collections.abc import Sequence
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point, Shape
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.references import mentions_of_site, renamed_on_site
from gardenkit.project.solids import ground_height
from gardenkit.site.climate import Climate, check_months
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.site.sky import zone_of
from gardenkit.site.soil import Soil, soil_texture
from gardenkit.site.sun_diary import Observation, compare
from gardenkit.site.survey import Survey
from gardenkit.site.tracing import Underlay
from gardenkit.site.tree_protection import root_rule
from gardenkit.site.walls_and_openings import follow, on_line, opening_at
from gardenkit.structure.kinds import support_kind
from gardenkit.units import show_length

NEIGHBOURHOOD = 60.0  # m outside the boundary: what lies further off neither shades nor is seen. House value.
Thing = Building | Opening | Fence | ExistingTree | Obstacle
SECTIONS: dict[type[Any], tuple[str, str]] = {  # record: the field of the site it is kept in, its word
    Building: ("buildings", "building"),
    Opening: ("openings", "opening"),
    Fence: ("fences", "fence"),
    ExistingTree: ("trees", "tree"),
    Obstacle: ("obstacles", "obstacle"),
}
KINDS: dict[str, type[Any]] = {  # what stands on the ground by the word for it
    "building": Building,
    **dict.fromkeys(("door", "window", "gate"), Opening),
    "fence": Fence,
    "tree": ExistingTree,
    "obstacle": Obstacle,
}


# ---- the place and the plot


def set_place(project: Project, *, y_bearing: float | None = None, **changes: Any) -> Project:
    """Say where on earth the garden lies (fields of ``Place``), and where its plan's y axis points (degrees).

    Raises GardenError for a time zone that is not known.
    """
    place = attrs.evolve(project.site.place, **changes)
    zone_of(place)
    turn = project.site.y_bearing if y_bearing is None else y_bearing % 360
    return _site(project, place=place, y_bearing=turn)


def set_boundary(project: Project, corners: Outline) -> Project:
    """Set the corners of the plot; its gates stay on it, at the nearest place."""
    boundary = plane.outline(corners, where="the boundary")
    edge = (*boundary, boundary[0])
    openings = tuple(
        attrs.evolve(o, **on_line(edge, o.middle, o.width, o.name)) if o.kind == "gate" and not o.on else o
        for o in project.site.openings
    )
    return _site(project, boundary=boundary, openings=openings)


def move_boundary_corner(project: Project, index: int, *, to: Point) -> Project:
    """Move one corner of the plot."""
    return set_boundary(project, _with_corner(project.site.boundary, index, to, "the boundary"))


def set_underlay(project: Project, picture: Underlay | None) -> Project:
    """Lay a scan or photo under the plan, or take it away (None)."""
    return _site(project, underlay=picture)


# ---- things on the ground


def things(site: Site) -> tuple[Thing, ...]:
    """Return everything on record that stands on the ground."""
    return (*site.buildings, *site.openings, *site.fences, *site.trees, *site.obstacles)


def thing(project: Project, name: str) -> Thing:
    """Return one thing on the ground by its name. Raises GardenError naming the nearest known one."""
    return by_name(things(project.site), name, "thing on the ground")


def free_thing_name(project: Project, wanted: str) -> str:
    """Return a name that nothing on the ground has: the wanted one, or with the first free number."""
    return free_name(wanted, [x.name for x in things(project.site)])


def add_thing(project: Project, record: Thing) -> Project:
    """Add a building, opening, fence, tree or obstacle. Raises GardenError for a name that is taken."""
    section, word = SECTIONS[type(record)]
    name = new_name(record.name, [x.name for x in things(project.site)], word)
    record = attrs.evolve(record, name=name)
    _stands_free(project, record)
    return _site(project, **{section: (*getattr(project.site, section), record)})


def add_opening(
    project: Project, kind: str, name: str, *, at: Point, width: float, sill: float, head: float
) -> Project:
    """Put a door or window into the nearest wall, or a gate into the nearest boundary or fence line.

    Raises GardenError when there is none within a metre, or it is wider than what it stands in.
    """
    values = {"name": name, "at": at, "width": width, "sill": sill, "head": head}
    return add_thing(project, opening_at(values, kind, project.site, None, fences=_designed(project)))


def put_up(project: Project, kind: str, /, **fields: Any) -> Project:
    """Put up a building, door, window, gate, fence, tree or obstacle from its fields, named after its kind if nameless.

    An opening is given by its middle ``at`` and its ``width``. Raises GardenError for what cannot be.
    """
    fields["name"] = str(fields.get("name", "")).strip() or free_thing_name(project, kind)
    if KINDS[kind] is Opening:
        return add_opening(project, kind, **fields)
    return add_thing(project, _sound(KINDS[kind](**fields)))


def alter(project: Project, name: str, /, **fields: Any) -> Project:
    """Change some fields of a thing on the ground; an opening may be given another ``at`` and ``width``."""
    old = thing(project, name)
    if isinstance(old, Opening):
        values = {"name": name, "at": old.middle, "width": old.width, "sill": old.sill, "head": old.head} | fields
        return change_thing(project, name, opening_at(values, old.kind, project.site, old, fences=_designed(project)))
    return change_thing(project, name, _sound(attrs.evolve(old, **fields)))


def change_thing(project: Project, name: str, record: Thing) -> Project:
    """Put another record in the place of a thing; doors follow their wall, a new name is passed on everywhere."""
    old = thing(project, name)
    section, word = SECTIONS[type(record)]
    if type(old) is not type(record):
        raise GardenError(f'"{name}" is a {SECTIONS[type(old)][1]}, not a {word}; remove it and add the {word}')
    if record.name != name:
        others = [x.name for x in things(project.site) if x.name != name]
        record = attrs.evolve(record, name=new_name(record.name, others, word))
    _stands_free(project, record)
    changed = _site(project, **{section: put(getattr(project.site, section), name, record)})
    if isinstance(record, (Building, Fence)):
        openings = tuple(follow(o, name, record) for o in changed.site.openings)
        changed = _site(changed, openings=openings)
    return renamed_on_site(changed, name, record.name) if record.name != name else changed


def rename_thing(project: Project, name: str, *, to: str) -> Project:
    """Give a thing on the ground another name, wherever it is named."""
    return change_thing(project, name, attrs.evolve(thing(project, name), name=to))


def remove_thing(project: Project, name: str) -> Project:
    """Take a thing off the record. Raises GardenError while doors, paths or supports hold on to it."""
    old = thing(project, name)
    held = mentions_of_site(project, name)
    if held:
        raise GardenError(f'"{name}" cannot go yet: {"; ".join(held)}; change or remove that first')
    section, _ = SECTIONS[type(old)]
    return _site(project, **{section: without(getattr(project.site, section), name)})


def move_thing(project: Project, name: str, *, to: Point) -> Project:
    """Move a tree to a place, or slide an opening along the line it is in. Raises GardenError for what has corners."""
    old = thing(project, name)
    if isinstance(old, ExistingTree):
        return change_thing(project, name, attrs.evolve(old, at=to))
    if isinstance(old, Opening):
        values = {"name": name, "at": to, "width": old.width, "sill": old.sill, "head": old.head}
        return change_thing(
            project, name, opening_at(values, old.kind, project.site, old, fences=_designed(project), reach=math.inf)
        )
    raise GardenError(f'"{name}" is moved by its corners; move one of them instead')


def move_thing_corner(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Move one corner of a building or obstacle, or one point of a fence."""
    old = thing(project, name)
    if isinstance(old, Fence):
        return change_thing(project, name, attrs.evolve(old, line=_with_corner(old.line, index, to, f'"{name}"')))
    if isinstance(old, (Building, Obstacle)):
        corners = _with_corner(old.outline, index, to, f'"{name}"')
        return change_thing(project, name, attrs.evolve(old, outline=plane.outline(corners, where=f'"{name}"')))
    raise GardenError(f'"{name}" has no corners; move it whole')


# ---- measured and found out


def set_root_rule(project: Project, rule: str) -> Project:
    """Choose by which rule the roots of kept trees are protected; raises GardenError for one that is not known."""
    return _site(project, root_rule=root_rule(rule).name)


def set_heights(project: Project, heights: Sequence[SpotHeight]) -> Project:
    """Set the spot heights of the ground."""
    return _site(project, heights=tuple(heights))


def add_height(project: Project, *, at: Point, height: float | None = None, name: str = "") -> Project:
    """Note a height of the ground as found; without a ``height``, what is known of it there, until it is measured."""
    taken = [one.name for one in project.site.heights]
    called = new_name(name, taken, "ground height") if name.strip() else free_name("height", taken)
    level = ground_height(project.site)(at) if height is None else height
    return _site(project, heights=(*project.site.heights, _sound(SpotHeight(at=at, height=level, name=called))))


def change_height(project: Project, index: int, /, **fields: Any) -> Project:
    """Change some fields of a ground height by its place in the list: its name, where it is, how high."""
    known = project.site.heights
    old = _height(project, index)
    others = [one.name for one in known if one is not old]
    if fields.get("name", old.name).strip() not in ("", old.name):
        fields["name"] = new_name(fields["name"], others, "ground height")
    changed = _sound(attrs.evolve(old, **fields))
    return _site(project, heights=(*known[:index], changed, *known[index + 1 :]))


def remove_height(project: Project, index: int) -> Project:
    """Take a ground height out, by its place in the list."""
    gone = _height(project, index)
    return _site(project, heights=tuple(one for one in project.site.heights if one is not gone))


def set_survey(project: Project, survey: Survey) -> Project:
    """Set the tape survey."""
    return _site(project, survey=survey)


def set_house_from_survey(project: Project, outline: Outline) -> Project:
    """Draw the first building by surveyed corners, or put up a new one called "house"; its doors follow."""
    corners = plane.outline(outline, where="the house from the survey")
    if not project.site.buildings:
        return add_thing(project, Building(name=free_thing_name(project, "house"), outline=corners))
    first = project.site.buildings[0]
    return change_thing(project, first.name, attrs.evolve(first, outline=corners))


def set_soil(project: Project, soil: Soil) -> Project:
    """Set what is known of the soil. Raises GardenError for shares or jar marks that no soil has."""
    soil_texture(soil)
    return _site(project, soil=soil)


def change_soil(project: Project, **changes: Any) -> Project:
    """Change single figures of the soil."""
    return set_soil(project, attrs.evolve(project.site.soil, **changes))


def set_climate(project: Project, climate: Climate) -> Project:
    """Set what is known of the climate. Raises GardenError for a month colder by day than by night."""
    check_months(climate)
    return _site(project, climate=climate)


def change_climate(project: Project, **changes: Any) -> Project:
    """Change single figures of the climate."""
    return set_climate(project, attrs.evolve(project.site.climate, **changes))


def add_seen(project: Project, *, at: Point, **seen: Any) -> Project:
    """Note in the sun diary what was seen at a spot: ``date``, ``start``, ``end``, ``sunny``, ``note``.

    Raises GardenError for an entry that cannot be, such as one that ends before it starts.
    """
    height = round(ground_height(project.site)(at), 3)
    entry = _seen(project, Observation(at=at, height=height, **seen))
    return _site(project, diary=(*project.site.diary, entry))


def change_seen(project: Project, index: int, **changes: Any) -> Project:
    """Change what one line of the sun diary says; raises GardenError for one that is not there or cannot be."""
    old = _diary_line(project, index)
    entry = _seen(project, attrs.evolve(old, **changes))
    return _site(project, diary=tuple(entry if i == index else o for i, o in enumerate(project.site.diary)))


def remove_observation(project: Project, index: int) -> Project:
    """Take one line out of the diary of sun and shade. Raises GardenError for a number that is not there."""
    _diary_line(project, index)
    return _site(project, diary=tuple(o for i, o in enumerate(project.site.diary) if i != index))


# ---- helpers


def _sound(record: Any) -> Any:
    """Return a thing whose fields fit together; a tree with one month of its leaves missing is evergreen."""
    if isinstance(record, Building) and record.ridge_height < record.eaves:
        raise GardenError(f'building "{record.name}" has its ridge below its eaves; raise the ridge or lower the eaves')
    if isinstance(record, ExistingTree) and None in (record.leaf_on, record.leaf_off):
        return attrs.evolve(record, leaf_on=None, leaf_off=None)
    return record


def _designed(project: Project) -> list[tuple[str, Line]]:
    """Return the fences, screens and hedges of the design, which a gate may stand in, by name."""
    return [(s.name, s.line) for s in project.structure.supports if support_kind(s.kind).barrier and not s.against]


def _stands_free(project: Project, record: Thing) -> None:
    """Raise GardenError for a tree inside a building, a building put over a tree, and what lies far from the plot."""
    site, what = project.site, f'{SECTIONS[type(record)][1]} "{record.name}"'
    shape = shape_of(record)
    if isinstance(record, ExistingTree):
        for building in site.buildings:
            if plane.contains(plane.region(building.outline), record.at):
                raise GardenError(f"{what} would stand inside {building.name}; put it in the open")
    if isinstance(record, Building):
        for tree in site.trees:
            if plane.contains(shape, tree.at):
                raise GardenError(f'{what} would stand over tree "{tree.name}"; move or remove the tree first')
    far = plane.distance(plane.region(site.boundary), shape) if site.boundary else 0.0
    if far > NEIGHBOURHOOD:
        away = show_length(far, project.units)
        raise GardenError(f"{what} would lie {away} outside the boundary; check its place and the unit")


def shape_of(one: Thing) -> Shape:
    """Return what a thing takes of the plan: an area, a line, or the spot of a stem."""
    if isinstance(one, Opening):
        return plane.line((one.start, one.end))
    if isinstance(one, ExistingTree):
        return plane.point(one.at)
    return plane.line(one.line) if isinstance(one, Fence) else plane.region(one.outline)


def _height(project: Project, index: int) -> SpotHeight:
    heights = project.site.heights
    if not 0 <= index < len(heights):
        raise GardenError(f"there is no ground height {index + 1}; {len(heights)} are noted")
    return heights[index]


def _diary_line(project: Project, index: int) -> Observation:
    diary = project.site.diary
    if not 0 <= index < len(diary):
        raise GardenError(f"the sun diary has no line {index + 1}; it has {len(diary)}")
    return diary[index]


def _seen(project: Project, entry: Observation) -> Observation:
    """Return an entry that can be; setting it beside an empty sky refuses what cannot."""
    compare([entry], (), project.site.place)
    return entry


def _site(project: Project, **changes: Any) -> Project:
    return attrs.evolve(project, site=attrs.evolve(project.site, **changes))


def _with_corner(line: Sequence[Point], index: int, to: Point, what: str) -> tuple[Point, ...]:
    if not 0 <= index < len(line):
        raise GardenError(f"{what} has no corner {index + 1}; it has {len(line)}")
    spot = (round(float(to[0]), 3), round(float(to[1]), 3))
    return tuple(spot if i == index else p for i, p in enumerate(line))
