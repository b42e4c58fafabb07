"""The finished example gardens are sound: they open, fit their ground, and every plant in them stands where it can."""

import json
import math
import pickle
from collections import Counter
from functools import cache
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from gardenkit import storage
from gardenkit.brief.photo import photo
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.handover import gardeners_sheet
from gardenkit.handover.paper import Issue
from gardenkit.planting.bloom import kinds_by_month
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.composing.register import WINTER_STANDS
from gardenkit.planting.places import place_findings
from gardenkit.planting.sourcing import twice_published
from gardenkit.planting.suitability import refused_by
from gardenkit.planting.winter import INFORMAL
from gardenkit.project import Project
from gardenkit.project.advice import bloom_rows, plant_spots, planting_findings
from gardenkit.project.layout import Layout, layout
from gardenkit.project.season import local_months, northern_month, spring_shift, standing
from gardenkit.site import adjustment
from gardenkit.site.climate import climate_findings
from gardenkit.site.openings import Opening
from gardenkit.site.site import Fence
from gardenkit.site.standing import standing_fences
from gardenkit.structure.kinds import fence_kind
from gardenkit.structure.path_rules import TOO_STEEP
from gardenkit.structure.structure import Support
from gardenkit.structure.supports import match
from gardenkit.units import INCH

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside")
KEPT = {"garden.json", "pictures"}  # nothing of a session: no history, no lock
LARGEST = 300 * 1024  # bytes
STANDARD_ERRORS = 3.0  # a corner further off than three of its own standard errors was drawn wrong
STRAIGHT = 0.01  # per metre: a radius over 100 m is straight to the eye
AT_SUPPORT = 0.7  # m from a climber's foot, or a trained tree's trunk, to what it grows on

every_garden = pytest.mark.parametrize("name", NAMES)


@cache
def opened(name: str) -> Project:
    return storage.load(EXAMPLES / name).project


def worked(name: str) -> Layout:
    return layout(opened(name))


@cache
def garden_of(name: str) -> Garden:
    return Garden(opened(name), EXAMPLES / name)


def measured(name: str) -> dict[str, float]:
    return dict(garden_of(name).facts)


@every_garden
def test_an_example_is_laid_out_the_same_where_it_is_sent(name: str) -> None:
    """To the process that paints views beside this one, with what is remembered of it."""
    garden = garden_of(name)
    places = [plant.at for plant in garden.project.planting.plants]
    sent = pickle.loads(pickle.dumps(garden.layout))
    assert [bed and bed.name for bed in sent.beds_at(places)] == [
        bed and bed.name for bed in garden.layout.beds_at(places)
    ]
    lie, its = garden.layout.lie, sent.lie
    assert (lie is None) == (its is None)
    if lie is not None:
        np.testing.assert_array_equal(its.at(np.array(places)), lie.at(np.array(places)))


def test_there_are_three_examples_and_no_other_folder() -> None:
    assert sorted(p.name for p in EXAMPLES.iterdir() if p.is_dir()) == sorted(NAMES)


@every_garden
def test_it_opens_and_is_marked_invented(name: str) -> None:
    project = opened(name)
    assert project.invented
    for said in (project.client, project.designer, project.site.place.name):
        assert said.endswith("(invented)")
    for source in (project.site.soil.source, project.site.climate.frost_source, project.site.climate.weather_source):
        assert "invented" in source


@every_garden
def test_the_folder_holds_no_more_than_a_garden_should(name: str) -> None:
    shipped = [p for p in (EXAMPLES / name).rglob("*") if p.is_file() and not p.name.startswith(".")]
    assert {p.relative_to(EXAMPLES / name).parts[0] for p in shipped} == KEPT
    assert max(p.stat().st_size for p in shipped) <= LARGEST
    assert not (EXAMPLES / name / storage.HISTORY_FILE).exists()


