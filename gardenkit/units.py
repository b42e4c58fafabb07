"""Lengths, areas, volumes and angles as people write them on a site sketch, turned into SI and back.

Inside gardenkit every length is a plain float in metres. This file is the only place that knows feet and inches.
"""

import math
import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Literal

from gardenkit import reading
from gardenkit.findings import GardenError

INCH = 0.0254  # m, exact (international yard and pound agreement, 1959)
FOOT = 0.3048  # m, exact
YARD = 0.9144  # m, exact
SQUARE_FOOT = FOOT**2  # m2, exact
CUBIC_FOOT = FOOT**3  # m3, exact
CUBIC_YARD = YARD**3  # m3, exact
POUND = 0.45359237  # kg, exact
PSI = POUND / INCH**2 / 1000  # m of water, exact for water of 1 kg a litre
US_GALLON = 3.785411784  # litres, exact (231 cubic inches)

System = Literal["imperial", "metric"]

_TO_METRES = {
    "m": 1.0,
    "metre": 1.0,
    "metres": 1.0,
    "meter": 1.0,
    "meters": 1.0,
    "cm": 0.01,
    "mm": 0.001,
    "ft": FOOT,
    "foot": FOOT,
    "feet": FOOT,
    "'": FOOT,
    "in": INCH,
    "inch": INCH,
    "inches": INCH,
    '"': INCH,
    "yd": YARD,
    "yard": YARD,
    "yards": YARD,
}
_MARKS = str.maketrans(
    {"’": "'", "′": "'", "‘": "'", "”": '"', "″": '"', "“": '"', "º": "°", "−": "-", "–": "-"}
    | dict.fromkeys("\u00a0\u202f\u2009", " ")
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"} | {
    c: f"{n}/8" for c, n in zip("⅛⅜⅝⅞", (1, 3, 5, 7), strict=True)
}
_PIECE = re.compile(  # a dash joins 12-ft, and feet with inches: 12'-6"
    r"\s*(?P<number>\d{1,6}\s+\d{1,4}/\d{1,4}|\d{1,4}/\d{1,4}"
    r"|[1-9]\d{0,2}(?:(?P<mark>[ ,.])\d{3})(?:(?P=mark)\d{3})*(?:[.,]\d+)?(?!\d)"
    r"|\d*[.,]?\d+\.?)(?:\s*(?:-(?=[a-z]))?(?P<unit>[a-z]+\.?|''|'|\"))?\s*(?P<dash>-\s*)?",
    re.I | re.ASCII,
)
# Longest length that makes sense in a home garden: a typing slip (3200 m for 3.200 m) is caught here. House value.
LONGEST = 2_000.0  # m
TYPED = 9  # decimals of a metre that typed feet and inches have: 44 ft are 13.4112 m, not 13.411200000000001
METRIC_STEPS = (1.0, 0.01, 0.001)
MOST_TYPED = 400  # letters of a typed length that are read; a float written out has up to 330. House value.
SAID = 60  # of them that are said again


class LengthError(GardenError):
    """A length that cannot be read; the message says what was typed, where, and what to type instead."""


def length(text: str | float, *, bare: str = "ft", where: str = "", signed: bool = False) -> float:
    """Return metres for a length as a person writes it: ``12' 6"``, ``12 ft 6 1/2 in``, ``3.2 m``, ``3,2 m``, ``320
    cm``.

    A number without a unit is read in ``bare`` (any unit word this file knows). ``where`` names the field in the
    message. Lengths are 0 to 2000 m; ``signed=True`` also takes a leading minus (drops below a string line).

    Raises LengthError.

    >>> round(length("12' 6\\""), 4)
    3.81
    """
    place = f" for {where}" if where else ""
    hint = "type it like 12' 6\" or 3.2 m"
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        value = float(text) * _TO_METRES[bare]
        shown = f"{text:g}"
    else:
        shown = str(text).strip()
        shown, typed = (shown if len(shown) <= SAID else f"{shown[:SAID]} ..."), shown
        value = _read(typed, bare, f'cannot read the length "{shown}"{place}; {hint}')
    if not math.isfinite(value):
        raise LengthError(f'the length "{shown}"{place} is not a finite number; {hint}')
    if value < 0 and not signed:
        raise LengthError(f'the length "{shown}"{place} is below zero; give a length of 0 or more')
    if abs(value) > LONGEST:
        far = f"{abs(value):,.0f} m" if abs(value) < 1e9 else "very long"
        raise LengthError(f'the length "{shown}"{place} is {far}, over {LONGEST:,.0f} m; check the unit')
    return value


