"""The palette composed in the beds: four proposals as small plans side by side, each with a sentence on its merits."""

from collections.abc import Sequence

import attrs
import ipywidgets as w

from gardenkit.brief.brief import Brief
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.garden.musts import limits, musts_missed
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.arrange_shown import (
    ALL_STAGES,
    COLUMNS,
    EVERY_BED,
    LETTERS,
    SHAPES,
    STAGE_WORDS,
    WEIGHED,
    WIDTH_PX,
    Card,
    Proposals,
    StandingFigures,
    figures_table,
    kept_of,
    leaning,
    made_in_words,
    part_of,
    parts_table,
    said_of,
    small_plan,
    stages_used,
    still_fits,
    strip,
    taste_bars,
    variation_of,
)
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.layering import TOPICS
from gardenkit.notebook.pages.planting import PlantingPage, title, year_buttons
from gardenkit.planting.composing import TASTES, Composition, Taste
from gardenkit.planting.composing.said import headings
from gardenkit.planting.composing.stages import ORDER, Held
from gardenkit.progress import Tell
from gardenkit.project import Project
from gardenkit.project.composed import composed, staying, taken
from gardenkit.project.edits import planting as edits
from gardenkit.project.plant_choice import kinds_of
from gardenkit.project.season import early_summer
from gardenkit.structure.kinds import purpose_of
from gardenkit.units import counted

FIXED, ALL = "what is locked or put by hand", "everything planted so far"
SUN_SHARE = 0.2  # of the bar is the sun, the rest the composing


