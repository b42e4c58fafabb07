"""What the page of supports shows: parts to buy, how deep posts go by each rule, and a wall of the house to scale."""

import attrs

from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import drawn
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.wall_view import wall_scene
from gardenkit.findings import Finding, GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name
from gardenkit.saying import of_goods, said
from gardenkit.site.country import in_usa
from gardenkit.site.site import Building, Site
from gardenkit.structure.kinds import parts_list
from gardenkit.structure.kinds.support_parts import Part, post_of, posts_of
from gardenkit.structure.posts import POST_RULES, post_findings
from gardenkit.structure.structure import Support
from gardenkit.structure.wall_elevation import StandingPlant, wall_elevation, wall_facing
from gardenkit.units import compass_word, show_area, show_length, show_weight

SUMMER = 7
LEAST_SCALE = 44.0  # 1 : n of a wall drawn on the page
SHEET_M = 0.2  # m: the paper a wall is fitted to

# The share of advice that belongs to a support.
TOPICS = ("supports", "training", "posts", "building")


def is_about(line: Finding, name: str) -> bool:
    """Return whether a line of advice is about a support, what grows on it, or all supports."""
    places = {place for one in (line, *line.members) for place in (one.where, *one.where.split(", "))}
    return bool(places & {name, "supports"})


def handles(support: Support) -> tuple[Handle, ...]:
    """Return the points of a support's line, and its middle to move it whole."""
    (ax, ay), (bx, by) = support.line[0], support.line[-1]
    ends = [Handle(id=f"end:{i}", kind="path", at=p, tip=f"end of {support.name}") for i, p in enumerate(support.line)]
    whole = Handle(id="whole:", kind="seat", at=((ax + bx) / 2, (ay + by) / 2), tip=f"move {support.name}")
    return (*ends, whole)


def tables(project: Project, support: Support, *, form: str) -> str:
    """Return the parts of a support, and how deep its posts go by each rule."""
    posts = posts_of(project.structure, project.units)
    try:
        made = parts_list(support, posts=posts, form=form, openings=project.site.openings)
    except GardenError as error:
        return controls.table_html(("cannot be built as drawn",), [(str(error),)])
    rows = [_part(part, project) for part in made]
    own = controls.table_html(("to buy", "how much", "each", "by what"), rows, caption=f"Parts of {support.name}")
    deep = _rules(project, support) if any(part.name == "post" for part in made) else ""
    return f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{own}{deep}</div>'


def _part(part: Part, project: Project) -> tuple[str, str, str, str]:
    units, usa = project.units, in_usa(project.site)
    bag = f" of {show_weight(posts_of(project.structure, units).bag.weight, units)}" if part.unit == "bags" else ""
    count = f"{part.count:g} {part.unit}{bag}"
    if part.unit in ("m", "m2"):
        count = show_area(part.count, units) if part.unit == "m2" else show_length(part.count, units)
    each = show_length(part.length, units) if part.length else ""
    return of_goods(part.called(units), units), count, each, said(of_goods(part.note, units), units, usa)


def _rules(project: Project, support: Support) -> str:
    structure, units, usa, lines = project.structure, project.units, in_usa(project.site), []
    for rule in POST_RULES:
        one = post_of(support, attrs.evolve(posts_of(structure, units), rule=rule))
        found = post_findings("", one, frost_depth=structure.frost_depth)
        wrong = "; ".join(f.what.split(";")[0] for f in found if f.seriousness == "warning")
        chosen = "chosen" if rule == structure.post_rule else ""
        lengths = show_length(one.buried, units), show_length(one.length, units)
        lines.append((chosen, said(rule, units, usa), *lengths, said(wrong, units, usa)))
    heads = ("", "rule", "in the ground", "whole post", "beware")
    return controls.table_html(heads, lines, caption="How deep a post goes, by each rule")


def walls(site: Site) -> list[tuple[str, tuple[str, int]]]:
    """Return every wall of every building for a list to choose from."""
    return [
        (f"{b.name}, {_side(b, k, site.y_bearing)}", (b.name, k)) for b in site.buildings for k in range(len(b.outline))
    ]


def wall_drawn(garden: Garden, name: str, number: int, *, year: int) -> Scene:
    """Return a wall to scale, with what stands before it in July of a year."""
    project = garden.project
    building = by_name(project.site.buildings, name, "building")
    grown = garden.standing(year=year, month=SUMMER)
    spots = [
        StandingPlant(name=g.species.botanical, at=g.plant.at, height=g.height, spread=g.size.spread)
        for g in grown
        if g.height > 0
    ]
    supports = project.structure.supports
    wall = wall_elevation(building, number, openings=project.site.openings, supports=supports, plants=spots)
    on = {m.name for m in wall.marks if m.kind == "plant"}
    ends = (building.outline[number], building.outline[(number + 1) % len(building.outline)])
    near = [p for p, g in zip(drawn(grown), grown, strict=True) if g.species.botanical in on]
    title = f"{building.name}, {_side(building, number, project.site.y_bearing)}: July, year {year}"
    scale = max(LEAST_SCALE, wall.length / SHEET_M)
    return wall_scene(wall, ends, near, supports=supports, title=title, scale=scale, units=project.units)


def _side(building: Building, number: int, y_bearing: float) -> str:
    """Return which way a wall looks, and its number in the order of the outline."""
    return f"{compass_word(wall_facing(building, number, y_bearing))} wall {number + 1}"