def lengths_of(row: str) -> list[str]:
    """Return the lengths of a row, each as it is typed: parted by semicolons, else by commas with a space after them,
    else by commas.

    >>> lengths_of("3,25, 4,5"), lengths_of("4', 12' 6\\""), lengths_of("3,5")
    (['3,25', '4,5'], ["4'", '12\\' 6"'], ['3', '5'])
    """
    mark = next((mark for mark in (r"\s*;\s*", r"\s*,\s+") if re.search(mark, row.strip())), r"\s*,\s*")
    return [part for part in re.split(mark, row.strip()) if part]


def millimetres(text: str, system: System, where: str) -> float:
    """Return millimetres of a small length; a bare number is inches or millimetres. Raises LengthError."""
    return 1000 * length(text, bare="in" if system == "imperial" else "mm", where=where)


def _read(shown: str, bare: str, complaint: str) -> float:
    if len(shown) > MOST_TYPED:
        raise LengthError(complaint)
    text = shown.translate(_MARKS).lower()
    for mark, fraction in _VULGAR.items():
        text = text.replace(mark, f" {fraction}")
    text = text.strip()
    sign = 1.0
    if text[:1] in "+-" and text:
        sign = -1.0 if text[0] == "-" else 1.0
        text = text[1:]
    total, position, previous = 0.0, 0, math.inf
    if not text.strip():
        raise LengthError(complaint)
    while position < len(text):
        piece = _PIECE.match(text, position)
        if piece is None or piece.end() == position:
            raise LengthError(complaint)
        unit = (piece["unit"] or "").rstrip(".")
        if unit == "''":
            unit = '"'
        if not unit:  # a bare number: alone it takes the page's unit, after feet it is inches
            unit = bare if position == 0 and piece.end() == len(text) else '"' if previous == FOOT else ""
        factor = _TO_METRES.get(unit)
        joined = piece["dash"] is None or (factor == FOOT and piece.end() < len(text))
        if factor is None or factor >= previous or not joined:  # units fall: feet then inches, never the same twice
            raise LengthError(complaint)
        value = _number(piece["number"], complaint, fine=unit == "mm")
        if previous == FOOT and factor == INCH and value >= 12:  # 12' 15": 13' 3", or a slip of the hand?
            raise LengthError(f"{complaint}; {value:g} inches stand after the feet, give 0 to less than 12")
        total += value * factor
        previous, position = factor, piece.end()
    return sign * (total if previous in METRIC_STEPS else round(total, TYPED))


def _number(text: str, complaint: str, *, fine: bool = False) -> float:
    """Return a typed number; ``fine``: in a unit of which nobody writes thousandths, so that 1,250 is 1250."""
    try:
        if "/" in text:
            return float(sum(Fraction(part) for part in text.split()))
        if re.fullmatch(r"\d*\.?\d+\.?", text, re.ASCII) and not fine:  # a full stop before decimals, however many
            return float(text)
        large, *small = reading.meanings(text.removesuffix("."), "the length")
    except (ValueError, ZeroDivisionError, reading.NumberError) as error:
        raise LengthError(complaint) from error
    if small and not fine:  # 1,250 is one thousand two hundred and fifty or 1.25: ask
        raise LengthError(f"{complaint}; the comma is unclear, write a full stop or leave it out")
    return large


