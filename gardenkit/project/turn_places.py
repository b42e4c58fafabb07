"""What a path may swing round: trees, obstacles, placed things, seats, paved or lawn areas and drawn beds by name."""

from collections.abc import Iterator

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline
from gardenkit.site.site import ExistingTree, Site
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.path_rules import HEADROOM
from gardenkit.structure.structure import Path, Structure
from gardenkit.structure.things import outline_of
from gardenkit.structure.turns import CLEAR, Swung

TREE_TRUNK_CLEAR = Figure(0.45, "m", HOUSE)  # kept clear round a trunk for its root flare


def turn_names(site: Site, structure: Structure) -> tuple[str, ...]:
    """Return the names of what a path may swing round."""
    return tuple(dict.fromkeys(name for name, _, _ in _places(site, structure)))


def swung(path: Path, site: Site, structure: Structure) -> tuple[Swung, ...]:
    """Return what a path swings round with how far its edge keeps off it; what is gone, or an end of it, says so."""
    if not path.round:
        return ()
    known = {name: (outline, clear) for name, outline, clear in reversed(list(_places(site, structure)))}
    found = []
    for turn in path.round:
        if turn.what not in known:
            why = "it is not on the plan any more; choose something else"
            found.append(Swung(name=turn.what, missing=why))
        elif turn.what in (path.start, path.end):
            found.append(Swung(name=turn.what, missing="the path goes to it; choose something on its way"))
        else:
            outline, clear = known[turn.what]
            found.append(Swung(name=turn.what, outline=outline, clear=clear, hand=turn.hand))
    return tuple(found)


def trunk_ground(tree: ExistingTree) -> plane.Region:
    """Return the ground that the foot of a tree takes, with its root flare."""
    return plane.circle(tree.at, tree.trunk_diameter / 2 + TREE_TRUNK_CLEAR, sides=24)


def _places(site: Site, structure: Structure) -> Iterator[tuple[str, Outline, float]]:
    """Yield the name and outline of each, and what is kept off it in metres; of a tree its usual ground already."""
    for tree in site.trees:
        if tree.keep:
            low = tree.crown_base < HEADROOM  # nobody walks under it: its crown is gone round
            ground = plane.circle(tree.at, tree.spread / 2, sides=48) if low else trunk_ground(tree)
            yield tree.name, plane.corners(ground), 0.0
    for obstacle in site.obstacles:
        yield obstacle.name, obstacle.outline, float(CLEAR)
    for thing in structure.things:
        yield thing.name, outline_of(thing), float(CLEAR)
    for seat in structure.seats:
        yield seat.name, seat.outline, float(CLEAR)
    for ground_area in structure.ground_areas:
        yield ground_area.name, ground_area.outline, float(CLEAR)
    for bed in structure.beds:
        if bed.outline:
            yield bed.name, bed.outline, float(CLEAR)
