"""Every change of the wants list: asked, asked otherwise, put in order, taken from another garden, let go."""

from collections.abc import Iterable
from typing import Any

import attrs

from gardenkit.brief.asking import asked_for
from gardenkit.brief.wants import Want, Weight, check_for
from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.project.edits.brief.shared import with_brief
from gardenkit.project.wanted import fitted


def add_want(project: Project, want: Want) -> Project:
    """Put a want at the end of the list. Raises GardenError for one without words."""
    return with_brief(project, wants=(*project.brief.wants, _worded(want)))


def ask_for(project: Project, *, text: str, **asked: Any) -> Project:
    """Put a want at the end of the list from its fields: text, weight, whom, area, and what checks it.

    That is a ``fact`` of the whole garden with ``compare`` and ``amount``, or a kind of want that it ``asks`` for, with
    the fields of ``Asked`` that it takes: thing, other, amount, months, since, until, year, words.
    """
    return add_want(project, _asked(text=text, **asked))


def ask_instead(project: Project, index: int, *, text: str, **asked: Any) -> Project:
    """Put a want from its fields in the place of one (0 first)."""
    return change_want(project, index, _asked(text=text, **asked))


def take_wants(project: Project, wants: Iterable[Want]) -> Project:
    """Put the wants of another garden at the end of the list, but for those that are asked in the same words already.

    What they are about is left open where nothing here is called so.
    """
    known = {want.text for want in project.brief.wants}
    new = (fitted(project, want) for want in wants if want.text not in known)
    return with_brief(project, wants=(*project.brief.wants, *new))


def change_want(project: Project, index: int, want: Want) -> Project:
    """Put another want in the place of one (0 first)."""
    _want(project, index)
    wants = tuple(_worded(want) if i == index else w for i, w in enumerate(project.brief.wants))
    return with_brief(project, wants=wants)


def weigh_want(project: Project, index: int, *, weight: Weight) -> Project:
    """Say how much a want (0 first) matters."""
    return change_want(project, index, attrs.evolve(_want(project, index), weight=weight))


def ask_for_less(project: Project, index: int, *, amount: float | None = None, size: float | None = None) -> Project:
    """Let a want (0 first) ask for another amount of the same, or another size of ground; what is left out stays.

    Raises GardenError for one that asks for none.
    """
    want = _want(project, index)
    if want.asks is None:
        raise GardenError(f'"{want.text}" asks for no amount; change the want itself')
    given = {key: value for key, value in (("amount", amount), ("size", size)) if value is not None}
    fields = attrs.asdict(want.asks, recurse=False) | given
    return change_want(project, index, attrs.evolve(want, asks=asked_for(fields.pop("kind"), **fields)))


def move_want(project: Project, index: int, *, to: int) -> Project:
    """Move a want to another place in the list (0 first)."""
    moved = _want(project, index)
    rest = [w for i, w in enumerate(project.brief.wants) if i != index]
    at = min(max(to, 0), len(rest))
    return with_brief(project, wants=(*rest[:at], moved, *rest[at:]))


def remove_want(project: Project, index: int) -> Project:
    """Take a want off the list (0 first)."""
    _want(project, index)
    return with_brief(project, wants=tuple(w for i, w in enumerate(project.brief.wants) if i != index))


# ---- helpers


def _want(project: Project, index: int) -> Want:
    if not 0 <= index < len(project.brief.wants):
        raise GardenError(f"there is no want number {index + 1}; the list has {len(project.brief.wants)}")
    return project.brief.wants[index]


def _asked(
    *,
    text: str,
    weight: Weight = "should",
    whom: str = "",
    area: str = "",
    fact: str = "",
    compare: str = "at least",
    amount: float | None = None,
    asks: str = "",
    **about: Any,
) -> Want:
    """Return a want from its fields; without a fact and without what it asks for it is judged by eye."""
    want = Want(text=text, weight=weight, whom=" ".join(whom.split()), area=area)
    if fact and asks:
        raise GardenError("a want is checked by a figure or asks for one thing, not both; leave one of them out")
    if asks:
        return attrs.evolve(want, asks=asked_for(asks, amount=amount, **about))
    if about:
        raise GardenError(f"{', '.join(about)} belong to a kind of want; say what it asks for")
    return attrs.evolve(want, check=check_for(fact, compare, amount or 0.0) if fact else None)


def _worded(want: Want) -> Want:
    if not want.text.strip():
        raise GardenError("the want is empty; type what the client wants in their words")
    return attrs.evolve(want, text=want.text.strip())
