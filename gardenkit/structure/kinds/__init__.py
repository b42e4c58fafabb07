"""The kinds of things a garden is built of, one row a kind: supports, areas, path surfaces, fences, placed things."""

from collections.abc import Iterable, Iterator

from gardenkit.site.site import Fence
from gardenkit.structure.kinds.bonds import BONDS, Bond, bond_kind, bond_words, frame_in, laid_in
from gardenkit.structure.kinds.fences import FENCES, FenceKind, fence_kind
from gardenkit.structure.kinds.ground_areas import GROUND_AREAS, GroundKind, ground_kind
from gardenkit.structure.kinds.placed import ThingKind
from gardenkit.structure.kinds.purposes import PURPOSES, Purpose, purpose_of
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.supports import (
    SUPPORTS,
    SupportKind,
    frame_of,
    is_overhead,
    parts_list,
    standing_supports,
    support_kind,
    support_solids,
    under_frame,
    wires_of,
)
from gardenkit.structure.kinds.surfaces import SURFACES, SurfaceKind, surface_kind
from gardenkit.structure.kinds.things import THINGS, thing_kind
from gardenkit.structure.structure import Structure

__all__ = [
    "BONDS",
    "FENCES",
    "GROUND_AREAS",
    "PURPOSES",
    "SUPPORTS",
    "SURFACES",
    "THINGS",
    "Bond",
    "FenceKind",
    "GroundKind",
    "Purpose",
    "SupportKind",
    "SurfaceKind",
    "ThingKind",
    "bond_kind",
    "bond_words",
    "care_of_what_is_built",
    "cautions_of_what_is_built",
    "check_kinds",
    "fence_kind",
    "frame_in",
    "frame_of",
    "ground_kind",
    "is_overhead",
    "laid_in",
    "parts_list",
    "purpose_of",
    "standing_supports",
    "support_kind",
    "support_solids",
    "surface_kind",
    "thing_kind",
    "under_frame",
    "wires_of",
]


def check_kinds(structure: Structure) -> None:
    """Raise GardenError for the first path, area, support, thing or bed of a kind that no table knows."""
    for path in structure.paths:
        surface_kind(path.surface)
    for ground_area in structure.ground_areas:
        ground_kind(ground_area.kind)
    for support in structure.supports:
        support_kind(support.kind)
    for thing in structure.things:
        thing_kind(thing.kind)
        purpose_of(thing.purpose)
    for bed in structure.beds:
        purpose_of(bed.purpose)


def care_of_what_is_built(
    structure: Structure, fences: Iterable[Fence] = ()
) -> tuple[tuple[Care, tuple[str, ...]], ...]:
    """Return every task of the year that what is built asks for, each once, with the names of what it is about."""
    about: dict[Care, list[str]] = {}
    for name, row in _built(structure, fences):
        for care in row.care:
            about.setdefault(care, []).append(name)
    return tuple((care, tuple(names)) for care, names in about.items())


def cautions_of_what_is_built(structure: Structure) -> tuple[tuple[Warned, tuple[str, ...]], ...]:
    """Return every caution that comes with what is to be built, each once, with the names of what it is about."""
    about: dict[Warned, list[str]] = {}
    for name, row in _built(structure, ()):
        for said in row.cautions:
            about.setdefault(said, []).append(name)
    return tuple((said, tuple(names)) for said, names in about.items())


def _built(
    structure: Structure, fences: Iterable[Fence]
) -> Iterator[tuple[str, SurfaceKind | GroundKind | SupportKind | FenceKind | ThingKind]]:
    for path in structure.paths:
        yield path.name, surface_kind(path.surface)
    for ground_area in structure.ground_areas:
        yield ground_area.name, ground_kind(ground_area.kind)
    for support in structure.supports:
        yield support.name, support_kind(support.kind)
    for thing in structure.things:
        yield thing.name, thing_kind(thing.kind)
    for fence in fences:
        yield fence.name, fence_kind(fence)
