"""Every change of the brief: names on the cover, pictures, style, wants, what the client refuses, the budget."""

from collections.abc import Iterable, Sequence
from typing import Any, get_args

import attrs

from gardenkit.brief.asking import asked_for
from gardenkit.brief.brief import Covers
from gardenkit.brief.style import Picture, Style, adjusted, style
from gardenkit.brief.wants import Want, Weight, check_for
from gardenkit.findings import GardenError, nearest
from gardenkit.project import Project
from gardenkit.project.wanted import fitted
from gardenkit.units import System


def set_cover(
    project: Project,
    *,
    name: str | None = None,
    client: str | None = None,
    designer: str | None = None,
    units: System | None = None,
) -> Project:
    """Change the garden's name, for whom it is, who designs it, or the units it is said in."""
    given = {"name": name, "client": client, "designer": designer, "units": units}
    changes: dict[str, Any] = {key: value for key, value in given.items() if value is not None}
    if "name" in changes and not changes["name"].strip():
        raise GardenError("the garden needs a name; type one")
    return attrs.evolve(project, **changes)


# ---- pictures and style


def add_picture(project: Project, picture: Picture) -> Project:
    """Pin a picture to the wall."""
    return _brief(project, pictures=(*project.brief.pictures, picture))


def change_picture(project: Project, file: str, **changes: Any) -> Project:
    """Change what is said of a picture. Raises GardenError for a picture that is not on the wall."""
    _picture(project, file)
    pictures = tuple(attrs.evolve(p, **changes) if p.file == file else p for p in project.brief.pictures)
    return _brief(project, pictures=pictures)


def remove_picture(project: Project, file: str) -> Project:
    """Take a picture off the wall; its file stays in the folder."""
    _picture(project, file)
    return _brief(project, pictures=tuple(p for p in project.brief.pictures if p.file != file))


def set_style(project: Project, chosen: Style) -> Project:
    """Take another style."""
    return _brief(project, style=chosen)


def begin_style(project: Project, name: str) -> Project:
    """Take the settings of a starting style by name; colours already chosen stay. Raises GardenError."""
    return set_style(project, attrs.evolve(style(name), colours=project.brief.style.colours))


def adjust_style(project: Project, setting: str, value: float) -> Project:
    """Change one leaning of the style, 0 to 1."""
    return set_style(project, adjusted(project.brief.style, setting, value))


def set_colours(project: Project, colours: Iterable[str]) -> Project:
    """Set the wanted colours of flowers and leaves, #rrggbb each."""
    return set_style(project, attrs.evolve(project.brief.style, colours=tuple(dict.fromkeys(colours))))


def set_materials(project: Project, materials: Sequence[str]) -> Project:
    """Set what paths and places are to be made of; the first that paths are made of is that of a new path."""
    return set_style(project, attrs.evolve(project.brief.style, materials=_listed(materials)))


def set_signature(project: Project, kinds: Sequence[str]) -> Project:
    """Set the kinds of plants that make the style known, by botanical name; palette and arranging give them a part."""
    return set_style(project, attrs.evolve(project.brief.style, signature=_listed(kinds)))


# ---- wants


def add_want(project: Project, want: Want) -> Project:
    """Put a want at the end of the list. Raises GardenError for one without words."""
    return _brief(project, wants=(*project.brief.wants, _worded(want)))


def ask_for(project: Project, *, text: str, **asked: Any) -> Project:
    """Put a want at the end of the list from its fields: text, weight, whom, and what it is checked by.

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
    return _brief(project, wants=(*project.brief.wants, *new))


def change_want(project: Project, index: int, want: Want) -> Project:
    """Put another want in the place of one (0 first)."""
    _want(project, index)
    wants = tuple(_worded(want) if i == index else w for i, w in enumerate(project.brief.wants))
    return _brief(project, wants=wants)


def move_want(project: Project, index: int, *, to: int) -> Project:
    """Move a want to another place in the list (0 first)."""
    moved = _want(project, index)
    rest = [w for i, w in enumerate(project.brief.wants) if i != index]
    at = min(max(to, 0), len(rest))
    return _brief(project, wants=(*rest[:at], moved, *rest[at:]))


def remove_want(project: Project, index: int) -> Project:
    """Take a want off the list (0 first)."""
    _want(project, index)
    return _brief(project, wants=tuple(w for i, w in enumerate(project.brief.wants) if i != index))


def set_refusals(project: Project, words: Sequence[str]) -> Project:
    """Say what no plant may be or do, such as "toxic to dogs", "thorns", "invasive" (see ``suitability.REFUSALS``)."""
    return _brief(project, refuses=_listed(words))


def set_budget(
    project: Project, budget: float | None, *, currency: str | None = None, covers: Covers | None = None
) -> Project:
    """Set or clear the budget, in the client's currency, and say what it covers. Raises GardenError."""
    if budget is not None and budget < 0:
        raise GardenError(f"the budget is {budget:g}; give an amount of 0 or more")
    known = get_args(Covers)
    if covers is not None and covers not in known:
        raise GardenError(f'a budget cannot cover "{covers}"{nearest(covers, known)}; give {" or ".join(known)}')
    brief = project.brief
    return _brief(
        project, budget=budget, currency=currency or brief.currency, budget_covers=covers or brief.budget_covers
    )


# ---- helpers


def _listed(words: Sequence[str]) -> tuple[str, ...]:
    said = (" ".join(word.split()) for word in words)
    return tuple(dict.fromkeys(word for word in said if word))


def _brief(project: Project, **changes: Any) -> Project:
    return attrs.evolve(project, brief=attrs.evolve(project.brief, **changes))


def _picture(project: Project, file: str) -> None:
    known = [p.file for p in project.brief.pictures]
    if file not in known:
        raise GardenError(f'there is no picture "{file}" on the wall{nearest(file, known)}')


def _want(project: Project, index: int) -> Want:
    if not 0 <= index < len(project.brief.wants):
        raise GardenError(f"there is no want number {index + 1}; the list has {len(project.brief.wants)}")
    return project.brief.wants[index]


def _asked(
    *,
    text: str,
    weight: Weight = "should",
    whom: str = "",
    fact: str = "",
    compare: str = "at least",
    amount: float | None = None,
    asks: str = "",
    **about: Any,
) -> Want:
    """Return a want from its fields; without a fact and without what it asks for it is judged by eye."""
    want = Want(text=text, weight=weight, whom=" ".join(whom.split()))
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
