"""The pages of the site, worked as a designer would: from an empty plot to a sun map, soil and climate."""

import html
import io
from pathlib import Path

import attrs
import numpy as np
import pytest
from PIL import Image

from gardenkit import storage
from gardenkit.drawing.site_charts import TRIANGLE
from gardenkit.front import making
from gardenkit.geometry import plane
from gardenkit.notebook import gardens
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.climate import ClimatePage
from gardenkit.notebook.pages.climate_zone import read_minima
from gardenkit.notebook.pages.ground import GroundPage
from gardenkit.notebook.pages.place import degrees, time_zone_at
from gardenkit.notebook.pages.soil import SoilPage
from gardenkit.notebook.pages.sun import SunPage
from gardenkit.notebook.session import Session
from gardenkit.project.edits import brief
from gardenkit.project.sunlight import sun_map
from gardenkit.site.place import Place
from gardenkit.site.sky import sun_table
from gardenkit.site.texture import texture
from gardenkit.structure.kinds import fence_kind
from gardenkit.units import FOOT
from gardenkit.weather_units import CELSIUS


@pytest.fixture
def example(tmp_path: Path) -> Session:
    gardens.copy_garden(gardens.example("fennel_street_corner"), tmp_path / "garden")
    return Session(tmp_path / "garden")


@pytest.fixture
def empty(tmp_path: Path) -> Session:
    making.new(tmp_path / "empty", name="Trial plot")
    return Session(tmp_path / "empty")


def said(page: Page) -> str:
    return html.unescape(page.message.value)


def add(page: GroundPage, word: str, **texts: str) -> None:
    page.things.kinds.bar.value = word
    page.things.which.bar.index = 0
    page.things.form.fill(**texts)
    page.things.add()


def choose(page: GroundPage, word: str, name: str) -> None:
    page.things.kinds.bar.value = word
    names = [page.things.kind.title(one) for one in page.things.kind.of(page.project)]
    page.things.which.bar.index = 1 + names.index(name)


def refused(page: Page, before: object, words: str) -> None:
    """Check that one plain sentence was said and nothing was changed."""
    assert 'role="alert"' in said(page)
    assert words in said(page)
    assert "Traceback" not in said(page)
    assert "gardenkit made a mistake" not in said(page)
    assert page.project == before
    assert page.failures == []


# ---- from an empty plot to a sun map


def test_a_click_on_the_plan_opens_the_form_of_what_stands_there(example: Session) -> None:
    page = GroundPage(example)
    tree = example.project.site.trees[0]
    page.plan.choose((tree.at[0] + 0.1, tree.at[1]))
    assert page.steps.selected_index == 2
    assert page.things.chosen == tree
    assert page.things.form.texts()["name"] == tree.name
    assert len(page.scene().marks) == len(GroundPage(example).scene().marks) + 1  # it is outlined
    door = next(o for o in example.project.site.openings if o.kind == "door")
    page.plan.choose(door.middle)
    assert page.things.chosen == door
    page.plan.choose((-99.0, -99.0))
    assert page.things.chosen == door
    assert page.failures == []


def test_an_empty_plot_becomes_a_sun_map(empty: Session) -> None:
    ground, sun = GroundPage(empty), SunPage(empty)
    assert "First the place and the boundary" in said(sun)
    ground.place.form.fill(name="Trial Lane (invented)", latitude="42.3, -72.6", elevation="200 ft")
    ground.place.take()
    assert ground.project.site.place == Place(
        name="Trial Lane (invented)", latitude=42.3, longitude=-72.6, elevation=200 * FOOT, timezone="America/New_York"
    )
    ground.boundary.box.show("40 x 60")
    ground.boundary.take()
    add(ground, "building", name="house", outline="28 x 20 at 4, 38")
    add(ground, "door", at="18, 38")
    add(ground, "gate", at="20, 0")
    add(ground, "fence", line="0, 0\n0, 60\n40, 60\n40, 0")
    add(ground, "tree", name="plum", at="30, 14")
    site = ground.project.site
    assert ground.failures == sun.failures == []
    assert [o.name for o in site.openings] == ["door", "gate"]
    assert site.openings[0].on == "house"
    assert said(sun) == ""
    hours = sun.plan.map().hours
    day = sun_table(site.place).day_length
    assert 11 < hours[5].max() < day[5]  # the middle of the plot has most of June's day, less what the fences take
    assert hours[5, 0].min() < hours[5].max() - 3  # and the foot of a 6 ft fence has not
    assert len(sun.wall_rows()) == 4
    assert {wall.faces: wall.hours[5] for wall in sun.garden.wall_sun()}["south"] > 3


