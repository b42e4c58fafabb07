"""The plan of the ground as found: points to drag, what is drawn on it, a scan to trace over."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from bokeh.models import ColumnDataSource

from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.found import found_scene, letters_of, words_on_empty_ground
from gardenkit.drawing.levels_plan import found_heights
from gardenkit.drawing.overlays import chosen_mark, chosen_shape_mark
from gardenkit.drawing.scene import Mark, Scene
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.draw import Draw
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.scan import no_picture
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.project.edits.drawn import GROUND, HEIGHT, TAPE
from gardenkit.project.pointing import thing_at
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Building, Fence, Obstacle, Site

if TYPE_CHECKING:
    from gardenkit.notebook.pages.ground import GroundPage

SCREEN_PX = (700, 800)  # width, most height
EMPTY = "Draw the boundary here, type its corners, or choose a scan"


def _corners(site: Site) -> list[Handle]:
    return [Handle(id=f"corner:{i}", kind="path", at=p, tip=f"corner {i + 1}") for i, p in enumerate(site.boundary)]


def _trees(site: Site) -> list[Handle]:
    return [Handle(id=f"tree:{t.name}", kind="plant", at=t.at, tip=t.name) for t in site.trees]


def _openings(site: Site) -> list[Handle]:
    return [Handle(id=f"opening:{o.name}", kind="seat", at=o.middle, tip=o.name) for o in site.openings]


def _heights(site: Site) -> list[Handle]:
    return [Handle(id=f"height:{i}", kind="seat", at=h.at, tip=h.name) for i, h in enumerate(site.heights)]


CORNERED: dict[str, Callable[[Site], Sequence[Building | Fence | Obstacle]]] = {
    "house": lambda site: site.buildings,
    "fence": lambda site: site.fences,
    "obstacle": lambda site: site.obstacles,
}


def _corners_of(what: str) -> Callable[[Site], list[Handle]]:
    """Return what gives a handle for every corner of a sort of things, or every point of fences."""

    def handles(site: Site) -> list[Handle]:
        each = [
            (n, one, one.line if isinstance(one, Fence) else one.outline) for n, one in enumerate(CORNERED[what](site))
        ]
        word = "point" if what == "fence" else "corner"
        return [
            Handle(id=f"{what}:{n}:{i}", kind="path", at=at, tip=f"{one.name}, {word} {i + 1}")
            for n, one, line in each
            for i, at in enumerate(line)
        ]

    return handles


THE_SCAN = "the scan's A and B"
DRAGS: dict[str, Callable[[Site], list[Handle]]] = {
    "boundary corners": _corners,
    "trees": _trees,
    "doors, windows, gates": _openings,
    "house corners": _corners_of("house"),
    "points of fences": _corners_of("fence"),
    "corners of obstacles": _corners_of("obstacle"),
    "ground heights": _heights,
    THE_SCAN: lambda _: [],  # they are the page's own until the picture is placed
}
HELD_BY = {  # by the word of the kind that is chosen
    **dict.fromkeys(("door", "window", "gate"), "doors, windows, gates"),
    "building": "house corners",
    "fence": "points of fences",
    "obstacle": "corners of obstacles",
    "tree": "trees",
    HEIGHT: "ground heights",
}


class GroundPlan(Part):
    """The live plan with what is dragged on it and drawn on it; a click chooses while nothing is drawn."""

    page: "GroundPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.handles: tuple[Handle, ...] = ()
        self.drag = controls.choice("Drag on the plan", next(iter(DRAGS)), list(DRAGS), self._again, name="drag")
        self.plan = self.page.live_plan(self.scene(), width_px=SCREEN_PX[0], most_height_px=SCREEN_PX[1], handles=())
        self.under = ColumnDataSource(data=no_picture(), name="underlay")
        scan = self.plan.figure.image_url(
            url="url", x="x", y="y", w="w", h="h", angle="angle", anchor="center", source=self.under, level="image"
        )
        self.plan.only_here(scan)
        self.draw = Draw(self.page, self.plan, (*GROUND, TAPE), made=self.page.show_drawn, choose=self.choose)
        self.board = self.plan.board(self.edited)

    def refresh(self) -> None:
        """Draw the ground as it stands."""
        self.redraw()
        self.under.data = self.page.scan.columns()

    def redraw(self) -> None:
        """Draw the plan and its handles again."""
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.handles = tuple(self._handles())
        self.plan.set_handles(self.handles)

    # ---- handlers

    def drag_the_scan(self) -> None:
        """Show the handles of the scan's two marks."""
        self.drag.show(THE_SCAN)
        self.redraw()

    def drag_what(self, word: str) -> None:
        """Show the handles of a sort of things: what was chosen is then dragged at once."""
        self.drag.show(HELD_BY[word])

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged on the plan."""
        before = self.project
        for handle, at in moved_handles(data, self.handles):
            self.attempt(self.drop, handle, (round(at[0], 3), round(at[1], 3)))
        if self.project is not before:  # the edit has shown it already
            return
        said = self.message.value
        self.attempt(self.redraw)
        self.message.value = said or self.message.value

    @handler
    def choose(self, at: Point) -> None:
        """Open the form of what stands where the plan was clicked."""
        found = thing_at(self.project.site, at)
        if found is not None:
            self.page.show_thing(found)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``house:0:3``, ``fence:1:0``, ``tree:plum``, ``scan:A``."""
        what, _, which = handle.partition(":")
        if what == "scan":
            self.page.scan.mark(which, at)
        elif what == "corner":
            self.edit("move a corner", lambda p: edits.move_boundary_corner(p, int(which), to=at))
        elif what == "height":
            self.edit("move a ground height", lambda p: edits.change_height(p, int(which), at=at))
        elif what in CORNERED:
            number, corner = (int(part) for part in which.split(":"))
            name = CORNERED[what](self.project.site)[number].name
            self.edit(f"move a corner of {name}", lambda p: edits.move_thing_corner(p, name, corner, to=at))
        else:
            self.edit(f"move {which}", lambda p: edits.move_thing(p, which, to=at))

    # ---- what is drawn

    def scene(self) -> Scene:
        """Return the site as found, over its scan when there is one."""
        return found_scene(
            self.project.site,
            title=f"{self.project.name}: the ground as found",
            units=self.project.units,
            screen_px=SCREEN_PX,
            scan=self.page.scan.bounds(),
            whole_scan=self.drag.bar.value == THE_SCAN,
            extra=self._marks,
        )

    def _again(self, _: object) -> None:
        self.attempt(self.redraw)

    def _handles(self) -> Sequence[Handle]:
        if self.drag.bar.value == THE_SCAN:
            tip = "a place in the picture you have measured"
            marks = self.page.scan.marks
            return [Handle(id=f"scan:{k}", kind="path", at=at, tip=f"{k}: {tip}") for k, at in marks.items()]
        return DRAGS[self.drag.bar.value](self.project.site)

    def _marks(self, scale: float) -> list[Mark]:
        site = self.project.site
        marks: list[Mark] = list(found_heights(self.project, scale=scale))
        if self.drag.bar.value == THE_SCAN:
            marks += letters_of(self.page.scan.marks, scale)
        if not site.boundary and site.underlay is None:
            marks.append(words_on_empty_ground(EMPTY))
        chosen = self.page.things.chosen
        if isinstance(chosen, SpotHeight):
            marks.append(chosen_mark(chosen.at, 0.5, scale=scale))
        elif chosen is not None:
            marks.append(chosen_shape_mark(edits.shape_of(chosen), scale=scale))
        return [*marks, *self.page.lit(scale)]