@every_garden
def test_the_file_is_in_the_format_of_today(name: str) -> None:
    data = json.loads((EXAMPLES / name / storage.PROJECT_FILE).read_text(encoding="utf-8"))
    assert data["format"] == storage.records.FORMAT


@every_garden
def test_every_picture_on_the_wall_is_in_the_folder_and_none_is_left_over(name: str) -> None:
    pinned = {picture.file for picture in opened(name).brief.pictures}
    assert len(pinned) == 3
    assert {p.name for p in (EXAMPLES / name / "pictures").iterdir()} == pinned
    for file in pinned:
        assert min(photo(EXAMPLES / name / "pictures" / file).size) >= 400
    assert all(p.caption and p.liked for p in opened(name).brief.pictures)


@every_garden
def test_the_structure_fits_the_ground(name: str) -> None:
    project, found = opened(name), worked(name)
    assert found.problems == ()
    assert set(found.routes) == {path.name for path in project.structure.paths}
    assert not [f.sentence() for f in found.findings if f.topic == "bed" or f.seriousness == "stop"]


@every_garden
def test_every_named_bed_has_its_own_ground(name: str) -> None:
    named = {bed.name for bed in worked(name).beds if bed.named}
    assert named == {bed.name for bed in opened(name).structure.beds}
    assert len(worked(name).beds) == len(named)


@every_garden
def test_beds_paths_ground_areas_and_things_together_are_the_open_ground(name: str) -> None:
    found, project = worked(name), opened(name)
    obstacles = plane.intersection(plane.union(plane.region(o.outline) for o in project.site.obstacles), found.ground)
    bare = plane.area(plane.difference(obstacles, found.hardscape))
    parts = [bed.region for bed in found.beds] + [*found.surfaces.values(), *found.ground_areas.values(), found.scraps]
    parts += [*found.things.values(), found.walls]
    assert sum(map(plane.area, parts)) + bare == pytest.approx(plane.area(found.ground), rel=1e-6)


METRES_OF_FENCE = {  # summed from the pieces that were once typed one by one on either side of each gate
    "fennel_street_corner": 7.376 + 1.311 + 3.448 + 15.856 + 11.582,
    "lantern_lane_strip": 11.620 + 15.800 + 3.782 + 0.490,
    "quarry_brow_hillside": 1.865
    + 3.358
    + 2.746
    + 1.560  # the retaining wall
    + 13.433
    + (3.419 + 6.167 + 6.284)
    + (13.800 + 13.121 + 6.459),
}


def between(first: Fence, second: Fence, opening: Opening) -> bool:
    """Tell whether two fences are one that was split at an opening: alike, in line, an end on either side of it."""
    if fence_kind(first) != fence_kind(second) or (first.height, first.openness) != (second.height, second.openness):
        return False
    sides = (opening.start, opening.end)
    return any(
        math.dist(a, sides[0]) + math.dist(b, sides[1]) < 0.3  # m, both posts
        for one, other in ((first, second), (second, first))
        for a in (one.line[0], one.line[-1])
        for b in (other.line[0], other.line[-1])
    )


@every_garden
def test_no_fence_is_split_by_hand_where_an_opening_stands_in_it(name: str) -> None:
    site = opened(name).site
    split = [
        (a.name, o.name, b.name)
        for i, a in enumerate(site.fences)
        for b in site.fences[:i]
        for o in site.openings
        if between(a, b, o)
    ]
    assert split == []


@every_garden
def test_the_fence_stands_open_at_its_gate_and_measures_what_its_pieces_measured(name: str) -> None:
    site = opened(name).site
    pieces = standing_fences(site)
    assert len(pieces) == len(site.fences) + 1  # one gate in a fence each
    metres = sum(math.dist(a, b) for piece in pieces for a, b in pairwise(piece.line))
    assert metres == pytest.approx(METRES_OF_FENCE[name], abs=0.01)


