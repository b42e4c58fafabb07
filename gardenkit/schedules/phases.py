"""The order of work: what is built first so that nothing is dug up again, and what to beware of at each step."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

import attrs

from gardenkit.findings import LOCAL_CODE
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.earthworks import earthworks
from gardenkit.project.layout import Layout
from gardenkit.schedules import work_steps
from gardenkit.schedules.by_year import PlantingYear, planting_years
from gardenkit.sources import COMMON
from gardenkit.structure.kinds import ground_kind, thing_kind
from gardenkit.structure.laying import LIFT

UTILITIES = "pipes, cables and private lines may lie where you dig: site safety says what to do first"
DUST = "cutting stone throws silica dust: cut wet, with eye, ear and breathing protection"
LIFTING = "stones over 51 lb (23 kg) are for two people or a cart; lift with the legs, gloves and boots on"
STEPS = "steps: one height of riser from foot to head, for an odd one trips; landings and handrails as your code asks"
POSTS = "posts go below frost depth where your code asks for it; heavy climbers need a builder's or engineer's eye"
LADDERS = "ladders: base out a quarter of the working length, keep 10 ft from power lines"
PLANTS = "wear gloves with plants marked toxic or irritant; wash hands after"
WATER = "open water: a small child can drown in 2 in (5 cm); ask which fence or cover your code wants"
FELLING = "felling is for a licensed and insured arborist; ask the town first whether the tree is protected"
BASES = "level and firm ground first; anchor what wind can take; permits before footings"
TRENCH = "no one in a trench or below a cut bank that is not held; walls that hold ground as their engineer says"
EARTHWORK = (
    "strip the topsoil and keep it in a low heap apart",
    "dig and fill to the levels, fill in layers firmed one by one",
    "build the walls that hold ground, with their drains, and spread the topsoil again",
)
MAINS = f"mains current is for a licensed electrician, the water supply for who your supplier asks for; {LOCAL_CODE}"
HEAVY = "heavy things: two people or a cart; pin what a child could pull over"
NONE_CALLED: Mapping[str, Sequence[str]] = MappingProxyType({})
NONE_LEAVE: Mapping[int, Mapping[str, int]] = MappingProxyType({})
ROOTS = "no digging, stacking or driving under the crown of a tree that stays"


@attrs.frozen(kw_only=True)
class Phase:
    """One step of the work, what it holds, and what to beware of; ``step``: its row in the table of steps, "" for the
    years after.
    """

    name: str
    work: tuple[str, ...]
    cautions: tuple[str, ...]
    step: str = ""
    source: str = COMMON


def garden_phases(project: Project, worked: Layout, catalogue: Catalogue, *, served: bool = False) -> tuple[Phase, ...]:
    """Return the steps of one garden, counted from its records; ``served``: water or light is laid on."""
    structure, planting = project.structure, project.planting
    laid = [stone for laying in worked.layings.values() for stone in laying.stones]
    woody = sum(catalogue[p.species].layer in ("tree", "conifer", "shrub") for p in planting.plants)
    return phases(
        paths=len(worked.routes),
        stones=len(laid),
        heavy_stones=sum(stone.weight > LIFT for stone in laid),
        supports=len(structure.supports),
        ground_areas=len(structure.ground_areas),
        ponds=sum(ground_kind(ground_area.kind).water for ground_area in structure.ground_areas),
        trees=woody,
        plants=len(planting.plants),
        kept_trees=sum(tree.keep for tree in project.site.trees),
        removed_trees=sum(not tree.keep for tree in project.site.trees),
        earth=earthworks(project, worked) is not None,
        flights=sum(len(flights) for flights in worked.flights.values()),
        built=[one.name for one in structure.things if thing_kind(one.kind).work == "built"],
        hedges=[one.name for one in structure.things if thing_kind(one.kind).work == "planted"],
        set_down=[one.name for one in structure.things if thing_kind(one.kind).work == "set down"],
        served=served,
        called={
            "paths": tuple(worked.routes),
            "supports": tuple(one.name for one in structure.supports),
            "ground_areas": tuple(one.name for one in structure.ground_areas),
        },
        leaving=_leaving(planting.plants),
        yearly=year_lines(planting_years(planting.plants, catalogue), planting.first_year),
        first_year=planting.first_year,
    )


# The usual order: from what is heavy and deep to what is light and tender. Common practice, no source.
def phases(
    *,
    paths: int,
    stones: int,
    supports: int,
    ground_areas: int,
    trees: int,
    plants: int,
    first_year: int,
    heavy_stones: int = 0,
    ponds: int = 0,
    kept_trees: int = 0,
    removed_trees: int = 0,
    flights: int = 0,
    earth: bool = False,
    built: Sequence[str] = (),
    hedges: Sequence[str] = (),
    set_down: Sequence[str] = (),
    served: bool = False,
    called: Mapping[str, Sequence[str]] = NONE_CALLED,
    leaving: Mapping[int, Mapping[str, int]] = NONE_LEAVE,
    yearly: Sequence[str] = (),
) -> tuple[Phase, ...]:
    """Return the steps that this garden needs, in order; counts of 0 and empty lists of names leave a step out.

    ``served``: pipes, driplines or cables are laid; ``called`` the names of paths, supports and areas where known.
    ``leaving`` the last year after planting -> botanical name -> how many fillers are taken out at its end;
    ``yearly`` what is sown and divided, a line a year.
    """
    steps = [_before(kept_trees)]
    if removed_trees:
        down = f"have {_counted(removed_trees, 'tree')} taken down and the stumps ground out"
        steps.append(_phase(work_steps.CLEARING, work=(down,), cautions=(FELLING,)))
    if earth:
        steps.append(_phase(work_steps.LEVELS, work=EARTHWORK, cautions=(UTILITIES, TRENCH)))
    if ground_areas:
        ground = f"lay the base and surface of {_counted(ground_areas, 'paved or grassed place')}"
        ground += _named(called, "ground_areas")
        work = ("clear and grade, away from the house", ground)
        steps.append(_phase(work_steps.GROUND, work=work, cautions=(DUST, *([WATER] if ponds else []))))
    if paths:
        named = _named(called, "paths")
        steps.append(_paths(paths, stones, heavy_stones, flights, dust=bool(stones and not ground_areas), named=named))
    if supports:
        which = _counted(supports, "support") + _named(called, "supports")
        frames = f"set the posts and frames of {which} before the plants arrive"
        steps.append(_phase(work_steps.SUPPORTS, work=(frames,), cautions=(POSTS, LADDERS)))
    if built:
        steps.append(_phase(work_steps.BUILT, work=(f"build {_and(built)} before the plants",), cautions=(BASES,)))
    if served:
        laid = ("lay pipe, driplines and cables", "try them out before they are covered")
        steps.append(_phase(work_steps.SERVED, work=laid, cautions=(UTILITIES, MAINS)))
    if hedges:
        steps.append(
            _phase(work_steps.HEDGES, work=(f"plant {_and(hedges)}, in the dormant season",), cautions=(PLANTS,))
        )
    if plants:
        steps += _planting(trees, first_year)
    if set_down:
        last = _phase(work_steps.SET_DOWN, work=(f"bring in and set level {_and(set_down)}",), cautions=(HEAVY,))
        steps.insert(len(steps) - bool(plants), last)  # before the years of looking after
    return (*steps, *_later(leaving, yearly, first_year))


def year_lines(years: Iterable[PlantingYear], first_year: int) -> tuple[str, ...]:
    """Return each year's annuals and divisions in words, with what the spare plants are enough for."""
    found = []
    for one in years:
        said = [f"sow or plant {_kinds(one.sown)}"] if one.sown else []
        if one.open_again:
            said.append(f"{_kinds(one.open_again)} stood one season: {one.opens:.1f} m\u00b2 open again")
        if one.divided:
            said.append(
                f"divide {_kinds((each.botanical, each.plants) for each in one.divided)}, each in its season: up to "
                f"{_counted(one.spare, 'plant')} more for nothing, enough for {one.covers:.1f} m\u00b2 of gaps"
                + (
                    f"; {one.placed} of them {'stands' if one.placed == 1 else 'stand'} on the plan"
                    if one.placed
                    else ""
                )
            )
        found.append(f"{first_year + one.year}: {'; '.join(said)}")
    return tuple(found)


