"""Every kind of want is typed in the form of the page, judged, shown again, and answered in the client copy."""

import html
from pathlib import Path

import attrs
import pytest

import gardenkit as gk
from gardenkit import storage
from gardenkit.brief.asking import Asked
from gardenkit.brief.want_kinds import WANT_KINDS
from gardenkit.brief.wants import told
from gardenkit.drawing.overlays import CHOSEN_INK
from gardenkit.drawing.scene import Area
from gardenkit.geometry import plane
from gardenkit.handover import wording
from gardenkit.notebook import gardens
from gardenkit.notebook.pages.want_fields import WANT, shown_fields
from gardenkit.notebook.pages.wants import WantsPage
from gardenkit.notebook.session import Session
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.edits import brief, site, structure
from gardenkit.site.site import Building, ExistingTree

TYPED = {  # what is typed beside the kind's usual amount
    "screened": {"other": "kitchen window", "months": "May to August"},
    "view_open": {"other": "kitchen window"},
    "step_free_way": {"other": "side door"},
    "flowers_in": {"months": "April, June-July", "words": "white, #755f98"},
    "natives_of": {"words": "North America"},
    "thing_wanted": {"words": "bins store"},
    "cost_of": {"words": "plants"},
    "safe_for": {"words": "dogs, severe"},
    "no_allergy": {"words": "pollen allergy"},
    "plant_wanted": {"words": "Salvia"},
    "plant_never": {"words": "Taxus"},
    "in_sun": {"since": "10:00", "until": "2:30 pm"},
    "water_use": {"amount": "9000 gal"},
}


def small_garden() -> Project:
    """Return a plot with one of everything that a want can be about."""
    made = site.set_boundary(Project(name="plot"), ((0.0, 0.0), (12.0, 0.0), (12.0, 16.0), (0.0, 16.0)))
    made = site.add_thing(made, Building(name="house", outline=((3.0, 12.0), (9.0, 12.0), (9.0, 15.5), (3.0, 15.5))))
    made = site.add_opening(made, "gate", "gate", at=(6.0, 0.0), width=1.2, sill=0.0, head=1.2)
    made = site.add_opening(made, "door", "side door", at=(6.0, 12.0), width=1.0, sill=0.0, head=2.1)
    made = site.add_opening(made, "window", "kitchen window", at=(4.0, 12.0), width=1.0, sill=0.9, head=2.1)
    made = site.add_thing(made, ExistingTree(name="old pear", at=(1.5, 14.0), height=6.0, spread=4.0))
    made = structure.add_path(made, "walk", start="gate", end="side door")
    made = structure.add_seat(made, "bench", at=(10.0, 6.5))
    made = structure.add_area(made, "lawn", name="green", outline=((0.5, 5.0), (4.5, 5.0), (4.5, 9.0), (0.5, 9.0)))
    return structure.add_support(made, "trellis", "trellis", line=((9.5, 11.0), (11.5, 11.0)))


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> WantsPage:
    folder = tmp_path_factory.mktemp("wants") / "garden"
    storage.create(folder, small_garden())
    made = WantsPage(Session(folder))
    for key in WANT_KINDS:
        made.list.choose(None)
        form = made.list.form
        form.fill(text=f"want of {key}", whom="the children", fact=key)
        first = [value for _, value in form.boxes["thing"].bar.options if value]
        form.fill(**({"thing": first[0]} if WANT_KINDS[key].needs_thing and first else {}), **TYPED.get(key, {}))
        assert made.list.add(), made.message.value
    return made


def test_a_want_of_every_kind_is_typed_and_judged(page: WantsPage) -> None:
    judged = {j.want.asks.kind: j for j in page.judged() if j.want.asks}
    assert set(judged) == set(WANT_KINDS)
    assert page.failures == []
    assert {j.want.whom for j in judged.values()} == {"the children"}
    asks = judged["in_sun"].want.asks
    assert asks is not None
    assert (asks.since, asks.until) == (10.0, 14.5)
    asks = judged["flowers_in"].want.asks
    assert asks is not None
    assert (asks.months, asks.words) == ((4, 6, 7), ("white", "#755f98"))


