"""What to plant instead: the kinds a plant's row names, then those most like it that do no more harm."""

from collections.abc import Iterable

from gardenkit.planting.catalogue_columns import GRADES
from gardenkit.planting.colour import difference
from gardenkit.planting.species import Species

MOST = 3  # kinds that are told. House value.
# How much each way of being unlike counts; height and spread by their ratio. House values.
WEIGHT_SIZE, WEIGHT_COLOUR, WEIGHT_BLOOM, WEIGHT_LEAF = 1.0, 1.0, 0.7, 0.5
FAR_COLOUR = 40.0  # CIEDE2000 at which two colours count as wholly unlike. House value.


def substitutes(species: Species, among: Iterable[Species], *, most: int = MOST) -> tuple[Species, ...]:
    """Return up to ``most`` kinds to take instead: the named ones first, then by likeness.

    A kind found by likeness has the same layer and role, stands the sun, moisture, winters and soil, and is neither
    more poisonous nor listed as invasive where the plant itself is not.
    """
    kinds = list(among)
    by_name = {kind.botanical: kind for kind in kinds}
    named = [by_name[name] for name in species.substitutes if name in by_name]
    like = [kind for kind in kinds if _may_stand_in(species, kind) and kind not in named]
    return (*named, *sorted(like, key=lambda kind: (unlikeness(species, kind), kind.botanical)))[:most]


def unlikeness(one: Species, other: Species) -> float:
    """Return how unlike two kinds are, 0 for the same size, flowers, bloom and leaf."""
    size = abs(one.height / other.height - 1.0) + abs(one.spread / other.spread - 1.0)
    halves = set(one.bloom_halves) | set(other.bloom_halves)
    apart = 1.0 - len(set(one.bloom_halves) & set(other.bloom_halves)) / len(halves) if halves else 0.0
    leaf = float(one.is_evergreen != other.is_evergreen) + float(one.texture != other.texture) / 2
    if one.foliage_summer and other.foliage_summer:
        leaf += min(difference(one.foliage_summer, other.foliage_summer) / FAR_COLOUR, 1.0)
    return WEIGHT_SIZE * size + WEIGHT_COLOUR * _colours_apart(one, other) + WEIGHT_BLOOM * apart + WEIGHT_LEAF * leaf


def may_take_the_place(species: Species, kind: Species) -> bool:
    """Return whether a kind is another of the same layer and role that does no more harm, and holds on alike."""
    same = (kind.layer, kind.role) == (species.layer, species.role) and kind.botanical != species.botanical
    holds = not species.climbs_by or bool(set(species.climbs_by) & set(kind.climbs_by))
    return same and holds and _harm(kind) <= _harm(species) and set(kind.invasive_in) <= set(species.invasive_in)


def _may_stand_in(species: Species, kind: Species) -> bool:
    place = (
        species.sun_best in kind.sun_range
        and set(species.moisture) & set(kind.moisture)
        and kind.zone_min <= species.zone_min
        and kind.zone_max >= species.zone_max - 1
        and kind.ph_min < species.ph_max
        and kind.ph_max > species.ph_min
    )
    return bool(place and may_take_the_place(species, kind))


def _harm(species: Species) -> int:
    return GRADES.index(species.toxicity) + 1 if species.toxicity else 0


def _colours_apart(one: Species, other: Species) -> float:
    """Return how far apart the nearest two flower colours are, 0 to 1; 1 when only one of the two shows flowers."""
    if not one.flower_colours or not other.flower_colours:
        return float(bool(one.flower_colours) != bool(other.flower_colours))
    nearest = min(difference(a, b) for a in one.flower_colours for b in other.flower_colours)
    return min(nearest / FAR_COLOUR, 1.0)
