"""How plants share the ground: what a kind takes up, how far two kinds stand apart, and how many go in a group."""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.balance import FORM_WEIGHT, TEXTURE_WEIGHT
from gardenkit.planting.choosing import GROUND_SHARE
from gardenkit.planting.colour import harmony, plant_colours
from gardenkit.planting.growth import crown_base
from gardenkit.planting.season import flower_months
from gardenkit.planting.setbacks import SAME_KIND, TWO_KINDS
from gardenkit.planting.spacing import plants_a_square_metre
from gardenkit.planting.species import Species
from gardenkit.planting.standing import LOW_TREE
from gardenkit.site.site import ExistingTree
from gardenkit.sources import HOUSE, Figure

Role = Literal["tree", "bush", "herb", "carpet", "bulb", "wall"]
ROLES: Mapping[str, Role] = {
    "tree": "tree",
    "conifer": "bush",
    "shrub": "bush",
    "climber": "wall",
    "wall fruit": "wall",
    "ground cover": "carpet",
    "bulb": "bulb",
}  # others are herbs
TRUNK_CLEAR = Figure(0.45, "m", f"{HOUSE}: ground left open round a trunk")
TRUNK_EDGE = Figure(0.6, "m", f"{HOUSE}: least from a trunk to the bed's edge")
CARPET_EDGE = Figure(0.35, "of its spread", f"{HOUSE}: a carpet may run over its edge a little, and is cut back there")
STEM = Figure(0.15, "m", f"{HOUSE}: what a climber's foot takes")
EVEN = Figure(0.8, "", f"{HOUSE}: share of the side of the square that each group has to itself")
UNDER = Figure(0.5, "of the mean of both spreads", f"{HOUSE}: bulbs and carpets run between their neighbours")
# Plants in one group by the distance they stand apart, metres; odd groups of 3, 5 or 7 are the published rule
# (Cooperative Extension, ask.extension.org/questions/351222), which size at which spacing is a house value.
GROUP_SIZES = ((0.25, 9), (0.35, 7), (0.50, 5), (0.90, 3))
BEDDING_SIZES = ((0.25, 5), (0.60, 3))
MOST_BULB_GROUPS = 7  # of one kind; more can be multiplied by hand. House value.
SINGLE_SHRUB = Figure(1.5, "m", f"{HOUSE}: shrubs and conifers set further apart stand alone")


@attrs.frozen(kw_only=True)
class Settings:
    """How strictly to arrange; house values where the sources differ or are silent.

    ``overhang`` share of a tree's crown radius that may hang over the bed's edge (path or lawn, never a wall);
    ``between`` share of the mean of two kinds' spreads that they stand apart; ``fullness`` share of ground covered;
    ``wall_rule`` and ``tree_rule`` as named in ``setbacks``; ``reach`` metres within which two are seen together;
    ``repeat`` metres that groups of one kind should be apart to read as an echo, less where there are many.
    """

    overhang: float = 0.5
    between: float = float(TWO_KINDS)
    fullness: float = 0.7
    wall_rule: str = "half spread and 1 ft"
    tree_rule: str = "guide 1"
    tree_clear_of_paving: bool = True
    reach: float = 1.5
    repeat: float = 4.0

    def __attrs_post_init__(self) -> None:
        for name in ("overhang", "between", "fullness"):
            if not 0.0 <= getattr(self, name) <= 1.0:
                raise GardenError(f"{name} is {getattr(self, name):g}; give a share from 0 to 1")
        if not (self.reach > 0 and self.repeat > 0):
            raise GardenError(f"reach is {self.reach:g} m and repeat {self.repeat:g} m; give distances above 0")


@attrs.frozen(kw_only=True)
class Aims:
    """How much each side of an arrangement counts. Nobody publishes such weights: house values, tuned by looking.

    ``spacing`` is so heavy that nothing else is worth a plant that stands too near.
    """

    sun: float = 3.0
    place: float = 4.0
    spacing: float = 30.0
    grouping: float = 3.0
    repetition: float = 2.0
    colour: float = 1.0
    height: float = 3.0
    balance: float = 1.0


@attrs.frozen(eq=False, kw_only=True)
class Kind:
    """One kind at full size: what room it takes. ``species`` is None for a tree that is there already."""

    name: str
    role: Role
    height: float
    spread: float
    base: float
    spacing: float
    species: Species | None = None

    @property
    def is_tree(self) -> bool:
        """Whether it keeps a tree's distance to buildings and services."""
        tall = self.species is not None and self.species.layer == "conifer" and self.height >= LOW_TREE
        return self.role == "tree" or tall

    @property
    def is_bedding(self) -> bool:
        """Whether it is set out for one summer along the path."""
        return self.species is not None and self.species.layer == "annual"

    @property
    def mass(self) -> float:
        """How heavy it looks in summer: outline weighted by form and texture, square metres."""
        if self.species is None:
            return self.height * self.spread
        form = FORM_WEIGHT.get(self.species.form, 1.0)
        return self.height * self.spread * form * TEXTURE_WEIGHT[self.species.texture]

    def edge_need(self, settings: Settings) -> float:
        """Return the least distance in metres from the bed's edge to the stem."""
        if self.role == "tree":
            return max(float(TRUNK_EDGE), (1 - settings.overhang) * self.spread / 2)
        if self.role == "wall":
            return float(STEM)
        if self.role == "bush":
            return self.spread / 2
        return max(self.spacing / 2, CARPET_EDGE * self.spread) if self.role == "carpet" else self.spacing / 2


