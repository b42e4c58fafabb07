"""Everything that leaves the workbook in one folder: client copy, sheets, schedules, calendar, and what each is for."""

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import attrs

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import (
    booklet,
    calendar,
    drawing_set,
    dxf,
    gardeners_sheet,
    geojson,
    options,
    packs,
    plan_files,
    setting_out,
    sheet,
    tables,
    template,
)
from gardenkit.handover.contents import Contents, contents
from gardenkit.handover.paper import Issue, saved, written
from gardenkit.progress import StoppedError, Tell, part, quiet
from gardenkit.project.handing_over import Edition
from gardenkit.schedules.care import MONTHS
from gardenkit.schedules.work_steps import PLANTING
from gardenkit.storage.files import replace_safely

FOLDER, READ_ME = "documents", "READ_ME.txt"
Write = Callable[[Contents, Path, Issue, Tell], object]  # a text that it returns says what is in it
Document = tuple[str, str, Write]  # file, for whom and what, how it is written


def _edition(told: Contents, to: Path, issue: Issue, tell: Tell, edition: Edition) -> None:
    replace_safely(to, booklet.page(told, edition=edition, issue=issue, tell=tell).encode("utf-8"))


def _drawings(told: Contents, to: Path, issue: Issue) -> str:
    sheets = drawing_set.leaves(told.garden)
    saved(written(told.project, sheets, issue, title=drawing_set.TITLE), to)
    return "; ".join(f"{sheet.number} {sheet.title}" for sheet in sheets)


def _tables(told: Contents, to: Path) -> str:
    return ", ".join(path.name for path in tables.write_csv(told, to))


WORKED_OUT, COPIED = 0.2, 0.6  # share of the time until all is worked out, and the client copy drawn. House values.
OTHERS = 0.6  # share of the time that documents of others take, as notebooks that are run. House value.
DOCUMENTS: tuple[Document, ...] = (
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
        "for the contractor: every sheet to scale, bound",
        lambda told, to, issue, _: _drawings(told, to, issue),
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
        "plants.csv",
        "where each plant stands, x and y on the plan",
        lambda told, to, *_: plan_files.write_plants(told.garden, to),
    ),
    (
        "plan.svg",
        "for print and web: the planting plan to scale",
        lambda told, to, *_: plan_files.write_svg(told.garden, to),
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
    ("schedules", "the same schedules, one CSV file each", lambda told, to, *_: _tables(told, to)),
    (
        "gardeners_sheet.pdf",
        "for the gardener: the care of each month on a page, to print",
        lambda told, to, issue, _: gardeners_sheet.write(told.garden, to, issue=issue),
    ),
    ("care.ics", "for the gardener: the year's work, for any calendar", lambda told, to, *_: calendar.write(told, to)),
)
NO_NOTEBOOKS = (
    "The notebooks as pages to read are not among them, as they take minutes; for them: gardenkit bundle FOLDER "
    "--notebooks, or the button on the page of the client copy.\n"
)

TEMPLATES: Document = (  # where a stone has an outline of its own
    "stone_templates.pdf",
    "for the mason: stones of their own outline at full size, over ordinary sheets with marks to join them",
    lambda told, to, issue, _: template.write(told.garden, to, issue=issue),
)
OPTIONS: Document = (  # where other structures are kept beside the one that stands
    options.FILE,
    "for the client: the structures that are kept, side by side in plan, view, cost, water, care and wants",
    lambda told, to, _, tell: options.write(told.garden.whole, to, tell=tell),
)


def documents_of(garden: Garden) -> tuple[Document, ...]:
    """Return the documents of a garden: templates only where a stone has an outline of its own, options only where
    another structure is kept.
    """
    project = garden.project
    cut = any(path.cut_stones for path in project.structure.paths)
    return (*DOCUMENTS, *([TEMPLATES] if cut else []), *([OPTIONS] if project.alternatives else []))


def write(
    garden: Garden, folder: Path, *, revision: str = "", also: Sequence[Document] = (), tell: Tell = quiet
) -> tuple[Path, ...]:
    """Write every document of a garden into a folder, with a read-me that says what each is for; returns the files.

    A document that this garden cannot give yet (a sheet without a boundary, a client edition while warnings are open)
    is named in the read-me, with why; one from before stays, and goes into no pack. All carry the garden's date of
    issue and its revision, or the ``revision`` given. ``also`` are documents that others make, last. ``tell`` hears how
    far it has come; what it raises to stop the work leaves the documents written so far, each whole.
    """
    issue = Issue.of(garden.project)
    issue = attrs.evolve(issue, revision=revision) if revision else issue
    own = 1 - OTHERS if also else 1.0
    told = contents(garden, tell=part(tell, 0.0, own * WORKED_OUT))
    folder.mkdir(parents=True, exist_ok=True)
    made, lines = [], [f"{garden.project.name}: documents of {issue.date.isoformat()}, revision {issue.revision}", ""]
    for (name, words, document), start, end in _shares(documents_of(garden), also, own):
        tell(start, f"writing {name} ...")
        target = folder / name
        try:
            inside = document(told, target, issue, part(tell, start, end))
        except StoppedError:
            raise
        except GardenError as error:
            before = "; the one that is here is from before" if target.exists() else ""
            lines.append(f"{name}: not written, {error}{before}")
            continue
        made.append(target)
        lines.append(f"{name}: {words}" + (f": {inside}" if isinstance(inside, str) and inside else ""))
    sent = packs.write(folder, garden.project.name, made, about=_about(garden, issue))
    lines += ["", *(f"{path.name}: to send to the {path.name.partition('_')[0]}" for path in sent)]
    lines += ["", *([] if also else [NO_NOTEBOOKS]), packs.CARE, ""]
    read_me = folder / READ_ME
    replace_safely(read_me, "\n".join(lines).encode("utf-8"))
    return (*made, *sent, read_me)


def _about(garden: Garden, issue: Issue) -> tuple[str, ...]:
    """Return for whom gets a pack whose it is, of which issue, where the garden lies and when planting begins."""
    said, place = garden.project.handover, garden.project.site.place
    planting = next((one for one in garden.programme if one.step == PLANTING), None)
    lines = (
        ("from", ", ".join(part for part in (said.company or garden.project.designer, said.contact) if part)),
        ("issue", f"{issue.date.isoformat()}, revision {issue.revision}"),
        ("place", place.name),
        ("planting begins", f"{MONTHS[planting.month - 1]} {planting.year}" if planting is not None else ""),
    )
    return tuple(f"{head}: {words}" for head, words in lines if words)


def _shares(
    documents: Sequence[Document], also: Sequence[Document], own: float
) -> Iterable[tuple[Document, float, float]]:
    """Yield each document with the share of the time at which it begins and ends; the first takes the most."""
    starts = [WORKED_OUT, *(COPIED + (1 - COPIED) * k / (len(documents) - 1) for k in range(len(documents)))]
    for number, document in enumerate(documents):
        yield document, own * starts[number], own * starts[number + 1]
    for number, document in enumerate(also):
        yield document, own + (1 - own) * number / len(also), own + (1 - own) * (number + 1) / len(also)
