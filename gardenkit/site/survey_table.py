"""A tape survey typed as a table, pasted from a spreadsheet or read from a CSV file, and written back as one.

Columns: kind, from, to, point, value, second, precision. Lengths as people write them (12' 6", 3.2 m), degrees plain.

| kind        | from        | to           | point         | value              | second                  |
|-------------|-------------|--------------|---------------|--------------------|-------------------------|
| station     | its name    |              |               | x (if known)       | y (if known)            |
| tie         | one end     | other end    |               | length             |                         |
| slope       | lower end   | upper end    |               | tape reading       | rise, minus for a fall  |
| offset      | line start  | line end     | point         | along              | off, left 3' or right 3'|
| running     | tape's zero | line end     | point         | reading            |                         |
| angle       | standing at | looking to   | turning to    | degrees, clockwise |                         |
| bearing     | standing at | looking to   |               | degrees, or N 76 E |                         |
| right angle | corner      | one end      | other end     |                    |                         |
| side        | standing at | looking to   | point         | left or right      |                         |
"""

import csv
import re
from collections.abc import Callable
from decimal import Decimal

import attrs

from gardenkit import reading
from gardenkit.findings import GardenError, nearest
from gardenkit.site.survey import (
    TAPE_PRECISION,
    Angle,
    Bearing,
    Measure,
    Offset,
    RightAngle,
    Running,
    Side,
    SlopeTie,
    Station,
    Survey,
    Tie,
)
from gardenkit.units import SAID, LengthError, System, bearing, feet_inches, length

COLUMNS = ("kind", "from", "to", "point", "value", "second", "precision")
HEADINGS = {  # what people write over a column -> the column
    "kind": ("kind", "type", "measure", "what"),
    "from": ("from", "a", "at", "start", "station", "name", "corner", "line from"),
    "to": ("to", "b", "end", "line to"),
    "point": ("point", "p", "mark"),
    "value": ("value", "length", "distance", "reading", "along", "degrees", "tape", "x", "running", "side"),
    "second": ("second", "off", "offset", "rise", "height difference", "y"),
    "precision": ("precision", "accuracy", "plus or minus", "+/-", "error"),
}
KINDS = {  # what people write in the first column -> the kind
    "station": ("station", "control", "fixed point"),
    "tie": ("tie", "tape", "wall", "diagonal", "distance", "line", "length"),
    "slope": ("slope", "slope tie", "slope tape"),
    "offset": ("offset", "baseline", "perpendicular"),
    "running": ("running", "running measure", "along wall"),
    "angle": ("angle", "turn"),
    "bearing": ("bearing", "compass"),
    "right angle": ("right angle", "square", "3-4-5", "square corner"),
    "side": ("side", "which side"),
    "tape precision": ("tape precision",),
    "declination": ("declination", "magnetic declination"),
}
USED = {  # the columns each kind of row reads; a cell filled elsewhere would be lost, so it is asked about
    "station": "from value second",
    "tie": "from to value precision",
    "slope": "from to value second precision",
    "offset": "from to point value second precision",
    "running": "from to point value precision",
    "angle": "from to point value precision",
    "bearing": "from to value precision",
    "right angle": "from to point precision",
    "side": "from to point value",
    "tape precision": "value",
    "declination": "value",
}
_SIDED = re.compile(r"^\s*(?:(left|right|l|r)\b\.?\s*(.+)|(.+?)\s*\b(left|right|l|r)\.?)\s*$", re.I)


@attrs.frozen(kw_only=True)
class TableRead:
    """What a table gave: the survey from its good rows, and one sentence for each bad row."""

    survey: Survey
    problems: tuple[str, ...] = ()