@every_garden
def test_every_plant_is_known_and_numbered_once(name: str) -> None:
    planting, catalogue = opened(name).planting, load_catalogue()
    for plant in planting.plants:
        assert catalogue[plant.species].botanical == plant.species
    assert max(Counter(p.number for p in planting.plants).values()) == 1
    assert {p.species for p in planting.plants} <= set(planting.palette)


@every_garden
def test_every_plant_stands_in_a_bed_or_at_its_support(name: str) -> None:
    project, found = opened(name), worked(name)
    lines = {s.name: footprint(s) for s in project.structure.supports}
    lost = [
        (p.number, p.species)
        for p in project.planting.plants
        if (plane.distance(lines[p.support], plane.point(p.at)) > AT_SUPPORT if p.support else not found.bed_at(p.at))
    ]
    assert lost == []


def footprint(support: Support) -> plane.Shape:
    """Return the ground that a support stands over."""
    line = plane.line(support.line)
    return plane.grown(line, support.depth / 2) if support.depth else line


@every_garden
def test_no_two_plants_stand_on_the_same_spot(name: str) -> None:
    at = [p.at for p in opened(name).planting.plants]
    nearest = min(math.dist(a, b) for i, a in enumerate(at) for b in at[:i])
    assert nearest >= 0.05  # m, a small bulb's spacing


@every_garden
def test_the_beds_are_closed_by_the_fifth_year_and_all_but_closed_by_the_third(name: str) -> None:
    # 85 % and more in year five is the wish of all three briefs; the others are house values
    figures = garden_of(name).composition
    assert figures is not None
    assert figures.coverage[3] >= 0.80
    assert figures.coverage[5] >= 0.85
    assert figures.bare_circle <= 1.0  # m: a step, and nowhere more
    assert figures.lattice <= 0.05
    assert figures.dots <= 0.01
    assert figures.rings == 0.0
    assert figures.tall_in_front <= 0.01


@every_garden
def test_the_framework_is_visible_in_winter(name: str) -> None:
    figures = garden_of(name).composition
    assert figures is not None
    assert figures.frame >= float(INFORMAL)  # of the shrubs' ground, as published for an informal garden
    assert figures.winter >= WINTER_STANDS


def test_most_kinds_of_the_examples_were_seen_in_two_publications_or_more() -> None:
    planted = {plant.species for name in NAMES for plant in opened(name).planting.plants}
    assert twice_published(load_catalogue()[kind] for kind in planted) >= 0.7


@every_garden
def test_climbers_grow_on_what_can_hold_them(name: str) -> None:
    project, catalogue = opened(name), load_catalogue()
    supports = {s.name: s for s in project.structure.supports}
    held = [(catalogue[p.species], supports[p.support]) for p in project.planting.plants if p.support]
    assert {species.layer for species, _ in held} <= {"climber", "wall fruit"}
    for species, support in held:
        if species.layer == "wall fruit":
            assert support.kind in ("espalier", "wall wires")
        else:
            said = match(species.climbs_by, species.weight, support)
            assert not [f.sentence() for f in said if f.seriousness in ("caution", "warning", "stop")]


@every_garden
def test_no_climber_stands_without_a_support(name: str) -> None:
    catalogue = load_catalogue()
    loose = [p.species for p in opened(name).planting.plants if not p.support]
    assert not [s for s in loose if catalogue[s].layer in ("climber", "wall fruit")]


@every_garden
def test_nothing_in_the_planting_is_a_warning(name: str) -> None:
    found = planting_findings(opened(name), load_catalogue())
    assert not [f.sentence() for f in found if f.seriousness in ("warning", "stop")]


@every_garden
def test_every_plant_is_hardy_there(name: str) -> None:
    zone, catalogue = opened(name).site.climate.zone, load_catalogue()
    assert zone is not None
    coldest = int(zone.rstrip("ab"))
    assert not [p.species for p in opened(name).planting.plants if catalogue[p.species].zone_min > coldest]


