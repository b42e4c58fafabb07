"""Plants as they stand in the picture: each in its own form and its colours of the month, upright where its stem is.

A plant is an upright picture square to the line of sight at the distance of its stem, so its height in the picture is
focal x height / distance. Low plants are seen from above: they get the true outline of a round cushion.
"""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.garden import BARE, drawn
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_habits import drawn_as
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.drawing.view_standing import BIRCH, Grown, Local
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.flower_heads import EYE, EYES, flower_head
from gardenkit.planting.leaf_forms import leaf_form, leaf_size
from gardenkit.planting.season import Appearance, appearance
from gardenkit.planting.species import Species
from gardenkit.project.season import Standing, northern_month, spring_shift
from gardenkit.site.site import ExistingTree, Site
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import support_kind
from gardenkit.structure.structure import Support

BARK = {  # from memory, as any flora describes them
    "Betula": BIRCH,
    "Prunus": "#6e4436",
    "Acer": "#77695a",
    "Pinus": "#8a5f44",
    "Fagus": "#8b8a86",
    "Carpinus": "#84827c",
    "Stewartia": "#9a7a5c",
    "Lagerstroemia": "#b59a7d",
    "Cornus": "#8c3b30",
    "Salix": "#9a7c3a",
}
MULTI_STEM = ("Betula", "Amelanchier", "Corylus", "Cercis", "Hamamelis", "Magnolia", "Lagerstroemia", "Cornus")
ROUGHLY = np.array([(-0.5, 0), (0.5, 0), (0.95, 0.3), (0.95, 0.7), (0.5, 1), (-0.5, 1), (-0.95, 0.7), (-0.95, 0.3)])
# a plant's outline by half its spread and its height: within a tenth of the drawn ones. House value.
NEAREST = Figure(0.45, "m", HOUSE)  # a plant whose stem is nearer than this is beside the eye, not before it
TREE_LEAF = {
    "winter": "#8a7a5a",
    "spring": "#8fae5e",
    "summer": "#6c9050",
    "autumn": "#b58f45",
}  # kind not known. House.


def grown(plants: Sequence[Standing], supports: Sequence[Support]) -> list[Grown]:
    """Return the plants that show above ground, ready to be drawn."""
    by_name = {s.name: s for s in supports}
    found = []
    for item, plant in zip(plants, drawn(plants), strict=True):
        if plant.leaf == "below ground" or not item.is_seen:
            continue
        canopy = item.species.is_tree
        found.append(
            Grown(
                drawn=attrs.evolve(plant, spread=item.size.spread),
                stem=item.size.crown_base if canopy else 0.0,
                trunk=max(0.03, 0.02 * plant.height) if canopy else 0.0,
                flowers=item.look.flowers if item.look.in_flower else (),
                fruit=item.look.fruit,
                support=by_name.get(item.plant.support),
                seed_heads=_seed_heads(item),
                **_character(item.species, item.look),
            )
        )
    return found


def grown_trees(site: Site, catalogue: Catalogue, season: str, month: int) -> list[Grown]:
    """Return the trees that are there and stay, in the catalogue's colours of the month when their kind is known.

    ``month`` is this garden's own; a tree's leaf months were noted there, the catalogue's year is turned in the south.
    """
    shift, look_month = spring_shift(site), northern_month(site, month)
    found = []
    for number, tree in enumerate(t for t in site.trees if t.keep):
        leafless = tree.leaf_on is not None and tree.leaf_off is not None and not _in_leaf(tree, month)
        colour = TREE_LEAF[season]
        blossom: tuple[str, ...] = ()
        fruit: str | None = None
        if tree.species in catalogue:
            look = appearance(catalogue[tree.species], look_month, shift)
            colour = look.foliage or BARE
            blossom, fruit = look.flowers, look.fruit
            leafless = look.in_leaf <= 0
        plant = PlantDrawn(
            number=9000 + number,
            key="",
            at=tree.at,
            height=tree.height,
            spread=tree.spread,
            form=tree.form,
            foliage=colour,
            leaf="bare" if leafless else "leaf",
            layer="tree",
            name=tree.name,
        )
        found.append(
            Grown(
                drawn=plant,
                stem=min(tree.crown_base, 0.8 * tree.height),
                trunk=tree.trunk_diameter,
                flowers=blossom,
                fruit=fruit,
                **(_character(catalogue[tree.species], look) if tree.species in catalogue else {}),
            )
        )
    return found


