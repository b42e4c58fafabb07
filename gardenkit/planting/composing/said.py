"""How several proposals for one garden differ, each in a sentence of the trade's words: what it is, and its merits."""

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from gardenkit.planting.composing import Composition
from gardenkit.planting.composing.figures import CompositionFigures
from gardenkit.planting.composing.stages import ORDER, number_of
from gardenkit.units import counted

LEAST_AHEAD = 0.04  # of the mean of all: a proposal nearer to the others than this is not said to lead. House value.
LEAST_BARE = 0.01  # of the ground: less of it bare is not said. House value.
IN_SUN = {"full": "full sun", "part": "part sun", "shade": "shade"}
MOST_SAID = 3  # merits told of one proposal. House value.
# The stages of a composition in the trade's words.
WOODY = {
    "anchor": ("specimen tree", "specimen trees"),
    "screen": ("screening shrub", "screening shrubs"),
    "hedge": ("plant in a clipped hedge", "plants in a clipped hedge"),
    "mass": ("shrub in masses", "shrubs in masses"),
    "accent": ("upright accent", "upright accents"),
}
SIGNATURE = ("plant of the signature kinds", "plants of the signature kinds")
DRIFTED = number_of("drift")
LOW = {
    "line": "one clipped kind along the walk",
    "edge": "edging along the walk",
    "ground": "a ground layer",
    "filler": "fillers that are taken out later",
    "bulbs": "bulbs in clumps",
}
Reading = Callable[[CompositionFigures], float]

# What a proposal may have most of: its words, and where they are read. Larger is better in each.
MERITS: Mapping[str, Reading] = {
    "the ground closed soonest": lambda f: f.coverage[3],
    "the largest drifts": lambda f: f.drift_area,
    "groups that come back most often": lambda f: f.repeats,
    "most ground under shrubs": lambda f: f.shrubs,
    "the most evergreens": lambda f: f.evergreen,
    "neighbours in the closest harmony of colour": lambda f: f.harmony,
    "least that is tall in front of low": lambda f: 1 - f.tall_in_front,
    "the fewest single dots": lambda f: 1 - f.dots,
    "the most kinds": lambda f: f.kinds,
    "the most for wildlife": lambda f: f.brings.get("wildlife", 0.0),
    "the most scent": lambda f: f.brings.get("scent", 0.0),
    "the most in winter": lambda f: f.brings.get("winter", 0.0),
    "the fewest plants to buy": lambda f: -f.plants,
}


def sentences(found: Sequence[Composition]) -> tuple[str, ...]:
    """Return for each proposal how it is made, what it has most of, and where the palette falls short."""
    return tuple(
        " ".join(filter(None, (_made(one), _leads(one, found), _thinned(one), _lacking(one)))) for one in found
    )


def headings(found: Sequence[Composition]) -> tuple[str, ...]:
    """Return a heading for each proposal, no two the same: its character, and for those of one character what each has
    most of, else the number of its variation.
    """
    said = []
    for one in found:
        alike = [each for each in found if each.taste.words == one.taste.words]
        told = (
            [one.taste.words] if len(alike) == 1 else [one.taste.words, *(_ahead(one, alike)[:1] or [_numbered(one)])]
        )
        said.append(": ".join(told))
    again = {words for words in said if said.count(words) > 1}
    return tuple(
        f"{words}, {_numbered(one)}" if words in again else words for words, one in zip(said, found, strict=True)
    )


def so_far(one: Composition, upto: int) -> str:
    """Return what a proposal has set by the end of a stage, 1 to 7, and how many of its plants are still to come."""
    there = _set_by(one, upto)
    set_, more = len(one.up_to(upto)), len(one.new) - len(one.up_to(upto))
    made = f"{_listed(there)}: {counted(set_, 'plant')}." if there else "nothing is set yet."
    return f"Up to the {ORDER[upto - 1]}: {made} {counted(more, 'plant')} more in the stages that follow."


def differing(one: Composition, other: Composition) -> float:
    """Return the share of the ground, 0 to 1, on which two proposals for the same beds plant another kind."""
    a, b = (_kinds_on(each) for each in (one, other))
    return float(np.mean([x != y for x, y in zip(a, b, strict=True)])) if a else 0.0


# ---- helpers


def _made(one: Composition) -> str:
    said = _set_by(one, len(ORDER))
    left = f"; the style leaves {1 - one.closed:.0%} open between plants" if one.closed < 1 else ""
    return f"{_listed(said)}: {one.figures.coverage[5]:.0%} of the ground closed by year 5{left}." if said else ""


def _set_by(one: Composition, upto: int) -> list[str]:
    """Return what the stages up to a number have set, each in words."""
    there = {stage: n for stage, n in one.stages.items() if number_of(stage) <= upto}
    said = [counted(there[stage], *words) for stage, words in WOODY.items() if there.get(stage)]
    if upto < DRIFTED and there.get("signature"):
        said.append(counted(there["signature"], *SIGNATURE))
    if upto >= DRIFTED and one.figures.drifts:
        said.append(f"{counted(one.figures.drifts, 'drift')} of about {one.figures.drift_area:.1f} m\u00b2")
    return said + [words for stage, words in LOW.items() if there.get(stage)]


def _numbered(one: Composition) -> str:
    return f"variation {one.variation}"


def _ahead(one: Composition, found: Sequence[Composition]) -> list[str]:
    """Return what a proposal has most of, what it leads in by most first."""
    ahead = []
    for words, read in MERITS.items():
        values = [read(each.figures) for each in found]
        mine, others = read(one.figures), sorted(values)[-2:]
        lead = (mine - others[0]) / max(abs(float(np.mean(values))), 1e-9)
        if len(found) > 1 and mine == others[-1] and lead >= LEAST_AHEAD:
            ahead.append((lead, words))
    return [words for _, words in sorted(ahead, reverse=True)]


def _leads(one: Composition, found: Sequence[Composition]) -> str:
    told = _ahead(one, found)[:MOST_SAID]
    if not told:
        return "The middle course: in nothing does it stand out." if len(found) > 1 else ""
    return f"Of all proposals it has {_listed(told)}."


def _thinned(one: Composition) -> str:
    if not one.thinned:
        return ""
    return f"Thinned by {counted(one.thinned, 'plant')} to keep to what the client lets it come to."


def _lacking(one: Composition) -> str:
    every = sum(d.area for d in one.division.drifts)
    short = {word: area for word, area in one.bare.items() if area >= LEAST_BARE * every}
    if not short:
        return ""
    places = _listed([f"{area:.1f} m\u00b2 in {IN_SUN[word]}" for word, area in short.items()])
    return f"About {places} stay bare, as no herb of the palette takes that sun: add a ground cover that does."


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _kinds_on(one: Composition) -> list[str]:
    return [one.labels[d] if 0 <= d < len(one.labels) else "" for d in one.division.owner.tolist()]
