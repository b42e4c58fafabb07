"""One plant of the catalogue: how big it gets, where it grows, when it shows, what it needs, and what to beware of."""

from collections.abc import Mapping
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue_columns import (
    BY_NAME,
    CARE,
    COLUMNS,
    GRADES,
    Column,
    Row,
    grade_parts,
    half_of,
    listing_parts,
    month_of,
    name_key,
    parts,
)

NOT_LISTED = "no toxicity listed in the sources consulted; this does not mean safe"
OTHERS_NOT_LISTED = "others are not named in the sources consulted, which does not mean safe for them"
NO_INVASIVE_LISTING = "not found in the invasive plant lists consulted, which are partial; ask your state or province"
CONFIRM = "confirm with a local nursery or extension office"
CLEARED = "-"  # in the garden's own table: take the shipped value away

# How many of a kind stand together (Hansen and Stahl, read at the Bund deutscher Staudengärtner); None: as an area
TOGETHER: Mapping[str, tuple[int, int | None]] = {
    "I": (1, 5),
    "II": (3, 10),
    "III": (10, 20),
    "IV": (20, None),
    "V": (20, None),
}
TREES = ("tree", "conifer")  # layers


@attrs.frozen(kw_only=True)
class CareTask:
    """One task of the year from month ``first_month`` to ``last_month`` (may pass the year end), every n years."""

    task: str
    first_month: int
    last_month: int
    every_years: int = 1

    @property
    def months(self) -> tuple[int, ...]:
        """Return the months in order, passing the year end when the last comes before the first."""
        return months_from_to(self.first_month, self.last_month)


@attrs.frozen(kw_only=True)
class InvasiveListing:
    """One entry of a published list of unwanted plants: where it holds, which list, and what the list says."""

    jurisdiction: str
    list: str
    status: str

    def sentence(self) -> str:
        """Return the entry as it is written in the plant tables."""
        return f"{self.jurisdiction}: {self.list} ({self.status})"


