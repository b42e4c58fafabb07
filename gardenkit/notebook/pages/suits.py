"""Which plants suit a spot: its sun now and in year ten, winter, soil and room, and a reason for each yes and no."""

from collections.abc import Callable, Mapping, Sequence

import attrs
import ipywidgets as w

from gardenkit.drawing import style
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Disc, Mark, Scene, on_ground
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.bones import refill
from gardenkit.notebook.pages.light_by import LightBy
from gardenkit.notebook.pages.planting import (
    LATER,
    VERDICT_SIGNS,
    PlantingPage,
    alike_words,
    kind_named,
    named,
    pictured,
    reasons_cell,
    rich_table,
)
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.merits import judged_alike, rank, set_apart
from gardenkit.planting.species import caution_text
from gardenkit.planting.suitability import MOISTURE, VERDICTS, Judgement, Spot, suits
from gardenkit.planting.sun_need import light_words, sun_word
from gardenkit.progress import Tell
from gardenkit.project.advice import spot_at
from gardenkit.project.edits import planting as edits
from gardenkit.project.plant_choice import bed_called
from gardenkit.project.within import refusing
from gardenkit.units import counted, length

OWN_SPOT = "a spot of my own"
WIDTH_PX, HIGH_PX = 520, 620
SHOWN = 30  # rows shown at first: pictures take their time to draw. House value.
WHICH = [("suits: yes", "yes"), ("yes and maybe", "maybe"), ("every plant, also no", "no")]
Key = Callable[[Judgement], object]
SORTS: dict[str, Key] = {
    "how well it suits": rank,
    "botanical name": lambda j: j.species.botanical,
    "layer, then how well": lambda j: (LAYERS.index(j.species.layer), VERDICTS.index(j.verdict), -j.score),
    "height, low first": lambda j: (j.species.height, j.species.botanical),
    "height, tall first": lambda j: (-j.species.height, j.species.botanical),
    "first in flower": lambda j: ((*j.species.bloom_halves, 25)[0], -j.score, j.species.botanical),
    "price, low first": lambda j: (j.species.price, VERDICTS.index(j.verdict), -j.score),
}


