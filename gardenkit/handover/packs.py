"""Packs to send by mail: for contractor, nursery and gardener only their part of the documents, as a ZIP."""

import csv
import io
import zipfile
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from gardenkit.storage.files import replace_safely

READ_ME = "READ_ME.txt"
STAMP = (1980, 1, 1, 0, 0, 0)  # of every file in a pack: the same documents make the same pack
PACKS: Mapping[str, tuple[str, tuple[str, ...]]] = {  # who: what they do with it, and which documents are theirs
    "contractor": (
        "Build from the drawing set; set out by the sheet and its table; order by the orders.",
        (
            "drawing_set.pdf",
            "setting_out.pdf",
            "setting_out.csv",
            "plan.dxf",
            "stone_templates.pdf",
            "schedules/quantities.csv",
            "schedules/orders.csv",
            "schedules/areas.csv",
            "schedules/programme.csv",
        ),
    ),
    "nursery": (
        "Please quote for the plants listed, in the sizes listed. To order is what we buy: what is on the plan, less "
        "what is divided on the site, with spares. For a kind you cannot get, or instead names others: ask first.",
        ("schedules/plant_schedule.csv",),
    ),
    "gardener": (
        "The sheet has a page a month for a wall, the plan shows what stands where, the calendar goes into a phone.",
        (
            "gardeners_sheet.pdf",
            "planting_plan.pdf",
            "plants.csv",
            "care.ics",
            "schedules/care.csv",
            "schedules/next_year.csv",
            "schedules/water.csv",
            "schedules/plant_schedule.csv",
        ),
    ),
}
OURS = ("price each", "cost", "price from")  # columns that stay in the office: a nursery quotes its own. House value.
CARE = "Check all dimensions on site. Not listed as toxic or invasive never means safe."


def write(folder: Path, garden: str, documents: Collection[Path], *, about: Sequence[str] = ()) -> tuple[Path, ...]:
    """Write the packs of a garden from the documents (or folders of them) that were written into ``folder`` now.

    ``about`` are lines for every read-me: whose they are, of which day, where and when. A pack without any document of
    its own is left out, and one from before taken away. Returns the packs.
    """
    found = []
    for who, (words, names) in PACKS.items():
        now = [folder / name for name in names if {folder / name, (folder / name).parent} & set(documents)]
        there = [str(path.relative_to(folder).as_posix()) for path in now if path.is_file()]
        target = folder / f"{who}_pack.zip"
        if not there:
            target.unlink(missing_ok=True)
            continue
        replace_safely(
            target,
            _zipped(
                folder,
                there,
                [f"{garden}: for the {who}", "", words, "", *(Path(name).name for name in there), "", *about, CARE, ""],
            ),
        )
        found.append(target)
    return tuple(found)


def _zipped(folder: Path, names: list[str], told: list[str]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as pack:
        pack.writestr(zipfile.ZipInfo(READ_ME, STAMP), "\n".join(told).encode("utf-8"), zipfile.ZIP_DEFLATED)
        for name in names:
            content = (folder / name).read_bytes()
            kept = _without_prices(content) if name.endswith(".csv") else content
            pack.writestr(zipfile.ZipInfo(Path(name).name, STAMP), kept, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _without_prices(table: bytes) -> bytes:
    """Return a table of the office without the columns of its prices."""
    rows = list(csv.reader(io.StringIO(table.decode("utf-8-sig"), newline="")))
    kept = [k for k, head in enumerate(rows[0]) if head not in OURS] if rows else []
    if not rows or len(kept) == len(rows[0]):
        return table
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([row[k] for k in kept] for row in rows)
    return out.getvalue().encode("utf-8-sig")
