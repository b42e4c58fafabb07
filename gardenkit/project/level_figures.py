"""What making the levels comes to, as rows of words and figures: for the page, the client copy and the sheet."""

from gardenkit.project.earthworks import Earthworks
from gardenkit.structure.earthwork import BULKING, SHRINKAGE
from gardenkit.units import System, show_area, show_length, show_volume


def level_rows(earth: Earthworks | None, units: System) -> list[tuple[str, str]]:
    """Return what is dug, filled and held up, each with its figure; one row that says why where nothing is known."""
    if earth is None:
        return [("new levels", "none yet, or the ground has no measured heights")]
    soil = earth.soil

    def deep(metres: float) -> str:
        return show_length(metres, units, small=True)

    rows = [
        ("dug (cut)", f"{show_volume(soil.cut, units)} as it lies, {deep(soil.deepest)} at the deepest"),
        (
            "placed (fill)",
            f"{show_volume(soil.fill, units)} firmed, to the surface as finished, {deep(soil.highest)} at most",
        ),
        ("the same by cross-sections", " and ".join(show_volume(one, units) for one in soil.by_sections)),
        ("ground that is changed", show_area(soil.cut_area + soil.fill_area, units)),
    ]
    if soil.away > 0.005:
        rows.append((f"to be taken away, loose ({BULKING:g} for 1)", show_volume(soil.away, units)))
    if soil.bought > 0.005:
        factors = f"{BULKING:g} for 1 loose, {SHRINKAGE:g} firmed"
        rows.append((f"to be brought in, loose ({factors})", show_volume(soil.bought, units)))
    for name in dict.fromkeys(wall.name for wall in earth.walls):
        mine = [wall for wall in earth.walls if wall.name == name]
        long, high = sum(wall.length for wall in mine), max(wall.highest for wall in mine)
        face = show_area(sum(wall.face for wall in mine), units)
        rows.append(
            (f"retaining wall of {name}", f"{show_length(long, units)} long, up to {deep(high)} high, {face} of face")
        )
    return rows