class SuitsPage(PlantingPage):
    """A spot chosen by bed or dragged on the plan; the catalogue judged for it in a table with small pictures."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.spot: Point = (0.0, 0.0)
        self.judged: tuple[Judgement, ...] = ()
        self.judged_for = ""
        self.job = Job(self, name="suits")
        self.bed = controls.choice("Where", None, [], self.look_at, name="suits-bed")
        self.moisture = controls.choice(
            "The ground is", None, [("not known", None), *((word, word) for word in MOISTURE)], self._again_soon
        )
        self.limit = controls.field(
            "No taller than", "", self._again_soon, name="height-limit", hint="any height, e.g. under a window"
        )
        self.layer = controls.choice("Layer", "", [("all layers", ""), *((x, x) for x in LAYERS)], self._show_soon)
        self.which = controls.choice("Show", "maybe", WHICH, self._show_soon, name="verdict")
        self.sort = controls.choice("Sort by", next(iter(SORTS)), list(SORTS), self._show_soon, name="sort")
        self.more = controls.choice("Rows", SHOWN, [SHOWN, 100, 1000], self._show_soon)
        self.kind = controls.choice("Plant", None, [("choose ...", None)], lambda _: self.attempt(self._show_one))
        self.facts, self.spot_words, self.table = w.HTML(), w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.plan = self.live_plan(self.scene(), width_px=WIDTH_PX, most_height_px=HIGH_PX)
        self.board = self.plan.board(self.edited)
        self.light_by = LightBy(self)
        panel = [
            self.bed,
            controls.label("or drag the round handle on the plan"),
            self.moisture,
            self.limit,
            self.light_by.widget,
            controls.button("Refresh", self.judge, name="judge", width="96%"),
            self.job.widget,
            self.layer,
            self.which,
            self.sort,
            self.more,
        ]
        beside = [
            self.spot_words,
            self.kind,
            self.facts,
            controls.row(
                controls.button("Add to the palette", self.add_to_palette, name="to-palette", width="60%"),
                controls.button("Undo", self.undo, width="36%"),
            ),
        ]
        self.widget = controls.page(self.message, panel, self.board, [self.table], beside=beside)
        self.attempt(self._first)

    def refresh(self) -> None:
        """Show the garden as it stands; what was judged stays until it is judged again."""
        names = [bed.name for bed in self.garden.layout.beds]
        refill(self.bed, [*names, OWN_SPOT], self.bed.bar.value)
        self.light_by.refresh()
        if self.judged and self.judged_for != self._question():
            self.message.say('the garden has changed since the plants were judged; press "Refresh"')
        self._redraw()

    # --- handlers -----------------------------------------------------------------------------------------------

    def look_at(self, bed: str) -> None:
        """Judge for the widest place of a bed."""
        if bed != OWN_SPOT:
            self.attempt(self._to_bed, bed)
            self.judge()

    def drop(self, handle: str, at: Point) -> None:
        """Judge for where the handle was dragged; off the open ground it goes to the nearest edge."""
        del handle
        self.spot = plane.kept_to(self.garden.layout.ground, at)
        bed = self.garden.layout.bed_at(self.spot)
        refill(self.bed, list(self.bed.bar.options), bed.name if bed else OWN_SPOT)
        self.judge()

    @handler
    def judge(self) -> None:
        """Judge the whole catalogue for the spot; the sun is worked out beside the page."""
        self._judge()

    @handler
    def add_to_palette(self) -> None:
        """Put the chosen kind into the garden's palette."""
        if self.kind.bar.value is None:
            raise GardenError("no plant is chosen; choose one from the list beside the plan")
        name = kind_named(self.catalogue, self.kind.bar.value).botanical
        if self.edit(f"{name} into the palette", lambda p: edits.add_to_palette(p, name)):
            self.message.say(
                f"{name} is in the palette now, {counted(len(self.project.planting.palette), 'kind')} in all"
            )

    # --- what is worked out -------------------------------------------------------------------------------------

    def spot_here(self, tell: Tell | None = None) -> Spot:
        """Return what is known of the spot; works out the sun if it is not known yet."""
        now, later = self.suns(tell)
        found = spot_at(self.project, self.spot, now=now, later=later)
        typed = self.limit.bar.value.strip()
        most = length(typed, bare=forms.bare_unit(self.project.units), where="the greatest height") if typed else None
        return attrs.evolve(found, moisture=self.moisture.bar.value, height_limit=most)

    def judgements(self, tell: Tell | None = None) -> tuple[Judgement, ...]:
        """Return every plant of the catalogue judged for the spot, best first."""
        spot = self.spot_here(tell)
        return tuple(sorted((suits(s, spot) for s in self.catalogue), key=SORTS["how well it suits"]))  # type: ignore[arg-type]

    def shown(self) -> tuple[Judgement, ...]:
        """Return the judged plants of the chosen layer and verdict, sorted as chosen."""
        allowed = VERDICTS[: VERDICTS.index(self.which.bar.value) + 1]
        layer = self.layer.bar.value
        kept = [j for j in self.judged if j.verdict in allowed and layer in ("", j.species.layer)]
        return tuple(sorted(kept, key=SORTS[self.sort.bar.value]))  # type: ignore[arg-type]

    # --- helpers ------------------------------------------------------------------------------------------------

    def _first(self) -> None:
        beds = self.garden.layout.beds if self.project.site.boundary else ()
        if beds:
            refill(self.bed, [*(b.name for b in beds), OWN_SPOT], beds[0].name)
            self._to_bed(beds[0].name)
            self._judge()
        else:
            self.spot_words.value = controls.table_html((), [], caption="There is no bed yet to choose plants for.")

    def _to_bed(self, name: str) -> None:
        self.spot = bed_called(self.garden.layout, name).at

    def _again_soon(self, _: object) -> None:
        self.judge()

    def _show_soon(self, _: object) -> None:
        self.attempt(self._show)

    def _judge(self) -> None:
        if not self.project.site.boundary:
            raise GardenError(
                "there is no boundary yet, so no spot to judge for; give it in the step The ground as found"
            )
        self._redraw()
        question = self._question()

        def work(tell: Tell, stopped: Stopped) -> tuple[Spot, tuple[Judgement, ...]]:
            del stopped
            return self.spot_here(tell), self.judgements()

        def done(found: tuple[Spot, tuple[Judgement, ...]]) -> None:
            self.message.say("")
            self.judged, self.judged_for = found[1], question
            self._show_spot(found[0])
            self._show()
            if question != self._question():
                self._judge()

        if self.job.is_running:
            return  # judged again when this is done, as the question has changed
        self.job.start("judging the plants ...", work, done)

    def _question(self) -> str:
        project = self.project
        parts = (
            self.spot,
            self.moisture.bar.value,
            self.limit.bar.value,
            refusing(project, self.garden.layout)(self.spot),
            project.brief.style.colours,
            project.site.climate.zone,
            project.site.soil.ph,
            project.planting.plants,
            project.planting.light_by,
            len(self.catalogue),
        )
        return repr(parts)

    def _show_spot(self, spot: Spot) -> None:
        bed = self.garden.layout.bed_at(self.spot)
        rows = [
            ("bed", bed.name if bed else "in no bed"),
            ("sun now", _sun(spot.sun_hours_now, spot.light_by)),
            (f"sun in year {LATER}", _sun(spot.sun_hours_year10, spot.light_by)),
            ("winter", f"zone {spot.zone}" if spot.zone else "the zone is not known; give it in 03_site_measurement"),
            ("soil", f"pH {spot.ph:g}" if spot.ph is not None else "pH is not known"),
            ("depth of the bed", self.lengths(spot.bed_depth) if spot.bed_depth else "not known"),
            ("the client refuses", ", ".join(spot.refuses) or "nothing so far"),
            ("style", "its colours count" if spot.colours else "no colours chosen yet"),
        ]
        self.spot_words.value = controls.table_html(("The spot", ""), rows)

    def _show(self) -> None:
        kept = self.shown()
        options = [
            ("choose ...", None),
            *((f"{j.species.botanical}, {j.species.common}", j.species.botanical) for j in kept),
        ]
        forms.relist(self.kind, options, self.kind.bar.value)
        self._show_one()
        most = int(self.more.bar.value)
        alike = judged_alike(kept[:most])
        rows = _rows(self, kept[:most], alike)
        counts = ", ".join(f"{sum(j.verdict == v for j in self.judged)} {v}" for v in VERDICTS)
        left = f"; the first {most} of {len(kept)} are shown" if len(kept) > most else ""
        many = counted(len(self.judged), "plant")
        note = f"{many} judged: {counts}{left}. Not being listed for a caution never means safe."
        heads = ("", "plant", "suits", "what sets it apart", "layer, full size", "for", "against", "not known")
        words = f'<div class="gk-label">{note}{alike_words(alike)}</div>'
        self.table.value = words + rich_table(heads, rows, scroll=True) if self.judged else ""

    def _show_one(self) -> None:
        name = self.kind.bar.value
        if name is None:
            self.facts.value = ""
            return
        species = self.catalogue[name]
        rows = [
            (pictured(species, self.project.units, px=80), named(species)),
            ("full size", self.size_of(species)),
            ("in flower", self.bloom_words(species)),
            ("beware", self.told(caution_text(species))),
        ]
        self.facts.value = rich_table(("", ""), rows)

    def _redraw(self) -> None:
        scene = self.scene()
        self.plan.update(scene)
        self.plan.reframe(scene)
        self.handles = (Handle(id="spot", kind="seat", at=self.spot, tip="drag me to another spot"),)
        self.plan.set_handles(self.handles)

    def scene(self) -> Scene:
        """Return the plan with the spot marked."""
        scale = screen_scale(self.project.site, width_px=WIDTH_PX)
        return garden_scene(
            self.project,
            self.garden.layout,
            self.catalogue,
            year=5,
            scale=scale,
            extra=_marked(self.spot, scale),
            textures=False,
            title=f"{self.project.name}: where to plant",
        )

    def summary(self) -> str:
        """Return the best plants for the spot in words."""
        best = "; ".join(f"{j.species.botanical} ({j.verdict}, {j.score:.2f})" for j in self.judged[:8])
        return f"What suits the spot ({self.bed.bar.value or 'no bed yet'}): {best or 'not judged yet'}"