def read_table(text: str, *, system: System = "imperial") -> TableRead:
    """Return the survey of all readable rows and a sentence for every other row.

    Cells part at tabs (a spreadsheet paste), semicolons or commas; headings are optional when the columns stand in the
    order kind, from, to, point, value, second, precision. Empty lines and lines starting with # are skipped.
    """
    lines = [(i, line) for i, line in enumerate(text.lstrip("\ufeff").splitlines(), 1) if _matters(line)]
    if not lines:
        return TableRead(survey=Survey(), problems=("the survey table is empty; type one measure on each line",))
    mark = next((m for m in ("\t", ";") if m in lines[0][1]), ",")
    first = _cells(lines[0][1], mark)
    headed = _kind(first[0]) is None or first[0].strip().casefold() == "kind"
    order: tuple[str, ...] = COLUMNS
    if headed:
        try:
            order = _headings(first, lines[0][0])
        except GardenError as error:
            return TableRead(survey=Survey(), problems=(str(error),))
        lines = lines[1:]
    survey, problems = Survey(), []
    for number, line in lines:
        try:
            survey = _with_row(survey, _Row(number, _cells(line, mark), order, system))
        except GardenError as error:
            problems.append(str(error))
    return TableRead(survey=survey, problems=tuple(problems))


def table_text(survey: Survey, *, system: System = "imperial", mark: str = "\t") -> str:
    """Return the survey as a table that ``survey_from_table`` reads back exactly; ``mark`` is a tab or , or ;.

    Each length carries its unit, feet and inches where they are exact, else metres.
    """
    rows = [list(COLUMNS)]
    if survey.tape_precision != TAPE_PRECISION:
        rows.append(["tape precision", "", "", "", _shown(survey.tape_precision, system)])
    if survey.declination:
        rows.append(["declination", "", "", "", _plain(survey.declination)])
    for station in survey.stations:
        at = [_shown(v, system) for v in station.at] if station.at else []
        rows.append(["station", station.name, "", "", *at])
    rows += [_row(measure, system) for measure in survey.measures]
    rows += [["side", side.start, side.end, side.point, side.side] for side in survey.sides]
    lines = [mark.join(_quoted(cell, mark) for cell in row).rstrip(mark) for row in rows]
    return "\n".join(lines) + "\n"


class _Row:
    """One line of the table: its cells by column, read with the line and column in every complaint."""

    def __init__(self, number: int, cells: list[str], order: tuple[str, ...], system: System) -> None:
        self.number, self.bare = number, "ft" if system == "imperial" else "m"
        if len(cells) > len(order) and any(c.strip() for c in cells[len(order) :]):
            raise GardenError(
                f"line {number} has {len(cells)} cells for {len(order)} columns; a comma inside a length needs quotes "
                "or a full stop"
            )
        self.cells: dict[str, str] = {}
        for column, cell in zip(order, cells, strict=False):
            if cell.strip():
                if column in self.cells:
                    raise GardenError(f'line {number} has two entries for column "{column}"; leave one out')
                self.cells[column] = cell.strip()

    def refuse_unused(self, kind: str) -> None:
        for column in self.cells:
            if column and column not in ("kind", *USED[kind].split()):
                raise GardenError(
                    f'{self.where(column)} holds "{self.cells[column][:SAID]}", which a {kind} does not use; empty it, '
                    "or check the kind and the columns"
                )

    def where(self, column: str) -> str:
        return f'line {self.number}, column "{column}"'

    def word(self, column: str) -> str:
        if column not in self.cells:
            raise GardenError(f"{self.where(column)} is empty; give the name of a point")
        return self.cells[column]

    def length(self, column: str, *, signed: bool = False) -> float:
        if column not in self.cells:
            raise GardenError(f"{self.where(column)} is empty; type a length like 12' 6\" or 3.2 m")
        return length(self.cells[column], bare=self.bare, where=self.where(column), signed=signed)

    def off(self) -> float:
        text = self.cells.get("second", "")
        sided = _SIDED.match(text)
        if not sided:
            return self.length("second", signed=True)
        side, rest = (sided[1], sided[2]) if sided[1] else (sided[4], sided[3])
        far = length(rest, bare=self.bare, where=self.where("second"))
        return far if side.casefold().startswith("l") else -far

    def degrees(self, column: str = "value") -> float:
        try:
            return bearing(self.word(column), where=self.where(column))
        except LengthError:
            raise
        except GardenError as error:
            raise GardenError(f"{self.where(column)} is empty; type degrees, 0 to 360") from error

    def precision(self, *, turning: bool = False) -> float | None:
        if "precision" not in self.cells:
            return None
        found = self.number_of("precision") if turning else self.length("precision")
        if found <= 0:
            raise GardenError(f"{self.where('precision')} is 0; give a value above 0 or leave it empty")
        return found

    def number_of(self, column: str) -> float:
        text = self.cells.get(column, "").rstrip("° ")
        if re.fullmatch(r"[0-9]+\.[0-9]+", text):  # as this table is written, with every digit
            return float(text)
        return reading.number(text, f"the degrees in {self.where(column)}")


