"""Things plants climb on: whether people fit through, whether it suits the climber, and whether it blocks a door,
window or eave.
"""

import math
from collections.abc import Mapping, Sequence

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.structure.clearances import CLEARANCES, clearance_findings
from gardenkit.structure.kinds import is_overhead, support_kind
from gardenkit.structure.kinds.rows import Hold
from gardenkit.structure.structure import Support
from gardenkit.units import INCH, inch_words, show_length

MISSOURI = "Univ. of Missouri Extension G6840, extension.missouri.edu/p/G6840"
MISSOURI_TWINERS = "Univ. of Missouri, ipm.missouri.edu/meg"
ADA_HEADROOM = Figure(80 * INCH, "m", "2010 ADA Standards 307.4 and IRC R311.7.2, second-hand")
VINE_SIDE = Figure(6 * INCH, "m", f"vine growth, 6 to 12 in each side; {MEMORY}")
THICK_POST = Figure(4 * INCH, "m", f"a twiner goes round posts to about 4 in; {COMMON}")
TRELLIS_STAND_OFF = Figure(2 * INCH, "m", f"1-2 in at least behind a wall trellis, 1-4 in with spacers; {COMMON}")
NEAR = 0.6  # m: a support this near an opening stands in front of it. House value.


ON_SURFACE = ("", "masonry", "wood")
HABITS: dict[str, tuple[str, str]] = {  # habit: what it wants, source
    "twining": ("slender uprights: cord, wire, thin poles", MISSOURI_TWINERS),
    "tendrils": (
        "mesh or lattice with cross members, laths to 1/2 in thick, mesh 2 to 4 in",
        f"{MISSOURI}; sizes {COMMON}",
    ),
    "leaf stalks": (
        "mesh or lattice with cross members, laths to 1/2 in thick, mesh 2 to 4 in",
        f"{MISSOURI}; sizes {COMMON}",
    ),
    "discs": ("a solid face, not wires", MISSOURI),
    "roots": ("solid masonry; hard to remove, can harm soft mortar and siding", MISSOURI),
    "scrambling": ("a sturdy frame it is tied to", COMMON),
    "trained": ("wires or rails it is tied flat to", COMMON),
}
WEIGHTS = ("light", "medium", "heavy", "")
ENGINEER = "ask an engineer or builder"


# ---- does the climber suit the support


def holds(
    habit: Sequence[str] | str, weight: str, support: Support | str, *, surface: str = "", post_across: float = 4 * INCH
) -> bool:
    """Return whether a support as usually built holds a climber by one of its habits, and bears its weight.

    The words are those of ``match``, which says why not. How a plant climbs not being known, nothing holds it.
    """
    kind = support_kind(support if isinstance(support, str) else support.kind)
    habits = (habit,) if isinstance(habit, str) else tuple(habit)
    bears = weight != "heavy" or kind.hold.heavy
    return bears and any(_holds_on(word, kind.hold, surface, post_across) for word in habits)


def match(
    habit: Sequence[str] | str, weight: str, support: Support | str, *, surface: str = "", post_across: float = 4 * INCH
) -> tuple[Finding, ...]:
    """Return how a climber's habit and weight suit a support (its record, or a kind by name).

    ``habit`` is a catalogue's ``climbs_by`` (several words: the best fit counts), ``weight`` light, medium or heavy,
    ``surface`` what the support stands against: "masonry", "wood" or "". A heavy climber always brings the advice to
    ask an engineer or builder. Raises GardenError for words not known.
    """
    kind, name = (support, support) if isinstance(support, str) else (support.kind, support.name)
    hold = support_kind(kind).hold
    for word, known, what in ((weight, WEIGHTS, "weight"), (surface, ON_SURFACE, "surface")):
        if word not in known:
            raise GardenError(f'there is no {what} "{word}"{nearest(word, known)}')
    habits = (habit,) if isinstance(habit, str) else tuple(habit)
    if not habits:
        raise GardenError("how the plant climbs is not known; look it up before choosing its support")
    answers = [_habit_findings(name, word, hold, surface, post_across) for word in habits]
    best = min(answers, key=lambda found: sum(f.seriousness in {"warning", "stop"} for f in found) * 10 + len(found))
    return (*best, *_weight_findings(name, weight, hold))