def test_a_plot_in_the_south_has_its_sun_from_the_north(empty: Session) -> None:
    ground, sun = GroundPage(empty), SunPage(empty)
    ground.place.form.fill(latitude="36.8 S", longitude="174.8 E")
    ground.place.take()
    assert ground.project.site.place.timezone == "Pacific/Auckland"
    ground.boundary.box.show("12 m x 18 m")
    ground.boundary.take()
    add(ground, "building", outline="6 m x 6 m at 3 m, 6 m")
    winter = {wall.faces: wall.hours[5] for wall in sun.garden.wall_sun()}
    assert "June, winter" in sun.walls.value
    assert sun.plan.map().at((6, 4.5))[5] < sun.plan.map().at((6, 13.5))[5]
    assert winter["north"] > 8
    assert winter["south"] == 0
    assert ground.failures == sun.failures == []


# ---- the ground


def test_degrees_are_read_as_maps_write_them() -> None:
    assert degrees("42.3", "latitude", 90) == 42.3
    assert degrees("72.6 W", "longitude", 180) == -72.6
    assert degrees("42° 18' N", "latitude", 90) == pytest.approx(42.3)
    assert time_zone_at(51.5, -0.1) == "Europe/London"


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"latitude": "about 42", "longitude": "-72"}, "cannot read"),
        ({"latitude": "95", "longitude": "-72"}, "as a latitude"),
        ({"latitude": "42", "longitude": "72 N"}, "as a longitude"),
        ({"latitude": "42", "longitude": "-72", "timezone": "Eastern"}, "not a known time zone"),
        ({"latitude": "42", "longitude": "-72", "y_bearing": "up"}, "cannot read the bearing"),
    ],
)
def test_a_place_that_cannot_be_is_refused(empty: Session, texts: dict[str, str], words: str) -> None:
    page = GroundPage(empty)
    before = page.project
    page.place.form.fill(**texts)
    page.place.take()
    refused(page, before, words)


def test_a_typed_time_zone_is_kept_and_a_found_one_follows_the_place(empty: Session) -> None:
    page = GroundPage(empty)
    page.place.form.fill(latitude="42.3", longitude="-72.6", timezone="Europe/Madrid")
    page.place.take()
    assert page.project.site.place.timezone == "Europe/Madrid"
    page.place.form.fill(latitude="51.5", longitude="-0.1")
    page.place.take()
    assert page.project.site.place.timezone == "Europe/London"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no points"),
        ("0, 0\n40, 0", "corners"),
        ("0, 0; 40, 60; 40, 0; 0, 60", "crosses"),
        ("0, 0\nx, 3", "cannot read"),
    ],
)
def test_a_boundary_that_cannot_be_is_refused(empty: Session, text: str, words: str) -> None:
    page = GroundPage(empty)
    before = page.project
    page.boundary.box.show(text)
    page.boundary.take()
    refused(page, before, words)


def test_a_boundary_is_typed_as_people_write_it() -> None:
    expected = ((0.0, 0.0), (40 * FOOT, 0.0), (40 * FOOT, 60 * FOOT), (0.0, 60 * FOOT))
    for text in (
        "40 x 60",
        "40' by 60'",
        "0, 0; 40', 0; 40', 60'; 0, 60'",
        "0, 0\n12.192 m, 0\n12.192 m, 18.288 m\n0, 18.288 m",
    ):
        assert forms.outline(text, "imperial", "the plot") == pytest.approx(np.array(expected))


