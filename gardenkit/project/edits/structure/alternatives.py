"""Other bones for the same garden: kept under a name, taken up again, renamed, deleted."""

import attrs

from gardenkit.project import Alternative, Project
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without

NOW = "as it stands"


def keep_alternative(project: Project, name: str) -> Project:
    """Return the project with its structure as it stands kept under a name."""
    called = new_name(name, [NOW, *(a.name for a in project.alternatives)], "structure")
    kept = Alternative(name=called, structure=project.structure)
    return attrs.evolve(project, alternatives=(*project.alternatives, kept))


def use_alternative(project: Project, name: str) -> Project:
    """Return the project with an alternative as its structure; what it replaces is kept under a name of its own."""
    chosen = by_name(project.alternatives, name, "option")
    if any(a.structure == project.structure for a in project.alternatives):
        return attrs.evolve(project, structure=chosen.structure)
    number = 1 + sum(a.name.startswith("before ") for a in project.alternatives)
    called = free_name(f"before {chosen.name} {number}", [a.name for a in project.alternatives])
    before = Alternative(name=called, structure=project.structure)
    return attrs.evolve(project, structure=chosen.structure, alternatives=(*project.alternatives, before))


def rename_alternative(project: Project, name: str, *, to: str) -> Project:
    """Return the project with an alternative renamed."""
    old = by_name(project.alternatives, name, "option")
    called = new_name(to, [NOW, *(a.name for a in project.alternatives if a.name != name)], "structure")
    return attrs.evolve(project, alternatives=put(project.alternatives, name, attrs.evolve(old, name=called)))


def delete_alternative(project: Project, name: str) -> Project:
    """Return the project without an alternative."""
    by_name(project.alternatives, name, "option")
    return attrs.evolve(project, alternatives=without(project.alternatives, name))
