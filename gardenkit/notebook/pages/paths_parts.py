"""The parts of the paths page: one path as it is, its route options, what is pinned, another path, stones one has."""

from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import paths_shown as shown
from gardenkit.notebook.pages.bones import heading, refill
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project.edits import structure as edits
from gardenkit.project.joints import creeps
from gardenkit.project.layout import propose
from gardenkit.structure.kinds import BONDS, SURFACES, surface_kind
from gardenkit.structure.meander import LONGEST, Meander, same_but_for_bends
from gardenkit.structure.path_rules import SLOPES, WIDTHS
from gardenkit.structure.structure import Path

if TYPE_CHECKING:
    from gardenkit.notebook.pages.paths import PathsPage
MOST_ALIKE = 100_000  # stones of one line of a pallet. House value.


class OnePath(Part):
    """What the chosen path is called, its surface, for whom it is wide enough, its slope standard, where it joins."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.name = controls.field("Name", "", self.rename, name="path-name")
        first = next(iter(SURFACES))
        self.surface = controls.choice("Surface", first, list(SURFACES), lambda v: self.set(surface=v))
        bonds = [("not said", ""), *((one, one) for one in BONDS)]
        self.bond = controls.choice("Paving laid in", "", bonds, lambda v: self.set(bond=v), name="bond")
        self.use = controls.choice(
            "Design width for", "garden path", list(WIDTHS), lambda v: self.set(use=v), name="use"
        )
        self.rule = controls.choice("Slope standard", "trail", list(SLOPES), lambda v: self.set(slope_rule=v))
        self.clear = controls.field("Kept clear of walls", "", self.set_clear)
        low = sorted((s.common, s.botanical) for s in load_catalogue() if creeps(s))
        self.creeping = controls.choice(
            "Planted between its stones", "", [("nothing", ""), *low], lambda v: self.set(creeping=v), name="creeping"
        )
        share = "{:.0%}".format
        self.joins = controls.slider(
            "Joins the other path at", 0.5, 0.05, 0.95, 0.01, lambda v: self.set(joins_at=v), show=share, name="joins"
        )
        self.rails = controls.tick("Handrails up its ramps", False, lambda v: self.set(handrails=v))
        self.controls = [self.name, self.surface, self.bond, self.use, self.rule, self.clear, self.joins, self.creeping]
        self.controls.append(self.rails)

    def refresh(self) -> None:
        """Show the chosen path."""
        path = self.page.path()
        for box, value in (
            (self.name, path.name),
            (self.surface, path.surface),
            (self.bond, path.bond),
            (self.use, path.use),
            (self.rule, path.slope_rule),
            (self.joins, path.joins_at),
            (self.rails, path.handrails),
            (self.clear, self.page.typed(path.clear_of_walls)),
        ):
            box.show(value)
        self.bond.layout.display = None if surface_kind(path.surface).stone == "slabs" else "none"
        joins = {path.start, path.end}.intersection(p.name for p in self.project.structure.paths)
        self.joins.layout.display = None if joins else "none"
        self.rails.layout.display = None if self.garden.layout.ramps.get(path.name) else "none"
        known = [name for _, name in self.creeping.bar.options]
        self.creeping.show(path.creeping if path.creeping in known else "")
        self.creeping.layout.display = None if surface_kind(path.surface).stone in ("single", "field") else "none"

    def set(self, **changes: Any) -> None:
        """Change the chosen path; the moves of one slider are one step of undo."""
        name, key = self.page.path_name, next(iter(changes))
        label = f"{key.replace('_', ' ')} of {name}"
        self.edit(label, lambda p: edits.change_path(p, name, **changes), gesture=f"{name} {key}")

    def rename(self, typed: str) -> None:
        """Give the path another name; paths that join it follow."""
        old, new = self.page.path_name, " ".join(typed.split())
        self.page.path_name = new
        if new == old or not self.edit(f"rename {old}", lambda p: edits.rename_path(p, old, to=new)):
            self.page.path_name = old

    @handler
    def set_clear(self, typed: str) -> None:
        """Keep the path a typed distance off walls and obstacles."""
        self.set(clear_of_walls=self.page.metres(typed, "the distance"))


class RouteOptions(Part):
    """Other ways the path might run, each with what it costs; nothing is changed before one is used."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.ways: tuple[Meander, ...] = ()
        self.of: Path | None = None  # the path as it was when they were looked for
        times = "{:.2f} times".format
        self.length = controls.slider(
            "At most this much longer than direct", LONGEST, 1.05, 2.0, 0.05, lambda _: None, show=times
        )
        look = controls.button("Find route options", self.search, name="search", width="96%")
        self.way = controls.choice("Option", None, [], self.choose, name="way")
        take = controls.button("Use this route", self.take, name="take-way", width="96%")
        self.controls = [heading("Route options"), self.length, look, self.way, take]
        self.table = w.HTML()

    def refresh(self) -> None:
        """Keep the options while they are still those of the path."""
        if self.of is not None and not same_but_for_bends(self.page.path(), self.of):
            self.forget()
        refill(self.way, shown.way_names(self.ways), self.way.bar.value)

    def forget(self) -> None:
        """Let go of the options."""
        self.ways, self.of = (), None

    @handler
    def choose(self, _: object) -> None:
        """Draw another option full."""
        self.page.redraw()

    @handler
    def search(self) -> None:
        """Look for route options; nothing is changed before one is used."""
        self.message.say("trying routes round what stands there ...")
        path = self.page.path()
        self.ways = propose(self.project, path.name, length_factor=self.length.bar.value)
        self.of = path
        refill(self.way, shown.way_names(self.ways), None)
        self.page.redraw()
        alike = shown.alike_words(self.ways, self.project.units)
        found = f"{len(self.ways)} routes found; choose one and use it, or leave the path as it is"
        self.message.say(f"{found}. {alike}" if alike else found)

    @handler
    def take(self) -> None:
        """Use the chosen route."""
        if not self.ways or self.way.bar.value is None:
            raise GardenError("no route is chosen; find route options first")
        name, chosen = self.page.path_name, self.ways[self.way.bar.value]
        bends = {field: getattr(chosen.path, field) for field in ("curvature", "sway", "first_side", "line")}
        self.edit(f"{chosen.goal} for {name}", lambda p: edits.use_route(p, name, **bends))


