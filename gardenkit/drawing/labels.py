"""Words on the plan: put where they can be read, never on one another, with a leader line when they stand aside.

Labels are set one at a time, the most important first. Each tries its own place, then places around it, then further
out with a leader; a place is refused when it would touch a label already set, and avoided when it would cover
something drawn.
"""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache, partial

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.legend import without
from gardenkit.drawing.scene import Bounds, Label, Layer, Mark, Scene, Stroke, on_ground
from gardenkit.geometry import nearby
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.project.remembered import Remembered

WIDTHS: dict[str, float] = {  # of a letter as a share of its size: Adobe Helvetica font metrics (AFM)
    letter: width / 1000
    for width, letters in (
        (222, "ijl'"),
        (278, " .,:;/!|ft[]I"),
        (333, "()-r"),
        (355, '"'),
        (500, "ckszvxyJ"),
        (556, "abdeghnopqu0123456789L?#"),
        (584, "+=<>×"),
        (611, "FTZ"),
        (667, "ABEKPSVXY&"),
        (722, "CDHNRUw"),
        (778, "GOQ"),
        (833, "mM"),
        (889, "%"),
        (944, "W"),
    )
    for letter in letters
}
TOGETHER = 0.7  # m between the middles of two plants of one drift, however small they are. House value.
OTHER_WIDTH, BOLD_MORE, SPARE = 0.65, 1.09, 1.03  # accents and signs; bold over regular; other fonts of the kind
WIDER = 5  # letters a fifth wider than Helvetica's are left room for on a screen: DejaVu Sans, where nothing else is
LINE_HEIGHT = 1.05  # box height over letter size: ascenders and descenders
CLEAR_MM = 0.35  # least white between two labels on the sheet
RINGS_MM = (0.0, 1.2, 3.5, 7.0, 12.0, 18.0)  # how far outside its plant a label may move
DIRECTIONS = np.arange(0, 360, 30)
ELSEWHERE = 0.01  # penalty for each further place of its own. House value.
OUTSIDE = 2.5  # penalty for leaving its own places when it had better stay. House value.
RING_COST = 2.0  # penalty for each ring further out. House value.
COVERING = 1.6  # penalty for covering one drawn thing. House value.
_C, _S = np.cos(np.radians(DIRECTIONS)), np.sin(np.radians(DIRECTIONS))
_ABS_C, _ABS_S = np.abs(_C), np.abs(_S)
_PREFERENCE = 0.02 * np.arange(len(DIRECTIONS))
Box = tuple[float, float, float, float]


@attrs.frozen(kw_only=True, cache_hash=True)
class Wish:
    """A label that wants a place: ``clear`` metres round ``at`` are its own symbol. Lower ``rank`` is set first.

    ``inside`` says it may stand on its own symbol; ``leader`` that it may move away and point back. ``path`` offers
    other points it may stand at, for a bed name along a long bed; ``stay`` says those are much the better. ``rings``
    is how many of the rings round its symbol it may go to: on a small screen it is better left out than led far away.
    """

    text: str
    at: Point
    clear: float = 0.0
    size_mm: float = style.KEY_LETTERS
    rank: int = 5
    inside: bool = True
    leader: bool = True
    halo: str | None = style.PAPER
    colour: str = style.INK
    bold: bool = False
    italic: bool = False
    turn: float = 0.0
    path: tuple[Point, ...] = ()
    stay: bool = False
    rings: int = len(RINGS_MM)
    layer: Layer = "labels"


@attrs.frozen(kw_only=True)
class Placed:
    """The marks of the labels that found a place, and the wishes that found none."""

    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    left_out: tuple[Wish, ...]


