"""What the measurements of a site come to: the tape survey worked out, and what it and the levels are told."""

from functools import lru_cache
from typing import TYPE_CHECKING

import attrs

from gardenkit.findings import Finding, GardenError
from gardenkit.site.adjustment import Adjusted, advise, solve
from gardenkit.site.grading import fall_away
from gardenkit.site.survey import Survey

if TYPE_CHECKING:
    from gardenkit.garden import Garden


@attrs.frozen(kw_only=True)
class Measured:
    """A survey worked out, or None with the sentence that says why it cannot be; both empty without measures."""

    adjusted: Adjusted | None = None
    trouble: str = ""


@lru_cache(maxsize=8)
def measured(survey: Survey, y_bearing: float) -> Measured:
    """Return the survey worked out on a plan whose y axis points ``y_bearing`` degrees from north."""
    if not survey.measures:
        return Measured()
    try:
        return Measured(adjusted=solve(survey, y_bearing=y_bearing))
    except GardenError as error:
        return Measured(trouble=str(error))


def measured_findings(garden: "Garden") -> tuple[Finding, ...]:
    """Return what the survey is told (which tie is wrong, which is missing) and where water may run to a wall."""
    site, units, found = garden.project.site, garden.units, garden.survey
    told: tuple[Finding, ...] = ()
    if found.trouble:
        told = (Finding(where="survey", what=found.trouble, seriousness="warning", topic="survey"),)
    if found.adjusted is not None:
        told = advise(found.adjusted, system=units)
    if garden.ground_to_be is not None and site.boundary:
        told += fall_away(garden.ground_to_be, site.buildings, boundary=site.boundary, system=units)
    return told
