"""The pages about plants, their handlers called as plain methods: what a designer does, and what cannot be done."""

import time
from collections import Counter

import attrs
import numpy as np
import pytest

from gardenkit import storage
from gardenkit.geometry import plane
from gardenkit.handover import booklet
from gardenkit.notebook.jobs import Job
from gardenkit.notebook.pages import seasons_view
from gardenkit.notebook.pages.arrange import ArrangePage
from gardenkit.notebook.pages.arrange_shown import STAGE_WORDS
from gardenkit.notebook.pages.layering import LayeringPage
from gardenkit.notebook.pages.palette import PalettePage
from gardenkit.notebook.pages.palette_shown import wish_lines
from gardenkit.notebook.pages.plants import PlantsPage
from gardenkit.notebook.pages.seasons import SeasonsPage
from gardenkit.notebook.pages.seasons_view import SHOWS
from gardenkit.notebook.pages.suits import OWN_SPOT, SuitsPage
from gardenkit.notebook.session import Session
from gardenkit.notebook.workbook import PAGES
from gardenkit.notebook.workbook import page as page_named
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.composing import TASTES
from gardenkit.planting.growth import Size
from gardenkit.planting.invasive import listed_near
from gardenkit.planting.own_plants import cells_of
from gardenkit.planting.palettes import CHARACTERS
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import species_from_row
from gardenkit.planting.standing import Standing, standing_at
from gardenkit.progress import Tell
from gardenkit.project.edits import planting as edits
from gardenkit.project.layout import layout

EVERY = (LayeringPage, SuitsPage, PalettePage, ArrangePage, SeasonsPage, PlantsPage)
CATALOGUE = load_catalogue()
EVIL = "<img src=x onerror=alert(1)>"


@pytest.fixture
def garden(garden: Session) -> Session:
    """The first example with its first 60 plants and three of each other kind: a fifth of the time of them all."""
    plants, seen = garden.project.planting.plants, Counter[str]()
    rest = []
    for plant in plants[60:]:
        seen[plant.species] += 1
        rest += [plant.number] if seen[plant.species] > 3 else []
    garden.edit("fewer plants", lambda p: edits.remove_plants(p, rest))
    return garden


@pytest.mark.parametrize("kind", EVERY)
def test_every_page_opens_on_an_empty_garden_and_has_words(empty: Session, kind: type) -> None:
    page = kind(empty)
    assert page.failures == []
    assert page.summary()


@pytest.mark.parametrize(
    ("kind", "press", "missing"),
    [
        (SuitsPage, "judge", "there is no boundary yet"),
        (PalettePage, "propose", "there is no bed to plant in yet"),
        (ArrangePage, "arrange", "the palette is empty"),
    ],
)
def test_an_empty_garden_is_told_what_is_missing_and_stays(
    empty: Session, kind: type, press: str, missing: str
) -> None:
    page = kind(empty)
    before = empty.project
    getattr(page, press)()
    assert page.failures == []
    assert missing in page.message.value
    assert empty.project == before


# ---- the plan


def test_a_plant_is_multiplied_and_the_copies_stand_apart_in_the_bed(garden: Session) -> None:
    page = LayeringPage(garden)
    plant = next(p for p in garden.project.planting.plants if p.species == "Nepeta × faassenii")
    page.one.choose(plant.number)
    page.one.copies.bar.value = "3"
    page.one.one_more()
    new = garden.project.planting.plants[-3:]
    assert {p.species for p in new} == {plant.species}
    assert all(p.by_hand for p in new)
    bed = layout(garden.project).bed_at(plant.at)
    assert bed is not None
    assert all(layout(garden.project).bed_at(p.at).name == bed.name for p in new)
    page.one.copies.bar.value = "many"
    page.one.one_more()
    assert "for the number of plants; type a whole number like 3" in page.message.value
    assert page.failures == []


def test_a_clicked_plant_is_chosen_with_its_handle_and_a_click_beside_all_lets_go(garden: Session) -> None:
    page = LayeringPage(garden)
    plant = next(p for p in garden.project.planting.plants if p.species == "Nepeta × faassenii")
    page.click((plant.at[0] + 0.02, plant.at[1]))
    assert (page.one.number, page.one.pick.bar.value) == (plant.number, plant.number)
    assert page.plan.handles.data["id"] == [str(plant.number)]
    assert "Nepeta" in page.one.facts.value
    page.click((-50.0, -50.0))
    assert (page.one.number, page.one.facts.value, list(page.plan.handles.data["id"])) == (None, "", [])
    assert page.failures == []


