"""What part each kind of the palette plays in a composition, how many stand together and how much ground that takes."""

import math
from collections import Counter
from collections.abc import Sequence
from functools import cached_property, lru_cache
from typing import Literal

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.catalogue_columns import HERBS
from gardenkit.planting.composing.given import Surroundings
from gardenkit.planting.composing.ground import Ground, Mask
from gardenkit.planting.crowding import BESIDE
from gardenkit.planting.room import carries
from gardenkit.planting.setbacks import (
    BEFORE_WINDOW,
    SERVICE_DISTANCES,
    TREE_PAVING,
    path_distance,
    tallest_by_wires,
    tree_distance,
    wall_distance,
)
from gardenkit.planting.species import Species
from gardenkit.planting.standing import LOW_TREE
from gardenkit.planting.sun_need import WORDS, hours_of, least_hours, sun_word
from gardenkit.site.site import ExistingTree
from gardenkit.sources import HOUSE, Figure

Part = Literal["tree", "shrub", "drift", "carpet", "bulb", "climber"]
CLOSE = Figure(0.92, "of the on-centre distance", f"{HOUSE}: so that drifts close by the third year")
LOW_EDGE = Figure(0.45, "m", f"lowest plants along the walk; {HOUSE}")
LOW_SHRUB = Figure(0.75, "m", f"{HOUSE}: a shrub this low is drifted like a perennial")
FENCE = Figure(0.7, "of half the grown width", f"{HOUSE}: a shrub leans on the fence behind, it does not hang over")
TRUNK_CLEAR = Figure(0.35, "m beyond the bark", HOUSE)
HOURS_A_COST = 2.0  # h of sun too little or too much that cost 1. House value.
SUN_SLACK = 0.25  # h a day outside its range that a kind is still set in: half of what the findings allow. House value.
NOT_BEST = 0.25  # cost of sun that a plant stands but does not like best. House value.
COLONY = {"IV": 25, "V": 35}  # plants in a colony of the levels that have no upper number. House values.


@attrs.frozen(eq=False)
class Kind:
    """One kind of the palette with the part it plays."""

    species: Species

    @cached_property
    def part(self) -> Part:
        """Which stage of the composition sets it."""
        s = self.species
        if s.layer in ("climber", "wall fruit"):
            return "climber"
        if s.layer == "tree" or (s.layer == "conifer" and s.height >= LOW_TREE):
            return "tree"
        if s.layer == "bulb" and s.role == "scatter":  # lilies and their like are drifted as perennials are
            return "bulb"
        if s.layer in ("shrub", "conifer"):
            return "drift" if s.height < LOW_SHRUB else "shrub"
        if s.layer == "ground cover":
            return "carpet"
        return "drift"

    @property
    def apart(self) -> float:
        """Metres from one to the next of its kind."""
        return float(CLOSE) * self.species.spacing_m

    @property
    def room_each(self) -> float:
        """Ground one plant takes in a mass, m2: a hexagon of the on-centre distance."""
        return math.sqrt(3) / 2 * self.apart**2

    @property
    def together(self) -> tuple[int, int]:
        """Fewest and most that stand together in one drift, by sociability."""
        least, most = self.species.together
        level = self.species.sociability[-1] if self.species.sociability else ""
        return least, most if most is not None else COLONY.get(level, 20)

    @property
    def bears_dry(self) -> bool:
        """Whether it does without water that others drink."""
        return "dry" in self.species.moisture

    @property
    def drift_area(self) -> float:
        """Ground a usual drift of the kind takes, m2."""
        least, most = self.together
        return math.sqrt(least * most) * self.room_each

    @property
    def is_edge(self) -> bool:
        """Whether it is low enough to stand along the walk."""
        return self.part in ("drift", "carpet") and self.species.height <= LOW_EDGE

    @property
    def is_herb(self) -> bool:
        """Whether it has no wood to build."""
        return self.species.layer in HERBS or self.species.layer == "ground cover"


@lru_cache(maxsize=2048)
def kind_of(species: Species) -> Kind:
    """Return a kind with its part; the same one each time, so that what is worked out of it is remembered."""
    return Kind(species)


def sun_misfit(species: Species, hours: FloatArray) -> FloatArray:
    """Return (n,) how ill hours of sun suit a kind: 0 its best, 1 for two hours outside its range."""
    low, high = least_hours(species), _most_hours(species)
    best_low, best_high = hours_of(species.sun_best)
    outside = np.maximum(low - hours, 0.0) + np.maximum(hours - high, 0.0)
    return np.asarray(outside / HOURS_A_COST + np.where((hours < best_low) | (hours > best_high), NOT_BEST, 0.0))