def kind_of(species: Species) -> Kind:
    """Return the room a catalogue plant takes when grown."""
    role = ROLES.get(species.layer, "herb")
    wide = float(SAME_KIND) * species.spread if role == "bush" else 0.0  # shrubs here stand free, not as a hedge
    return Kind(
        name=species.botanical,
        role=role,
        height=species.height,
        spread=species.spread,
        base=crown_base(species, species.height),
        spacing=max(species.spacing_m, wide),
        species=species,
    )


def kind_of_tree(tree: ExistingTree) -> Kind:
    """Return the room of a tree that is there already."""
    return Kind(
        name=tree.name, role="tree", height=tree.height, spread=tree.spread, base=tree.crown_base, spacing=tree.spread
    )


def apart(a: Kind, b: Kind, settings: Settings) -> float:
    """Return how far two plants stand apart, stem to stem, in metres.

    One kind: its spacing (shrubs: at least 0.75 of the spread). Two kinds: the mean of their spreads times
    ``settings.between``. What stays below a tree's lowest leaves only keeps off the trunk; bulbs and carpets run up to
    half the mean of both spreads.
    """
    if a.name == b.name and a.species is not None and b.species is not None:
        return a.spacing
    mean = (a.spread + b.spread) / 2
    if "tree" in (a.role, b.role) and a.role != b.role:
        tree, low = (a, b) if a.role == "tree" else (b, a)
        fits_under = low.height <= tree.base
        return (float(TRUNK_CLEAR) + low.spread / 2 if fits_under else mean) * settings.between
    if "wall" in (a.role, b.role):
        other = b if a.role == "wall" else a
        return float(STEM) + (float(STEM) if other.role == "wall" else other.spread / 2 * float(UNDER))
    if a.role != b.role and {a.role, b.role} & {"bulb", "carpet"}:
        return mean * min(float(UNDER), settings.between)
    return mean * settings.between


def clashes(kinds: Sequence[Kind], *, shift_days: float = 0.0) -> FloatArray:
    """Return (k, k) from 0 to 1: how ill the colours of two kinds sit together, by the share of months both flower."""
    found = np.zeros((len(kinds), len(kinds)))
    months = [set(flower_months(k.species, shift_days)) if k.species else set() for k in kinds]
    for i, a in enumerate(kinds):
        for j in range(i):
            both = months[i] & months[j]
            b = kinds[j]
            if both and a.species and b.species:
                together = len(both) / min(len(months[i]), len(months[j]))
                fit = harmony((*plant_colours(a.species), *plant_colours(b.species))).fit
                found[i, j] = found[j, i] = together * (1.0 - fit)
    return found


def usual_counts(
    palette: Iterable[Species], bed_area: float, *, fullness: float = 0.7, counts: Mapping[str, int] | None = None
) -> dict[str, int]:
    """Return how many plants of each kind (botanical name) a garden with ``bed_area`` square metres of beds takes.

    One of each tree, climber and trained fruit; the rest by their layer's usual share of the ground times ``fullness``,
    shared out among the layer's kinds, at the catalogue's spacing, in whole odd groups. ``counts`` overrides.
    """
    kinds = list(palette)
    wanted = dict(counts or {})
    found: dict[str, int] = {}
    for species in kinds:
        if species.botanical in wanted:
            if wanted[species.botanical] < 0:
                raise GardenError(f"{wanted[species.botanical]} of {species.botanical} are wanted; give 0 or more")
            found[species.botanical] = wanted[species.botanical]
            continue
        share = GROUND_SHARE.get(species.layer)
        if share is None:
            found[species.botanical] = 1
            continue
        beside = sum(1 for other in kinds if other.layer == species.layer)
        room = bed_area * fullness * share / beside
        exact = room * plants_a_square_metre(kind_of(species).spacing)
        size = group_size(species)
        most = MOST_BULB_GROUPS if species.layer in ("bulb", "tender bulb") else math.inf
        many = int(min(max(1, round(exact / size)), most))
        found[species.botanical] = many * size if size > 1 else many - (many + 1) % 2  # singles: an odd number too
    return found


def group_size(species: Species) -> int:
    """Return how many of a kind make one group: odd, more of the small ones; threes and fives for bedding."""
    if species.layer in ("tree", "climber", "wall fruit"):
        return 1
    if species.layer in ("shrub", "conifer"):
        return 1 if kind_of(species).spacing > SINGLE_SHRUB or species.layer == "conifer" else 3
    sizes = BEDDING_SIZES if species.layer == "annual" else GROUP_SIZES
    return next((size for apart_m, size in sizes if species.spacing_m <= apart_m), 1)


def groups_of(count: int, size: int) -> tuple[int, ...]:
    """Return ``count`` plants as odd groups of about ``size``, largest first; two plants are two singles.

    >>> groups_of(12, 5), groups_of(9, 3), groups_of(10, 9)
    ((7, 5), (3, 3, 3), (5, 5))
    """
    if count <= 0:
        return ()
    groups = max(1, round(count / size))
    if (count - groups) % 2:  # odd numbers add up to count only if their number is odd or even as count is
        groups += 1
    least = (count // groups - 1) // 2 * 2 + 1
    extra = (count - least * groups) // 2
    each = [least + 2 * (extra // groups + (1 if i < extra % groups else 0)) for i in range(groups)]
    return tuple(sorted(each, reverse=True))


def group_span(spacing: float, size: int) -> float:
    """Return about how far the furthest two of a close group stand apart, in metres."""
    return spacing * math.sqrt(size)


def echo_distance(kind: Kind, groups: int, bed_area: float, settings: Settings) -> float:
    """Return how far apart groups of one kind should be in metres, so that ``groups`` of them spread over all beds.

    Carpets may run together: 0.
    """
    if kind.role == "carpet" or groups < 2:
        return 0.0
    return min(settings.repeat, float(EVEN) * math.sqrt(bed_area / groups))
