"""The garden's own plants: a plant's cells as they are written in a table, and several rows pasted in at once."""

import csv
import io
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from gardenkit import reading
from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue import alone_with, write_own
from gardenkit.planting.catalogue_check import header_problems
from gardenkit.planting.catalogue_columns import COLUMNS, EATERS, GRADES, SEPARATOR
from gardenkit.planting.species import CLEARED, CareTask, InvasiveListing, Species

GRADED = {(who, grade) for who in EATERS for grade in GRADES}  # pairs of ``toxicity_by``
OWN_SOURCE = "the designer's own entry"
SOURCES = ("size_source", "growing_source", "season_source", "caution_source")
# What a plant of one's own never takes from the plant it is like: nobody may trust a caution that was copied.
NEVER_COPIED = frozenset(["toxic_to", "toxicity", "toxicity_by", "invasive_in", "substitutes", "cautions", "invasive"])
NEVER_COPIED |= {"native_to", "native_na", "wildlife"}
LEAST_SIZE = 0.01  # m: what is read back as a size. House value.
MOST_ROWS = 500  # more at once is not a paste but a wrong file. House value.


def cells_of(species: Species) -> dict[str, str]:
    """Return one plant as the cells of a table row: what ``species_from_row`` reads back as the same plant."""
    cells = {column.name: _cell(getattr(species, column.name)) for column in COLUMNS}
    for end, half in (("bloom_start", species.bloom_start_half), ("bloom_end", species.bloom_end_half)):
        cells[end] = f"{half} {cells[end]}".strip()
    return cells


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
    try:
        read = list(reader)
    except csv.Error as error:
        raise GardenError(f"the pasted table cannot be read ({error}); look for a quote that is not closed") from error
    rows = []
    for line, row in enumerate(read, start=2):
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
    with alone_with(own), tempfile.TemporaryDirectory(dir=own.parent, prefix=".plants-") as folder:
        draft = Path(folder) / own.name
        if own.exists():
            shutil.copyfile(own, draft)
        made = tuple(write_own(draft, row) for row in rows)
        draft.replace(own)
    return made


def corrected(species: Species, column: str, cell: str) -> dict[str, str]:
    """Return the row that writes one value over a plant's own; an empty cell takes the value away.

    What is full grown in ten years, as herbs are, has the same size then.
    """
    before, given = cells_of(species), cell or CLEARED
    row = {"botanical": species.botanical, column: given}
    ten = column.replace("_min_m", "_10_min_m").replace("_max_m", "_10_max_m")
    if ten in before and before[ten] == before[column]:
        row[ten] = given
    return row


def times_changed(before: str, after: str) -> float:
    """Return how many times longer a length has become by a correction: below 1, shorter; 1 where there was none."""
    return float(after) / float(before) if before and after else 1.0


def row_like(like: Species, typed: Mapping[str, str]) -> dict[str, str]:
    """Return the row of a plant of one's own: what was typed, the rest as the plant it is like, without its cautions.

    Sizes in year ten keep the proportion of the plant that it is like. Raises GardenError for a size that cannot be
    read.
    """
    copied = {column: cell for column, cell in cells_of(like).items() if column not in NEVER_COPIED}
    return {**copied, **typed, **dict.fromkeys(SOURCES, OWN_SOURCE), **_in_ten_years(cells_of(like), typed)}


def own_names(own: Path) -> tuple[str, ...]:
    """Return the botanical names in the garden's own table, none without one."""
    if not own.exists():
        return ()
    rows = csv.DictReader(io.StringIO(own.read_text(encoding="utf-8"), newline=""))
    return tuple(row["botanical"] for row in rows)


def forget(own: Path, botanical: str) -> None:
    """Take one plant out of the garden's own table; GardenError when it is not in it."""
    with alone_with(own), tempfile.TemporaryDirectory(dir=own.parent, prefix=".plants-") as folder:
        known = own_names(own)
        if botanical not in known:
            raise GardenError(f"the garden has no values of its own for {botanical}{nearest(botanical, known)}")
        rows = list(csv.reader(io.StringIO(own.read_text(encoding="utf-8"), newline="")))
        kept = [row for row in rows[1:] if row[rows[0].index("botanical")] != botanical]
        draft = Path(folder) / own.name
        with draft.open("w", encoding="utf-8", newline="") as page:
            csv.writer(page, lineterminator="\n").writerows([rows[0], *kept])
        draft.replace(own)


# ---- helpers


def _in_ten_years(like: Mapping[str, str], typed: Mapping[str, str]) -> dict[str, str]:
    found = {}
    for what in ("height", "spread"):
        for end in ("min", "max"):
            full, ten = like[f"{what}_{end}_m"], like[f"{what}_10_{end}_m"]
            own = reading.amount(typed[f"{what}_{end}_m"], f"{what}, {end}")
            size = own if ten == full else max(LEAST_SIZE, round(own * float(ten) / float(full), 2))
            found[f"{what}_10_{end}_m"] = f"{size:g}"
    return found


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
