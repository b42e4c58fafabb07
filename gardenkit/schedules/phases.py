"""The order of work: what is built first so that nothing is dug up again, and what to beware of at each step."""

from collections.abc import Sequence

import attrs

from gardenkit.findings import LOCAL_CODE
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.sources import COMMON
from gardenkit.structure.kinds import patch_kind, thing_kind
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
HEAVY = "heavy things: two people or a cart; pin what a child could pull over"
ROOTS = "no digging, stacking or driving under the crown of a tree that stays"


@attrs.frozen(kw_only=True)
class Phase:
    """One step of the work, what it holds, and what to beware of."""

    name: str
    work: tuple[str, ...]
    cautions: tuple[str, ...]
    source: str = COMMON


def garden_phases(project: Project, worked: Layout, catalogue: Catalogue) -> tuple[Phase, ...]:
    """Return the steps of one garden, counted from its records."""
    structure, planting = project.structure, project.planting
    laid = [stone for laying in worked.layings.values() for stone in laying.stones]
    woody = sum(catalogue[p.species].layer in ("tree", "conifer", "shrub") for p in planting.plants)
    return phases(
        paths=len(worked.routes),
        stones=len(laid),
        heavy_stones=sum(stone.weight > LIFT for stone in laid),
        supports=len(structure.supports),
        patches=len(structure.patches),
        ponds=sum(patch_kind(patch.kind).water for patch in structure.patches),
        trees=woody,
        plants=len(planting.plants),
        kept_trees=sum(tree.keep for tree in project.site.trees),
        removed_trees=sum(not tree.keep for tree in project.site.trees),
        flights=sum(len(flights) for flights in worked.flights.values()),
        built=[one.name for one in structure.things if thing_kind(one.kind).work == "built"],
        hedges=[one.name for one in structure.things if thing_kind(one.kind).work == "planted"],
        set_down=[one.name for one in structure.things if thing_kind(one.kind).work == "set down"],
        first_year=planting.first_year,
    )


# The usual order: from what is heavy and deep to what is light and tender. Common practice, no source.
def phases(
    *,
    paths: int,
    stones: int,
    supports: int,
    patches: int,
    trees: int,
    plants: int,
    first_year: int,
    heavy_stones: int = 0,
    ponds: int = 0,
    kept_trees: int = 0,
    removed_trees: int = 0,
    flights: int = 0,
    built: Sequence[str] = (),
    hedges: Sequence[str] = (),
    set_down: Sequence[str] = (),
) -> tuple[Phase, ...]:
    """Return the steps that this garden needs, in order; counts of 0 and empty lists of names leave a step out."""
    steps = [_before(kept_trees)]
    if removed_trees:
        down = f"have {_counted(removed_trees, 'tree')} taken down and the stumps ground out"
        steps.append(Phase(name="Clearing", work=(down,), cautions=(FELLING,)))
    if patches:
        ground = f"lay the base and surface of {_counted(patches, 'paved or grassed place')}"
        work = ("clear and grade, away from the house", ground)
        steps.append(Phase(name="Ground and paving", work=work, cautions=(DUST, *([WATER] if ponds else []))))
    if paths:
        steps.append(_paths(paths, stones, heavy_stones, flights, dust=bool(stones and not patches)))
    if supports:
        frames = f"set the posts and frames of {_counted(supports, 'support')} before the plants arrive"
        steps.append(Phase(name="Supports", work=(frames,), cautions=(POSTS, LADDERS)))
    if built:
        steps.append(Phase(name="Built things", work=(f"build {_and(built)} before the plants",), cautions=(BASES,)))
    if hedges:
        steps.append(Phase(name="Hedges", work=(f"plant {_and(hedges)}, in the dormant season",), cautions=(PLANTS,)))
    if plants:
        steps += _planting(trees, first_year)
    if set_down:
        last = Phase(name="Set down last", work=(f"bring in and set level {_and(set_down)}",), cautions=(HEAVY,))
        steps.insert(len(steps) - bool(plants), last)  # before the years of looking after
    return tuple(steps)


def _before(kept_trees: int) -> Phase:
    work = ["ask what permits the work needs", "have buried utilities marked"]
    work.append("peg out the plan and look at it from the windows")
    cautions = [f"{LOCAL_CODE} before building", UTILITIES]
    if kept_trees:
        work.append(f"fence off {_counted(kept_trees, 'tree that stays', 'trees that stay')} at the edge of the crown")
        cautions.append(ROOTS)
    return Phase(name="Before anything is dug", work=tuple(work), cautions=tuple(cautions))


def _paths(paths: int, stones: int, heavy_stones: int, flights: int, *, dust: bool) -> Phase:
    work = [f"set out {_counted(paths, 'path')} on the ground with a hose or cord"]
    if flights:
        work.append(f"build {_counted(flights, 'flight')} of steps from the foot up, before what they join is surfaced")
    if stones:
        work.append(f"lay {_counted(stones, 'stone')} dry first, walk them, then bed them")
    if heavy_stones:
        work.append(f"plan help for the {_counted(heavy_stones, 'stone')} over 51 lb (23 kg)")
    cautions = (LIFTING, *([DUST] if dust else []), *([STEPS] if flights else []))
    return Phase(name="Paths", work=tuple(work), cautions=cautions)


def _planting(trees: int, first_year: int) -> list[Phase]:
    work = ["loosen and feed the soil of the beds"]
    if trees:
        work.append(f"plant {_counted(trees, 'tree or shrub', 'trees and shrubs')} first, root flare at the surface")
    work += ["then climbers, then perennials, ground cover and bulbs", "mulch, keeping stems clear, and water in"]
    after = ("water weekly until established", "replace losses, thin where plants crowd")
    return [
        Phase(name=f"Planting, spring or early autumn {first_year}", work=tuple(work), cautions=(PLANTS,)),
        Phase(name="First three years", work=after, cautions=()),
    ]


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _counted(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