@every_garden
def test_no_plant_carries_what_the_client_refuses(name: str) -> None:
    project, catalogue = opened(name), load_catalogue()
    carried = {
        (species, word)
        for species in {p.species for p in project.planting.plants}
        for word in project.brief.refuses
        if refused_by(catalogue[species], word)
    }
    assert carried == set()


@every_garden
def test_the_survey_agrees_with_itself(name: str) -> None:
    adjusted = adjustment.solve(opened(name).site.survey, y_bearing=opened(name).site.y_bearing)
    assert adjusted.spare >= 5
    assert 0.2 < adjusted.s0 < 1.5  # one is a tape as good as supposed
    assert adjusted.suspect is None
    assert not [f for f in adjustment.advise(adjusted) if f.seriousness in ("warning", "stop")]


@every_garden
def test_the_boundary_drawn_is_the_boundary_measured(name: str) -> None:
    project = opened(name)
    adjusted = adjustment.solve(project.site.survey, y_bearing=project.site.y_bearing)
    taped = [p for p in adjusted.points if not p.fixed]
    pairs = [(c, min(taped, key=lambda p: math.dist(p.at, c))) for c in project.site.boundary]
    corners = [(corner, point) for corner, point in pairs if math.dist(corner, point.at) < 0.5]
    assert len(corners) >= 2  # the others are the house's own
    assert not [point.name for corner, point in corners if math.dist(corner, point.at) > STANDARD_ERRORS * point.long]


@every_garden
def test_the_climate_asks_nothing_more(name: str) -> None:
    climate = opened(name).site.climate
    assert not [f.sentence() for f in climate_findings(climate) if f.seriousness != "note"]
    assert climate.tmin is not None
    assert climate.tmax is not None
    assert all(low < high for low, high in zip(climate.tmin, climate.tmax, strict=True))


@every_garden
def test_every_want_that_must_be_is_met_or_for_the_eye(name: str) -> None:
    judged = garden_of(name).wants
    musts = [j for j in judged if j.want.weight == "must"]
    assert len(musts) >= 2
    assert {j.verdict for j in musts} <= {"met", "to be judged by eye"}
    assert "met" in {j.verdict for j in musts}


@every_garden
def test_it_meets_its_own_brief(name: str) -> None:
    judged = garden_of(name).wants
    assert not [j.want.text for j in judged if j.verdict == "not met"]


@every_garden
def test_every_plant_stands_in_the_sun_and_winter_it_takes_and_none_is_refused(name: str) -> None:
    found = place_findings(plant_spots(opened(name), load_catalogue()))
    assert not [f.sentence() for f in found]


@every_garden
def test_facts_count_what_is_on_the_plan(name: str) -> None:
    project, found = opened(name), measured(name)
    assert found["plants"] == len(project.planting.plants)
    assert found["species"] == len({p.species for p in project.planting.plants})
    assert found["seats"] == len(project.structure.seats)
    assert found["beds"] == len(worked(name).beds)
    assert found["bed_area"] == pytest.approx(sum(plane.area(bed.region) for bed in worked(name).beds))


@every_garden
def test_the_care_of_a_month_is_one_page(name: str) -> None:
    garden = garden_of(name)
    sheet = PdfReader(BytesIO(gardeners_sheet.pages(garden, Issue.of(garden.project))))
    assert len(sheet.pages) == 12


def test_the_three_gardens_show_different_ground() -> None:
    corner, strip, hill = (opened(name) for name in NAMES)
    assert [p.units for p in (corner, strip, hill)] == ["imperial", "metric", "imperial"]
    assert [p.site.place.latitude > 0 for p in (corner, strip, hill)] == [True, False, True]
    assert measured(NAMES[2])["path_slope"] > 8 > measured(NAMES[1])["path_slope"]


def test_the_passage_beside_the_kitchen_is_a_metre_wide_and_the_path_goes_through() -> None:
    found = worked("lantern_lane_strip")
    strip = plane.intersection(plane.region([(4.0, 2.95), (5.4, 2.95), (5.4, 3.05), (4.0, 3.05)]), found.ground)
    assert plane.area(strip) / 0.1 == pytest.approx(1.0, abs=0.02)
    assert plane.contains(found.routes["lane walk"].region, (4.7, 3.0))


