"""The schedules as tables: one spreadsheet with a sheet each, or plain comma-separated files."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from textwrap import wrap
from typing import Any

import attrs

from gardenkit.handover import wording
from gardenkit.handover.contents import Contents
from gardenkit.saying import of_goods
from gardenkit.schedules import care, quantities
from gardenkit.schedules.irrigation import WATERINGS, BedWater
from gardenkit.schedules.irrigation_zones import zones
from gardenkit.schedules.plant_order import order_columns
from gardenkit.schedules.span import Span, together
from gardenkit.schedules.water_pressure import zone_pressures
from gardenkit.schedules.watering import TURF, LawnWater
from gardenkit.schedules.weights import weight_of
from gardenkit.sources import HOUSE
from gardenkit.storage.files import replace_safely
from gardenkit.units import FOOT, SQUARE_FOOT, US_GALLON, System, show_pressure, show_weight

Cell = str | int | float | None
FORMULA_MARKS = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would run a text that begins with one of these
SIZES: dict[System, tuple[str, str]] = {"imperial": ("1", "3"), "metric": ("9", "8")}
LONG: dict[System, str] = {"imperial": "ft", "metric": "m"}
NARROWER = (60, 44, 32, 24)  # letters: how wide a column may be, the first with which a table fits. House values.
SIDE = 0.4  # inches: the margins beside a printed table. House value.
READ, LETTER = 7.0, 0.0755  # points a printed table is read at; inches a letter takes at 11. House value; from memory.
LINE = 14.0  # points: a line of a row at 11 points. From memory.
BESIDE, FILLED = (
    3,
    0.9,
)  # letters of a column beside its text; of the rest that a line of text surely has. House values.
WIDE = {
    "1": 11.0,
    "3": 17.0,
    "9": 11.69,
    "8": 16.54,
}  # inches: letter, tabloid, A4, A3: ECMA-376, 18.3.1.63, from memory
PAPERS: dict[System, tuple[tuple[str, float], ...]] = {  # with the letters that find room across
    units: tuple((paper, (WIDE[paper] - 2 * SIDE) / (LETTER * READ / 11)) for paper in sizes)
    for units, sizes in SIZES.items()
}


@attrs.frozen(kw_only=True)
class Table:
    """One table: the word for it, its column heads, its rows of numbers and texts."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables(told: Contents) -> tuple[Table, ...]:
    """Return the schedules of a garden; tables without rows are left out."""
    made = (
        _plants(told),
        _areas(told),
        _quantities(told),
        _orders(told),
        _cost(told),
        _labour(told),
        _estimate(told),
        _programme(told),
        _water(told),
        _zones(told),
        _care(told),
        _next_year(told),
        _findings(told),
    )
    return tuple(table for table in made if table.rows)


def csv_text(table: Table) -> str:
    """Return one table as comma-separated text; a text that a spreadsheet would run as a formula is quoted with '."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(table.heads)
    writer.writerows([plain_cell(cell) for cell in row] for row in table.rows)
    return out.getvalue()


def write_csv(told: Contents, folder: Path) -> tuple[Path, ...]:
    """Write one UTF-8 file a table into ``folder`` and return their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for table in tables(told):
        path = folder / f"{table.name.replace(' ', '_')}.csv"
        replace_safely(path, csv_text(table).encode("utf-8-sig"))
        written.append(path)
    return tuple(written)


