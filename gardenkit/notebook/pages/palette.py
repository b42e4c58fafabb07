"""A palette for the garden: wishes as sliders, three sets of kinds that keep them side by side, and why each is in."""

import ipywidgets as w

from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.garden.choosing import Proposed, kept_kinds, propose_palettes
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.light_by import LightBy
from gardenkit.notebook.pages.palette_shown import PaletteShown
from gardenkit.notebook.pages.palette_wishes import Amounts, Favourites, Flowers, LayerCounts
from gardenkit.notebook.pages.planting import PlantingPage, wide_page
from gardenkit.planting.choosing import Wishes
from gardenkit.progress import Tell, part, quiet
from gardenkit.project.edits import planting as edits
from gardenkit.units import counted

SUN_SHARE = 0.4  # of the bar is the sun, the rest the choosing


class PalettePage(PlantingPage):
    """Wishes left; the proposal with its reasons, the wishes met and the bloom calendar right. Accepting writes it."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.proposals: tuple[Proposed, ...] = ()
        self.chosen = 0
        self.job = Job(self, name="palette")
        self.amounts, self.flowers, self.layers = Amounts(self), Flowers(self), LayerCounts(self)
        self.favourites, self.shown, self.light_by = Favourites(self), PaletteShown(self), LightBy(self)
        groups = [
            ("How many, how much", self.amounts.controls),
            ("Flowers", self.flowers.controls),
            ("Kinds of each layer", self.layers.controls),
            ("Favourites", self.favourites.controls),
        ]
        self.accept_button = controls.button("Accept", self.accept, name="accept-palette", width="48%")
        drop = controls.button("Discard", self.drop_proposal, tip="forget the proposal", width="48%")
        panel = [
            forms.sections(groups),
            self.light_by.widget,
            controls.button("Propose three palettes", self.propose, name="propose", width="96%"),
            self.job.widget,
            controls.row(self.accept_button, drop),
            self.undo_row(),
        ]
        right = w.VBox(
            [self.shown.cards, self.shown.heading, self.shown.table], layout=w.Layout(width="100%", min_width="0")
        )
        below = [forms.beside(self.shown.wishes, self.shown.calendar)]
        self.widget = wide_page(self.message, panel, right, below)

    def refresh(self) -> None:
        """Show the proposal, or the palette as it was accepted."""
        self.favourites.refresh()
        self.flowers.refresh()
        self.light_by.refresh()
        self._show()

    @property
    def proposal(self) -> Proposed | None:
        """The proposed palette that is looked at, None while there is none."""
        return self.proposals[self.chosen] if self.proposals else None

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def propose(self) -> None:
        """Look for the best palettes that keep the wishes; the sun is worked out beside the page."""
        wishes = self.wishes()

        def work(tell: Tell, stopped: Stopped) -> tuple[Proposed, ...]:
            del stopped
            return self.found(wishes, tell)

        def done(found: tuple[Proposed, ...]) -> None:
            self.proposals, self.chosen = found, 0
            self.message.say(f"{counted(len(found), 'palette')} proposed; nothing is saved before you accept one")
            self._show()

        self.job.start("working out the sun on the beds ...", work, done)

    @handler
    def look_at(self, number: int) -> None:
        """Show another of the proposed palettes with its reasons; Accept takes the one shown."""
        if number >= len(self.proposals):
            raise GardenError('there is no such proposal; press "Propose three palettes" first')
        self.chosen = number
        self._show()

    @handler
    def accept(self) -> None:
        """Write the proposal into the garden as its palette; favourites and kinds fixed on the plan stay in it."""
        if self.proposal is None:
            raise GardenError('there is no proposal to accept; press "Propose three palettes" first')
        names = tuple(dict.fromkeys((*self.proposal.palette.names, *kept_kinds(self.garden))))
        new = set(names).difference(self.project.planting.palette)
        self.proposals = ()
        if self.edit("accept a palette", lambda p: edits.set_palette(p, names)):
            self.message.say(
                f"the palette has {counted(len(names), 'kind')} now, {len(new)} of them new; arrange them below"
            )

    @handler
    def drop_proposal(self) -> None:
        """Forget the proposals; nothing was saved of them."""
        self.proposals = ()
        self.refresh()

    # --- what is worked out -------------------------------------------------------------------------------------

    def wishes(self) -> Wishes:
        """Return the wishes as the controls say them. Raises GardenError for an amount that cannot be read."""
        parts = (self.amounts, self.flowers, self.layers, self.favourites)
        return Wishes(**{name: value for part in parts for name, value in part.asked().items()})

    def found(self, wishes: Wishes, tell: Tell = quiet) -> tuple[Proposed, ...]:
        """Return the palettes proposed for some wishes, and how each kind was judged for the garden's beds."""
        now, later = self.suns(part(tell, 0.0, SUN_SHARE))
        return propose_palettes(
            self.garden,
            wishes,
            now=now,
            later=later,
            moisture=self.amounts.moisture.bar.value,
            with_invasive=not self.amounts.no_invasive.bar.value,
            tell=part(tell, SUN_SHARE, 1.0),
        )

    # --- what is shown ------------------------------------------------------------------------------------------

    def _show(self) -> None:
        self.accept_button.disabled = self.proposal is None
        self.shown.refresh()

    def scene(self) -> Scene | None:
        """Return the bloom calendar of the palette."""
        return self.shown.scene()

    def summary(self) -> str:
        """Return the palette in words."""
        if self.proposal is not None:
            palette = self.proposal.palette
            met = len(palette.fulfilments) - len(palette.relaxed)
            names = ", ".join(palette.names)
            return (
                f"Proposed, not accepted ({self.proposal.character}): {names}; "
                f"{met} of {len(palette.fulfilments)} wishes met"
            )
        return f"The palette as accepted: {', '.join(self.project.planting.palette) or 'none yet'}"