def test_a_dragged_plant_draws_the_plan_once_and_a_refused_one_goes_back(few: Session, monkeypatch) -> None:
    page = LayeringPage(few)
    plant = next(p for p in few.project.planting.plants if not p.support and not p.locked)
    page.one.choose(plant.number)
    drawn: list[int] = []
    redraw = page.redraw
    monkeypatch.setattr(page, "redraw", lambda: drawn.append(1) or redraw())

    def drag_to(x: float, y: float) -> None:
        page.edited("handles", {"id": [str(plant.number)], "x": [x], "y": [y]})

    drag_to(plant.at[0] + 0.02, plant.at[1])
    assert len(drawn) == 1
    there = next(p.at for p in few.project.planting.plants if p.number == plant.number)
    assert there == pytest.approx((plant.at[0] + 0.02, plant.at[1]), abs=1e-3)
    drag_to(-50.0, -50.0)
    assert "outside the boundary" in page.message.value
    assert (page.plan.handles.data["x"][0], page.plan.handles.data["y"][0]) == pytest.approx(there, abs=1e-3)
    assert page.failures == []


def test_where_crowns_overlap_the_one_nearest_for_its_size_is_found() -> None:
    def one(number: int, at: tuple[float, float], spread: float) -> Standing:
        plant = Plant(number=number, species="Geum rivale", at=at)
        size = Size(height=1.0, spread=spread, crown_base=0.0)
        return Standing(plant=plant, species=CATALOGUE["Geum rivale"], size=size)

    tree, small = one(1, (0.0, 0.0), 6.0), one(2, (2.0, 0.0), 0.4)
    assert standing_at((tree, small), (2.1, 0.0)) == small
    assert standing_at((tree, small), (1.0, 0.0)) == tree
    assert standing_at((tree, small), (3.1, 0.0)) is None


def test_a_bed_is_filled_with_one_kind_and_undo_takes_it_back(garden: Session) -> None:
    page, before = LayeringPage(garden), garden.project
    another = page.another
    another.kind.bar.value, another.bed.bar.value, another.apart.bar.value = "Nepeta × faassenii", "Street bed", "2'"
    another.fill()
    new = garden.project.planting.plants[len(before.planting.plants) :]
    assert len(new) > 10
    assert all(layout(garden.project).bed_at(p.at).name == "Street bed" for p in new)
    another.apart.bar.value = "two"
    another.fill()
    assert "two" in page.message.value
    page.undo()
    assert garden.project.planting.plants == before.planting.plants
    assert page.failures == []


def test_divisions_are_planted_in_their_year_where_the_ground_is_bare(few: Session) -> None:
    page = LayeringPage(few)
    page.divisions.plant()
    assert "no kind to divide is chosen" in page.message.value
    few.edit("sages", lambda p: edits.add_to_bed(p, few.garden.beds[0].name, CATALOGUE["Salvia nemorosa"]))
    one = page.divisions.offers[0]
    cost = few.garden.costs.plants
    page.divisions.pick.bar.value = (one.year, one.given.botanical)
    page.divisions.plant()
    new = [p for p in few.project.planting.plants if p.divided]
    assert {(p.species, p.year) for p in new} == {(one.given.botanical, one.year)}
    assert page.year == one.year
    assert f"from year {one.year} on, where the ground would be bare" in page.message.value
    assert few.garden.costs.plants == cost
    after = next(
        (o.given.free for o in page.divisions.offers if o.year == one.year and o.given.botanical == new[0].species), 0
    )
    assert after == one.given.free - len(new)
    mothers = [p.number for p in few.project.planting.plants if p.species == new[0].species and not p.divided]
    few.edit("no mothers", lambda p: edits.remove_plants(p, mothers))
    assert "with no plant left to come from: counted as bought" in page.divisions.said.value


def test_year_buttons_set_the_slider_and_a_dragged_plant_counts_as_put_by_hand(garden: Session) -> None:
    page = LayeringPage(garden)
    page.go_to_year(15)
    assert (page.year, page.year_bar.bar.value) == (15, 15.0)
    number = garden.project.planting.plants[4].number
    page.drop(str(number), (3.0, 1.2))
    assert garden.project.planting.plants[4].by_hand
    assert storage.load(garden.folder).project.planting.plants[4].by_hand


