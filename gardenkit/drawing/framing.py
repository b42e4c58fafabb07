"""Which way one looks: a frame that shows the garden, not the fence or the shrub before one's nose."""

import itertools
import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing.view import Lookout
from gardenkit.drawing.view_camera import ANGLE, BELOW_SHARE, HIGH_SHARE
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.species import TREES
from gardenkit.project.layout import Layout
from gardenkit.project.season import Standing
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, Figure

TURNS = tuple(range(-80, 81, 10))  # degrees from the way one comes. House value.
THROUGH_WINDOW = 15  # degrees one can turn behind a window. House value.
IN_THE_WAY = Figure(2.2, "m", f"a tall plant nearer than this hides what one came to see; {HOUSE}")
BEFORE_ONE = Figure(5.0, "m", f"a bush as high as the eye nearer than this stands before the rest; {HOUSE}")
STEPS_ON = (0.0, 0.8, 1.6, 2.4, 3.2, 4.0, 4.8)  # m one goes on from a gate along its path. House values.
AT_PATH = 1.6  # m from a gate to where its path begins, at most. House value.
STEP_COST = 0.04  # of the score for each metre gone on. House value.
LOW_CROWN, TREE_NEAR = 1.5, 6.0  # of the height of the eye; m to where a crown begins. House values.
TREE_LOSS = 1.0  # of the score for a frame filled by a tree. House value.
CLIMBER_NEAR = 4.0  # m: leaves on an arch or a screen nearer than this hide what is behind it. House value.
CLIMBER_LOSS = 1.0  # of the score for a frame filled by them. House value.
HOUSE_NEAR, STRAIGHT = 5.0, 0.4  # m: a wall nearer than this is all one sees; share of the frame. House values.
WALL_NEAR, LITTLE = 5.0, 0.5  # m on the mean over a frame; of its worth: less shows a wall alone. House values.
GLANCE_COST = 0.005  # of the score for each degree that one who walks turns the eye. House value.
GLANCES = tuple(range(-120, 121, 10))  # degrees one turns from the way. House value.
ROUND = tuple(range(0, 360, 10))
FAR = 16.0  # m: beyond, depth no longer counts. House value.
TURN_COST = 0.013  # of the score for each degree turned from the way one comes. House value.


def framed_well(
    at: Lookout, site: Site, plants: Sequence[Standing], *, angle: float = ANGLE, worked: Layout | None = None
) -> Lookout:
    """Return a lookout turned, within what one would turn one's head, to where most of the garden shows.

    With ``worked``, one who comes in by a gate goes on a few steps along its path where more shows from there.
    """
    window = any(o.name == at.name and o.kind == "window" for o in site.openings)
    turns = [turn for turn in TURNS if abs(turn) <= (THROUGH_WINDOW if window else 90)]
    places = _further_in(at, site, worked)
    tried = [(place, turn) for place in places for turn in turns]
    scores = [
        worth(place, at.towards + turn, site, plants, angle)
        - TURN_COST * abs(turn)
        - STEP_COST * math.dist(place.eye, at.eye)
        for place, turn in tried
    ]
    best, turn = tried[int(np.argmax(scores))]
    return attrs.evolve(best, towards=(at.towards + turn) % 360)


def _further_in(at: Lookout, site: Site, worked: Layout | None) -> list[Lookout]:
    """Return where one stands at a gate, or a few steps on along a path that begins there."""
    gate = any(o.name == at.name and o.kind == "gate" for o in site.openings)
    for route in worked.routes.values() if gate and worked is not None else ():
        for ends in ((0.0, 1.0), (route.length, -1.0)):
            along = np.array([ends[0] + ends[1] * step for step in STEPS_ON if step < 0.5 * route.length])
            spots = [(float(x), float(y)) for x, y in route.curve.at(along)]
            if spots and math.dist(spots[0], at.eye) < AT_PATH:
                on = [spot for spot in spots if math.dist(spot, at.eye) > STEPS_ON[1] / 2]
                return [at, *(attrs.evolve(at, eye=spot) for spot in on)]
    return [at]


def worth(at: Lookout, towards: float, site: Site, plants: Sequence[Standing], angle: float) -> float:
    """Return how much of the garden a frame shows, about 0 to 3: planting at a good distance, and depth."""
    return (
        _planting(at, towards, plants, angle)
        + _depth(at, towards, site, angle)
        - TREE_LOSS * _behind_trees(at, towards, site, angle)
        - CLIMBER_LOSS * _behind_climbers(at, towards, plants, angle)
    )


def best_way(at: Lookout, site: Site, plants: Sequence[Standing], *, angle: float) -> float:
    """Return the way, of all round, in which most of the garden shows."""
    return float(max(ROUND, key=lambda turn: worth(at, turn, site, plants, angle)))


def faces_house(at: Lookout, site: Site, *, angle: float) -> bool:
    """Return whether a house stands close by straight before one."""
    edges = _edges([(*b.outline, b.outline[0]) for b in site.buildings if b.outline])
    return len(edges) > 0 and _clear(at, at.towards, edges, STRAIGHT * angle) < HOUSE_NEAR


def faces_wall(at: Lookout, site: Site, plants: Sequence[Standing], *, angle: float) -> bool:
    """Return whether a house, a wall or a fence close by fills the frame, and hardly a plant stands before it."""
    edges = _standing_edges(site)
    if not len(edges) or _clear(at, at.towards, edges, angle) > WALL_NEAR:
        return False
    return worth(at, at.towards, site, plants, angle) < LITTLE


