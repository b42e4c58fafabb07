"""Which warnings of a garden are still open, and which designer and client accepted with a reason."""

from typing import TYPE_CHECKING

from gardenkit.findings import Finding
from gardenkit.project.handing_over import Accepted

if TYPE_CHECKING:
    from gardenkit.garden import Garden

GRAVE = ("stop", "warning")  # what a client document does not leave the office with, unless it is accepted


def open_warnings(garden: "Garden") -> tuple[Finding, ...]:
    """Return the advice that holds the client edition back: what stops the work, and warnings not accepted."""
    grave = (line for line in garden.said if line.seriousness in GRAVE)
    return tuple(line for line in grave if line.seriousness == "stop" or _accepted(garden, line) is None)


def accepted_warnings(garden: "Garden") -> tuple[tuple[Finding, Accepted], ...]:
    """Return each warning that still stands and was accepted, with the reason."""
    warnings = [line for line in garden.said if line.seriousness == "warning"]
    return tuple((line, said) for line in warnings if (said := _accepted(garden, line)) is not None)


def _accepted(garden: "Garden", line: Finding) -> Accepted | None:
    known = garden.project.handover.accepted
    return next((one for one in known if (one.where, one.what) == (line.where, line.what)), None)
