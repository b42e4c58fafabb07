"""Areas of the property: a garden is designed a patch at a time over years, each with its ground, state and turn."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Outline
from gardenkit.tuples import lists_as_tuples

if TYPE_CHECKING:
    from gardenkit.project import Project
    from gardenkit.structure.structure import Structure

AreaState = Literal["as found", "in design", "built"]


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class PropertyArea:
    """An area of the property: the ground inside its ``outline`` together with the beds, paths and paved or lawn areas
    that it ``holds`` by their names. ``built`` is the calendar year in which it was or is to be built, None while that
    is open. Its turn in the order of work is its place in the list of the project.
    """

    name: str
    outline: Outline = ()
    holds: tuple[str, ...] = ()
    state: AreaState = "in design"
    built: int | None = None

    @property
    def stands(self) -> str:
        """Its state in words, such as "built in 2027"."""
        if self.built is None:
            return self.state
        return f"built in {self.built}" if self.state == "built" else f"{self.state}, to be built in {self.built}"


def holdable(structure: "Structure") -> tuple[str, ...]:
    """Return the names that an area of the property can be made up of: beds, paths, paved or lawn areas, each once."""
    groups = (structure.beds, structure.paths, structure.ground_areas)
    return tuple(dict.fromkeys(item.name for group in groups for item in group))


def check_areas(project: "Project") -> None:
    """Raise GardenError for an area of a name that is taken, one that holds what is nowhere, or a want of no area."""
    names = [area.name for area in project.areas]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise GardenError(f'two areas of the property are called "{twice}"; give one of them another name')
    structures = (project.structure, *(kept.structure for kept in project.alternatives))
    known = [name for bones in structures for name in holdable(bones)]
    for area in project.areas:
        for name in area.holds:
            if name not in known:
                raise GardenError(
                    f'the area "{area.name}" is made up of "{name}", which is no bed, path or paved or lawn area of '
                    f"this garden{nearest(name, known)}; take it off that area first"
                )
        if area.state == "built" and area.built is None:
            raise GardenError(f'the area "{area.name}" is built; give the year in which it was')
        if area.state == "as found" and area.built is not None:
            raise GardenError(f'the area "{area.name}" is as found; leave its year out, or say that it is in design')
    for want in project.brief.wants:
        if want.area and want.area not in names:
            raise GardenError(
                f'the want "{want.text[:60]}" is for the area "{want.area}", which is no area of this property'
                f"{nearest(want.area, names)}; choose another, or the whole property"
            )


def made_of(project: "Project", name: str) -> tuple[str, ...]:
    """Return the areas that hold the bed, path or paved area of that name."""
    return tuple(area.name for area in project.areas if name in area.holds)


def holds_renamed(project: "Project", old: str, new: str) -> "Project":
    """Return the project with ``new`` in every area that held ``old``, unless something is called ``old`` still."""
    here = holdable(project.structure)
    if not made_of(project, old) or old in here or new not in here:
        return project
    swap: Mapping[str, str] = {old: new}
    areas = tuple(
        attrs.evolve(area, holds=tuple(dict.fromkeys(swap.get(name, name) for name in area.holds)))
        for area in project.areas
    )
    return attrs.evolve(project, areas=areas)
