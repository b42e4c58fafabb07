"""The kinds of things a garden is built of, one row a kind: supports, paved or lawn areas, path surfaces, fences."""

from gardenkit.structure.kinds.supports import (
    SUPPORTS,
    SupportKind,
    is_overhead,
    parts_list,
    standing_supports,
    support_kind,
    support_solids,
)

__all__ = [
    "SUPPORTS",
    "SupportKind",
    "is_overhead",
    "parts_list",
    "standing_supports",
    "support_kind",
    "support_solids",
]
