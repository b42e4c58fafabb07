"""Whether a planting is in balance: mass left and right of the way, evergreens, contrast of leaf and form, repeats."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import partial

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding
from gardenkit.geometry import nearby
from gardenkit.geometry.plane import FloatArray, Line
from gardenkit.planting.colour import lab
from gardenkit.planting.season import appearance
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Standing, by_kind, in_reach, positions
from gardenkit.sources import HOUSE, MEMORY, Figure

Numbers = NDArray[np.int64]

# How heavy a plant looks is its outline (height by width) times these. Nobody publishes numbers; UF/IFAS EP433
# (ENH1172) says upright, bright, coarse weighs more and prostrate, dull, fine less. House values.
TEXTURE_WEIGHT: Mapping[str, float] = {"fine": 0.8, "medium": 1.0, "coarse": 1.25}
FORM_WEIGHT: Mapping[str, float] = {
    "columnar": 1.2,
    "conical": 1.1,
    "upright": 1.1,
    "spire": 1.1,
    "prostrate": 0.8,
    "mat": 0.8,
}
BARE_WEIGHT = Figure(0.35, "of its mass in leaf", HOUSE)  # bare branches
DARK_WEIGHT = Figure(1.2, "", HOUSE)  # black foliage; white 0.8, straight between by CIELAB lightness
LIGHT_WEIGHT = Figure(0.8, "", HOUSE)
REACH = Figure(6.0, "m", f"{HOUSE}: plants further from the path than this do not count on its sides")
UNEVEN = Figure(0.35, "of the mass of both sides", f"{HOUSE}: the lighter side has at least this share")
EVERGREEN = Figure(1 / 3, "of the plants or of the winter mass", f"about one third; {MEMORY}, no origin")
EVERGREEN_SLACK = Figure(0.10, "", HOUSE)
NEIGHBOURS = Figure(1.5, "m between crowns", f"{HOUSE}: kinds this near are seen together")
APART = Figure(2.0, "m along the path", f"{HOUSE}: the same kind this far on reads as a repeat")
REPEATS = Figure(
    3, "places", "unity from three similar elements; Cooperative Extension, ask.extension.org/questions/351222"
)


@attrs.frozen(kw_only=True)
class Mass:
    """Visual mass on each side of a way, walking it from its start (square metres of weighted outline)."""

    left: float
    right: float

    @property
    def left_share(self) -> float:
        """The left side's share of both, 0 to 1; a half when there is nothing."""
        both = self.left + self.right
        return self.left / both if both > 0 else 0.5


@attrs.frozen(kw_only=True)
class Contrast:
    """Shares of neighbouring ``pairs`` of different kinds that differ in leaf texture, and in form."""

    texture: float
    form: float
    pairs: int


@attrs.frozen(kw_only=True)
class Repeat:
    """A kind along the way: how many places it stands at, in metres along the path from its start."""

    botanical: str
    places: tuple[float, ...]


def visual_mass(one: Standing, month: int, *, shift_days: float = 0.0) -> float:
    """Return how heavy one plant looks in a month, in square metres of weighted outline."""
    look = appearance(one.species, month, shift_days)
    outline = one.size.height * look.height_factor * one.size.spread
    shade = 1.0
    if look.foliage is not None:
        shade = DARK_WEIGHT + (LIGHT_WEIGHT - DARK_WEIGHT) * lab(look.foliage)[0] / 100
    leaves = BARE_WEIGHT + (1 - BARE_WEIGHT) * look.in_leaf
    form = FORM_WEIGHT.get(one.species.form, 1.0)
    return outline * leaves * shade * form * TEXTURE_WEIGHT[one.species.texture]


def mass_beside(
    plants: Sequence[Standing], way: Line, month: int, *, reach: float = float(REACH), shift_days: float = 0.0
) -> Mass:
    """Return the visual mass left and right of a path's middle line, of plants within ``reach`` metres."""
    (mass,) = masses_beside(plants, way, (month,), reach=reach, shift_days=shift_days)
    return mass


def masses_beside(
    plants: Sequence[Standing],
    way: Line,
    months: Sequence[int],
    *,
    reach: float = float(REACH),
    shift_days: float = 0.0,
) -> tuple[Mass, ...]:
    """Return the same in each of several months."""
    if not plants or len(way) < 2:
        return tuple(Mass(left=0.0, right=0.0) for _ in months)
    away, _, on_left = beside(positions(plants), way)
    found = []
    for month in months:
        heavy = by_kind(plants, partial(visual_mass, month=month, shift_days=shift_days))
        weights = np.where(away <= reach, heavy, 0.0)
        found.append(Mass(left=float(weights[on_left].sum()), right=float(weights[~on_left].sum())))
    return tuple(found)


def evergreen_share(plants: Sequence[Standing], *, by: str = "count") -> float:
    """Return the share of evergreens ``by="count"`` of plants or ``by="mass"`` seen in January; 0 without plants."""
    heavy = [visual_mass(one, 1) if by == "mass" else 1.0 for one in plants]
    total = sum(heavy)
    return sum(w for one, w in zip(plants, heavy, strict=True) if one.species.is_evergreen) / total if total else 0.0


def contrast(plants: Sequence[Standing]) -> Contrast:
    """Return how often neighbours of different kinds differ in texture and in form."""
    kind, texture, form = (
        _numbered(getattr(one.species, field) for one in plants) for field in ("botanical", "texture", "form")
    )
    i, j = neighbours(plants)
    other = kind[i] != kind[j]
    i, j = i[other], j[other]
    if not len(i):
        return Contrast(texture=0.0, form=0.0, pairs=0)
    unlike_leaf, unlike_form = (float(np.mean(of[i] != of[j])) for of in (texture, form))
    return Contrast(texture=unlike_leaf, form=unlike_form, pairs=len(i))


