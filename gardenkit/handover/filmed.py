"""The films of an edition, played with no network: fifteen years and the round of one from a seat, and a walk."""

import base64
import json

import attrs

from gardenkit.drawing.film import Film, walk_film, year_film, years_film
from gardenkit.drawing.live_copy import FULL_YEAR
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.handover.contents import Contents
from gardenkit.handover.pictured import best_place, framed
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.season import early_summer


@attrs.frozen(kw_only=True)
class Shown:
    """A film as the page takes it: its name, its first frame, and ``frames`` as JSON of (address, words)."""

    name: str
    first: str
    frames: str


def films(told: Contents, tell: Tell = quiet) -> list[Shown]:
    """Return the films of a garden; none while nothing is planted or there is nowhere to look from."""
    best = best_place(told.garden)
    project, garden = told.project, told.garden
    if best is None or not garden.schedule or not project.site.boundary:
        return []
    taken = prospect(garden)
    at = framed(garden, best)
    made = [
        years_film(taken, at=at, tell=part(tell, 0.0, 0.65)),
        year_film(taken, at=at, year=FULL_YEAR, tell=part(tell, 0.65, 0.8)),
    ]
    when = Moment(year=FULL_YEAR, month=early_summer(project.site))
    for path in list(garden.layout.routes)[:1]:
        made.append(walk_film(taken, path=path, when=when, tell=part(tell, 0.8, 1.0)))
    return [_shown(film) for film in made]


def _shown(film: Film) -> Shown:
    addresses = ["data:image/webp;base64," + base64.b64encode(frame).decode("ascii") for frame in film.frames]
    pairs = [[address, words] for address, words in zip(addresses, film.words, strict=True)]
    frames = json.dumps(pairs).replace("<", "\\u003c")  # no text ends the script it stands in
    return Shown(name=film.name, first=addresses[0], frames=frames)
