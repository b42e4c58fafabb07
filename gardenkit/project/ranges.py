"""What each number of a garden's records may be, with its unit: one table, read by ``project.soundness``.

All limits are house values: wide enough for any home garden, narrow enough to catch a slip of the unit or the hand.
"""

from gardenkit.brief.asking import Asked
from gardenkit.brief.brief import Brief
from gardenkit.brief.pricing import Pricing
from gardenkit.brief.style import LEANINGS, Style, StylePart
from gardenkit.brief.wants import Check
from gardenkit.planting.journal import LEAST_GROWTH, MOST_DAYS, MOST_GROWTH, Correction, Journal, JournalEntry
from gardenkit.planting.planting import Crop, Plant, Planting, Price
from gardenkit.project.property_areas import PropertyArea
from gardenkit.site import survey
from gardenkit.site.climate import Climate
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.site.site_photos import PhotoMark, SitePhoto
from gardenkit.site.soil import Soil
from gardenkit.site.sun_diary import Observation
from gardenkit.structure.structure import (
    Finished,
    Flight,
    GroundArea,
    HeldStone,
    Level,
    PalletStone,
    Path,
    Seat,
    StoneChoice,
    Structure,
    Support,
    Thing,
)

FIRST_YEAR, LAST_YEAR = 1900, 2200
Range = tuple[float, float, str]  # lowest, highest, unit
_SHARE: Range = (0, 1, "")
_PERCENT: Range = (0, 100, "percent")
_HEIGHT: Range = (0, 150, "m")  # the tallest trees known stand 116 m (from memory)
_LENGTH: Range = (0, 2000, "m")
_LEVEL: Range = (-500, 9000, "m")
_TURN: Range = (-360, 360, "degrees")
_MONTH: Range = (1, 12, "")
_PRECISION: Range = (1e-6, 360, "")