def neighbours(plants: Sequence[Standing], *, gap: float = float(NEIGHBOURS)) -> tuple[Numbers, Numbers]:
    """Return the places in ``plants`` of the first and the second of each two with crowns at most ``gap`` m apart."""
    at, radius = positions(plants), np.array([one.radius for one in plants])
    i, j = nearby.near_pairs(at, gap + 2 * float(radius.max(initial=0.0))).T
    near = np.hypot(*(at[i] - at[j]).T) - radius[i] - radius[j] <= gap
    return i[near], j[near]


def repeats(plants: Sequence[Standing], way: Line, *, reach: float = float(REACH)) -> tuple[Repeat, ...]:
    """Return the kinds beside a path with the places they stand at, those at most places first."""
    if not plants or len(way) < 2:
        return ()
    away, along, _ = beside(positions(plants), way)
    spots: dict[str, list[float]] = defaultdict(list)
    for one, far, at in zip(plants, away, along, strict=True):
        if far <= reach:
            spots[one.species.botanical].append(float(at))
    found = (Repeat(botanical=kind, places=_places(sorted(places))) for kind, places in spots.items())
    return tuple(sorted(found, key=lambda r: (-len(r.places), r.botanical)))


def texture_shares(kinds: Iterable[Species]) -> dict[str, float]:
    """Return the share of fine, medium and coarse leaves among plants (one entry each)."""
    counted = Counter(s.texture for s in kinds)
    total = sum(counted.values())
    return {word: counted[word] / total if total else 0.0 for word in TEXTURE_WEIGHT}


def balance_findings(plants: Sequence[Standing], way: Line, *, path: str = "path") -> tuple[Finding, ...]:
    """Return what is out of balance along a path: a heavier side, nothing that comes back."""
    near = in_reach(plants, way, float(REACH))
    found = _side_findings(near, way, path)
    kinds = repeats(near, way)
    if len(kinds) >= 5 and not any(len(r.places) >= REPEATS for r in kinds):
        what = f"no kind comes back at {REPEATS:.0f} places along {path}; repeating one or two ties the beds together"
        found.append(_note(path, what, REPEATS.source))
    return tuple(found)


def whole_findings(plants: Sequence[Standing], *, evergreen_wanted: float = float(EVERGREEN)) -> tuple[Finding, ...]:
    """Return what is out of balance in the planting as a whole: too few or many evergreens, one texture."""
    if not plants:
        return ()
    found = _evergreen_findings(plants, evergreen_wanted)
    seen = contrast(plants)
    if seen.pairs >= 5 and seen.texture < 0.2:
        what = f"only {seen.texture:.0%} of neighbouring kinds differ in leaf texture; set a fine beside a coarse one"
        found.append(_note("planting", what, HOUSE))
    return tuple(found)


def beside(points: FloatArray, way: Line) -> tuple[FloatArray, FloatArray, NDArray[np.bool_]]:
    """Return for each point (n, 2) its distance to a line, the metres along it of the nearest place, and if it is left
    of it walking from the first point.
    """
    line = np.asarray(way, dtype=float)
    start, run = line[:-1], np.diff(line, axis=0)
    long = np.maximum(np.hypot(run[:, 0], run[:, 1]), 1e-12)
    from_start = points[:, None, :] - start[None, :, :]
    share = np.clip((from_start * run).sum(axis=2) / long**2, 0.0, 1.0)
    off = from_start - share[:, :, None] * run[None, :, :]
    far = np.hypot(off[:, :, 0], off[:, :, 1])
    piece = far.argmin(axis=1)
    rows = np.arange(len(points))
    along = np.concatenate(([0.0], np.cumsum(long)))[piece] + share[rows, piece] * long[piece]
    turn = run[piece, 0] * from_start[rows, piece, 1] - run[piece, 1] * from_start[rows, piece, 0]
    return far[rows, piece], along, turn > 0


# ---- helpers


def _places(along: list[float]) -> tuple[float, ...]:
    places: list[float] = []
    last = -np.inf
    for at in along:
        if at - last > APART:
            places.append(at)
        last = at
    return tuple(places)


def _numbered(words: Iterable[str]) -> Numbers:
    """Return a number for each word, the same for the same word."""
    numbers: dict[str, int] = {}
    return np.array([numbers.setdefault(word, len(numbers)) for word in words], dtype=np.int64)


def _side_findings(plants: Sequence[Standing], way: Line, path: str) -> list[Finding]:
    found = []
    for season, mass in zip(("winter", "summer"), masses_beside(plants, way, (1, 7)), strict=True):
        if mass.left + mass.right > 0 and min(mass.left_share, 1 - mass.left_share) < UNEVEN:
            side = "left" if mass.left_share > 0.5 else "right"
            share = max(mass.left_share, 1 - mass.left_share)
            what = f"{share:.0%} of what stands beside it in {season} is on the {side}"
            found.append(_note(path, what, UNEVEN.source))
    return found


def _evergreen_findings(plants: Sequence[Standing], wanted: float) -> list[Finding]:
    share = evergreen_share(plants)
    if abs(share - wanted) <= EVERGREEN_SLACK:
        return []
    word = "few" if share < wanted else "many"
    what = f"{share:.0%} of the plants are evergreen, {word} for the {wanted:.0%} wanted"
    return [_note("planting", what, EVERGREEN.source)]


def _note(where: str, what: str, source: str) -> Finding:
    return Finding(where=where, what=what, source=source, topic="balance")
