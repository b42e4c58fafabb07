"""The plant catalogue: every plant the workbook knows, looked up by name, and the garden's own plants beside them."""

import contextlib
import csv
import io
import os
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path

import attrs
from filelock import FileLock, Timeout

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue_check import header_problems, problems
from gardenkit.planting.catalogue_columns import BY_NAME, LAYERS, name_key
from gardenkit.planting.species import CLEARED, CareTask, InvasiveListing, Species, caution_text, species_from_row

__all__ = [
    "CareTask",
    "Catalogue",
    "InvasiveListing",
    "Species",
    "caution_text",
    "load_catalogue",
    "problems",
    "shipped_rows",
    "write_own",
]
WAIT_FOR_TABLE = 10.0  # s. House value.
Cells = dict[str, str]


@attrs.frozen(eq=False)
class Catalogue:
    """Plants in the order of their tables.

    ``catalogue["Salvia nemorosa"]`` finds one, ``for plant in catalogue`` walks through all of them.
    Names are found whatever their case, with ``x`` or ``×``, and by common name.
    """

    plants: tuple[Species, ...]
    _by_name: dict[str, Species] = attrs.field(init=False, repr=False)
    _by_common: dict[str, tuple[Species, ...]] = attrs.field(init=False, repr=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "_by_name", {plant.key: plant for plant in self.plants})
        common: dict[str, tuple[Species, ...]] = {}
        for plant in self.plants:
            common[name_key(plant.common)] = (*common.get(name_key(plant.common), ()), plant)
        object.__setattr__(self, "_by_common", common)

    def __getitem__(self, name: str) -> Species:
        """Return the plant of a botanical or common name; GardenError names the nearest known name."""
        key = name_key(name)
        if key in self._by_name:
            return self._by_name[key]
        shared = self._by_common.get(key, ())
        if len(shared) == 1:
            return shared[0]
        if shared:
            several = ", ".join(plant.botanical for plant in shared)
            raise GardenError(f'"{name}" is the common name of several plants: {several}; give the botanical name')
        known = (*(plant.botanical for plant in self.plants), *(plant.common for plant in self.plants))
        near = nearest(name, known)
        raise GardenError(f'no plant called "{name}" in the catalogue{near}; correct it, or add the plant to your own')

    def __contains__(self, name: object) -> bool:
        """Return whether ``catalogue[name]`` finds one plant."""
        key = name_key(name) if isinstance(name, str) else ""
        return key in self._by_name or len(self._by_common.get(key, ())) == 1

    def __iter__(self) -> Iterator[Species]:
        return iter(self.plants)

    def __len__(self) -> int:
        return len(self.plants)

    def names(self) -> tuple[str, ...]:
        """Return every botanical name, in the order of the tables."""
        return tuple(plant.botanical for plant in self.plants)

    def find(self, text: str) -> tuple[Species, ...]:
        """Return every plant with ``text`` in its botanical, common or family name; names that begin with it first."""
        wanted = name_key(text)
        hits = [p for p in self.plants if any(wanted in name_key(n) for n in (p.botanical, p.common, p.family))]
        return tuple(sorted(hits, key=lambda p: not any(n.startswith(wanted) for n in (p.key, name_key(p.common)))))

    def layer(self, name: str) -> tuple[Species, ...]:
        """Return every plant of one layer (``tree``, ``shrub``, ...); GardenError for an unknown layer."""
        if name not in LAYERS:
            raise GardenError(f'no layer called "{name}"{nearest(name, LAYERS)}; give one of {", ".join(LAYERS)}')
        return tuple(plant for plant in self.plants if plant.layer == name)


def load_catalogue(*, own: Path | None = None) -> Catalogue:
    """Return the shipped plants with the garden's own table laid over them.

    ``own`` is a table with some or all of the same columns (``botanical`` always). A row for a known plant overrides
    the cells it fills; ``-`` takes a value away. A new plant needs a whole row. GardenError lists everything wrong.
    """
    if own is None or not own.exists():
        return _shipped()
    return Catalogue(plants=tuple(species_from_row(row) for row in _laid_over(_read_own(own), own.name)))


def write_own(own: Path, values: Mapping[str, object]) -> Species:
    """Write one plant into the garden's own table, over its earlier row there, and return the plant as it now reads.

    ``values`` maps columns to cells (tuples become ``a; b``); a known plant needs only the cells that differ. Nothing
    is written when anything is wrong (GardenError); the file is replaced whole, so a stop midway leaves the old one.
    """
    row = {column: _cell(value) for column, value in values.items()}
    bad = header_problems(row, file=own.name)
    if bad or not row.get("botanical"):
        raise GardenError(". ".join(bad) or f"{own.name}: the plant has no botanical name; give one")
    key = name_key(row["botanical"])
    with alone_with(own):
        before = _read_own(own) if own.exists() else []
        rows = [{**old, **row} if name_key(old["botanical"]) == key else old for old in before]
        if key not in {name_key(old["botanical"]) for old in before}:
            rows.append(row)
        plants = {name_key(r["botanical"]): r for r in _laid_over(rows, own.name)}
        _replace(own, _as_csv(rows))
    return species_from_row(plants[key])