def text_width(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Return the width of a line of text in millimetres, set in Helvetica or its like, with a little to spare."""
    share = sum(WIDTHS.get(letter, OTHER_WIDTH) for letter in text)
    return share * size_mm * (BOLD_MORE if bold else 1.0) * SPARE


def label_box(label: Label, scale: float) -> Box:
    """Return the upright box a label fills, in plan metres, for a sheet at 1 : scale."""
    half_x, half_y = _half_size(label.text, label.size_mm, label.bold, label.turn, scale)
    along = {"start": 1.0, "middle": 0.0, "end": -1.0}[label.anchor]
    shift = along * on_ground(text_width(label.text, label.size_mm, bold=label.bold), scale) / 2
    a = math.radians(label.turn)
    x, y = label.at[0] + shift * math.cos(a), label.at[1] - shift * math.sin(a)
    return x - half_x, y - half_y, x + half_x, y + half_y


def on_screen(
    scene: Scene, scale: float, *, hidden: frozenset[str] = frozenset(), words: tuple[Mark, ...] | None = None
) -> tuple[Mark, ...]:
    """Return what is drawn where a drawing is shown at 1 : scale, without the groups of ``legend`` that are hidden.

    Its ``words`` are those given, else placed for that scale; of the words written at a fixed place those are kept that
    lie on no other, the smaller, which are figures and letters, before a title.
    """
    if scene.words is None or (words is None and scale == scene.scale and not hidden):
        return without(scene.marks, hidden)
    words = placed_words(scene, scale, hidden) if words is None else words
    boxes = [label_box(mark, scale) for mark in words if isinstance(mark, Label)]
    left_out: set[Label] = set()
    for label in sorted((m for m in scene.unnamed if isinstance(m, Label)), key=lambda one: one.size_mm):
        wider = label.text + label.text[: len(label.text) // WIDER]
        box = label_box(attrs.evolve(label, text=wider), scale)
        if any(overlaps(box, other) for other in boxes):
            left_out.add(label)
        else:
            boxes.append(box)
    kept = (mark for mark in scene.unnamed if not (isinstance(mark, Label) and mark in left_out))
    return (*without(kept, hidden), *words)


def placed_words(scene: Scene, scale: float, hidden: frozenset[str]) -> tuple[Mark, ...]:
    """Return the words of a drawing as they are placed for 1 : scale; none where all its words have fixed places."""
    if scene.words is None:
        return ()
    if scale == scene.scale and not hidden:
        return scene.marks[len(scene.unnamed) :]  # the drawing has placed them already
    return scene.words(scale, hidden)


def place(
    wishes: Iterable[Wish],
    *,
    scale: float,
    bounds: Bounds,
    avoid: Sequence[tuple[Point, float]] = (),
    taken: Sequence[Box] = (),
) -> Placed:
    """Return labels for the wishes on a sheet at 1 : scale: none touches another nor leaves the bounds.

    ``avoid`` are discs (place, radius in metres) better left uncovered, ``taken`` boxes that must stay free.
    """
    return _placed(tuple(wishes), scale, bounds, tuple(avoid), tuple(taken))


@lru_cache(maxsize=16)
def _placed(
    wishes: tuple[Wish, ...],
    scale: float,
    bounds: Bounds,
    avoid: tuple[tuple[Point, float], ...],
    taken: tuple[Box, ...],
) -> Placed:
    """Place the labels; remembered, because a plan is drawn several times with the same words on it."""
    boxes: list[Box] = list(taken)
    marks: list[Mark] = []
    left: list[Wish] = []
    gap, discs = on_ground(CLEAR_MM, scale), _Discs(avoid)
    set_boxes = np.empty((len(taken) + len(wishes), 4))  # those in ``boxes``, as rows
    set_boxes[: len(boxes)] = np.array(boxes, dtype=float).reshape(-1, 4)
    for wish in sorted(wishes, key=lambda w: (w.rank, -w.clear)):
        tries = _tries(wish, scale)
        there = _near(set_boxes[: len(boxes)], tries.room, gap)
        covered = discs.near(tries.low, tries.high)
        box, drawn = _SET.get(
            (wish, scale, bounds, there.tobytes(), covered.tobytes()),
            partial(_one, tries, wish, there, covered, bounds, gap),
        )
        if box is None:
            left.append(wish)
            continue
        marks += drawn
        set_boxes[len(boxes)] = box
        boxes.append(box)
    return Placed(marks=tuple(marks), boxes=tuple(boxes), left_out=tuple(left))


class _Discs:
    """Discs (place, radius) sorted from left to right, so that those near a place are found without looking at all."""

    def __init__(self, discs: Sequence[tuple[Point, float]]) -> None:
        every = np.array([(p[0], p[1], r) for p, r in discs], dtype=float).reshape(-1, 3)
        self._discs = every[every[:, 0].argsort(kind="stable")]
        self._widest = float(every[:, 2].max(initial=0.0))

    def near(self, low: FloatArray, high: FloatArray) -> FloatArray:
        """Return the discs (n, 3) whose box touches the box from ``low`` to ``high``."""
        first, last = np.searchsorted(self._discs[:, 0], (low[0] - self._widest, high[0] + self._widest))
        return _touching(self._discs[first:last], low, high)


def _touching(discs: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    touches = (discs[:, :2] + discs[:, 2:] > low) & (discs[:, :2] - discs[:, 2:] < high)
    return np.asarray(discs[touches.all(axis=1)])


def _near(boxes: FloatArray, room: Box, gap: float) -> FloatArray:
    """Return the boxes (n, 4) that come within the gap of a room."""
    left, low, right, high = room
    beside = (boxes[:, 0] < right + gap) & (boxes[:, 2] > left - gap)
    return np.asarray(boxes[beside & (boxes[:, 1] < high + gap) & (boxes[:, 3] > low - gap)])


def overlaps(a: Box, b: Box) -> bool:
    """Return whether two boxes share any paper."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def drifts(plants: Sequence[tuple[str, Point, float]], *, reach: float = 1.5) -> tuple[tuple[int, ...], ...]:
    """Return groups of plants (key, place, spread) of one key that stand together, as indices in the order met.

    Two belong together when their middles are within ``reach`` times the mean of their spreads, or within 0.7 m: a
    drift is one drift in the year it is planted too.
    """
    parent = list(range(len(plants)))

    def root(i: int) -> int:
        while parent[i] != i:
            i = parent[i]
        return i

    alike: dict[str, list[int]] = {}  # by key: others are never neighbours of one drift
    for i, (key, _, _) in enumerate(plants):
        alike.setdefault(key, []).append(i)
    for some in alike.values():
        farthest = max(TOGETHER, reach * max(plants[i][2] for i in some))
        for a, b in nearby.near_pairs(np.array([plants[i][1] for i in some]), farthest).tolist():
            i, j = some[b], some[a]
            (_, at, spread), (_, there, wide) = plants[i], plants[j]
            if math.dist(at, there) <= max(TOGETHER, reach * (spread + wide) / 2):
                parent[root(i)] = root(j)
    groups: dict[int, list[int]] = {}
    for i in range(len(plants)):
        groups.setdefault(root(i), []).append(i)
    return tuple(tuple(group) for group in groups.values())


def _half_size(text: str, size_mm: float, bold: bool, turn: float, scale: float) -> Point:
    """Return half the width and half the height of the upright box round a line of text, in plan metres."""
    wide = on_ground(text_width(text, size_mm, bold=bold), scale) / 2
    high = on_ground(size_mm * LINE_HEIGHT, scale) / 2
    c, s = abs(math.cos(math.radians(turn))), abs(math.sin(math.radians(turn)))
    return wide * c + high * s, wide * s + high * c


@attrs.frozen(eq=False)
class _Tries:
    """Places to try: ``boxes`` (n, 4), whether each is ``far`` enough to need a leader, and a penalty by distance.

    ``low`` and ``high`` are the lower left and the upper right of all together, ``room`` what they and a leader from
    one of them to what is named can touch.
    """

    boxes: FloatArray
    far: NDArray[np.bool_]
    order: FloatArray
    low: FloatArray
    high: FloatArray
    room: Box

    def part(self, keep: NDArray[np.bool_]) -> "_Tries":
        return attrs.evolve(self, boxes=self.boxes[keep], far=self.far[keep], order=self.order[keep])


@lru_cache(maxsize=4096)
def _tries(wish: Wish, scale: float) -> _Tries:
    half = np.array(_half_size(wish.text, wish.size_mm, wish.bold, wish.turn, scale))
    own = np.array([wish.at, *wish.path] if wish.inside else np.empty((0, 2)), dtype=float).reshape(-1, 2)
    rings = np.arange(wish.rings if wish.leader else min(wish.rings, 2))
    gap = wish.clear + (np.array(RINGS_MM)[rings] + 0.3) * on_ground(1.0, scale)
    reach = gap[:, None] + np.minimum(half[0] / np.maximum(_ABS_C, 1e-9), half[1] / np.maximum(_ABS_S, 1e-9))
    around = np.stack((wish.at[0] + reach * _C, wish.at[1] + reach * _S), axis=2).reshape(-1, 2)
    spots = np.vstack((own, around))
    order = np.concatenate((ELSEWHERE * np.arange(len(own)), (1.0 + RING_COST * rings[:, None] + _PREFERENCE).ravel()))
    order[len(own) :] += OUTSIDE if wish.stay else 0.0
    far = np.concatenate((np.zeros(len(own), bool), np.repeat(rings > 0, len(DIRECTIONS))))
    low, high = spots.min(axis=0) - half, spots.max(axis=0) + half
    room = (*np.minimum(low, wish.at).tolist(), *np.maximum(high, wish.at).tolist())
    return _Tries(np.hstack((spots - half, spots + half)), far, order, low, high, room)


def _best(
    tries: _Tries, wish: Wish, boxes: FloatArray, discs: FloatArray, bounds: Bounds, gap: float
) -> tuple[Box | None, bool]:
    """Return the cheapest free place, None for none, and whether it needs a leader; far places are tried only when one
    may win.
    """
    near = tries.part(~tries.far)
    for some in (near, tries):
        able = np.flatnonzero(_free(some, wish, boxes, bounds, gap))
        if not len(able):
            continue
        cost = some.order[able] + _covered(some.boxes[able], wish, discs)
        if some is near and cost.min() > tries.order[tries.far].min(initial=np.inf):
            continue
        best = int(able[cost.argmin()])
        low_x, low_y, high_x, high_y = some.boxes[best].tolist()
        return (low_x, low_y, high_x, high_y), bool(some.far[best])
    return None, False


def _one(
    tries: _Tries, wish: Wish, boxes: FloatArray, discs: FloatArray, bounds: Bounds, gap: float
) -> tuple[Box | None, tuple[Mark, ...]]:
    """Return the box of one label and its marks, None and nothing where it finds no place."""
    box, far = _best(tries, wish, boxes, discs, bounds, gap)
    if box is None:
        return None, ()
    return box, tuple(_drawn(wish, box, [tuple(row) for row in boxes.tolist()], far=far))


# Labels that are set: each keeps its place while nothing near it changes, so one path bent costs the labels near it.
_SET: Remembered[tuple[Box | None, tuple[Mark, ...]]] = Remembered(8192)


def _free(tries: _Tries, wish: Wish, boxes: FloatArray, bounds: Bounds, gap: float) -> NDArray[np.bool_]:
    """Return which places lie within the bounds, touch no label, and whose leader crosses none."""
    c = tries.boxes
    free = (c[:, 0] >= bounds[0]) & (c[:, 1] >= bounds[1]) & (c[:, 2] <= bounds[2]) & (c[:, 3] <= bounds[3])
    if len(boxes):
        x, y = wish.at
        on_it = (boxes[:, 0] < x) & (x < boxes[:, 2]) & (boxes[:, 1] < y) & (y < boxes[:, 3])
        open_to = boxes[~on_it]
        free &= ~_meeting(c, boxes, gap).any(axis=1)
        if tries.far.any() and len(open_to):
            free[tries.far] &= ~_leader_hits(c[tries.far], wish, open_to).any(axis=1)
    return np.asarray(free)


def _covered(c: FloatArray, wish: Wish, discs: FloatArray) -> FloatArray:
    """Return a penalty for every drawn thing a place would cover, its own symbols not counted."""
    discs = _touching(discs, c[:, :2].min(axis=0), c[:, 2:].max(axis=0))
    if not len(discs):
        return np.zeros(len(c))
    x, y = discs[None, :, 0], discs[None, :, 1]
    off_x = np.minimum(np.maximum(x, c[:, None, 0]), c[:, None, 2]) - x
    off_y = np.minimum(np.maximum(y, c[:, None, 1]), c[:, None, 3]) - y
    symbols = np.array([wish.at, *wish.path])
    own = (np.abs(discs[:, None, :2] - symbols[None, :, :]).max(axis=2) < 1e-9).any(axis=1)
    return np.asarray(COVERING * ((off_x * off_x + off_y * off_y < discs[:, 2] ** 2) & ~own).sum(axis=1), dtype=float)


def _meeting(a: FloatArray, b: FloatArray, gap: float) -> NDArray[np.bool_]:
    across = (a[:, None, 0] < b[None, :, 2] + gap) & (b[None, :, 0] < a[:, None, 2] + gap)
    return np.asarray(across & (a[:, None, 1] < b[None, :, 3] + gap) & (b[None, :, 1] < a[:, None, 3] + gap))


def _leader_hits(candidates: FloatArray, wish: Wish, boxes: FloatArray) -> NDArray[np.bool_]:
    """Return for each candidate and box whether the straight leader crosses the box."""
    middles = (candidates[:, :2] + candidates[:, 2:]) / 2
    steps = np.linspace(0.0, 1.0, 12)[None, :, None]
    points = np.array(wish.at)[None, None, :] * (1 - steps) + middles[:, None, :] * steps
    x, y = points[..., 0][:, :, None], points[..., 1][:, :, None]
    return np.asarray(((x > boxes[:, 0]) & (x < boxes[:, 2]) & (y > boxes[:, 1]) & (y < boxes[:, 3])).any(axis=1))


def _drawn(wish: Wish, box: Box, others: Sequence[Box], *, far: bool) -> list[Mark]:
    label = Label(
        at=((box[0] + box[2]) / 2, (box[1] + box[3]) / 2),
        text=wish.text,
        size_mm=wish.size_mm,
        colour=wish.colour,
        halo=wish.halo,
        turn=wish.turn,
        bold=wish.bold,
        italic=wish.italic,
        layer=wish.layer,
    )
    if not far:
        return [label]
    end = (min(max(wish.at[0], box[0]), box[2]), min(max(wish.at[1], box[1]), box[3]))
    leader = Stroke(
        points=(end, _reached(end, wish.at, others)), colour=style.SOFT_INK, width_mm=style.LEADER, layer=wish.layer
    )
    return [leader, label]


def _reached(start: Point, target: Point, boxes: Sequence[Box]) -> Point:
    """Return the end of a leader: its target, or the last point before the label that covers the target."""
    covering = [box for box in boxes if _in_box(target, box)]
    steps = [
        (start[0] + (target[0] - start[0]) * k / 24, start[1] + (target[1] - start[1]) * k / 24) for k in range(25)
    ]
    clear = [spot for spot in steps if not any(_in_box(spot, box) for box in covering)]
    return target if not covering else clear[-1] if clear else start


def _in_box(at: Point, box: Box) -> bool:
    return box[0] < at[0] < box[2] and box[1] < at[1] < box[3]
