"""The take-off of steps and ramps in paths: how many risers, how much tread, how long the handrails."""

from collections.abc import Sequence

from gardenkit.project.layout import Layout
from gardenkit.schedules.lines import Line
from gardenkit.sources import PLAIN
from gardenkit.structure.flights import Built, fine
from gardenkit.structure.ramp_runs import RampRun
from gardenkit.structure.ramps import RAIL_ON
from gardenkit.structure.structure import Path
from gardenkit.units import counted

BUILDERS = "the builder's choice of stone or timber"


def flight_lines(path: Path, worked: Layout) -> tuple[Line, ...]:
    """Return risers, treads and handrails of a path's flights and ramps, each with the sum that it comes from."""
    lines: list[Line] = [*_rails(path, worked.ramps.get(path.name, ()))] if path.handrails else []
    for one in worked.flights.get(path.name, ()):
        lines += _lines(f"{path.name}, flight {one.number}", one, path.width)
    return tuple(lines)


def _rails(path: Path, runs: Sequence[RampRun]) -> list[Line]:
    return [
        Line(
            item="handrail",
            where=f"{path.name}, ramp {run.number}",
            amount=2 * run.rail,
            unit="m",
            rule=f"along both sides: a run of {run.end - run.start:.2f} m and a rise of {abs(run.rise):.2f} m, and "
            f"{RAIL_ON:.2f} m further at both its ends; {BUILDERS}",
            source=RAIL_ON.source,
        )
        for run in runs
    ]


def _lines(where: str, one: Built, width: float) -> list[Line]:
    made = one.steps
    if made is None:
        return []
    risers = (
        f"a rise of {fine(made.rise)} in {made.risers} risers = {fine(made.riser)} each, {width:.2f} m wide; {BUILDERS}"
    )
    treads = f"{counted(made.treads, 'tread')} of {fine(made.tread)} = {made.treads * made.tread:.2f} m; {BUILDERS}"
    deep = made.treads * made.tread
    lines = [
        Line(item="steps", where=where, amount=made.risers * width, unit="m", count=made.risers, rule=made.counted),
        Line(item="step risers", where=where, amount=made.risers, unit="each", count=made.risers, rule=risers),
        Line(item="step treads", where=where, amount=deep, unit="m", area=deep * width, count=made.treads, rule=treads),
    ]
    if one.flight.handrail:
        rule = f"along one side: a run of {made.run:.2f} m and a rise of {made.rise:.2f} m; {BUILDERS}"
        lines.append(Line(item="handrail", where=where, amount=made.rail, unit="m", rule=rule, source=PLAIN))
    return lines
