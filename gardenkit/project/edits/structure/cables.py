"""Low-voltage cables laid by hand past the lamps they feed, named and taken out."""

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line
from gardenkit.project import Project
from gardenkit.project.edits.ground import check_on_ground
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import spot, with_bones
from gardenkit.structure.structure import Cable


def lay_cable(project: Project, line: Line, *, name: str = "") -> Project:
    """Return the project with a cable along a line, its first point at the transformer. Raises GardenError for a line
    without length, or off the plot.
    """
    known = [cable.name for cable in project.structure.cables]
    called = new_name(name, known, "cable") if name else free_name("cable", known)
    plane.check_line(line, where=f'cable "{called}"')
    corners = tuple(
        check_on_ground(project.site, spot(at), f'cable "{called}"', units=project.units) for at in line[1:]
    )
    return with_bones(project, cables=(*project.structure.cables, Cable(name=called, line=(spot(line[0]), *corners))))


def rename_cable(project: Project, name: str, *, to: str) -> Project:
    """Return the project with a cable renamed."""
    cable = by_name(project.structure.cables, name, "cable")
    if " ".join(to.split()) == name:
        return project
    called = new_name(to, [one.name for one in project.structure.cables], "cable")
    return with_bones(project, cables=put(project.structure.cables, name, attrs.evolve(cable, name=called)))


def remove_cable(project: Project, name: str) -> Project:
    """Return the project without a cable."""
    by_name(project.structure.cables, name, "cable")
    return with_bones(project, cables=without(project.structure.cables, name))
