"""One setting of a style held against the plan: whether it is kept, by how much, and what is answerable for it."""

from collections.abc import Mapping

import attrs

NEAR, NEAR_ENOUGH = 0.15, 0.25  # how far off a share, a leaning may be and still be kept. House values.
NAMED = 3  # things named as answerable. House value.


@attrs.frozen(kw_only=True)
class Kept:
    """One setting of the style against the plan: shares 0 to 1 ``wanted`` and ``found`` (None: not to be told yet),
    whether it ``is_kept``, the ``figure`` in words, and what is answerable by name: for the difference where it is not
    kept, else for its being kept.
    """

    setting: str
    wanted: float
    found: float | None = None
    is_kept: bool | None = None
    figure: str = ""
    answerable: tuple[str, ...] = ()


def leaning(
    setting: str, wanted: float, found: float, figure: str, each: Mapping[str, float], *, near: float = NEAR_ENOUGH
) -> Kept:
    """Return a leaning that may be off to either side; answerable is what is furthest off to the same side, or nearest
    to what is wanted where it is kept.
    """
    kept = abs(found - wanted) <= near
    side = 1.0 if found > wanted else -1.0
    worst = sorted((name for name in each if side * (each[name] - wanted) > 0), key=lambda n: -side * each[n])
    best = sorted(each, key=lambda name: abs(each[name] - wanted))
    return Kept(
        setting=setting,
        wanted=wanted,
        found=found,
        is_kept=kept,
        figure=figure,
        answerable=tuple((best if kept else worst)[:NAMED]),
    )


def at_least(
    setting: str,
    wanted: float,
    found: float,
    words: str,
    each: Mapping[str, float],
    bearing: Mapping[str, float],
    *,
    slack: float = 0.05,
) -> Kept:
    """Return a share that is to be reached; answerable is what has least of it, by ``each``, or where it is kept what
    has most, by ``bearing``.
    """
    kept = found >= wanted - slack
    return Kept(
        setting=setting,
        wanted=wanted,
        found=found,
        is_kept=kept,
        figure=f"{found:.0%} {words}",
        answerable=most(bearing) if kept else _least(each),
    )


def most(each: Mapping[str, float]) -> tuple[str, ...]:
    """Return the names of what has most of something, the most first."""
    return tuple(sorted((name for name in each if each[name] > 0), key=lambda name: -each[name])[:NAMED])


# ---- helpers


def _least(each: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(sorted(each, key=lambda name: each[name])[:NAMED])
