"""The words of the catalogue page: what each column is called, in which groups the facts stand, what the form asks."""

from gardenkit.notebook.pages.forms import Entry
from gardenkit.planting.catalogue_columns import FORMS, LAYERS, LEAVES

WORDS = {
    "botanical": "Botanical name",
    "common": "Common name",
    "family": "Family",
    "layer": "Layer",
    "form": "Form",
    "height_min_m": "Height from",
    "height_max_m": "Height to",
    "spread_min_m": "Width from",
    "spread_max_m": "Width to",
    "spacing_m": "Distance apart",
    "zone_min": "Hardy from zone",
    "zone_max": "to zone",
    "sun_best": "Does best in sun",
    "sun_range": "Takes sun",
    "moisture": "Takes ground",
    "bloom_start": "In flower from month",
    "bloom_end": "to month",
    "flower_colours": "Flower colours",
    "foliage_summer": "Summer leaf colour",
    "leaf": "Leaf",
    "native_to": "Native to",
    "native_na": "Native to North America",
    "toxic_to": "Toxic to",
    "toxicity": "How toxic",
    "cautions": "Cautions",
}
HINTS = {
    "botanical": "Salvia nemorosa 'My Own'",
    "sun_range": "full; part",
    "moisture": "dry; medium",
    "flower_colours": "#8a4fa3; #ffffff",
    "foliage_summer": "#5d7a4a",
    "toxic_to": "dogs; cats (empty: not listed)",
    "toxicity": "severe, moderate or mild",
    "cautions": "thorny; suckers",
    "native_to": "garden origin",
}
GROUPS = (
    ("Names and kind", ("botanical", "common", "family", "layer", "form", "native_to", "native_na")),
    (
        "Size",
        (
            "height_min_m",
            "height_max_m",
            "spread_min_m",
            "spread_max_m",
            "height_10_min_m",
            "height_10_max_m",
            "spread_10_min_m",
            "spread_10_max_m",
            "growth",
            "years_to_mature",
            "spacing_m",
            "weight",
            "climbs_by",
            "size_source",
        ),
    ),
    (
        "Where it grows",
        ("zone_min", "zone_max", "sun_best", "sun_range", "moisture", "ph_min", "ph_max", "growing_source"),
    ),
    (
        "Through the year",
        (
            "bloom_start",
            "bloom_end",
            "flower_colours",
            "foliage_spring",
            "foliage_summer",
            "foliage_autumn",
            "foliage_winter",
            "fruit_start",
            "fruit_end",
            "fruit_colour",
            "winter_interest",
            "leaf",
            "leaf_on",
            "leaf_off",
            "texture",
            "light_in_leaf",
            "light_bare",
            "fragrance",
            "season_source",
        ),
    ),
    (
        "In a planting",
        (
            "role",
            "sociability",
            "spreads_by",
            "standing_start",
            "standing_end",
            "life_years",
            "substitutes",
            "habit_source",
        ),
    ),
    ("Wildlife, care, buying", ("wildlife", "care", "prune_group", "availability", "nursery_sizes", "price")),
)
# Columns that hold a month of the reference zone's year.
MONTH_COLUMNS: tuple[str, ...] = ("bloom_start", "bloom_end", "fruit_start", "fruit_end", "leaf_on", "leaf_off")
MONTH_COLUMNS += ("standing_start", "standing_end")


def entries() -> tuple[Entry, ...]:
    """Return the fields of the form for a plant of one's own."""
    options = {
        "layer": LAYERS,
        "form": FORMS,
        "leaf": LEAVES,
        "sun_best": ("full", "part", "shade"),
        "native_na": ("no", "yes"),
    }
    return tuple(
        Entry(key=key, words=words, hint=HINTS.get(key, ""), options=tuple((o, o) for o in options.get(key, ())))
        for key, words in WORDS.items()
    )


def column_words(column: str) -> str:
    """Return a column's name in words: ``height_10_max_m`` is ``height in year 10, most``."""
    if column in ("native_na", "zone_min", "zone_max"):
        words = {"native_na": "native to North America", "zone_min": "hardy from zone", "zone_max": "hardy to zone"}
        return words[column]
    words_of = column.removesuffix("_m").replace("_10", " in year 10").replace("_", " ")
    return words_of.removesuffix(" min").removesuffix(" max") + (
        ", least" if words_of.endswith(" min") else ", most" if words_of.endswith(" max") else ""
    )
