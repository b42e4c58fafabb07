"""The client edition tells the design in its order, without office figures; open warnings hold it back."""

import datetime as dt
import json
import re
from pathlib import Path

import attrs
import pytest
from PIL import Image

from gardenkit import storage
from gardenkit.findings import Finding, GardenError
from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.handover.contents import Contents
from gardenkit.handover.pictured import best_place
from gardenkit.project import Project
from gardenkit.project.edits import handover as edits
from gardenkit.site.openings import Opening

from .reading_pages import read

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
STORY = [
    "tone",
    "asked",
    "drawn",
    "seen",
    "live",
    "bloom",
    "kinds",
    "heed",
    "sums",
    "year",
    "order",
    "settled",
    "agreed",
    "footnotes",
]


@pytest.fixture(scope="module")
def client(told: Contents) -> str:
    return booklet.page(told)


def test_the_story_comes_in_its_order(client: str):
    assert re.findall(r'<section id="(\w+)"', client) == STORY


def test_the_cover_has_the_best_view_the_office_and_the_issue(client: str, told: Contents):
    cover = client.split('<header class="cover">')[1].split("</header>", maxsplit=1)[0]
    assert "<svg" in cover
    said = told.project.handover
    place = best_place(told.garden)
    assert place is not None
    assert f"From the {place.name}" in cover
    assert place.name in {seat.name for seat in told.project.structure.seats}
    assert said.company in cover
    assert said.contact in cover
    assert f"revision {said.revision}" in cover


def test_sources_and_memory_are_told_once_at_the_end(client: str, told: Contents):
    text = read(client).text
    body, end = text.split("Where the figures come from")[-2:]
    assert "confirm hardiness, size, toxicity" in end
    for mark in ("house value", "our default", "from memory", "common practice", "agrees with"):
        assert mark not in body, mark
    assert "USDA PLANTS" in end
    assert len(re.findall(r'href="#footnotes">1<', client)) == 3


def test_every_live_figure_has_its_place_on_the_page(client: str, html: str, told: Contents):
    """One without keeps all the others from being shown: the office has a sun map, the client's edition none."""
    assert told.sun is not None
    for page, figures in ((client, 3), (html, 5)):
        roots = json.loads(re.findall(r'"roots":(\{[^{}]*\})', page)[0])
        assert {*roots.values()} == {*re.findall(r'<div id="([0-9a-f-]+)" data-root-id', page)}
        assert len(roots) == figures


def test_office_figures_are_left_out(client: str, told: Contents):
    text = read(client).text
    for line in told.garden.costs.lines:
        assert line.how not in text
    notes = [f for f in told.garden.advice if f.seriousness == "note"]
    assert notes
    assert not [f for f in notes if told.garden.say(f.what) in text and f.topic != "cost"]


def test_every_kind_of_plant_its_count_and_every_caution_for_people_is_there(client: str, told: Contents):
    text = read(client).text
    for line in told.garden.schedule:
        assert line.species.botanical in text
    for finding in told.garden.cautions:
        assert finding.where in text
    assert "this does not mean safe" in text
    card = [f for f in told.garden.advice if f.topic == "safety"]
    assert card
    assert all(" ".join(told.garden.say(f.why).split()) in text for f in card)


def test_the_sums_add_up_to_the_whole(told: Contents):
    from gardenkit.handover import wording

    assert sum(amount for _, amount in wording.cost_groups(told)) == pytest.approx(told.garden.costs.total)


def test_the_acceptance_page_says_what_is_agreed_and_has_lines_for_both(client: str, told: Contents):
    page = client.split('<section id="agreed"')[1].split("</section>", maxsplit=1)[0]
    assert f"revision {told.project.handover.revision}" in page
    assert str(len(told.project.planting.plants) + len(told.garden.creeping)) in page
    assert page.count('class="line">Signature') == 2


def test_without_plants_or_brief_it_still_is_a_page(tmp_path: Path):
    bare = Garden(Project(name="Bare", units="metric"), tmp_path)
    assert 'id="footnotes"' in booklet.render(bare)


# ---- warnings


@pytest.fixture
def warned(plain_garden: Project, tmp_path: Path) -> Garden:
    """A garden whose path is narrower than a person: one warning at least."""
    walk = attrs.evolve(plain_garden.structure.paths[0], width=0.25)
    narrow = attrs.evolve(plain_garden, structure=attrs.evolve(plain_garden.structure, paths=(walk,)))
    garden = Garden(narrow, tmp_path)
    assert garden.open_warnings
    return garden


