"""The two parts of the plan of plants: one plant that is there already, and another kind for a plant or a bed."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.planting import kind_named, pictured, rich_table
from gardenkit.notebook.part import Part
from gardenkit.notebook.place import PlaceOf
from gardenkit.planting import hand
from gardenkit.planting.planting import Plant
from gardenkit.planting.spacing import spacing_for
from gardenkit.planting.species import Species, caution_text
from gardenkit.project.edits import planting as edits
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.notebook.pages.layering import LayeringPage

MOST_MORE = 500  # plants put in at once round one of their kind. House value.
MOST_YEARS = 50  # after the first season; house value
PATTERNS = [("staggered rows", "staggered"), ("square rows", "square")]


class OnePlant(Part):
    """Which plant, and what becomes of it: chosen on a list or by a drag, locked, taken out, multiplied."""

    page: "LayeringPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.number: int | None = None
        self.pick = controls.choice("Plant", None, [("choose ...", None)], self.choose, name="plant")
        self.facts = w.HTML()
        self.lock = controls.button("Lock", self.toggle_lock, tip="a locked plant stays where it is", width="49%")
        take_out = controls.button("Remove", self.remove, width="49%", name="remove")
        self.first = controls.field(
            "Planted in year", "", lambda _: None, name="plant-first", hint="0: the first season"
        )
        self.last = controls.field("Taken out after year", "", lambda _: None, name="plant-last", hint="stays for good")
        years = controls.button("Set its years", self.set_years, width="96%", name="plant-years")
        self.copies = controls.field("How many more of it, beside it", "1", lambda _: None, name="copies")
        more = controls.button("Plant more of it", self.one_more, width="96%", name="more")
        self.place = PlaceOf(self.page, lambda: None if self.number is None else ("plant", str(self.number)))
        self.drift = controls.button("Choose its drift", self.page.choose_drift, width="96%", name="choose-drift")
        self.controls = [self.pick, self.facts, controls.row(self.lock, take_out), self.drift, self.place.widget]
        self.controls += [self.first, self.last, years, self.copies, more]

    def refresh(self) -> None:
        """List the plants as they are numbered, and say what is known of the chosen one."""
        plants = self.project.planting.plants
        if self.number not in {p.number for p in plants}:
            self.number = None
        listed = [("choose ...", None), *((f"{p.number}  {p.species}", p.number) for p in plants)]
        forms.relist(self.pick, listed, self.number)
        self.show_facts()

    @handler
    def choose(self, number: int | None) -> None:
        """Choose one plant to lock, remove, multiply or swap; it is ringed on the plan."""
        self.number = number
        self.show_facts()
        self.page.redraw()

    @handler
    def toggle_lock(self) -> None:
        """Lock or unlock the chosen plant."""
        plant = self.chosen()
        word = "unlock" if plant.locked else "lock"
        locked = not plant.locked
        self.edit(f"{word} plant {plant.number}", lambda p: edits.lock_plants(p, plant.number, locked=locked))

    @handler
    def set_years(self) -> None:
        """Plant the chosen one in the typed year, and take it out after another one where that is typed."""
        number = self.chosen().number
        first = _year(self.first.bar.value, "the year of planting")
        last = _year(self.last.bar.value, "the last year")
        self.edit(f"years of plant {number}", lambda p: edits.set_plant_years(p, number, year=first or 0, until=last))

    @handler
    def remove(self) -> None:
        """Take the chosen plant out."""
        number = self.chosen().number
        self.edit(f"remove plant {number}", lambda p: edits.remove_plants(p, number))

    @handler
    def one_more(self) -> None:
        """Plant more of the chosen kind round it, as many as are typed."""
        plant = self.chosen()
        many = reading.whole(self.copies.bar.value, "the number of plants", low=1, high=MOST_MORE)
        bed = self.garden.layout.bed_at(plant.at)
        spacing = self.garden.catalogue[plant.species].spacing_m
        inside = bed.region if bed else None
        if self.edit(
            f"{many} more {plant.species}",
            lambda p: edits.multiply_plant(p, plant.number, many, spacing=spacing, bed=inside),
        ):
            self.message.say(f"{many} more {plant.species} planted {self.page.lengths(spacing)} apart")

    def chosen(self) -> Plant:
        """Return the plant that is chosen. Raises GardenError when none is."""
        if self.number is None:
            raise GardenError("no plant is chosen; choose one from the list or drag it on the plan")
        return hand.plant_of(self.project.planting, self.number)

    def show_facts(self) -> None:
        """Say what is known of the chosen plant, and where it stands."""
        self.place.refresh()
        if self.number is None:
            self.facts.value, self.drift.layout.display = "", "none"
            self.first.show("")
            self.last.show("")
            return
        plant = self.chosen()
        self.first.show(str(plant.year))
        self.last.show("" if plant.until is None else str(plant.until))
        species = self.garden.catalogue[plant.species]
        self.lock.description = "Unlock" if plant.locked else "Lock"
        states = ("locked" if plant.locked else "placed by hand" if plant.by_hand else "", plant.group)
        state = ", ".join(word for word in states if word)
        together = self.page.drift_of(plant.number)
        self.drift.layout.display = None if len(together) > 1 else "none"
        rows = [
            (pictured(species, self.project.units, px=46), species.common + (f" ({state})" if state else "")),
            ("full size", self.page.size_of(species)),
            ("its drift", counted(len(together), "plant") if len(together) > 1 else "stands alone"),
            ("grows in", ", ".join(species.sun_range) + f" sun; zones {species.zone_min} to {species.zone_max}"),
            ("beware", self.page.told(caution_text(species))),
        ]
        self.facts.value = rich_table((f"{plant.number}", plant.species), rows)


def _year(typed: str, what: str) -> int | None:
    """Return a whole number of years after the first season, None where nothing is typed. Raises GardenError."""
    if not typed.strip():
        return None
    return reading.whole(typed, what, low=0, high=MOST_YEARS, unit="years after the first season")


class AnotherKind(Part):
    """A kind found by name: put in the place of the chosen plant or of all of its kind, added to a bed, filling it."""

    page: "LayeringPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.kind = controls.field("Kind to put in", "", lambda _: self.show_kind(), name="kind", hint="e.g. catmint")
        self.found = w.HTML()
        self.bed = controls.choice("Bed", None, [], lambda _: None, name="bed")
        self.apart = controls.field("Distance apart", "", lambda _: None, name="apart", hint="as the catalogue says")
        self.pattern = controls.choice("Set out in", "staggered", PATTERNS, lambda _: None)
        self.controls = [
            self.kind,
            self.found,
            controls.row(
                controls.button("Swap chosen for it", self.swap, width="49%", name="swap"),
                controls.button("Swap all of its kind", self.swap_all, width="49%", name="swap-all"),
            ),
            self.bed,
            controls.button("Add one to the bed", self.add, width="96%", name="add"),
            self.apart,
            self.pattern,
            controls.button("Fill the bed with it", self.fill, width="96%", name="fill"),
        ]

    def refresh(self) -> None:
        """List the beds as they lie."""
        refill(self.bed, [bed.name for bed in self.garden.layout.beds], self.bed.bar.value)

    @handler
    def show_kind(self) -> None:
        """List the kinds that the typed words may mean; say the nearest when there is none."""
        typed = self.kind.bar.value.strip()
        hits = self.garden.catalogue.find(typed) if typed else ()
        self.found.value = (
            controls.table_html(("found", ""), [(s.botanical, s.common) for s in hits[:6]]) if hits else ""
        )
        if typed and not hits:
            self.species()

    @handler
    def swap(self) -> None:
        """Put the typed kind in the place of the chosen plant."""
        number, kind = self.page.one.chosen().number, self.species()
        self.edit(f"swap plant {number}", lambda p: edits.swap_plants(p, number, kind))

    @handler
    def swap_all(self) -> None:
        """Put the typed kind in the place of every unlocked plant of the chosen one's kind; say which stay and why."""
        old, kind = self.page.one.chosen().species, self.species()
        locked = [str(p.number) for p in self.project.planting.plants if p.species == old and p.locked]
        if self.edit(f"swap all {old}", lambda p: edits.swap_kind(p, old, kind)) and locked:
            self.message.say(f"{old} is swapped; locked and so left as they are: plants {', '.join(locked)}")

    @handler
    def add(self) -> None:
        """Plant one of the typed kind in the chosen bed, in its widest place."""
        species, bed = self.species(), self.bed.bar.value or ""
        self.edit(f"add {species.botanical}", lambda p: edits.add_to_bed(p, bed, species))

    @handler
    def fill(self) -> None:
        """Fill the chosen bed with the typed kind."""
        species, bed, own = self.species(), self.bed.bar.value or "", self.own_spacing()
        before, pattern = len(self.project.planting.plants), self.pattern.bar.value
        if self.edit(
            f"fill {bed} with {species.botanical}",
            lambda p: edits.fill_bed(p, bed, species, spacing=own, pattern=pattern),
        ):
            new = self.project.planting.plants[before:]
            apart = self.page.lengths(spacing_for(species, own))
            self.message.say(f"{len(new)} {species.botanical} planted in {bed}, {apart} apart")

    def own_spacing(self) -> float | None:
        """Return the typed distance apart (m), None where none is typed. Raises GardenError."""
        typed = self.apart.bar.value.strip()
        return self.page.metres(typed, f'distance apart in bed "{self.bed.bar.value or ""}"') if typed else None

    def species(self) -> Species:
        """Return the typed kind. Raises GardenError for none, or one that is not known."""
        return kind_named(self.garden.catalogue, self.kind.bar.value)
