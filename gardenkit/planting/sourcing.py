"""How much of the plant tables is written from memory, and how much was found to agree with something published."""

import re
from collections.abc import Iterable, Mapping

from gardenkit.planting.species import Species

GROUPS = ("size", "growing", "season", "caution")  # of columns, each with its own source
DATED = re.compile(
    r"first flowers|half months|bulletin of|in bloom"
)  # of a season source that tells days or half months
UNPUBLISHED = ("from memory", "not found", "held against")  # how a part of a source begins that proves nothing


def published(source: str) -> tuple[str, ...]:
    """Return the parts of a source cell that name something published, none when the values are from memory alone.

    >>> published("from memory; agrees with USDA PLANTS")
    ('agrees with USDA PLANTS',)
    """
    return tuple(part for part in source.split("; ") if part and not part.startswith(UNPUBLISHED))


def sources_of(species: Species) -> Mapping[str, tuple[str, ...]]:
    """Return what was published of each group of one plant's columns, by group."""
    return {group: published(getattr(species, f"{group}_source")) for group in GROUPS}


def memory_shares(plants: Iterable[Species]) -> dict[str, float]:
    """Return the share (0 to 1) of plants from memory: by group, and ``every`` for those with nothing published at all.

    Without plants every share is 0.
    """
    found = [sources_of(plant) for plant in plants]
    count = max(len(found), 1)
    shares = {group: sum(not sources[group] for sources in found) / count for group in GROUPS}
    return {**shares, "every": sum(not any(sources.values()) for sources in found) / count}


def publications(species: Species) -> frozenset[str]:
    """Return the publications that agree with any values of one plant, each once however many columns it agrees with.

    >>> sorted({publisher("agrees with USDA PLANTS (species)"), publisher("agrees with USDA PLANTS")})
    ['USDA PLANTS']
    """
    return frozenset(publisher(part) for parts in sources_of(species).values() for part in parts)


def publisher(part: str) -> str:
    """Return who published what a part of a source names: without what was read there, and for which species."""
    name = part.partition(" from ")[2] if " from " in part else part.removeprefix("agrees with ")
    return re.split(r",| \(| bloom months| for the species", name)[0].strip()


def twice_published(plants: Iterable[Species]) -> float:
    """Return the share (0 to 1) of plants that two publications or more, independent of each other, agree with."""
    many = [len(publications(plant)) >= 2 for plant in plants]
    return sum(many) / max(len(many), 1)


def by_halves(plants: Iterable[Species]) -> tuple[int, int, int]:
    """Return how many kinds flower, of how many the bloom is known to the half month, and of how many of these a
    published date within the half month agrees.
    """
    flowering = [plant for plant in plants if plant.bloom_start]
    known = [plant for plant in flowering if plant.bloom_by_halves]
    return len(flowering), len(known), sum(any(map(DATED.search, sources_of(p)["season"])) for p in known)


def memory_words(plants: Iterable[Species]) -> str:
    """Return the shares as one line for a page."""
    plants = tuple(plants)
    shares = memory_shares(plants)
    parts = ", ".join(f"{group} {shares[group]:.0%}" for group in GROUPS)
    flowering, known, dated = by_halves(plants)
    return (
        f"from memory, without anything published to agree with: {shares['every']:.0%} of the plants; "
        f"by group {parts}; two publications or more agree with {twice_published(plants):.0%}"
        f"; bloom to the half month for {known} of the {flowering} kinds that flower, "
        f"published dates agree with {dated} of them"
    )
