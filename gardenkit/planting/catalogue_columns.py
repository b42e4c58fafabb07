"""The columns of the plant tables: what each may hold, and how its cells are written."""

import re
from collections.abc import Mapping
from typing import Literal

import attrs

Row = Mapping[str, str]
Kind = Literal[
    "text",
    "remarks",
    "number",
    "whole",
    "word",
    "words",
    "colour",
    "colours",
    "care",
    "invasive",
    "names",
    "grades",
    "regions",
    "spell",
]
SEPARATOR = "; "

LAYERS = (
    "tree",
    "conifer",
    "climber",
    "wall fruit",
    "shrub",
    "perennial",
    "grass",
    "fern",
    "ground cover",
    "bulb",
    "tender bulb",
    "annual",
)
BULBS = ("bulb", "tender bulb")
HERBS = ("perennial", "grass", "fern", *BULBS, "annual")
CASTS_SHADE = ("tree", "conifer", "shrub", "climber", "wall fruit")
WOODY_FORMS = (
    "round",
    "oval",
    "columnar",
    "conical",
    "vase",
    "weeping",
    "spreading",
    "irregular",
    "upright",
    "mounding",
    "arching",
    "prostrate",
)
HERB_FORMS = ("clump", "mound", "spire", "fountain", "mat", "spreading", "rosette")
FORMS = tuple(dict.fromkeys((*WOODY_FORMS, *HERB_FORMS, "climbing", "trained")))
SUN = ("full", "part", "shade")
LEAVES = ("evergreen", "semi-evergreen", "deciduous", "herbaceous", "winter-green", "annual")
TASKS = (
    "prune",
    "divide",
    "deadhead",
    "cut back",
    "feed",
    "tie in",
    "lift",
    "plant out",
    "mulch",
    "water",
    "shear",
    "stake",
    "net",
    "thin fruit",
    "protect",
)
PRUNE_GROUPS = ("after flowering", "late winter", "midsummer", "hardly", "clematis 1", "clematis 2", "clematis 3")
# What a plant does in a planting (Hansen and Stahl, Perennials and Their Garden Habitats, for beds; our words for the
# rest): ``kitchen`` plants are grown to eat and never chosen for an ornamental bed.
ROLES = ("framework", "accompanying", "ground cover", "filler", "scatter", "climber", "kitchen")
SOCIABILITY = ("I", "II", "III", "IV", "V")  # Hansen and Stahl: alone ... over large areas
SPREADS_BY = ("clump", "rhizomes", "runners", "rooting stems", "suckers", "offsets", "seed")  # clump: stays put
EATERS = ("people", "dogs", "cats", "horses", "livestock", "skin")
GRADES = ("mild", "moderate", "severe")  # in rising order
NURSERY_SIZES = (
    "seed",
    "bulb",
    "plug",
    "bare root",
    "#SP4",
    "#1",
    "#2",
    "#3",
    "#5",
    "#7",
    "#10",
    "#15",
    "#25",
    "1 in cal.",
    "1.5 in cal.",
    "2 in cal.",
    "2.5 in cal.",
    "3 in cal.",
    "4 ft B&B",
    "6 ft B&B",
    "8 ft B&B",
)
BOTANICAL = re.compile(
    r"(× )?[A-Z][a-z]+(?=.)( × [a-z-]+| [a-z-]+)?( (subsp\.|var\.|f\.) [a-z-]+)*"
    r"( [A-Z][A-Za-z -]* Group)?( '[^‘’\"]+')?"
)
QUOTES = str.maketrans('‘’"×', "''' ")
COLOUR = re.compile(r"#[0-9a-f]{6}")
REGION = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?")  # ISO 3166: a country, or a state or province of it
MONTH_PART = re.compile(r"((?P<half>early|late) )?(?P<month>\d{1,2})")  # of a spell: a half of a month, or all of it
HALVES = ("early", "late")
PATTERNS = {"names": BOTANICAL, "regions": REGION, "colours": COLOUR}
CARE = re.compile(r"(?P<task>[a-z ]+)@(?P<first>\d{1,2})(-(?P<last>\d{1,2}))?(/(?P<every>\d{1,2}))?")