class Pinned(Part):
    """What is kept as it runs and lies now, and is let go again."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        tip = "keep it as it runs now"
        path = controls.button("Pin the path", self.pin_path, tip=tip, width="48%", name="lock-path")
        stones = controls.button("Pin the stones", self.pin_stones, tip="keep every stone where it lies", width="48%")
        self.held = controls.choice("Pinned", None, [], lambda _: None)
        free = controls.button("Unpin", self.release, width="48%")
        free_all = controls.button("Unpin all", self.release_all, width="48%")
        self.controls = [
            heading("Keep what is good"),
            controls.row(path, stones),
            self.held,
            controls.row(free, free_all),
        ]

    def refresh(self) -> None:
        """List what is pinned."""
        path = self.page.path()
        held: list[tuple[str, tuple[str, int]]] = [(f"point {i + 1}", ("point", i)) for i in range(len(path.held))]
        held += [(f"stone {h.number + 1}", ("stone", h.number)) for h in path.held_stones]
        held += [(stone.name, ("cut", number)) for number, stone in enumerate(path.cut_stones)]
        refill(self.held, held or [("nothing", "")], self.held.bar.value)

    def pin_path(self) -> None:
        """Pin the path as it runs now, so that no slider moves it."""
        name = self.page.path_name
        self.edit(f"pin {name}", lambda p: edits.pin_path(p, name))

    def pin_stones(self) -> None:
        """Keep every stone where it lies."""
        name = self.page.path_name
        self.edit(f"pin the stones of {name}", lambda p: edits.pin_stones(p, name))

    @handler
    def release(self) -> None:
        """Unpin the chosen point or stone."""
        name, chosen = self.page.path_name, self.held.bar.value
        if not chosen:
            raise GardenError(f'nothing on path "{name}" is pinned')
        kind, which = chosen
        if kind == "cut":
            cut = self.page.path().cut_stones[which].name
            self.edit(f"remove {cut}", lambda p: edits.remove_cut_stone(p, cut))
            return
        undo = edits.unpin_point if kind == "point" else edits.unpin_stone
        self.edit(f"unpin a {kind}", lambda p: undo(p, name, which))

    def release_all(self) -> None:
        """Let the path and its stones run by the sliders again."""
        name = self.page.path_name
        self.edit(f"unpin {name}", lambda p: edits.unpin(p, name))


class AnotherPath(Part):
    """A new path between two places, or from a place to another path; the chosen one taken out."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.name = controls.field("A new path called", "", lambda _: None, name="new-path")
        self.start = controls.choice("From", None, [], lambda _: None, name="from")
        self.end = controls.choice("To", None, [], lambda _: None, name="to")
        add = controls.button("Add path", self.add, width="48%", name="add-path")
        gone = controls.button("Delete path", self.remove, width="48%", name="remove-path")
        self.controls = [heading("Another path"), self.name, self.start, self.end, controls.row(add, gone)]

    def refresh(self) -> None:
        """List the places and paths there are."""
        places, paths = list(edits.places(self.project)), [p.name for p in self.project.structure.paths]
        refill(self.start, places, self.start.bar.value)
        refill(self.end, [*places, *paths], self.end.bar.value or next(iter(places[1:]), None))

    def add(self) -> None:
        """Add a path between two places, or from a place to another path."""
        name = self.name.bar.value
        start, end = self.start.bar.value or "", self.end.bar.value or ""
        if self.edit(f"add {name}", lambda p: edits.add_path(p, name, start=start, end=end)):
            self.name.show("")
            self.page.choose(self.project.structure.paths[-1].name)

    def remove(self) -> None:
        """Delete the chosen path."""
        name = self.page.path_name
        self.edit(f"delete {name}", lambda p: edits.remove_path(p, name))


