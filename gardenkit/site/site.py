"""The place as found: its boundary, house, openings, fences, trees to keep and ground heights, as the designer
measured them.
"""

from typing import Literal, TypeVar

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.site import levels
from gardenkit.site.climate import Climate
from gardenkit.site.climate import check as check_climate
from gardenkit.site.heights import SpotHeight
from gardenkit.site.notes import Note, check_note
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site_photos import SitePhoto
from gardenkit.site.soil import Soil
from gardenkit.site.sun_diary import Observation
from gardenkit.site.survey import Survey
from gardenkit.site.tracing import Underlay
from gardenkit.site.tree_protection import USUAL_RULE, root_protection_radius
from gardenkit.site.tree_protection import root_rule as rule_by_name
from gardenkit.tuples import lists_as_tuples

RoofKind = Literal["flat", "gable", "hip", "shed"]
Named = TypeVar("Named", "Opening", "Building", "Fence", "ExistingTree")
CrownForm = Literal["round", "oval", "conical", "columnar", "spreading", "vase", "weeping", "irregular"]
ON_EDGE = (
    0.15  # m a gate may lie off the boundary line and still belong to it (a tape reading and a post). House value.
)


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Building:
    """A house or shed: outline of its walls, heights in metres above the plan's zero, ``overhang`` of the eaves.

    ``ridge`` gives the roof ridge's two ends on the plan for a gable; without it the ridge runs along the longer side.
    """

    name: str
    outline: Outline
    floor: float = 0.0
    eaves: float = 2.7
    roof: RoofKind = "gable"
    ridge_height: float = 4.5
    ridge: Line = ()
    overhang: float = 0.4


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Fence:
    """A fence, wall or hedge along a line: height in metres; ``openness`` is the share of light let through, 0 to 1."""

    name: str
    line: Line
    height: float = 1.8
    openness: float = 0.0
    kind: str = ""  # fence, wall or hedge: a row of ``structure.kinds.FENCES``; empty: as its name says


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class ExistingTree:
    """A tree that is there: sizes in metres, ``crown_base`` height of the lowest leaves, trunk diameter at breast
    height.

    ``light_in_leaf`` and ``light_bare`` are shares of direct sun let through; leafless from the end of ``leaf_off``
    to the start of
    ``leaf_on`` (months; both None: evergreen). ``keep`` is false for a tree that will go.
    """

    name: str
    at: Point
    height: float
    spread: float
    species: str = ""
    crown_base: float = 2.0
    trunk_diameter: float = 0.25
    form: CrownForm = "round"
    light_in_leaf: float = 0.2
    light_bare: float = 0.65
    leaf_on: int | None = 4
    leaf_off: int | None = 10
    keep: bool = True


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Obstacle:
    """Ground that nothing may be built or planted on: a rock, a utility cover, an air-conditioning unit."""

    name: str
    outline: Outline
    height: float = 0.0
    clearance: float = 0.0

    @property
    def is_rock(self) -> bool:
        """Whether it is drawn as a rock: what people make is mostly a box of four corners. House value."""
        return len(self.outline) > 4


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Site:
    """Everything known about the ground before design. ``y_bearing`` is where the plan's y axis points, degrees from
    north.
    """

    place: Place = Place()
    boundary: Outline = ()
    y_bearing: float = 0.0
    buildings: tuple[Building, ...] = ()
    openings: tuple[Opening, ...] = ()
    fences: tuple[Fence, ...] = ()
    trees: tuple[ExistingTree, ...] = ()
    heights: tuple[SpotHeight, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    survey: Survey = Survey()
    diary: tuple[Observation, ...] = ()
    underlay: Underlay | None = None
    soil: Soil = Soil()
    climate: Climate = Climate()
    notes: tuple[Note, ...] = ()  # what is written on the plan
    photos: tuple[SitePhoto, ...] = ()  # of the site as it is, with known places marked
    root_rule: str = USUAL_RULE  # a row of ``tree_protection.ROOT_RULES``

    def opening(self, name: str) -> Opening:
        """Return an opening by its name; raises GardenError naming the nearest known one."""
        return by_name(self.openings, name, "door, window or gate")

    def doors_and_gates(self) -> tuple[Opening, ...]:
        """Return the openings that people walk through."""
        return tuple(o for o in self.openings if o.kind != "window")


def by_name(items: tuple[Named, ...], name: str, what: str) -> Named:
    """Return the record called ``name``; raises GardenError naming the nearest known one."""
    for item in items:
        if item.name == name:
            return item
    raise GardenError(f'there is no {what} called "{name}"{nearest(name, [i.name for i in items])}')


def ground(site: Site) -> plane.Region:
    """Return the open ground: inside the boundary, outside the buildings. Empty without a boundary."""
    if not site.boundary:
        return plane.NOWHERE
    plot = plane.region(site.boundary)
    if not site.buildings:
        return plot
    return plane.difference(plot, plane.union(plane.region(b.outline) for b in site.buildings))


def root_circles(site: Site) -> tuple[tuple[ExistingTree, float], ...]:
    """Return every tree that stays with the radius round its stem that is left alone, by the site's own rule."""
    kept = (tree for tree in site.trees if tree.keep)
    return tuple((tree, root_protection_radius(tree.trunk_diameter, site.root_rule)) for tree in kept)


def check(site: Site) -> None:
    """Raise GardenError for the first thing in the site that cannot be: crossing outlines, a gate off the boundary,
    one place with two heights, frost dates the wrong way round.
    """
    levels.distinct(site.heights)
    check_climate(site.climate, latitude=site.place.latitude)
    rule_by_name(site.root_rule)
    for note in site.notes:
        check_note(note)
    if not site.boundary:
        return
    plane.outline(site.boundary, where="the boundary")
    edge = plane.line([*site.boundary, site.boundary[0]])
    for building in site.buildings:
        plane.outline(building.outline, where=f'building "{building.name}"')
    for opening in site.openings:
        if opening.kind != "gate" or opening.on:
            continue
        off = plane.distance(edge, plane.point(opening.middle))
        if off > ON_EDGE:
            raise GardenError(
                f'gate "{opening.name}" is {off:.2f} m from the boundary; move it onto the boundary line '
                f"(within {ON_EDGE:.2f} m) or say which fence or wall it is in"
            )
    for tree in site.trees:
        if min(tree.height, tree.spread) <= 0:
            raise GardenError(f'tree "{tree.name}" needs a height and a spread above 0 m')