def test_an_open_warning_holds_the_client_edition_back_and_is_named(warned: Garden):
    with pytest.raises(GardenError, match="the client edition waits for"):
        booklet.render(warned)
    assert "<html" in booklet.render(warned, edition="office", with_sun=False)


def test_accepted_warnings_let_it_go_and_stand_in_it_with_their_reason(warned: Garden):
    project = warned.project
    for line in warned.open_warnings:
        project = edits.accept(
            project, where=line.where, what=line.what, reason="it is only for the cat", on=dt.date(2026, 5, 4)
        )
    garden = Garden(project, warned.folder)
    assert garden.open_warnings == ()
    text = read(booklet.render(garden)).text
    assert "it is only for the cat" in text
    assert "2026-05-04" in text
    again = Garden(
        edits.reopen(project, where=project.handover.accepted[0].where, what=project.handover.accepted[0].what),
        warned.folder,
    )
    assert len(again.open_warnings) == 1


def test_a_warning_whose_figure_changed_is_open_again(warned: Garden):
    first = warned.open_warnings[0]
    other = edits.accept(warned.project, where=first.where, what=first.what + " more", reason="as it was said before")
    assert first in Garden(other, warned.folder).open_warnings


def test_what_stops_the_work_cannot_be_accepted(warned: Garden, monkeypatch: pytest.MonkeyPatch):
    stop = Finding(where="walk", what="it leads nowhere", seriousness="stop")
    accepted = edits.accept(warned.project, where="walk", what="it leads nowhere", reason="so be it")
    garden = Garden(accepted, warned.folder)
    vars(garden)["said"] = (stop,)
    assert garden.open_warnings == (stop,)


def test_nothing_is_accepted_without_a_reason(warned: Garden):
    with pytest.raises(GardenError, match="say why"):
        edits.accept(warned.project, where="walk", what="narrow", reason="  ")
    with pytest.raises(GardenError, match="was not accepted"):
        edits.reopen(warned.project, where="walk", what="narrow")


@pytest.mark.parametrize("name", ["fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside"])
def test_every_example_is_settled(name: str):
    folder = EXAMPLES / name
    garden = Garden(storage.load(folder).project, folder)
    assert [f"{line.where}: {line.what}" for line in garden.open_warnings] == []


# ---- the office


def test_a_logo_of_the_pictures_folder_is_on_the_cover(plain_garden: Project, tmp_path: Path):
    (tmp_path / "pictures").mkdir()
    Image.new("RGB", (80, 40), "#206040").save(tmp_path / "pictures" / "mark.png")
    named = edits.set_office(plain_garden, company="Elder & Ash", logo="mark.png")
    page = booklet.render(Garden(named, tmp_path), edition="office", with_sun=False)
    (logo,) = [a for a in read(page).named("img") if a["alt"] == "Elder & Ash"]
    assert str(logo["src"]).startswith("data:image/jpeg;base64,")
    missing = edits.set_office(plain_garden, company="Elder & Ash", logo="gone.png")
    assert not read(booklet.render(Garden(missing, tmp_path), edition="office", with_sun=False)).named("img")


def test_revision_and_date_are_the_gardens_own(plain_garden: Project, tmp_path: Path):
    dated = edits.set_issued(edits.set_revision(plain_garden, "P02"), dt.date(2026, 3, 9))
    text = read(booklet.render(Garden(dated, tmp_path), edition="office", with_sun=False)).text
    assert "2026-03-09, revision P02" in text
    with pytest.raises(GardenError, match="eight letters"):
        edits.set_revision(plain_garden, "much too long")


def test_the_best_place_looks_at_plants(plain_garden: Project, tmp_path: Path):
    """Of two gates the one is best that has the plants before it."""
    gates = (
        Opening(name="west gate", kind="gate", start=(0, 3), end=(0, 2)),
        Opening(name="east gate", kind="gate", start=(12, 2), end=(12, 3)),
    )
    site = attrs.evolve(plain_garden.site, openings=(*plain_garden.site.openings, *gates))
    found = best_place(Garden(attrs.evolve(plain_garden, site=site), tmp_path))
    assert found is not None
    assert found.name == "east gate"  # the plant at (1, 3) is 1 m from the west gate: nearer than it can be seen whole
