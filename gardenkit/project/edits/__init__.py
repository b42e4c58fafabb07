"""Every change that can be made to a garden: functions that take a project and return a new one, used by pages and
scripts alike.

One file a part of the project: ``brief``, ``site``, ``photos``, ``structure``, ``planting``, ``handover``, ``journal``;
``records`` holds what they share. An edit looks after what names the thing it changes: what is renamed is renamed
wherever it is named, what is removed is let go of, or refused in one sentence (GardenError) where something still
stands on it.
"""

from importlib import import_module
from importlib.util import find_spec
from typing import TYPE_CHECKING

from gardenkit.findings import GardenError, Remedy, Step, nearest

if TYPE_CHECKING:
    from gardenkit.project import Project

PARTS = ("brief", "site", "photos", "structure", "planting", "handover", "journal")


def apply(project: "Project", remedy: Remedy) -> "Project":
    """Return the project with a remedy's edits made, one after the other.

    Raises GardenError for an edit that does not exist, or that the project no longer takes.
    """
    for step in remedy.steps:
        project = _made(project, step)
    return project


def _made(project: "Project", step: Step) -> "Project":
    part, _, name = step.edit.partition(".")
    if part not in PARTS:
        raise GardenError(f'there is no part "{part}" of a garden to edit{nearest(part, PARTS)}')
    where = f"gardenkit.project.edits.{part}"
    module = import_module(where) if find_spec(where) else None
    change = getattr(module, name, None)
    if name.startswith("_") or not callable(change):
        raise GardenError(f'there is no edit "{step.edit}"{nearest(name, dir(module))}')
    made: Project = change(project, **dict(step.arguments))
    return made