class StonesOneHas(Part):
    """How thick the stone is, and the stones of a pallet that were measured: on each line how many, over and along."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.pallet = w.Textarea(placeholder=self._hint(), layout=w.Layout(width="96%", height="76px"))
        use = controls.button("Lay from this pallet", self.set_pallet, width="96%", name="pallet")
        self.thick = controls.field("Thickness of the stone", "", self.set_thickness)
        share = "{:.0%}".format
        self.spread = controls.slider(
            "Stones differ in size by", 0.0, 0.0, 0.6, 0.05, self.set_spread, show=share, name="spread"
        )
        self.pairs = controls.slider("Laid in pairs", 0.0, 0.0, 0.3, 0.05, self.set_pairs, show=share, name="pairs")
        self.controls = [heading("Stones you have"), self.spread, self.pairs, self.thick, self.pallet, use]

    def refresh(self) -> None:
        """Show how thick the stone is."""
        stones = self.page.path().stones
        self.thick.show(self.page.typed(stones.thickness))
        self.spread.show(stones.spread)
        kind = surface_kind(self.page.path().surface).stone
        self.pairs.show(stones.pairs)
        for bar in (self.spread, self.pairs):
            bar.layout.display = None if kind == "single" and not stones.pallet else "none"

    def set_spread(self, spread: float) -> None:
        """Let the stones differ more in size, the larger ones where one stops or turns; 0: all alike."""
        name = self.page.path_name
        self.edit("sizes of the stones", lambda p: edits.lay_stones(p, name, spread=spread), gesture=f"{name} spread")

    def set_pairs(self, pairs: float) -> None:
        """Lay two smaller stones side by side in place of this share of the stones; 0: none."""
        name = self.page.path_name
        self.edit("stones in pairs", lambda p: edits.lay_stones(p, name, pairs=pairs), gesture=f"{name} pairs")

    @handler
    def set_thickness(self, typed: str) -> None:
        """Set how thick the stone is."""
        name, thick = self.page.path_name, self.page.metres(typed, "the thickness of the stone")
        self.edit("thickness of the stone", lambda p: edits.lay_stones(p, name, thickness=thick))

    @handler
    def set_pallet(self) -> None:
        """Lay the stones of a pallet the designer has measured."""
        name, stones = self.page.path_name, self._stones()
        self.edit("pallet", lambda p: edits.set_pallet(p, name, stones))

    def _stones(self) -> tuple[tuple[int, float, float], ...]:
        stones = []
        for number, line in enumerate((x for x in self.pallet.value.splitlines() if x.strip()), 1):
            parts = [part.strip() for part in line.replace("×", "x").split(" x ")]
            if len(parts) != 3:
                raise GardenError(
                    f'line {number} of the pallet ("{line.strip()}") cannot be read; write how many x over x along, '
                    f"such as {self._hint()}"
                )
            where = f"line {number} of the pallet"
            many = reading.whole(parts[0], f"how many stones, {where}", low=1, high=MOST_ALIKE)
            over, along = (self.page.metres(part, where) for part in parts[1:])
            stones.append((many, over, along))
        return tuple(stones)

    def _hint(self) -> str:
        return "12 x 24 in x 18 in" if self.project.units == "imperial" else "12 x 0.60 m x 0.45 m"
