"""How far a plan keeps to its style, measure by measure, with the plants, lines and materials that are answerable."""

import math
from collections import Counter
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

import attrs

from gardenkit.garden.facts import plant_facts
from gardenkit.garden.kept_setting import NAMED, NEAR, NEAR_ENOUGH, Kept, at_least, leaning, most
from gardenkit.planting.balance import repeats
from gardenkit.planting.choosing_rules import has_colour
from gardenkit.planting.composing.carpet import CLOSED_BY
from gardenkit.planting.composing.figures import covered
from gardenkit.planting.composing.kinds import kind_of
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.manner import TEXTURE, neatness
from gardenkit.planting.species import Species
from gardenkit.planting.standing import standing
from gardenkit.project.plant_choice import bed_grounds, planted_ground
from gardenkit.project.planting_figures import sides
from gardenkit.project.remembered import Remembered
from gardenkit.project.styled import built_of, least_of_signature, wishes_of
from gardenkit.structure.kinds import ground_kind, surface_kind
from gardenkit.structure.meander import LONGEST

if TYPE_CHECKING:
    from gardenkit.garden import Garden

YEAR = 5  # of growth in which a style is to show. House value.
FAVOURED = 1 / 3  # of the plants, in the forms that are favoured. House value.
FEW, MANY = 2.0, 12.0  # plants of a kind together in a bed, at either end of the setting. House values.
SUMMER = "summer"


Measure = Callable[["Garden"], Kept]


def style_kept(garden: "Garden") -> tuple[Kept, ...]:
    """Return how far the plan keeps to each setting of the style."""
    return tuple(measure(garden) for measure in _MEASURES)


# ---- lines and materials


def _curving(garden: "Garden") -> Kept:
    wanted, winds = garden.project.brief.style.curving, {}
    for name, route in garden.layout.routes.items():
        ends = route.curve.points[0], route.curve.points[-1]
        straight = math.dist(ends[0], ends[1])
        if straight > 0:
            winds[name] = min(1.0, max(0.0, (route.length / straight - 1) / (LONGEST - 1)))
    if not winds:
        return Kept(setting="curving", wanted=wanted)
    lengths = {name: garden.layout.routes[name].length for name in winds}
    found = sum(winds[name] * lengths[name] for name in winds) / sum(lengths.values())
    return leaning("curving", wanted, found, f"paths wind {found:.0%} of the most that is walked", winds)


