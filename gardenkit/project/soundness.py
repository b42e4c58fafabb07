"""Every value of a garden checked by itself: finite, in range, words that can be shown, outlines that enclose ground.

What refers to something else (names that must be known, gates on the boundary) is checked beside the records. Here
stands what one value may be, in one table; a field that is not in the table is checked by its type alone.
"""

import datetime as dt
import math
import re
import sys
import typing
from collections.abc import Callable
from typing import Any
from weakref import WeakValueDictionary

import attrs

from gardenkit import texts
from gardenkit.brief.asking import Asked, check_asked
from gardenkit.brief.style import Picture, Style
from gardenkit.brief.wants import Check, check_for
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.planting.journal import Journal, JournalEntry, check_entry, check_journal
from gardenkit.planting.planting import Plant
from gardenkit.project.handing_over import Accepted, Handover, check_revision
from gardenkit.project.ranges import ANY, FIRST_YEAR, LAST_YEAR, RANGES, Range
from gardenkit.site import survey
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Fence, Site
from gardenkit.site.site_photos import PhotoMark, SitePhoto
from gardenkit.site.sky import zone_of
from gardenkit.site.tracing import Underlay
from gardenkit.structure.flights import overlapping
from gardenkit.structure.structure import Cable, Flight, Path, StoneChoice, Structure, Support, Thing
from gardenkit.texts import LONGEST_NAME, LONGEST_TEXT, NO_NAME

# All limits are house values: wide enough for any home garden, narrow enough to catch a slip of the unit or the hand.
MOST_ITEMS = 20_000  # of one list
MOST_CORNERS = 5_000  # of one outline or line
LARGEST_PLOT = 3_000.0  # m, either way
FARTHEST = LARGEST_PLOT  # from the plan's zero: a wall of ten kilometres took ten seconds to draw
MOST_FALL = 200.0  # m between the lowest and the highest ground of one plan
COLOUR = re.compile(r"#[0-9a-fA-F]{6}")

# No file of this folder on any computer: parts of paths, hidden files, names that Windows keeps for its devices.
_NO_FILE = re.compile(r'[\\/:*?"<>|]|^\.|[. ]$|^(con|prn|aux|nul|com\d|lpt\d) *(\.|$)', re.IGNORECASE)
_TEXTS = (
    "note",
    "contact",
    "reason",
    "text",
    "caption",
    "liked",
    "source",
    "zone_source",
    "frost_source",
    "weather_source",
    "timing",
)

_FILES = {
    (Picture, "file"),
    (Underlay, "picture"),
    (Handover, "logo"),
    (SitePhoto, "file"),
    (JournalEntry, "photo"),
}
_COLOURS = {(Style, "colours")}
_PIXELS = {(Underlay, "pixel_a"), (Underlay, "pixel_b"), (PhotoMark, "pixel")}

Trail = tuple[Any, ...]  # records from the garden down to the one that is looked at
Rule = Callable[[Any, Trail, str], None]  # value, where it is, the field
_SOUND: WeakValueDictionary[int, Any] = WeakValueDictionary()  # records found sound, by identity
_RULES: dict[type, tuple[tuple[str, Rule], ...]] = {}


def check(garden: Any, trail: Trail = ()) -> None:
    """Raise GardenError naming what and where for the first value in a record, or in those in it, that cannot be.

    Records are frozen: one that was found sound is not looked at again.
    """
    here = (*trail, garden)
    for name, rule in _rules(type(garden)):
        rule(getattr(garden, name), here, name)
    _together(garden, here)


def _record(value: Any, trail: Trail, _: str) -> None:
    if _SOUND.get(id(value)) is value:
        return
    check(value, trail)
    _SOUND[id(value)] = value


def _rules(kind: type) -> tuple[tuple[str, Rule], ...]:
    if kind not in _RULES:
        attrs.resolve_types(kind)
        found = [(field.name, _rule(kind, field.name, field.type)) for field in attrs.fields(kind)]
        _RULES[kind] = tuple((name, rule) for name, rule in found if rule is not None)
    return _RULES[kind]


