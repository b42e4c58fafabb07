"""The schedules as tables: one spreadsheet with a sheet each, or plain comma-separated files."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path

import attrs

from gardenkit.handover.contents import Contents
from gardenkit.schedules import care, quantities
from gardenkit.sources import HOUSE
from gardenkit.storage.files import replace_safely
from gardenkit.units import FOOT, SQUARE_FOOT, US_GALLON, System

Cell = str | int | float | None
FORMULA_MARKS = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would run a text that begins with one of these
LONG: dict[System, str] = {"imperial": "ft", "metric": "m"}
WIDEST = 60  # letters; a column of a spreadsheet is made no wider. House value.


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
        _water(told),
        _care(told),
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
    from openpyxl.styles import Alignment, Font

    book = Workbook()
    book.remove(book.active)
    for table in tables(told):
        sheet = book.create_sheet(table.name)
        for column, head in enumerate(table.heads, start=1):
            cell = sheet.cell(row=1, column=column, value=head)
            cell.font, cell.alignment = Font(bold=True), Alignment(wrap_text=True, vertical="top")
        for number, row in enumerate(table.rows, start=2):
            for column, value in enumerate(row, start=1):
                cell = sheet.cell(row=number, column=column, value=_printable(value))
                if isinstance(value, str):
                    cell.data_type, cell.alignment = "s", Alignment(wrap_text=True, vertical="top")
        sheet.freeze_panes = "A2"
        for column, wide in enumerate(_widths(table), start=1):
            sheet.column_dimensions[sheet.cell(row=1, column=column).column_letter].width = wide
    if not book.worksheets:
        book.create_sheet("empty")
    target.parent.mkdir(parents=True, exist_ok=True)
    held = io.BytesIO()
    book.save(held)
    replace_safely(target, held.getvalue())
    return target.stat().st_size


# ---- the tables


def _plants(told: Contents) -> Table:
    units = told.project.units
    long = LONG[units]
    heads = (
        "key",
        "botanical name",
        "common name",
        "layer",
        "count",
        "size to buy",
        f"spacing {long}",
        f"height {long}",
        f"spread {long}",
        "beds",
        "price each",
        "cost",
        "price from",
    )
    rows = tuple(
        (
            line.key,
            line.species.botanical,
            line.species.common,
            line.species.layer,
            line.count,
            told.garden.say(line.size),
            _long(line.species.spacing_m, units),
            _long(line.species.height, units),
            _long(line.species.spread, units),
            ", ".join(line.beds),
            line.price,
            line.cost,
            told.garden.say(line.priced),
        )
        for line in told.garden.schedule
    )
    return Table(name="plant schedule", heads=heads, rows=rows)


def _areas(told: Contents) -> Table:
    feet = told.project.units == "imperial"
    rows = tuple(
        (kind, name, round(square / SQUARE_FOOT, 1) if feet else round(square, 2), _long(edge, told.project.units))
        for kind, name, square, edge in quantities.areas(told.garden.layout)
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
            told.garden.say(line.rule),
            told.garden.say(line.source),
        )
        for line in told.garden.quantities
    )
    heads = ("material", "where", "amount", "pieces", "rule", "source")
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
    lines: list[tuple[Cell, ...]] = [
        (c.group, told.garden.say(c.name), c.how, round(c.cost, 2), told.garden.say(c.source))
        for c in told.garden.costs.lines
    ]
    if lines:
        lines.append(("", "reserve", "a tenth", round(told.garden.costs.reserve, 2), told.garden.say(HOUSE)))
        lines.append(("", "together", "", round(told.garden.costs.total, 2), ""))
    return Table(
        name="cost",
        heads=("group", "what", "reckoned as", f"cost {told.garden.costs.currency.strip()}", "price from"),
        rows=tuple(lines),
    )


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
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (
            bed.bed,
            round(bed.area / SQUARE_FOOT, 1) if feet else round(bed.area, 2),
            bed.thirstiest,
            bed.factor,
            *(round(bed.dry_week(m) / each, 1) for m in range(1, 13)),
            round(bed.mean_year / each),
            _long(bed.drip.length, units),
            bed.drip.emitters,
        )
        for bed in told.garden.water
    )
    return Table(name="water", heads=heads, rows=rows)


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


def _findings(told: Contents) -> Table:
    say = told.garden.say
    rows = tuple(
        (f.seriousness, f.where, say(f.what), say(f.why), say(f.source))
        for f in (*told.garden.advice, *told.garden.cautions)
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


def _widths(table: Table) -> Sequence[float]:
    columns = zip(table.heads, *table.rows, strict=True)
    return [min(WIDEST, 2 + max(len(str(cell)) for cell in column if cell is not None)) for column in columns]
