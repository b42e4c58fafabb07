"""Sentences in the garden's own units: lower layers write metres, and every page and paper says them through here.

``in_system`` is the one door for measures, ``in_place`` the one for rules and names that hold in the USA alone,
``in_our_words`` calls a house value what is to be done with it, and ``said`` goes through all. The first reads each
measure in a sentence (a list or a range as one) and writes it as the trade of that country does. Places on the plan,
"(2.10, 3.00) m", are co-ordinates and stay.
"""

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache

from gardenkit.sources import HOUSE
from gardenkit.units import (
    CUBIC_YARD,
    FOOT,
    INCH,
    POUND,
    SQUARE_FOOT,
    US_GALLON,
    System,
    as_built,
    feet_inches,
    inches,
    length,
    rough_length,
    show_area,
    show_length,
    show_volume,
)

MILE = 1609.344  # m, exact
HOUR = 3600.0  # s
NUMBER = r"[-+−]?(?:\d+/\d+|\d*[½¼¾⅛⅜⅝⅞]|(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?)"
DECIMAL = r"[-+−]?\d+\.\d+"
UNSIGNED = r"\d+(?:\.\d+)?"
# More numbers before the last one share its unit. After a comma only numbers with decimals: "in year 15, 2.30 m".
MORE = rf"(?:(?:{NUMBER}(?: to | or | by | x | × |×|–|-)|{DECIMAL}(?: and |, ))*)"
END = r"(?![\w²³'’]|/(?!\s))"

MONTHS = "January|February|March|April|May|June|July|August|September|October|November|December"

Writer = Callable[[float, str], str]


def _length(metres: float, written: str) -> str:
    """Return feet and inches as finely as the metres were written: ½" for centimetres, 1" or 1 ft for less."""
    decimals = len(written.partition(".")[2])
    if decimals >= 2 or abs(metres) < FOOT:
        return feet_inches(metres) if abs(metres) >= INCH else inches(metres)
    if abs(metres) >= 10 or (decimals == 0 and abs(metres) >= 2):
        return f"{metres / FOOT:,.0f} ft"
    return feet_inches(metres, to=1)


def _plain(value: float) -> str:
    """Return a number with three figures at most, thousands whole."""
    return f"{value:,.0f}" if abs(value) >= 100 else f"{value:.3g}"


def _times(factor: float, unit: str) -> Writer:
    return lambda value, _: f"{_plain(value * factor)} {unit}"


def _litres(gallons: float, _: str) -> str:
    litres = gallons * US_GALLON
    return f"{litres:,.0f} L" if litres >= 10 else f"{litres:.2g} L"


