"""Photos of the site with known places marked on them, so that the design can be drawn in."""

import attrs

from gardenkit.geometry.plane import Line, Point
from gardenkit.tuples import lists_as_tuples


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class PhotoMark:
    """A place seen on a photo: ``pixel`` right and down, ``at`` on the plan, ``height`` (m) above the plan's zero."""

    name: str
    pixel: Point
    at: Point
    height: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class InFront:
    """What stands in front on a photo, by its outline there (``ring``, pixels right and down).

    ``of`` names the tree to keep that it is, which hides what lies beyond that tree; empty: it hides everything.
    """

    ring: Line
    of: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class SitePhoto:
    """A photo in the garden's folder of site photos, ``wide`` x ``high`` pixels, whole: its middle is where it aimed.

    ``angle`` is how many degrees it is wide where the camera's maker says so; None: found with the place.
    """

    name: str
    file: str
    wide: int
    high: int
    angle: float | None = None
    marks: tuple[PhotoMark, ...] = ()
    in_front: tuple[InFront, ...] = ()
