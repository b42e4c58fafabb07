"""The part of the plan of plants for divisions: what dividing gives year by year, planted where the ground is bare."""

import html
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.species import Species
from gardenkit.project.divisions import LAST, Offer, bare_places, motherless, offers
from gardenkit.project.edits import planting as edits
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.notebook.pages.layering import LayeringPage

HOW = (
    "Perennials that are divided give plants for nothing. Choose a kind and a year: its parts are planted where the "
    "ground is bare then, and stand on the plan from that year on; they are not bought."
)
NONE = f"Nothing that stands in the garden is divided up to year {LAST}."


class Divisions(Part):
    """Which kind is divided in which year, and its free plants put where there is room."""

    page: "LayeringPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.said = w.HTML()
        self.pick = controls.choice("Divided", None, [("choose ...", None)], lambda _: None, name="divided")
        press = controls.button(
            "Plant them where the ground is bare", self.plant, width="96%", name="plant-divisions", tip="undone by Undo"
        )
        self.controls = [self.said, self.pick, press]

    def refresh(self) -> None:
        """List what dividing leaves free, year by year."""
        self.offers = offers(self.project, self.catalogue)
        listed = [("choose ...", None), *((_words(one), (one.year, one.given.botanical)) for one in self.offers)]
        forms.relist(self.pick, listed, self.pick.bar.value)
        lost = map(_lost, motherless(self.project, self.catalogue))
        text = " ".join((HOW if self.offers else NONE, *lost))
        self.said.value = f'<div class="gk-label">{html.escape(text)}</div>'

    @property
    def catalogue(self) -> Catalogue:
        """The kinds of the garden."""
        return self.garden.catalogue

    @handler
    def plant(self) -> None:
        """Plant the free plants of the chosen kind and year where the ground is bare then, and look at that year."""
        one, kind = self._chosen()
        places = bare_places(
            self.project,
            self.catalogue,
            kind,
            year=one.year,
            most=one.given.free,
            sun=self.garden.judged_light(),
        )
        if not places:
            raise GardenError(
                f"no ground that {kind.botanical} would take is bare in year {one.year}; give the "
                f"{counted(one.given.free, 'plant')} away, or take out what is to make room for them first"
            )
        label = f"plant {counted(len(places), 'division')} of {kind.botanical}"
        if self.edit(label, lambda p: edits.plant_divisions(p, kind, places, year=one.year)):
            left = one.given.free - len(places)
            rest = f"; no ground is bare for the other {left}" if left else ""
            self.page.go_to_year(one.year)
            self.message.say(
                f"{counted(len(places), 'division')} of {kind.botanical} from year {one.year} on, where the ground "
                f"would be bare{rest}"
            )

    def _chosen(self) -> tuple[Offer, Species]:
        found = next((one for one in self.offers if (one.year, one.given.botanical) == self.pick.bar.value), None)
        if found is None:
            raise GardenError('no kind to divide is chosen; choose one under "Divided" first')
        return found, self.catalogue[found.given.botanical]


def _words(one: Offer) -> str:
    given = one.given
    return f"year {one.year}: {given.botanical}, {counted(given.free, 'free plant')} of {given.plants}"


def _lost(one: Offer) -> str:
    given = one.given
    stand = "stands" if given.motherless == 1 else "stand"
    return (
        f"{counted(given.motherless, 'division')} of {given.botanical} {stand} on the plan from year {one.year} on "
        f"with no plant left to come from: counted as bought. Take them out, or plant the kind again."
    )
