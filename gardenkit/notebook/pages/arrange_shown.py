"""What the arrange page shows: proposals as cards, each a small plan with a sentence, and a table of their figures."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol

import attrs
import ipywidgets as w

from gardenkit import reading
from gardenkit.drawing.garden import MONTHS, garden_scene
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.notebook.controls import Labelled
from gardenkit.notebook.jobs import beside, raiser
from gardenkit.notebook.page import Page, escaped
from gardenkit.notebook.pages.planting import title
from gardenkit.planting.composing import TASTES, TERMS, Composition, Taste
from gardenkit.planting.composing.figures import CompositionFigures
from gardenkit.planting.composing.register import parts_of_the_whole
from gardenkit.planting.composing.said import differing, sentences, so_far
from gardenkit.planting.composing.stages import ORDER, Held
from gardenkit.project import Project
from gardenkit.units import counted

WIDTH_PX = 440  # of each of the small plans
HIGH_PX = 470  # the most of each of them
COLUMNS = "repeat(auto-fit, minmax(min(340px, 100%), 1fr))"  # as many plans side by side as the page is wide for
EVERY_BED = "all beds"
LETTERS = "ABCDEF"  # at most so many side by side: four new ones and two that are kept
ALL_STAGES = "all of them"
STAGE_WORDS = (ALL_STAGES, *(f"up to {n}, {words}" for n, words in enumerate(ORDER, start=1)))
MORE, REDO = ("More like this", "four of its kind"), ("Redo the later stages", "four with the stages shown held")
# What shapes a proposal, each against the usual: the key of the taste, the words of its slider.
SHAPES = {
    "boldness": "Bolder masses: larger drifts",
    "repetition": "More repetition: the signature plant comes back",
    "shrubs": "Ground given to shrubs",
    "edging": "Width of the edging",
}
# Every other term of the register has its own slider: how much it counts.
WEIGHED = {key: words.capitalize() for key, (words, _) in TERMS.items() if key != "rhythm"}
MOST_VARIATIONS = 999_999_999  # House value.
LEAST_PART = 0.005  # of the whole: what costs less is not listed. House value.


@attrs.frozen(eq=False, kw_only=True)
class Proposals:
    """What was composed, the garden it was composed for, the beds (none: all), and how many of the first were ``kept``
    from before.
    """

    found: tuple[Composition, ...]
    basis: Project
    beds: tuple[str, ...]
    kept: int = 0

    @property
    def finished(self) -> bool:
        """Whether none was left out by stopping."""
        return len(self.found) - self.kept == len(TASTES)


class CardPage(Protocol):
    """The page that cards stand on."""

    def use(self, number: int) -> bool:
        """Write a proposal into the garden."""

    def more_like(self, number: int) -> bool:
        """Compose more in the character of one."""


class Card(w.VBox):
    """One proposal on the page: its letter and character, the plan, the sentence, what can be done with it."""

    def __init__(self, page: "CardPage", number: int) -> None:
        letter = LETTERS[number]
        self.heading, self.plan, self.words = w.HTML(), w.HTML(), w.HTML()
        use = controls.button(
            "Use this one", lambda: page.use(number), name=f"use-{letter}", width="auto", tip="one step, undone by Undo"
        )
        words, tip = MORE
        self.more = controls.button(words, lambda: page.more_like(number), name=f"more-{letter}", width="auto", tip=tip)
        self.keep = controls.tick("Keep", False, lambda _: None)
        layout = w.Layout(max_width=f"{WIDTH_PX + 40}px", min_width="0", display="none", padding="0 12px 10px 0")
        pressed = controls.row(use, self.more, self.keep)
        pressed.layout.flex_flow = "row wrap"
        super().__init__([self.heading, self.plan, self.words, pressed], layout=layout)
        self.add_class(f"gk-proposal-{letter}")

    def say_more(self, *, whole: bool) -> None:
        """Say on the button whether more of the kind are composed, or the stages after those shown."""
        self.more.description, self.more.tooltip = MORE if whole else REDO

    def hide(self) -> None:
        """Take the card off the page."""
        self.layout.display = "none"
        self.keep.bar.value = False
        self.heading.value = self.plan.value = self.words.value = ""

    def show(self, heading: str, plan: str, words: str) -> None:
        """Show a proposal."""
        self.heading.value, self.plan.value = title(heading), plan
        self.words.value = f'<div class="gk-label" style="margin:4px 0 6px">{escaped(words)}</div>'
        self.layout.display = "flex"


def what_counts(project: Project) -> tuple[object, ...]:
    """Return what a proposal rests on: while it is the same, the proposal still fits the garden."""
    return project.planting.plants, project.structure, project.site


def still_fits(project: Project, made: Proposals) -> None:
    """Raise GardenError where the garden is no longer the one that proposals were composed for."""
    if what_counts(project) != what_counts(made.basis):
        raise GardenError("the garden has changed since this was composed; compose again")


def stages_used(chosen: str) -> str:
    """Return which stages of a proposal are used, in words after its name; nothing for all of them."""
    return "" if chosen == ALL_STAGES else f" (stages {chosen})"


def made_in_words(made: Proposals, held: Held | None) -> str:
    """Return how many proposals there are, what was held in them, and whether some are missing."""
    ended = "" if made.finished else ", stopped before the rest"
    like = f", the {ORDER[held.upto - 1]} and what comes before as they were" if held else ""
    return f"{counted(len(made.found), 'proposal')}{like}{ended}"


def kept_of(
    made: Proposals | None, cards: Sequence[Card], project: Project, beds: tuple[str, ...]
) -> tuple[Composition, ...]:
    """Return the proposals to keep beside new ones. Raises GardenError for too many, and where they do not fit."""
    kept = [one for one, card in zip(made.found if made else (), cards, strict=False) if card.keep.bar.value]
    if made is None or not kept:
        return ()
    most = len(LETTERS) - len(TASTES)
    if len(kept) > most:
        raise GardenError(f"{len(kept)} proposals are to be kept; keep {most} at most, there is room for no more")
    if what_counts(project) != what_counts(made.basis) or made.beds != beds:
        raise GardenError("the proposals to be kept are for another planting or other beds; untick them first")
    return tuple(kept)


def part_of(made: Proposals, chosen: str) -> tuple[str, ...]:
    """Return the beds that are used from a proposal, none for all it was composed for."""
    if chosen == EVERY_BED:
        return made.beds
    if made.beds and chosen not in made.beds:
        raise GardenError(f'the proposals are for "{made.beds[0]}" only; choose it, or compose for "{chosen}"')
    return (chosen,)


def strip(controls: Sequence[w.Widget]) -> w.HBox:
    """Return controls side by side over the whole width, in more lines where the page is narrow."""
    held = [w.VBox([one], layout=w.Layout(flex="1 1 250px", min_width="0", max_width="420px")) for one in controls]
    return w.HBox(held, layout=w.Layout(width="100%", flex_flow="row wrap", grid_gap="4px 18px"))


def taste_bars(words: Mapping[str, str], least: float = 0.5, most: float = 2.0) -> dict[str, Labelled]:
    """Return a slider for each thing that shapes a proposal, or that is weighed."""
    return {
        key: controls.slider(said, 1.0, least, most, 0.1, lambda _: None, show="{:.1f} times the usual".format)
        for key, said in words.items()
    }


def leaning(taste: Taste, shapes: Mapping[str, Labelled], weighed: Mapping[str, Labelled]) -> Taste:
    """Return a taste as the sliders bend it."""
    changes: dict[str, Any] = {key: getattr(taste, key) * bar.bar.value for key, bar in shapes.items()}
    weights = tuple((key, float(bar.bar.value)) for key, bar in weighed.items() if bar.bar.value != 1.0)
    return attrs.evolve(taste, weights=weights, **changes)


def variation_of(typed: str) -> int:
    """Return a layout variation as it is typed. Raises GardenError for what is no whole number."""
    return reading.whole(typed, "the layout variation", low=0, high=MOST_VARIATIONS)


def small_plan(garden: Garden, words: str, *, year: int, month: int) -> Scene:
    """Return a small plan of a garden, what stands together drawn as one mass."""
    return garden_scene(
        garden.project,
        garden.layout,
        garden.catalogue,
        year=year,
        month=month,
        scale=screen_scale(garden.project.site, width_px=WIDTH_PX, most_height_px=HIGH_PX),
        textures=False,
        names=False,
        massed=True,
        title=f"{words}: {MONTHS[month - 1]}, year {year}",
    )


class StandingFigures:
    """The figures of the planting as it stands, worked out beside the page: its plan does not wait for them."""

    def __init__(self, page: Page, table: w.HTML) -> None:
        self.page, self.table = page, table
        self._asked: Garden | None = None

    def show(self, garden: Garden | None) -> None:
        """Fill the table when the figures of a garden are known, unless another is shown by then; None shows none."""
        self._asked, self.table.value = garden, ""
        if garden is not None:
            beside(
                lambda _: garden.composition,
                done=lambda figures: self._fill(garden, figures),
                failed=lambda error: self.page.attempt(raiser(error)),
            )

    def _fill(self, garden: Garden, figures: CompositionFigures | None) -> None:
        if garden is self._asked and figures is not None:
            rows = [(name, garden.say(value)) for name, value in figures.rows()]
            self.table.value = controls.table_html(("figures of the planting", "as it stands"), rows)


def parts_table(made: Proposals) -> str:
    """Return what each proposal misses by the register: each term's part of the whole, the dearest first."""
    found = made.found
    parts = [parts_of_the_whole(one.terms) for one in found]
    mean = {key: sum(one[key] for one in parts) / len(parts) for key in TERMS if all(key in one for one in parts)}
    rows = [
        (TERMS[key][0], *(f"{one[key]:.0%}" for one in parts))
        for key in sorted(mean, key=lambda key: -mean[key])
        if mean[key] >= LEAST_PART
    ]
    free = [TERMS[key][0] for key, share in mean.items() if share < LEAST_PART]
    whole = ("what it costs in all, for each drift", *(f"{_each(one):.2f}" for one in found))
    heads = ("what is missed, as a part of the whole", *LETTERS[: len(found)])
    said = f'<div class="gk-label">As good as nothing is missed of: {escaped("; ".join(free))}.</div>' if free else ""
    return controls.table_html(heads, [whole, *rows]) + said


def _each(one: Composition) -> float:
    return sum(one.terms.values()) / max(one.figures.drifts, 1)


def said_of(made: Proposals, number: int, upto: int) -> str:
    """Return what a proposal is, how it differs from the others and which kinds found no place; of one shown up to an
    earlier stage, what that has set. Lengths in metres.
    """
    if upto < len(ORDER):
        return so_far(made.found[number], upto)
    words, lost = sentences(made.found)[number], made.found[number].left_out
    if number:
        words += f" {differing(made.found[number], made.found[0]):.0%} of the ground is planted otherwise than in A."
    return words + (f" No place was found for {', '.join(lost)}." if lost else "")


def figures_table(made: Proposals, told: Callable[[str], str]) -> str:
    """Return the figures of all proposals side by side; ``told`` says a text in the garden's units."""
    columns = [dict(one.figures.rows()) for one in made.found]
    names = dict.fromkeys(name for column in columns for name in column)
    rows = [(name, *(told(column.get(name, "–")) for column in columns)) for name in names]
    return controls.table_html(("figures of the proposals", *LETTERS[: len(columns)]), rows)
