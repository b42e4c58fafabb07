"""The garden's own plants: a plant's cells as they are written in a table, and several rows pasted in at once."""

import csv
import io
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue import write_own
from gardenkit.planting.catalogue_check import header_problems
from gardenkit.planting.catalogue_columns import COLUMNS, EATERS, GRADES, SEPARATOR
from gardenkit.planting.species import CareTask, InvasiveListing, Species

GRADED = {(who, grade) for who in EATERS for grade in GRADES}  # pairs of ``toxicity_by``
MOST_ROWS = 500  # more at once is not a paste but a wrong file. House value.


def cells_of(species: Species) -> dict[str, str]:
    """Return one plant as the cells of a table row: what ``species_from_row`` reads back as the same plant."""
    return {column.name: _cell(getattr(species, column.name)) for column in COLUMNS}


def rows_of(text: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a pasted table; its first line names the columns, cells stand between commas or tabs.

    Raises GardenError for no rows, a column that does not exist, or a row with too many cells.
    """
    lines = text.strip().removeprefix("\ufeff")
    if "\n" not in lines:
        raise GardenError("the pasted table has no plants; paste a first line with column names and a line a plant")
    tabbed = "\t" in lines.splitlines()[0]
    reader = csv.DictReader(io.StringIO(lines, newline=""), delimiter="\t" if tabbed else ",", skipinitialspace=True)
    header = [(name or "").strip() for name in reader.fieldnames or ()]
    bad = list(header_problems([name for name in header if name], file="the pasted table"))
    if "botanical" not in header:
        bad.append('the pasted table: there is no column "botanical"; give each plant its botanical name there')
    if bad:
        raise GardenError("; ".join(bad))
    reader.fieldnames = header
    rows = []
    for line, row in enumerate(reader, start=2):
        if None in row:
            raise GardenError(
                f"the pasted table, line {line}: more cells than columns; put cells with commas in quotes"
            )
        rows.append({name: (cell or "").strip() for name, cell in row.items() if name})
    if not 0 < len(rows) <= MOST_ROWS:
        raise GardenError(f"the pasted table has {len(rows)} plants; paste 1 to {MOST_ROWS} at a time")
    return tuple(rows)


def write_rows(own: Path, rows: Sequence[Mapping[str, object]]) -> tuple[Species, ...]:
    """Write several plants into the garden's own table, all of them or, when anything is wrong (GardenError), none."""
    with tempfile.TemporaryDirectory(dir=own.parent, prefix=".plants-") as folder:
        draft = Path(folder) / own.name
        if own.exists():
            shutil.copyfile(own, draft)
        made = tuple(write_own(draft, row) for row in rows)
        draft.replace(own)
    return made


def own_names(own: Path) -> tuple[str, ...]:
    """Return the botanical names in the garden's own table, none without one."""
    if not own.exists():
        return ()
    rows = csv.DictReader(io.StringIO(own.read_text(encoding="utf-8"), newline=""))
    return tuple(row["botanical"] for row in rows)


def forget(own: Path, botanical: str) -> None:
    """Take one plant out of the garden's own table; GardenError when it is not in it."""
    known = own_names(own)
    if botanical not in known:
        raise GardenError(f"the garden has no values of its own for {botanical}{nearest(botanical, known)}")
    rows = list(csv.reader(io.StringIO(own.read_text(encoding="utf-8"), newline="")))
    kept = [row for row in rows[1:] if row[rows[0].index("botanical")] != botanical]
    with tempfile.TemporaryDirectory(dir=own.parent, prefix=".plants-") as folder:
        draft = Path(folder) / own.name
        with draft.open("w", encoding="utf-8", newline="") as page:
            csv.writer(page, lineterminator="\n").writerows([rows[0], *kept])
        draft.replace(own)


# ---- helpers


def _cell(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case CareTask():
            months = f"{value.first_month}" + (f"-{value.last_month}" if value.last_month != value.first_month else "")
            return f"{value.task}@{months}" + (f"/{value.every_years}" if value.every_years > 1 else "")
        case InvasiveListing():
            return value.sentence()
        case (str(who), str(grade)) if (who, grade) in GRADED:
            return f"{who} {grade}"
        case tuple():
            return SEPARATOR.join(_cell(one) for one in value)
        case float():
            return f"{value:g}"
    return str(value)