def test_swapping_all_of_a_kind_says_which_plants_are_locked_and_why_none_is_swapped(garden: Session) -> None:
    page, kind = LayeringPage(garden), "Nepeta × faassenii"
    numbers = [p.number for p in garden.project.planting.plants if p.species == kind]
    page.one.choose(numbers[0])
    page.one.toggle_lock()
    page.another.kind.bar.value = "Salvia nemorosa"
    page.another.swap_all()
    assert f"left as they are: plants {numbers[0]}" in page.message.value
    left = [p.number for p in garden.project.planting.plants if p.species == kind]
    assert left == numbers[:1]
    before = garden.project
    page.another.swap_all()
    assert f"every {kind} is locked (plants {numbers[0]}); unlock" in page.message.value
    assert garden.project == before
    assert page.failures == []


def test_a_plant_is_given_its_years_and_is_gone_from_the_plan_after_the_last(garden: Session) -> None:
    page = LayeringPage(garden)
    number = garden.project.planting.plants[4].number
    page.one.choose(number)
    page.one.first.bar.value, page.one.last.bar.value = "1", "3"
    page.one.set_years()
    assert (garden.project.planting.plants[4].year, garden.project.planting.plants[4].until) == (1, 3)
    there = [y for y in range(6) if number in {s.plant.number for s in page.garden.standing(year=y, month=6)}]
    assert there == [1, 2, 3]
    before = garden.project
    for wrong in ("0", "1.5", "soon"):  # before it is planted; no whole year; no number
        page.one.last.bar.value = wrong
        page.one.set_years()
        assert garden.project == before
        assert page.message.value
    page.one.last.bar.value = ""
    page.one.set_years()
    assert garden.project.planting.plants[4].stays
    assert page.failures == []


# ---- what suits


def test_what_suits_a_bed_comes_with_a_reason_for_each_no(garden: Session) -> None:
    page = SuitsPage(garden)
    assert len(page.judged) == len(page.catalogue)
    assert page.judged[0].verdict == "yes"
    assert all(j.against for j in page.judged if j.verdict == "no")
    page.which.bar.value = "no"
    page.sort.bar.value = "height, low first"
    heights = [j.species.height for j in page.shown()]
    assert heights == sorted(heights)
    page.layer.bar.value = "fern"
    assert {j.species.layer for j in page.shown()} == {"fern"}
    assert "<svg" in page.table.value
    assert page.failures == []


def test_a_spot_is_judged_by_its_daily_light_where_that_is_chosen(few: Session) -> None:
    page, palette = SuitsPage(few), PalettePage(few)
    assert "h of sun a day" in page.spot_words.value
    page.light_by.choose("daily light")
    assert "takes off the usual cloud" in palette.light_by.note.value
    page.judge()
    assert "mol of light a day" in page.spot_words.value
    assert any("mol of light a day" in reason.text for reason in page.judged[0].reasons)
    assert page.failures == palette.failures == []


def test_a_dragged_spot_is_judged_anew_and_a_refused_caution_rules_plants_out(garden: Session) -> None:
    page = SuitsPage(garden)
    first = page.judged
    inside = layout(garden.project).beds[3].at
    page.drop("spot", inside)
    assert page.spot == inside
    assert page.bed.bar.value == layout(garden.project).beds[3].name
    assert page.judged != first
    page.drop("spot", (-50.0, -50.0))
    ground = layout(garden.project).ground
    assert plane.point_distances(np.array([page.spot]), ground)[0] < 1e-6
    garden.edit("refuse", lambda p: attrs.evolve(p, brief=attrs.evolve(p.brief, refuses=("toxic to dogs",))))
    page.judge()
    refused = [j for j in page.judged if "dogs" in j.species.toxic_to]
    assert refused
    assert all(j.verdict == "no" for j in refused)
    unlisted = [r for j in page.judged if not j.species.toxic_to for r in j.reasons if r.topic == "refused"]
    assert unlisted
    assert all(r.ok is not True for r in unlisted)
    assert page.failures == []


def test_a_height_that_cannot_be_read_is_named_and_the_plants_stay_judged(garden: Session) -> None:
    page = SuitsPage(garden)
    judged = page.judged
    page.limit.bar.value = "tall"
    assert "tall" in page.message.value
    assert page.judged == judged
    page.limit.bar.value = "2 ft"
    low = [j for j in page.judged if j.verdict != "no"]
    assert low
    assert page.failures == []


def test_a_suited_kind_goes_into_the_palette_once(garden: Session) -> None:
    page = SuitsPage(garden)
    page.add_to_palette()
    assert "no plant is chosen" in page.message.value
    kind = next(j.species.botanical for j in page.shown() if j.species.botanical not in garden.project.planting.palette)
    page.kind.bar.value = kind
    page.add_to_palette()
    assert garden.project.planting.palette[-1] == kind
    page.add_to_palette()
    assert "is in the palette already" in page.message.value
    assert OWN_SPOT in page.bed.bar.options


# ---- the palette


