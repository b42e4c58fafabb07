"""Everything that leaves the workbook in one folder: client copy, sheets, schedules, calendar, and what each is for."""

from collections.abc import Callable
from pathlib import Path

import attrs

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import booklet, calendar, drawing_set, dxf, geojson, packs, setting_out, sheet, tables, template
from gardenkit.handover.contents import Contents, contents
from gardenkit.handover.paper import Issue
from gardenkit.progress import StoppedError, Tell, part, quiet
from gardenkit.project.handing_over import Edition
from gardenkit.storage.files import replace_safely

FOLDER, READ_ME = "documents", "READ_ME.txt"
Write = Callable[[Contents, Path, Issue, Tell], object]


def _edition(told: Contents, to: Path, issue: Issue, tell: Tell, edition: Edition) -> None:
    replace_safely(to, booklet.page(told, edition=edition, issue=issue, tell=tell).encode("utf-8"))


WORKED_OUT, COPIED = 0.2, 0.6  # share of the time until all is worked out, and the client copy drawn. House values.
DOCUMENTS: tuple[tuple[str, str, Write], ...] = (  # file, for whom and what, how it is written
    (
        "client_copy.html",
        "for the client: the design as a story; opens in any browser, with no network",
        lambda told, to, issue, tell: _edition(told, to, issue, tell, "client"),
    ),
    (
        "office_copy.html",
        "for the office alone: every figure, warning and source",
        lambda told, to, issue, tell: _edition(told, to, issue, tell, "office"),
    ),
    (
        "drawing_set.pdf",
        "for the contractor: cover, existing and removals, setting-out, hardscape, planting, to scale",
        lambda told, to, issue, _: drawing_set.write(told.garden, to, issue=issue),
    ),
    (
        "planting_plan.pdf",
        "for whoever plants: the plan to scale",
        lambda told, to, issue, _: sheet.write(told.garden, to, issue=issue),
    ),
    (
        "setting_out.pdf",
        "for whoever sets out: numbered places, offsets and ties for two tapes",
        lambda told, to, issue, _: setting_out.write(told.garden, to, issue=issue),
    ),
    (
        "setting_out.csv",
        "the same places as a table, x and y on the plan",
        lambda told, to, *_: setting_out.write_csv(told.garden, to),
    ),
    (
        "plan.dxf",
        "for an architect or surveyor: the plan at real size, a layer for each sort of thing",
        lambda told, to, *_: dxf.write(told.garden, to),
    ),
    (
        "plan.geojson",
        "for a map: the plan in WGS84, turned to north",
        lambda told, to, *_: geojson.write(told.garden, to),
    ),
    (
        "schedules.xlsx",
        "for nursery and supplier: plants, materials, orders, cost, water, care",
        lambda told, to, *_: tables.write_xlsx(told, to),
    ),
    ("schedules", "the same schedules, one CSV file each", lambda told, to, *_: tables.write_csv(told, to)),
    ("care.ics", "for the gardener: the year's work, for any calendar", lambda told, to, *_: calendar.write(told, to)),
)

TEMPLATES: tuple[str, str, Write] = (  # where a stone has an outline of its own
    "stone_templates.pdf",
    "for the mason: stones of their own outline at full size, over ordinary sheets with marks to join them",
    lambda told, to, issue, _: template.write(told.garden, to, issue=issue),
)


def write(garden: Garden, folder: Path, *, revision: str = "", tell: Tell = quiet) -> tuple[Path, ...]:
    """Write every document of a garden into a folder, with a read-me that says what each is for; returns the files.

    A document that this garden cannot give yet (a sheet without a boundary, a client edition while warnings are open)
    is named in the read-me, with why. All carry the garden's date of issue and its revision, or the ``revision`` given.
    ``tell`` hears how far it has come; what it raises to stop the work leaves the documents written so far, each whole.
    """
    issue = Issue.of(garden.project)
    issue = attrs.evolve(issue, revision=revision) if revision else issue
    told = contents(garden, tell=part(tell, 0.0, WORKED_OUT))
    folder.mkdir(parents=True, exist_ok=True)
    written, lines = [], [f"{garden.project.name}: documents", ""]
    cut = any(path.cut_stones for path in garden.project.structure.paths)
    for number, (name, words, document) in enumerate((*DOCUMENTS, TEMPLATES) if cut else DOCUMENTS):
        share = COPIED + (1 - COPIED) * (number - 1) / len(DOCUMENTS) if number else WORKED_OUT
        tell(share, f"writing {name} ...")
        try:
            document(told, folder / name, issue, part(tell, share, COPIED))
        except StoppedError:
            raise
        except GardenError as error:
            lines.append(f"{name}: not written, {error}")
            continue
        written.append(folder / name)
        lines.append(f"{name}: {words}")
    sent = packs.write(folder, garden.project.name)
    lines += ["", *(f"{path.name}: to send to the {path.name.partition('_')[0]}" for path in sent)]
    lines += ["", "Check all dimensions on site. Not listed as toxic or invasive never means safe.", ""]
    read_me = folder / READ_ME
    replace_safely(read_me, "\n".join(lines).encode("utf-8"))
    return (*written, *sent, read_me)
