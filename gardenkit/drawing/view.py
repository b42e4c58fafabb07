"""The view from the gate, a window, a seat or the path: the garden in true perspective, any month and year."""

import math
from collections import Counter
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.scene import CHART_SCALE, Area, Label, Mark, Scene, Symbol, in_units, shifted
from gardenkit.drawing.view_built import fence_parts, gate_parts
from gardenkit.drawing.view_camera import ANGLE, Camera
from gardenkit.drawing.view_ground import Stage, backdrop, for_plants, ground_marks, heights_of, shade_under, stage
from gardenkit.drawing.view_house import house_parts
from gardenkit.drawing.view_levels import wall_fences
from gardenkit.drawing.view_order import Piece, Stander, Upright, far_to_near, what_shows
from gardenkit.drawing.view_placed import thing_parts
from gardenkit.drawing.view_plants import grown, grown_trees, plant_parts
from gardenkit.drawing.view_rails import rail_parts
from gardenkit.drawing.view_shadows import shadow_marks
from gardenkit.drawing.view_standing import Grown
from gardenkit.drawing.view_steps import step_parts
from gardenkit.drawing.view_sun import DAY
from gardenkit.drawing.view_supports import support_parts
from gardenkit.drawing.view_things import Company, company_part, obstacle_parts, seat_parts
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.standing import ON_SUPPORT
from gardenkit.progress import Tell, quiet
from gardenkit.project import Project
from gardenkit.project.crops_seen import standing_with_crops
from gardenkit.project.layout import Layout
from gardenkit.project.season import local_months, standing
from gardenkit.project.solids import solids
from gardenkit.project.views import floor_inside
from gardenkit.site.levels import Surface
from gardenkit.site.openings import Opening
from gardenkit.site.site import Site
from gardenkit.site.standing import standing_fences
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import standing_supports
from gardenkit.structure.sightlines import STANDING_EYE
from gardenkit.structure.things import things_in
from gardenkit.units import System, show_length

WIDTH = Figure(240.0, "mm", HOUSE)  # of the picture
INSIDE_GATE = Figure(0.4, "m", f"one stands a step inside a gate: the garden is looked at, not the fence; {HOUSE}")
OUTSIDE = Figure(4.0, "m", f"across a pavement; {HOUSE}")
AHEAD = 2.0  # m either way of a gate within the garden at which it is asked where the house is. House value.
INTO_ROOM = Figure(1.35, "m", HOUSE)  # one stands this far from a window, inside
SEEN_SHARE = Figure(0.15, "of a thing's outline", HOUSE)  # less than this showing is not told as seen
BANDS = ((0.0, 5.0, "near (to 5 m)"), (5.0, 10.0, "further (5 to 10 m)"), (10.0, math.inf, "far (beyond 10 m)"))
QUARTERS = ((0.25, "a quarter along"), (0.5, "half way along"), (0.75, "three quarters along"))
CAPTION_MM = 13.0
GAP = 6.0  # mm between two views beside each other
FOUR_SEASONS = (4, 6, 10, 1)


@attrs.frozen(kw_only=True)
class Lookout:
    """A place to look from: plan point, ``height`` of the eye above the ground there in metres, and looking direction.

    ``towards`` is degrees clockwise from the plan's y axis.
    """

    name: str
    eye: Point
    height: float
    towards: float


