"""The pictures of a client or office edition: the plan on paper, the live plan, the views, the bloom chart, the sun."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from itertools import pairwise
from pathlib import Path
from weakref import WeakKeyDictionary

import attrs
import numpy as np

from gardenkit.brief.photo import photo as read_photo
from gardenkit.drawing import charts, style
from gardenkit.drawing.faded import shown_area
from gardenkit.drawing.framing import framed_well
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.levels_plan import levels_scene
from gardenkit.drawing.live_copy import FULL_YEAR, LAST_YEAR, LiveCopy, live_copy, open_hours
from gardenkit.drawing.overlays import sun_marks
from gardenkit.drawing.painted_view import Moment
from gardenkit.drawing.painter import Ask, Painter, seasons_asked
from gardenkit.drawing.photo_view import in_photo, under_one_slider
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import Lookout, places_to_look_from, two_by_two
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover.contents import Contents, bloom_rows
from gardenkit.planting.bloom import kinds_by_month
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.season import early_summer, standing
from gardenkit.storage import SITE_PHOTOS_FOLDER

SCREEN_PX = 760.0
PRINT_SCALE = 96.0  # 1/8" = 1'-0" fits most home gardens on one page
PHOTO_PX = 1000  # of the longer side of a photo of the site. House value.
SUN_MONTHS = (3, 6, 9, 12)  # shown as still pictures for print
YOUNG_YEAR = 1  # the garden as the client first sees it
BEST_FROM, BEST_TO, BEST_HALF = 1.5, 15.0, 32.0  # m, m, degrees: plants that make a view, near enough to be told apart
# and inside the picture. House values.


@attrs.frozen(eq=False, kw_only=True)
class Pictures:
    """Every picture of an edition, as markup with the words for it. ``cover`` is the best view, None without plants."""

    live: LiveCopy | None
    plan: str
    plan_words: str
    cover: tuple[str, str] | None
    views: list[tuple[str, str]]
    bloom_chart: str
    bloom_months: list[tuple[str, tuple[str, ...]]]
    sun_pictures: list[tuple[str, str]]
    levels: str
    photos: list[str]


_DRAWN: WeakKeyDictionary[Contents, Pictures] = WeakKeyDictionary()


@contextmanager
def begun(garden: Garden) -> Iterator[Painter]:
    """Begin to paint the views of a garden beside this process."""
    with Painter(garden.project, garden.catalogue) as painter:
        painter.ask(garden.layout, _asked(garden))
        yield painter


def _asked(garden: Garden) -> list[Ask]:
    """Return the seasons from the way in, then the best view full grown, young and old; none without plants."""
    best = best_place(garden)
    if not garden.schedule or not garden.project.site.boundary or best is None:
        return []
    first = places_to_look_from(garden.project, garden.layout)[0]
    asked = seasons_asked(garden.project, at=framed(garden, first), year=FULL_YEAR)
    place = framed(garden, best)
    for year in (FULL_YEAR, YOUNG_YEAR, LAST_YEAR):
        words = f"From the {place.name}, {month_shown(garden)}, year {year}"
        asked.append(Ask(at=place, when=Moment(year=year, month=early_summer(garden.project.site)), title=words))
    return asked


def pictures(told: Contents, tell: Tell = quiet, *, painter: Painter | None = None) -> Pictures:
    """Return the pictures of contents: drawn once for both editions. ``painter`` has begun on the views already."""
    found = _DRAWN.get(told)
    if found is None:
        with nullcontext(painter) if painter else begun(told.garden) as views:
            found = _DRAWN[told] = _drawn(told, views, tell)
    return found


def _drawn(told: Contents, painter: Painter, tell: Tell) -> Pictures:
    tell(0.0, "drawing the live plan ...")
    live = _live(told, sun=True)
    tell(0.2, "drawing the plan on paper ...")
    plan = _plan_scene(told, PRINT_SCALE)
    painter.paint(part(tell, 0.25, 0.9))
    tell(0.9, "putting the page together ...")  # while the last view is painted beside it
    rest = Pictures(
        live=live,
        plan=svg(plan),
        plan_words=plan.description,
        cover=None,
        views=[],
        bloom_chart=_bloom_chart(told),
        bloom_months=_bloom_months(told),
        sun_pictures=_sun_pictures(told),
        levels=_levels(told),
        photos=_photos(told),
    )
    cover, views = _views(told, painter.pictures(part(tell, 0.9, 1.0)))
    return attrs.evolve(rest, cover=cover, views=views)


def _plan_scene(told: Contents, scale: float, *, plants: bool = True, to_scale: bool = False) -> Scene:
    scene = garden_scene(
        told.project,
        told.garden.layout,
        told.garden.catalogue,
        year=FULL_YEAR,
        month=early_summer(told.project.site),
        plants=plants,
        scale=scale,
        to_scale=to_scale,
        textures=plants,
        title=told.title if plants else "Sun on the ground",
    )
    return shown_area(told.garden, scene)


def _levels(told: Contents) -> str:
    """Return the plan of levels; empty where no levels are made."""
    if told.garden.earth is None:
        return ""
    drawn = levels_scene(told.project, told.garden.layout, scale=PRINT_SCALE, title="Levels")
    return svg(shown_area(told.garden, drawn))


def _photos(told: Contents) -> list[str]:
    """Return the photos of the site before and after; one that is lost or whose marks give no camera is left out."""
    found = []
    garden = (told.project, told.garden.layout, told.garden.catalogue)
    when = Moment(year=FULL_YEAR, month=early_summer(told.project.site))
    for photo in told.project.site.photos:
        path = told.garden.folder / SITE_PHOTOS_FOLDER / Path(photo.file).name
        try:
            made = in_photo(*garden, photo=photo, picture=read_photo(path), when=when, most=PHOTO_PX)
        except GardenError:
            continue
        words = f"{photo.name}: the place as it is, and {month_shown(told.garden)}, {FULL_YEAR} years after planting"
        found.append(under_one_slider(made, words))
    return found


def month_shown(garden: Garden) -> str:
    """Return the word of the month that the garden is shown in on paper."""
    return MONTHS[early_summer(garden.project.site) - 1]


def best_place(garden: Garden) -> Lookout | None:
    """Return the seat, or without one the other place, with the most plants before one; None without any."""
    spots = np.array([plant.at for plant in garden.project.planting.plants], dtype=float).reshape(-1, 2)
    seats = {seat.name for seat in garden.project.structure.seats}
    every = places_to_look_from(garden.project, garden.layout)
    places = [place for place in every if place.name in seats] or every

    def before(place: Lookout) -> int:
        east, north = (spots - np.asarray(place.eye)).T
        far, turn = np.hypot(east, north), np.degrees(np.arctan2(east, north)) - place.towards
        ahead = np.abs((turn + 180) % 360 - 180) <= BEST_HALF
        return int((ahead & (far >= BEST_FROM) & (far <= BEST_TO)).sum())

    return max(places, key=before, default=None)


def _views(told: Contents, made: Sequence[Scene]) -> tuple[tuple[str, str] | None, list[tuple[str, str]]]:
    """Return the best view, and (words, picture) of the way in by season and of the best view young and old."""
    if not made:
        return None, []
    *seasons, full, young, old = made
    name = places_to_look_from(told.project, told.garden.layout)[0].name
    strip = two_by_two(seasons, f"From the {name}, year {FULL_YEAR}")
    through = (f"From the {name} through the year, {FULL_YEAR} years after planting", svg(strip))
    cover, *later = [(scene.title, svg(scene)) for scene in (full, young, old)]
    return cover, [through, *later]


def framed(garden: Garden, place: Lookout) -> Lookout:
    """Return a place to look from, turned to where the full-grown garden shows."""
    project = garden.project
    plants = standing(project, garden.catalogue, year=FULL_YEAR, month=early_summer(project.site))
    return framed_well(place, project.site, plants, worked=garden.layout)


def live_of(told: Contents, drawn: Pictures, *, sun: bool) -> LiveCopy | None:
    """Return the live plan of an edition with its sun map or without: a figure that stands nowhere on the page keeps
    all others from being shown.
    """
    return drawn.live if sun or told.sun is None else _live(told, sun=False)


def _live(told: Contents, *, sun: bool) -> LiveCopy | None:
    if not told.project.site.boundary:
        return None
    scale = screen_scale(told.project.site, width_px=SCREEN_PX)
    lit = told.sun if sun else None
    bare = _plan_scene(told, scale, plants=False) if lit is not None else None
    return live_copy(told.project, told.garden.catalogue, _plan_scene(told, scale), sun=lit, bare=bare)


def _bloom_chart(told: Contents) -> str:
    return svg(charts.bloom_calendar(bloom_rows(told.garden.bloom, told.garden.keys))) if told.garden.bloom else ""


def _bloom_months(told: Contents) -> list[tuple[str, tuple[str, ...]]]:
    by_month = kinds_by_month(told.garden.bloom)
    return [(name, by_month[number]) for number, name in enumerate(MONTHS, start=1)]


def _sun_pictures(told: Contents) -> list[tuple[str, str]]:
    if told.sun is None:
        return []
    hours, grid = open_hours(told.sun, told.project), told.sun.grid
    if not np.isfinite(hours).any():  # the house covers the whole plot
        return []
    found = []
    for month in SUN_MONTHS:
        marks = sun_marks(np.asarray(hours[month - 1]), x0=grid.left, y0=grid.bottom, cell=grid.cell)
        mean = float(np.nanmean(hours[month - 1]))
        scene = garden_scene(
            told.project,
            told.garden.layout,
            plants=False,
            extra=marks,
            scale=192.0,
            textures=False,
            names=False,
            title=MONTHS[month - 1],
        )
        words = f"Sun map for {MONTHS[month - 1]}: {mean:.1f} hours of direct sun a day on average; beds in the table."
        found.append((MONTHS[month - 1], svg(_described(shown_area(told.garden, scene), words))))
    return found


def _described(scene: Scene, words: str) -> Scene:
    return attrs.evolve(scene, description=words)


def sun_key() -> list[tuple[str, str]]:
    """Return (colour, words) of each step of the sun map, sunniest first."""
    steps = style.SUN_STEPS
    words = [
        f"under {steps[0]:g} h",
        *(f"{a:g} to {b:g} h" for a, b in pairwise(steps)),
        f"{steps[-1]:g} h and more",
    ]
    return list(zip(style.SUN_COLOURS, words, strict=True))[::-1]