def test_a_palette_is_proposed_with_reasons_and_saved_only_when_accepted(garden: Session) -> None:
    page, before = PalettePage(garden), garden.project
    page.favourites.kind.bar.value = "Nepeta × faassenii"
    page.favourites.keep()
    page.favourites.kind.bar.value = "Echinacea purpurea"
    page.favourites.leave_out()
    page.propose()
    assert page.failures == []
    assert page.proposal is not None
    assert [one.character for one in page.proposals] == [one.words for one in CHARACTERS]
    assert [one.character in card.heading.value for one, card in zip(page.proposals, page.shown.each, strict=True)]
    page.look_at(2)
    assert page.shown.heading.value.count(CHARACTERS[2].words) == 1
    proposal = page.proposal.palette
    assert "Nepeta × faassenii" in proposal.names
    assert "Echinacea purpurea" not in proposal.names
    assert 18 <= len(proposal.choices) <= 22
    assert proposal.proven
    assert all(choice.reasons for choice in proposal.choices)
    timezone = garden.project.site.place.timezone
    assert not any(listed_near(choice.species, timezone) for choice in proposal.choices)
    assert garden.project.planting.palette == before.planting.palette
    page.accept()
    assert set(garden.project.planting.palette) == set(proposal.names)
    assert garden.project.planting.plants == before.planting.plants
    page.undo()
    assert garden.project.planting.palette == before.planting.palette


def test_wishes_that_cannot_be_had_name_the_smallest_set_to_give_up(garden: Session) -> None:
    page = PalettePage(garden)
    page.amounts.budget.bar.value = "1"
    page.propose()
    assert page.proposal is not None
    given_up = {f.topic for f in page.proposal.palette.relaxed}
    assert given_up == {"budget"}
    assert "gives way" in page.shown.wishes.value
    assert any(sign == "✘ gives way" and "cost" in words for sign, words in wish_lines(page.proposal.palette))
    page.amounts.budget.bar.value = "plenty"
    page.propose()
    assert "cannot read &quot;plenty&quot;" in page.message.value
    assert page.failures == []


def test_kinds_fixed_on_the_plan_are_in_every_palette(garden: Session) -> None:
    page = LayeringPage(garden)
    page.one.choose(garden.project.planting.plants[0].number)
    page.one.toggle_lock()
    fixed = garden.project.planting.plants[0].species
    palette = PalettePage(garden)
    palette.propose()
    palette.accept()
    assert fixed in garden.project.planting.palette
    palette.favourites.kind.bar.value = fixed
    palette.favourites.leave_out()
    assert "stands fixed on the plan" in palette.message.value


# ---- arranging


def one_bed(session: Session) -> ArrangePage:
    """Return the page asked to compose in one bed only, which is quick."""
    page = ArrangePage(session)
    page.bed.bar.value = "Street bed"
    return page


def test_proposals_are_shown_side_by_side_and_used_in_one_step(garden: Session) -> None:
    page, before = one_bed(garden), garden.project
    page.arrange()
    assert page.failures == []
    assert page.proposals is not None
    assert garden.project == before
    assert [card.layout.display for card in page.cards] == [*["flex"] * 4, "none", "none"]
    assert all(card.plan.value.startswith("<svg") for card in page.cards[:4])
    assert len({card.plan.value for card in page.cards[:4]}) == 4
    said = [card.words.value for card in page.cards[:4]]
    assert all("closed by year 5" in words for words in said)
    assert all("planted otherwise than in A" in words for words in said[1:])
    assert "ground closed in year 5" in page.table.value
    page.use(1)
    after = garden.project.planting.plants
    bed = next(b.region for b in garden.garden.beds if b.name == "Street bed")
    outside = [p for p in before.planting.plants if not plane.contains(bed, p.at)]
    assert [p for p in after if not plane.contains(bed, p.at)] == outside
    assert len({p.number for p in after}) == len(after)
    assert {p.at for p in page.proposals.found[1].new} <= {p.at for p in after}
    page.undo()
    assert garden.project.planting.plants == before.planting.plants
    assert page.failures == []


def test_locked_and_hand_put_plants_stay_in_every_proposal(garden: Session) -> None:
    plan = LayeringPage(garden)
    locked, dragged = garden.project.planting.plants[0], garden.project.planting.plants[40]
    plan.one.choose(locked.number)
    plan.one.toggle_lock()
    plan.drop(dragged.number, (dragged.at[0] + 0.1, dragged.at[1]))
    page = ArrangePage(garden)
    fixed = [p for p in garden.project.planting.plants if p.number in (locked.number, dragged.number)]
    made = page.composed(TASTES[:1])
    assert all([*one.plants[: one.kept]] == fixed for one in made.found)
    highest = max(p.number for p in garden.project.planting.plants)
    assert all(p.number > highest for one in made.found for p in one.new)
    page.proposals = made
    page.use(0)
    assert [p for p in garden.project.planting.plants if p.number <= highest] == fixed


