"""Every change of pictures and style: the wall, the palette, each setting of the style."""

from collections.abc import Iterable, Sequence
from typing import Any

import attrs

from gardenkit.brief.colour_names import read_colour
from gardenkit.brief.style import Picture, Style, adjusted
from gardenkit.brief.styles import mixed, style
from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue_columns import FORMS
from gardenkit.project import Project
from gardenkit.project.edits.brief.shared import listed, with_brief


def add_picture(project: Project, picture: Picture) -> Project:
    """Pin a picture to the wall."""
    return with_brief(project, pictures=(*project.brief.pictures, picture))


def change_picture(project: Project, file: str, **changes: Any) -> Project:
    """Change what is said of a picture. Raises GardenError for a picture that is not on the wall."""
    _picture(project, file)
    pictures = tuple(attrs.evolve(p, **changes) if p.file == file else p for p in project.brief.pictures)
    return with_brief(project, pictures=pictures)


def remove_picture(project: Project, file: str) -> Project:
    """Remove a reference picture; its file stays in the folder."""
    _picture(project, file)
    return with_brief(project, pictures=tuple(p for p in project.brief.pictures if p.file != file))


def set_style(project: Project, chosen: Style) -> Project:
    """Take another style."""
    return with_brief(project, style=chosen)


def begin_style(project: Project, name: str) -> Project:
    """Take the settings of a starting style by name; colours already chosen stay. Raises GardenError."""
    return set_style(project, attrs.evolve(style(name), colours=project.brief.style.colours))


def mix_styles(project: Project, shares: Sequence[tuple[str, float]]) -> Project:
    """Take the settings of several starting styles by their shares; colours already chosen stay. Raises GardenError."""
    return set_style(project, attrs.evolve(mixed(dict(shares)), colours=project.brief.style.colours))


def adjust_style(project: Project, setting: str, value: float) -> Project:
    """Change one leaning of the style, 0 to 1."""
    return set_style(project, adjusted(project.brief.style, setting, value))


def set_colours(project: Project, colours: Iterable[str]) -> Project:
    """Set the wanted colours of flowers and leaves, #rrggbb each."""
    return set_style(project, attrs.evolve(project.brief.style, colours=tuple(dict.fromkeys(colours))))


def set_materials(project: Project, materials: Sequence[str]) -> Project:
    """Set what paths and places are to be made of; the first that paths are made of is that of a new path."""
    return set_style(project, attrs.evolve(project.brief.style, materials=listed(materials)))


def add_colour(project: Project, typed: str) -> Project:
    """Keep a colour by its code (#rrggbb) or its name, after those that are kept. Raises GardenError."""
    return set_colours(project, (*project.brief.style.colours, read_colour(typed)))


def drop_colour(project: Project, colour: str) -> Project:
    """Let a kept colour go. Raises GardenError for one that is not kept."""
    kept = project.brief.style.colours
    if colour not in kept:
        raise GardenError(f'"{colour}" is none of the colours of this garden; there are: {", ".join(kept) or "none"}')
    return set_colours(project, (one for one in kept if one != colour))


def set_materials_most(project: Project, most: int) -> Project:
    """Say of how many materials paths and places are to be built at most; 0 for any number."""
    return set_style(project, attrs.evolve(project.brief.style, materials_most=most))


def set_forms(project: Project, forms: Sequence[str]) -> Project:
    """Favour growth forms in the choice of plants. Raises GardenError for one that no plant has."""
    unknown = next((form for form in forms if form not in FORMS), None)
    if unknown is not None:
        raise GardenError(f'no plant has the form "{unknown}"{nearest(unknown, FORMS)}; choose of: {", ".join(FORMS)}')
    return set_style(project, attrs.evolve(project.brief.style, forms=listed(forms)))


def set_signature(project: Project, kinds: Sequence[str]) -> Project:
    """Set the kinds of plants that make the style known, by botanical name; palette and arranging give them a part."""
    return set_style(project, attrs.evolve(project.brief.style, signature=listed(kinds)))


# ---- helpers


def _picture(project: Project, file: str) -> None:
    known = [p.file for p in project.brief.pictures]
    if file not in known:
        raise GardenError(f'there is no picture "{file}" on the wall{nearest(file, known)}')
