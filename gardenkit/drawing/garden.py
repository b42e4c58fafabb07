"""The whole garden as one drawing: site, structure and plants put together for a chosen year and month."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from gardenkit.drawing.labels import Wish
from gardenkit.drawing.plan import plan_scene
from gardenkit.drawing.plan_crops import creeping_keys, creeping_marks, crop_marks, crop_names
from gardenkit.drawing.plan_ground import PathDrawn
from gardenkit.drawing.plan_levels import level_marks, level_names
from gardenkit.drawing.plan_notes import note_marks
from gardenkit.drawing.plan_ramps import ramp_drawn
from gardenkit.drawing.plan_steps import flight_drawn
from gardenkit.drawing.plan_things import cable_marks, hedge_ground
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.drawing.symbols import LeafState, PlantDrawn
from gardenkit.geometry.plane import Line
from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.planting.keys import plant_keys
from gardenkit.project import Project
from gardenkit.project.crops import crop_rows
from gardenkit.project.joints import joint_plants
from gardenkit.project.layout import Layout
from gardenkit.project.season import Standing, early_summer, standing
from gardenkit.structure.mouths import open_edges
from gardenkit.structure.structure import Path
from gardenkit.structure.things import things_in

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
BARE = "#8d7f6d"  # twigs of a plant that stands without leaves


def garden_scene(
    project: Project,
    worked: Layout,
    catalogue: Catalogue | None = None,
    *,
    year: int = 10,
    month: int | None = None,
    plants: bool = True,
    extra: Sequence[Mark] = (),
    wishes: Sequence[Wish] = (),
    scale: float = 96.0,
    textures: bool = True,
    names: bool = True,
    to_scale: bool = False,
    massed: bool = False,
    lit: bool = True,
    title: str = "",
) -> Scene:
    """Return the plan of a garden in one month of one year after planting (0 is the planting season); ``lit``: with the
    ground that lamps light.

    Without a ``month`` it is the garden's own early summer. The last few are remembered: a page draws its plan when it
    is built and when it is first shown.
    """
    return _garden_scene(
        project,
        worked,
        catalogue,
        year=year,
        month=month or early_summer(project.site),
        plants=plants,
        extra=tuple(extra),
        wishes=tuple(wishes),
        scale=scale,
        textures=textures,
        names=names,
        to_scale=to_scale,
        massed=massed,
        lit=lit,
        title=title or project.name,
    )


@lru_cache(maxsize=6)
def _garden_scene(
    project: Project,
    worked: Layout,
    catalogue: Catalogue | None,
    *,
    year: int,
    month: int,
    plants: bool,
    extra: tuple[Mark, ...],
    wishes: tuple[Wish, ...],
    **more: Any,
) -> Scene:
    shown: tuple[PlantDrawn, ...] = ()
    if plants and catalogue is not None and project.planting.plants:
        shown = drawn(standing(project, catalogue, year=year, month=month))
    known = catalogue or load_catalogue()
    rows = [(one, known[one.crop.species]) for one in crop_rows(project, worked, year)]
    creeping = joint_plants(project, worked, known)
    keys = plant_keys([*(plant.species for plant in project.planting.plants), *(plant.species for plant in creeping)])
    names = (*crop_names(rows), *creeping_keys(creeping, keys)) if plants else ()
    return structure_scene(
        project,
        worked,
        year=year,
        plants=shown,
        extra=(*(crop_marks(rows) if plants else ()), *(creeping_marks(creeping, known) if plants else ()), *extra),
        wishes=(*names, *wishes),
        month=month,
        **more,
    )


def structure_scene(
    project: Project,
    worked: Layout,
    *,
    beds: bool = True,
    scale: float = 48.0,
    extra: Sequence[Mark] = (),
    wishes: Sequence[Wish] = (),
    year: int | None = None,
    **more: Any,
) -> Scene:
    """Return the plan of what is built, with its ``beds`` or without, its hedges as of a ``year`` (None: as they are to
    be kept); ``more``: what else ``plan_scene`` takes.
    """
    return plan_scene(
        extra=(
            *hedge_ground(project.structure.things),
            *cable_marks(project.structure.cables),
            *level_marks(project, worked, scale=scale),
            *note_marks(project.site.notes, scale=scale, units=project.units),
            *extra,
        ),
        wishes=(*level_names(project, worked), *wishes),
        scale=scale,
        site=project.site,
        paths=paths_drawn(project, worked),
        beds=[(bed.name, bed.region) for bed in worked.beds] if beds else (),
        purposes={bed.name: bed.purpose for bed in worked.beds},
        ground_areas=project.structure.ground_areas,
        seats=project.structure.seats,
        supports=project.structure.supports,
        things=things_in(project.structure.things, year),
        units=project.units,
        **more,
    )


def paths_drawn(project: Project, worked: Layout) -> tuple[PathDrawn, ...]:
    """Return the paths with their stones and steps as the drawing takes them."""
    return tuple(
        PathDrawn(
            name=path.name,
            region=worked.surfaces[path.name],
            surface=path.surface,
            bond=path.bond,
            edges=_edges(path, project, worked),
            stones=tuple((f"stone {s.number + 1}", s.outline) for s in worked.layings[path.name].stones),
            flights=tuple(
                drawn
                for one in worked.flights.get(path.name, ())
                if (drawn := flight_drawn(path.name, one, worked.routes[path.name])) is not None
            ),
            ramps=tuple(
                ramp_drawn(path.name, run, worked.routes[path.name], railed=path.handrails)
                for run in worked.ramps.get(path.name, ())
            ),
        )
        for path in project.structure.paths
        if path.name in worked.routes
    )


def _edges(path: Path, project: Project, worked: Layout) -> tuple[Line, ...] | None:
    """Return the edges of a path without those across its mouths; None for a path that meets no other."""
    joins = {path.start, path.end} | {p.name for p in project.structure.paths if path.name in (p.start, p.end)}
    others = [worked.surfaces[name] for name in sorted(joins & set(worked.surfaces))]
    return open_edges(worked.surfaces[path.name], others) if others else None


def drawn(plants: Sequence[Standing]) -> tuple[PlantDrawn, ...]:
    """Return plants as the drawing takes them, with the keys that the plant schedule uses."""
    keys = plant_keys(p.species.botanical for p in plants)
    return tuple(_drawn(p, keys[p.species.botanical]) for p in plants)


def _drawn(standing: Standing, key: str) -> PlantDrawn:
    species, look = standing.species, standing.look
    return PlantDrawn(
        number=standing.plant.number,
        key=key,
        at=standing.plant.at,
        height=max(standing.height, 0.02),
        spread=standing.ground_spread,
        form=species.form,
        foliage=look.foliage or BARE,
        flower=look.flowers[0] if look.in_flower and look.flowers else None,
        leaf=_leaf_state(standing),
        layer=species.layer,
        name=f"{species.botanical}, {species.common}",
    )


def _leaf_state(standing: Standing) -> LeafState:
    if not standing.is_seen:
        return "below ground"
    if standing.look.in_leaf <= 0:
        return "bare"
    return "evergreen" if standing.species.is_evergreen else "leaf"