def _kinds(counted: Iterable[tuple[str, int]]) -> str:
    return _and([f"{count} {name}" for name, count in counted])


def _later(leaving: Mapping[int, Mapping[str, int]], yearly: Sequence[str], first_year: int) -> Iterable[Phase]:
    """Return the steps of the years after: fillers taken out, annuals and divisions."""
    if leaving:
        gone = tuple(
            f"autumn {first_year + year}: {_and([f'{count} {name}' for name, count in kinds.items()])}"
            for year, kinds in sorted(leaving.items())
        )
        cut = "cut them at the ground where pulling would tear their neighbours' roots; move what is still good"
        yield Phase(name="Fillers taken out as the rest closes", work=(*gone, cut), cautions=())
    if yearly:
        yield Phase(name="The planting from year to year", work=tuple(yearly), cautions=(PLANTS,))


def _phase(step: str, *, work: Iterable[str], cautions: Iterable[str]) -> Phase:
    return Phase(step=step, name=step, work=tuple(work), cautions=tuple(cautions))


def _leaving(plants: Iterable[Plant]) -> dict[int, Counter[str]]:
    found: dict[int, Counter[str]] = {}
    for plant in plants:
        if plant.until is not None:
            found.setdefault(plant.until, Counter())[plant.species] += 1
    return found