def test_what_is_not_touched_in_a_form_stays_exactly(example: Session) -> None:
    page = GroundPage(example)
    before = page.project.site
    choose(page, "tree", "old serviceberry")
    page.things.form.fill(height="20 ft")
    page.things.change()
    after = page.project.site
    assert after.trees[0].height == pytest.approx(20 * FOOT)
    assert after.trees[0].at == before.trees[0].at
    assert after.trees[0].trunk_diameter == before.trees[0].trunk_diameter
    page.boundary.take()
    page.place.take()
    assert (page.project.site.boundary, page.project.site.place) == (before.boundary, before.place)
    assert page.failures == []


@pytest.mark.parametrize("word", ["building", "door", "window", "gate", "fence", "tree", "obstacle"])
def test_every_kind_comes_back_from_its_form_unchanged(example: Session, word: str) -> None:
    page = GroundPage(example)
    kind = page.things.table[word]
    for thing in kind.of(page.project):
        values = kind.read(kind.texts(thing, "imperial"), attrs.evolve(page.project, units="imperial"), old=thing)
        assert kind.change(page.project, thing, values) == page.project


@pytest.mark.parametrize(
    ("word", "texts", "words"),
    [
        ("tree", {"at": "10, 20", "height": "tall"}, "cannot read the length"),
        ("tree", {"at": "10, 20", "height": "0"}, "above 0"),
        ("tree", {"at": "here"}, "not a place on the plan"),
        ("tree", {"name": "house", "at": "10, 20"}, 'already something called "house"'),
        ("window", {"at": "20, 5"}, "from the nearest wall"),
        ("gate", {"at": "20, 30"}, "from the nearest boundary or fence"),
        ("gate", {"at": "16, 0", "width": "80 ft"}, "wider than"),
        ("building", {"outline": "10 x 10 at 20, 20", "ridge_height": "2 ft"}, "ridge below its eaves"),
        ("fence", {"line": "0, 0"}, "one point only"),
        ("fence", {"line": "0, 0\n9, 0", "openness": "120"}, "outside 0 to 100"),
    ],
)
def test_a_thing_that_cannot_be_is_refused(example: Session, word: str, texts: dict[str, str], words: str) -> None:
    page = GroundPage(example)
    before = page.project
    add(page, word, **texts)
    refused(page, before, words)


def test_corners_trees_and_gates_are_dragged(example: Session) -> None:
    page = GroundPage(example)
    page.plan.drop("corner:1", (9.5, 0.2))
    page.plan.drop("tree:old serviceberry", (3.0, 6.0))
    page.plan.drop("opening:gate", (5.0, 2.0))
    site = page.project.site
    assert page.failures == []
    assert (site.boundary[1], site.trees[0].at) == ((9.5, 0.2), (3.0, 6.0))
    assert site.opening("gate").middle == pytest.approx(
        (5.04, 0.11), abs=0.02
    )  # it slid onto the line, at its nearest place
    page.undo()
    assert page.project.site.opening("gate").middle != pytest.approx((5.04, 0.11), abs=0.02)


def test_a_corner_dragged_across_the_plot_goes_back(example: Session) -> None:
    page = GroundPage(example)
    before = page.project
    page.plan.edited("handles", {"id": ["corner:0"], "x": [30.0], "y": [10.0]})
    refused(page, before, "crosses")
    assert page.plan.plan.handles.data["x"][0] == before.site.boundary[0][0]


