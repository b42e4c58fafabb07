"""What of the ground is not on record yet, in the order in which it is best given."""

from gardenkit.findings import Finding
from gardenkit.site.place import Place
from gardenkit.site.site import Site


def missing_findings(site: Site) -> tuple[Finding, ...]:
    """Return what is still missing for a sun map and for paths to begin and end at."""
    asked = (
        (site.place == Place(), "the place is not given; type latitude and longitude, as any map shows them"),
        (
            not site.boundary,
            "the boundary is not given; type its corners, measure them in the step The tape survey, or trace a scan",
        ),
        (not site.buildings, "there is no house on record; without it the sun map shows open ground"),
        (
            not site.trees and not site.fences,
            "no trees or fences are on record; add those that throw shade, the neighbours' too",
        ),
        (not site.doors_and_gates(), "there is no door or gate; paths begin and end at them"),
    )
    return tuple(
        Finding(where="ground", what=what, seriousness="caution", topic="site") for absent, what in asked if absent
    )
