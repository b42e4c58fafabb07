"""When a plant's care falls in a place, and how it is done there: after its own flowers, before its own leaves."""

from collections.abc import Mapping

from gardenkit.planting.season import flower_months, leaf_share, shifted_months
from gardenkit.planting.species import CareTask, Species, months_from_to
from gardenkit.structure.kinds.rows import Care

AFTER = 2  # months after the last flower in which a cut still counts as after flowering. House value.
AFTER_FLOWERS = ("after flowering", "clematis 1")  # groups that flower on last year's wood
FULL_LEAF, BARE = 0.9, 0.5  # share of full leaf from which a plant is in full leaf, to which it is bare. House values.
COLD = (10, 11, 12, 1, 2, 3)  # months of the northern year in which frost is to be expected. House value.
SPRING = (3, 4, 5)  # of the northern zone 6 year, in which a mulch is for the summer. House value.
GUARDED = ("lift", "mulch", "protect")  # done in these months, they are done because of frost
_BY_GROUP = {
    "clematis 1": "lightly, right after flowering",
    "clematis 2": "dead and weak shoots only, back to strong buds",
    "clematis 3": "all shoots to about 12 in (30 cm)",
    "hardly": "only dead or crossing wood",
}
# What to look for in a plant whose row names it: a word of its cautions, what to look for, in which months of the zone
# 6 year. COMMON practice; the months are house values.
WATCHED: Mapping[str, tuple[str, tuple[int, ...]]] = {
    "slug": ("slugs", (4, 5)),
    "mildew": ("mildew", (6, 7, 8)),
    "black spot": ("black spot", (5, 6, 7)),
    "spider mite": ("spider mites", (7, 8)),
    "lily leaf beetle": ("lily leaf beetles", (4, 5, 6)),
    "viburnum": ("viburnum leaf beetles", (5, 6)),
    "leaf beetle": ("leaf beetles", (5, 6)),
    "japanese beetle": ("Japanese beetles", (7,)),
    "lace bug": ("lace bugs", (6, 7)),
    "fireblight": ("shoots burnt by fireblight", (5, 6)),
    "scab": ("scab", (5, 6)),
    "canker": ("cankers", (5,)),
    "clematis wilt": ("clematis wilt", (5, 6)),
    "borer": ("holes of borers", (6,)),
    "box tree moth": ("caterpillars of the box tree moth", (4, 7)),
    "box blight": ("box blight", (6, 9)),
    "boxwood blight": ("box blight", (6, 9)),
    "adelgid": ("woolly adelgids", (4,)),
    "sawfly": ("sawfly larvae", (5,)),
    "leaf spot": ("leaf spot", (7, 8)),
    "bagworm": ("bagworms", (6,)),
    "vole": ("gnawing by voles", (3,)),
    "deer": ("browsing by deer", (4, 12)),
}
# Words of WATCHED for what is at home north of the equator and no trouble of gardens south of it. COMMON practice.
NORTHERN = ("deer", "vole", "viburnum", "lily leaf beetle", "japanese beetle", "adelgid", "bagworm", "box tree moth")
_NOT_HERE = ("resist", "less than others", "scabious")  # words of a caution that says the plant has little of it


def months_here(species: Species, care: CareTask, shift_days: float) -> tuple[int, ...]:
    """Return the months of a task in the northern year of a place where spring comes ``shift_days`` later.

    What follows the flowers (dead-heading, cuts after flowering) keeps its distance from the last flower of the place;
    anything else moves as the season of its own month does. A task keeps its duration, so none falls twice.
    """
    months = shifted_months(care.first_month, care.last_month, shift_days)
    if not follows_flowers(species, care) or species.bloom_end is None:
        return months
    here = flower_months(species, shift_days)[-1]
    moved = here - species.bloom_end
    return tuple((month - 1 + moved) % 12 + 1 for month in care.months)


def follows_flowers(species: Species, care: CareTask) -> bool:
    """Return whether a task is tied to the flowers: dead-heading, or a cut right after them."""
    if species.bloom_end is None:
        return False
    if care.task == "deadhead":
        return True
    cut = (care.task == "prune" and species.prune_group in AFTER_FLOWERS) or care.task == "shear"
    return cut and (care.first_month - species.bloom_end) % 12 <= AFTER and care.first_month in range(2, 12)


def how_here(species: Species, care: CareTask, months: tuple[int, ...], shift_days: float) -> str:
    """Return how a plant is pruned in some ``months`` of its place, as leaves and flowers stand then; else empty."""
    if care.task != "prune":
        return ""
    if species.prune_group in _BY_GROUP:
        return _BY_GROUP[species.prune_group]
    if not species.prune_group:
        return ""
    if species.prune_group in AFTER_FLOWERS and follows_flowers(species, care):
        return "right after flowering"
    leaf = [leaf_share(species, month, shift_days) for month in months]
    if set(months) & {11, 12, 1, 2, 3}:
        return "before growth starts"
    if species.leaf == "deciduous" and min(leaf) >= FULL_LEAF and set(months) <= {5, 6, 7, 8, 9}:
        return "in full leaf"
    return "before growth starts" if max(leaf) <= BARE else ""


def how_built(care: Care, *, frost: bool) -> str:
    """Return how something built is looked after; words of frost are left out where it does not freeze."""
    return care.how if frost or "frost" not in care.how else ""


def against_frost(care: CareTask, months: tuple[int, ...]) -> bool:
    """Return whether a task is there because of frost: lifting, mulching, covering in the cold months. The mulch of
    spring is not.
    """
    return care.task in GUARDED and all(month in COLD for month in months) and not mulch_of_spring(care)


def mulch_of_spring(care: CareTask) -> bool:
    """Return whether a task is the mulch that is spread in spring, for the summer."""
    return care.task == "mulch" and care.first_month in SPRING


def watched(species: Species, *, south: bool = False) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Return what to look for on a plant, by its own cautions: (what, months of the zone 6 year), each once; in the
    ``south`` nothing that is at home in the north alone.
    """
    found: dict[str, tuple[int, ...]] = {}
    for caution in species.cautions:
        said = caution.casefold()
        if any(word in said for word in _NOT_HERE):
            continue
        met = [word for word in WATCHED if word in said]
        here = (WATCHED[word] for word in met if not (south and word in NORTHERN))
        named = [row for row in here if row[0] != "leaf beetles" or len(met) == 1]
        found |= dict(named)
    return tuple(found.items())


def shifted(months: tuple[int, ...], days: float) -> tuple[int, ...]:
    """Return months of the zone 6 year as months of the place: a spell as a whole, single months each for itself.

    >>> shifted((4, 5, 6), 30.4), shifted((4, 7, 10), 30.4)
    ((5, 6, 7), (5, 7, 9))
    """
    if months_from_to(months[0], months[-1]) == months:
        return shifted_months(months[0], months[-1], days)
    return tuple(dict.fromkeys(moved for month in months for moved in shifted_months(month, month, days)))