def test_doors_follow_a_changed_house_and_paths_a_renamed_gate(example: Session) -> None:
    page = GroundPage(example)
    choose(page, "building", "house")
    page.things.form.fill(name="cottage", outline="26 x 20 at 0, 40")
    page.things.change()
    assert {o.on for o in page.project.site.openings if o.kind != "gate"} == {"cottage"}
    choose(page, "gate", "gate")
    page.things.form.fill(name="street gate")
    page.things.change()
    assert "street gate" in {p.start for p in page.project.structure.paths}
    page.things.remove()
    assert 'cannot go yet: path "garden walk" goes to it' in said(page)
    choose(page, "building", "cottage")
    page.things.remove()
    assert "is in it" in said(page)
    assert page.failures == []


def test_what_kind_a_fence_is_can_be_said_and_goes_back_to_what_its_name_says(example: Session) -> None:
    page = GroundPage(example)
    name = page.project.site.fences[0].name
    choose(page, "fence", name)
    assert fence_kind(page.project.site.fences[0]).name == "fence"
    for kind in ("hedge", "wall", ""):
        page.things.form.fill(kind=kind)
        page.things.change()
        assert page.project.site.fences[0].kind == kind
        assert fence_kind(page.project.site.fences[0]).name == (kind or "fence")
    assert storage.load(example.folder).project.site.fences[0].kind == ""
    assert page.failures == []


def test_things_are_removed_and_brought_back(example: Session) -> None:
    page = GroundPage(example)
    page.things.kinds.bar.value = "tree"
    page.things.remove()
    assert "no tree is chosen" in said(page)
    choose(page, "tree", "old serviceberry")
    page.things.remove()
    assert [t.name for t in page.project.site.trees] == ["old serviceberry"]  # a want of the client asks for it
    for number in reversed([n for n, want in enumerate(page.project.brief.wants) if want.asks]):
        example.edit("take a want off", lambda p, n=number: brief.remove_want(p, n))
    choose(page, "tree", "old serviceberry")
    page.things.remove()
    assert not page.project.site.trees
    page.undo()
    assert [t.name for t in page.project.site.trees] == ["old serviceberry"]


def _scan() -> dict[str, object]:
    held = io.BytesIO()
    Image.new("RGB", (900, 1100), "white").save(held, "PNG")
    return {"name": "old plan.png", "content": held.getvalue()}


def test_a_scan_is_laid_under_the_plan_by_two_known_points(empty: Session) -> None:
    page = GroundPage(empty)
    page.scan.take([_scan()])
    held = page.project.site.underlay
    assert held is not None
    assert len(page.plan.under.data["url"]) == 1
    page.plan.drop("scan:A", held.to_plan((100, 1000)))
    page.plan.drop("scan:B", held.to_plan((100, 400)))
    page.scan.put()
    assert "say where A and B are" in said(page)
    page.scan.form.fill(a="0, 0", b="40', 0")
    page.scan.put()
    placed = page.project.site.underlay
    assert placed is not None
    assert placed.to_plan((100, 1000)) == pytest.approx((0, 0), abs=1e-6)
    assert placed.to_plan((100, 400)) == pytest.approx((40 * FOOT, 0), abs=1e-6)
    assert placed.turned == pytest.approx(90)
    assert storage.load(empty.folder).project.site.underlay is not None
    page.scan.drop()
    assert page.project.site.underlay is None
    assert page.plan.under.data["url"] == []
    assert page.failures == []


def test_a_file_that_is_no_picture_is_refused(empty: Session) -> None:
    page = GroundPage(empty)
    before = page.project
    page.scan.take([{"name": "notes.txt", "content": b"no picture"}])
    refused(page, before, "notes.txt")


# ---- sun


