"""What one garden asks of its plants: the spots its beds offer, which kinds suit them, and what to arrange round."""

import math
from collections.abc import Iterable, Sequence

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.given import BedGround, Screen, SunGrown, SunLookup, Surroundings
from gardenkit.planting.composing.ground import Ground, ground_of, lit
from gardenkit.planting.composing.kinds import Kind, may_stand
from gardenkit.planting.composing.supported import climbers
from gardenkit.planting.merits import rank
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.planting.suitability import VERDICTS, Judgement, Reason, Spot, refused_by, suits
from gardenkit.project import Project
from gardenkit.project.advice import around, growing_months, spot_at
from gardenkit.project.layout import Layout, layout
from gardenkit.project.remembered import Remembered
from gardenkit.project.sunlight import GroundMap, judged_map
from gardenkit.project.views import eye_point, path_points, places_to_look_from, targets
from gardenkit.project.wanted import missing_things
from gardenkit.site.soil import drains_too_fast
from gardenkit.site.standing import standing_fences
from gardenkit.structure.beds import BedShape
from gardenkit.structure.kinds import purpose_of
from gardenkit.structure.structure import Seat

SAMPLES = 60  # places looked at over a bed to find its shadiest, middling and sunniest. House value.
ROUNDED = 0.5  # h of sun: spots of a bed nearer than this are one spot. House value.
LATER = 10  # year whose sun new plants must take as well; the advice looks at the same
KNEES = 0.6  # m before a seat that stay free of plants. House value.
AT_A_SEAT = 0.02  # m round it, likewise; numerical choice
WAY_STEP = 10  # every tenth point of a path's curve is line enough to plant along

_GROUNDS: Remembered[Ground] = Remembered(6)


@attrs.frozen(kw_only=True)
class Suited:
    """One kind judged for a whole garden: its best ``judgement``, the bed that is for, and every bed that would do."""

    judgement: Judgement
    bed: str
    beds: tuple[str, ...]

    @property
    def species(self) -> Species:
        """The kind."""
        return self.judgement.species


def bed_called(worked: Layout, name: str) -> BedShape:
    """Return a bed by name; GardenError names the nearest known one."""
    for bed in worked.beds:
        if bed.name == name:
            return bed
    if not worked.beds:
        raise GardenError("there is no bed to plant in yet; lay a path or draw a bed in 04_structure")
    known = [bed.name for bed in worked.beds]
    raise GardenError(f'there is no bed called "{name}"{nearest(name, known)}; known: {", ".join(known)}')


