"""Fences, walls and hedges that stand there, one row a kind: how each is drawn on plan and in a view."""

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.site.site import Fence
from gardenkit.sources import COMMON
from gardenkit.structure.kinds.rows import Care, Warned, look_up


@attrs.frozen(kw_only=True)
class FenceKind:
    """One kind of fence: ``plan`` and ``view`` name its symbols, ``half`` its drawn thickness in metres (0: a line with
    posts), ``usual`` its height in metres, ``openness`` the share of light a new one lets through. ``called`` are the
    words in a name that mean it.
    """

    name: str
    words: str
    plan: str
    view: str
    half: float
    usual: float
    openness: float
    called: tuple[str, ...]
    retains: bool = False
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]


BOUNDARY = Warned(what="ask whose it is before cutting, fixing to it or building against it", source=COMMON)
LEANS = Warned(
    what="a leaning or cracked wall is for a builder or engineer to look at; keep away from it", source=COMMON
)

_ROWS = (
    FenceKind(
        name="fence",
        words="boards or pickets on posts",
        plan="posts",
        view="boards",
        half=0.0,
        usual=1.8,
        openness=0.0,
        called=("fence", "railing", "screen"),
        cautions=(BOUNDARY,),
        care=(Care(months=(9,), task="check posts and boards of the fence", how="oil or paint in dry weather"),),
    ),
    FenceKind(
        name="wall",
        words="stone, brick or block",
        plan="solid band",
        view="masonry",
        half=0.11,
        usual=1.8,
        openness=0.0,
        called=("wall",),
        cautions=(BOUNDARY, LEANS),
        care=(Care(months=(4,), task="look over the wall's joints and coping", how="after frost"),),
    ),
    FenceKind(
        name="retaining wall",
        words="a wall that holds the ground behind it",
        plan="held band",
        view="masonry",
        half=0.2,
        usual=0.6,
        openness=0.0,
        called=("retaining",),
        retains=True,
        cautions=(BOUNDARY, LEANS),
        care=(Care(months=(4,), task="look whether the retaining wall leans and its drains run", how="after frost"),),
    ),
    FenceKind(
        name="hedge",
        words="a clipped or loose row of shrubs",
        plan="leafy band",
        view="leaves",
        half=0.35,
        usual=1.8,
        openness=0.1,
        called=("hedge",),
        cautions=(
            Warned(what="look for nesting birds before cutting; some places forbid cutting in spring", source=COMMON),
        ),
        care=(Care(months=(7, 8), task="clip the hedge", how="when the young birds have flown"),),
    ),
)
FENCES: dict[str, FenceKind] = {row.name: row for row in _ROWS}


def fence_kind(fence: Fence) -> FenceKind:
    """Return which kind a fence is: as recorded, else by the first word of a kind in its name, else a fence."""
    if fence.kind:
        return look_up(FENCES, fence.kind, "fence, wall or hedge")
    words = fence.name.casefold()
    found = [row for row in FENCES.values() if any(word in words for word in row.called)]
    return found[-1] if found else FENCES["fence"]


def ground_of_fence(fence: Fence) -> Region:
    """Return the ground that a wall or a hedge stands on, as thick as its kind; nothing of a line with posts."""
    half = fence_kind(fence).half
    return plane.grown(plane.line(fence.line), half, round_ends=False) if half else plane.NOWHERE