def test_the_map_is_of_the_month_the_part_of_the_day_and_the_year(example: Session) -> None:
    page = SunPage(example)
    whole = page.plan.hours()
    open_ground = np.isfinite(whole)
    assert open_ground.any()
    assert np.array_equal(whole[open_ground], sun_map(example.project, example.garden.catalogue).hours[5][open_ground])
    page.plan.part.bar.value = "morning"
    morning = page.plan.hours()
    page.plan.part.bar.value = "afternoon"
    assert morning + page.plan.hours() == pytest.approx(whole, nan_ok=True)
    page.plan.part.bar.value = "all day"
    page.plan.when.bar.value = 15
    assert np.nanmean(page.plan.hours()) < np.nanmean(whole)
    page.plan.set_month(12)
    assert np.nanmax(page.plan.hours()) < 9.2  # hours from sunrise to sunset in December at 42.3 degrees north
    assert page.failures == []


def test_the_spot_tells_its_year_and_its_class_by_the_publisher_named(example: Session) -> None:
    page = SunPage(example)
    bench = example.project.structure.seats[0].at
    assert page.plan.spot == bench
    assert page.spot.hours() == pytest.approx(sun_map(example.project, example.garden.catalogue).at(bench))
    page.plan.edited("handles", {"id": ["spot"], "x": [0.6], "y": [9.0]})
    assert page.plan.spot == (0.6, 9.0)
    page.plan.edited("handles", {"id": ["spot"], "x": [2.0], "y": [13.0]})  # into the house: it stops at the wall
    assert page.plan.spot == pytest.approx((2.0, 11.582))
    page.plan.set_spot((6.0, 8.0))
    for setting in ("LSU AgCenter", "Nebraska Extension"):
        page.plan.setting.bar.value = setting
        assert f"classes after {setting}" in page.spot.words.value
    assert page.failures == []


def test_the_class_map_names_the_publishers_classes(example: Session) -> None:
    page = SunPage(example)
    page.plan.show_what.bar.value = "sun classes"
    page.plan.setting.bar.value = "newspaper column"
    tips = {getattr(mark, "tip", "") for mark in page.scene().marks}
    assert {"full sun", "part sun"} <= tips
    assert page.failures == []


def test_daily_light_stands_beside_the_hours_of_sun(example: Session) -> None:
    page = SunPage(example)
    page.plan.show_what.bar.value = "daily light"
    tips = {getattr(mark, "tip", "") for mark in page.scene().marks}
    assert "40 mol and more of light a day" in tips
    assert "from the whole sky" in page.plan.light_note.value
    assert "from the hours of sunshine of the place" in page.plan.light_note.value
    assert (page.plan.of_hours.layout.display, page.plan.light_note.layout.display) == ("none", "")
    assert "Daily light at the spot" in page.spot.chart.value
    assert "its hours of sun alone" in page.spot.words.value
    page.plan.show_what.bar.value = "hours of sun"
    assert (page.plan.of_hours.layout.display, page.plan.light_note.layout.display) == ("", "none")
    assert "Direct sun at the spot" in page.spot.chart.value
    assert page.failures == []


def test_shadows_follow_the_clock_and_are_gone_at_night(example: Session) -> None:
    page = SunPage(example)
    page.plan.show_what.bar.value = "shadows at one hour"
    page.plan.set_date(171)
    page.plan.set_hour(9.0)
    shadows = [m for m in page.scene().marks if getattr(m, "tip", "") == "shadow"]
    assert shadows
    assert "in the east" in page.plan.sun_words()
    assert "sunrise 05:13" in page.plan.sun_words()  # daylight saving counted; the almanac's 21 June at 42.3 N 72.6 W
    page.plan.set_hour(4.0)
    assert "The sun is down" in page.plan.sun_words()
    assert not [m for m in page.scene().marks if getattr(m, "tip", "") == "shadow"]
    assert page.failures == []