def test_the_form_shows_only_what_a_kind_takes_and_offers_its_own_things(page: WantsPage) -> None:
    for number, want in enumerate(page.project.brief.wants):
        if want.asks is None:
            continue
        page.list.choose(number)
        boxes = page.list.form.boxes
        shown = {name for name, box in boxes.items() if box.layout.display != "none"}
        assert shown == set(shown_fields(want.asks.kind)) - {"area"}  # the plot has no areas of the property
        assert boxes["thing"].bar.value == want.asks.thing
    page.list.form.fill(fact="keep_tree")
    offered = [value for _, value in page.list.form.boxes["thing"].bar.options]
    assert "old pear" in offered
    assert "green" not in offered
    page.list.choose(None)


def test_every_want_comes_back_from_its_form_unchanged(page: WantsPage) -> None:
    project = page.project
    for want in project.brief.wants:
        values = WANT.read(WANT.texts(want, project.units), project, old=want)
        assert WANT.change(project, want, values) == project
        fresh = WANT.read(WANT.texts(want, project.units), project)
        again = WANT.add(project, fresh).brief.wants[-1].asks
        if want.asks is not None and again is not None:  # typed anew, an amount comes back as it was shown
            assert attrs.evolve(again, amount=want.asks.amount) == want.asks
            assert again.amount == pytest.approx(want.asks.amount, rel=0.01)


def test_the_client_copy_answers_every_want_as_the_page_does(page: WantsPage) -> None:
    for judged in page.judged():
        row = wording.want(judged, page.project.units)
        assert (row["text"], row["whom"], row["verdict"]) == (judged.want.text, "the children", judged.verdict)
        assert page.garden.say(row["measured"].replace("\u00a0", " ")) == page.measured(judged)
        assert html.escape(page.measured(judged)) in page.table.value
        assert row["helps"] == judged.helps
        assert row["helps"] or judged.verdict in ("met", "not yet known")
    assert told(page.judged()) in page.head.value


def test_a_script_gives_the_same_answers_as_the_page(page: WantsPage) -> None:
    by_script = gk.open(page.session.folder).wants
    assert {one.want.asks.kind for one in by_script if one.want.asks} == set(WANT_KINDS)
    assert by_script == page.judged()
    assert all(one.where and html.escape(one.where) in page.table.value for one in by_script)


def test_a_garden_with_such_wants_is_saved_and_opened_again(page: WantsPage) -> None:
    assert storage.load(page.session.folder).project.brief == page.project.brief


def test_wants_of_another_garden_are_taken_once_and_ask_what_they_are_about_here(page: WantsPage) -> None:
    before, (example, *_) = len(page.project.brief.wants), gardens.examples()
    theirs = storage.load(example).project.brief.wants
    for _ in range(2):
        page.take_from(example)
        assert len(page.project.brief.wants) == before + len(theirs)
    taken = {want.text: want for want in page.project.brief.wants}
    assert taken["keep the old serviceberry"].asks is not None
    assert taken["keep the old serviceberry"].asks.thing == ""  # here stands no tree of that name
    by_the_gate = taken["scent by the gate"].asks
    assert by_the_gate is not None
    assert by_the_gate.thing == "gate"  # here is a gate too
    kept = next(j for j in page.judged() if j.want.text == "keep the old serviceberry")
    assert kept.verdict == "not yet known"
    assert page.failures == []


def test_another_kind_begins_with_its_own_amount_though_a_want_is_chosen(page: WantsPage) -> None:
    page.list.choose(None)
    page.list.form.fill(text="nobody poisoned", fact="safe_for", words="dogs")
    page.list.add()
    page.list.form.fill(text="shade at noon", fact="in_shade", thing="bench")  # the first is chosen still
    page.list.add()
    assert page.project.brief.wants[-1].asks == Asked(
        kind="in_shade", thing="bench", amount=75.0, since=12.0, until=14.0
    )
    page.list.form.fill(fact="care_hours")
    page.list.form.fill(fact="in_shade")
    assert page.list.form.texts()["amount"] == "75"
    assert page.failures == []