def _holds_on(habit: str, hold: Hold, surface: str, post_across: float) -> bool:
    """Return whether a climber by one habit finds what it holds on by."""
    if habit not in HABITS:
        raise GardenError(f'no plant climbs by "{habit}"{nearest(habit, HABITS)}')
    if habit == "twining":  # round bars and wires, and round posts that are not too thick
        return hold.slender or (not (hold.solid or hold.mesh) and post_across <= THICK_POST + 1e-9)
    if habit in {"tendrils", "leaf stalks"}:
        return hold.mesh
    if habit in {"roots", "discs"}:
        return hold.solid if surface == "" else surface == "masonry"
    return hold.trains if habit == "trained" else True  # a scrambler is tied to anything


def _habit_findings(where: str, habit: str, hold: Hold, surface: str, post_across: float) -> tuple[Finding, ...]:
    held = _holds_on(habit, hold, surface, post_across)
    wants, source = HABITS[habit]
    climber = f"a climber by {habit} wants {wants}"
    if habit == "twining" and not held:
        what = "too thick or flat for a twiner; add wire through eye screws every 6 to 8 in"
        return (_finding(where, what, climber, f"{source}; spacing {COMMON}", "caution"),)
    if habit == "twining" and not hold.slender:
        return (_finding(where, "twiners go round its posts; a wire up each helps", climber, source, "note"),)
    if habit in {"tendrils", "leaf stalks"} and not held:
        what = "gives tendrils nothing thin to hold; add mesh or lattice"
        return (_finding(where, what, climber, source, "caution"),)
    if habit in {"roots", "discs"}:
        return _clinger_findings(where, habit, hold, surface, climber)
    if habit == "trained" and not held:
        what = "has no wires or rails to train on; add level wires"
        return (_finding(where, what, f"a trained plant wants {wants}", source, "caution"),)
    if habit == "scrambling":
        return (_finding(where, "tie it in as it grows; it does not hold by itself", climber, source, "note"),)
    return ()


def _clinger_findings(where: str, habit: str, hold: Hold, surface: str, climber: str) -> tuple[Finding, ...]:
    if surface == "wood":
        what = "clings to wood siding, harms it and does not come off cleanly; choose another climber"
        return (_finding(where, what, climber, f"{MISSOURI}; {COMMON}", "warning"),)
    if surface == "masonry":
        what = "clings to the wall itself: hard to remove, can harm soft mortar; look at the joints first"
        return (_finding(where, what, climber, MISSOURI, "caution"),)
    if not hold.solid:
        what = f"a climber by {habit} does not hold on bars, wires or laths"
        return (_finding(where, what, climber, f"{MISSOURI}; {COMMON}", "warning"),)
    return (
        _finding(where, "clings to the boards and shortens their life", climber, f"{MISSOURI}; {HOUSE}", "caution"),
    )


def _weight_findings(where: str, weight: str, hold: Hold) -> tuple[Finding, ...]:
    if weight == "heavy":
        why = "no dead load of vines is published; wisteria, trumpet vine, grape, rambling rose, climbing hydrangea"
        if hold.heavy:
            what = f"a heavy climber: heavy timber or welded steel only; {ENGINEER} to size it; {LOCAL_CODE}"
            return (_finding(where, what, why, COMMON, "caution"),)
        strong = "heavy timber or welded steel, never lath"
        what = f"too weak for a heavy climber, which wants {strong}; {ENGINEER}; {LOCAL_CODE}"
        return (_finding(where, what, why, COMMON, "warning"),)
    return ()


# ---- do people fit through


def passage_findings(
    where: str, *, clear_width: float, clear_height: float, path_width: float, planted: bool = True
) -> tuple[Finding, ...]:
    """Return whether an arch, arbour or pergola leaves room for the path under it, metres; ``planted`` allows for the
    vine.
    """
    found = []
    vine = 2 * VINE_SIDE if planted else 0.0
    if clear_width < path_width - 1e-9:
        what = f"{inch_words(clear_width)} between posts is narrower than the path of {inch_words(path_width)}"
        found.append(_finding(where, what, "", HOUSE, "warning"))
    elif clear_width < path_width + vine - 1e-9:
        what = (
            f"{inch_words(clear_width)} between posts leaves no room for the climber beside "
            f"the path of {inch_words(path_width)}"
        )
        found.append(_finding(where, what, VINE_SIDE.cited(), VINE_SIDE.source, "caution"))
    if clear_height < ADA_HEADROOM - 1e-9:
        what = f"headroom {inch_words(clear_height)} is below 80 in; {LOCAL_CODE}"
        said = _finding(where, what, "", ADA_HEADROOM.source, "warning")
        found.append(attrs.evolve(said, rule="arch height", wanted=ADA_HEADROOM + vine / 2))
    elif planted and clear_height < ADA_HEADROOM + VINE_SIDE - 1e-9:
        what = f"headroom {inch_words(clear_height)} is kept only while the climber is cut back"
        said = _finding(where, what, VINE_SIDE.cited(), VINE_SIDE.source, "note")
        found.append(attrs.evolve(said, rule="arch height", wanted=ADA_HEADROOM + VINE_SIDE))
    return tuple(found)