def view_scene(
    project: Project,
    worked: Layout,
    catalogue: Catalogue,
    *,
    eye: Point,
    towards: float,
    year: int,
    month: int,
    eye_height: float = STANDING_EYE,
    angle: float = ANGLE,
    width: float = WIDTH,
    title: str = "",
    company: Company | None = None,
    hour: float | None = None,
    day: int = DAY,
) -> Scene:
    """Return what one sees from ``eye``, ``eye_height`` metres above the ground there, looking level ``towards``.

    ``towards`` is degrees clockwise from the plan's y axis, ``angle`` the width of view (20 to 100 degrees), ``year``
    counts from the first planting season, ``width`` is the picture's in millimetres, ``company`` stands on the plan for
    scale, ``hour`` is the clock time the sun of that ``day`` lights it at (None: the afternoon). Raises GardenError for
    an angle, month or eye height that cannot be.
    """
    at = Lookout(name="", eye=eye, height=eye_height, towards=towards)
    scene = view_stage(project.site, worked, at, month, hour, angle, width, day=day)
    camera = scene.camera
    plants = plants_seen(scene, project, catalogue, year, month)
    pieces = what_shows(_pieces(scene, project, worked, plants, company, year), camera.frame)
    ground = [*backdrop(scene), *ground_marks(scene, project, worked)]
    if scene.sun is not None:
        stands = standing(project, catalogue, year=year, month=month)
        bodies = solids(project, catalogue, year=year)
        ground += shadow_marks(scene, project.site, bodies, stands, scene.sun)
    for plant in plants if scene.sun is None else ():
        spread = min(plant.drawn.spread, ON_SUPPORT) if plant.support else plant.drawn.spread
        ground += shade_under(scene, plant.drawn.at, spread * (0.52 if plant.stem < 0.1 else 0.4))
    title = title or f"{project.name}, {MONTHS[month - 1]}, year {year}"
    marks: list[Mark] = [*ground, *(Symbol(marks=p.marks, tip=p.tip) for p in pieces if p.marks)]
    words = seen_words(camera, pieces, title, year, month)
    return framed(camera, marks, title, words, eye_height=float(eye_height), units=project.units)


def view_stage(
    site: Site,
    worked: Layout,
    at: Lookout,
    month: int,
    hour: float | None,
    angle: float,
    width: float,
    *,
    day: int = DAY,
) -> Stage:
    """Return the stage seen from a place. Raises GardenError for a month or a height of the eye that cannot be."""
    if month not in range(1, 13):
        raise GardenError(f"the month is {month}; give a whole number from 1 to 12")
    if not 0 < at.height < 50:
        raise GardenError(f"the eye is {at.height:g} m above the ground; give a height above 0 m")
    level = float(heights_of(worked.lie)(np.array([at.eye], dtype=float))[0])
    camera = Camera(eye=(*at.eye, level + float(at.height)), towards=at.towards, angle=angle, width=float(width))
    return stage(site, camera, month, hour=hour, day=day, lie=worked.lie)


def season_strip(
    project: Project,
    worked: Layout,
    catalogue: Catalogue,
    *,
    eye: Point,
    towards: float,
    year: int,
    months: Sequence[int] = (),
    eye_height: float = STANDING_EYE,
    angle: float = ANGLE,
    width: float = WIDTH,
    title: str = "",
    tell: Tell = quiet,
) -> Scene:
    """Return the same view in several months (without any: one of each season here) as one drawing, two beside each
    other; arguments as for ``view_scene``.
    """
    drawn = months or local_months(project.site, FOUR_SEASONS)
    found = []
    for number, month in enumerate(drawn):
        tell(number / len(drawn), f"drawing the view in {MONTHS[month - 1]} ...")
        one = view_scene(
            project,
            worked,
            catalogue,
            eye=eye,
            towards=towards,
            year=year,
            month=month,
            eye_height=eye_height,
            angle=angle,
            width=(width - GAP) / 2,
            title=f"{MONTHS[month - 1]}, year {year}",
        )
        found.append(one)
    return two_by_two(found, title or f"{project.name}, year {year}")


def two_by_two(scenes: Sequence[Scene], title: str) -> Scene:
    """Return views as one drawing, two beside each other, under a title."""
    marks: list[Mark] = []
    low, right = 0.0, 0.0
    for number, one in enumerate(scenes):
        left, base, end, top = one.bounds
        column, row = number % 2, number // 2
        by = (column * (end - left + GAP - 2.0) - left, -row * (top - base + 2.0) - top)
        marks += shifted(one.marks, by)
        low, right = min(low, base + by[1]), max(right, end + by[0])
    head = Label(at=(0.0, 6.0), text=title, size_mm=4.2, anchor="start", bold=True, layer="furniture")
    return Scene(
        marks=(head, *marks),
        bounds=(-2.0, low, right + 2.0, 11.0),
        title=title,
        description=" ".join(one.description for one in scenes),
        scale=CHART_SCALE,
        paper=style.PAPER,
    )


