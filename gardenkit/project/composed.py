"""The palette of a garden composed in its beds: several proposals to choose from, made from the garden's own brief."""

from collections.abc import Callable, Sequence

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting import hand
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing import TASTES, Aims, Composition, Progress, Taste, proposals
from gardenkit.planting.composing.figures import CompositionFigures, figures_of
from gardenkit.planting.composing.given import KeptOut
from gardenkit.planting.composing.stages import ORDER, Held
from gardenkit.planting.composing.woody import as_placed
from gardenkit.planting.limits import Limit
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.planting.suitability import refused_by
from gardenkit.planting.winter import frame_share
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_grounds, beds_arranged, planted_ground, surroundings
from gardenkit.project.season import spring_shift
from gardenkit.project.sight_kept import kept_open
from gardenkit.project.styled import USUAL_FULL, in_style
from gardenkit.project.sun_kept import kept_sunny
from gardenkit.project.sunlight import GroundMap
from gardenkit.project.wanted_plants import months_wanted
from gardenkit.project.within import refused_grounds
from gardenkit.structure.kinds import purpose_of

MONTHS_ASKED = (4, 5, 6, 7, 8, 9, 10)  # of the northern year, where no want says more. House value.


def composed(
    project: Project,
    palette: Sequence[Species],
    *,
    catalogue: Catalogue,
    beds: Sequence[str] = (),
    keep: Sequence[Plant] | None = None,
    sun: GroundMap | None = None,
    variation: int = 1,
    tastes: Sequence[Taste] = TASTES,
    limits: Sequence[Limit] = (),
    held: Held | None = None,
    progress: Progress | None = None,
    stop: Callable[[], bool] | None = None,
) -> tuple[Composition, ...]:
    """Return proposals for the named beds (all without names) round the plants that are kept.

    ``keep`` None: what is locked or was put by hand, and what stands outside the named beds. Kinds the client refuses,
    and those of which the ``limits`` allow none, are left out, or kept off the area of the property that a must is for
    and out of the views that it keeps open;
    no proposal comes to more than the limits where that can be. The stages of an earlier proposal that are ``held``
    stand in all.
    Raises GardenError for a palette that is empty or all ruled out, and for no bed.
    """
    beds = beds_arranged(project, beds)
    there = staying(project, beds=beds) if keep is None else keep
    refused, here = _kept_out(project, palette, limits)
    kinds = [s for s in palette if s.botanical not in refused]
    if palette and not kinds:
        raise GardenError(
            "what the client refuses and the musts of the wants list rule out every kind of the palette; propose a "
            "palette anew, it keeps to them"
        )
    found = proposals(
        kinds,
        bed_grounds(project, beds),
        attrs.evolve(surroundings(project, sun=sun, catalogue=catalogue), kept_out=here),
        keep=there,
        catalogue=catalogue,
        aims=attrs.evolve(aims_of(project), limits=tuple(limits)),
        variation=variation,
        first_number=hand.next_number(project.planting),
        tastes=[in_style(taste, project.brief.style) for taste in tastes],
        ground=planted_ground(project, beds, sun=sun),
        held=held,
        progress=progress,
        stop=stop,
    )
    return tuple(attrs.evolve(one, taste=taste) for one, taste in zip(found, tastes, strict=False))


def as_planted(project: Project, catalogue: Catalogue) -> CompositionFigures | None:
    """Return the figures of the planting as it stands, as a proposal's are: coverage, layering, grouping, repetition.
    None where there is no bed to look at, or nothing in it.
    """
    beds = [bed for bed in layout(project).beds if bed.area > 0 and purpose_of(bed.purpose).arranged]
    if not project.planting.plants or not beds:
        return None
    return figures_of(planted_ground(project), [as_placed(p, catalogue) for p in project.planting.plants])


def staying(project: Project, *, beds: Sequence[str] = ()) -> tuple[Plant, ...]:
    """Return the plants no proposal touches: locked, put by hand, or outside the named beds (none named: all beds that
    are to look at).
    """
    beds = beds_arranged(project, beds)
    if not beds:
        return hand.cleared(project.planting).plants
    here = plane.union(bed.region for bed in bed_grounds(project, beds))
    fixed = set(hand.cleared(project.planting).plants)
    return tuple(p for p in project.planting.plants if p in fixed or not plane.contains(here, p.at))


def taken(
    project: Project, proposal: Composition, *, beds: Sequence[str] = (), upto: int = len(ORDER)
) -> tuple[Plant, ...]:
    """Return the plants of the garden when a proposal is taken for the named beds (all without names), its stages up
    to a number.

    What the proposal was composed round stays, and so does everything outside these beds; what else stood there goes.
    New plants are numbered on. Raises GardenError for an unknown bed.
    """
    beds = beds_arranged(project, beds)
    here = plane.union(bed.region for bed in bed_grounds(project, beds)) if beds else None
    kept = {plant.number for plant in proposal.plants[: proposal.kept]}
    stay = [
        plant
        for plant in project.planting.plants
        if plant.number in kept or (here is not None and not plane.contains(here, plant.at))
    ]
    climbed = {plant.support for plant in stay if plant.support}
    new = [
        plant
        for plant in proposal.up_to(upto)
        if plant.support not in climbed and (here is None or plane.contains(here, plant.at))
    ]
    first = hand.next_number(project.planting)
    return (*stay, *(attrs.evolve(plant, number=first + n) for n, plant in enumerate(new)))


def aims_of(project: Project) -> Aims:
    """Return what style and wants ask of the whole planting; a measured want goes before the style."""
    style = project.brief.style
    asked = {w.check.fact: w.check.amount for w in project.brief.wants if w.check and w.check.compare == "at least"}
    months = MONTHS_ASKED if asked.get("months_in_flower", 0) <= len(MONTHS_ASKED) else (3, *MONTHS_ASKED)
    return Aims(
        months=tuple(sorted({*months, *months_wanted(project)})),
        shift_days=spring_shift(project.site),
        evergreen=asked.get("evergreen_share", 100 * style.evergreen_share) / 100,
        frame=frame_share(style.formal),
        natives=asked.get("natives_share", 100 * style.natives_share) / 100,
        colours=style.colours,
        strict=style.strict,
        closed=1.0 if style.fullness >= USUAL_FULL else style.fullness,
        signature=style.signature,
    )


# ---- helpers


def _kept_out(
    project: Project, palette: Sequence[Species], limits: Sequence[Limit]
) -> tuple[frozenset[str], tuple[KeptOut, ...]]:
    """Return the kinds of a palette that may stand nowhere, and those that may not on some ground: that of an area, and
    under the lines of a view to be kept open.
    """

    def refused(words: Sequence[str]) -> frozenset[str]:
        return frozenset(s.botanical for s in palette if any(refused_by(s, word) for word in words))

    nowhere = refused(project.brief.refused).union(*(one.bars for one in limits if one.ground is None))
    areas = [KeptOut(ground=g, kinds=refused(words)) for g, words in refused_grounds(project, layout(project))]
    areas += [KeptOut(ground=one.ground, kinds=one.bars) for one in limits if one.ground is not None and one.bars]
    return nowhere, (*(one for one in areas if one.kinds), *kept_open(project, palette), *kept_sunny(project, palette))