def _rule(kind: type, name: str, wanted: Any) -> Rule | None:
    """Return what checks the values of one field, by the table and then by its type; None for a closed list."""
    inner = [part for part in typing.get_args(wanted) if part is not type(None) and part is not Ellipsis]
    if len(inner) == 1 and type(None) in typing.get_args(wanted):
        return _unless_none(_rule(kind, name, inner[0]))
    if wanted == Outline and name in ("outline", "boundary"):
        return _outline
    if wanted in (Point, Outline, Line):
        return _corners if wanted != Point else _pixel if (kind, name) in _PIXELS else _point
    if typing.get_origin(wanted) is tuple:
        return _each(_rule(kind, name, inner[0]))
    if wanted is str:
        return _text(kind, name)
    if wanted in (float, int):
        return _number(RANGES.get(kind, {}).get(name, ANY), whole=wanted is int)
    if wanted is dt.date:
        return _date
    is_record = attrs.has(wanted) or any(attrs.has(part) for part in inner if isinstance(part, type))
    return _record if is_record else None


def _unless_none(rule: Rule | None) -> Rule | None:
    def checked(value: Any, trail: Trail, name: str) -> None:
        if value is not None and rule is not None:
            rule(value, trail, name)

    return checked


def _each(rule: Rule | None) -> Rule:
    def checked(values: Any, trail: Trail, name: str) -> None:
        if len(values) > MOST_ITEMS:
            raise GardenError(f"{place(trail)} holds {len(values):,} {words(name)}; {MOST_ITEMS:,} are the most")
        if rule is not None:
            for value in values:
                rule(value, trail, name)

    return checked


def _number(span: Range, *, whole: bool) -> Rule:
    low, high, unit = span

    def checked(value: Any, trail: Trail, name: str) -> None:
        if type(value) not in (int, float) or (whole and type(value) is not int):
            raise GardenError(f"{words(name)} of {place(trail)} is {value!r}; give a {'whole ' * whole}number")
        if not low <= value <= high:  # NaN is never in a range
            between = f"{low:,.12g} to {high:,.12g} {unit}".rstrip()
            raise GardenError(f"{words(name)} of {place(trail)} is {_figure(value)}; give {between}")

    return checked


def _figure(value: float) -> str:
    """Return a number as a sentence can hold it, whatever stood in a file."""
    endless = type(value) is int and abs(value) > sys.float_info.max
    return "a number of very many digits" if endless else f"{value:,.12g}"


def _text(kind: type, name: str) -> Rule:
    lines = name in _TEXTS
    most = LONGEST_TEXT if kind is Accepted else 0  # it repeats what was said, which may be long
    is_file, is_colour = (kind, name) in _FILES, (kind, name) in _COLOURS

    def checked(value: str, trail: Trail, name: str) -> None:
        if fault := texts.fault(value, lines=lines, most=most):
            raise GardenError(f"{words(name)} of {place(trail)} {fault}")
        if is_colour and not COLOUR.fullmatch(value):
            raise GardenError(f'the colour "{value[:40]}" of {place(trail)} is none; give it like #3a7f2c')
        if is_file and value and _NO_FILE.search(value):
            raise GardenError(
                f'the picture "{value[:60]}" of {place(trail)} is no plain file name; put it into the pictures folder'
            )

    return checked


def _point(value: Any, trail: Trail, name: str) -> None:
    for number in value:
        if not -FARTHEST <= number <= FARTHEST:
            far = f"within {FARTHEST:,.0f} m of the plan's zero"
            raise GardenError(f"{words(name)} of {place(trail)} is at {number:,g} m; give a place {far}")


def _pixel(value: Any, trail: Trail, name: str) -> None:
    for number in value:
        if not -1e6 <= number <= 1e6:
            raise GardenError(f"{words(name)} of {place(trail)} is {number:,g}; click on the picture again")


def _corners(values: Any, trail: Trail, name: str) -> None:
    if len(values) > MOST_CORNERS:
        raise GardenError(f"{words(name)} of {place(trail)} has {len(values):,} points; {MOST_CORNERS:,} are the most")
    for value in values:
        _point(value, trail, name)


def _outline(values: Any, trail: Trail, name: str) -> None:
    _corners(values, trail, name)
    if values:
        plane.outline(values, where="the boundary" if name == "boundary" else place(trail))
        for axis in (0, 1):
            extent = max(corner[axis] for corner in values) - min(corner[axis] for corner in values)
            if extent > LARGEST_PLOT:
                raise GardenError(
                    f"{words(name)} of {place(trail)} is {extent:,.0f} m long; {LARGEST_PLOT:,.0f} m are the most"
                )


def _date(value: Any, trail: Trail, name: str) -> None:
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise GardenError(f"{words(name)} of {place(trail)} is {value}; give a year {FIRST_YEAR} to {LAST_YEAR}")