def places_to_look_from(project: Project, worked: Layout | None = None) -> tuple[Lookout, ...]:
    """Return where one looks from: gates coming in, doors and windows looking out, seats, points along each path, and
    outside each gate.

    Without ``worked`` the layout is worked out here. Windows are looked through from inside the room.
    """
    from gardenkit.project.layout import layout

    laid = worked if worked is not None else layout(project)
    site = project.site
    found: list[Lookout] = []
    for kind in ("gate", "window", "door"):
        for opening in (o for o in site.openings if o.kind == kind):
            found.append(_through(site, opening, laid.lie))
    outside = [_outside(site, place) for place in found if any(o.name == place.name for o in _gates(site))]
    for seat in project.structure.seats:
        found.append(Lookout(name=seat.name, eye=seat.at, height=seat.eye, towards=seat.facing % 360))
    for name, route in laid.routes.items():
        for share, words in QUARTERS:
            (x, y), (dx, dy) = route.curve.at(share * route.length)[0], route.curve.direction(share * route.length)[0]
            towards = plane.heading((0.0, 0.0), (float(dx), float(dy)))
            found.append(
                Lookout(name=f"{name}, {words}", eye=(float(x), float(y)), height=float(STANDING_EYE), towards=towards)
            )
    return (*found, *(place for place in outside if place is not None))


def _gates(site: Site) -> list[Opening]:
    return [opening for opening in site.openings if opening.kind == "gate"]


def _outside(site: Site, gate: Lookout) -> Lookout | None:
    """Return where a passer-by looks in from before a gate; None where the plot or a house is there."""
    eye = plane.towards(gate.eye, gate.towards + 180.0, INSIDE_GATE + OUTSIDE)
    inside = [outline for outline in (site.boundary, *(b.outline for b in site.buildings)) if outline]
    if any(plane.contains(plane.region(outline), eye) for outline in inside):
        return None
    return attrs.evolve(gate, name=f"outside the {gate.name}", eye=eye)


def _through(site: Site, opening: Opening, lie: Surface | None) -> Lookout:
    """Return the lookout of a gate, door or window; looking into the garden."""
    (ax, ay), (bx, by) = opening.start, opening.end
    long = max(math.dist(opening.start, opening.end), 1e-9)
    across = ((ay - by) / long, (bx - ax) / long)
    x, y = opening.middle
    out = plane.union(plane.region(b.outline) for b in site.buildings) if site.buildings else plane.NOWHERE
    plot = plane.region(site.boundary) if site.boundary else plane.NOWHERE
    ahead = (x + 0.3 * across[0], y + 0.3 * across[1])
    into = plane.contains(plot, ahead) and not plane.contains(out, ahead)
    behind = (x - 0.3 * across[0], y - 0.3 * across[1])
    if into and plane.contains(plot, behind) and not plane.contains(out, behind):  # in the garden, as in a deck's edge
        into = not _faces_house(out, (x, y), across)
    way = across if into or not site.boundary else (-across[0], -across[1])
    back = {"gate": -INSIDE_GATE, "window": INTO_ROOM, "door": -0.3}[opening.kind]
    eye = (x - back * way[0], y - back * way[1])
    towards = plane.heading((0.0, 0.0), way)
    level = float(heights_of(lie)(np.array([eye]))[0])
    floor = next((b.floor for b in site.buildings if b.name == opening.on), level)
    if opening.kind == "window":  # a window upstairs is looked out of upstairs
        floor = floor_inside(opening, floor)
    rise = max(floor - level, 0.0) if opening.kind != "gate" else 0.0
    return Lookout(name=opening.name, eye=eye, height=float(STANDING_EYE) + rise, towards=towards)


def _faces_house(houses: Region, at: Point, way: Point) -> bool:
    """Return whether one looks rather at a house this way than the other."""
    ahead, behind = (plane.point((at[0] + far * way[0], at[1] + far * way[1])) for far in (AHEAD, -AHEAD))
    return not houses.is_empty and plane.distance(houses, ahead) < plane.distance(houses, behind)


def plants_seen(scene: Stage, project: Project, catalogue: Catalogue, year: int, month: int) -> list[Grown]:
    """Return the trees that stay and the design's plants as they stand in a month."""
    trees = grown_trees(project.site, catalogue, scene.season, month)
    return [*trees, *grown(standing_with_crops(project, catalogue, year=year, month=month), project.structure.supports)]


