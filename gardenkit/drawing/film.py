"""The garden in motion: the years from planting to year fifteen, the round of a year, a slow walk along a path."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.drawing.framing import best_way, faces_house, faces_wall, glance, worth
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted.picture import HALF, Quality, encoded
from gardenkit.drawing.painted_view import Moment, Prospect, painted, painted_scene
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.view import Lookout, two_by_two
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.progress import Tell, quiet
from gardenkit.project.season import Standing, local_months, standing
from gardenkit.structure.route import Route
from gardenkit.structure.sightlines import STANDING_EYE

LAST_YEAR = 15
SEASONS = (4, 6, 10, 1)  # months of the northern year that stand for its seasons. House value.
ROUND = tuple(range(1, 13))  # months of the round of a year
STEP = 1.1  # m of a walk between two frames. House value.
MOST_STEPS = 40
TURN_STEP = 20.0  # degrees between two frames of one who turns round. House value.
SLOWLY = (0.1, 0.2, 0.4, 0.2, 0.1)  # the eye turns over several frames. House value.
WALKING, HALTED = 60.0, 120.0  # degrees one turns from the way, at most. House values.
LOOK_AHEAD = 3.0  # m: a walker looks at where they will be. House value.
STRIP, STRIP_MM = 6, 117.0  # frames of a strip, and how wide each is. House values.
FRAME = Quality(across=360, finer=1.25, detail=0.7)
WEBP = 34  # of the frames: with films of a hundred frames an edition stays under 8 MB. House value.


@attrs.frozen(kw_only=True)
class Film:
    """Pictures one after another (WebP), each with its words."""

    name: str
    frames: tuple[bytes, ...]
    words: tuple[str, ...]

    @property
    def size(self) -> int:
        """Bytes of all frames."""
        return sum(len(frame) for frame in self.frames)


Taken = Sequence[tuple[Lookout, Moment, str]]


def years_film(of: Prospect, *, at: Lookout, tell: Tell = quiet) -> Film:
    """Return the view from planting to year fifteen, four frames a year, three months apart."""
    months = sorted(local_months(of.project.site, SEASONS))
    taken = [
        (at, Moment(year=year, month=month), f"year {year}, {MONTHS[month - 1]}")
        for year in range(LAST_YEAR + 1)
        for month in months
    ]
    return _film(f"from the {at.name}, year 0 to {LAST_YEAR}", of, taken, tell)


def year_film(of: Prospect, *, at: Lookout, year: int, tell: Tell = quiet) -> Film:
    """Return the view through the months of one year."""
    taken = [(at, Moment(year=year, month=m), f"{MONTHS[m - 1]}, year {year}") for m in ROUND]
    return _film(f"from the {at.name}, the round of year {year}", of, taken, tell)


def walk_film(of: Prospect, *, path: str, when: Moment, tell: Tell = quiet) -> Film:
    """Return a slow walk along a path, a frame every step or two. Raises GardenError for a path that is not there."""
    stops = walk(of, path, when)
    taken = [(stop, when, f"{stop.name}") for stop in stops]
    return _film(f"along {path}, {MONTHS[when.month - 1]}, year {when.year}", of, taken, tell)


def walk_strip(of: Prospect, *, path: str, when: Moment, tell: Tell = quiet) -> Scene:
    """Return what one sees along a path as a strip of frames. Raises GardenError for a path that is not there."""
    along, turned = _walked(of, path, when)
    chosen = [*_chosen(of, along, STRIP - len(turned[-1:]), when), *turned[-1:]]
    frames = []
    for number, stop in enumerate(chosen):
        tell(number / len(chosen), f"painting frame {number + 1} of {len(chosen)} ...")
        frames.append(
            painted_scene(
                of,
                at=stop,
                when=when,
                width=STRIP_MM,
                title=stop.name,
                quality=HALF,
            )
        )
    return two_by_two(frames, f"along {path}, {MONTHS[when.month - 1]}, year {when.year}")


def _chosen(of: Prospect, along: list[Lookout], room: int, when: Moment) -> list[Lookout]:
    """Return so many stops of a walk: of each stretch of it the one that shows most of the garden."""
    if len(along) <= room:
        return along
    plants = standing(of.project, of.catalogue, year=when.year, month=when.month)
    worths = [worth(at, at.towards, of.project.site, plants, of.angle) for at in along]
    cuts = [round(len(along) * number / room) for number in range(room + 1)]
    return [along[max(range(a, b), key=lambda k: worths[k])] for a, b in pairwise(cuts)]


def walk(of: Prospect, path: str, when: Moment) -> tuple[Lookout, ...]:
    """Return where one stands on a walk along a path, looking a few metres ahead along it.

    Before a house one stops and turns to where most of the garden shows.
    """
    along, turned = _walked(of, path, when)
    return (*along, *turned)


def _walked(of: Prospect, path: str, when: Moment) -> tuple[list[Lookout], list[Lookout]]:
    """Return where one stands along a path, and how one turns round at the end of it."""
    if path not in of.worked.routes:
        known = ", ".join(of.worked.routes) or "none"
        raise GardenError(f'there is no path "{path}" to walk along; the paths are: {known}')
    site, angle = of.project.site, of.angle
    plants = standing(of.project, of.catalogue, year=when.year, month=when.month)
    stops = _along(of.worked.routes[path], path)
    ahead = len(stops)
    while ahead > 2 and faces_house(stops[ahead - 1], site, angle=angle):
        ahead -= 1
    stops, whole = _looking_round(of, stops[:ahead], plants), len(stops)
    count = len(stops)
    while count > 2 and faces_wall(stops[count - 1], site, plants, angle=angle):
        count -= 1
    if count == whole:
        return stops, []
    last = stops[count - 1]
    turn = (best_way(last, site, plants, angle=angle) - last.towards) % 360
    ways = [_turned(last, turn), _turned(last, turn - 360)]
    blank = [
        [faces_wall(at, site, plants, angle=angle) or faces_house(at, site, angle=angle) for at in way] for way in ways
    ]
    least = min((0, 1), key=lambda k: (sum(blank[k]), len(ways[k])))
    shown = [at for at, wall in zip(ways[least], blank[least], strict=True) if not wall or at is ways[least][-1]]
    return stops[:count], shown


def _looking_round(of: Prospect, stops: list[Lookout], plants: Sequence[Standing]) -> list[Lookout]:
    """Return a walk on which one turns the eye, slowly, to where the garden shows beside the path.

    On a few stepping stones one stops and turns further.
    """
    few = len(stops) < len(SLOWLY)
    most = HALTED if few else WALKING
    turns = np.array([glance(at, of.project.site, plants, angle=of.angle, most=most) for at in stops])
    if few:
        turns[:] = np.median(turns)
    padded = np.pad(turns, len(SLOWLY) // 2, mode="edge")
    smooth = np.convolve(padded, SLOWLY, mode="valid")
    return [
        attrs.evolve(at, towards=(at.towards + turn) % 360) for at, turn in zip(stops, smooth.tolist(), strict=True)
    ]


def _turned(at: Lookout, turn: float) -> list[Lookout]:
    """Return the frames of one who turns by some degrees, clockwise or (negative) the other way."""
    steps = math.ceil(abs(turn) / TURN_STEP)
    name = f"{at.name}, looking round"
    return [attrs.evolve(at, towards=(at.towards + turn * (k + 1) / steps) % 360, name=name) for k in range(steps)]


def _along(route: Route, path: str) -> list[Lookout]:
    count = min(MOST_STEPS, max(2, round(route.length / STEP)))
    found = []
    for number in range(count):
        along = route.length * (0.02 + 0.94 * number / (count - 1))
        x, y = (float(v) for v in route.curve.at(along)[0])
        ahead = min(along + LOOK_AHEAD, route.length)
        goal = tuple(float(v) for v in route.curve.at(ahead)[0])
        if math.dist((x, y), goal) < 0.4:
            way = route.curve.direction(along)[0]
            goal = (x + float(way[0]), y + float(way[1]))
        towards = plane.heading((x, y), goal)
        name = f"{path}, {along:.0f} m along"
        found.append(Lookout(name=name, eye=(x, y), height=float(STANDING_EYE), towards=towards))
    return found


def _film(name: str, of: Prospect, taken: Taken, tell: Tell) -> Film:
    frames = []
    for number, (at, when, words) in enumerate(taken):
        tell(number / len(taken), f"painting frame {number + 1} of {len(taken)}: {words} ...")
        one = painted(of, at=at, when=when, quality=FRAME)
        frames.append(encoded(one.pixels, quality=WEBP))
    return Film(name=name, frames=tuple(frames), words=tuple(words for _, _, words in taken))
