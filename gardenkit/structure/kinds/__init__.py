"""The kinds of things a garden is built of, one row a kind: supports, paved or lawn areas, path surfaces, fences."""

from gardenkit.structure.kinds.fences import FENCES, FenceKind, fence_kind
from gardenkit.structure.kinds.patches import PATCHES, PatchKind, patch_kind
from gardenkit.structure.kinds.supports import (
    SUPPORTS,
    SupportKind,
    is_overhead,
    parts_list,
    standing_supports,
    support_kind,
    support_solids,
)
from gardenkit.structure.kinds.surfaces import SURFACES, SurfaceKind, surface_kind
from gardenkit.structure.structure import Structure

__all__ = [
    "FENCES",
    "PATCHES",
    "SUPPORTS",
    "SURFACES",
    "FenceKind",
    "PatchKind",
    "SupportKind",
    "SurfaceKind",
    "check_kinds",
    "fence_kind",
    "is_overhead",
    "parts_list",
    "patch_kind",
    "standing_supports",
    "support_kind",
    "support_solids",
    "surface_kind",
]


def check_kinds(structure: Structure) -> None:
    """Raise GardenError for the first path, area or support of a kind that no table knows."""
    for path in structure.paths:
        surface_kind(path.surface)
    for patch in structure.patches:
        patch_kind(patch.kind)
    for support in structure.supports:
        support_kind(support.kind)