@attrs.frozen(kw_only=True, cache_hash=True)
class Species:
    """One row of the catalogue, column by column as in ``gardenkit/data/README.md``.

    Metres, months 1 to 12, colours ``#rrggbb``. An empty cell is None, an empty tuple or an empty text: "does not
    apply" or "not known", never "safe".
    """

    botanical: str
    common: str
    family: str
    layer: str
    form: str
    height_min_m: float
    height_max_m: float
    spread_min_m: float
    spread_max_m: float
    height_10_min_m: float
    height_10_max_m: float
    spread_10_min_m: float
    spread_10_max_m: float
    growth: str
    years_to_mature: float
    spacing_m: float
    zone_min: int
    zone_max: int
    sun_best: str
    sun_range: tuple[str, ...]
    moisture: tuple[str, ...]
    ph_min: float
    ph_max: float
    bloom_start: int | None = None
    bloom_end: int | None = None
    flower_colours: tuple[str, ...] = ()
    foliage_spring: str = ""
    foliage_summer: str = ""
    foliage_autumn: str = ""
    foliage_winter: str = ""
    winter_interest: tuple[str, ...] = ()
    fruit_start: int | None = None
    fruit_end: int | None = None
    fruit_colour: str = ""
    texture: str
    leaf: str
    light_in_leaf: float
    light_bare: float
    leaf_on: int | None = None
    leaf_off: int | None = None
    fragrance: str
    wildlife: tuple[str, ...] = ()
    native_to: str
    native_na: bool
    climbs_by: tuple[str, ...] = ()
    weight: str = ""
    care: tuple[CareTask, ...] = ()
    prune_group: str = ""
    toxic_to: tuple[str, ...] = ()
    toxicity: str = ""
    cautions: tuple[str, ...] = ()
    invasive: tuple[InvasiveListing, ...] = ()
    availability: str
    price: int
    role: str = ""
    sociability: tuple[str, ...] = ()
    spreads_by: tuple[str, ...] = ()
    standing_start: int | None = None
    standing_end: int | None = None
    life_years: float | None = None
    substitutes: tuple[str, ...] = ()
    nursery_sizes: tuple[str, ...] = ()
    toxicity_by: tuple[tuple[str, str], ...] = ()
    invasive_in: tuple[str, ...] = ()
    size_source: str
    growing_source: str
    season_source: str
    caution_source: str
    habit_source: str = ""
    bloom_start_half: str = ""  # ``early`` or ``late`` in ``bloom_start``, empty: not known; written in that cell
    bloom_end_half: str = ""  # of ``bloom_end``, likewise
    bloom_later: float = 0.0  # days, as the journal of this garden has shown (``planting.journal``); no column

    @property
    def height(self) -> float:
        """Return the usual height at maturity in metres, the middle of the range."""
        return (self.height_min_m + self.height_max_m) / 2

    @property
    def spread(self) -> float:
        """Return the usual width at maturity in metres, the middle of the range."""
        return (self.spread_min_m + self.spread_max_m) / 2

    @property
    def height_10(self) -> float:
        """Return the usual height in metres ten years after planting."""
        return (self.height_10_min_m + self.height_10_max_m) / 2

    @property
    def spread_10(self) -> float:
        """Return the usual width in metres ten years after planting."""
        return (self.spread_10_min_m + self.spread_10_max_m) / 2

    @property
    def bloom_months(self) -> tuple[int, ...]:
        """Return the months in flower in the reference zone, in order, passing the year end where the bloom does."""
        return months_from_to(self.bloom_start, self.bloom_end)

    @property
    def bloom_halves(self) -> tuple[int, ...]:
        """Return the half months in flower in the reference zone, 1 (early January) to 24, in order; where only months
        are known, both halves of each.
        """
        halves = tuple(half for month in self.bloom_months for half in (2 * month - 1, 2 * month))
        return halves[self.bloom_start_half == "late" : len(halves) - (self.bloom_end_half == "early")]

    @property
    def bloom_by_halves(self) -> bool:
        """Return whether the bloom is known to the half month at either end, not by whole months alone."""
        return bool(self.bloom_start_half or self.bloom_end_half)

    @property
    def standing_months(self) -> tuple[int, ...]:
        """Return the months it stands as a shape, in leaf or as dry stems, in order; none when not written down."""
        return months_from_to(self.standing_start, self.standing_end)

    @property
    def is_evergreen(self) -> bool:
        """Return whether leaves are there all year: evergreen, or winter-green (new leaves come before the old go).

        Semi-evergreens do not count, nor bulbs that are green in winter and gone in summer.
        """
        return self.leaf == "evergreen" or (self.leaf == "winter-green" and self.leaf_on is None)

    @property
    def is_tree(self) -> bool:
        """Return whether it is a tree, in leaf or needle."""
        return self.layer in TREES

    @property
    def is_ornamental(self) -> bool:
        """Return whether it may be chosen for an ornamental bed: all but the plants grown to eat."""
        return self.role != "kitchen"

    @property
    def together(self) -> tuple[int, int | None]:
        """Return the fewest and most of a kind that stand together by its sociability; most None: as an area.

        Without a level it is one: trees, climbers and whatever nobody has graded stand alone.
        """
        if not self.sociability:
            return (1, 1)
        return TOGETHER[self.sociability[0]][0], TOGETHER[self.sociability[-1]][1]

    @property
    def genus(self) -> str:
        """Return the genus: ``Salvia`` of ``Salvia nemorosa``."""
        return self.botanical.removeprefix("× ").split()[0]

    @property
    def binomial(self) -> str:
        """Return the name without its cultivar: ``Buxus sempervirens`` of ``Buxus sempervirens 'Suffruticosa'``."""
        return self.botanical.partition(" '")[0]

    @property
    def key(self) -> str:
        """Return the name as it is looked up: lower case, no hybrid sign."""
        return name_key(self.botanical)


def species_from_row(row: Row) -> Species:
    """Return the plant of one table row (column name to cell text); GardenError when a cell cannot be read."""
    try:
        return Species(
            bloom_start_half=half_of(row.get("bloom_start", "")),
            bloom_end_half=half_of(row.get("bloom_end", "")),
            **{column.name: _value(column, row.get(column.name, "")) for column in COLUMNS},
        )
    except (ValueError, TypeError, KeyError) as fault:
        where = f"{row.get('file', 'plants')}, {row.get('botanical', '(no botanical name)')}"
        raise GardenError(f"{where}: the row cannot be read ({fault}); correct it in the plant table") from fault


