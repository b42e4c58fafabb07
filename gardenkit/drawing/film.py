"""The garden in motion: the years from planting to year fifteen, the round of a year, a slow walk along a path."""

import math
from collections.abc import Sequence

import attrs

from gardenkit.drawing.framing import best_way, faces_house
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted.picture import HALF, Quality, encoded
from gardenkit.drawing.painted_view import Moment, Prospect, painted, painted_scene
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.view import Lookout, two_by_two
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.progress import Tell, quiet
from gardenkit.project.season import local_months, standing
from gardenkit.structure.route import Route
from gardenkit.structure.sightlines import STANDING_EYE

LAST_YEAR = 15
SEASONS = (4, 6, 10, 1)  # months of the northern year that stand for its seasons. House value.
ROUND = tuple(range(1, 13))  # months of the round of a year
STEP = 1.1  # m of a walk between two frames. House value.
MOST_STEPS = 40
TURN_STEP = 20.0  # degrees between two frames of one who turns round. House value.
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
    room = STRIP - len(turned[-1:])
    last = len(along) - 1
    chosen = [along[round(last * number / (room - 1))] for number in range(room)] if last >= room else along
    chosen = [*chosen, *turned[-1:]]
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
    stops = _along(of.worked.routes[path], path)
    count = len(stops)
    while count > 2 and faces_house(stops[count - 1], site, angle=angle):
        count -= 1
    if count == len(stops):
        return stops, []
    last = stops[count - 1]
    plants = standing(of.project, of.catalogue, year=when.year, month=when.month)
    turn = (best_way(last, site, plants, angle=angle) - last.towards) % 360
    ways = [_turned(last, turn), _turned(last, turn - 360)]
    return stops[:count], min(ways, key=lambda way: (sum(faces_house(at, site, angle=angle) for at in way), len(way)))


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
