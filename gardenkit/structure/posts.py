"""How deep a post goes into the ground, how big its hole is, and how many bags of concrete fill it."""

import math
from collections.abc import Callable

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, nearest
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import CUBIC_FOOT, INCH, POUND, System, inch_words

REPAIR = "newspaper repair columnist"
BUILDING = "newspaper building column"
LEAST_DEPTH = Figure(12 * INCH, "m", f"IBC 1809.4 and IRC R403.1.4, footing bottom; {MEMORY}")
BAG_YIELD: dict[int, Figure] = {  # pounds in the bag: set concrete it makes
    40: Figure(0.30 * CUBIC_FOOT, "m3", "maker's figure, second-hand: 0.15 cu ft per 20 lb"),
    50: Figure(0.375 * CUBIC_FOOT, "m3", "maker's figure, second-hand: 0.15 cu ft per 20 lb"),
    60: Figure(0.45 * CUBIC_FOOT, "m3", "maker's figure, second-hand: 0.15 cu ft per 20 lb"),
    80: Figure(0.60 * CUBIC_FOOT, "m3", "maker's figure, second-hand: 0.15 cu ft per 20 lb"),
}
METRIC_BAG = Figure(20.0, "kg", f"the usual bag of concrete mix for posts in metric countries; {HOUSE}")
HOLE_CONCRETE = Figure(3.0, "times the post", REPAIR)
HOLE_EARTH = Figure(2.0, "times the post", REPAIR)


def _third_of_total(above: float, frost: float, loose_sand: bool) -> float:
    return max(above / 2.0, frost + 12 * INCH if frost > 0 else 0.0)


def _third_above(above: float, frost: float, loose_sand: bool) -> float:
    return above / 3.0 * (1.5 if loose_sand else 1.0)


def _quarter_of_total(above: float, frost: float, loose_sand: bool) -> float:
    return above / 3.0


def _frost_and_six(above: float, frost: float, loose_sand: bool) -> float:
    return frost + 6 * INCH


def _gate_post(above: float, frost: float, loose_sand: bool) -> float:
    return 36 * INCH if loose_sand else 30 * INCH


@attrs.frozen(kw_only=True)
class Bag:
    """A bag of dry concrete mix: kilograms in it, and the cubic metres of concrete it makes."""

    weight: float
    makes: float

    def fill(self, volume: float) -> int:
        """Return the whole bags for so many cubic metres."""
        return math.ceil(volume / self.makes - 1e-9)


def bag_of(units: System, pounds: int = 80) -> Bag:
    """Return the bag that is bought where a garden lies. Raises GardenError for a bag size not known."""
    if pounds not in BAG_YIELD:
        raise GardenError(f"there is no {pounds} lb bag; known sizes are {', '.join(map(str, BAG_YIELD))} lb")
    weight, makes = pounds * POUND, float(BAG_YIELD[pounds])
    if units == "metric":  # makes as much by the kilogram
        return Bag(weight=float(METRIC_BAG), makes=makes * METRIC_BAG / weight)
    return Bag(weight=weight, makes=makes)


Rule = Callable[[float, float, bool], float]
POST_RULES: dict[str, tuple[Rule, str]] = {
    "one third of total": (_third_of_total, f"one third of the post's total length and 12 in below frost: {REPAIR}"),
    "one third of above ground": (_third_above, f"one third of the height above ground, half more in sand: {BUILDING}"),
    "one quarter of total": (_quarter_of_total, f"about one quarter of the total, for pergolas: {COMMON}"),
    "frost and 6 in": (_frost_and_six, f"frost depth and 6 in, on 6 in of gravel: {COMMON}"),
    "30 to 36 in": (_gate_post, f"arbour and gate posts 30 to 36 in, 36 taken in loose sand: {COMMON}"),
}


@attrs.frozen(kw_only=True)
class Post:
    """A post: metres above ground and buried, its whole ``length``, and the rule that set the depth."""

    above: float
    buried: float
    rule: str
    source: str

    @property
    def length(self) -> float:
        """Whole length in metres."""
        return self.above + self.buried


def post_rule(name: str) -> tuple[Rule, str]:
    """Return a rule and its source by its name; raises GardenError naming the nearest known one."""
    if name not in POST_RULES:
        raise GardenError(f'there is no post rule "{name}"{nearest(name, POST_RULES)}')
    return POST_RULES[name]


def post(above: float, *, rule: str = "one third of total", frost_depth: float = 0.0, loose_sand: bool = False) -> Post:
    """Return how deep a post standing ``above`` metres out of the ground goes in, by a named rule.

    ``frost_depth`` is the local frost depth in metres, 0 where the ground does not freeze. The two one-third rules
    differ: 36 in against 24 in for a 6 ft fence, so the rule is always named. Raises GardenError for a height not
    above 0 or a rule not known.
    """
    depth, source = post_rule(rule)
    if not above > 0 or frost_depth < 0:
        raise GardenError(f"a post {above:g} m above ground with frost to {frost_depth:g} m; give a height above 0")
    return Post(above=above, buried=depth(above, frost_depth, loose_sand), rule=rule, source=source)


def post_findings(where: str, made: Post, *, frost_depth: float = 0.0) -> tuple[Finding, ...]:
    """Return what to beware of: a foot above the frost line or above 12 in, and other rules that would go deeper."""
    found = []
    if made.buried < frost_depth - 1e-9:
        depths = f"{inch_words(made.buried)} deep, frost {inch_words(frost_depth)}"
        what = f"the post goes {depths}; frost may lift it; {LOCAL_CODE}"
        found.append(Finding(where=where, what=what, source=made.source, seriousness="warning", topic="posts"))
    if made.buried < LEAST_DEPTH - 1e-9:
        what = f"the post goes only {inch_words(made.buried)} deep; {LOCAL_CODE}"
        found.append(
            Finding(
                where=where,
                what=what,
                why="at least 12 in",
                source=LEAST_DEPTH.source,
                seriousness="warning",
                topic="posts",
            )
        )
    deepest = max(POST_RULES, key=lambda rule: POST_RULES[rule][0](made.above, frost_depth, False))
    depth = POST_RULES[deepest][0](made.above, frost_depth, False)
    if depth > made.buried + 1e-9:
        what = f'the rule "{deepest}" would go {inch_words(depth)} deep instead of {inch_words(made.buried)}'
        found.append(Finding(where=where, what=what, source=POST_RULES[deepest][1], topic="posts"))
    return tuple(found)


def hole_diameter(post_across: float, *, concrete: bool = True) -> float:
    """Return the width of the hole in metres: three times the post for concrete, twice for tamped earth."""
    return post_across * (HOLE_CONCRETE if concrete else HOLE_EARTH)


def hole_volume(diameter: float, depth: float, *, post_across: float = 0.0, gravel: float = 0.0) -> float:
    """Return the concrete in cubic metres for a round hole, less a square post through the full concrete depth.

    ``gravel`` metres at the bottom of the hole are not concrete.
    """
    tall = max(0.0, depth - gravel)
    return (math.pi * diameter**2 / 4.0 - post_across**2) * tall


def count_posts(length: float, spacing: float) -> int:
    """Return the posts along a line with one at each end and none further apart than ``spacing`` metres."""
    if not spacing > 0:
        raise GardenError(f"posts {spacing:g} m apart; give a spacing above 0, such as 2.4 m ({HOUSE})")
    return max(1, math.ceil(length / spacing - 1e-9)) + 1
