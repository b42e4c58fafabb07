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

__all__ = [
    "FENCES",
    "PATCHES",
    "SUPPORTS",
    "SURFACES",
    "FenceKind",
    "PatchKind",
    "SupportKind",
    "SurfaceKind",
    "fence_kind",
    "is_overhead",
    "parts_list",
    "patch_kind",
    "standing_supports",
    "support_kind",
    "support_solids",
    "surface_kind",
]