@attrs.frozen
class Column:
    """One column of the plant tables: the kind of value, the words or range allowed, whether it may be empty."""

    name: str
    kind: Kind
    words: tuple[str, ...] = ()
    low: float = 0.0
    high: float = 0.0
    required: bool = True

    def allowed(self) -> str:
        """Return what the column takes, in words."""
        sentences = {
            "number": f"a number from {self.low:g} to {self.high:g}",
            "whole": f"a whole number from {self.low:g} to {self.high:g}",
            "word": f"one of {', '.join(self.words)}",
            "words": f"one or more of {', '.join(self.words)}, separated by '; '",
            "colour": "a colour as #rrggbb in lower case",
            "colours": "colours as #rrggbb in lower case, separated by '; '",
            "care": "tasks as task@month, task@month-month or task@month/years, separated by '; '",
            "invasive": "entries as JURISDICTION: list (status), separated by '; '",
            "names": "botanical names, separated by '; '",
            "grades": f"entries as 'cats severe' ({', '.join(EATERS)}; {', '.join(GRADES)}), separated by '; '",
            "spell": "a month from 1 to 12, or a half of it as 'early 5' or 'late 5'",
            "regions": "ISO codes of countries or states as US-MA or CH, separated by '; '",
        }
        return sentences.get(self.kind, "some text") + ("" if self.required else ", or leave it empty")


def _metres(name: str, high: float) -> Column:
    return Column(name, "number", low=0.01, high=high)


def _month(name: str) -> Column:
    return Column(name, "whole", low=1, high=12, required=False)


def _spell(name: str) -> Column:
    return Column(name, "spell", HALVES, required=False)


COLUMNS: tuple[Column, ...] = (
    Column("botanical", "text"),
    Column("common", "text"),
    Column("family", "text"),
    Column("layer", "word", LAYERS),
    Column("form", "word", FORMS),
    _metres("height_min_m", 60),
    _metres("height_max_m", 60),
    _metres("spread_min_m", 40),
    _metres("spread_max_m", 40),
    _metres("height_10_min_m", 30),
    _metres("height_10_max_m", 30),
    _metres("spread_10_min_m", 20),
    _metres("spread_10_max_m", 20),
    Column("growth", "word", ("slow", "medium", "fast")),
    Column("years_to_mature", "number", low=0.2, high=100),
    Column("spacing_m", "number", low=0.03, high=40),
    Column("zone_min", "whole", low=1, high=11),
    Column("zone_max", "whole", low=1, high=11),
    Column("sun_best", "word", SUN),
    Column("sun_range", "words", SUN),
    Column("moisture", "words", ("dry", "medium", "moist", "wet")),
    Column("ph_min", "number", low=3.5, high=9),
    Column("ph_max", "number", low=3.5, high=9),
    _spell("bloom_start"),
    _spell("bloom_end"),
    Column("flower_colours", "colours", required=False),
    Column("foliage_spring", "colour", required=False),
    Column("foliage_summer", "colour", required=False),
    Column("foliage_autumn", "colour", required=False),
    Column("foliage_winter", "colour", required=False),
    Column(
        "winter_interest",
        "words",
        ("evergreen", "bark", "berries", "seed heads", "catkins", "tracery", "winter flower"),
        required=False,
    ),
    _month("fruit_start"),
    _month("fruit_end"),
    Column("fruit_colour", "colour", required=False),
    Column("texture", "word", ("fine", "medium", "coarse")),
    Column("leaf", "word", LEAVES),
    Column("light_in_leaf", "number", low=0, high=1),
    Column("light_bare", "number", low=0, high=1),
    _month("leaf_on"),
    _month("leaf_off"),
    Column("fragrance", "word", ("none", "light", "strong")),
    Column(
        "wildlife",
        "words",
        ("bees", "butterflies", "moths", "hummingbirds", "birds", "caterpillars", "hoverflies"),
        required=False,
    ),
    Column("native_to", "text"),
    Column("native_na", "word", ("yes", "no")),
    Column(
        "climbs_by", "words", ("twining", "tendrils", "leaf stalks", "roots", "discs", "scrambling"), required=False
    ),
    Column("weight", "word", ("light", "medium", "heavy"), required=False),
    Column("care", "care", required=False),
    Column("prune_group", "word", PRUNE_GROUPS, required=False),
    Column("toxic_to", "words", EATERS, required=False),
    Column("toxicity", "word", GRADES, required=False),
    Column("cautions", "remarks", required=False),
    Column("invasive", "invasive", required=False),
    Column("availability", "word", ("common", "specialist", "scarce")),
    Column("price", "whole", low=1, high=5),
    Column("role", "word", ROLES, required=False),
    Column("sociability", "words", SOCIABILITY, required=False),
    Column("spreads_by", "words", SPREADS_BY, required=False),
    _month("standing_start"),
    _month("standing_end"),
    Column("life_years", "number", low=0.3, high=1000, required=False),
    Column("substitutes", "names", required=False),
    Column("nursery_sizes", "words", NURSERY_SIZES, required=False),
    Column("toxicity_by", "grades", required=False),
    Column("invasive_in", "regions", required=False),
    Column("size_source", "text"),
    Column("growing_source", "text"),
    Column("season_source", "text"),
    Column("caution_source", "text"),
    Column("habit_source", "text", required=False),
)
BY_NAME = {column.name: column for column in COLUMNS}