def _station(survey: Survey, row: _Row) -> Survey:
    name = row.word("from")
    if any(s.name == name for s in survey.stations):
        raise GardenError(f'{row.where("from")}: station "{name}" is already there; give each its own name')
    at = None
    if "value" in row.cells or "second" in row.cells:
        at = (row.length("value", signed=True), row.length("second", signed=True))
    return attrs.evolve(survey, stations=(*survey.stations, Station(name=name, at=at)))


def _side(survey: Survey, row: _Row) -> Survey:
    word = row.cells.get("value", "").casefold()
    if word not in ("left", "right"):
        raise GardenError(f'{row.where("value")} is "{word}"; type left or right')
    side = Side(
        start=row.word("from"), end=row.word("to"), point=row.word("point"), side="left" if word == "left" else "right"
    )
    return attrs.evolve(survey, sides=(*survey.sides, side))


def _tie(row: _Row) -> Measure:
    return Tie(a=row.word("from"), b=row.word("to"), distance=_above_zero(row), precision=row.precision())


def _slope(row: _Row) -> Measure:
    rise = row.length("second", signed=True)
    far = _above_zero(row)
    if abs(rise) >= far:
        raise GardenError(f"{row.where('second')}: the rise is as long as the tape or longer; check both readings")
    return SlopeTie(a=row.word("from"), b=row.word("to"), slope_distance=far, rise=rise, precision=row.precision())


def _offset(row: _Row) -> Measure:
    return Offset(
        start=row.word("from"),
        end=row.word("to"),
        point=row.word("point"),
        along=row.length("value", signed=True),
        off=row.off(),
        precision=row.precision(),
    )


def _running(row: _Row) -> Measure:
    return Running(
        start=row.word("from"),
        end=row.word("to"),
        point=row.word("point"),
        running=row.length("value"),
        precision=row.precision(),
    )


def _angle(row: _Row) -> Measure:
    return Angle(
        at=row.word("from"),
        a=row.word("to"),
        b=row.word("point"),
        angle=row.degrees(),
        precision=row.precision(turning=True),
    )


def _bearing(row: _Row) -> Measure:
    return Bearing(a=row.word("from"), b=row.word("to"), degrees=row.degrees(), precision=row.precision(turning=True))


def _right_angle(row: _Row) -> Measure:
    return RightAngle(
        corner=row.word("from"), a=row.word("to"), b=row.word("point"), precision=row.precision(turning=True)
    )


_MEASURES: dict[str, Callable[[_Row], Measure]] = {
    "tie": _tie,
    "slope": _slope,
    "offset": _offset,
    "running": _running,
    "angle": _angle,
    "bearing": _bearing,
    "right angle": _right_angle,
}


