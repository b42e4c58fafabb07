"""The sizes that a door, window, gate or tree has until it is measured, as they are written in feet and in metres."""

from gardenkit.units import System, length

Written = tuple[str, str]  # in feet and inches, in metres
USUAL: dict[str, dict[str, Written]] = {  # openings over the plan's zero. House values.
    "door": {"width": ("3'", "0.9"), "sill": ('6"', "0.15"), "head": ("7' 2\"", "2.2")},
    "window": {"width": ("4'", "1.2"), "sill": ("3'", "0.9"), "head": ("7'", "2.1")},
    "gate": {"width": ("3' 6\"", "1.1"), "sill": ("0", "0"), "head": ("4'", "1.2")},
    "tree": {"height": ("25'", "7.5"), "spread": ("20'", "6")},
}


def usual_sizes(kind: str, system: System) -> dict[str, float]:
    """Return the usual sizes of a kind in metres, by field, as they are written in a system of units.

    >>> usual_sizes("window", "metric")
    {'width': 1.2, 'sill': 0.9, 'head': 2.1}
    """
    number, bare = (0, "ft") if system == "imperial" else (1, "m")
    return {field: length(written[number], bare=bare) for field, written in USUAL[kind].items()}
