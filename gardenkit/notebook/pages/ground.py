"""The ground as found: the place, its boundary, the house with its doors, fences, trees, and a scan to trace over."""

import math
from typing import Any

import attrs
import ipywidgets as w
from bokeh.models import ColumnDataSource, PointDrawTool

from gardenkit.brief.pictures import add_picture
from gardenkit.drawing import style
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle, moved_handles
from gardenkit.drawing.furniture import STRIP_MM, furniture
from gardenkit.drawing.plan import MARGIN_MM, PIXEL_MM, plan_bounds, plan_scene, screen_scale
from gardenkit.drawing.scene import Area, Bounds, Disc, Label, Mark, Scene, Stroke, around, grown_bounds, on_ground
from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.pages.ground_fields import KINDS
from gardenkit.notebook.pages.ground_kinds import GroundKind
from gardenkit.notebook.pages.place import PLACE_ENTRIES, degrees, place_texts, time_zone_at
from gardenkit.notebook.pages.scan import data_url, no_picture
from gardenkit.project.edits import site as edits
from gardenkit.site.country import usa_only
from gardenkit.site.place import Place
from gardenkit.site.site import Site
from gardenkit.site.tracing import Underlay, picture_size, underlay, underlay_by_length
from gardenkit.storage import PICTURES_FOLDER
from gardenkit.units import bearing, length, show_area, show_length

WIDTH_PX, MOST_HEIGHT_PX = 700, 800
WASH = 0.35  # how much of the plan's own colours is left over a scan. House value.
BESIDE = 2.0  # m of a scan shown beyond the boundary. House value.
SCAN_WIDTH = 20.0  # m a new scan is first laid out across. House value.
DRAGS = ("boundary corners", "trees", "doors, windows, gates", "house corners", "the scan's A and B")
SCAN_ENTRIES = (
    Entry(key="a", words="A is at: x, y on the plan", hint="0, 0"),
    Entry(key="b", words="B is at: x, y on the plan", hint="40', 0"),
    Entry(key="between", words="or only: from A to B it measures", hint="40'"),
)


