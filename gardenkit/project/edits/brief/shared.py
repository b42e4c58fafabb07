"""What the edits of the brief share: the project with its brief changed, and words put in order."""

from collections.abc import Sequence
from typing import Any

import attrs

from gardenkit.project import Project


def with_brief(project: Project, **changes: Any) -> Project:
    """Return the project with some fields of its brief changed."""
    return attrs.evolve(project, brief=attrs.evolve(project.brief, **changes))


def listed(words: Sequence[str]) -> tuple[str, ...]:
    """Return words without spare spaces, each once, none empty."""
    said = (" ".join(word.split()) for word in words)
    return tuple(dict.fromkeys(word for word in said if word))
