"""What a client can ask for about something on the plan: the kinds of want with a subject, one row a kind."""

from collections.abc import Mapping

from gardenkit.brief.want_kinds import growing, places
from gardenkit.brief.want_kinds.row import WantKind
from gardenkit.findings import GardenError, nearest

WANT_KINDS: Mapping[str, WantKind] = {row.key: row for row in (*places.ROWS, *growing.ROWS)}


def want_kind(key: str) -> WantKind:
    """Return a kind of want; raises GardenError naming the nearest known one."""
    if key not in WANT_KINDS:
        raise GardenError(f'a want cannot ask for "{key}"{nearest(key, WANT_KINDS)}; choose one of the listed kinds')
    return WANT_KINDS[key]
