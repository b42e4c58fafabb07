"""A garden as it was found to live: its journal's figures beside what is worked out, and next year's list."""

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project, lived
from gardenkit.project.layout import Layout
from gardenkit.project.lived import Proposal, Seen
from gardenkit.schedules.next_year import ToDo, coming_year, next_year


@attrs.frozen(eq=False, kw_only=True)
class Living:
    """What the journal says of flowers and sizes (``seen``), the corrections it speaks for (``proposals``), and what
    to do in the year after its last entry (``to_do`` in ``year``, None while it is empty).
    """

    seen: tuple[Seen, ...]
    proposals: tuple[Proposal, ...]
    year: int | None
    to_do: tuple[ToDo, ...]


def living(project: Project, layout: Layout, plain: Catalogue) -> Living:
    """Return what a garden's journal comes to; ``plain`` is the catalogue without the journal's corrections."""
    return Living(
        seen=lived.seen(project, plain),
        proposals=lived.proposals(project, plain),
        year=coming_year(project),
        to_do=next_year(project, layout, plain),
    )
