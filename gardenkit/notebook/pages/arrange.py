"""The palette arranged in the beds: a proposal drawn beside the planting as it stands, with what it was judged by."""

import attrs
import ipywidgets as w

from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError, worst_first
from gardenkit.geometry import plane
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped, Tell
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.planting import PlantingPage, row, title, wide_page, year_buttons
from gardenkit.planting import hand
from gardenkit.planting.arranging import Arrangement, Settings, arrange
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.advice import planting_findings
from gardenkit.project.edits import planting as edits
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_grounds, kinds_of, surroundings
from gardenkit.project.season import spring_shift

WIDTH_PX = 520  # of each of the two plans
ALL, FIXED = "everything planted so far", "only what is locked or was put by hand"
EVERY_BED = "all beds"
SUN_SHARE = 0.2  # of the bar is the sun, the rest the search
# What each part of the objective asks, in the designer's words.
PARTS = {
    "sun and place": "in the sun they need, clear of edges, walls, windows and paths",
    "spacing": "apart as their full width asks",
    "grouping": "plants of one kind stand together in groups",
    "repetition": "groups come back along the way",
    "colour": "what flowers together goes together",
    "height order": "low in front, tall behind",
    "balance": "as much mass left of the way as right",
}


@attrs.frozen(eq=False, kw_only=True)
class Proposal:
    """An arrangement with the garden it was made for and the planting it would become."""

    arrangement: Arrangement
    basis: Project
    planting: Planting
    gone: tuple[Plant, ...]