SQUARES = {  # m2 of what is written after an area, spaces and full stops left out
    **dict.fromkeys(("sqft", "sf", "ft2", "sqfeet", "squarefeet", "squarefoot"), SQUARE_FOOT),
    **dict.fromkeys(("sqyd", "sy", "yd2", "squareyard", "squareyards"), YARD**2),
    **dict.fromkeys(("ac", "acre", "acres"), 43_560 * SQUARE_FOOT),
    **dict.fromkeys(("m2", "sqm", "squaremetre", "squaremetres", "squaremeter", "squaremeters"), 1.0),
    **dict.fromkeys(("ha", "hectare", "hectares"), 10_000.0),
}
LITRES = {
    **dict.fromkeys(("gal", "gals", "gallon", "gallons"), US_GALLON),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), 1.0),
    "m3": 1000.0,
}
LARGEST = 9e6  # m2: as large as a plan can be. House value.
_AMOUNT = re.compile(r"(?P<number>[-+]?[\d.,][\d.,' ]*?)\s*(?P<unit>[a-z][a-z. ]*[23]?)?", re.ASCII)


def area(text: str, system: System, where: str) -> float:
    """Return square metres of an area as it is written: ``1,250 sq ft``, ``100 sf``, ``50 m²``, ``½``-acre plots as
    ``0.5 ac``; a bare number is in the garden's own unit. Raises LengthError.

    >>> area("50 m²", "imperial", "the lawn"), area("50", "metric", "the lawn")
    (50.0, 50.0)
    """
    example = "500 sq ft, 50 m² or 0.25 ac"
    found = _measured(text, SQUARES, "sqft" if system == "imperial" else "m2", f"an area for {where}", example)
    if found > LARGEST:
        raise LengthError(f'the area "{text.strip()[:SAID]}" for {where} is over {LARGEST:,.0f} m²; check the unit')
    return found


def water(text: str, system: System, where: str) -> float:
    """Return litres of an amount of water; a bare number is US gallons or litres. Raises LengthError."""
    bare = "gal" if system == "imperial" else "l"
    return _measured(text, LITRES, bare, f"an amount of water for {where}", "500 gal or 2000 L")


def _measured(text: str, known: Mapping[str, float], bare: str, what: str, example: str) -> float:
    typed = text.strip()[:MOST_TYPED]
    found = _AMOUNT.fullmatch(typed.translate(_MARKS).replace("²", "2").replace("³", "3").lower())
    unit = bare if found is None or not found["unit"] else re.sub("[. ]", "", found["unit"])
    if found is None or unit not in known:
        raise LengthError(f'cannot read "{typed[:SAID]}" as {what}; type it like {example}')
    grouped = known[unit] == SQUARE_FOOT and "," in found["number"]  # nobody writes thousandths of a square foot
    value = reading.number(found["number"], what, money=grouped)
    if not 0 <= value < reading.MOST_AMOUNT:
        raise LengthError(f'"{typed[:SAID]}" is out of range as {what}; give 0 or more')
    return value * known[unit] + 0.0


def feet_inches(metres: float, *, to: int = 2) -> str:
    """Return metres as feet and inches, rounded to the nearest 1/``to`` of an inch: ``12' 6½"``.

    >>> feet_inches(3.81)
    '12\\' 6"'
    """
    sign = "-" if metres < 0 else ""
    parts = round(abs(metres) / INCH * to)
    feet, rest = divmod(parts, 12 * to)
    inches, fraction = divmod(rest, to)
    if parts == 0:
        return '0"'
    tail = _fraction_mark(Fraction(fraction, to)) if fraction else ""
    whole = f"{inches}" if inches or not tail else ""
    if not feet:
        return f'{sign}{whole}{tail}"'
    return f"{sign}{feet}' {whole or 0}{tail}\"" if inches or tail else f"{sign}{feet}' 0\""


def _fraction_mark(fraction: Fraction) -> str:
    for mark, text in _VULGAR.items():
        if Fraction(text) == fraction:
            return mark
    return f" {fraction.numerator}/{fraction.denominator}"


def show_length(metres: float, system: System = "imperial", *, small: bool = False) -> str:
    """Return a length for people in the garden's own system; ``small`` keeps to inches or centimetres.

    >>> show_length(0.1524, small=True), show_length(-0.004, "metric")
    ('6"', '0.00 m')
    """
    if system == "imperial":
        return inches(metres) if small else feet_inches(metres)
    return f"{metres * 100:.1f}".removesuffix(".0") + " cm" if small else f"{round(metres, 2) + 0.0:.2f} m"


