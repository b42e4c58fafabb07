"""The garden painted square to a line, true to scale: the painter's plants and what is built, in an elevation's light.

The eye stands so far off that what is 6 m beyond the line comes out 0.3 % smaller than what stands on it.
"""

import math
from functools import cached_property

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.elevation import along_and_beyond, stands_behind
from gardenkit.drawing.painted.built import Surveyor
from gardenkit.drawing.painted.picture import Pixels, Quality, Reach, Subject, encoded, in_dots, plain_stage, reduced
from gardenkit.drawing.painted.splats import rgb
from gardenkit.drawing.painted_view import Moment, Prospect
from gardenkit.drawing.scene import Bounds, Picture, on_paper
from gardenkit.drawing.side_things import BEFORE
from gardenkit.drawing.view import plants_seen, standers
from gardenkit.drawing.view_camera import ANGLES
from gardenkit.drawing.view_ground import heights_of, stage
from gardenkit.drawing.view_shadows import foot_of
from gardenkit.drawing.view_sun import Sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.season import standing
from gardenkit.project.solids import solids
from gardenkit.site.site import Site

FAR_OFF = 2000.0  # m from the eye to the line
CLOSE = 5e-6  # of its distance, 1 cm: what is painted later wins over what is no more than this before it
DOTS = 6.0  # pixels a millimetre of the sheet. House value.
FINER = 1.3
LIGHT = (
    -0.5,
    -0.5,
    0.7,
)  # right, ahead, up: from over the left shoulder, as elevations are lit. Common practice, no source
PALER = 0.35  # share of the paper in what stands at the back of the depth that is shown. House value.
PAST = 0.5  # m past the plot that its ground is shown. House value.
BACKDROP = 0.6  # the same of what is built further off. House value.
Line = tuple[Point, Point]


@attrs.frozen(kw_only=True, slots=False)
class SideCamera(Surveyor):
    """An eye far off that looks level and square at a line; picture points are millimetres of a sheet at 1 : ``scale``
    from the middle of the line at the height of the ground there.
    """

    scale: float
    edges: Bounds

    @cached_property
    def focal(self) -> float:
        """Distance from the eye to a picture plane on which the line is as long as on the sheet, mm."""
        return on_paper(FAR_OFF, self.scale)

    @cached_property
    def frame(self) -> Bounds:
        """The picture's edges in millimetres."""
        return self.edges


def side_picture(of: Prospect, when: Moment, *, line: Line, depth: float, bounds: Bounds, scale: float) -> Picture:
    """Return what stands at a line and up to ``depth`` m beyond it, painted, and what is built behind that, paler.

    ``bounds`` are what is painted of it: metres along the line and heights. The sky is left as the paper is.
    """
    quality = Quality(across=math.ceil(on_paper(bounds[2] - bounds[0], scale) * DOTS), finer=FINER)
    camera = side_camera(of.worked, line, bounds, scale)
    image, away = in_dots(_subject(of, when, line, depth, camera), quality, snow=False)
    pixels = reduced(_on_paper(image, away, depth), quality)
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    return Picture(at=(bounds[0], bounds[1]), wide=wide, high=high, data=encoded(pixels))


def side_camera(worked: Layout, line: Line, bounds: Bounds, scale: float) -> SideCamera:
    """Return the eye that looks square at a line, at what lies in ``bounds``: metres along it and heights."""
    (ax, ay), (bx, by) = line
    long = math.dist(*line)
    middle = ((ax + bx) / 2, (ay + by) / 2)
    ahead = (-(by - ay) / long, (bx - ax) / long)
    level = float(heights_of(worked.lie)(np.array([middle]))[0])
    left, low, right, top = bounds
    edges = [on_paper(m, scale) for m in (left - long / 2, low - level, right - long / 2, top - level)]
    return SideCamera(
        eye=(middle[0] - FAR_OFF * ahead[0], middle[1] - FAR_OFF * ahead[1], level),
        towards=plane.heading((0.0, 0.0), ahead),
        angle=ANGLES[0],
        width=edges[2] - edges[0],
        scale=scale,
        edges=(edges[0], edges[1], edges[2], edges[3]),
    )


def _subject(of: Prospect, when: Moment, line: Line, depth: float, camera: SideCamera) -> Subject:
    """Return what is painted: the plants within the depth, what is built beyond the line, no house before it."""
    project, worked, catalogue = of.garden
    site, year, month = project.site, when.year, when.month

    def within(at: Point) -> bool:
        return -BEFORE <= along_and_beyond(at, line)[1] <= depth

    bare = attrs.evolve(project, site=_beyond(site, line))
    lit = plain_stage(attrs.evolve(stage(site, camera, month, lie=worked.lie), sun=_light(camera)))
    uprights, found = standers(lit, bare, worked, None, year)
    bodies = [body for body in solids(project, catalogue, year=year) if within(foot_of(body))]
    end = max((along_and_beyond(corner, line)[1] for corner in site.boundary), default=depth)
    return Subject(
        scene=lit,
        project=bare,
        worked=worked,
        bodies=bodies,
        standing=[one for one in standing(project, catalogue, year=year, month=month) if within(one.plant.at)],
        plants=[one for one in plants_seen(lit, project, catalogue, year, month) if within(one.drawn.at)],
        built=[*uprights, *found],
        year=year,
        reach=Reach(near=FAR_OFF - BEFORE, far=FAR_OFF + depth, slack=CLOSE, ground=FAR_OFF + end + PAST, air=math.inf),
    )


def _beyond(site: Site, line: Line) -> Site:
    """Return a site without the houses that stand before a line, and their doors and windows."""
    kept = tuple(b for b in site.buildings if stands_behind(b, line))
    gone = {b.name for b in site.buildings} - {b.name for b in kept}
    return attrs.evolve(site, buildings=kept, openings=tuple(o for o in site.openings if o.on not in gone))


def _light(camera: SideCamera) -> Sunlight:
    right, up, ahead = camera.turn
    way = LIGHT[0] * right + LIGHT[1] * ahead + LIGHT[2] * up
    x, y, z = (way / np.linalg.norm(way)).tolist()
    return Sunlight(azimuth=0.0, elevation=math.degrees(math.asin(z)), towards=(x, y, z), hour=12.0)


def _on_paper(image: Pixels, away: NDArray[np.float32], depth: float) -> Pixels:
    """Return a painting on paper that shows where nothing stands (red, green, blue, cover), paler further back."""
    behind = away - FAR_OFF
    pale = np.where(behind > depth, BACKDROP, PALER * np.clip(behind / depth, 0.0, 1.0))
    empty = ~np.isfinite(away)
    pale[empty] = 1.0
    mixed = image + (np.array(rgb(style.PAPER)) - image) * pale[..., None]
    return np.dstack((mixed, np.where(empty, 0, 255))).astype(np.uint8)


def highest(project: Project, worked: Layout, line: Line) -> float:
    """Return how high houses, fences and supports beyond a line reach."""
    site, level = project.site, heights_of(worked.lie)
    ridges = [house.ridge_height for house in site.buildings if stands_behind(house, line)]
    runs = [(fence.line, fence.height) for fence in site.fences]
    runs += [(support.line, support.height) for support in project.structure.supports]
    ends = [(at, high) for run, high in runs for at in run if along_and_beyond(at, line)[1] >= -BEFORE]
    feet: list[float] = level(np.array([at for at, _ in ends], dtype=float)).tolist() if ends else []
    return max([0.0, *ridges, *(foot + high for foot, (_, high) in zip(feet, ends, strict=True))])
