"""How varied a planting is: shares by species, genus and family, and the ecologists' measures of diversity."""

import math
from collections import Counter
from collections.abc import Iterable, Mapping

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.planting.catalogue_columns import CASTS_SHADE
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

ENOUGH = Figure(20, "woody plants", f"{HOUSE}: below this many the shares are only reported")
# Most of one species, genus, family; the rules differ, so each is a named setting.
SHARE_RULES: Mapping[str, tuple[float, float, float]] = {
    "10-20-30": (0.10, 0.20, 0.30),  # Santamour 1990, as quoted by Kendal, Dobbs & Lohr 2014
    "5-10-20": (0.05, 0.10, 0.20),  # Portland, second-hand
    "5 % a genus": (1.0, 0.05, 1.0),  # Ball, second-hand
}
SHARE_SOURCES = {
    "10-20-30": "Santamour 1990, as quoted by Kendal, Dobbs & Lohr 2014; made for city forests",
    "5-10-20": "a rule of Portland, second-hand; made for city forests",
    "5 % a genus": "Ball, second-hand; made for city forests",
}
RANKS = ("species", "genus", "family")


@attrs.frozen(kw_only=True)
class Diversity:
    """Measures of a count by kind: Shannon H' in nats, Simpson 1 - sum p2 and unbiased, Pielou's H' / ln S."""

    plants: int
    kinds: int
    shannon: float
    simpson: float
    simpson_unbiased: float
    pielou: float

    @property
    def effective_kinds(self) -> float:
        """How many evenly shared kinds would be as diverse: exp H'."""
        return math.exp(self.shannon)


def diversity(counts: Iterable[int]) -> Diversity:
    """Return the measures for counts by kind; kinds with 0 are left out. GardenError for no plants.

    >>> round(diversity([20, 10, 5, 5]).shannon, 4)
    1.213
    """
    numbers = [n for n in counts if n > 0]
    total = sum(numbers)
    if not total:
        raise GardenError("there are no plants to measure the diversity of; place some first")
    shares = [n / total for n in numbers]
    shannon = -sum(p * math.log(p) for p in shares)
    pairs = sum(n * (n - 1) for n in numbers)
    return Diversity(
        plants=total,
        kinds=len(numbers),
        shannon=max(shannon, 0.0),
        simpson=1.0 - sum(p * p for p in shares),
        simpson_unbiased=1.0 - pairs / (total * (total - 1)) if total > 1 else 0.0,
        pielou=shannon / math.log(len(numbers)) if len(numbers) > 1 else 1.0,
    )


def greatest_shares(plants: Iterable[Species]) -> dict[str, tuple[str, float]]:
    """Return the commonest species (cultivars counted with it), genus and family of the plants, each with its share."""
    listed = tuple(plants)
    if not listed:
        return {}
    ranks = {
        "species": Counter(s.binomial for s in listed),
        "genus": Counter(s.genus for s in listed),
        "family": Counter(s.family for s in listed),
    }
    tops = {rank: counted.most_common(1)[0] for rank, counted in ranks.items()}
    return {rank: (name, n / len(listed)) for rank, (name, n) in tops.items()}


def diversity_findings(plants: Iterable[Species], *, rule: str = "10-20-30") -> tuple[Finding, ...]:
    """Return what breaks the share rule among woody plants (``plants`` has one entry each); a note below 20 of them."""
    if rule not in SHARE_RULES:
        raise GardenError(f'there is no share rule "{rule}"{nearest(rule, SHARE_RULES)}; use {", ".join(SHARE_RULES)}')
    woody = tuple(s for s in plants if s.layer in CASTS_SHADE)
    tops = greatest_shares(woody)
    few = len(woody) < ENOUGH
    return tuple(
        Finding(
            where="planting",
            what=f"{share:.0%} of {len(woody)} woody plants are of the {rank} {name}; the rule allows {most:.0%}"
            + (f", but says little of fewer than {ENOUGH:.0f} plants" if few else ""),
            why=f'rule "{rule}"',
            source=SHARE_SOURCES[rule],
            seriousness="note" if few else "caution",
            topic="diversity",
        )
        for rank, most in zip(RANKS, SHARE_RULES[rule], strict=True)
        for name, share in (tops.get(rank, ("", 0.0)),)
        if share > most + 1e-9
    )