def test_a_bed_of_one_proposal_goes_with_the_rest_of_another(garden: Session) -> None:
    page = ArrangePage(garden)
    page.proposals = page.composed(TASTES[:2])
    a, b = page.proposals.found[:2]
    page.use(0)
    page.part.bar.value = "Street bed"
    page.use(1)
    assert page.failures == []
    assert "proposal B" in page.message.value
    bed = next(r.region for r in garden.garden.beds if r.name == "Street bed")
    now = garden.project.planting.plants
    assert {p.at for p in now if plane.contains(bed, p.at)} == {p.at for p in b.new if plane.contains(bed, p.at)}
    assert {p.at for p in now if not plane.contains(bed, p.at)} == {
        p.at for p in a.new if not plane.contains(bed, p.at)
    }
    held = [p.support for p in now if p.support]
    assert len(set(held)) == len(held)


def test_the_same_variation_gives_the_same_plan_and_a_bad_one_is_named(garden: Session) -> None:
    page = one_bed(garden)
    taste = (TASTES[0],)
    first, again = (page.composed(taste, 1).found[0].plants for _ in range(2))
    assert first == again
    assert page.composed(taste, 2).found[0].plants != first
    page.variation.bar.value = "x"
    page.arrange()
    assert "for the layout variation" in page.message.value
    assert page.failures == []


def test_stopping_keeps_the_proposals_that_are_ready_and_more_like_one_share_its_character(garden: Session) -> None:
    page = one_bed(garden)
    assert len(page.composed(stopped=lambda: True).found) == 1
    page.proposals = page.composed()
    page.more_like(2)
    assert {one.taste.words for one in page.proposals.found} == {TASTES[2].words}
    assert len({one.plants for one in page.proposals.found}) == 4
    assert len({card.heading.value for card in page.cards[:4]}) == 4
    assert all(TASTES[2].words in card.heading.value for card in page.cards[:4])
    assert page.variation.bar.value == "2"


def test_stages_are_shown_used_and_held_while_the_later_ones_are_composed_anew(garden: Session) -> None:
    page = one_bed(garden)
    page.proposals = page.composed()
    liked = page.proposals.found[1]
    whole = page.with_proposal(1).planting.plants
    page.stage.bar.value = STAGE_WORDS[4]
    assert page.failures == []
    assert len(page.with_proposal(1).planting.plants) < len(whole)
    assert page.cards[1].more.description == "Redo the later stages"
    set_, more = len(liked.up_to(4)), len(liked.new) - len(liked.up_to(4))
    assert page.said(1).startswith("Up to the drifts: ")
    assert f": {set_} plants. {more} plants more in the stages that follow." in page.cards[1].words.value
    assert "bulbs" not in page.said(1)
    page.more_like(1)
    assert "the drifts and what comes before as they were" in page.message.value
    held = {(p.species, p.at) for p in liked.up_to(4)}
    assert len(held) > 10
    for one in page.proposals.found:
        assert held == {(p.species, p.at) for p in one.up_to(4)}
        assert one.taste == liked.taste
    assert len({card.heading.value for card in page.cards[:4]}) == 4
    page.use(0)
    assert "stages up to 4" in page.message.value
    assert held <= {(p.species, p.at) for p in garden.project.planting.plants}


def test_a_proposal_that_is_kept_stands_beside_four_new_ones_and_can_be_used(garden: Session) -> None:
    page = one_bed(garden)
    page.arrange()
    liked = page.proposals.found[2]
    page.cards[2].keep.bar.value = True
    page.variation.bar.value = "5"
    page.arrange()
    assert page.failures == []
    assert page.proposals.found[0] is liked
    assert len(page.proposals.found) == 5
    assert page.proposals.finished
    assert [card.layout.display for card in page.cards] == [*["flex"] * 5, "none"]
    for card in page.cards[:3]:
        card.keep.bar.value = True
    page.arrange()
    assert "keep 2 at most" in page.message.value
    page.use(0)
    assert {p.at for p in liked.new} <= {p.at for p in garden.project.planting.plants}


def test_what_is_weighed_counts(garden: Session) -> None:
    page = one_bed(garden)
    page.shapes["boldness"].bar.value = 2.0
    page.arrange()
    bold = [len(one.division.drifts) for one in page.proposals.found]
    usual = [len(one.division.drifts) for one in page.composed().found]
    assert all(b < u for b, u in zip(bold, usual, strict=True))