def months_from_to(first: int | None, last: int | None) -> tuple[int, ...]:
    """Return the months from ``first`` to ``last``, both included, passing the year end when last comes before first.

    >>> months_from_to(12, 2)
    (12, 1, 2)
    """
    if first is None or last is None:
        return ()
    return tuple((first - 1 + step) % 12 + 1 for step in range((last - first) % 12 + 1))


def meant_by(species: Species, word: str) -> bool:
    """Return whether a word means a plant: its botanical name or the beginning of it, or its common name."""
    asked = name_key(word)
    return f"{species.key} ".startswith(f"{asked} ") or species.common.casefold() == word.strip().casefold()


def caution_text(species: Species) -> str:
    """Return what to beware of in one plant, in sentences; a plant not listed as toxic is never called safe."""
    return "; ".join((toxicity_text(species), invasive_text(species), *species.cautions, CONFIRM))


def toxicity_text(species: Species) -> str:
    """Return to whom the plant is toxic and how much, or that nothing is listed, which does not mean safe."""
    if not species.toxic_to:
        return NOT_LISTED
    worst, _, rest = grades_text(species).partition("; ")
    grade, _, who = worst.partition(" for ")
    return f"{grade} toxicity listed for {who}{'; ' if rest else ''}{rest}; {OTHERS_NOT_LISTED}"


def grades_text(species: Species) -> str:
    """Return who is hurt and how much, the worst first: ``severe for cats; mild for dogs``; empty when none is listed.

    An empty text never means safe.
    """
    grades = {grade: [w for w in species.toxic_to if toxicity_for(species, w) == grade] for grade in reversed(GRADES)}
    return "; ".join(f"{grade} for {', '.join(who)}" for grade, who in grades.items() if who)


def toxicity_for(species: Species, who: str) -> str:
    """Return ``mild``, ``moderate`` or ``severe`` for one of people, dogs, cats, ..., or empty: not listed, never safe.

    A plant without grades of its own for each animal has its one grade for all it is toxic to.
    """
    if who not in species.toxic_to:
        return ""
    return dict(species.toxicity_by).get(who, species.toxicity)


def invasive_text(species: Species) -> str:
    """Return where the plant is listed as invasive, or that the lists consulted are partial."""
    if not species.invasive:
        return NO_INVASIVE_LISTING
    return "listed as invasive: " + ", ".join(entry.sentence() for entry in species.invasive)


def _value(column: Column, cell: str) -> Any:
    match column.kind:
        case "number" | "whole":
            read = int if column.kind == "whole" else float
            return read(cell) if cell else None if not column.required else _missing(column)
        case "spell":
            return month_of(cell)
        case "words" | "colours" | "remarks" | "names" | "regions":
            return parts(cell)
        case "care":
            return tuple(_care_task(word) for word in parts(cell))
        case "invasive":
            return tuple(_listing(word) for word in parts(cell))
        case "grades":
            return tuple(_grade(word) for word in parts(cell))
    return cell == "yes" if column.name == "native_na" else cell


def _missing(column: Column) -> None:
    raise ValueError(f"{column.name} is empty")


def _care_task(word: str) -> CareTask:
    found = CARE.fullmatch(word)
    if not found:
        raise ValueError(f'care is "{word}"; give {BY_NAME["care"].allowed()}')
    first = int(found["first"])
    last, every = int(found["last"] or first), int(found["every"] or 1)
    return CareTask(task=found["task"], first_month=first, last_month=last, every_years=every)


def _listing(entry: str) -> InvasiveListing:
    found = listing_parts(entry)
    if not found:
        raise ValueError(f'invasive is "{entry}"; give {BY_NAME["invasive"].allowed()}')
    return InvasiveListing(jurisdiction=found[0], list=found[1], status=found[2])


def _grade(entry: str) -> tuple[str, str]:
    found = grade_parts(entry)
    if not found:
        raise ValueError(f'toxicity_by is "{entry}"; give {BY_NAME["toxicity_by"].allowed()}')
    return found
