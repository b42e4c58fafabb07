"""Edits of what stands on the documents: the office, the issue, and the warnings that are accepted with a reason."""

import datetime as dt
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.project.handing_over import Accepted, check_revision


def set_office(
    project: Project, *, company: str | None = None, contact: str | None = None, logo: str | None = None
) -> Project:
    """Change what the documents say of the office; ``logo`` names a file in the pictures folder."""
    given = {"company": company, "contact": contact, "logo": logo}
    return _handover(project, **{name: words.strip() for name, words in given.items() if words is not None})


def set_revision(project: Project, revision: str) -> Project:
    """Change the revision that every document carries. Raises GardenError for one that no title block holds."""
    return _handover(project, revision=check_revision(revision.strip()))


def set_issued(project: Project, on: dt.date | None) -> Project:
    """Change the date that every document carries; None for the day on which each is written."""
    return _handover(project, issued=on)


def accept(project: Project, *, where: str, what: str, reason: str, on: dt.date | None = None) -> Project:
    """Leave a warning as it is, with the reason that the documents give. Raises GardenError without a reason."""
    if not reason.strip():
        raise GardenError(f"say why the warning about {where} may stand; the client reads the reason")
    made = Accepted(where=where, what=what, reason=reason.strip(), on=on)
    return _handover(project, accepted=(*_others(project, where, what), made))


def reopen(project: Project, *, where: str, what: str) -> Project:
    """Take back that a warning was accepted. Raises GardenError when it was not."""
    kept = _others(project, where, what)
    if len(kept) == len(project.handover.accepted):
        raise GardenError(f"the warning about {where} was not accepted; choose one that was")
    return _handover(project, accepted=kept)


def _others(project: Project, where: str, what: str) -> tuple[Accepted, ...]:
    return tuple(one for one in project.handover.accepted if (one.where, one.what) != (where, what))


def _handover(project: Project, **changes: Any) -> Project:
    return attrs.evolve(project, handover=attrs.evolve(project.handover, **changes))
