"""What placed things take, piece by piece, with what each weighs empty and full."""

from gardenkit.project import Project
from gardenkit.schedules.lines import Line
from gardenkit.structure.kinds import thing_kind
from gardenkit.units import show_weight


def thing_lines(project: Project) -> tuple[Line, ...]:
    """Return the lines of the take-off for placed things; the first line of each says its weight."""
    found: list[Line] = []
    for thing in project.structure.things:
        kind = thing_kind(thing.kind)
        weighed = kind.weight(thing)
        said = f"about {show_weight(weighed.empty)}"
        if weighed.full > 1.1 * weighed.empty:
            said += f", full {show_weight(weighed.full)}"
        for number, part in enumerate(kind.counts(thing)):
            found.append(
                Line(
                    item=part.item,
                    where=thing.name,
                    amount=part.amount,
                    unit=part.unit,
                    area=part.amount if part.unit == "m2" else 0.0,
                    rule=f"{part.rule}; {said}" if number == 0 else part.rule,
                    source=f"{part.source}; weight: {weighed.source}" if number == 0 else part.source,
                )
            )
    return tuple(found)