def takes_sun(species: Species, ground: Ground) -> Mask:
    """Return the squares whose sun a kind takes, now and under what will have grown; all where sun is not known."""
    if ground.hours is None:
        return np.ones(len(ground), dtype=bool)
    low, high = least_hours(species), _most_hours(species)
    ok = (ground.hours >= low - SUN_SLACK) & (ground.hours < high + SUN_SLACK)
    return np.asarray(ok if ground.later is None else ok & (ground.later >= low))


def untaken(kinds: Sequence[Kind], ground: Ground, leaves: Mask) -> dict[str, float]:
    """Return the bare ground whose sun no herb of the palette takes: word of the sun, darkest first -> m2. ``leaves``
    (n,) the squares under leaves.
    """
    if ground.hours is None:
        return {}
    low = [k for k in kinds if k.part in ("drift", "carpet")]
    taken = np.logical_or.reduce([takes_sun(k.species, ground) for k in low]) if low else np.zeros_like(leaves)
    hours = (ground.hours if ground.later is None else np.minimum(ground.hours, ground.later))[~leaves & ~taken]
    words = Counter(sun_word(float(one)) for one in hours)
    return {word: words[word] * ground.square for word in WORDS if words[word]}


def keeps_sun(species: Species, at: Point, ground: Ground) -> bool:
    """Whether a plant will have the sun it needs when all has grown, on the sunniest side of its crown; yes where the
    later sun is not known.
    """
    if ground.later is None:
        return True
    beside = ground.near_to(at, species.spread / 2 + BESIDE)
    return not beside or bool(ground.later[beside].max() >= least_hours(species))


def allowed(species: Species, ground: Ground, surroundings: Surroundings) -> Mask:
    """Return the squares that no must of the client's keeps a kind out of."""
    ok = np.ones(len(ground), dtype=bool)
    for one in surroundings.kept_out:
        if species.botanical in one.kinds:
            ok &= ~plane.inside(one.ground, ground.points)
    return ok


def may_stand(kind: Kind, ground: Ground, surroundings: Surroundings) -> Mask:
    """Return the squares where a kind has the sun it takes, and room when grown: clear of edges, walls, windows, paths,
    trunks and services.
    """
    s, near = kind.species, ground.near
    half = s.spread / 2
    ok = (
        near.clear
        & takes_sun(s, ground)
        & allowed(s, ground, surroundings)
        & (ground.edge >= (0.35 * min(kind.apart, s.spread) if kind.is_herb else min(half, 0.5)))
    )
    if kind.part == "shrub":
        ok &= (ground.front >= path_distance(s)) & (ground.back >= float(FENCE) * half)
        ok &= near.boundary >= float(FENCE) * half
    if kind.part == "tree":
        ok &= carries(s, ground.across)
        ok &= (ground.front >= float(TREE_PAVING)) & (ground.edge >= min(0.45 * half, 1.2))
        ok &= near.walls >= max(tree_distance(s.height, s.spread), half)
    elif not kind.is_herb:
        ok &= near.walls >= wall_distance(s)
    for glass, away in near.windows:
        if s.height > glass.sill:
            ok &= away >= half + BEFORE_WINDOW
    for tree in surroundings.trees:
        ok &= ~ground.within(tree.at, _from_trunk(kind, tree))
    return ok & _clear_of_services(kind, ground)


def _most_hours(species: Species) -> float:
    return max(hours_of(word)[1] for word in species.sun_range)


def _from_trunk(kind: Kind, tree: ExistingTree) -> float:
    bark, spread = tree.trunk_diameter / 2, kind.species.spread
    if kind.part == "shrub" and kind.species.height > tree.crown_base:
        return max(tree.spread / 2, bark + spread / 2)  # it would grow into the crown
    if kind.part == "tree":
        return 0.4 * (tree.spread + spread)
    return bark + (0.3 * spread + 0.3 if kind.part == "shrub" else float(TRUNK_CLEAR))


def _clear_of_services(kind: Kind, ground: Ground) -> Mask:
    ok = np.ones(len(ground), dtype=bool)
    if kind.part != "tree":
        return ok
    for service, away in ground.near.services:
        if service.kind == "overhead line":
            ok &= np.array([kind.species.height <= tallest_by_wires(float(d)) for d in away])
        else:
            ok &= away >= SERVICE_DISTANCES.get(service.kind, max(SERVICE_DISTANCES.values()))
    return ok