def _marked(at: Point, scale: float) -> tuple[Mark, ...]:
    return (Disc(at=at, radius=on_ground(4.0, scale), stroke=style.ALERT, width_mm=0.7, layer="overlay"),)


def _rows(page: PlantingPage, shown: Sequence[Judgement], alike: Mapping[str, bool | None]) -> list[tuple[object, ...]]:
    """Return the table's rows: what sets each plant apart before what speaks for and against it."""
    apart = set_apart((j.species for j in shown), page.garden.spring_shift)
    return [
        (
            pictured(j.species, page.project.units),
            named(j.species),
            f"{VERDICT_SIGNS[j.verdict]}, {j.score:.2f}",
            "; ".join(apart[j.species.botanical]) or "–",
            f"{j.species.layer}; {page.size_of(j.species)}",
            reasons_cell(j, told=page.told, ok=True, but=alike),
            reasons_cell(j, told=page.told, ok=False),
            reasons_cell(j, told=page.told, ok=None, but=alike),
        )
        for j in shown
    ]


def _sun(hours: float | None, by: str) -> str:
    if hours is None:
        return "not known; the sun map needs the place and the boundary"
    word = sun_word(hours)
    return f"{light_words(hours, by)} in the growing season ({'shade' if word == 'shade' else word + ' sun'})"