def write_xlsx(told: Contents, target: Path) -> int:
    """Write one spreadsheet with a sheet a table, heads frozen; returns its size in bytes."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    for table in tables(told):
        _fill(book.create_sheet(table.name), table, told.project.units)
    if not book.worksheets:
        book.create_sheet("empty")
    target.parent.mkdir(parents=True, exist_ok=True)
    held = io.BytesIO()
    book.save(held)
    replace_safely(target, held.getvalue())
    return target.stat().st_size


def _fill(sheet: Any, table: Table, units: System) -> None:
    """Write a table onto a sheet: heads frozen, filtered and on every printed page, landscape, as wide as the smallest
    paper on which its letters can be read, with its name and the number of the page.
    """
    from openpyxl.styles import Alignment, Font

    words, figures = Alignment(horizontal="left", wrap_text=True, vertical="top", indent=1), Alignment(vertical="top")
    for column, head in enumerate(table.heads, start=1):
        cell = sheet.cell(row=1, column=column, value=head)
        cell.font, cell.alignment = Font(bold=True), words
    for number, row in enumerate(table.rows, start=2):
        for column, value in enumerate(row, start=1):
            cell = sheet.cell(row=number, column=column, value=_printable(value))
            cell.alignment = words if isinstance(value, str) else figures
            if isinstance(value, str):
                cell.data_type = "s"
            elif isinstance(value, float):
                cell.number_format = "#,##0.00"
    sheet.freeze_panes, sheet.auto_filter.ref, sheet.print_title_rows = "A2", sheet.dimensions, "1:1"
    paper, widths = _on_paper(table, units)
    for number, row in enumerate((table.heads, *table.rows), start=1):
        sheet.row_dimensions[number].height = LINE * _lines(row, widths)
    sheet.page_setup.orientation, sheet.page_setup.paperSize = "landscape", paper
    sheet.page_margins.left = sheet.page_margins.right = SIDE
    sheet.oddHeader.left.text, sheet.oddFooter.right.text = "&A", "&P of &N"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    for column, wide in enumerate(widths, start=1):
        sheet.column_dimensions[sheet.cell(row=1, column=column).column_letter].width = wide


# ---- the tables


def _plants(told: Contents) -> Table:
    long = LONG[units := told.project.units]
    heads = (
        "key",
        "botanical name",
        "common name",
        "layer",
        "qty",
        "to order",
        "size to buy",
        "price each",
        "cost",
        "roots",
        "spares",
        "plant in",
        f"spacing {long}",
        f"height {long}",
        f"spread {long}",
        "beds",
        "or instead",
        "of them divided",
        "named by",
        "price from",
    )
    rows = tuple(
        (
            line.key,
            line.species.botanical,
            line.species.common,
            line.species.layer,
            line.count,
            line.bought + asked.spares,
            told.garden.say(line.size),
            line.price,
            line.cost,
            asked.roots,
            asked.spares,
            asked.season,
            _long(line.species.spacing_m, units),
            _long(line.species.height, units),
            _long(line.species.spread, units),
            ", ".join(line.beds),
            ", ".join(asked.instead),
            line.divided or None,
            asked.code,
            told.garden.say(line.priced),
        )
        for line in told.garden.schedule
        for asked in (order_columns(line, told.garden.catalogue),)
    )
    return Table(name="plant schedule", heads=heads, rows=rows)


def _areas(told: Contents) -> Table:
    feet = told.project.units == "imperial"
    rows = tuple(
        (kind, name, round(square / SQUARE_FOOT, 1) if feet else round(square, 2), _long(edge, told.project.units))
        for kind, name, square, edge in quantities.areas(told.garden.counted_layout)
    )
    heads = ("kind", "name", "sq ft" if feet else "m²", f"edge {LONG[told.project.units]}")
    return Table(name="areas", heads=heads, rows=rows)


def _quantities(told: Contents) -> Table:
    rows = tuple(
        (
            line.item,
            line.where,
            line.shown(told.project.units),
            line.count or None,
            show_weight(weight, told.project.units) if (weight := weight_of(line, told.project)) else None,
            told.garden.say(of_goods(line.rule, told.project.units)),
            told.garden.say(line.source),
        )
        for line in told.garden.quantities
    )
    heads = ("material", "where", "amount", "pieces", "weight", "rule", "source")
    return Table(name="quantities", heads=heads, rows=rows)


def _orders(told: Contents) -> Table:
    rows = tuple(
        (
            told.garden.say(order.name),
            order.words(told.project.units),
            told.garden.say(order.rule),
        )
        for order in told.garden.orders
    )
    return Table(name="orders", heads=("material", "amount", "rounded"), rows=rows)


def _cost(told: Contents) -> Table:
    costs = told.garden.costs
    lines: list[tuple[Cell, ...]] = [
        (c.group, told.garden.say(c.name), c.how, round(c.cost, 2), told.garden.say(c.source), *_ends(c.span))
        for c in costs.lines
    ]
    if lines:
        share = f"{costs.pricing.contingency:g} %"
        kept_back = costs.bought + together(line.span for line in costs.lines) * -1
        reserve, ends = round(costs.reserve, 2), _ends(kept_back)
        lines.append(("", "reserve", share, reserve, told.garden.say(HOUSE), *ends))
        lines.append(("", "together", "", round(costs.total, 2), "", *_ends(costs.bought)))
    money = costs.currency.strip()
    heads = ("group", "what", "reckoned as", f"cost {money}", "price from", f"low {money}", f"high {money}")
    return Table(name="cost", heads=heads, rows=tuple(lines))


def _ends(span: Span) -> tuple[float, float]:
    return round(span.low, 2), round(span.high, 2)


def _labour(told: Contents) -> Table:
    heads = ("step", "work", "amount", "hours low", "hours", "hours high", "paid", "hours from")
    rows = tuple(
        (
            one.step,
            told.garden.say(one.name),
            one.how,
            *(round(h, 2) for h in (one.hours.low, one.hours.likely, one.hours.high)),
            "by the hour" if one.paid else "in the price of the goods",
            told.garden.say(one.source),
        )
        for one in told.garden.costs.work
    )
    return Table(name="labour", heads=heads, rows=rows)


def _estimate(told: Contents) -> Table:
    costs = told.garden.costs
    money = costs.currency.strip()
    rows: list[tuple[Cell, ...]] = [
        (words, round(span.low, 2), round(span.likely, 2), round(span.high, 2))
        for words, span in wording.estimate(told.garden)
    ]
    if not costs.lines and not costs.work:
        rows = []
    else:
        rows.append((told.garden.say(costs.left_out), "", "", ""))
    return Table(name="estimate", heads=("what", f"low {money}", f"likely {money}", f"high {money}"), rows=tuple(rows))


def _programme(told: Contents) -> Table:
    """Return when each step is done, without money: a contractor reads it too."""
    rows = tuple(
        (
            one.called,
            "; ".join(one.after),
            one.season,
            one.year,
            care.MONTHS[one.month - 1],
            one.days,
            round(one.hours, 1) or None,
        )
        for one in told.garden.programme
    )
    return Table(name="programme", heads=("step", "waits for", "season", "year", "from", "days", "hours"), rows=rows)


def _water(told: Contents) -> Table:
    units = told.project.units
    feet = units == "imperial"
    liquid, each = ("US gal", US_GALLON) if feet else ("L", 1.0)
    heads = (
        "bed",
        "sq ft" if feet else "m²",
        "watered for",
        "factor",
        *(f"{m[:3]} {liquid} a week without rain" for m in care.MONTHS),
        f"mean year {liquid}",
        f"dripline {LONG[units]}",
        "emitters",
    )

    def row(
        name: str, of: BedWater | LawnWater, watered_for: str, factor: float, drip: Sequence[Cell]
    ) -> tuple[Cell, ...]:
        area = round(of.area / SQUARE_FOOT, 1) if feet else round(of.area, 2)
        weeks = (round(of.dry_week(m) / each, 1) for m in range(1, 13))
        return (name, area, watered_for, factor, *weeks, round(of.mean_year / each), *drip)

    beds = [
        row(bed.bed, bed, bed.thirstiest, bed.factor, (_long(bed.drip.length, units), bed.drip.emitters))
        for bed in told.garden.water
    ]
    lawns = told.garden.watering.lawns if told.garden.watering else ()
    grass = [row(lawn.name, lawn, "turf, by hose or sprinkler", float(TURF), (0.0, 0)) for lawn in lawns]
    return Table(name="water", heads=heads, rows=(*beds, *grass))


def _zones(told: Contents) -> Table:
    """Return the valves: what hangs on them, what flows, minutes at a time by month, first weeks, pressure asked."""
    garden, units = told.garden, told.project.units
    feet = units == "imperial"
    liquid, each = ("US gal", US_GALLON) if feet else ("L", 1.0)
    asked = {one.number: one.asked for one in zone_pressures(garden.project, garden.layout, garden.water)}
    heads = (
        "zone",
        "beds",
        "need",
        "valves",
        f"{liquid} an hour, each valve",
        "emitters",
        *(f"{m[:3]} minutes, {WATERINGS:g} times a week without rain" for m in care.MONTHS),
        "minutes at a time after planting",
        "pressure at the house",
    )
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (
            zone.number,
            ", ".join(zone.beds),
            zone.thirst,
            zone.parts,
            round(zone.flow / each),
            zone.emitters,
            *(round(minutes) for minutes in zone.minutes),
            round(garden.watering.first_minutes(zone)) if garden.watering else 0,
            show_pressure(asked[zone.number], units) if zone.number in asked else "",
        )
        for zone in zones(garden.water)
    )
    return Table(name="watering zones", heads=heads, rows=rows)


def _care(told: Contents) -> Table:
    rows = tuple(
        (
            ", ".join(care.MONTHS[m - 1] for m in task.months),
            task.task,
            task.botanical,
            told.garden.say(task.how),
            task.every_years,
            told.garden.say(task.caution),
        )
        for task in told.garden.care
    )
    return Table(name="care", heads=("months", "task", "plant", "how", "every years", "take care"), rows=rows)


def _next_year(told: Contents) -> Table:
    """Return what the journal asks for in the year after its last entry."""
    living, say = told.garden.living, told.garden.say
    rows = tuple((living.year, one.do, one.botanical, one.count, one.where, say(one.why)) for one in living.to_do)
    return Table(name="next year", heads=("year", "to do", "plant", "qty", "where", "why"), rows=rows)


def _findings(told: Contents) -> Table:
    say = told.garden.say
    rows = tuple(
        (f.seriousness, f.where, say(f.what), say(f.why), say(f.source))
        for f in (*told.garden.said, *told.garden.cautions)
    )
    return Table(name="findings", heads=("how serious", "where", "what", "why", "source"), rows=rows)


# ---- helpers


def _long(metres: float, units: System) -> float:
    """Return a length as a number for a column: feet to a tenth, metres to a hundredth."""
    return round(metres / FOOT, 1) if units == "imperial" else round(metres, 2)


def plain_cell(cell: Cell) -> Cell:
    """Return a cell as a CSV file may hold it: what a spreadsheet would run as a formula begins with a quote."""
    text = _printable(cell)
    return f"'{text}" if isinstance(text, str) and text.startswith(FORMULA_MARKS) else text


def _printable(cell: Cell) -> Cell:
    """Return a cell without the control characters that no spreadsheet can hold."""
    return "".join(c for c in cell if c >= " " or c in "\t\n") if isinstance(cell, str) else cell


def _on_paper(table: Table, units: System) -> tuple[str, Sequence[float]]:
    """Return the paper of a table and the widths of its columns in letters: the first, wide columns turning to more
    lines, on which they find room; else the larger paper.
    """
    papers = PAPERS[units]
    for paper, room in papers:
        for most in NARROWER:
            if sum(widths := _widths(table, most)) <= room:
                return paper, widths
    return papers[-1][0], _widths(table, NARROWER[-1])


def _lines(row: Sequence[Cell], widths: Sequence[float]) -> int:
    """Return how many lines the longest of a row's texts turns to: not every program finds the height by itself."""
    texts = ((str(cell), max(1, int(wide - BESIDE))) for cell, wide in zip(row, widths, strict=True) if cell)
    return max((sum(max(1, len(wrap(part, room))) for part in text.split("\n")) for text, room in texts), default=1)


def _widths(table: Table, most: int) -> Sequence[float]:
    """Return the width of each column: its longest text, no wider than ``most``; a head turns at its words."""
    heads = (max(map(len, head.split())) for head in table.heads)
    columns = zip(*table.rows, strict=True)
    longest = (max((len(str(cell)) for cell in column if cell is not None), default=0) for column in columns)
    return [BESIDE + max(head, min(most, long)) for head, long in zip(heads, longest, strict=True)]
