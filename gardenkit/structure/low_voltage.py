"""Garden lights on a low-voltage cable: how much the voltage drops along it, which cable, how large a transformer.

Sockets, mains and everything before the transformer are an electrician's work.
"""

from collections.abc import Sequence

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import FOOT, System

VOLTS = Figure(12.0, "V", "the usual low-voltage garden system")
OHMS = "starnursery.com, ohms a foot of copper"
CABLES: dict[int, tuple[Figure, Figure]] = {  # gauge: ohms a foot of one conductor, most watts
    16: (Figure(0.004016, "ohm/ft", OHMS), Figure(156.0, "W", "ledspot.com: most load of a cable")),
    14: (Figure(0.002525, "ohm/ft", OHMS), Figure(180.0, "W", "ledspot.com: most load of a cable")),
    12: (Figure(0.001588, "ohm/ft", OHMS), Figure(240.0, "W", "ledspot.com: most load of a cable")),
    10: (Figure(0.001020, "ohm/ft", OHMS), Figure(300.0, "W", "ledspot.com: most load of a cable")),
}
SQUARE_MM = {16: 1.5, 14: 2.5, 12: 4.0, 10: 6.0}  # of the next thicker size of IEC 60228 that metric countries sell
MOST_DROP = Figure(0.10, "share", "hortibook.com: 10 % of 12 V at the last lamp")
LOADED = Figure(0.80, "share", "kingsoutdoorlighting.com: lamps take 80 % of a transformer's rating at most")
TRANSFORMERS = (45, 60, 100, 150, 200, 300, 600)  # W: sizes in shops. House value.
SLACK = Figure(0.10, "share", f"more cable than the plan shows, to go round things and up to lamps; {HOUSE}")


@attrs.frozen(kw_only=True)
class Run:
    """A cable with lamps along it: its ``gauge``, ``length`` m, ``watts``, the ``drop`` in volts at the last lamp, and
    the rating of its transformer in watts.
    """

    gauge: int
    length: float
    watts: float
    drop: float
    transformer: int

    def cable(self, units: System) -> str:
        """Return the cable as it is sold: by its gauge, or by the section of a conductor at least as thick."""
        return f"{self.gauge} gauge" if units == "imperial" else f"{SQUARE_MM[self.gauge]:g} mm²"


def drop_at_end(lamps: Sequence[tuple[float, float]], gauge: int) -> float:
    """Return the volts lost on the way to the last lamp; lamps are (metres of cable from the transformer, watts).

    Every stretch carries the current of all lamps beyond it there and back: 2 x I x R. Raises GardenError for a cable
    that is not in the table.
    """
    if gauge not in CABLES:
        raise GardenError(f"there is no {gauge} gauge cable here{nearest(str(gauge), map(str, CABLES))}")
    ohms, lost, before = float(CABLES[gauge][0]) / FOOT, 0.0, 0.0
    ordered = sorted(lamps)
    for number, (far, _) in enumerate(ordered):
        amps = sum(watts for _, watts in ordered[number:]) / VOLTS
        lost += 2 * amps * ohms * (far - before)
        before = far
    return lost


def cable_for(lamps: Sequence[tuple[float, float]]) -> Run:
    """Return the thinnest cable that carries the lamps with little enough drop, and its transformer.

    Raises GardenError where no cable does, or where there are no lamps: then two runs are wanted.
    """
    if not lamps:
        raise GardenError("there is no lamp to run a cable to; place one first")
    watts = sum(w for _, w in lamps)
    long = max(far for far, _ in lamps)
    for gauge, (_, most) in CABLES.items():
        drop = drop_at_end(lamps, gauge)
        if drop <= MOST_DROP * VOLTS and watts <= most:
            return Run(gauge=gauge, length=long, watts=watts, drop=drop, transformer=transformer_for(watts))
    raise GardenError(f"{watts:g} W over {long:.0f} m of cable lose too much on the way; feed the lamps by two runs")


def transformer_for(watts: float) -> int:
    """Return the smallest transformer, in watts, of which the lamps take 80 % at most. Raises GardenError above all."""
    for size in TRANSFORMERS:
        if watts <= LOADED * size + 1e-9:
            return size
    raise GardenError(f"{watts:g} W are more than one transformer of {TRANSFORMERS[-1]} W takes; use two")