def test_a_proposal_for_a_garden_that_changed_since_is_not_written(garden: Session) -> None:
    page, plan = one_bed(garden), LayeringPage(garden)
    page.proposals = page.composed((TASTES[0],))
    plan.drop(garden.project.planting.plants[3].number, (3.0, 1.5))
    before = garden.project
    page.use(0)
    assert "has changed since" in page.message.value
    assert garden.project == before


def test_beds_full_of_locked_plants_are_said_in_a_sentence(garden: Session) -> None:
    numbers = [p.number for p in garden.project.planting.plants]
    garden.edit("lock", lambda p: edits.lock_plants(p, numbers))
    page, before = one_bed(garden), garden.project
    page.arrange()
    assert page.failures == []
    assert page.proposals is not None or "full of what stays" in page.message.value
    if page.proposals is not None:
        page.use(0)
        assert set(before.planting.plants) <= set(garden.project.planting.plants)


def test_pressing_without_proposals_is_answered(garden: Session) -> None:
    page = ArrangePage(garden)
    page.use(0)
    assert "there are no proposals" in page.message.value
    page.discard()
    page.set_year(1)
    page.set_month(10)
    assert page.failures == []


def test_work_goes_on_beside_the_page_and_one_piece_at_a_time(garden: Session) -> None:
    import asyncio

    page = PlantsPage(garden)
    job, told = Job(page, can_stop=True), []

    async def in_a_notebook() -> None:
        def work(tell, stopped):
            while not stopped():
                tell(0.5, "half way")
                time.sleep(0.01)
            return "stopped"

        job.start("working", work, told.append)
        assert job.is_running
        page.attempt(job.start, "more", work, told.append)
        assert "not finished" in page.message.value
        await asyncio.sleep(0.1)
        assert job.bar.value == 0.5
        job.stop()
        for _ in range(100):
            await asyncio.sleep(0.02)
            if told:
                break

    asyncio.run(in_a_notebook())
    assert told == ["stopped"]
    assert not job.is_running


# ---- the view


def test_every_view_strip_and_side_can_be_looked_at_and_saves_nothing(few: Session) -> None:
    page, before = SeasonsPage(few), few.project
    seen = set()
    for what in (*SHOWS[:4], SHOWS[-1]):
        page.view.what.bar.value = what
        assert "<svg" in page.view.picture.value
        seen.add(page.view.picture.value)
    assert len(seen) == 5
    assert page.view.picture.value.count("data:image/webp") == 6  # the strip along the path
    page.view.what.bar.value = SHOWS[0]
    page.view.company.bar.value = "a dog"
    assert "to the shoulder, for scale" in page.view.picture.value
    painted = page.view.picture.value
    page.view.manner.bar.value = "with the pen"
    assert "data:image/webp" in painted
    assert "data:image/webp" not in page.view.picture.value
    page.view.go_to_year(15)
    page.view.place.bar.value = "kitchen window"
    assert "kitchen window" in page.summary()
    assert few.project == before
    assert page.failures == []


