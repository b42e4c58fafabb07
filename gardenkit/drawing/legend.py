"""What the signs on a plan mean, read off the marks that are drawn, and groups of marks that can be left out."""

import re
from collections.abc import Iterable

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Hatch, Label, Layer, Mark, Stroke, Symbol

NAMES, KEYS, TEXTURES = "names", "plant keys", "textures"
GROUPS: dict[str, tuple[Layer, ...]] = {  # what may be left out, with the layers it takes; the last three take others
    "plants and trees": ("planting", "canopy"),
    "paths and stones": ("paths",),
    "buildings, fences and things": ("structure",),
    "sun and shadows": ("sun",),
    NAMES: (),
    KEYS: (),
    TEXTURES: (),
}
PLANT = re.compile(r"^(?P<name>.+) \((?P<key>[A-Z]{2,5}\d*)\): ")
CONTOUR = "#8a5a2b"
FOUND, ROOTS = "as found", "root protection"  # how the tips of such lines end, and what they are


@attrs.frozen(kw_only=True)
class Sign:
    """One sign with its meaning; ``key`` and ``count`` for plants; ``thing`` what is set up, as a seat. A line has no
    fill.
    """

    words: str
    fill: str | None = None
    stroke: str | None = None
    dash: tuple[float, ...] = ()
    key: str = ""
    count: int = 1
    thing: bool = False


def without(marks: Iterable[Mark], hidden: Iterable[str]) -> tuple[Mark, ...]:
    """Return marks less the groups that are hidden; words are left to who places them."""
    groups = frozenset(hidden)
    layers = {layer for group in groups for layer in GROUPS[group]}
    return tuple(
        mark
        for mark in marks
        if mark.layer not in layers
        and not (TEXTURES in groups and isinstance(mark, Hatch | Dots) and mark.layer in ("ground", "paths"))
    )


def signs(marks: Iterable[Mark]) -> tuple[Sign, ...]:
    """Return what is drawn, each sign once: built things first, plants in the order of their keys."""
    found: dict[tuple[str, str], Sign] = {}
    for mark in marks:
        sign = _plant(mark) or _built(mark)
        if sign is not None:
            known = found.get((sign.key, sign.words))
            found[sign.key, sign.words] = attrs.evolve(known, count=known.count + 1) if known else sign
    return tuple(sorted(found.values(), key=lambda one: (one.key != "", one.key, one.words.lower())))


# ---- helpers


def _plant(mark: Mark) -> Sign | None:
    told = PLANT.match(mark.tip) if isinstance(mark, Symbol) and mark.layer in GROUPS["plants and trees"] else None
    if told is None or not isinstance(mark, Symbol):
        return None
    body = next((part for part in mark.marks if isinstance(part, Area)), None)
    fill, stroke = (body.fill, body.stroke) if body else (None, style.PLANT_INK)
    return Sign(words=told["name"], key=told["key"], fill=fill, stroke=stroke)


def _built(mark: Mark) -> Sign | None:
    if isinstance(mark, Label | Hatch | Dots) or not getattr(mark, "tip", ""):
        return None
    look: Mark = (
        next((part for part in mark.marks if isinstance(part, Area)), mark) if isinstance(mark, Symbol) else mark
    )
    fill = look.fill if isinstance(look, Area) else None
    stroke = look.stroke if isinstance(look, Area) else look.colour if isinstance(look, Stroke) else style.INK
    dash = look.dash if isinstance(look, Area | Stroke) else ()
    words = _words(mark, fill, dash)
    thing = isinstance(mark, Symbol) and mark.layer == "structure"
    return Sign(words=words, fill=fill, stroke=stroke, dash=dash, thing=thing) if words else None


def _words(mark: Mark, fill: str | None, dash: tuple[float, ...]) -> str:
    """Return what a mark is, "" for one that no legend names (what is chosen, a finding)."""
    tip = str(getattr(mark, "tip", ""))
    name, _, told = tip.partition(": ")
    kind = re.sub(r"\s*(up |keep clear )?[\d¼½¾⅛⅜⅝⅞].*", "", told.partition(",")[0]).strip()
    if mark.layer == "sun":
        return tip
    if mark.layer == "canopy":
        return "tree that stays" if tip.endswith("kept") else "tree that goes"
    if mark.layer == "paths":
        return "steps" if isinstance(mark, Symbol) else "stepping stone" if tip.startswith("stone ") else kind
    if mark.layer == "ground":
        return kind or ("bed" if fill == style.GROUND["bed"] else "")
    if mark.layer == "structure":
        return _structure(mark, name, told, kind, dash)
    if isinstance(mark, Stroke) and tip.endswith(FOUND):
        return "contour of the ground as found"
    if tip == ROOTS:
        return "roots of a tree to keep: fence it off"
    return "contour" if isinstance(mark, Stroke) and mark.colour == CONTOUR else ""


def _structure(mark: Mark, name: str, told: str, kind: str, dash: tuple[float, ...]) -> str:
    if dash == style.BOUNDARY_DASH:
        return "boundary"
    if isinstance(mark, Symbol):
        return kind
    if "eaves" in told:
        return "building"
    if "keep clear" in told:
        return "thing to keep clear of"
    if "high" in told:
        return "wall or hedge" if isinstance(mark, Area) else "fence, seen through" if dash else "fence"
    return name.split(" ", maxsplit=1)[0] if isinstance(mark, Stroke) else ""