def _character(species: Species, look: Appearance) -> dict[str, Any]:
    """Return what tells one kind from another close by: leaves, bark, stems, whether it colours."""
    genus = species.genus
    new = species.is_evergreen and look.foliage == species.foliage_spring != species.foliage_summer
    return {
        "budding": look.budding,
        "old_leaves": (species.foliage_summer or None) if new else None,
        "leaves": leaf_form(species),
        "leaf": leaf_size(species),
        "head": flower_head(species),
        "eye": EYES.get(genus, EYE),
        "in_leaf": look.in_leaf,
        "bark": BARK.get(genus, style.BARE_INK),
        "stems": 3 if genus in MULTI_STEM else 1,
        "autumn": bool(species.foliage_autumn) and look.foliage == species.foliage_autumn,
    }


def _seed_heads(item: Standing) -> bool:
    """Return whether the heads of last summer's flowers stand."""
    species = item.species
    months = species.bloom_months
    if (
        species.layer in ("tree", "shrub", "conifer")
        or "seed heads" not in species.winter_interest
        or item.look.in_flower
        or not months
    ):
        return False
    return item.look.in_leaf <= 0 or species.layer == "grass" or item.look.foliage == species.foliage_autumn


def plant_parts(scene: Stage, plants: Sequence[Grown]) -> list[Stander]:
    """Return the plants as things that stand at their stems, those before the eye."""
    return _standing(scene, plants, _piece)


def plant_covers(scene: Stage, plants: Sequence[Grown]) -> list[Stander]:
    """Return the same by their size alone, quickly: for telling what shows where the picture is made otherwise."""
    return _standing(scene, plants, _covered)


def _standing(
    scene: Stage, plants: Sequence[Grown], make: Callable[[Stage, Grown, Sequence[float]], list[Piece]]
) -> list[Stander]:
    if not plants:
        return []
    spots = scene.camera.before(scene.laid([plant.drawn.at for plant in plants]))
    return [
        Stander(at=_stands_at(scene, plant), make=partial(make, scene, plant, spot))
        for plant, spot in zip(plants, spots.tolist(), strict=True)
        if spot[2] >= NEAREST
    ]


def _stands_at(scene: Stage, plant: Grown) -> Point:
    """Return the plan point a plant is sorted by: a climber on an arch a hand's breadth on this side of its posts."""
    at = plant.drawn.at
    away = scene.away(at)
    if plant.support is None or support_kind(plant.support.kind).stands == "flat" or away < 0.5:
        return at
    pull = min(0.35, 0.3 * away) / away
    eye = scene.camera.at
    return at[0] + pull * (eye[0] - at[0]), at[1] + pull * (eye[1] - at[1])


def _piece(scene: Stage, plant: Grown, spot: Sequence[float]) -> list[Piece]:
    """Return a plant in the picture, nothing if it is outside; ``spot`` is metres right, up, ahead of the eye."""
    local = _in_frame(scene, plant, spot)
    if local is None:
        return []
    outline, draw, solid = drawn_as(local)
    cover = scene.camera.framed(outline) if len(outline) > 2 else ()
    return [Piece(draw=draw, cover=(cover,), solid=solid, **_told(local))] if cover else []


def _covered(scene: Stage, plant: Grown, spot: Sequence[float]) -> list[Piece]:
    local = _in_frame(scene, plant, spot)
    if local is None:
        return []
    size = np.array([local.half, local.tall])
    cover = scene.camera.framed(np.asarray(local.foot) + ROUGHLY * size)
    return [Piece(cover=(cover,), solid=plant.drawn.leaf != "bare", **_told(local))] if cover else []


def _in_frame(scene: Stage, plant: Grown, spot: Sequence[float]) -> Local | None:
    right, up, ahead = spot
    local = Local(scene=scene, plant=plant, right=right, up=up, ahead=ahead)
    if _around_the_eye(local):
        return None
    _, _, edge, top = scene.camera.frame
    outside = abs(local.foot[0]) - local.half - local.tall > edge or local.foot[1] > top
    return None if outside else local


def _told(local: Local) -> dict[str, Any]:
    drawn = local.plant.drawn
    tip = f"{drawn.name}: about {drawn.height:.2f} m high, about {drawn.spread:.2f} m wide, {local.away:.1f} m away"
    return {"name": drawn.name, "kind": "plant", "away": local.away, "tip": tip}


def _around_the_eye(local: Local) -> bool:
    """Return whether the eye is among the plant's own leaves."""
    plant = local.plant
    if local.away > 0.35 * plant.drawn.spread:
        return False
    return local.up + plant.stem < 0.1 and local.up + plant.drawn.height > -0.1


def _in_leaf(tree: ExistingTree, month: int) -> bool:
    on, off = tree.leaf_on or 1, tree.leaf_off or 12
    return on <= month <= off if on <= off else month >= on or month <= off