def test_the_sun_diary_is_set_beside_the_map(example: Session) -> None:
    page = SunPage(example)
    page.plan.set_spot((6.0, 8.0))
    page.diary.editor.form.fill(date="2025-06-14", start="11:00", end="13.00", note="clear")
    page.diary.editor.add()
    page.diary.editor.form.fill(date="2025-06-14", start="22:30", end="23:00")
    page.diary.editor.add()
    report = page.garden.diary
    assert report is not None
    assert [line.agrees for line in report.lines] == [True, False]
    assert "✔ agrees" in page.diary.table.value
    assert "✘ differs" in page.diary.table.value
    page.diary.editor.which.bar.index = 2
    page.diary.editor.remove()
    assert [o.note for o in page.project.site.diary] == ["clear"]
    assert storage.load(example.folder).project.site.diary == page.project.site.diary
    assert page.failures == []


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"date": "14 June", "start": "11:00", "end": "12:00"}, "cannot read the date"),
        ({"date": "2025-06-14", "start": "eleven", "end": "12:00"}, "cannot read the time"),
        ({"date": "2025-06-14", "start": "13:00", "end": "12:00"}, "before its start"),
    ],
)
def test_a_diary_entry_that_cannot_be_is_refused(example: Session, texts: dict[str, str], words: str) -> None:
    page = SunPage(example)
    before = page.project
    page.diary.editor.form.fill(**texts)
    page.diary.editor.add()
    refused(page, before, words)


# ---- soil


def test_the_drawn_triangle_is_the_one_that_names_the_soil() -> None:
    for name, corners in TRIANGLE.items():
        sand, silt, clay = np.mean(np.array(corners, dtype=float), axis=0)
        assert texture(sand, silt, clay) == name


def test_the_drawn_classes_cover_the_triangle_once() -> None:
    def area(corners: np.ndarray) -> float:
        x, y = corners[:, 1] + corners[:, 2] / 2, corners[:, 2]
        return 0.5 * abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))

    assert sum(area(np.array(c, dtype=float)) for c in TRIANGLE.values()) == pytest.approx(5000.0)


def test_jar_hole_and_kit_are_taken_in(empty: Session) -> None:
    page = SoilPage(empty)
    page.tests.form.fill(
        jar="0.8, 1.6, 2.0", drops="1 in, 3/4 in, 1/2 in, 1/2 in", ph="7.9", free_lime="yes, crumbs fizz in vinegar"
    )
    page.tests.take()
    soil = page.project.site.soil
    assert soil.drainage_mm_per_hour == pytest.approx(2.75 * 25.4)  # 2.75 in in four quarters of an hour
    facts = dict(page.facts_rows())
    assert facts["texture"].startswith("loam")
    assert facts["sand, silt, clay"] == "40 % · 40 % · 20 %"
    assert facts["pH"] == "7.9, moderately alkaline"
    assert facts['water plants can draw from 12"'] == "1.5 to 2.1 in"  # NRCS Wyoming: loam, in per ft
    assert "free lime, so sulphur will not turn it acid" in page.advice.text()
    assert page.failures == []


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"sand_percent": "60"}, "only some of sand, silt and clay"),
        ({"sand_percent": "60", "silt_percent": "30", "clay_percent": "30"}, "add up to 120"),
        ({"ph": "16"}, "outside 0 to 14"),
        ({"jar": "0.8, 2.0"}, "needs three marks"),
        ({"jar": "0.8, 0.6, 2.0"}, "go down"),
        ({"drops": "an inch"}, "cannot read the length"),
    ],
)
def test_a_test_that_cannot_be_is_refused(empty: Session, texts: dict[str, str], words: str) -> None:
    page = SoilPage(empty)
    before = page.project
    page.tests.form.fill(**texts)
    page.tests.take()
    refused(page, before, words)


def test_amendments_come_from_one_named_table_and_say_when_impractical(example: Session) -> None:
    page = SoilPage(example)
    page.acidity.wanted.bar.value = "7.3"
    page.acidity.by.bar.value = "per unit"
    made = page.acidity.made()
    assert made is not None
    assert (made.material, made.table) == ("ground limestone", "per unit")
    assert made.low_g_per_m2 == pytest.approx(50 * 453.59237 / 92.90304)  # 50 lb per 1000 sq ft for one unit on loam
    page.acidity.wanted.bar.value = "4.5"
    page.acidity.by.bar.value = "per unit"
    assert "impractical" in page.acidity.table.value
    page.acidity.by.bar.value = "RHS sulphur"
    assert "takes pH 7.0-7.5 to 6.0-6.5 only" in said(page)
    assert page.failures == []