def _symmetry(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.symmetry
    alike = _remembered(garden, "alike", lambda: _alike(garden))
    if not alike:
        return Kept(setting="symmetry", wanted=wanted)
    found = sum(alike.values()) / len(alike)
    return at_least("symmetry", wanted, found, "both sides of the paths alike", alike, alike, slack=NEAR_ENOUGH)


def _materials(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.materials
    built: list[tuple[str, tuple[str, ...]]] = []
    for path in garden.project.structure.paths:
        surface = surface_kind(path.surface)
        built.append((f"path {path.name}", (surface.words, surface.name)))
    for ground_area in garden.project.structure.ground_areas:
        kind = ground_kind(ground_area.kind)
        if kind.built_as:
            built.append((f"{kind.name} {ground_area.name}", (kind.name, kind.words, kind.built_as)))
    if not wanted or not built:
        return Kept(setting="materials", wanted=1.0)
    other = [f"{name} of {words[-1]}" for name, words in built if not set(words) & set(wanted)]
    found = 1 - len(other) / len(built)
    figure = f"{len(built) - len(other)} of {len(built)} built of {', '.join(wanted)}"
    named = other or [f"{name} of {words[-1]}" for name, words in built]
    return Kept(
        setting="materials", wanted=1.0, found=found, is_kept=not other, figure=figure, answerable=tuple(named[:NAMED])
    )


# ---- plants


def _formal(garden: "Garden") -> Kept:
    return _mean(garden, "formal", neatness, "plants stand neat")


def _texture(garden: "Garden") -> Kept:
    return _mean(garden, "texture", lambda s: TEXTURE[s.texture], "leaves are coarse")


def _evergreen(garden: "Garden") -> Kept:
    return _share(garden, "evergreen_share", lambda s: s.is_evergreen, "of the plants evergreen")


def _natives(garden: "Garden") -> Kept:
    return _share(garden, "natives_share", lambda s: s.native_na, "of the plants native to North America")


def _colours(garden: "Garden") -> Kept:
    style, wishes = garden.project.brief.style, wishes_of(garden.project)
    flowering = {s: n for s, n in garden.kinds.items() if s.bloom_months}
    if not style.colours or not flowering:
        return Kept(setting="strict", wanted=style.strict)
    inside = {s.botanical: float(has_colour(s, style.colours)) for s in flowering}
    found = sum(inside.values()) / len(inside)
    words = "of the kinds flower in the style's colours"
    words += f", at least {wishes.colour_share:.0%} looked for" if wishes.colour_share else ""
    bearing = {s.botanical: inside[s.botanical] * n for s, n in flowering.items()}
    kept = at_least("strict", wishes.colour_share, found, words, inside, bearing)
    return attrs.evolve(kept, wanted=style.strict)


def _variety(garden: "Garden") -> Kept:
    style, wishes, count = garden.project.brief.style, wishes_of(garden.project), len(garden.kinds)
    if not count:
        return Kept(setting="variety", wanted=style.variety)
    middle = (wishes.kinds_least + wishes.kinds_most) / 2
    kept = abs(count - middle) <= NEAR_ENOUGH * middle
    figure = f"{count} kinds, {wishes.kinds_least} to {wishes.kinds_most} looked for"
    by_number = [s.botanical for s, n in sorted(garden.kinds.items(), key=lambda one: one[1])]
    many = count > middle and not kept  # too many: those there are fewest of; else those that most plants are of
    return Kept(
        setting="variety",
        wanted=style.variety,
        found=count / middle * style.variety,
        is_kept=kept,
        figure=figure,
        answerable=tuple((by_number if many else by_number[::-1])[:NAMED]),
    )


def _repetition(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.repetition
    again = _remembered(garden, "again", lambda: _again(garden))
    if not again:
        return Kept(setting="repetition", wanted=wanted)
    found = sum(again.values()) / len(again)
    words = "of the kinds come back along a path"
    return at_least("repetition", wanted, found, words, again, again, slack=NEAR_ENOUGH)


def _boldness(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.boldness
    holding = garden.layout.beds_at([plant.at for plant, _ in garden.planted])
    beds = Counter((bed.name, s.botanical) for (_, s), bed in zip(garden.planted, holding, strict=True) if bed)
    if not beds:
        return Kept(setting="boldness", wanted=wanted)
    mean = sum(beds.values()) / len(beds)
    found = min(1.0, max(0.0, (mean - FEW) / (MANY - FEW)))
    each = {f"{kind} in {bed}": min(1.0, max(0.0, (n - FEW) / (MANY - FEW))) for (bed, kind), n in beds.items()}
    return leaning("boldness", wanted, found, f"{mean:.1f} of a kind together in a bed", each)


def _fullness(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.fullness
    if not garden.planted or not garden.beds:
        return Kept(setting="fullness", wanted=wanted)
    each = dict(_remembered(garden, "closed", lambda: _closed(garden)))
    found = each.pop("")
    words = f"{found:.0%} of the ground under leaves in year {CLOSED_BY}"
    return leaning("fullness", wanted, found, words, each, near=NEAR)


def _signature(garden: "Garden") -> Kept:
    wanted = garden.project.brief.style.signature
    if not wanted:
        return Kept(setting="signature", wanted=1.0)
    there, least = {s.botanical for s in garden.kinds}, least_of_signature(garden.project.brief.style)
    missing, held = tuple(n for n in wanted if n not in there), tuple(n for n in wanted if n in there)
    found = 1 - len(missing) / len(wanted)
    count = len(wanted) - len(missing)
    figure = f"{count} of {len(wanted)} signature plants are there"
    return Kept(
        setting="signature",
        wanted=least / len(wanted),
        found=found,
        is_kept=count >= least,
        figure=figure,
        answerable=(held if count >= least else missing)[:NAMED],
    )


def _forms(garden: "Garden") -> Kept:
    forms = garden.project.brief.style.forms
    if not forms or not garden.kinds:
        return Kept(setting="forms", wanted=FAVOURED)
    every = sum(garden.kinds.values())
    found = sum(n for s, n in garden.kinds.items() if s.form in forms) / every
    other = {f"{s.botanical} ({s.form})": -float(n) for s, n in garden.kinds.items() if s.form not in forms}
    bearing = {f"{s.botanical} ({s.form})": float(n) for s, n in garden.kinds.items() if s.form in forms}
    return at_least("forms", FAVOURED, found, f"of the plants are {' or '.join(forms)}", other, bearing)


def _materials_most(garden: "Garden") -> Kept:
    most, built = garden.project.brief.style.materials_most, built_of(garden.project.structure)
    if not most or not built:
        return Kept(setting="materials_most", wanted=1.0)
    figure = f"{len(built)} materials are built of, wanted at most {most}: {', '.join(built)}"
    found, kept = min(1.0, most / len(built)), len(built) <= most
    more = built[:NAMED] if kept else built[most : most + NAMED]
    return Kept(setting="materials_most", wanted=1.0, found=found, is_kept=kept, figure=figure, answerable=more)


_MEASURES: tuple[Measure, ...] = (
    _curving,
    _materials,
    _formal,
    _symmetry,
    _fullness,
    _evergreen,
    _natives,
    _colours,
    _texture,
    _variety,
    _repetition,
    _boldness,
    _signature,
    _forms,
    _materials_most,
)


# ---- what does not hang on the style: remembered while site, structure and plants stay

_FOUND: Remembered[Mapping[str, float]] = Remembered(24)


def _remembered(garden: "Garden", what: str, make: Callable[[], Mapping[str, float]]) -> Mapping[str, float]:
    project = garden.project
    return _FOUND.get((what, project.site, project.structure, project.planting.plants, garden.catalogue), make)


def _alike(garden: "Garden") -> Mapping[str, float]:
    """Return how alike both sides of every path are in summer, 0 to 1."""
    told = {one.path: one.left[SUMMER] for one in sides(garden.project, garden.catalogue, years=(YEAR,))}
    return {name: 1 - 2 * abs(left - 0.5) for name, left in told.items() if left is not None}


def _again(garden: "Garden") -> Mapping[str, float]:
    """Return for every kind beside a path 1 where it comes back along one, else 0."""
    again: dict[str, float] = {}
    grown = standing(garden.planted, YEAR)
    for route in garden.layout.routes.values():
        way = tuple((float(x), float(y)) for x, y in route.curve.points[::10])
        for one in repeats(grown, way):
            again[one.botanical] = max(again.get(one.botanical, 0.0), float(len(one.places) > 1))
    return again


def _closed(garden: "Garden") -> Mapping[str, float]:
    """Return the share of every bed that leaves cover, and of all of them under an empty name."""
    beds, ground = bed_grounds(garden.project), planted_ground(garden.project)
    placed = [Placed(kind=kind_of(s), at=p.at) for p, s in garden.planted if not p.support]
    under = covered(ground, placed, CLOSED_BY)
    each = {bed.name: float(under[ground.bed == n].mean()) for n, bed in enumerate(beds) if (ground.bed == n).any()}
    return {**each, "": float(under.mean())}


# ---- helpers


def _mean(garden: "Garden", setting: str, value: Callable[[Species], float], words: str) -> Kept:
    wanted = getattr(garden.project.brief.style, setting)
    if not garden.kinds:
        return Kept(setting=setting, wanted=wanted)
    every = sum(garden.kinds.values())
    found = sum(n * value(s) for s, n in garden.kinds.items()) / every
    weighed = {s.botanical: wanted + (value(s) - wanted) * n / every for s, n in garden.kinds.items()}
    bearing = {s.botanical: n for s, n in garden.kinds.items() if abs(value(s) - wanted) <= NEAR_ENOUGH}
    kept = leaning(setting, wanted, found, f"{words}: {found:.2f} of 1", weighed)
    return attrs.evolve(kept, answerable=most(bearing)) if kept.is_kept else kept


def _share(garden: "Garden", setting: str, has: Callable[[Species], bool], words: str) -> Kept:
    wanted, fact = getattr(garden.project.brief.style, setting), plant_facts(garden).get(setting)
    if fact is None:
        return Kept(setting=setting, wanted=wanted)
    lacking = {s.botanical: -float(n) for s, n in garden.kinds.items() if not has(s)}
    bearing = {s.botanical: float(n) for s, n in garden.kinds.items() if has(s)}
    return at_least(setting, wanted, fact / 100, words, lacking, bearing)