def test_a_garden_is_not_offered_its_own_wants(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gardens, "kept", lambda: (tmp_path / "mine", tmp_path / "other"))
    gardens.copy_garden(gardens.examples()[0], tmp_path / "mine")
    offered = {name for name, _ in WantsPage(Session(tmp_path / "mine")).others.bar.options}
    assert "other" in offered and "mine" not in offered


def test_the_bed_that_answers_a_chosen_want_is_ringed(tmp_path: Path) -> None:
    made = structure.rename_bed(small_garden(), structure.every_bed(small_garden())[0].name, to="long bed")
    yew = Plant(number=1, species="Taxus baccata 'Fastigiata'", at=(9.0, 3.0))
    made = attrs.evolve(made, planting=attrs.evolve(made.planting, plants=(yew,)))
    made = brief.ask_for(made, text="nothing to poison the dog", asks="safe_for", words=("dogs",))
    storage.create(tmp_path / "garden", made)
    page = WantsPage(Session(tmp_path / "garden"))
    page.list.choose(0)
    assert page.judged()[0].where == "long bed"
    assert [wish.text for wish in page.plan.ringed] == ["look here: long bed"]
    assert page.plan.widget.layout.display == ""
    page.list.choose(None)
    assert page.plan.ringed == ()
    assert page.failures == []


def test_of_two_wants_that_cannot_both_be_either_is_let_go_by_a_press(tmp_path: Path) -> None:
    made = small_garden()
    for kind, weight in (("screened", "must"), ("view_open", "could")):
        made = brief.ask_for(made, text=kind, asks=kind, thing="bench", other="kitchen window", weight=weight)
    storage.create(tmp_path / "garden", made)
    page = WantsPage(Session(tmp_path / "garden"))
    page.against.choose(0)
    (button,) = page.against.others.children
    assert button.description == 'Or this: let go of "screened" (must)'
    page.against.take_other(0)
    assert [want.text for want in page.project.brief.wants] == ["view_open"]
    assert (page.against.others.children, page.failures) == ((), [])


def test_what_a_want_is_about_is_picked_on_the_plan(page: WantsPage) -> None:
    page.list.choose(None)
    page.list.form.fill(fact="")
    page.plan.click((10.0, 6.5))
    assert "choose first what the want is checked by" in page.message.value
    page.list.form.fill(text="bench out of sight", fact="screened")
    page.plan.click((10.0, 6.4))  # the bench
    page.plan.click((4.1, 11.9))  # the kitchen window: the other thing
    texts = page.list.form.texts()
    assert (texts["thing"], texts["other"]) == ("bench", "kitchen window")
    assert [wish.text for wish in page.plan.ringed] == ["Hidden is: bench", "Seen from: kitchen window"]
    rings = [mark for mark in page.plan.scene().marks if isinstance(mark, Area) and mark.stroke == CHOSEN_INK]
    assert len(rings) == 2
    bench, window = (plane.region(ring.rings[0]) for ring in rings)
    assert plane.contains(bench, (10.0, 6.5)) and plane.contains(window, (4.1, 12.0))
    page.plan.says.show("thing")
    page.plan.click((7.5, 2.0))
    assert "where you clicked" in page.message.value  # open ground is not hidden
    page.list.form.fill(fact="keep_tree")
    page.plan.click((1.6, 14.0))
    assert page.list.form.texts()["thing"] == "old pear"
    page.list.form.fill(fact="area_of")
    page.plan.click((2.0, 7.0))
    assert page.list.form.texts()["thing"] == "green"
    page.list.form.fill(fact="walk_width")
    way = page.garden.layout.routes["walk"].curve.points
    page.plan.click((float(way[len(way) // 2][0]), float(way[len(way) // 2][1])))
    assert page.list.form.texts()["thing"] == "walk"
    assert page.failures == []


def test_where_nothing_is_drawn_the_plan_of_the_wants_stays_away(empty: Session) -> None:
    page = WantsPage(empty)
    assert page.plan.board.layout.display == "none"
    empty.edit("ground", lambda p: site.set_boundary(p, ((0, 0), (9, 0), (9, 9), (0, 9))))
    page.attempt(page.refresh)
    assert page.plan.board.layout.display == ""
    assert page.failures == []
