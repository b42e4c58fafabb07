"""Whether a path is wide, gentle and clear enough for who will use it, by named standards; they are model figures, ask
locally.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Literal

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, nearest
from gardenkit.geometry.plane import Point
from gardenkit.sources import COMMON, HOUSE, PLAIN, Figure
from gardenkit.structure.half_turns import tightest_half_turn
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.route import Route, least_radius
from gardenkit.structure.structure import Path
from gardenkit.units import FOOT, INCH, inch_words

RUTGERS = 'Rutgers Cooperative Extension, Maletta, "Garden Paths", 2004'
ILLINOIS = 'University of Illinois Extension, Mason, "Designing Paths", 2004'
ADA = "2010 ADA Standards"
ACCESS_BOARD = "US Access Board, outdoor developed areas"

Use = Literal["two abreast", "one person", "garden path", "inspection", "wheelchair", "riding mower"]
SlopeRule = Literal["accessible route", "ramp", "trail", "recreation access"]
ROUNDS = 12  # times a width and the sweep it leaves are worked out from each other; numerical choice
ROUNDING = 1e-6  # m or percent: a figure that differs by less is the same (inches turned into metres and back)

# Least widths; a path passes for a use when it is at least this wide
WIDTHS: Mapping[Use, Figure] = {
    "two abreast": Figure(48 * INCH, "m", RUTGERS),  # 60 in better; Illinois the same
    "riding mower": Figure(50 * INCH, "m", COMMON),
    "wheelchair": Figure(36 * INCH, "m", f"{ADA} 403.5.1"),
    "one person": Figure(30 * INCH, "m", f"{RUTGERS}; secondary walk 30-36 in"),
    "garden path": Figure(24 * INCH, "m", ILLINOIS),
    "inspection": Figure(18 * INCH, "m", COMMON),
}
BETTER_TWO = Figure(60 * INCH, "m", f"{RUTGERS}; {ILLINOIS}")
PASSING = Figure(60 * INCH, "m", f"{ADA} 403.5.3")  # a space this square every 200 ft where the route is narrower
PASSING_EVERY = Figure(200 * FOOT, "m", f"{ADA} 403.5.3")
AT_HALF_TURN = Figure(48 * INCH, "m", f"{ADA} 403.5.2")  # round what is narrower than this, as wide as this at the turn
GATE = Figure(32 * INCH, "m", f"{ADA} 404.2.3")
DEEP_GATE = Figure(36 * INCH, "m", f"{ADA} 404.2.3")  # an opening deeper than 24 in
MOWER_GATE = Figure(36 * INCH, "m", "fence supplier; push mower")
HEADROOM = Figure(80 * INCH, "m", f"{ADA} 307.4")
CROSS_SLOPE = Figure(100 / 48, "%", f"{ADA} 403.3; 1:48, section from memory")
BARROW_WIDTH = Figure(26 * INCH, "m", f"wheelbarrow body 25-27 in, {COMMON}")
BARROW_REACH = Figure(24 * INCH, "m", f"front of the tray beyond the turning line, {HOUSE}")

LEVEL = ((5.0, math.inf),)  # 1:20, any length
# (steepest percent, greatest length in metres at it); math.inf: any length
SLOPES: Mapping[SlopeRule, tuple[str, tuple[tuple[float, float], ...]]] = {
    "accessible route": (f"{ADA} 403.3", LEVEL),
    "ramp": (f"{ADA} 405.2 and 405.6", ((5.0, math.inf), (100 / 12, 30 * FOOT))),
    "trail": (f"{ACCESS_BOARD} 1017.7.1", (*LEVEL, (100 / 12, 200 * FOOT), (10.0, 30 * FOOT), (12.5, 10 * FOOT))),
    "recreation access": (f"{ACCESS_BOARD} 1016.7.1", ((5.0, math.inf), (100 / 12, 50 * FOOT), (10.0, 30 * FOOT))),
}
TOO_STEEP = "path slope"  # the name of the rule, by which its remedy knows it


@attrs.frozen(kw_only=True)
class Gate:
    """An opening that a path passes through: clear width and depth through the wall or hedge, headroom (0: open above),
    metres.
    """

    name: str
    clear: float
    deep: float = 0.0
    headroom: float = 0.0
    at: Point | None = None


WHEELED: tuple[Use, ...] = ("wheelchair", "riding mower")


def passes(width: float, *, surface: str = "", steps: bool = False) -> tuple[Use, ...]:
    """Return what a clear width in metres is enough for, the most demanding first; up ``steps``, or on a ``surface``
    that carries no wheels, such as single stones, only what goes on foot.

    >>> passes(24 * 0.0254)
    ('garden path', 'inspection')
    """
    wheels = not steps and (not surface or surface_kind(surface).wheels)
    return tuple(use for use, least in WIDTHS.items() if width >= least - ROUNDING and (wheels or use not in WHEELED))


def slope_allowed(percent: float, length: float, *, by: SlopeRule = "accessible route") -> bool:
    """Return whether a slope (percent, either sign) may run ``length`` metres by a named rule."""
    if by not in SLOPES:
        raise GardenError(f'there is no slope rule "{by}"{nearest(by, SLOPES)}')
    return length <= longest_at(percent, by=by) + ROUNDING


def longest_at(percent: float, *, by: SlopeRule = "accessible route") -> float:
    """Return how far in metres a slope of ``percent`` may run by a named rule: 0 when never, infinite when any
    distance.
    """
    if by == "ramp" and abs(percent) > 5.0 + ROUNDING:  # a run may rise 30 in, so a gentler ramp may be longer
        return 30 * INCH * 100 / abs(percent) if abs(percent) <= 100 / 12 + ROUNDING else 0.0
    for steepest, length in SLOPES[by][1]:
        if abs(percent) <= steepest + ROUNDING:
            return length
    return 0.0


def cart_sweep(inner_radius: float, body: float, overhang: float) -> float:
    """Return the width in metres that a rigid cart sweeps in a turn: sqrt((r + b)^2 + a^2) - r (plain geometry).

    ``inner_radius`` r is that of the inner wheel's track, ``body`` b the cart's width, ``overhang`` a its front beyond
    the axle.
    """
    return math.hypot(inner_radius + body, overhang) - inner_radius


def check_path(
    path: Path,
    route: Route,
    *,
    use: Use = "garden path",
    slope_percent: float | None = None,
    slope_length: float | None = None,
    cross_percent: float | None = None,
    slope_rule: SlopeRule = "accessible route",
    gates: Sequence[Gate] = (),
) -> tuple[Finding, ...]:
    """Return what the named standards and house rules say about a path for its ``use``; empty when all is well.

    ``slope_percent`` is the steepest running slope (either sign) of a piece ``slope_length`` metres long (the whole
    path without it), ``cross_percent`` the cross slope; leave them out when not known.
    """
    if use not in WIDTHS:
        raise GardenError(f'there is no path use "{use}"{nearest(use, WIDTHS)}')
    where = f'path "{path.name}"'
    found = [*_width(where, path, use), *_turns(where, path, route), *_surface(where, path, use)]
    if use in WHEELED and path.flights:
        found.append(_steps_on_wheels(where, path, use))
    if use == "wheelchair" and path.width < PASSING - ROUNDING and route.length > PASSING_EVERY:
        found.append(_code(where, "needs a 60 by 60 in passing place at least every 200 ft", PASSING))
    if use == "wheelchair":
        found += _half_turn(where, path, route)
    if slope_percent is not None:
        far = route.length if slope_length is None else slope_length
        found += _slope(where, slope_percent, far, slope_rule)
    if cross_percent is not None:
        found += _cross(where, cross_percent, use)
    for gate in gates:
        found += _gate(gate, path, use)
    return tuple(found)


def _width(where: str, path: Path, use: Use) -> list[Finding]:
    least = WIDTHS[use]
    if path.width < least - ROUNDING:
        what = f"is {inch_words(path.width)} wide; for {_said(use)} it needs {inch_words(least)} or more"
        return [
            Finding(
                where=where,
                what=what,
                why=_shown(least),
                source=least.source,
                seriousness="warning",
                topic="width",
                rule="path width",
                wanted=float(least),
            )
        ]
    if use == "two abreast" and path.width < BETTER_TWO - ROUNDING:
        what = 'is wide enough for two abreast; 60" is more comfortable'
        return [Finding(where=where, what=what, why=_shown(BETTER_TWO), source=BETTER_TWO.source, topic="width")]
    return []


def _turns(where: str, path: Path, route: Route) -> list[Finding]:
    least = least_radius(path.width)
    found = []
    if route.tightest_radius < least - ROUNDING:
        what = f"turns on {route.tightest_radius:.2f} m; {least:.2f} m or more keeps its inner edge round"
        why = "no published least radius for a garden path"
        found.append(Finding(where=where, what=what, why=why, source=HOUSE, seriousness="caution", topic="bend"))
    inner = route.tightest_radius - path.width / 2
    swept = cart_sweep(max(inner, 0.0), BARROW_WIDTH, BARROW_REACH)
    if swept > path.width + ROUNDING:
        what = (
            f"a wheelbarrow sweeps {swept:.2f} m in the tightest bend, the path is {path.width:.2f} m wide: "
            f"it will run over the edge"
        )
        said = Finding(where=where, what=what, why=_shown(BARROW_WIDTH), source=PLAIN, topic="bend")
        found.append(attrs.evolve(said, rule="barrow sweep", wanted=_wide_enough(route, swept)))
    return found


def _half_turn(where: str, path: Path, route: Route) -> list[Finding]:
    """Return whether wheels come round where the path turns back on itself; a path is as wide before as in the turn."""
    turn = tightest_half_turn(route.curve, path.width)
    if turn is None or turn[0] >= AT_HALF_TURN - ROUNDING or path.width >= AT_HALF_TURN - ROUNDING:
        return []
    what = f"turns back round something {inch_words(turn[0])} wide; there it needs {inch_words(AT_HALF_TURN)} or more"
    return [_code(where, what, AT_HALF_TURN, turn[1])]


def _wide_enough(route: Route, width: float) -> float:
    """Return the width in metres at which a barrow keeps to the path: a wider path has a tighter inner edge."""
    for _ in range(ROUNDS):
        width = max(width, cart_sweep(max(route.tightest_radius - width / 2, 0.0), BARROW_WIDTH, BARROW_REACH))
    return width


def _surface(where: str, path: Path, use: Use) -> list[Finding]:
    if use in WHEELED and not surface_kind(path.surface).wheels:
        what = f"{path.surface} do not carry wheels; choose paving, or a firm stable fine gravel"
        said = Finding(where=where, what=what, source=f"{ADA} 302", seriousness="warning", topic="surface")
        return [attrs.evolve(said, rule="carries wheels")]
    if (
        use == "wheelchair"
        and surface_kind(path.surface).stone == "field"
        and path.stones.joint > 0.5 * INCH + ROUNDING
    ):
        what = (
            f"has joints of {inch_words(path.stones.joint)}; a ½ in ball must not pass an opening in the surface: "
            f"fill the joints flush"
        )
        said = Finding(where=where, what=what, source=f"{ADA} 302.3", seriousness="caution", topic="surface")
        return [attrs.evolve(said, rule="joints", wanted=0.5 * INCH)]
    return []


def _steps_on_wheels(where: str, path: Path, use: Use) -> Finding:
    flights = "a flight" if len(path.flights) == 1 else f"{len(path.flights)} flights"
    what = (
        f"has {flights} of steps, so it is not step-free and no way for {_said(use)}; take the steps out, or give "
        f"wheels another way; {LOCAL_CODE}"
    )
    return Finding(where=where, what=what, source=f"{ADA} 402.2", seriousness="warning", topic="access")


def _slope(where: str, percent: float, length: float, rule: SlopeRule) -> list[Finding]:
    if slope_allowed(percent, length, by=rule):
        return []
    longest, source = longest_at(percent, by=rule), SLOPES[rule][0]
    steep = max(limit for limit, _ in SLOPES[rule][1])
    if longest == 0:
        what = f"rises {abs(percent):.1f} %, over {steep:.1f} % of the {rule} rule; lengthen it, or add steps or a ramp"
    else:
        what = (
            f"rises {abs(percent):.1f} % over {length:.1f} m; the {rule} rule allows {longest:.1f} m, then a level rest"
        )
    said = Finding(where=where, what=f"{what}; {LOCAL_CODE}", source=source, seriousness="warning", topic="slope")
    return [attrs.evolve(said, rule=TOO_STEEP)]


def _cross(where: str, percent: float, use: Use) -> list[Finding]:
    if use == "wheelchair" and abs(percent) > CROSS_SLOPE + ROUNDING:
        return [_code(where, f"falls {abs(percent):.2f} % across, more than 1:48", CROSS_SLOPE)]
    return []


def _gate(gate: Gate, path: Path, use: Use) -> list[Finding]:
    found = []
    least = MOWER_GATE if use == "riding mower" else (DEEP_GATE if gate.deep > 24 * INCH + ROUNDING else GATE)
    if use in WHEELED and gate.clear < least - ROUNDING:
        found.append(
            _code(gate.name, f"is {inch_words(gate.clear)} clear, {inch_words(least)} is needed", least, gate.at)
        )
    if gate.clear < path.width - ROUNDING:
        what = f"is {inch_words(gate.clear)} clear, narrower than the {inch_words(path.width)} path through it"
        said = Finding(where=gate.name, what=what, source=HOUSE, seriousness="caution", at=gate.at, topic="width")
        found.append(attrs.evolve(said, rule="gate narrows path", wanted=gate.clear, beside=path.name))
    if 0 < gate.headroom < HEADROOM - ROUNDING:
        what = f"gives {inch_words(gate.headroom)} of headroom, {inch_words(HEADROOM)} is needed, and vines hang lower"
        found.append(_code(gate.name, what, HEADROOM, gate.at))
    return found


def _code(where: str, what: str, figure: Figure, at: Point | None = None) -> Finding:
    return Finding(
        where=where,
        what=f"{what}; {LOCAL_CODE}",
        why=_shown(figure),
        source=figure.source,
        seriousness="warning",
        at=at,
        topic="access",
    )


def _said(use: Use) -> str:
    return {"one person": "one person", "garden path": "a garden path", "two abreast": "two abreast"}.get(
        use, f"a {use}"
    )


def _shown(figure: Figure) -> str:
    return f"{float(figure):.4g} {figure.unit}"