@contextlib.contextmanager
def alone_with(own: Path) -> Iterator[None]:
    """Let one notebook at a time read, change and write the garden's own table, so that none loses another's rows.

    Raises GardenError while another holds it for long.
    """
    lock = FileLock(own.with_name(f".{own.name}.lock"), timeout=WAIT_FOR_TABLE)
    try:
        lock.acquire()
    except Timeout as error:
        raise GardenError(
            f"{own.name} is held by another notebook for over {WAIT_FOR_TABLE:.0f} s; close it there, then try again"
        ) from error
    try:
        yield
    finally:
        lock.release()


@cache
def shipped_rows() -> tuple[Mapping[str, str], ...]:
    """Return the cells of every shipped table, each row with its ``file``, in the order of the layers."""
    tables = (t for t in files("gardenkit.data").joinpath("plants").iterdir() if t.name.endswith(".csv"))
    rows: list[Cells] = []
    for table in sorted(tables, key=lambda t: t.name):
        rows.extend(_read(table.read_text(encoding="utf-8"), table.name))
    return tuple(rows)


@cache
def _shipped() -> Catalogue:
    return Catalogue(plants=tuple(species_from_row(row) for row in shipped_rows()))


def _read(text: str, name: str) -> list[Cells]:
    """Return the rows of one table; GardenError for an unknown column or a row with more cells than the first line."""
    reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    bad = list(header_problems(reader.fieldnames or (), file=name))
    if "botanical" not in (reader.fieldnames or ()):
        bad.append(f'{name}: there is no column "botanical"; give each plant its botanical name there')
    usual = csv.field_size_limit(len(text) + 1)  # a cell that is too long is said by its row and column below
    try:
        rows = list(reader)
    except csv.Error as fault:
        raise GardenError(f"{name} is no table that can be read ({fault}); save it as CSV in UTF-8") from fault
    finally:
        csv.field_size_limit(usual)
    for line, row in enumerate(rows, start=2):
        if None in row:
            bad.append(
                f"{name}, line {line}: the row has more cells than there are columns; put cells with commas in quotes"
            )
    if bad:
        raise GardenError(". ".join(bad))
    return [{**{column: (cell or "").strip() for column, cell in row.items()}, "file": name} for row in rows]


def _read_own(own: Path) -> list[Cells]:
    try:
        return _read(own.read_text(encoding="utf-8"), own.name)
    except (OSError, UnicodeDecodeError) as fault:
        raise GardenError(f"{own.name} cannot be read ({fault}); save it as CSV in UTF-8") from fault


def _laid_over(own_rows: Iterable[Cells], name: str) -> list[Mapping[str, str]]:
    """Return the shipped rows with the own ones over them, checked; GardenError with every problem of the own rows."""
    rows: dict[str, Mapping[str, str]] = {name_key(row["botanical"]): row for row in shipped_rows()}
    changed: list[Cells] = []
    for own in own_rows:
        key = name_key(own["botanical"])
        base = rows.get(key, {})
        filled = {column: "" if cell == CLEARED else cell for column, cell in own.items() if cell}
        if {"toxic_to", "toxicity"} & set(filled):  # the grades of each animal go with what they grade
            base = {**base, "toxicity_by": ""}
        changed.append({**base, **filled, "botanical": base.get("botanical", own["botanical"]), "file": name})
        rows[key] = changed[-1]
    bad = problems(changed, file=name)
    if bad:
        raise GardenError(". ".join(bad))
    return list(rows.values())


def _cell(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (tuple, list)):
        return "; ".join(_cell(one) for one in value)
    return "" if value is None else str(value).strip()


def _as_csv(rows: Iterable[Cells]) -> str:
    page = io.StringIO(newline="")
    writer = csv.DictWriter(page, list(BY_NAME), restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows({column: cell for column, cell in row.items() if column in BY_NAME} for row in rows)
    return page.getvalue()


def _replace(path: Path, text: str) -> None:
    beside = path.with_name(f"{path.name}.{os.getpid()}.tmp")
    try:
        with beside.open("w", encoding="utf-8", newline="") as page:
            page.write(text)
            page.flush()
            os.fsync(page.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