def test_the_first_picture_is_drawn_with_the_pen_until_the_painter_is_ready_and_the_wait_is_said(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = SeasonsPage(few)
    shown, said = [], []
    page.view.picture.observe(lambda change: shown.append("data:image/webp" in change["new"]), "value")
    page.view.job.words.observe(lambda change: said.append(change["new"]), "value")
    monkeypatch.setattr(seasons_view, "is_ready", lambda: False)
    page.view.go_to_year(9)
    assert shown == [False, True]
    assert any("up to a minute" in words for words in said)
    said.clear()
    monkeypatch.setattr(seasons_view, "is_ready", lambda: True)
    page.view.go_to_year(10)
    assert shown == [False, True, True]
    assert said and not any("up to a minute" in words for words in said)
    assert page.failures == []


def test_the_notebook_does_not_wait_for_a_picture_under_way_and_keeps_it_when_it_is_done(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = SeasonsPage(few)
    draw, meanwhile, kept = page.view._one, [], []

    def drawn(tell: Tell) -> str:
        meanwhile.append((page.scene(), page.summary()))
        return draw(tell)

    monkeypatch.setattr(page.view, "_one", drawn)
    page.keep_anew = lambda: kept.append(page.summary())
    page.view.go_to_year(8)
    assert meanwhile == [(None, "The view is being drawn.")]
    assert len(kept) == 1 and "year 8" in kept[0]
    page.view.what.bar.value = SHOWS[1]
    assert len(kept) == 1
    assert page.failures == []


def test_a_film_is_stopped_at_its_next_frame_and_the_picture_before_stays(
    few: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = SeasonsPage(few)
    before, told = page.view.picture.value, []

    def filmed(*_: object, tell: Tell, **__: object) -> None:
        for frame in range(60):
            told.append(frame)
            if frame == 2:
                page.view.job.stop_button.click()
            tell(frame / 60, "painting ...")

    monkeypatch.setattr(seasons_view, "years_film", filmed)
    page.view.what.bar.value = SHOWS[4]
    assert told == [0, 1, 2]
    assert "stopped as you asked: the picture was not drawn" in page.message.value
    assert page.view.picture.value == before and page.view.player.film is None
    assert not page.view.job.is_running and page.failures == []


def test_a_walk_is_played_frame_by_frame_and_put_away_by_the_next_view(few: Session) -> None:
    page = SeasonsPage(few)
    page.view.what.bar.value = "walk along a path"
    player = page.view.player
    assert player.film is not None
    assert player.play.max == len(player.film.frames) - 1
    first = page.view.picture.value
    player.bar.value = 1
    assert "data:image/webp" in first
    assert page.view.picture.value != first
    page.view.what.bar.value = SHOWS[0]
    assert player.film is None
    assert page.failures == []


def test_after_dark_one_looks_by_the_light_of_the_lamps(few: Session) -> None:
    page = SeasonsPage(few)
    assert not page.view.moment(5).night
    page.view.hour.bar.value = 22.0
    page.view.month.bar.value = 12.0 if few.project.site.place.latitude > 0 else 6.0
    assert page.view.moment(5).night
    assert page.failures == []


def test_the_line_is_dragged_and_turned_and_never_too_short(few: Session) -> None:
    page = SeasonsPage(few)
    page.drop("A", (2.0, 3.0))
    page.drop("B", (8.0, 3.0))
    assert page.side.line == ((2.0, 3.0), (8.0, 3.0))
    page.side.turn()
    assert page.side.line == ((8.0, 3.0), (2.0, 3.0))
    page.edited("handles", {"id": ["B"], "x": [8.1], "y": [3.0]})
    assert "long; drag its ends" in page.message.value
    assert page.side.line == ((8.0, 3.0), (2.0, 3.0))
    assert page.failures == []


def test_the_figures_say_which_side_is_heavier_and_what_winter_offers(garden: Session) -> None:
    page = SeasonsPage(garden)
    left, middle, right = (part.value for part in page.figures.widget.children)
    assert "garden walk" in left
    assert "Shannon" in middle
    assert "10-20-30" in middle
    assert "Galanthus nivalis" in right


# ---- the catalogue


def test_every_plant_written_as_cells_reads_back_the_same() -> None:
    for species in load_catalogue():
        assert species_from_row(cells_of(species)) == species


def test_a_value_is_corrected_in_the_garden_and_every_page_sees_it(few: Session) -> None:
    plants, plan = PlantsPage(few), LayeringPage(few)
    plants.finder.search.bar.value = "Nepeta × faassenii"
    plants.finder.pick.bar.value = "Nepeta × faassenii"
    plants.correction.value.bar.value = "3 ft"
    plants.correction.write()
    assert plants.failures == []
    assert plan.catalogue["Nepeta × faassenii"].height_max_m == 0.914
    plants.correction.value.bar.value = "70"
    plants.correction.write()
    assert "is the unit right?" in plants.message.value
    plants.correction.forget()
    assert plan.catalogue["Nepeta × faassenii"] == load_catalogue()["Nepeta × faassenii"]
    plants.correction.column.bar.value = "layer"
    plants.correction.value.bar.value = "bushes"
    plants.correction.write()
    assert "layer is &quot;bushes&quot;; give one of tree" in plants.message.value
    assert plan.catalogue["Nepeta × faassenii"].layer == "perennial"


def test_a_plant_of_ones_own_is_added_without_the_cautions_of_the_one_it_is_like(garden: Session) -> None:
    page = PlantsPage(garden)
    page.finder.pick.bar.value = "Nepeta × faassenii"
    page.own.begin()
    assert page.own.form.texts()["toxic_to"] == ""
    page.own.form.fill(botanical="Nepeta 'Invented Haze'", common="invented catmint", native_to="garden origin")
    page.own.add()
    assert page.failures == []
    made = page.catalogue["Nepeta 'Invented Haze'"]
    assert made.toxic_to == ()
    assert "does not mean safe" in page.summary()
    assert "does not mean safe" in page.facts.shown.value
    page.own.form.fill(botanical="nepeta haze")
    before = (garden.folder / "plants.csv").read_text(encoding="utf-8")
    page.own.add()
    assert "give genus and species" in page.message.value
    assert (garden.folder / "plants.csv").read_text(encoding="utf-8") == before


def test_a_pasted_table_is_written_whole_or_not_at_all(garden: Session) -> None:
    page, own = PlantsPage(garden), garden.folder / "plants.csv"
    page.pasted.text.bar.value = "botanical,price\nSalvia nemorosa,3\nNepeta × faassenii,9"
    page.pasted.add()
    assert "price is &quot;9&quot;" in page.message.value
    assert not own.exists()
    page.pasted.text.bar.value = "botanical,prise\nSalvia nemorosa,3"
    page.pasted.add()
    assert "no column &quot;prise&quot;" in page.message.value
    page.pasted.text.bar.value = "botanical\tprice\nSalvia nemorosa\t3"
    page.pasted.add()
    assert page.catalogue["Salvia nemorosa"].price == 3
    assert page.failures == []


def test_a_plant_that_is_not_there_is_named_with_the_nearest(garden: Session) -> None:
    page = PlantsPage(garden)
    page.finder.search.bar.value = "Salvia nemorossa"
    assert "the nearest known is &quot;Salvia nemorosa" in page.message.value
    assert page.failures == []


def test_project_text_cannot_run_on_these_pages(few: Session) -> None:
    few.edit("name", lambda p: attrs.evolve(p, name=EVIL))
    few.edit("refuse", lambda p: attrs.evolve(p, brief=attrs.evolve(p.brief, refuses=(EVIL,), currency=EVIL)))
    suits, palette, arrange, seasons = (k(few) for k in (SuitsPage, PalettePage, ArrangePage, SeasonsPage))
    palette.propose()
    texts = (
        suits.spot_words,
        suits.table,
        palette.shown.table,
        palette.shown.wishes,
        arrange.now,
        seasons.view.picture,
    )
    assert not any("<img src=x" in one.value for one in texts)
    assert palette.failures == []


def test_what_the_browser_sends_back_late_does_not_undo_an_undo(few: Session) -> None:
    page = LayeringPage(few)
    page.dragging.bar.value = True
    source, before = page.plan.handles, few.project.planting.plants

    def from_browser(data: dict) -> None:
        page.board._heard(page.board, {"kind": "edited", "id": source.id, "data": data}, [])

    dragged = {name: list(column) for name, column in source.data.items()}
    dragged["x"][4] += 0.50001234
    from_browser(dragged)
    moved = {name: list(column) for name, column in source.data.items()}
    assert few.project.planting.plants != before
    page.undo()
    from_browser(moved)
    assert few.project.planting.plants == before
    from_browser(dragged)  # the same drag again is a drag
    assert few.project.planting.plants != before


def test_a_garden_with_a_plant_of_its_own_stands_on_every_page_and_in_the_copy(few: Session) -> None:
    page = PlantsPage(few)
    page.finder.pick.bar.value = "Nepeta × faassenii"
    page.own.begin()
    page.own.form.fill(botanical="Nepeta 'Invented Haze'", common="invented catmint", native_to="garden origin")
    page.own.add()
    few.edit(
        "plant it", lambda p: edits.add_to_bed(p, few.garden.beds[0].name, page.catalogue["Nepeta 'Invented Haze'"])
    )
    for name in PAGES:
        shown = page_named(few, name)
        assert shown.built, (name, shown.message.value)
        assert shown.failures == [], name
    assert few.garden.facts["plants"] == len(few.project.planting.plants)
    assert "Nepeta &#39;Invented Haze&#39;" in booklet.render(few.garden, edition="office", with_sun=False)


def test_shadows_are_drawn_on_the_planting_plan_when_asked_for(few: Session) -> None:
    page = LayeringPage(few)
    bare = len([mark for mark in page.scene().marks if mark.layer in ("sun", "canopy")])
    page.shadows.shaded.bar.value = True
    shaded = [mark for mark in page.scene().marks if mark.layer in ("sun", "canopy")]
    assert len(shaded) > bare
    page.shadows.hour.bar.value = 10
    morning = [mark for mark in page.scene().marks if mark.layer in ("sun", "canopy")]
    page.shadows.day.bar.value = 1
    assert len({*map(str, (shaded, morning, [m for m in page.scene().marks if m.layer in ("sun", "canopy")]))}) == 3
    page.shadows.hour.bar.value = 22
    assert len([mark for mark in page.scene().marks if mark.layer in ("sun", "canopy")]) == bare
    assert page.failures == []