_OWN_CHECKS: dict[type, Callable[[Any], object]] = {
    Asked: check_asked,
    Check: lambda record: check_for(record.fact, record.compare, record.amount),
    Handover: lambda record: check_revision(record.revision),
    Journal: check_journal,
    JournalEntry: check_entry,
    Place: zone_of,
}


def _together(record: Any, trail: Trail) -> None:
    """Check what only several fields of one record can tell."""
    if (own := _OWN_CHECKS.get(type(record))) is not None:
        own(record)
    if isinstance(record, StoneChoice) and record.gap_low > record.gap_high:
        raise GardenError(
            f"the gaps of {place(trail)} run from {record.gap_low:g} to {record.gap_high:g} m; give the smaller first"
        )
    if isinstance(record, Flight) and record.start >= record.end:
        raise GardenError(f"{place(trail)} ends before it begins; give where it begins first")
    if isinstance(record, Path) and overlapping(record.flights) is not None:
        raise GardenError(f"two flights of steps of {place(trail)} overlap; move one of them")
    _lines(record, trail)
    if isinstance(record, Opening) and record.head < record.sill:
        raise GardenError(f"{place(trail)} ends below where it begins; give a head above its sill")
    if isinstance(record, Building) and len(record.ridge) not in (0, 2):
        raise GardenError(f"the ridge of {place(trail)} has {len(record.ridge)} ends; give two, or none")
    if isinstance(record, Site) and record.heights:
        low, high = (pick(record.heights, key=lambda one: one.height) for pick in (min, max))
        if high.height - low.height > MOST_FALL:
            raise GardenError(
                f'ground heights "{low.name}" and "{high.name}" differ by {high.height - low.height:,.0f} m; '
                f"{MOST_FALL:g} m are the most on one plan: check the sign and the decimal point of both"
            )
    if isinstance(record, Underlay) and (math.dist(record.pixel_a, record.pixel_b) == 0):
        raise GardenError("the picture under the plan is tied by one place twice; click on two different places")


def _lines(record: Any, trail: Trail) -> None:
    if isinstance(record, (Fence, Support, Cable)) or (isinstance(record, Thing) and record.line):
        plane.check_line(record.line, where=place(trail))
    for cut in record.cuts if isinstance(record, Structure) else ():
        plane.check_line(cut, where="a cut between beds")


def words(name: str) -> str:
    """Return a field as words."""
    return name.replace("_", " ")


_CALLED = {
    "ExistingTree": "tree",
    "Opening": "",
    "GroundArea": "",
    "Thing": "",
    "CutStone": "stone",
    "StoneChoice": "the stones",
    "PalletStone": "a stone of the pallet",
    "Flight": "a flight of steps",
    "Finished": "a height of a path",
    "HeldPoint": "a point held",
    "Turn": "what it swings round",
    "SpotHeight": "spot height",
    "Observation": "the sun diary",
    "Underlay": "the picture under the plan",
    "SitePhoto": "photo of the site",
    "PhotoMark": "mark",
    "InFront": "an outline in front",
    "Asked": "what is asked for",
    "PropertyArea": "area of the property",
    "Accepted": "an accepted warning",
    "Handover": "the documents",
    "JournalEntry": "journal entry",
}


def place(trail: Trail) -> str:
    """Return where in the garden a record stands, in the designer's words: ``path "walk", the stones``."""
    return ", ".join(_called(record) for record in trail[1:] if type(record).__name__ not in _PASSED) or _called(
        trail[-1]
    )


_PASSED = ("Brief", "Site", "Structure", "Planting", "Journal")  # passed through on the way to what is meant


def _called(record: Any) -> str:
    if isinstance(record, typing.get_args(survey.Measure)):
        label = survey.label(record)
        return NO_NAME.sub("", label if len(label) < LONGEST_NAME else f"{label[:60]} ...")
    kind = type(record).__name__
    said = _CALLED.get(kind, kind.lower()) or getattr(record, "kind", "")
    if isinstance(record, Plant):
        return f"plant {str(record.number)[:12]} ({record.species[:40]})"
    if kind in _PASSED:
        return f"the {kind.lower()}"
    name = next((value for key in ("name", "species", "text", "file") if (value := getattr(record, key, ""))), "")
    return (
        f'{said} "{NO_NAME.sub("", name[:60])}"' if name else said if said.startswith(("the ", "a ")) else f"the {said}"
    )
