"""The view from a place, painted: the same view as the drawing, in the light of the hour, with every leaf."""

from functools import lru_cache
from typing import TYPE_CHECKING

import attrs

from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.painted.figures import shades
from gardenkit.drawing.painted.picture import FINE, Painted, Quality, Subject, encoded, paint, plain_stage
from gardenkit.drawing.scene import Area, Mark, Picture, Scene, Symbol
from gardenkit.drawing.view import (
    Lookout,
    framed,
    plants_seen,
    seen_words,
    standers,
    view_stage,
)
from gardenkit.drawing.view_camera import ANGLE
from gardenkit.drawing.view_ground import Stage, for_plants
from gardenkit.drawing.view_order import Stander, Upright, far_to_near, shares
from gardenkit.drawing.view_plants import plant_covers
from gardenkit.drawing.view_sun import DAY
from gardenkit.drawing.view_things import Company, company_part, outlined
from gardenkit.geometry.solid import Solid
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.season import standing
from gardenkit.project.solids import solids

if TYPE_CHECKING:  # the second process, which paints, needs nothing of a garden's schedules and advice
    from gardenkit.garden import Garden


@attrs.frozen(kw_only=True)
class Moment:
    """When one looks: ``year`` from the first planting season, ``month``, ``day`` of it, clock ``hour`` (None: the
    afternoon).

    ``night`` lights the lamps; ``snow`` None leaves it to the climate.
    """

    year: int
    month: int
    day: int = DAY
    hour: float | None = None
    night: bool = False
    snow: bool | None = None


@attrs.frozen(kw_only=True)
class Prospect:
    """A garden to be looked at, as it is set out, and over how many degrees one looks."""

    project: Project
    worked: Layout
    catalogue: Catalogue
    angle: float = ANGLE

    @property
    def garden(self) -> tuple[Project, Layout, Catalogue]:
        """What is looked at."""
        return self.project, self.worked, self.catalogue

    def stage(self, at: Lookout, when: Moment, width: float) -> Stage:
        """Return the ground and the camera of a place at a moment, a picture so many mm wide."""
        site, angle = self.project.site, self.angle
        return view_stage(site, self.worked, at, when.month, when.hour, angle, width, day=when.day)


def prospect(garden: "Garden", angle: float = ANGLE) -> Prospect:
    """Return a garden to be looked at over so many degrees."""
    return Prospect(project=garden.project, worked=garden.layout, catalogue=garden.catalogue, angle=angle)


def painted_scene(
    of: Prospect,
    *,
    at: Lookout,
    when: Moment,
    width: float = 240.0,
    title: str = "",
    company: Company | None = None,
    quality: Quality = FINE,
) -> Scene:
    """Return the painted view from a place at a moment, with its words and what each thing in it is.

    Raises GardenError for an angle, month or eye height that cannot be.
    """
    project = of.project
    scene = of.stage(at, when, width)
    subject = subject_of(of, scene, when, company)
    painted = paint(subject, quality, night=when.night, snow=when.snow)
    left, low, right, top = scene.camera.frame
    picture = Picture(at=(left, low), wide=right - left, high=top - low, data=encoded(painted.pixels))
    uprights = [part for part in subject.built if isinstance(part, Upright)]
    things = [part for part in subject.built if isinstance(part, Stander)]
    plants = plant_covers(for_plants(scene, project), subject.plants)
    pieces = far_to_near(uprights, [*things, *plants], scene.camera.at)
    seen = shares(pieces, scene.camera.frame)
    tips = [
        Symbol(marks=(Area(rings=p.cover, fill="#ffffff", alpha=0.0, layer="planting"),), tip=p.tip)
        for p in seen
        if p.tip and p.cover
    ]
    name = title or f"{project.name}, {MONTHS[when.month - 1]}, year {when.year}"
    words = seen_words(scene.camera, seen, name, when.year, when.month)
    marks: list[Mark] = [picture, *tips]
    return framed(scene.camera, marks, name, words, eye_height=at.height, units=project.units)


def painted(of: Prospect, *, at: Lookout, when: Moment, quality: Quality = FINE) -> Painted:
    """Return the bare picture from a place at a moment: for films and photos."""
    subject = subject_of(of, of.stage(at, when, 240.0), when, None)
    return paint(subject, quality, night=when.night, snow=when.snow)


def subject_of(of: Prospect, scene: Stage, when: Moment, company: Company | None) -> Subject:
    """Return what is painted from a stage at a moment."""
    project, worked, catalogue = of.garden
    stage = plain_stage(scene)
    uprights, found = standers(stage, project, worked, None, when.year)
    for_scale: list[Solid] = []
    if company is not None:  # painted round, by its outline it is told of alone
        found.append(outlined(company_part(stage, company)))
        for_scale = shades(stage, company)
    things = [attrs.evolve(part, make=lru_cache(part.make)) for part in found]  # once for the picture and its words
    return Subject(
        scene=stage,
        project=project,
        worked=worked,
        bodies=[*solids(project, catalogue, year=when.year), *for_scale],
        standing=standing(project, catalogue, year=when.year, month=when.month),
        plants=plants_seen(scene, project, catalogue, when.year, when.month),
        built=[*uprights, *things],
        year=when.year,
        company=company,
    )