def as_built(metres: float, system: System) -> float:
    """Return a measure of a table in inches as it is built: in metric gardens 25 mm an inch, to 5 mm (to 1 mm what is
    thinner than 12 mm), as metric goods are sized (common practice, no source).

    >>> [as_built(one * INCH, "metric") for one in (1 / 8, 1, 3, 3.5, 8)], as_built(3 * INCH, "imperial") == 3 * INCH
    ([0.003, 0.025, 0.075, 0.09, 0.2], True)
    """
    if system == "imperial":
        return float(metres)
    step = 5 if metres > INCH / 2 else 1
    return math.floor(metres / INCH * 25 / step + 0.5 + 1e-9) * step / 1000


def in_both(metres: float) -> str:
    """Return a thickness in inches, to an eighth, and millimetres, of which a page says the garden's own.

    >>> in_both(0.0762), in_both(0.045), in_both(0.003)
    ('3 in (76 mm)', '1¾ in (45 mm)', '⅛ in (3 mm)')
    """
    whole, eighths = divmod(round(metres / INCH * 8), 8)
    deep = f"{whole or ''}{' ⅛¼⅜½⅝¾⅞'[eighths].strip()}" or "0"
    return f"{deep} in ({metres * 1000:.0f} mm)"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    >>> counted(1, "kind"), counted(2, "kind"), counted(3, "tree that stays", "trees that stay")
    ('1 kind', '2 kinds', '3 trees that stay')
    """
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str], most: int = 4) -> str:
    """Return the first names of a list and how many more there are.

    >>> listed(["gate", "bench", "pond"], 2)
    'gate, bench and 1 more'
    """
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def show_area(square_metres: float, system: System = "imperial") -> str:
    """Return an area for people: square feet (to a tenth below 10) or square metres.

    >>> show_area(0.511), show_area(20.0)
    ('5.5 sq ft', '215 sq ft')
    """
    if system == "imperial":
        feet = square_metres / SQUARE_FOOT
        return f"{feet:.1f} sq ft".replace(".0 sq", " sq") if round(feet, 1) < 10 else f"{feet:,.0f} sq ft"
    return f"{square_metres:,.1f} m²"


def show_volume(cubic_metres: float, system: System = "imperial") -> str:
    """Return a volume for people: cubic yards (cubic feet below half a yard) or cubic metres."""
    if system == "metric":
        return f"{cubic_metres:,.2f} m³"
    yards = cubic_metres / CUBIC_YARD
    return f"{yards:,.2f} cu yd" if yards >= 0.5 else f"{cubic_metres / CUBIC_FOOT:,.1f} cu ft"


def show_weight(kilograms: float, system: System = "imperial") -> str:
    """Return a weight for people: pounds or kilograms."""
    return f"{kilograms / POUND:,.0f} lb" if system == "imperial" else f"{kilograms:,.0f} kg"


def show_pressure(metres_of_water: float, system: System = "imperial") -> str:
    """Return a pressure for people: pounds a square inch or bar.

    >>> show_pressure(10.0), show_pressure(10.0, "metric")
    ('14 psi', '0.98 bar')
    """
    return f"{metres_of_water / PSI:,.0f} psi" if system == "imperial" else f"{metres_of_water * 0.0980665:.2f} bar"


def show_spread(grams_a_square_metre: float, system: System = "imperial") -> str:
    """Return how thickly something is spread: pounds on 100 square feet, or grams on a square metre.

    >>> show_spread(244.1), show_spread(244.1, "metric")
    ('5.0 lb per 100 sq ft', '244 g/m²')
    """
    if system == "metric":
        return f"{grams_a_square_metre:.0f} g/m²"
    return f"{grams_a_square_metre / 1000 / POUND * 100 * SQUARE_FOOT:.1f} lb per 100 sq ft"


def show_dose(kilograms: float, system: System = "imperial") -> str:
    """Return the weight of what is dosed: a small one in tenths of a pound."""
    if system == "imperial" and kilograms < 20 * POUND:
        return f"{kilograms / POUND:.1f} lb"
    return show_weight(kilograms, system)


def rough_length(metres: float, units: System) -> str:
    """Return a plant's size as loosely as plants grow: whole inches below 3 ft then half feet, or whole 5 cm.

    >>> rough_length(0.45, "imperial"), rough_length(6.2, "imperial"), rough_length(0.47, "metric")
    ('1\\' 6"', '20½ ft', '0.45 m')
    """
    if units == "metric":
        return f"{max(round(metres * 20) / 20, 0.05):.2f} m"
    if metres < 3 * FOOT:
        return feet_inches(max(metres, INCH), to=1)
    halves = round(metres / FOOT * 2)
    return f"{halves // 2}{'½' if halves % 2 else ''} ft"


def inches(metres: float) -> str:
    """Return a small length in inches alone: to an eighth below 3 inches, above to a half; a trace is said as such.

    >>> inches(0.003), inches(0.0467), inches(0.152), inches(0.0004)
    ('⅛"', '1⅞"', '6"', 'under ⅛"')
    """
    size, sign = abs(metres) / INCH, "-" if metres < 0 else ""
    to = 8 if size < 3 else 2
    parts = round(size * to)
    if parts == 0:
        return '0"' if size == 0 else 'under ⅛"'
    whole, rest = divmod(parts, to)
    return f'{sign}{whole or ""}{_fraction_mark(Fraction(rest, to)) if rest else ""}"'


def inch_words(metres: float) -> str:
    """Return a small length in inches with the unit as a word, which a sentence for a metric garden is read by.

    >>> inch_words(0.75), inch_words(0.9144)
    ('29½ in', '36 in')
    """
    return inches(metres).replace('"', " in")


_PART = r"\d{1,3}(?:[.,]\d{0,340})?|[.,]\d{1,340}"  # as a survey writes it, with every digit
_ANGLE = re.compile(
    rf"(?P<whole>{_PART})\s*°?\s*(?:(?P<minutes>{_PART})\s*'\s*(?:(?P<seconds>{_PART})\s*(?:\"|''))?)?", re.ASCII
)
_QUADRANT = re.compile(r"(?P<north>[NS])\s*(?P<angle>[^NSEW]+?)\s*(?P<east>[EW])", re.I)


def degrees(text: str, *, most: float = 360) -> float | None:
    """Return an angle of 0 to ``most`` degrees typed as ``76``, ``76,5``, ``76° 30'`` or ``76° 30' 15"``; None for what
    is none, such as 60 minutes or a part of a degree before minutes.

    >>> degrees("76° 30'"), degrees("76.5° 30'")
    (76.5, None)
    """
    found = _ANGLE.fullmatch(text.translate(_MARKS).strip())
    parts = [float(part.replace(",", ".")) for part in found.groups() if part is not None] if found else []
    cut = any(not part.is_integer() for part in parts[:-1])
    if not parts or cut or max(parts[1:], default=0.0) >= 60:
        return None
    angle = math.fsum(part / 60**power for power, part in enumerate(parts))
    return angle if angle <= most else None


def bearing(text: str | float, *, where: str = "") -> float:
    """Return degrees clockwise from north for ``76``, ``76° 30'`` or the surveyors' ``N 76 E``.

    Raises LengthError when it cannot be read or lies outside 0 to 360 (a quadrant bearing: 0 to 90).
    """
    shown = str(text).strip()
    quadrant = _QUADRANT.fullmatch(shown)
    angle = degrees(quadrant["angle"], most=90) if quadrant else degrees(shown)
    if angle is None:
        place = f" for {where}" if where else ""
        raise LengthError(f'cannot read the bearing "{shown[:SAID]}"{place}; type degrees 0 to 360, or like N 76 E')
    if not quadrant:
        return angle % 360
    north, east = quadrant["north"].upper() == "N", quadrant["east"].upper() == "E"
    return (angle if north == east else -angle) % 360 if north else (180 - angle if east else 180 + angle)


WINDS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def compass_word(degrees: float) -> str:
    """Return the nearest of the eight directions for degrees clockwise from north.

    >>> compass_word(100)
    'east'
    """
    return WINDS[round(degrees / 45) % 8]