def glance(at: Lookout, site: Site, plants: Sequence[Standing], *, angle: float, most: float) -> float:
    """Return by how many degrees, at most, one who walks on turns to see more of the garden than straight ahead."""
    turns = [turn for turn in GLANCES if abs(turn) <= most]
    scores = [worth(at, at.towards + turn, site, plants, angle) - GLANCE_COST * abs(turn) for turn in turns]
    return float(turns[int(np.argmax(scores))])


def _planting(at: Lookout, towards: float, plants: Sequence[Standing], angle: float) -> float:
    if not plants:
        return 0.0
    spots = np.array([item.plant.at for item in plants]) - np.asarray(at.eye)
    away = np.hypot(spots[:, 0], spots[:, 1])
    turn = (np.degrees(np.arctan2(spots[:, 0], spots[:, 1])) - towards + 180) % 360 - 180
    tall = np.array([item.height for item in plants])
    wide = np.array([item.size.spread for item in plants])
    below = 2.0 * math.tan(math.radians(angle / 2)) * HIGH_SHARE * BELOW_SHARE  # m of drop for each ahead
    in_frame = at.height - tall < below * away  # lower and nearer plants lie under the picture's edge
    seen = (np.abs(turn) < 0.42 * angle) & in_frame & (away > 0.8) & (away < 30)
    blocks = (np.abs(turn) < 0.3 * angle) & (away < IN_THE_WAY) & (tall > 0.75 * at.height)
    bush = np.array([item.species.layer not in (*TREES, "climber") for item in plants])
    half = np.degrees(np.arctan2(0.4 * wide, np.maximum(away, 0.4)))  # most of a bush, not the tips of its twigs
    before = (np.abs(turn) - half < 0.3 * angle) & (away < BEFORE_ONE) & (tall > 0.75 * at.height) & bush
    near = np.clip(away, 2.0, 30.0)
    gain = float(np.sum((wide * np.minimum(tall, 2.5) * 9.0 / near**1.6)[seen & ~blocks]))
    loss = float(np.sum((wide / np.maximum(away, 0.4))[blocks | before]))
    return 2.0 * gain / (gain + 12.0) - 1.2 * loss / (loss + 0.6)


def _behind_trees(at: Lookout, towards: float, site: Site, angle: float) -> float:
    """Return how much of a frame the low crowns of trees close by fill, 0 to 1 or, of several, more."""
    filled = 0.0
    for tree in site.trees:
        away = math.dist(tree.at, at.eye)
        if not tree.keep or tree.crown_base > LOW_CROWN * at.height or away - tree.spread / 2 > TREE_NEAR:
            continue
        half = math.degrees(math.atan2(0.4 * tree.spread, max(away, 0.4)))
        filled += _share(plane.heading(at.eye, tree.at) - towards, half, angle)
    return filled


def _behind_climbers(at: Lookout, towards: float, plants: Sequence[Standing], angle: float) -> float:
    """Return how much of a frame climbers on supports close by fill, 0 to 1 or, of several, more."""
    filled = 0.0
    for item in plants:
        away = math.dist(item.plant.at, at.eye)
        if item.species.layer == "climber" and away < CLIMBER_NEAR and item.height > LOW_CROWN * at.height / 2:
            turn = plane.heading(at.eye, item.plant.at) - towards
            half = math.degrees(math.atan2(0.4 * item.size.spread, max(away, 0.4)))
            filled += _share(turn, half, angle)
    return filled


def _share(turn: float, half: float, angle: float) -> float:
    """Return how much of a frame is taken by what is ``half`` degrees to either side of a turn from its middle."""
    off = (turn + 180) % 360 - 180
    return max(min(off + half, 0.5 * angle) - max(off - half, -0.5 * angle), 0.0) / angle


def _depth(at: Lookout, towards: float, site: Site, angle: float) -> float:
    """Return how far one sees before fence or wall, 0 to 1."""
    edges = _standing_edges(site)
    return _clear(at, towards, edges, angle) / FAR if len(edges) else 1.0


def _standing_edges(site: Site) -> FloatArray:
    return _edges([*(f.line for f in site.fences), *((*b.outline, b.outline[0]) for b in site.buildings)])


def _edges(lines: Sequence[Sequence[Sequence[float]]]) -> FloatArray:
    """Return the straight pieces of lines, (n, 4)."""
    pairs = [(*a, *b) for line in lines for a, b in itertools.pairwise(line)]
    return np.array(pairs, dtype=float).reshape(-1, 4)


def _clear(at: Lookout, towards: float, edges: FloatArray, angle: float) -> float:
    """Return how far one sees on the mean over a frame, at most 16 m."""
    turns = np.radians(towards + np.linspace(-0.4, 0.4, 9) * angle)
    return float(np.mean([min(_reach(at.eye, turn, edges), FAR) for turn in turns.tolist()]))


def _reach(eye: Sequence[float], turn: float, edges: FloatArray) -> float:
    """Return how far a level ray goes before the first edge (n, 4)."""
    way = np.array([math.sin(turn), math.cos(turn)])
    a, along = edges[:, :2] - np.asarray(eye), edges[:, 2:] - edges[:, :2]
    det = way[0] * along[:, 1] - way[1] * along[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (a[:, 0] * along[:, 1] - a[:, 1] * along[:, 0]) / det
        share = (a[:, 0] * way[1] - a[:, 1] * way[0]) / det
    hits = far[(share >= 0) & (share <= 1) & (far > 0.05)]
    return float(hits.min()) if len(hits) else FAR