def _before(kept_trees: int) -> Phase:
    work = ["ask what permits the work needs", "have buried utilities marked"]
    work.append("peg out the plan and look at it from the windows")
    cautions = [f"{LOCAL_CODE} before building", UTILITIES]
    if kept_trees:
        work.append(f"fence off {_counted(kept_trees, 'tree that stays', 'trees that stay')} at the edge of the crown")
        cautions.append(ROOTS)
    return _phase(work_steps.BEFORE, work=tuple(work), cautions=tuple(cautions))


def _paths(paths: int, stones: int, heavy_stones: int, flights: int, *, dust: bool, named: str) -> Phase:
    work = [f"set out {_counted(paths, 'path')}{named} on the ground with a hose or cord"]
    if flights:
        work.append(f"build {_counted(flights, 'flight')} of steps from the foot up, before what they join is surfaced")
    if stones:
        work.append(f"lay {_counted(stones, 'stone')} dry first, walk them, then bed them")
    if heavy_stones:
        work.append(f"plan help for the {_counted(heavy_stones, 'stone')} over 51 lb (23 kg)")
    cautions = (LIFTING, *([DUST] if dust else []), *([STEPS] if flights else []))
    return _phase(work_steps.PATHS, work=tuple(work), cautions=cautions)


def _planting(trees: int, first_year: int) -> list[Phase]:
    work = ["loosen and feed the soil of the beds"]
    if trees:
        work.append(f"plant {_counted(trees, 'tree or shrub', 'trees and shrubs')} first, root flare at the surface")
    work += ["then climbers, then perennials, ground cover and bulbs", "mulch, keeping stems clear, and water in"]
    after = ("water weekly until established", "replace losses, thin where plants crowd")
    return [
        Phase(
            step=work_steps.PLANTING,
            name=f"{work_steps.PLANTING}, spring or early autumn {first_year}",
            work=tuple(work),
            cautions=(PLANTS,),
        ),
        Phase(name="First three years", work=after, cautions=()),
    ]


def _named(called: Mapping[str, Sequence[str]], what: str) -> str:
    return f" ({_and(called[what])})" if called.get(what) else ""


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _counted(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