IMPERIAL: tuple[tuple[str, Writer], ...] = (
    (r"m/s", _times(HOUR / MILE, "mph")),
    (r"km/h", _times(1000 / MILE, "mph")),
    (r"m[2²]|square met(?:re|er)s?", lambda value, _: show_area(value)),
    (r"m[3³]|cubic met(?:re|er)s?", lambda value, _: show_volume(value)),
    (r"km|kilomet(?:re|er)s?", _times(1000 / MILE, "miles")),
    (r"mm|millimet(?:re|er)s?", lambda value, _: inches(value / 1000)),
    (r"cm|centimet(?:re|er)s?", lambda value, _: inches(value / 100)),
    (r"m|met(?:re|er)s?", _length),
    (r"L|l|lit(?:re|er)s?", _times(1 / US_GALLON, "gal")),
    (r"kg|kilograms?", _times(1 / POUND, "lb")),
    (r"(?:°|deg(?:rees)? )C", lambda value, _: f"{value * 9 / 5 + 32:.0f} °F"),
)
METRIC: tuple[tuple[str, Writer], ...] = (
    (r"lb/cu ft", _times(POUND / FOOT**3, "kg/m³")),
    (r"mph", _times(MILE / 1000, "km/h")),
    (r"sq ft|square feet", lambda value, _: show_area(value * SQUARE_FOOT, "metric")),
    (r"cu yd|cubic yards?", lambda value, _: show_volume(value * CUBIC_YARD, "metric")),
    (r"ft|feet|foot", lambda value, _: show_length(value * FOOT, "metric")),
    (
        r"in(?! (?:a|an|the|all|this|each|every|one|its|their|\d+|\w+ bed|" + MONTHS + r")\b)|inch(?:es)?",
        lambda value, _: show_length(value * INCH, "metric", small=True),
    ),
    (r"(?:US )?gal(?:lons?)?", _litres),
    (r"lbs?|pounds?", _times(POUND, "kg")),
    (r"(?:°|deg(?:rees)? )F", lambda value, _: f"{(value - 32) * 5 / 9:.0f} °C"),
    (r"cu ft|cubic feet", lambda value, _: show_volume(value * FOOT**3, "metric")),
)
CODE, PASSAGE = "a building code of another country", r"[RM]?\d[\d.]*\d"
# What is law, trade or habit in the USA alone, and what is said instead elsewhere.
USA_ALONE: tuple[tuple[str, str], ...] = (
    (r"IRC (exit door|other)", rf"{CODE}, \1"),
    (rf"(?:IRC|IBC)(?: \d{{4}},?)?(?: {PASSAGE})?(?: \(\d{{4}}\))?(?: and (?:IRC|IBC) {PASSAGE})*", CODE),
    (
        rf"(?:2010 )?ADA Standards(?:,? advisory to)?(?: {PASSAGE}(?:,? (?:and|to) {PASSAGE})*)?"
        rf"(?: and IRC {PASSAGE})?",
        "an accessibility standard of another country",
    ),
    (r"ISPSC [\d.]+\d", "a code for pools of another country"),
    (r"ADA(?: 2010)?", "an accessibility standard of another country"),
    (r"US Access Board, outdoor developed areas, [\d.]+\d", "a guide to outdoor paths of another country"),
    (r"NIOSH (?:publication )?94-110(?:, revised lifting equation)?", "the revised lifting equation of 1994"),
    (r"29 CFR [\d.]+\d(?:, OSHA Table 1)?|OSHA Table 1", "a rule for stone dust of another country"),
    (r"(?:ANSI/)?ASABE S623\.1(?:, 2017)?", "an irrigation standard of another country"),
    (r"USDA (?:Plant )?([Hh]ardiness)", r"\1"),
    (r"USDA (zones?|SCS|texture)", r"\1"),
    (r"USDA \d{4} map", "a mean of 30 years"),
    (r"(?:your |a |the )?local nursery or extension office", "a local nursery"),
    (r"extension office", "garden advisory service"),
)
FEET, INCHES = METRIC[4][0], METRIC[5][0]
GOODS = (  # as metric goods are sized
    (INCHES, lambda value, _: f"{as_built(value * INCH, 'metric') * 1000:.0f} mm"),
    (FEET, lambda value, _: f"{as_built(value * FOOT, 'metric') * 1000:.0f} mm"),
)
WRITERS: dict[str, tuple[tuple[str, Writer], ...]] = {"imperial": IMPERIAL, "metric": METRIC, "goods": GOODS}


def _measure(rows: tuple[tuple[str, Writer], ...]) -> re.Pattern[str]:
    units = "|".join(f"(?P<u{number}>{words})" for number, (words, _) in enumerate(rows))
    return re.compile(
        rf"(?<![\w.,/'])(?P<about>about )?(?P<more>{MORE})(?P<last>{NUMBER})(?:[ \u00a0]|(?=°))(?:{units}){END}"
    )


def _twice(first: tuple[tuple[str, Writer], ...], second: tuple[tuple[str, Writer], ...]) -> re.Pattern[str]:
    """Return what finds a measure said in both systems, ``first`` before ``second``: "6 in (152 mm)"."""
    a, b = ("|".join(words for words, _ in rows) for rows in (first, second))
    marks = r"|\d[\d' ½¼¾⅛⅜⅝⅞]*[\"']"
    return re.compile(
        rf"(?<![\w.,/'])({MORE}{NUMBER} ?(?:{a}){marks}) \(((?:about )?(?:{MORE}{NUMBER} ?(?:{b}){marks}))\)"
    )


MARKED = re.compile(r"(?<![\w.,/'])\d+' (?:\d+[½¼¾⅛⅜⅝⅞]?|[½¼¾⅛⅜⅝⅞])\"")  # 5' 9½"
INCH_MARK = re.compile(r"(?<![\w.,/'\"½¼¾⅛⅜⅝⅞-])(?:\d+[½¼¾⅛⅜⅝⅞]?|[½¼¾⅛⅜⅝⅞])\"|\"")  # 4", or the quote of a name
MEASURES = {system: _measure(rows) for system, rows in WRITERS.items()}
METRIC_SECOND, IMPERIAL_SECOND = _twice(METRIC, IMPERIAL), _twice(IMPERIAL, METRIC)