def name_key(name: str) -> str:
    """Return a name as it is looked up: lower case, straight quotes, no hybrid sign, one space between words.

    >>> name_key("Abelia x Grandiflora") == name_key("Abelia × grandiflora")
    True
    """
    plain = name.casefold().translate(QUOTES)
    words = [w for w in re.sub(r"\bssp\.", "subsp.", plain).split() if w != "x"]
    return " ".join(words)


def parts(cell: str) -> tuple[str, ...]:
    """Return the several values of one cell, in the order written."""
    return tuple(cell.split(SEPARATOR)) if cell else ()


def listing_parts(entry: str) -> tuple[str, str, str] | None:
    """Return jurisdiction, list and status of one ``invasive`` entry, or None when it is not written that way."""
    jurisdiction, colon, rest = entry.partition(": ")
    depth, start = 0, len(rest) - 1
    while start >= 0 and rest.endswith(")"):
        depth += {")": 1, "(": -1}.get(rest[start], 0)
        if depth == 0:
            break
        start -= 1
    name, status = rest[: max(start, 0)].strip(), rest[start + 1 : -1].strip()
    whole = colon and rest.endswith(")") and " " not in jurisdiction and jurisdiction and name and status
    return (jurisdiction, name, status) if whole else None


def grade_parts(entry: str) -> tuple[str, str] | None:
    """Return who is hurt and how much of one ``toxicity_by`` entry, or None when it is not written that way.

    >>> grade_parts("cats severe")
    ('cats', 'severe')
    """
    who, _, grade = entry.partition(" ")
    return (who, grade) if who in EATERS and grade in GRADES else None


def month_of(cell: str) -> int | None:
    """Return the month of one end of a spell, None when it is not written that way.

    >>> month_of("late 5"), month_of("7"), month_of("13")
    (5, 7, None)
    """
    found = MONTH_PART.fullmatch(cell)
    return int(found["month"]) if found and 1 <= int(found["month"]) <= 12 else None


def half_of(cell: str) -> str:
    """Return the half of its month that one end of a spell names, empty where it names none.

    >>> half_of("late 5"), half_of("5")
    ('late', '')
    """
    return cell.rpartition(" ")[0]


def fits(column: Column, cell: str) -> bool:
    """Return whether the text of a cell is what its column takes."""
    if not cell or cell != cell.strip():
        return not cell and not column.required
    words = parts(cell)
    match column.kind:
        case "number" | "whole":
            written = r"\d+" if column.kind == "whole" else r"\d+(\.\d+)?"
            return bool(re.fullmatch(written, cell)) and column.low <= float(cell) <= column.high
        case "word":
            return cell in column.words
        case "words":
            return len(set(words)) == len(words) and all(word in column.words for word in words)
        case "colour":
            return bool(COLOUR.fullmatch(cell))
        case "care":
            return all(_is_task(word) for word in words)
        case "invasive":
            return all(listing_parts(word) for word in words)
        case "colours" | "names" | "regions":
            return all(PATTERNS[column.kind].fullmatch(word) for word in words)
        case "grades":
            return all(grade_parts(word) for word in words)
        case "spell":
            return month_of(cell) is not None and half_of(cell) in (*column.words, "")
    return True


def _is_task(word: str) -> bool:
    found = CARE.fullmatch(word)
    if not found or found["task"] not in TASKS:
        return False
    return all(1 <= int(found[m] or found["first"]) <= 12 for m in ("first", "last")) and int(found["every"] or 1) >= 1