class ArrangePage(PlantingPage):
    """What stays, which beds and what is weighed on the left; proposals side by side, their figures below."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.proposals: Proposals | None = None
        self.missed: dict[tuple[int, int, Brief], tuple[str, ...]] = {}  # of a proposal's stages, by the brief
        self.year, self.month = 5, early_summer(self.project.site)
        self.job = Job(self, can_stop=True, name="arrange")
        self.heading, self.table = w.HTML(), w.HTML(layout=w.Layout(max_width="100%", overflow="auto"))
        self.now = w.HTML(layout=w.Layout(width="100%", max_width=f"{WIDTH_PX + 40}px"))
        self.standing = StandingFigures(self, self.table)
        self.cards = [Card(self, number) for number in range(len(LETTERS))]
        self.advice = AdviceList(self, topics=TOPICS)
        parts = [
            w.HTML(controls.STYLE),
            self.message,
            strip(self._asked()),
            strip(self._shown()),
            self.job.widget,
            self.heading,
            w.GridBox([self.now, *self.cards], layout=w.Layout(width="100%", grid_template_columns=COLUMNS)),
            self.table,
            self.advice.widget,
        ]
        self.widget = w.VBox(parts, layout=w.Layout(width="100%"))

    def _asked(self) -> list[w.Widget]:
        self.stays = controls.choice("Stays as it is", FIXED, [FIXED, ALL], lambda _: None, name="stays")
        self.bed = controls.choice("Compose in", EVERY_BED, [EVERY_BED], lambda _: None, name="arrange-bed")
        words = "Layout variation (the same number, the same plan)"
        self.variation = controls.field(words, "1", lambda _: None, name="variation")
        self.shapes, self.weighed = taste_bars(SHAPES), taste_bars(WEIGHED, 0.0, 3.0)
        weighed = forms.sections(
            [("Its shape", list(self.shapes.values())), ("What is weighed", list(self.weighed.values()))]
        )
        weighed.selected_index = None
        compose = controls.button("Compose four proposals", self.arrange, name="arrange", width="96%")
        return [self.stays, self.bed, self.variation, w.VBox([weighed, compose])]

    def _shown(self) -> list[w.Widget]:
        self.part = controls.choice("Use from a proposal", EVERY_BED, [EVERY_BED], lambda _: None, name="use-bed")
        self.stage = controls.choice("Stages shown and used", ALL_STAGES, STAGE_WORDS, self.set_stage, name="stage")
        self.discard_button = controls.button("Discard the proposals", self.discard, name="discard", width="96%")
        self.year_bar = controls.slider(
            "Drawn in year", 5, 0, 15, 1, self.set_year, show="{:.0f}".format, live=False, name="arrange-year"
        )
        self.month_bar = controls.month_slider("Drawn in", self.month, self.set_month, live=False, name="arrange-month")
        years = w.VBox([self.year_bar, year_buttons(self.go_to_year, name="arrange-year")])
        return [years, self.month_bar, w.VBox([self.part, self.stage]), w.VBox([self.discard_button, self.undo_row()])]

    def refresh(self) -> None:
        """Show the planting as it stands, and the proposals if there are any."""
        names = [EVERY_BED, *(bed.name for bed in self.garden.beds if purpose_of(bed.purpose).arranged)]
        for box in (self.bed, self.part):
            refill(box, names, box.bar.value)
        self.advice.show()
        self._draw()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def arrange(self) -> None:
        """Compose four proposals that differ in character, beside the page, and leave those that are kept beside them;
        Stop keeps those that are ready.
        """
        tastes = [leaning(taste, self.shapes, self.weighed) for taste in TASTES]
        self._compose(tastes, variation_of(self.variation.bar.value))

    @handler
    def more_like(self, number: int) -> None:
        """Compose four more in the character of one; with its stages as far as they are shown, the later ones anew."""
        like, variation = self._proposal(number), variation_of(self.variation.bar.value) + 1
        held = None if self._upto() == len(ORDER) else like.held(self._upto())
        if held:
            still_fits(self.project, self._made())
        self.variation.show(str(variation))
        self._compose([like.taste] * len(TASTES), variation, held)

    @handler
    def use(self, number: int) -> None:
        """Write a proposal into the garden, or the chosen bed of it: one step, which Undo takes back."""
        proposal, made = self._proposal(number), self._made()
        still_fits(self.project, made)
        plants = taken(self.project, proposal, beds=part_of(made, self.part.bar.value), upto=self._upto())
        before = len(self.project.planting.plants)
        name = f"{LETTERS[number]}, {proposal.taste.words}{stages_used(self.stage.bar.value)}"
        if self.edit(f"use proposal {name}", lambda p: edits.use_arrangement(p, plants)):
            self.proposals = attrs.evolve(made, basis=self.project)
            said = f"proposal {name}: {counted(len(plants), 'plant')} now, {before} before; Undo takes it back"
            broken = "; ".join(musts_missed(self.garden))
            tell = self.message.problem if broken else self.message.say
            tell(f"{said}. Musts it does not keep: {broken}" if broken else said)

    def discard(self) -> None:
        """Forget the proposals."""
        self.proposals = None
        self.message.say("")
        self.attempt(self.refresh)

    def set_year(self, year: float) -> None:
        """Draw the plans in another year."""
        self.year = int(year)
        self.attempt(self._draw)

    def set_stage(self, stage: object) -> None:
        """Show the proposals up to a stage: so far they are used, and held when more like one are composed."""
        for card in self.cards:
            card.say_more(whole=stage == ALL_STAGES)
        self.attempt(self._draw)

    def go_to_year(self, year: int) -> None:
        """Draw the plans in year 1, 5, 10 or 15."""
        self.year_bar.bar.value = float(year)

    def set_month(self, month: float) -> None:
        """Draw the plans in another month."""
        self.month = int(month)
        self.attempt(self._draw)

    # --- what is worked out -------------------------------------------------------------------------------------

    def composed(
        self,
        tastes: Sequence[Taste] = TASTES,
        variation: int = 1,
        *,
        held: Held | None = None,
        tell: Tell = lambda share, words: None,
        stopped: Stopped = lambda: False,
    ) -> Proposals:
        """Return proposals as the controls ask for them. Raises GardenError for what is missing, or leaves no room."""
        project, bed = self.project, self.bed.bar.value
        palette = kinds_of(project.planting.palette, self.catalogue)
        if not palette:
            raise GardenError(
                "the palette is empty; accept a palette above, or add kinds in the step What suits a spot"
            )
        beds = () if bed == EVERY_BED else (bed,)
        sun = self.garden.judged_light(progress=lambda share: tell(SUN_SHARE * share, "working out the sun ..."))
        found = composed(
            project,
            palette,
            catalogue=self.catalogue,
            beds=beds,
            keep=project.planting.plants if self.stays.bar.value == ALL else staying(project, beds=beds),
            sun=sun,
            variation=variation,
            tastes=tastes,
            held=held,
            limits=[one for one in limits(self.garden, self.catalogue) if one.must],
            progress=lambda share, words: tell(SUN_SHARE + (1 - SUN_SHARE) * share, words),
            stop=stopped,
        )
        if not any(one.new for one in found):
            raise GardenError(
                "there is no room for anything new: the beds are full of what stays; unlock plants on the planting "
                "plan, or choose that only what is locked stays"
            )
        return Proposals(found=found, basis=project, beds=beds)

    def with_proposal(self, number: int) -> Project:
        """Return the garden as it would be with one of the proposals."""
        made = self._made()
        return edits.use_arrangement(
            self.project, taken(self.project, self._proposal(number), beds=made.beds, upto=self._upto())
        )

    def drawn(self, project: Project, words: str) -> Scene:
        """Return a small plan of a garden in the chosen year and month."""
        return small_plan(Garden(project, self.session.folder), words, year=self.year, month=self.month)

    # --- helpers ------------------------------------------------------------------------------------------------

    def _compose(self, tastes: Sequence[Taste], variation: int, held: Held | None = None) -> None:
        kept = self._kept()

        def work(tell: Tell, stopped: Stopped) -> Proposals:
            made = self.composed(tastes, variation, held=held, tell=tell, stopped=stopped)
            return attrs.evolve(made, found=(*kept, *made.found), kept=len(kept))

        def done(made: Proposals) -> None:
            self.proposals = made
            self.missed.clear()
            for number, card in enumerate(self.cards):
                card.keep.bar.value = number < made.kept
            self.message.say(f"{made_in_words(made, held)}; nothing is saved before you use one")
            self._draw()

        self.job.start("getting ready ...", work, done)

    def _kept(self) -> tuple[Composition, ...]:
        beds = () if self.bed.bar.value == EVERY_BED else (self.bed.bar.value,)
        return kept_of(self.proposals, self.cards, self.project, beds)

    def _upto(self) -> int:
        return STAGE_WORDS.index(self.stage.bar.value) or len(ORDER)

    def _made(self) -> Proposals:
        if self.proposals is None:
            raise GardenError('there are no proposals; press "Compose four proposals" first')
        return self.proposals

    def _proposal(self, number: int) -> Composition:
        if number >= len(self._made().found):
            raise GardenError(f"there is no proposal {LETTERS[number]}; compose again")
        return self._made().found[number]

    def _draw(self) -> None:
        made = self.proposals
        for card in self.cards[len(made.found) if made else 0 :]:
            card.hide()
        self.discard_button.disabled = made is None
        self.standing.show(self.garden if made is None else None)
        self.now.layout.display, self.now.value = "none" if made else "", ""
        if made is None:
            self.heading.value = title("The planting as it stands; compose proposals to see them side by side")
            self.now.value = svg(self.drawn(self.project, "as it stands"))
            return
        self.heading.value = title(
            f"{made.beds[0] if made.beds else 'All beds'}, {MONTHS[self.month - 1]} of year {self.year}"
        )
        for number, (card, heading) in enumerate(zip(self.cards, headings(made.found), strict=False)):
            letter = LETTERS[number]
            card.show(f"{letter}: {heading}", svg(self.drawn(self.with_proposal(number), letter)), self.said(number))
        self.table.value = f"{figures_table(made, self.told)}{self.told(parts_table(made))}"

    def said(self, number: int) -> str:
        """Return what a proposal is, how it differs from the others and which musts of the client it cannot keep, in
        the garden's units.
        """
        key = (number, self._upto(), self.project.brief)
        if key not in self.missed:
            self.missed[key] = musts_missed(Garden(self.with_proposal(number), self.session.folder))
        broken = "; ".join(self.missed[key])
        return self.told(said_of(self._made(), number, self._upto())) + (
            f" Musts it does not keep: {broken}." if broken else ""
        )

    def scene(self) -> Scene:
        """Return the planting as it stands, for places without widgets."""
        return self.drawn(self.project, "as it stands")

    def summary(self) -> str:
        """Return the proposals in words."""
        found = self.proposals.found if self.proposals else ()
        said = [f"{LETTERS[n]}, {heading}: {self.said(n)}" for n, heading in enumerate(headings(found))]
        return "\n".join(said) or "no proposals yet"
