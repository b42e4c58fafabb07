"""How an edition falls onto printed pages: its paper, and how high the plan stands so that no page stays half bare."""

import math

import attrs

from gardenkit.handover import wording
from gardenkit.handover.contents import Contents
from gardenkit.handover.paper import PAPERS, papers_of
from gardenkit.project.level_figures import level_rows

EDGES = 32.0  # mm of white above and below together, as page.html has it
PLAN = 185.0  # mm: the plan on a page of its own. House value.
LEAST_PLAN = 100.0  # mm: a plan that is lower cannot be read. House value.
ABOUT_THE_PLAN = 42.0  # mm for the heading and words of the plan. House value.
SPARE = 22.0  # mm by which wants may come out higher than reckoned here. House value.
# As the style sheet sets them, mm: a heading, a picture with its words, a line and the space round a row of the wants.
HEADING, PICTURE, LINE, ROUND, TABLE = 20.0, 42.0, 3.5, 1.8, 23.0
SOIL, SOIL_ROW = 20.0, 8.0  # the head of the table of soil and walls, and a row of it
ACROSS = 3  # pictures in a row
WISH, ANSWER = 44, 86  # letters in a line of the two columns


@attrs.frozen(kw_only=True)
class Printed:
    """The paper of an edition by its name in CSS; mm: how ``high`` what is printed on a page is at most, the plan, the
    plan of the ``ground`` over its table.
    """

    paper: str
    high: float
    plan: float
    ground: float


def printed(told: Contents) -> Printed:
    """Return how an edition is printed: where pictures and wants leave a page less than half full, the plan is drawn
    so high that it stands below them.
    """
    paper = papers_of(told.project)[0]
    page = PAPERS[paper][0] - EDGES
    filled = (before_the_plan(told) + SPARE) % page
    room = page - filled - ABOUT_THE_PLAN
    fits = filled < page / 2 and room >= LEAST_PLAN
    over = page - ABOUT_THE_PLAN - SOIL - SOIL_ROW * len(level_rows(told.garden.earth, told.project.units))
    return Printed(
        paper=paper,
        high=math.floor(page) - 1,
        plan=math.floor(min(PLAN, room)) if fits else PLAN,
        ground=math.floor(min(PLAN, over)) if over >= LEAST_PLAN else PLAN,
    )


def before_the_plan(told: Contents) -> float:
    """Return about how much of the pages after the cover the pictures and wants take, mm."""
    high = 0.0
    if told.pictures:
        manner = 2 * 8.0 if told.project.brief.style.name else 0.0
        high += HEADING + manner + PICTURE * math.ceil(len(told.pictures) / ACROSS)
    if told.wants:
        high += HEADING + TABLE
        for judged in told.wants:
            said = wording.want(judged, told.project.units)
            wish, answer = f"{said['text']}{said['whom']}{said['area']}", f"{said['measured']}"
            lines = max(1, math.ceil(len(wish) / WISH), math.ceil(len(answer) / ANSWER))
            high += LINE * lines + ROUND
    return high