def test_volumes_are_worked_out_for_every_bed(example: Session) -> None:
    page = SoilPage(example)
    page.volumes.compost.bar.value = "4 in"
    rows = {row[0]: row for row in page.volumes.rows()}
    (bed,) = (bed for bed in example.garden.layout.beds if bed.name == "Side bed")
    sq_ft = plane.area(bed.region) / FOOT**2
    assert rows["Side bed"][1:3] == (f"{sq_ft:.0f} sq ft", f"{sq_ft / 81:.2f} cu yd")  # a cubic yard covers 81 at 4 in
    assert rows["Side bed"][3] == "none"
    page.volumes.compost.bar.value = "deep"
    assert "cannot read the length" in said(page)
    assert page.failures == []


# ---- climate


def test_zone_and_dates_are_typed(empty: Session) -> None:
    page = ClimatePage(empty)
    page.zone.form.fill(zone="Zone 6B", source="map of 2023")
    page.zone.take()
    page.frost.form.fill(last_frost="5-5", first_frost="10-08", heat_days="12")
    before = page.project
    page.frost.take()
    refused(page, before, "write month and day like 04-15")
    page.frost.form.fill(last_frost="05-05")
    page.frost.take()
    climate = page.project.site.climate
    assert (climate.zone, climate.zone_source, climate.last_frost, climate.heat_days) == (
        "6b",
        "map of 2023",
        "05-05",
        12,
    )
    assert dict(page.facts_rows())["between them"] == "156 days"
    page.storm.form.fill(storm="1.9")
    page.storm.take()
    assert page.project.site.climate.storm == pytest.approx(48.26)
    assert dict(page.facts_rows())["an hour's rain, once in ten years"] == "1.90 in"
    before = page.project
    page.storm.form.fill(storm="90")
    page.storm.take()
    refused(page, before, "storm")
    page.zone.form.fill(zone="99")
    before = page.project
    page.zone.take()
    refused(page, before, "is not a USDA zone")


def test_the_zone_is_worked_out_from_yearly_minima(empty: Session) -> None:
    page = ClimatePage(empty)
    page.zone.minima.bar.value = "year,lowest\n1991, -3\n1992; 1\n1993\t-4"
    page.zone.work_out()
    climate = page.project.site.climate
    assert climate.zone == "6b"  # -2 F lies in -5 to 0 F
    assert climate.zone_source == "mean of 3 calendar years 1991-1993: -18.9 °C"
    assert "rests on 3 years only" in page.advice.text()
    before = page.project
    page.zone.minima.bar.value = "1991, -3\n1991, 2"
    page.zone.work_out()
    refused(page, before, "is there twice")
    page.zone.minima.bar.value = "cold"
    page.zone.work_out()
    refused(page, before, "no yearly readings")
    assert read_minima("1991 -12.5", CELSIUS) == {1991: -12.5}


def _daily(year: int) -> str:
    days = np.arange(f"{year}-01-01", f"{year + 1}-01-01", dtype="datetime64[D]")
    rows = []
    for day in days.astype(str):
        frosty, hot = day[5:] <= "04-20" or day[5:] >= "10-15", "07-01" <= day[5:] <= "07-20"
        rows.append(f"{day},{-5 if frosty else 8},{31 if hot else 18},3")
    return "\n".join(["date,tmin_C,tmax_C,rain_mm", *rows])