RANGES: dict[type, dict[str, Range]] = {
    Brief: {"budget": (0, 1e9, "")},
    Pricing: {
        "labour_rate": (0, 1e6, ""),
        "crew": (1, 50, "people"),
        "day": (1, 24, "hours"),
        **dict.fromkeys(("delivery", "tax", "contingency"), _PERCENT),
        "year_budget": (1, 1e9, ""),
    },
    Style: {**dict.fromkeys(LEANINGS, _SHARE), "materials_most": (0, 20, "")},
    StylePart: {"share": _SHARE},
    Check: {"amount": (-1e9, 1e9, "")},
    Asked: {
        "amount": (0, 1e9, ""),
        "months": _MONTH,
        "since": (0, 24, "o'clock"),
        "until": (0, 24, "o'clock"),
        "year": (0, 50, "years"),
        "size": (0, 1e6, "m2"),
        "sun": (0, 24, "hours"),
    },
    Site: {"y_bearing": _TURN},
    Place: {"latitude": (-90, 90, "degrees"), "longitude": (-180, 180, "degrees"), "elevation": _LEVEL},
    Building: {"floor": _LEVEL, "eaves": _LEVEL, "ridge_height": _LEVEL, "overhang": (0, 20, "m")},
    Opening: {"sill": _LEVEL, "head": _LEVEL},
    Fence: {"height": _HEIGHT, "openness": _SHARE},
    ExistingTree: {
        "height": _HEIGHT,
        "spread": _HEIGHT,
        "crown_base": _HEIGHT,
        "trunk_diameter": (0, 20, "m"),
        "light_in_leaf": _SHARE,
        "light_bare": _SHARE,
        "leaf_on": _MONTH,
        "leaf_off": _MONTH,
    },
    SpotHeight: {"height": _LEVEL},
    Obstacle: {"height": _HEIGHT, "clearance": (0, 100, "m")},
    survey.Survey: {"tape_precision": (1e-6, 100, "m"), "declination": (-180, 180, "degrees")},
    survey.Tie: {"distance": _LENGTH, "precision": _PRECISION},
    survey.SlopeTie: {"slope_distance": _LENGTH, "rise": (-2000, 2000, "m"), "precision": _PRECISION},
    survey.Offset: {"along": (-2000, 2000, "m"), "off": (-2000, 2000, "m"), "precision": _PRECISION},
    survey.Running: {"running": (-2000, 2000, "m"), "precision": _PRECISION},
    survey.Angle: {"angle": _TURN, "precision": _PRECISION},
    survey.Bearing: {"degrees": _TURN, "precision": _PRECISION},
    survey.RightAngle: {"precision": _PRECISION},
    Observation: {"height": _LEVEL},
    PhotoMark: {"height": _LEVEL},
    SitePhoto: {"wide": (1, 100_000, "pixels"), "high": (1, 100_000, "pixels"), "angle": (20, 100, "degrees")},
    Soil: {
        "drainage_mm_per_hour": (0, 10_000, "mm an hour"),
        "ph": (0, 14, ""),
        **dict.fromkeys(("sand_percent", "silt_percent", "clay_percent", "organic_matter_percent"), _PERCENT),
    },
    Climate: {
        "tmin": (-90, 60, "degrees C"),
        "tmax": (-90, 60, "degrees C"),
        "rain": (0, 10_000, "mm a month"),
        "wind": (0, 100, "m/s"),
        "humidity": _PERCENT,
        "sunshine": (0, 24, "hours a day"),
        "heat_days": (0, 366, "days"),
        "storm": (1, 500, "mm"),
    },
    PropertyArea: {"built": (FIRST_YEAR, LAST_YEAR, "")},
    Structure: {"least_bed": (0, 1000, "m2"), "frost_depth": (0, 10, "m")},
    Path: {
        "width": (0.05, 50, "m"),
        "curvature": (0, 10, ""),
        "sway": (0, 100, ""),
        "clear_of_walls": (0, 50, "m"),
        "joins_at": _SHARE,
    },
    Flight: {"start": _SHARE, "end": _SHARE, "most_riser": (0.05, 0.5, "m"), "least_tread": (0.1, 0.5, "m")},
    Finished: {"share": _SHARE, "height": _LEVEL},
    GroundArea: {"depth": (0, 10, "m"), "lift": (0, 10, "m")},
    Level: {"height": _LEVEL, "fall": (0, 50, "percent"), "falls_to": _TURN, "bank": (0.5, 100, "")},
    StoneChoice: {
        "gap_low": (0, 5, "m"),
        "gap_high": (0, 5, "m"),
        "pace": (0.1, 5, "m"),
        "across": (0.02, 5, "m"),
        "thickness": (0.001, 2, "m"),
        "joint": (0, 1, "m"),
        "density": (1, 25_000, "kg/m3"),
        "seed": (0, 2**53, ""),
        "variation": _SHARE,
        "spread": (0, 1, ""),
        "pairs": (0, 0.5, ""),
    },
    PalletStone: {"across": (0.01, 10, "m"), "along": (0.01, 10, "m"), "count": (0, 100_000, "")},
    HeldStone: {"number": (0, 1e6, ""), "turn": (-3600, 3600, "degrees")},
    Seat: {"facing": _TURN, "eye": (0, 10, "m"), "width": (0.05, 50, "m"), "depth": (0.05, 50, "m")},
    Thing: {"facing": _TURN, "roof": (0, 50_000, "m2"), **dict.fromkeys(("width", "depth", "height"), (0.02, 50, "m"))},
    Support: {"height": _HEIGHT, "depth": (0, 100, "m"), "openness": _SHARE},
    Plant: {"number": (0, 2**53, ""), "year": (0, 300, ""), "until": (0, 300, "")},
    Planting: {"first_year": (FIRST_YEAR, LAST_YEAR, ""), "last_number": (0, 2**53, "")},
    Crop: {"year": (0, 20, ""), "share": (0.01, 1, "")},
    Price: {"each": (0, 1e7, "")},
    JournalEntry: {
        **dict.fromkeys(("id", "number", "into"), (0, 2**53, "")),
        **dict.fromkeys(("height", "spread"), (0.01, 150, "m")),
    },
    Correction: {"days": (-MOST_DAYS, MOST_DAYS, "days"), "growth": (LEAST_GROWTH, MOST_GROWTH, "times")},
    Journal: {"last_id": (0, 2**53, "")},
}
ANY: Range = (-1e9, 1e9, "")
