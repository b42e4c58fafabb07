"""Plants as they stand in the picture: each in its own form and its colours of the month, upright where its stem is.

A plant is an upright picture square to the line of sight at the distance of its stem, so its height in the picture is
focal x height / distance. Low plants are seen from above: they get the true outline of a round cushion.
"""

from collections.abc import Sequence
from functools import partial

import attrs

from gardenkit.drawing.garden import BARE, drawn
from gardenkit.drawing.symbols import CANOPY_LAYERS, PlantDrawn
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_habits import drawn_as
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.drawing.view_standing import Grown, Local
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.flower_heads import flower_head
from gardenkit.planting.season import appearance
from gardenkit.project.season import Standing, northern_month, spring_shift
from gardenkit.site.site import ExistingTree, Site
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import support_kind
from gardenkit.structure.structure import Support

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
        canopy = item.species.layer in CANOPY_LAYERS
        found.append(
            Grown(
                drawn=attrs.evolve(plant, spread=item.size.spread),
                stem=item.size.crown_base if canopy else 0.0,
                trunk=max(0.03, 0.02 * plant.height) if canopy else 0.0,
                flowers=item.look.flowers if item.look.in_flower else (),
                fruit=item.look.fruit,
                support=by_name.get(item.plant.support),
                head=flower_head(item.species),
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
            )
        )
    return found


def plant_parts(scene: Stage, plants: Sequence[Grown]) -> list[Stander]:
    """Return the plants as things that stand at their stems, those before the eye."""
    if not plants:
        return []
    spots = scene.camera.before(scene.laid([plant.drawn.at for plant in plants]))
    return [
        Stander(at=_stands_at(scene, plant), make=partial(_piece, scene, plant, spot))
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
    right, up, ahead = spot
    local = Local(scene=scene, plant=plant, right=right, up=up, ahead=ahead)
    if _around_the_eye(local):
        return []
    _, _, edge, top = scene.camera.frame
    if abs(local.foot[0]) - local.half - local.tall > edge or local.foot[1] > top:
        return []
    outline, draw, solid = drawn_as(local)
    cover = scene.camera.framed(outline) if len(outline) > 2 else ()
    if not cover:
        return []
    name = plant.drawn.name
    tip = (
        f"{name}: about {plant.drawn.height:.2f} m high, about {plant.drawn.spread:.2f} m wide, {local.away:.1f} m away"
    )
    return [Piece(draw=draw, cover=(cover,), name=name, kind="plant", away=local.away, solid=solid, tip=tip)]


def _around_the_eye(local: Local) -> bool:
    """Return whether the eye is among the plant's own leaves."""
    plant = local.plant
    if local.away > 0.35 * plant.drawn.spread:
        return False
    return local.up + plant.stem < 0.1 and local.up + plant.drawn.height > -0.1


def _in_leaf(tree: ExistingTree, month: int) -> bool:
    on, off = tree.leaf_on or 1, tree.leaf_off or 12
    return on <= month <= off if on <= off else month >= on or month <= off
