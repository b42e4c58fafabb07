"""Crops on the plan: every row where it is to be drawn out, large plants one by one, each crop by its name."""

from collections.abc import Iterable, Mapping

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.scene import Disc, Dots, Mark, Stroke, Symbol
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.project.crops import CropRows

SINGLE = 0.2  # m: plants at least so far apart are drawn one by one. House value.
LEAVES = "#7d9a58"


def crop_marks(rows: Iterable[tuple[CropRows, Species]]) -> tuple[Mark, ...]:
    """Return each crop's rows: heads as rounds as wide as they close, what is sown as a line of green."""
    return tuple(
        Symbol(
            marks=_single(one, species) if min(one.apart, one.between) >= SINGLE else _lines(one, species),
            tip=f"{species.common} in {one.crop.bed}: {len(one.plants)} plants, {one.apart:.2f} m apart, "
            f"rows {one.between:.2f} m apart",
            layer="planting",
        )
        for one, species in rows
        if one.lines
    )


def crop_names(rows: Iterable[tuple[CropRows, Species]]) -> tuple[Wish, ...]:
    """Return the crops' names as labels that want a place on their rows."""
    wishes = []
    for one, species in rows:
        if one.plants:
            at = one.plants[len(one.plants) // 2]
            wishes.append(
                Wish(text=species.common.split(",")[0], at=at, size_mm=style.NOTE_LETTERS, rank=4, italic=True)
            )
    return tuple(wishes)


def creeping_marks(plants: Iterable[Plant], catalogue: Catalogue) -> tuple[Mark, ...]:
    """Return what creeps between stones as small rounds in its own green, each kind with its name to point at."""
    return tuple(
        Symbol(
            marks=(
                Dots(
                    points=tuple(plant.at for plant in group),
                    radius=0.4 * catalogue[name].spacing_m,
                    fill=catalogue[name].foliage_summer or LEAVES,
                    alpha=0.7,
                    layer="paths",
                ),
            ),
            tip=f"{catalogue[name].common} between the stones: {len(group)} plants",
            layer="paths",
        )
        for name, group in _by_kind(plants).items()
    )


def creeping_keys(plants: Iterable[Plant], keys: Mapping[str, str]) -> tuple[Wish, ...]:
    """Return the key of each kind between stones, and how many, as a label that is led to from aside if need be."""
    return tuple(
        Wish(
            text=f"{keys[name]} {len(group)}",
            at=group[len(group) // 2].at,
            size_mm=style.KEY_LETTERS,
            rank=4,
            bold=True,
        )
        for name, group in _by_kind(plants).items()
    )


# ---- helpers


def _by_kind(plants: Iterable[Plant]) -> dict[str, list[Plant]]:
    found: dict[str, list[Plant]] = {}
    for plant in plants:
        found.setdefault(plant.species, []).append(plant)
    return found


def _single(one: CropRows, species: Species) -> tuple[Disc, ...]:
    across = 0.46 * min(one.apart, one.between, species.spread)
    fill = species.foliage_summer or LEAVES
    return tuple(
        Disc(at=at, radius=across, fill=fill, stroke=style.INK, width_mm=style.FLECK, alpha=0.75, layer="planting")
        for at in one.plants
    )


def _lines(one: CropRows, species: Species) -> tuple[Stroke, ...]:
    fill = species.foliage_summer or LEAVES
    return tuple(
        stroke
        for line in one.lines
        for stroke in (
            Stroke(points=tuple(line), colour=fill, width_mm=0.9, alpha=0.65, layer="planting"),
            Stroke(points=tuple(line), colour=style.INK, width_mm=style.FLECK, dash=style.FINE_DASH, layer="planting"),
        )
    )