@lru_cache(maxsize=16384)
def in_system(text: str, system: System) -> str:
    """Return a sentence with every measure said in the garden's own system; what is said in both is said once.

    >>> in_system("stands 0.65 m from the house", "imperial")
    'stands 2\\' 1½" from the house'
    >>> in_system("stones of 0.38 to 0.76 m on 50 mm of sand", "imperial")
    'stones of 1\\' 3" to 2\\' 6" on 2" of sand'
    >>> in_system("over 50 lb (23 kg)", "metric"), in_system("over 50 lb (23 kg)", "imperial")
    ('over 23 kg', 'over 50 lb')
    >>> in_system('bed "Bed 3": 4" of mulch, 10.6 cu ft', "metric")
    'bed "Bed 3": 10.2 cm of mulch, 0.30 m³'
    """
    imperial = system == "imperial"
    text = METRIC_SECOND.sub(lambda found: found[1 if imperial else 2], text)
    text = IMPERIAL_SECOND.sub(lambda found: found[2 if imperial else 1], text)
    if not imperial:
        text = _inches_alone(MARKED.sub(lambda found: show_length(length(found[0]), "metric"), text))
    return MEASURES[system].sub(lambda found: _said(found, system), text)


def _inches_alone(text: str) -> str:
    """Return a text with its lone inches (4") in metric: a mark after a figure that does not close the quotes of a
    name.
    """
    quoted = False

    def said(found: re.Match[str]) -> str:
        nonlocal quoted
        if quoted or found[0] == '"':
            quoted = not quoted
            return found[0]
        return show_length(length(found[0]), "metric", small=True)

    return INCH_MARK.sub(said, text)


def of_goods(text: str, system: System) -> str:
    """Return what is said of parts and goods: in a metric garden an inch is 25 mm, see ``units.as_built``.

    >>> of_goods("eye bolts 1-2 in from a joint, rafters at 16 in", "metric")
    'eye bolts 25 mm-50 mm from a joint, rafters at 400 mm'
    >>> of_goods("3 in (75 mm) deep", "metric")
    '75 mm deep'
    """
    if system == "imperial":
        return text
    once = IMPERIAL_SECOND.sub(r"\1", METRIC_SECOND.sub(r"\2", text))
    return MEASURES["goods"].sub(lambda found: _said(found, "goods"), once)


_USA = tuple((re.compile(rf"\b(?:{there})(?!\w)"), elsewhere) for there, elsewhere in USA_ALONE)


@lru_cache(maxsize=4096)
def in_place(text: str) -> str:
    """Return a sentence for a garden outside the USA: what holds in the USA alone in the general words.

    >>> in_place("at least 91 cm; 2010 ADA Standards 403.5.1")
    'at least 91 cm; an accessibility standard of another country'
    """
    for there, elsewhere in _USA:
        text = there.sub(elsewhere, text)
    return text


def said(text: str, system: System, usa: bool | None) -> str:
    """Return a sentence in a garden's units and in the words of its place; ``usa`` None while that is not known."""
    told = in_our_words(in_system(text, system))
    return in_place(told) if usa is False else told


def in_our_words(text: str) -> str:
    """Return a sentence in which a figure of our own judgement is called what a designer is to do with it.

    >>> in_our_words("a foot (house value)"), in_our_words("house value")
    ('a foot (our default, confirm it)', 'our default (confirm)')
    """
    if HOUSE not in text.lower():
        return text
    inner = re.sub(rf"\({HOUSE}(?=[;,)])", "(our default, confirm it", text)
    return re.sub(rf"\b{HOUSE}(s?)\b", lambda found: f"our default{found[1]} (confirm)", inner)


def _said(found: re.Match[str], system: str) -> str:
    rows = WRITERS[system]
    unit = next(number for number in range(len(rows)) if found[f"u{number}"])
    write = _rough if found["about"] and rows[unit][1] is _length else rows[unit][1]
    number = NUMBER if not found["more"] else rf"\d+/\d+|\d*[½¼¾⅛⅜⅝⅞]|{UNSIGNED}"
    told = re.sub(number, lambda one: _written(one[0], write), found["more"] + found["last"])
    return (found["about"] or "") + told


def _rough(metres: float, _: str) -> str:
    return rough_length(metres, "imperial")


def _written(number: str, write: Writer) -> str:
    plain = number.replace(",", "").replace("−", "-")
    told = write(_value(plain), plain.lstrip("+-"))
    return f"+{told}" if number.startswith("+") else told


def _value(plain: str) -> float:
    """Return what a number means: 2.5, 1/2, 29½."""
    if plain[-1] in "½¼¾⅛⅜⅝⅞":
        whole, part = float(plain[:-1].lstrip("+-") or 0), unicodedata.numeric(plain[-1])
        return -(whole + part) if plain.startswith("-") else whole + part
    return float(Fraction(plain)) if "/" in plain else float(plain)
