"""How much soil a tree needs to reach its size; towns and books differ, so the rule is a named setting."""

import math
from collections.abc import Mapping

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import MEMORY, Figure
from gardenkit.units import CUBIC_FOOT, FOOT, SQUARE_FOOT

SMALL_TREE = Figure(25 * FOOT, "m", "mature height of a small tree at most; a regional tree guide")
MEDIUM_TREE = Figure(40 * FOOT, "m", "mature height of a medium tree at most; a regional tree guide")
_MINNESOTA = "Minnesota Stormwater Manual, stormwater.pca.state.mn.us"
_COMPILED = "as quoted by others; lists move, confirm at the town"


@attrs.frozen(kw_only=True)
class SoilRule:
    """A rule for soil by crown (cubic metres per square metre of crown) or by tree size (small, medium, large)."""

    source: str
    by_crown: float | None = None  # m3 per m2 of mature crown projection
    by_size: tuple[float, float, float] | None = None  # m3 for a small, medium, large tree


def _feet(small: float, medium: float, large: float, source: str) -> SoilRule:
    return SoilRule(by_size=(small * CUBIC_FOOT, medium * CUBIC_FOOT, large * CUBIC_FOOT), source=source)


def _any(cubic_feet: float, source: str) -> SoilRule:
    return _feet(cubic_feet, cubic_feet, cubic_feet, source)


SOIL_RULES: Mapping[str, SoilRule] = {
    "Cornell": SoilRule(  # 2 cu ft of soil per sq ft of crown
        by_crown=2 * CUBIC_FOOT / SQUARE_FOOT, source="Cornell Univ., Lindsey & Bassuk: 2 cu ft per sq ft of crown"
    ),
    "metric": SoilRule(by_crown=0.61, source="trade form: 0.61 m3 per m2 of crown"),
    "Buckinghamshire": SoilRule(by_crown=0.6, source=f"Buckinghamshire (UK): 0.6 m3 per m2; {_COMPILED}"),
    "practice, least": SoilRule(by_crown=0.5, source="range in practice 0.5 to 1 m3 per m2 of crown"),
    "practice, most": SoilRule(by_crown=1.0, source="range in practice 0.5 to 1 m3 per m2 of crown"),
    "usual": _feet(300, 600, 1000, "a manufacturer's compilation, 2020"),
    "Emeryville CA": _feet(600, 900, 1200, _MINNESOTA),
    "Bellevue WA": _feet(500, 1000, 1500, _COMPILED),
    "Aspen CO, newer": _feet(240, 600, 1200, _COMPILED),
    "Aspen CO, older": _feet(250, 1000, 2250, _COMPILED),
    "Athens-Clarke GA": _feet(200, 450, 800, _COMPILED),
    "Kitchener ON": _feet(600, 989, 1589, _MINNESOTA),
    "Kitchener ON, shared": _feet(389, 653, 1059, _MINNESOTA),
    "Toronto ON": SoilRule(by_size=(30.0, 30.0, 30.0), source=_MINNESOTA),
    "Toronto ON, shared": SoilRule(by_size=(20.0, 20.0, 20.0), source=_MINNESOTA),
    "Denver CO": _any(750, _COMPILED),
    "Austin TX": _any(1000, _COMPILED),
    "Alexandria VA": _any(450, _COMPILED),
    "Washington DC": _feet(600, 1000, 1500, MEMORY),
}


def tree_size(height: float) -> str:
    """Return ``small`` (to 25 ft), ``medium`` (to 40 ft) or ``large`` for a mature height in metres."""
    return "small" if height <= SMALL_TREE else "medium" if height <= MEDIUM_TREE else "large"


def soil_needed(*, height: float, spread: float, rule: str = "Cornell") -> float:
    """Return the cubic metres of soil for a tree of mature size in metres; GardenError for an unknown rule.

    >>> round(soil_needed(height=9, spread=25 * 0.3048) / 0.3048**3, 1)
    981.7
    """
    found = _rule(rule)
    if found.by_crown is not None:
        return found.by_crown * math.pi / 4 * spread**2
    sizes = found.by_size or (0.0, 0.0, 0.0)
    return sizes[("small", "medium", "large").index(tree_size(height))]


def _rule(name: str) -> SoilRule:
    if name not in SOIL_RULES:
        raise GardenError(
            f'there is no soil rule "{name}"{nearest(name, SOIL_RULES)}; choose one of {", ".join(SOIL_RULES)}'
        )
    return SOIL_RULES[name]