def test_daily_weather_is_read_from_an_uploaded_table(example: Session) -> None:
    page = ClimatePage(example)
    zone = page.project.site.climate.zone
    page.daily.take_file([{"name": "weather.csv", "content": _daily(2021).encode()}])
    climate = page.project.site.climate
    assert (climate.last_frost, climate.first_frost) == ("04-20", "10-15")
    assert (climate.heat_days, climate.zone) == (20, zone)
    assert climate.rain is not None
    assert climate.rain[0] == pytest.approx(93)
    assert str(page.zone.minima.bar.value) == "2021, 23.0"  # -5 C
    before = page.project
    page.daily.text.bar.value = "date,tmin\n2021-01-01,3"
    page.daily.read()
    refused(page, before, "no tmax column")
    page.daily.text.bar.value = ""
    page.daily.read()
    refused(page, before, "no daily weather to read")


def test_a_stations_dates_are_moved_by_the_rule_of_thumb(example: Session) -> None:
    page = ClimatePage(example)
    page.station.form.fill(
        latitude="41.3", longitude="-72.6", elevation="60 m", last_frost="04-20", first_frost="10-15"
    )
    page.station.move()
    climate = page.project.site.climate
    assert (climate.last_frost, climate.first_frost) == ("04-24", "10-11")  # Hopkins: 4 days for one degree north
    assert "later here" in said(page)
    before = page.project
    page.station.form.fill(last_frost="")
    page.station.move()
    refused(page, before, "both of the station's frost dates")


def test_months_are_typed_in_the_gardens_own_units(empty: Session) -> None:
    page = ClimatePage(empty)
    page.months.form.fill(tmin="32 " * 12, tmax="50, " * 11 + "50", rain="1 " * 12)
    page.months.take()
    climate = page.project.site.climate
    assert climate.tmin == pytest.approx((0.0,) * 12)
    assert climate.tmax == pytest.approx((10.0,) * 12)
    assert climate.rain == pytest.approx((25.4,) * 12)
    page.months.take()  # unchanged fields stay exactly
    assert page.project.site.climate == climate
    before = page.project
    page.months.form.fill(tmin="32 33 34")
    page.months.take()
    refused(page, before, "3 numbers are given; give twelve")
    page.months.form.fill(tmin="60 " * 12)
    page.months.take()
    refused(page, before, "above the highest")


def test_every_bed_gets_its_water_by_the_family_of_factors_named(example: Session) -> None:
    page = ClimatePage(example)
    found = page.garden.reference_water
    assert found is not None
    assert found.method == "FAO-56 Penman-Monteith"
    page.need.rain.bar.value = "none"
    rows = {name: litres for name, _, litres in page.need.rows()}
    low = rows["Side bed"][6]
    page.need.family.bar.value = "Washington State drip"
    page.need.planting.bar.value = "shrub"
    assert {name: litres for name, _, litres in page.need.rows()}["Side bed"][6] == pytest.approx(low * 0.9 / 0.5)
    assert rows["all beds"][6] == pytest.approx(sum(v[6] for k, v in rows.items() if k != "all beds"))
    page.months.form.fill(humidity="")
    page.months.take()
    assert page.garden.reference_water.method == "Hargreaves"  # type: ignore[union-attr]
    assert page.failures == []


@pytest.mark.parametrize(("name", "shown"), [("fennel_street_corner", "mph"), ("lantern_lane_strip", "km/h")])
def test_wind_is_said_in_the_gardens_units_and_as_its_country_does(tmp_path: Path, name: str, shown: str) -> None:
    gardens.copy_garden(gardens.example(name), tmp_path / "garden")
    page = ClimatePage(Session(tmp_path / "garden"))
    page.months.form.fill(wind="10 " * 12)
    page.months.take()
    # NIST SP 811, appendix B.8: 1 mph = 0.44704 m/s, 1 km/h = 0.277 777 8 m/s
    metres_a_second = {"mph": 4.4704, "km/h": 2.777778}[shown]
    assert page.project.site.climate.wind == pytest.approx((metres_a_second,) * 12)
    assert f">wind, {shown}</td>" in page.months.table.value
    assert page.months.form.texts()["wind"] == ", ".join(["10.0"] * 12)
    assert page.failures == []