def test_a_southern_garden_flowers_in_the_southern_summer() -> None:
    project = opened("lantern_lane_strip")
    by_month = {m: len(kinds) for m, kinds in kinds_by_month(bloom_rows(project, load_catalogue())).items()}
    assert sum(by_month[m] for m in (12, 1, 2)) > 5 * sum(by_month[m] for m in (6, 7, 8))
    assert sum(by_month[m] for m in (12, 1, 2)) > 5 * sum(by_month[m] for m in (6, 7, 8))


def test_a_southern_last_frost_in_spring_is_read_as_spring() -> None:
    site = opened("lantern_lane_strip").site
    assert site.climate.last_frost == "09-22"  # as 22 March in the north, forty days before the reference's 1 May
    assert spring_shift(site) == pytest.approx(-40)


def test_months_turn_half_a_year_in_the_south_only() -> None:
    north, south = opened(NAMES[0]).site, opened(NAMES[1]).site
    assert [northern_month(north, m) for m in (1, 7)] == [1, 7]
    assert [northern_month(south, m) for m in (1, 7, 12)] == [7, 1, 6]
    assert local_months(south, (5, 6)) == (11, 12)


def test_the_strip_is_barest_in_july_and_the_hill_in_january_yet_the_strip_stays_the_greener() -> None:
    def leafy(name: str, month: int) -> float:
        plants = standing(opened(name), load_catalogue(), year=5, month=month)
        return sum(p.look.in_leaf for p in plants if p.is_seen) / len(plants)

    strip = {month: leafy("lantern_lane_strip", month) for month in (1, 7)}
    hill = {month: leafy("quarry_brow_hillside", month) for month in (1, 7)}
    assert strip[7] < strip[1]
    assert hill[1] < hill[7]
    assert strip[7] > hill[1]  # not by half any more: the hill's floor is evergreen, strawberry, bearberry, foamflower


def test_the_hill_is_steep_enough_to_need_steps_and_has_them() -> None:
    found = worked("quarry_brow_hillside")
    made = [one for flights in found.flights.values() for one in flights]
    assert [len(found.flights[name]) for name in ("brow walk", "orchard walk", "pine walk")] == [7, 1, 0]
    assert all(one.fits and one.steps is not None for one in made)
    assert max(one.steps.riser for one in made if one.steps is not None) <= 7 * INCH  # common practice, A48
    steep = {f.where for f in found.findings if f.rule == TOO_STEEP}
    assert not steep & {'path "brow walk"', 'path "orchard walk"'}


@every_garden
def test_its_paths_run_in_fair_curves_that_turn_gently_and_change_side_seldom(name: str) -> None:
    """A turn is one and a half widths wide or more; a walk of zigzags changes at each turn, the others once at most."""
    routes, paths = worked(name).routes, opened(name).structure.paths
    assert {path.line for path in paths} == {"fair curves"}
    assert min(made.tightest_radius / made.width for made in routes.values()) >= 1.5
    for made in routes.values():
        bends = made.curve.curvature()[2:-2]
        bends = bends[np.abs(bends) > STRAIGHT]
        changes = int((np.sign(bends[1:]) != np.sign(bends[:-1])).sum())
        assert changes <= (4 if made.name == "brow walk" else 1)


@every_garden
def test_no_plant_stands_in_a_wall_or_under_a_seat(name: str) -> None:
    project, catalogue = opened(name), load_catalogue()
    taken = plane.union([worked(name).walls, *(plane.region(seat.outline) for seat in project.structure.seats)])
    held = ("climber", "wall fruit")
    under = [p.number for p in project.planting.plants if catalogue[p.species].layer not in held]
    assert not [
        n for n, at in ((p.number, p.at) for p in project.planting.plants) if n in under and plane.contains(taken, at)
    ]
