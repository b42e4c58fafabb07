"""What stands on every document that leaves the office: the company, the issue, and which advice was accepted."""

import datetime as dt
from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.tuples import lists_as_tuples

Edition = Literal["client", "office"]
LONGEST_REVISION = 8  # letters. House value.


@attrs.frozen(kw_only=True)
class Accepted:
    """A warning that designer and client leave as it is: where and what it said, and why it may stand.

    It holds while the advice says just that. When a figure in it changes, it is open again.
    """

    where: str
    what: str
    reason: str
    on: dt.date | None = None


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Handover:
    """The office as its documents name it, and their issue.

    ``logo`` is a file in the garden's pictures folder. ``revision`` is up to eight letters or figures. ``issued`` is
    the date on every document, the day of writing when it is None.
    """

    company: str = ""
    contact: str = ""
    logo: str = ""
    revision: str = "A"
    issued: dt.date | None = None
    accepted: tuple[Accepted, ...] = ()


def check_revision(revision: str) -> str:
    """Return a revision as it is; raises GardenError for one that does not go into a title block."""
    if not (0 < len(revision) <= LONGEST_REVISION and revision.isalnum()):
        raise GardenError(f'the revision is "{revision[:20]}"; write up to eight letters or figures, as A or P02')
    return revision