def bed_spots(project: Project, *, now: GroundMap | None, later: GroundMap | None) -> tuple[tuple[str, Spot], ...]:
    """Return the shadiest, middling and sunniest place (by the growing season's sun now) with the bed's name."""
    found: dict[tuple[str, Spot], None] = {}
    for bed in layout(project).beds:
        if bed.area <= 0 or not purpose_of(bed.purpose).arranged:
            continue
        places = _places(bed.region)
        if now is None:
            chosen = [bed.at]
        else:
            hours = now.over(places).mean(axis=0)
            order = np.argsort(hours, kind="stable")
            picks = (order[0], order[len(order) // 2], order[-1])
            chosen = [(float(places[i, 0]), float(places[i, 1])) for i in picks]
        for at in chosen:
            spot = spot_at(project, at, now=now, later=later)
            rounded = attrs.evolve(
                spot,
                sun_hours_now=_rounded(spot.sun_hours_now),
                sun_hours_year10=_rounded(spot.sun_hours_year10),
                bed_depth=bed.depth,
            )
            found.setdefault((bed.name, rounded))
    return tuple(found)


def suited_to_garden(
    plants: Iterable[Species], spots: Sequence[tuple[str, Spot]], *, moisture: str | None = None
) -> tuple[Suited, ...]:
    """Return every kind with its best judgement over all spots of the garden, best kinds first, also those judged no.

    Raises GardenError when there is no spot.
    """
    if not spots:
        raise GardenError("there is no bed to plant in yet; lay a path or draw a bed in 04_structure")
    asked = [(bed, attrs.evolve(spot, moisture=moisture)) for bed, spot in spots]
    found = []
    for species in plants:
        judged = [(bed, suits(species, spot)) for bed, spot in asked]
        bed, best = min(judged, key=lambda pair: (VERDICTS.index(pair[1].verdict), -pair[1].score))
        would_do = tuple(dict.fromkeys(name for name, j in judged if j.verdict != "no"))
        found.append(Suited(judgement=best, bed=bed, beds=would_do))
    return _best_first(found)


def with_room(project: Project, suited: Sequence[Suited]) -> tuple[Suited, ...]:
    """Return the kinds with every tree and shrub judged no that no bed can hold, and every climber that nothing holds:
    the tests by which they are set.

    ``beds`` keeps those with a place for it, clear of walls, windows, paths, services and the trees that stay. Raises
    GardenError when there is no bed.
    """
    grounds, near = bed_grounds(project), surroundings(project)
    ground = planted_ground(project)
    return _best_first(_held(one, [bed.name for bed in grounds], ground, near) for one in suited)


def refusal_words(judged: Iterable[Suited], refused: Sequence[str], locked: Sequence[str] = ()) -> tuple[str, ...]:
    """Return in sentences what the client's refusals, and the musts that rule plants out, do to a choice of plants.

    How many kinds each one keeps out that sun, soil and winter would suit (room is not asked), and which ``locked``
    kinds are in against it.
    """
    found, said = list(judged), []
    for word in refused:
        out = [s.species.botanical for s in found if _stands_but_for_refusals(s) and refused_by(s.species, word)]
        if out:
            kinds = "1 kind" if len(out) == 1 else f"{len(out)} kinds"
            said.append(f'refusing "{word}" keeps out {kinds} that the place would suit')
        kept = [s.species for s in found if s.species.botanical in locked and refused_by(s.species, word)]
        said += [f'{k.botanical} is kept although the client refuses "{word}": {refused_by(k, word)}' for k in kept]
    return tuple(said)


def bed_grounds(project: Project, names: Sequence[str] = ()) -> tuple[BedGround, ...]:
    """Return the beds to arrange plants in, all that are to look at or the named ones; GardenError when there is none,
    and for a named one that is for something else.
    """
    worked = layout(project)
    beds = [bed_called(worked, name) for name in names] or [bed for bed in worked.beds if bed.area > 0]
    other = next((bed for bed in beds if not purpose_of(bed.purpose).arranged), None) if names else None
    if other is not None:
        raise GardenError(
            f'bed "{other.name}" is for {other.purpose}, so nothing ornamental is arranged in it; choose another, or '
            "say in the step Beds, paved and lawn areas that it is to look at"
        )
    beds = [bed for bed in beds if purpose_of(bed.purpose).arranged]
    if not beds:
        raise GardenError("there is no bed to plant in yet; lay a path or draw a bed in 04_structure")
    return tuple(BedGround(name=bed.name, region=bed.region, pockets=bed.pockets) for bed in beds)


def beds_arranged(project: Project, names: Sequence[str] = ()) -> tuple[str, ...]:
    """Return the beds that a proposal is for: the named ones, else none where that means every bed there is, else those
    that are to look at, so that what grows in the others stays.
    """
    beds = layout(project).beds
    here = tuple(bed.name for bed in beds if purpose_of(bed.purpose).arranged and bed.area > 0)
    return tuple(names) or (() if len(here) == len([bed for bed in beds if bed.area > 0]) else here)


def surroundings(project: Project, *, sun: GroundMap | None = None, catalogue: Catalogue | None = None) -> Surroundings:
    """Return what lies round the beds: walls, windows, paths, places one looks from, supports, trees, and the sun as it
    is; with a ``catalogue`` also as it will be under plants that have grown.
    """
    worked, site, structure = layout(project), project.site, project.structure
    ways = tuple(
        tuple((float(x), float(y)) for x, y in route.curve.points[::WAY_STEP]) for route in worked.routes.values()
    )
    viewpoints = [o.middle for o in site.openings if o.kind in ("gate", "window")] + [s.at for s in structure.seats]
    sat = tuple((seat.name, seat_ground(seat), AT_A_SEAT) for seat in structure.seats)
    near = around(project, worked)
    return Surroundings(
        around=attrs.evolve(near, keep_clear=(*near.keep_clear, *sat)),
        ways=ways,
        viewpoints=tuple(viewpoints),
        supports=structure.supports,
        trees=tuple(t for t in site.trees if t.keep),
        sun=_lookup(project, sun) if sun is not None else None,
        later=_sun_grown(project, catalogue) if sun is not None and catalogue is not None else None,
        walked=plane.union(
            [
                *worked.ground_areas.values(),
                *(route.region for route in worked.routes.values()),
                *(region for _, region, _ in sat),
            ]
        ),
        dry=_dry(project, worked),
        boundary=(*site.boundary, site.boundary[0]) if site.boundary else (),
        backs=tuple(fence.line for fence in standing_fences(site)),
        screens=_screens(project, worked),
    )


def planted_ground(project: Project, names: Sequence[str] = (), *, sun: GroundMap | None = None) -> Ground:
    """Return the ground that plantings are composed on and judged by, that of all beds to look at or of the named ones.

    Remembered while site and structure stay. Raises GardenError for no bed, and for a named one that is for something
    else.
    """
    key = (tuple(names), project.site, project.structure)
    ground = _GROUNDS.get(key, lambda: ground_of(bed_grounds(project, names), surroundings(project)))
    return ground if sun is None else lit(ground, _lookup(project, sun))


def seat_ground(seat: Seat) -> Region:
    """Return the ground a seat stands on with room for the knees before it: nothing is planted there, and what stands
    before it is low, as along a walk.
    """
    turn = math.radians(seat.facing)
    ahead, aside = (math.sin(turn), math.cos(turn)), (math.cos(turn), -math.sin(turn))
    corners = [(-0.5, -seat.depth / 2), (0.5, -seat.depth / 2), (0.5, seat.depth / 2 + KNEES)]
    corners.append((-0.5, seat.depth / 2 + KNEES))
    (x, y), wide = seat.at, seat.width
    return plane.region(
        [
            (x + wide * across * aside[0] + far * ahead[0], y + wide * across * aside[1] + far * ahead[1])
            for across, far in corners
        ]
    )


def kinds_of(names: Iterable[str], catalogue: Catalogue) -> tuple[Species, ...]:
    """Return kinds by name, each once. Raises GardenError for an unknown one."""
    return tuple(dict.fromkeys(catalogue[name] for name in names))


# ---- helpers


def _dry(project: Project, worked: Layout) -> Region:
    """Return the ground that is dry whatever the weather: under the crowns of trees that stay, or where it drains too
    fast.
    """
    if drains_too_fast(project.site.soil):
        return plane.union(bed.region for bed in worked.beds)
    return plane.union(plane.circle(tree.at, tree.spread / 2) for tree in project.site.trees if tree.keep)


def _best_first(found: Iterable[Suited]) -> tuple[Suited, ...]:
    return tuple(sorted(found, key=lambda s: rank(s.judgement)))


def _held(one: Suited, beds: Sequence[str], ground: Ground, near: Surroundings) -> Suited:
    kind = Kind(one.species)
    if one.judgement.verdict == "no":
        return one
    if kind.part == "climber":
        text = "climbs or is trained, and nothing in the garden holds it: put up a support with a bed at its foot"
        return one if climbers([kind], ground, near, ()) else _without_place(one, text)
    if kind.part not in ("tree", "shrub"):
        return one
    holding = {beds[n] for n in np.unique(ground.bed[may_stand(kind, ground, near)])}
    left = tuple(name for name in one.beds if name in holding)
    if left:
        return attrs.evolve(one, beds=left, bed=one.bed if one.bed in left else left[0])
    text = f"{one.species.spread:.1f} m wide when grown; no bed it suits holds it clear of walls, windows and paths"
    return _without_place(one, text)


def _without_place(one: Suited, text: str) -> Suited:
    against = Reason(ok=False, text=text, topic="room", score=0.0)
    judged = one.judgement
    return attrs.evolve(
        one, beds=(), judgement=attrs.evolve(judged, verdict="no", reasons=(*judged.reasons, against), score=0.0)
    )


def _stands_but_for_refusals(suited: Suited) -> bool:
    hard = [reason for reason in suited.judgement.against if reason.hard]
    return bool(hard) and all(reason.topic == "refused" for reason in hard)


def _screens(project: Project, worked: Layout) -> tuple[Screen, ...]:
    """Return what wants ask to be hidden: part of each path that is not to show whole from its gate or door, and what
    is to be screened from a place.
    """
    checks = [w.check for w in project.brief.wants if w.check and w.check.fact == "path_straight_view"]
    asked = [c.amount for c in checks if c.compare == "at most"]
    openings, lie = {o.name for o in project.site.doors_and_gates()}, worked.lie
    known = places_to_look_from(project)

    def level(places: FloatArray) -> FloatArray:
        return np.zeros(len(places)) if lie is None else lie.at(places)

    hidden = [
        (known[path.start], path_points(project, worked, path.name), 1 - min(asked) / 100)
        for path in project.structure.paths
        if asked and path.name in worked.routes and path.start in openings and path.start in known
    ]
    for want in project.brief.wants:
        one = want.asks
        if one and one.kind == "screened" and want.weight != "could" and not tuple(missing_things(project, one)):
            hidden.append((known[one.other], targets(project, one.thing), one.amount / 100))
    return tuple(
        Screen(eye=np.asarray(eye_point(project, eye)), points=points, hidden=share, level=level)
        for eye, points, share in hidden
    )


def _lookup(project: Project, sun: GroundMap) -> SunLookup:
    growing = [month - 1 for month in growing_months(project.site)]  # as the findings read it

    def hours(points: FloatArray) -> FloatArray:
        return np.asarray(sun.over(points)[growing].mean(axis=0))

    return hours


def _sun_grown(project: Project, catalogue: Catalogue) -> SunGrown:
    """Return what tells the sun of the tenth year where some plants stand, those that lived shorter left out."""

    def under(plants: Sequence[Plant]) -> SunLookup:
        there = attrs.evolve(project, planting=attrs.evolve(project.planting, plants=tuple(plants)))
        months = growing_months(project.site)
        return _lookup(project, judged_map(there, catalogue, year=LATER, rough=True, months=months))

    return under


def _places(region: Region) -> FloatArray:
    left, bottom, right, top = plane.bounds(region)
    step = max(0.05, (plane.area(region) / SAMPLES) ** 0.5)
    x, y = np.meshgrid(np.arange(left + step / 2, right, step), np.arange(bottom + step / 2, top, step))
    points = np.column_stack((x.ravel(), y.ravel()))
    kept = points[plane.inside(region, points)]
    return kept if len(kept) else np.array([plane.centre(region)])


def _rounded(hours: float | None) -> float | None:
    return None if hours is None else round(hours / ROUNDED) * ROUNDED