class GroundPage(Page):
    """Four short forms left, the plan right with points to drag, what is known and what is missing below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.handles: tuple[Handle, ...] = ()
        self.scan_marks: dict[str, Point] = {}
        self.chosen: str | None = None  # name of the thing in the form
        self.kind: GroundKind = KINDS["building"]
        self.pictures: dict[str, str] = {}
        self.forms = {
            k.word: Form([c.entry(self.project.units) for c in k.columns], name=k.word) for k in KINDS.values()
        }
        self.place = Form(PLACE_ENTRIES, name="place")
        self.boundary = forms.lines(
            "Corners in order, one x, y on each line; or a rectangle such as 40 x 60",
            rows=7,
            name="boundary",
            hint="0, 0\n40, 0\n40, 60\n0, 60",
        )
        self.kinds = controls.choice("Kind", "building", list(KINDS), self.choose_kind, name="kind")
        self.which = controls.choice("Which", None, [("a new one", None)], self.choose, name="thing")
        self.fields = w.VBox([self.forms["building"]], layout=w.Layout(width="100%"))
        self.add_button = controls.button("Add", self.add, name="add-thing", width="32%")
        self.change_button = controls.button("Change", self.change, name="change-thing", width="32%")
        self.remove_button = controls.button("Remove", self.remove, name="remove-thing", width="32%")
        self.upload = w.FileUpload(
            accept="image/*", multiple=False, description="Choose a scan or photo", layout=w.Layout(width="96%")
        )
        self.upload.observe(lambda change: self.take_scan(change["new"]), "value")
        self.scan = Form(SCAN_ENTRIES, name="scan")
        self.drag = controls.choice(
            "Drag on the plan", DRAGS[0], DRAGS, lambda _: self.attempt(self._redraw), name="drag"
        )
        self.clicking = controls.tick("Click the plan to put in corners", False, self.click_corners)
        self.steps = forms.sections(
            [
                (
                    "1  The place",
                    [self.place, controls.button("Set the place", self.set_place, name="place", width="96%")],
                ),
                (
                    "2  The boundary",
                    [
                        self.boundary,
                        controls.button("Set the boundary", self.set_boundary, name="boundary", width="96%"),
                    ],
                ),
                (
                    "3  House, openings, fences, trees",
                    [
                        self.kinds,
                        self.which,
                        self.fields,
                        forms.side_by_side(self.add_button, self.change_button, self.remove_button),
                        self.message,
                    ],
                ),
                ("A scan to trace over", self._scan_controls()),
            ]
        )
        self.known, self.findings = w.HTML(), w.HTML()
        self.plan = LivePlan(self.scene(), width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX, handles=())
        self.under = ColumnDataSource(data=no_picture(), name="underlay")
        self.plan.figure.image_url(
            url="url", x="x", y="y", w="w", h="h", angle="angle", anchor="center", source=self.under, level="image"
        )
        self.board = Board(self.plan.figure, {"handles": self.plan.handles}, self.edited)
        panel = [self.steps, self.drag, self.clicking, self.undo_row()]
        self.widget = controls.page(self.message, panel, forms.beside(self.board, self.known), [self.findings])

    def refresh(self) -> None:
        """Show the site as it stands."""
        site, units = self.project.site, self.project.units
        self.place.show(place_texts(site, units))
        self._show_boundary()
        self._show_list()
        self.scan_marks = {} if site.underlay is None else {"A": site.underlay.plan_a, "B": site.underlay.plan_b}
        self._redraw()
        self._show_scan()
        self.known.value = controls.table_html(("on record", ""), self._rows())
        self.findings.value = controls.findings_html(self.advice(), units=units)

    # --- handlers: the place and the boundary -------------------------------------------------------------------

    @handler
    def set_place(self) -> None:
        """Take in where on earth the garden lies; an empty time zone is found from latitude and longitude."""
        texts, old = self.place.texts(), self.project.site.place
        if "," in texts["latitude"] and not texts["longitude"]:
            texts["latitude"], texts["longitude"] = (part.strip() for part in texts["latitude"].split(",", 1))
        north, east = degrees(texts["latitude"], "latitude", 90), degrees(texts["longitude"], "longitude", 180)
        high = old.elevation
        if texts["elevation"] != place_texts(self.project.site, self.project.units)["elevation"]:
            high = self._length(texts["elevation"] or "0", "the height above the sea", signed=True)
        moved = (north, east) != (old.latitude, old.longitude)
        typed = texts["timezone"]
        zone = time_zone_at(north, east) if not typed or (moved and typed == old.timezone) else typed
        turn = bearing(texts["y_bearing"] or "0", where="north rotation")
        here = {"name": texts["name"], "latitude": north, "longitude": east, "elevation": high, "timezone": zone}
        if self.edit("the place", lambda p: edits.set_place(p, y_bearing=turn, **here)):
            self.message.say(f"the place is set; its clock runs by {zone}. Next: the boundary")

    @handler
    def set_boundary(self) -> None:
        """Take in the boundary's corners; gates in it stay on it."""
        site, units = self.project.site, self.project.units
        corners = forms.outline(str(self.boundary.bar.value), units, "the boundary", known=site.boundary)
        if self.edit("the boundary", lambda p: edits.set_boundary(p, corners)):
            self.clicking.bar.value = False
            self.message.say(f"the plot holds {show_area(plane.area(plane.region(corners)), units)}. Next: the house")

    # --- handlers: things on the ground -------------------------------------------------------------------------

    def choose_kind(self, word: str) -> None:
        """Show the fields of another kind of thing."""
        self.kind = KINDS[word]
        self.chosen = None
        self.fields.children = (self.forms[word],)
        self.attempt(self._show_list)

    def choose(self, name: str | None) -> None:
        """Show one thing in the form; None clears the way for a new one."""
        self.chosen = name
        self.attempt(self._show_chosen)

    @handler
    def add(self) -> None:
        """Add what the form describes."""
        kind, site = self.kind, self.project.site
        new = kind.made(self.forms[kind.word].texts(), self.project.units, site)
        self.chosen = new.name
        if self.edit(f"add {kind.word} {new.name}", lambda p: edits.add_thing(p, new)):
            self.clicking.bar.value = False
            self.message.say(f'added {kind.word} "{new.name}"; choose "a new one" to add another')
        else:
            self.chosen = None

    @handler
    def change(self) -> None:
        """Change the chosen thing to what the form says."""
        kind, old = self.kind, self._thing()
        new = kind.made(self.forms[kind.word].texts(), self.project.units, self.project.site, old=old)
        self.chosen = new.name
        if not self.edit(f"change {kind.word} {new.name}", lambda p: edits.change_thing(p, old.name, new)):
            self.chosen = old.name

    @handler
    def remove(self) -> None:
        """Take the chosen thing off the record."""
        kind, old = self.kind, self._thing()
        self.chosen = None
        if not self.edit(f"remove {kind.word} {old.name}", lambda p: edits.remove_thing(p, old.name)):
            self.chosen = old.name

    # --- handlers: the plan -------------------------------------------------------------------------------------

    def click_corners(self, on: bool) -> None:
        """Let clicks on the plan put corners into the open form."""
        self.plan.figure.select_one(PointDrawTool).add = bool(on)
        self.attempt(self._redraw)

    def edited(self, _: str, data: dict[str, list[Any]]) -> None:
        """Take in what was dragged or clicked on the plan."""
        known = {h.id for h in self.handles}
        for name, x, y in zip(data["id"], data["x"], data["y"], strict=False):
            if name not in known:
                self.attempt(self.clicked, (float(x), float(y)))
        for handle, at in moved_handles(data, self.handles):
            self.attempt(self.drop, handle, (round(at[0], 3), round(at[1], 3)))
        said = self.message.value
        self.attempt(self._redraw)
        self.message.value = said or self.message.value

    def clicked(self, at: Point) -> None:
        """Put a clicked place into the open form: the boundary, or the corners, line or place of a thing."""
        if not self.clicking.bar.value:
            return
        shown = forms.show_point(at, self.project.units)
        box = self._target()
        several = isinstance(box.bar, w.Textarea)
        before = str(box.bar.value).rstrip()
        box.show(f"{before}\n{shown}".lstrip("\n") if several else shown)

    def drop(self, handle: str, at: Point) -> None:
        """Put a dragged handle: ``corner:2``, ``house:0:3``, ``tree:plum``, ``opening:gate`` or ``scan:A``."""
        what, _, which = handle.partition(":")
        if what == "scan":
            self.scan_marks[which] = at
            self.message.say(f"{which} is marked on the picture; say where it is on the plan, then place the picture")
        elif what == "corner":
            self.edit("move a corner", lambda p: edits.move_boundary_corner(p, int(which), to=at))
        elif what == "house":
            self._drop_house_corner(*(int(part) for part in which.split(":")), at=at)
        else:
            self._drop_thing(which, at)

    def _drop_house_corner(self, number: int, corner: int, *, at: Point) -> None:
        name = self.project.site.buildings[number].name
        self.edit(f"move a corner of {name}", lambda p: edits.move_thing_corner(p, name, corner, to=at))

    def _drop_thing(self, name: str, at: Point) -> None:
        self.edit(f"move {name}", lambda p: edits.move_thing(p, name, to=at))

    # --- handlers: the scan -------------------------------------------------------------------------------------

    def take_scan(self, files: Any) -> None:
        """Keep an uploaded picture and lay it under the plan at a guess, to be placed by two known points."""
        for file in files:
            self.attempt(self._take_scan, file["name"], bytes(file["content"]))
        self.upload.unobserve_all("value")
        self.upload.value = ()
        self.upload.observe(lambda change: self.take_scan(change["new"]), "value")

    @handler
    def place_scan(self) -> None:
        """Place the picture by its two marked points."""
        old = self.project.site.underlay
        if old is None:
            raise GardenError("there is no picture yet; choose a scan or photo first")
        units, texts = self.project.units, self.scan.texts()
        a, b = (old.to_pixel(self.scan_marks[k]) for k in "AB")
        if texts["a"] and texts["b"]:
            plan = [forms.point(texts[k], units, f"point {k.upper()} of the scan") for k in "ab"]
            placed = underlay(a, b, plan[0], plan[1], picture=old.picture)
        elif texts["between"]:
            placed = underlay_by_length(
                a, b, self._length(texts["between"], "the length from A to B"), picture=old.picture
            )
        else:
            raise GardenError("say where A and B are on the plan, or how far they are apart; then place the picture")
        if self.edit("place the scan", lambda p: edits.set_underlay(p, placed)):
            self.message.say(
                f"the picture is placed: {show_length(placed.scale * 100, units)} for 100 pixels, "
                f"turned {placed.turned:.1f} degrees"
            )

    def drop_scan(self) -> None:
        """Take the picture away from under the plan; its file stays in the folder."""
        self.edit("take the scan away", lambda p: edits.set_underlay(p, None))

    def _take_scan(self, name: str, content: bytes) -> None:
        folder = self.session.folder / PICTURES_FOLDER
        picture = add_picture(folder, name, content).file
        wide, high = picture_size(folder / picture)
        site = self.project.site
        low_x, low_y, high_x, _ = (
            plane.bounds(plane.region(site.boundary)) if site.boundary else (0.0, 0.0, SCAN_WIDTH, 0.0)
        )
        per_px = (high_x - low_x) / wide
        a, b = (0.25 * wide, 0.5 * high), (0.75 * wide, 0.5 * high)
        plan_a, plan_b = ((low_x + x * per_px, low_y + (high - y) * per_px) for x, y in (a, b))
        laid = underlay(a, b, plan_a, plan_b, picture=picture)
        if self.edit(f"scan {picture}", lambda p: edits.set_underlay(p, laid)):
            self.drag.show(DRAGS[-1])
            self._redraw()
            self.message.say(
                "drag A and B onto two places of the picture that you have measured, say where they "
                "are, then place the picture"
            )

    # --- helpers ------------------------------------------------------------------------------------------------

    def _scan_controls(self) -> list[w.Widget]:
        hint = controls.label(
            "Choose a picture; drag A and B on the plan onto two places in it that you know; say "
            "where they are; place the picture. "
            "Then tick “Click the plan” and put in corners."
        )
        buttons = forms.side_by_side(
            controls.button("Place the picture", self.place_scan, name="place-scan", width="60%"),
            controls.button("Take away", self.drop_scan, width="36%"),
        )
        return [hint, self.upload, self.scan, buttons]

    def _length(self, text: str, where: str, *, signed: bool = False) -> float:
        return length(text, bare=forms.bare_unit(self.project.units), where=where, signed=signed)

    def _thing(self) -> Any:
        for thing in self.kind.of(self.project.site):
            if thing.name == self.chosen:
                return thing
        raise GardenError(f"no {self.kind.word} is chosen; choose one from the list")

    def _target(self) -> controls.Labelled:
        if self.steps.selected_index == 1:
            return self.boundary
        boxes = self.forms[self.kind.word].boxes
        return next(boxes[key] for key in ("outline", "line", "at") if key in boxes)

    def _show_boundary(self) -> None:
        text = forms.show_points(self.project.site.boundary, self.project.units, between="\n")
        if text != getattr(self, "_boundary_shown", ""):
            self.boundary.show(text)
        self._boundary_shown = text

    def _show_list(self) -> None:
        names = [x.name for x in self.kind.of(self.project.site)]
        if self.chosen not in names:
            self.chosen = None
        forms.relist(self.which, [(f"a new {self.kind.word}", None), *((name, name) for name in names)], self.chosen)
        self._show_chosen(again=False)

    def _show_chosen(self, *, again: bool = True) -> None:
        form = self.forms[self.kind.word]
        self.change_button.disabled = self.remove_button.disabled = self.chosen is None
        if self.chosen is not None:
            form.show(self.kind.texts(self._thing(), self.project.units), again=again)
        elif form.shown:
            form.fill(**{key: "" for key in ("name", "at", "outline", "line") if key in form.boxes})
            form.shown = {}

    def _show_scan(self) -> None:
        held = self.project.site.underlay
        self.under.data = no_picture() if held is None else self._picture_data(held)

    def _picture_data(self, held: Underlay) -> dict[str, list[Any]]:
        path = self.session.folder / PICTURES_FOLDER / held.picture
        try:
            wide, high = picture_size(path)
        except GardenError as error:
            self.message.problem(f"the scan under the plan is not shown: {error}")
            return no_picture()
        key = f"{held.picture}:{path.stat().st_mtime_ns}"
        if key not in self.pictures:
            self.pictures = {key: data_url(path)}
        x, y = held.to_plan((wide / 2, high / 2))  # a picture is turned about its middle
        return {
            "url": [self.pictures[key]],
            "x": [x],
            "y": [y],
            "w": [wide * held.scale],
            "h": [high * held.scale],
            "angle": [-math.radians(held.turned)],
        }

    def _redraw(self) -> None:
        scene = self.scene()
        self.plan.reframe(scene)
        self.plan.update(scene)
        self.handles = tuple(self._handles())
        self.plan.set_handles(self.handles)

    def _handles(self) -> list[Handle]:
        if self.clicking.bar.value:
            return []  # a click on a handle would take hold of it instead of putting in a corner
        site, what = self.project.site, self.drag.bar.value
        if what == DRAGS[0]:
            return [
                Handle(id=f"corner:{i}", kind="path", at=p, tip=f"corner {i + 1}") for i, p in enumerate(site.boundary)
            ]
        if what == DRAGS[1]:
            return [Handle(id=f"tree:{t.name}", kind="plant", at=t.at, tip=t.name) for t in site.trees]
        if what == DRAGS[2]:
            return [Handle(id=f"opening:{o.name}", kind="seat", at=o.middle, tip=o.name) for o in site.openings]
        if what == DRAGS[3]:
            return [
                Handle(id=f"house:{n}:{i}", kind="path", at=p, tip=f"{b.name}, corner {i + 1}")
                for n, b in enumerate(site.buildings)
                for i, p in enumerate(b.outline)
            ]
        return [
            Handle(id=f"scan:{k}", kind="path", at=at, tip=f"{k}: a place in the picture you have measured")
            for k, at in self.scan_marks.items()
        ]

    def _rows(self) -> list[tuple[str, str]]:
        site, units = self.project.site, self.project.units
        rows = [("place", site.place.name or "not given")]
        if site.place != Place():
            rows.append(("latitude, longitude", f"{site.place.latitude:.4f}, {site.place.longitude:.4f}"))
            rows += [("clock", site.place.timezone), ("up on the plan", f"{site.y_bearing:g} degrees from north")]
        if site.boundary:
            plot = plane.region(site.boundary)
            rows += [
                ("plot", show_area(plane.area(plot), units)),
                ("round it", show_length(plane.perimeter(plot), units)),
            ]
        return rows + [(f"{k.word}s", ", ".join(x.name for x in k.of(site)) or "none") for k in KINDS.values()]

    def advice(self) -> tuple[Finding, ...]:
        """Return what is still missing for a sun map, in the order to give it."""
        site = self.project.site
        asked = [
            (site.place == Place(), "the place is not given; type latitude and longitude, as any map shows them"),
            (
                not site.boundary,
                "the boundary is not given; type its corners, measure them on the survey page, or trace a scan",
            ),
            (not site.buildings, "there is no house on record; without it the sun map shows open ground"),
            (
                not site.trees and not site.fences,
                "no trees or fences are on record; add those that throw shade, the neighbours' too",
            ),
            (not site.doors_and_gates(), "there is no door or gate; paths begin and end at them"),
        ]
        found = [
            Finding(where="ground", what=what, seriousness="caution", topic="site")
            for missing, what in asked
            if missing
        ]
        marked = usa_only(self.project.site, "call 811", general="before any digging have the buried lines marked")
        call = f"{marked}; lines are not shown on this plan"
        return (*found, Finding(where="ground", what=call, source="common practice, no source", topic="safety"))

    def scene(self) -> Scene:
        """Return the site as found, over its scan when there is one."""
        site, units = self.project.site, self.project.units
        title = f"{self.project.name}: the ground as found"
        shown = None if site.underlay is None else self._shown_bounds(site, site.underlay)
        scale = (
            screen_scale(site, width_px=WIDTH_PX, most_height_px=MOST_HEIGHT_PX) if shown is None else _scale_of(shown)
        )
        made = plan_scene(site=site, title=title, scale=scale, units=units, to_scale=False, extra=self._marks(scale))
        if shown is None:
            return made
        marks = tuple(
            attrs.evolve(m, alpha=m.alpha * WASH) if isinstance(m, Area) and m.layer in ("ground", "structure") else m
            for m in made.marks
            if m.layer != "furniture"
        )
        below, whole = furniture(shown, y_bearing=site.y_bearing, units=units, scale=scale, title=title, to_scale=False)
        return attrs.evolve(made, marks=(*marks, *below), bounds=whole)

    def _shown_bounds(self, site: Site, held: Underlay) -> Bounds:
        """Return the ground to show over a scan: all of the scan until there is a boundary, then the plot and a little
        more.
        """
        if site.boundary and self.drag.bar.value != DRAGS[-1]:
            return grown_bounds(plan_bounds(site, scale=1e-9), BESIDE)
        plot = [plan_bounds(site, scale=1e-9)] if site.boundary else []
        found = [*plot, *self._scan_bounds(held)]
        return around(*found) if found else plan_bounds(site, scale=1e-9)

    def _scan_bounds(self, held: Underlay) -> list[Bounds]:
        try:
            corners = held.corners(*picture_size(self.session.folder / PICTURES_FOLDER / held.picture))
        except GardenError:
            return []
        xs, ys = [p[0] for p in corners], [p[1] for p in corners]
        return [(min(xs), min(ys), max(xs), max(ys))]

    def _marks(self, scale: float) -> tuple[Mark, ...]:
        size = on_ground(1.0, scale)
        marks: list[Mark] = []
        if self.drag.bar.value == DRAGS[-1]:
            marks += [
                Label(
                    at=(at[0] + 3.2 * size, at[1] + 2.4 * size),
                    text=k,
                    size_mm=3.6,
                    bold=True,
                    colour=style.ALERT,
                    halo=style.PAPER,
                    layer="overlay",
                )
                for k, at in self.scan_marks.items()
            ]
        if not self.project.site.boundary and self.project.site.underlay is None:
            words = "Give the boundary, or choose a scan: the plan is drawn here"
            marks.append(Label(at=(5.0, 6.0), text=words, size_mm=3.6, colour=style.SOFT_INK))
        typed = self._typed() if self.clicking.bar.value else ()
        marks += [Disc(at=at, radius=0.8 * size, fill=style.FOUND, layer="overlay") for at in typed]
        if len(typed) > 1:
            marks.append(
                Stroke(points=typed, colour=style.FOUND, width_mm=style.EDGE, dash=style.HIDDEN_DASH, layer="overlay")
            )
        return tuple(marks)

    def _typed(self) -> tuple[Point, ...]:
        try:
            return forms.points(str(self._target().bar.value), self.project.units, "the corners")
        except GardenError:
            return ()

    def summary(self) -> str:
        """Return the ground in words."""
        return "\n".join(f"{name}: {value}" for name, value in self._rows())


def page(session: Any) -> GroundPage:
    """Return the page for a garden."""
    return GroundPage(session)


def _scale_of(bounds: Bounds) -> float:
    """Return the n of 1 : n at which some ground fills the plan on the screen."""
    low_x, low_y, high_x, high_y = bounds
    wide, high = WIDTH_PX * PIXEL_MM - 2 * MARGIN_MM, MOST_HEIGHT_PX * PIXEL_MM - 2 * MARGIN_MM - STRIP_MM
    return max((high_x - low_x) * 1000 / wide, (high_y - low_y) * 1000 / high)