def _with_row(survey: Survey, row: _Row) -> Survey:
    word = row.cells.get("kind", "")
    kind = _kind(word)
    if kind is None:
        known = [w for words in KINDS.values() for w in words]
        said = f'does not know the kind "{word}"' if word else "has no kind"
        raise GardenError(f"{row.where('kind')} {said}; use one of {', '.join(KINDS)}{nearest(word, known)}")
    row.refuse_unused(kind)
    if kind == "station":
        return _station(survey, row)
    if kind == "side":
        return _side(survey, row)
    if kind == "declination":
        return attrs.evolve(survey, declination=row.number_of("value"))
    if kind == "tape precision":
        return attrs.evolve(survey, tape_precision=_above_zero(row))
    measure = _MEASURES[kind](row)
    return attrs.evolve(survey, measures=(*survey.measures, measure))


def _above_zero(row: _Row) -> float:
    found = row.length("value")
    if found <= 0:
        raise GardenError(f"{row.where('value')} is 0; give a length above 0")
    return found


def _matters(line: str) -> bool:
    return bool(line.strip(" \t,;")) and not line.lstrip().startswith("#")


def _cells(line: str, mark: str) -> list[str]:
    """Return the cells of one line; an inch mark inside a cell is not a quote."""
    return next(csv.reader([line], delimiter=mark, skipinitialspace=True))


def _kind(word: str) -> str | None:
    plain = " ".join(word.casefold().replace("_", " ").split())
    return next((kind for kind, words in KINDS.items() if plain in words), None)


def _headings(cells: list[str], number: int) -> tuple[str, ...]:
    order = []
    for cell in cells:
        plain = " ".join(cell.casefold().replace("_", " ").split())
        column = next((c for c, words in HEADINGS.items() if plain in words), None)
        if column is None and plain:
            known = [w for words in HEADINGS.values() for w in words]
            raise GardenError(
                f'line {number} has a column "{cell.strip()}" that means nothing here{nearest(plain, known)}; '
                f"use {', '.join(COLUMNS)}"
            )
        order.append(column or "")
    if "kind" not in order or "from" not in order:
        raise GardenError(f"line {number} lacks a column kind or from; use {', '.join(COLUMNS)}")
    return tuple(order)


def _row(m: Measure, system: System) -> list[str]:
    def cells(kind: str, names: tuple[str, str, str], value: str = "", second: str = "") -> list[str]:
        turning = isinstance(m, (Angle, Bearing, RightAngle))
        precise = "" if m.precision is None else _plain(m.precision) if turning else _shown(m.precision, system)
        return [kind, *names, value, second, precise]

    if isinstance(m, Tie):
        return cells("tie", (m.a, m.b, ""), _shown(m.distance, system))
    if isinstance(m, SlopeTie):
        return cells("slope", (m.a, m.b, ""), _shown(m.slope_distance, system), _shown(m.rise, system))
    if isinstance(m, Offset):
        return cells("offset", (m.start, m.end, m.point), _shown(m.along, system), _shown(m.off, system))
    if isinstance(m, Running):
        return cells("running", (m.start, m.end, m.point), _shown(m.running, system))
    if isinstance(m, Angle):
        return cells("angle", (m.at, m.a, m.b), _plain(m.angle))
    if isinstance(m, Bearing):
        return cells("bearing", (m.a, m.b, ""), _plain(m.degrees))
    return cells("right angle", (m.corner, m.a, m.b))


def _shown(metres: float, system: System) -> str:
    """Return a length that reads back to exactly the same number, in feet and inches where that is possible."""
    if system == "imperial":
        text = feet_inches(metres, to=8)
        if length(text, signed=True) == metres:
            return text
    return f"{_plain(metres)} m"


def _plain(value: float) -> str:
    return format(Decimal(repr(float(value))), "f")  # every digit, never with an exponent


def _quoted(cell: str, mark: str) -> str:
    if mark in cell or cell.startswith('"') or cell != cell.strip():
        return '"' + cell.replace('"', '""') + '"'
    return cell