class ArrangePage(PlantingPage):
    """What stays, which beds, which seed on the left; two plans and the parts of the objective on the right."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.proposal: Proposal | None = None
        self.year, self.month = 5, 6
        self.job = Job(self, can_stop=True, name="arrange")
        self.stays = controls.choice("Stays as it is", ALL, [ALL, FIXED], lambda _: None, name="stays")
        self.bed = controls.choice("Arrange in", EVERY_BED, [EVERY_BED], lambda _: None, name="arrange-bed")
        self.fullness = controls.slider(
            "Ground covered when grown",
            self.project.brief.style.fullness,
            0.2,
            1.0,
            0.05,
            lambda _: None,
            show="{:.0%}".format,
            name="fullness",
        )
        self.seed = controls.field(
            "Layout variation (the same number, the same plan)", "1", lambda _: None, name="seed"
        )
        self.accept_button = controls.button("Accept", self.accept, name="accept-arrangement", width="48%")
        drop = controls.button("Drop", self.drop_proposal, tip="forget the proposal", width="48%")
        self.year_bar = controls.slider(
            "Drawn in year", 5, 0, 15, 1, self.set_year, show="{:.0f}".format, live=False, name="arrange-year"
        )
        self.month_bar = controls.slider(
            "Drawn in", 6, 1, 12, 1, self.set_month, show=lambda v: MONTHS[int(v) - 1], live=False, name="arrange-month"
        )
        panel = [
            controls.label("What is locked or was put by hand always stays: it is arranged round."),
            self.stays,
            self.bed,
            self.fullness,
            self.seed,
            controls.button("Arrange", self.arrange, name="arrange", width="96%"),
            self.job.widget,
            row(self.accept_button, drop),
            self.year_bar,
            year_buttons(self.go_to_year, name="arrange-year"),
            self.month_bar,
            self.undo_row(),
        ]
        self.heading, self.now, self.then = w.HTML(), w.HTML(), w.HTML()
        for plan in (self.now, self.then):
            plan.layout = w.Layout(flex="1 1 420px", max_width=f"{WIDTH_PX + 60}px", min_width="0")
        plans = w.HBox([self.now, self.then], layout=w.Layout(width="100%", flex_flow="row wrap", grid_gap="10px"))
        self.parts, self.findings = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        right = w.VBox([self.heading, plans, self.parts], layout=w.Layout(width="100%", min_width="0"))
        self.widget = wide_page(self.message, panel, right, [self.findings])

    def refresh(self) -> None:
        """Show the planting as it stands, and the proposal if there is one."""
        refill(self.bed, [EVERY_BED, *(bed.name for bed in self.garden.layout.beds)], self.bed.bar.value)
        self._draw()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def arrange(self) -> None:
        """Look for an arrangement, beside the page; Stop keeps the best so far."""
        self._seed()

        def work(tell: Tell, stopped: Stopped) -> Proposal:
            return self.proposed(tell, stopped)

        def done(found: Proposal) -> None:
            self.proposal = found
            new = len(found.arrangement.new)
            ended = "" if found.arrangement.is_complete else ", stopped early"
            self.message.say(f"{new} plants proposed{ended}; nothing is saved before you accept")
            self._draw()

        self.job.start("getting ready ...", work, done)

    @handler
    def accept(self) -> None:
        """Write the proposal into the garden."""
        if self.proposal is None:
            raise GardenError('there is no proposal to accept; press "Arrange" first')
        made, now = self.proposal, self.project
        same = (now.planting.plants, now.structure, now.site.buildings) == (
            made.basis.planting.plants,
            made.basis.structure,
            made.basis.site.buildings,
        )
        if not same:
            raise GardenError("the garden has changed since this was arranged; arrange again")
        plants, last = made.planting.plants, made.planting.last_number
        self.proposal = None
        if self.edit("accept an arrangement", lambda p: edits.use_arrangement(p, plants, last_number=last)):
            gone = f", {len(made.gone)} taken out" if made.gone else ""
            self.message.say(f"{len(made.arrangement.new)} plants planted{gone}; drag them on the plan above")

    def drop_proposal(self) -> None:
        """Forget the proposal; nothing was saved of it."""
        self.proposal = None
        self.message.say("")
        self.attempt(self.refresh)

    def set_year(self, year: float) -> None:
        """Draw both plans in another year."""
        self.year = int(year)
        self.attempt(self._draw)

    def go_to_year(self, year: int) -> None:
        """Draw both plans in year 1, 5, 10 or 15."""
        self.year_bar.bar.value = float(year)

    def set_month(self, month: float) -> None:
        """Draw both plans in another month."""
        self.month = int(month)
        self.attempt(self._draw)

    # --- what is worked out -------------------------------------------------------------------------------------

    def proposed(
        self, tell: Tell | None = None, stopped: Stopped | None = None, *, moves: int | None = None
    ) -> Proposal:
        """Return an arrangement of the palette as the controls ask for it. Raises GardenError for an empty palette."""
        project = self.project
        planting = hand.cleared(project.planting) if self.stays.bar.value == FIXED else project.planting
        bed = self.bed.bar.value
        if bed != EVERY_BED and self.stays.bar.value == FIXED:  # other beds are not touched
            ground = next(b.region for b in bed_grounds(project, (bed,)))
            planting = attrs.evolve(
                project.planting,
                plants=tuple(
                    p for p in project.planting.plants if p in planting.plants or not plane.contains(ground, p.at)
                ),
            )
        palette = kinds_of(project.planting.palette, self.catalogue)
        if not palette:
            raise GardenError("the palette is empty; accept a palette above, or add kinds on the page of what suits")
        now = None
        if tell is not None:
            now, _ = self.suns(lambda share, words: tell(SUN_SHARE * share, words))
        else:
            now, _ = self.suns()

        def progress(share: float, objective: float) -> None:
            if tell is not None:
                tell(SUN_SHARE + (1 - SUN_SHARE) * share, f"arranging ... objective {objective:,.1f}, lower is better")

        more = {} if moves is None else {"moves": moves}
        found = arrange(
            palette,
            bed_grounds(project, () if bed == EVERY_BED else (bed,)),
            surroundings(project, sun=now),
            keep=planting.plants,
            catalogue=self.catalogue,
            seed=self._seed(),
            settings=Settings(fullness=self.fullness.bar.value),
            shift_days=spring_shift(project.site),
            first_number=hand.next_number(project.planting),
            progress=progress,
            stop=stopped,
            **more,  # type: ignore[arg-type]
        )
        new = hand.accept(planting, found.plants)
        kept = {p.number for p in planting.plants}
        gone = tuple(p for p in project.planting.plants if p.number not in kept)
        return Proposal(arrangement=found, basis=project, planting=new, gone=gone)

    # --- helpers ------------------------------------------------------------------------------------------------

    def _seed(self) -> int:
        typed = self.seed.bar.value.strip()
        if not typed.isdigit() or len(typed) > 9:
            raise GardenError(f'"{typed}" is not a seed; type a whole number such as 1')
        return int(typed)

    def with_proposal(self) -> Project:
        """Return the garden as it would be."""
        return attrs.evolve(self.project, planting=self.proposal.planting) if self.proposal else self.project

    def _draw(self) -> None:
        self.accept_button.disabled = self.proposal is None
        self.now.value = svg(self.drawn(self.project, "as it stands"))
        if self.proposal is None:
            self.heading.value = title("The planting as it stands; press Arrange for a proposal beside it")
            self.then.value = self.parts.value = self.findings.value = ""
            return
        made = self.proposal.arrangement
        fixed = len(made.plants) - len(made.new)
        self.heading.value = title(
            f"{len(made.new)} plants proposed round {fixed} that stay; {len(self.proposal.gone)} would go"
        )
        self.then.value = svg(self.drawn(self.with_proposal(), "as proposed"))
        rows = [(PARTS.get(name, name), f"{value:,.2f}") for name, value in made.parts]
        engine = {"compiled": "compiled search", "plain": "plain search (slower)"}.get(made.engine, made.engine)
        parts = controls.table_html(
            ("what it was judged by, lower is better", ""), [*rows, (f"in all ({engine})", f"{made.objective:,.2f}")]
        )
        missing = [(u.species, u.count, self.told(u.why)) for u in made.unplaced]
        lost = controls.table_html(("found no place", "plants", "why"), missing) if missing else ""
        self.parts.value = f'<div style="display:flex;flex-wrap:wrap;gap:12px 36px">{parts}<div>{lost}</div></div>'
        lost_kinds = {u.species for u in made.unplaced}  # told in the table above
        told = [f for f in made.findings if f.where not in lost_kinds]
        found = worst_first([*told, *planting_findings(self.with_proposal(), self.catalogue)])
        heading = title("What the rules say about the proposal")
        self.findings.value = heading + controls.findings_html(found, say=self.garden.say)

    def drawn(self, project: Project, words: str) -> Scene:
        """Return a plan of the garden in the chosen year and month."""
        return garden_scene(
            project,
            layout(project),
            self.catalogue,
            year=self.year,
            month=self.month,
            textures=False,
            scale=screen_scale(project.site, width_px=WIDTH_PX),
            title=f"{words}: {MONTHS[self.month - 1]}, year {self.year}",
        )

    def scene(self) -> Scene:
        """Return the plan of the proposal, or of the planting as it stands."""
        return self.drawn(self.with_proposal(), "as proposed" if self.proposal else "as it stands")

    def summary(self) -> str:
        """Return the proposal in words."""
        if self.proposal is None:
            return f"{len(self.project.planting.plants)} plants stand; nothing is proposed"
        made = self.proposal.arrangement
        parts = ", ".join(f"{name} {value:.2f}" for name, value in made.parts)
        return f"{len(made.new)} plants proposed, {made.kept} stay; objective {made.objective:.2f} ({parts})"