def _pieces(
    scene: Stage, project: Project, worked: Layout, plants: Sequence[Grown], company: Company | None, year: int
) -> list[Piece]:
    """Return everything upright as it lands in the picture, far things first."""
    uprights, things = standers(scene, project, worked, company, year)
    return far_to_near(uprights, [*things, *plant_parts(for_plants(scene, project), plants)], scene.camera.at)


def standers(
    scene: Stage, project: Project, worked: Layout, company: Company | None, year: int
) -> tuple[list[Upright], list[Stander]]:
    """Return what is built and placed in a year, and what is there for scale: walls and fences, then single things."""
    site, structure = project.site, project.structure
    walls, roofs = house_parts(scene, site.buildings, site.openings)
    flat, framed_ones = support_parts(scene, standing_supports(structure.supports, site.openings), project.units)
    fences = (*standing_fences(site), *wall_fences(project, worked))
    uprights = [*walls, *fence_parts(scene, fences), *gate_parts(scene, site.openings), *flat]
    found = [*roofs, *framed_ones, *seat_parts(scene, structure.seats), *obstacle_parts(scene, site.obstacles)]
    found += [*thing_parts(scene, things_in(structure.things, year)), *step_parts(scene, worked)]
    found += rail_parts(scene, project, worked)
    if company is not None:
        found.append(company_part(scene, company))
    return uprights, found


def framed(camera: Camera, marks: Sequence[Mark], title: str, words: str, *, eye_height: float, units: System) -> Scene:
    """Return marks within the edge of a picture, its title below."""
    left, low, right, top = camera.frame
    edge = ((left, low), (right, low), (right, top), (left, top))
    small = camera.width < 160
    eye = show_length(eye_height, units)
    note = f"eye {eye} above the ground, {camera.angle:.0f}° wide; far trees are backdrop only"
    foot = 8.0 if small else CAPTION_MM
    bounds = (left - 1.0, low - foot, right + 1.0, top + 1.0)
    sheet = ((bounds[0], bounds[1]), (bounds[2], bounds[1]), (bounds[2], bounds[3]), (bounds[0], bounds[3]))
    furniture: list[Mark] = [
        Area(rings=(sheet, edge), fill=style.PAPER, layer="furniture"),  # covers pens that pass the picture's edge
        Area(rings=(edge,), stroke=style.SOFT_INK, width_mm=style.EDGE, layer="furniture"),
        Label(
            at=(left, low - 5.0),
            text=title,
            size_mm=3.2 if small else 4.0,
            anchor="start",
            bold=True,
            layer="furniture",
        ),
    ]
    if not small:
        at = (left, low - 10.0)
        furniture.append(
            Label(at=at, text=note, size_mm=style.KEY_LETTERS, anchor="start", colour=style.SOFT_INK, layer="furniture")
        )
    scene = Scene(
        marks=(*marks, *furniture),
        bounds=bounds,
        title=title,
        description=words,
        scale=CHART_SCALE,
        paper=style.PAPER,
    )
    return in_units(scene, units)


def seen_words(camera: Camera, pieces: Sequence[Piece], title: str, year: int, month: int) -> str:
    """Return the text for a reader who cannot see the picture: what shows, near to far, from left to right."""
    seen = [p for p in pieces if p.name and p.cover and p.share >= SEEN_SHARE]
    parts = [
        f"{title}. View {camera.towards % 360:.0f} degrees clockwise from the plan's y axis, "
        f"{MONTHS[month - 1]}, year {year}."
    ]
    for low, high, words in BANDS:
        band = sorted((p for p in seen if low <= p.away < high), key=_middle_across)
        names = Counter(p.name for p in band)
        if names:
            listed = ", ".join(
                f"{n} × {name}" if n > 1 and _countable(band, name) else name for name, n in names.items()
            )
            parts.append(f"{words[0].upper()}{words[1:]}, left to right: {listed}.")
    if len(parts) == 1:
        parts.append("Nothing stands in view.")
    return " ".join(parts)


def _countable(band: Sequence[Piece], name: str) -> bool:
    return any(p.name == name and p.kind == "plant" for p in band)


def _middle_across(piece: Piece) -> float:
    xs = [x for ring in piece.cover for x, _ in ring]
    return (min(xs) + max(xs)) / 2
