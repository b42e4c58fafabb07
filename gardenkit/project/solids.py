"""Everything that casts shade or hides a view in one garden, in one year: the one place where plants become bodies."""

from collections.abc import Callable, Iterable
from functools import lru_cache

from gardenkit.geometry.plane import Point
from gardenkit.geometry.solid import Solid
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.catalogue_columns import BULBS, HERBS
from gardenkit.planting.light import leaf_months, light_months
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.rules import ground_of
from gardenkit.project.season import Standing, northern_month, spring_shift, standing
from gardenkit.site import shade
from gardenkit.site.levels import Surface
from gardenkit.site.site import Site
from gardenkit.structure.kinds import standing_supports, support_solids
from gardenkit.structure.things import thing_solids, things_in

LOWEST = 0.9  # m: lower plants shade only their neighbours' feet and are left out of sun maps. House value.
HIGH_SUMMER = 7  # month whose size counts for herbs that die back
# The catalogue's words for outlines in the words a crown is built from.
CROWNS = {
    "upright": "columnar",
    "spire": "columnar",
    "climbing": "columnar",
    "trained": "columnar",
    "clump": "round",
    "mound": "round",
    "fountain": "vase",
    "mat": "spreading",
    "rosette": "round",
}


def solids(project: Project, catalogue: Catalogue | None = None, *, year: int | None = None) -> tuple[Solid, ...]:
    """Return the bodies of house, fences, kept trees, supports and things, and with a ``year`` those of the design's
    own plants.

    ``year`` counts from the first planting season; plants below 0.9 m in summer are left out. Needs a catalogue then.
    """
    ground = height_to_be(project)
    found = [*shade.site_solids(project.site, ground=ground)]
    for support in standing_supports(project.structure.supports, project.site.openings):
        found += support_solids(support, ground)
    for thing in things_in(project.structure.things, year):
        found += thing_solids(thing, ground)
    if year is not None and catalogue is not None:
        south = project.site.place.latitude < 0
        summer = northern_month(project.site, HIGH_SUMMER)
        plants, shift = standing(project, catalogue, year=year, month=summer), spring_shift(project.site)
        found += plant_solids(plants, ground, south=south, shift_days=shift)
    return tuple(found)


def is_of(body: Solid, name: str) -> bool:
    """Return whether a body is a thing by name or part of it: its walls, its trunk, its crown."""
    return f"{body.name} ".startswith(f"{name} ")


def ground_height(site: Site) -> Callable[[Point], float]:
    """Return the height of the ground as found at a plan point from the spot heights; level 0 where none were taken."""
    found = ground_of(site)
    return _height_at(found) if found is not None else lambda _: 0.0


def height_to_be(project: Project) -> Callable[[Point], float]:
    """Return the height of the ground as it will be at a plan point; level 0 where no heights were taken."""
    found = layout(project).lie
    return _height_at(found) if found is not None else lambda _: 0.0


@lru_cache(maxsize=4)
def _height_at(surface: Surface) -> Callable[[Point], float]:
    """Return the height at a point, remembered: most plants stand where they stood before the last edit."""
    return lru_cache(maxsize=20_000)(surface.height)


def plant_solids(
    plants: Iterable[Standing], ground: Callable[[Point], float], *, south: bool = False, shift_days: float = 0.0
) -> tuple[Solid, ...]:
    """Return trunk and crown of every plant at least 0.9 m high, with the light it lets through month by month; the
    bare stems of bulbs that are scattered between others hold no light up.

    ``south`` turns the catalogue's northern year by six months; ``shift_days`` is how much later spring comes here.
    """
    found: list[Solid] = []
    for item in plants:
        species = item.species
        stems = species.layer in BULBS and species.role == "scatter"
        if item.size.height < LOWEST or item.size.spread <= 0 or stems:
            continue
        form = CROWNS.get(species.form, species.form)
        light = light_months(species, shift_days)
        if species.layer in HERBS:  # opaque in leaf, nothing when died back
            light = tuple(1.0 if share == 0 else 0.0 for share in leaf_months(species, shift_days))
        light = (*light[6:], *light[:6]) if south else light
        trunk = 0.02 * item.size.height if species.is_tree else 0.0
        found += shade.tree_solids(
            species.botanical,
            item.plant.at,
            item.size.height,
            item.ground_spread,
            form,
            item.size.crown_base,
            trunk,
            light,
            ground(item.plant.at),
        )
    return tuple(found)
