"""How the drawings look: colours, line weights and letters, so that structure and planting read apart at a glance.

All colours are house values. Inks are checked for contrast against every ground they may lie on (WCAG 2.2, success
criterion 1.4.3), and no meaning rests on a red-green difference: sun classes step in lightness, plants differ in
outline.
"""

from functools import lru_cache

PAPER = "#fdfcf8"
INK = "#20261f"  # lettering and structure
SOFT_INK = "#424940"  # second voice: leaders, scale figures; still 4.5 : 1 on every ground below
FADED_INK = "#8b8f87"  # what lies outside the area that is shown; there to find one's way by, not to be read
PLANT_INK = "#35482f"
BARE_INK = "#6b5744"  # leafless twigs
EYE = "#7a3b12"  # sightlines and the seat one looks from
FOUND = "#35558a"  # survey marks
ALERT = "#9a2f14"  # findings: always with a sign or words, never by colour alone

GROUND = {
    "open ground": "#f3efe2",
    "bed": "#e8dccb",
    "lawn": "#dfe8c6",
    "grass": "#dfe8c6",
    "meadow": "#d9e0b0",
    "short meadow": "#d3e5b6",
    "moss": "#d3ddb4",
    "gravel": "#ece8dc",
    "bark": "#e2cdb1",
    "patio": "#e5e0d6",
    "paving": "#e5e0d6",
    "flagstones": "#dcd7c9",
    "stepping stones": "#eee7d3",
    "pond": "#cfe1e8",
    "shed base": "#dedbd3",
}
TEXTURE_INK = {
    "grass": "#8fa468",
    "meadow": "#7f8f45",
    "short meadow": "#86994f",
    "moss": "#8c9c5a",
    "gravel": "#a39a84",
    "mulch": "#b59a7b",
    "furrows": "#b59a7b",
    "bark": "#a17b52",
    "paving": "#b0a896",
    "water": "#7fa3b1",
}
LAID = {"brick": "#e6cbb9", "sett": "#d6d4cf", "slab": "#e5e0d6"}  # paving on the plan, by what its bond is laid of
LAID_INK = {"brick": "#b58e79", "sett": "#a3a19b", "slab": "#b0a896"}
STONES = ("#cbc7bc", "#c2beb3", "#d3cfc4", "#c8c1b1")
HEDGE = "#b9c9a4"  # as found, on the plan
STONE_EDGE = "#55554d"
STONE_CRACK = "#8f8c83"
HOUSE = "#efece4"
WALLS = "#5a5f56"
HOUSE_HATCH = "#c3bdb0"
TIMBER = "#d9c19c"

# mm on the sheet: cut walls heaviest, then what is built, then edges on the ground, plants light, texture lightest
WALL, BOUNDARY, BUILT, EDGE, STONE = 0.60, 0.50, 0.40, 0.30, 0.25
CANOPY, PLANT, LEADER, RIB, FLECK = 0.25, 0.16, 0.12, 0.10, 0.09
BOUNDARY_DASH = (6.0, 1.2, 1.2, 1.2, 1.2, 1.2)  # long and two short: property line
HIDDEN_DASH = (1.8, 1.0)  # overhead or to be removed
FINE_DASH = (0.8, 0.8)

BED_LETTERS, KEY_LETTERS, NOTE_LETTERS, SMALL_LETTERS = 3.3, 2.5, 2.6, 2.5  # mm: letter (em) size on the sheet
SANS = "Helvetica, Arial, 'Liberation Sans', sans-serif"

# hours of direct sun: each step lighter than the one before, so the map survives grey printing
SUN_STEPS = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0)  # h; 3, 4 and 6 h are the trade's edges of shade, part shade and sun
LIGHT_STEPS = (5.0, 10.0, 15.0, 20.0, 30.0, 40.0)  # mol/m2/day; 10, 15 and 20 are growers' edges of shade and sun
SUN_COLOURS = ("#2f3b59", "#4c5a7a", "#73809a", "#9fa6a6", "#c8c38f", "#e6d574", "#faedaa")

FLOWER_RADIUS_MM = 0.6
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@lru_cache(maxsize=4096)
def rgb(colour: str) -> tuple[float, float, float]:
    """Return red, green, blue from 0 to 1 of ``#rrggbb``."""
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


def mixed(colour: str, other: str, share: float) -> str:
    """Return ``colour`` with a ``share`` from 0 to 1 of ``other`` stirred in."""
    (a, b, c), (d, e, f) = rgb(colour), rgb(other)
    red, green, blue = a + (d - a) * share, b + (e - b) * share, c + (f - c) * share
    return f"#{round(255 * red):02x}{round(255 * green):02x}{round(255 * blue):02x}"


def luminance(colour: str) -> float:
    """Return relative luminance, 0 black to 1 white (WCAG 2.2, definition of relative luminance)."""
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in rgb(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(a), luminance(b)))
    return (high + 0.05) / (low + 0.05)


def outline_of(colour: str) -> str:
    """Return the outline ink of a leaf or flower colour: the same hue, dark enough to be seen (3 : 1) on a bed."""
    for share in (0.45, 0.55, 0.65, 0.75, 0.85):
        dark = mixed(colour, INK, share)
        if contrast(dark, GROUND["bed"]) >= 3.0:
            return dark
    return INK