def size_findings(support: Support) -> tuple[Finding, ...]:
    """Return how a support compares with the usual sizes of its kind; empty for kinds without."""
    sizes, height, width = support_kind(support.kind).sizes, support.height, _length(support)
    if sizes is None or (sizes.low - 1e-9 <= height <= sizes.high + 1e-9 and width >= sizes.width - 1e-9):
        return ()
    if sizes.too_small:
        what = f"{show_length(width)} wide and {show_length(height)} high is small"
        return (_finding(support.name, what, sizes.words, sizes.source, "caution"),)
    return (_finding(support.name, f"{show_length(height)} high; {sizes.words}", "", sizes.source, "note"),)


# ---- what it stands in front of


def fit_findings(
    support: Support,
    *,
    openings: Sequence[Opening] = (),
    buildings: Sequence[Building] = (),
    things: Mapping[str, tuple[str, Point]] | None = None,
) -> tuple[Finding, ...]:
    """Return what a support blocks: doors, windows, the eave it stands under, and ``things`` (name: kind of
    ``CLEARANCES``, point).
    """
    shape = plane.line(support.line)
    found: list[Finding] = []
    for opening in openings:
        doorway = plane.line((opening.start, opening.end))
        if plane.distance(shape, doorway) > NEAR or is_overhead(support):
            continue
        if _overlap(support, opening) > 0.02 and support.height > opening.sill + 1e-9:
            found.append(_opening_finding(support, opening))
    for building in buildings:
        walls = plane.line((*building.outline, building.outline[0]))
        if plane.distance(shape, walls) <= NEAR and support.height > building.eaves - 6 * INCH:
            what = f"reaches the eave of {building.name}; keep climbers off gutters, roof and shingles"
            found.append(_finding(support.name, what, f"eave at {show_length(building.eaves)}", HOUSE, "caution"))
    for name, (kind, at) in (things or {}).items():
        far = plane.distance(shape, plane.point(at))
        if kind not in CLEARANCES:
            raise GardenError(f'no clearance is known for "{kind}" ({name}){nearest(kind, CLEARANCES)}')
        found.extend(attrs.evolve(f, at=at) for f in clearance_findings(f"{support.name}, {name}", kind, far))
    return tuple(found)


def wall_notes(support: Support) -> tuple[Finding, ...]:
    """Return how to hold a support off the wall it is ``against``; empty for one that stands free."""
    if not support.against:
        return ()
    what = "hold it 1 to 4 in off the wall for air; hinge the foot so that the wall can be painted"
    notes = [_finding(support.name, what, TRELLIS_STAND_OFF.cited(), COMMON, "note")]
    notes += [_finding(support.name, said.what, "", said.source, "note") for said in support_kind(support.kind).fixings]
    return tuple(notes)


# ---- helpers


def _length(support: Support) -> float:
    return math.fsum(math.dist(a, b) for a, b in zip(support.line, support.line[1:], strict=False))


def _overlap(support: Support, opening: Opening) -> float:
    """Return how many metres of an opening's width a support stands in front of."""
    (ax, ay), width = opening.start, opening.width
    if width <= 0:
        return 0.0
    ux, uy = (opening.end[0] - ax) / width, (opening.end[1] - ay) / width
    along = [(x - ax) * ux + (y - ay) * uy for x, y in support.line]
    return max(0.0, min(width, max(along)) - max(0.0, min(along)))


def _opening_finding(support: Support, opening: Opening) -> Finding:
    seriousness: Seriousness = "warning" if opening.kind != "window" else "caution"
    tail = f"; keep escape windows clear, {LOCAL_CODE}" if opening.kind == "window" else ""
    what = f"stands in front of {opening.kind} {opening.name}{tail}"
    why = f"within {NEAR:.1f} m and higher than its sill"
    return Finding(
        where=support.name,
        what=what,
        why=why,
        source=HOUSE,
        seriousness=seriousness,
        at=opening.middle,
        topic="supports",
    )


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="supports")
