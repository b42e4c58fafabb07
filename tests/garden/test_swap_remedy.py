"""Plants where they cannot thrive or may not stand: said once, and mended by another kind taken with one press."""

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import Finding
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.planting.places import SLACK, place_findings, stand_in
from gardenkit.planting.suitability import Spot, refused_by, suits
from gardenkit.project import edits
from gardenkit.project.edits import brief, planting, site

SOURCE = gardens.example("fennel_street_corner")


@pytest.fixture(scope="module")
def garden() -> Garden:
    return Garden(storage.load(SOURCE).project, SOURCE)


def said(garden: Garden, rule: str) -> list[Finding]:
    lines = garden.advice_about(("suits",))
    return [one for line in lines for one in (line.members or (line,)) if one.rule == rule]


def line_of(garden: Garden, rule: str) -> Finding:
    return next(line for line in garden.advice_about(("suits",)) if line.rule == rule)


def mended(garden: Garden, rule: str) -> Garden:
    remedy = line_of(garden, rule).remedy
    assert remedy is not None
    assert "swap" in remedy.words
    return Garden(edits.apply(garden.project, remedy), garden.folder)


def test_a_kind_that_is_not_hardy_is_swapped_for_one_that_is(garden: Garden) -> None:
    # USDA Plant Hardiness Zone Map: zone 3 is 20 to 30 degrees F colder in winter than zone 6, so much dies there.
    climate = attrs.evolve(garden.project.site.climate, zone="3b")
    cold = Garden(site.set_climate(garden.project, climate), garden.folder)
    before = said(cold, "suits winter")
    assert before
    assert all(cold.catalogue[cold.species_of[f.subject[1]]].zone_min > 3 for f in before if f.subject)
    after = mended(cold, "suits winter")
    left = {f.subject for f in said(after, "suits winter")}
    swapped = {f.subject for f in before if f.remedy is not None}
    assert swapped
    assert not left & swapped
    for subject in swapped:
        assert subject is not None
        assert after.catalogue[after.species_of[subject[1]]].zone_min <= 3


def test_a_kind_that_a_must_rules_out_is_swapped_for_one_not_listed_for_it(garden: Garden) -> None:
    refusing = Garden(brief.set_refusals(garden.project, ["toxic to dogs"]), garden.folder)
    before = said(refusing, "suits refused")
    assert {f.subject[1] for f in before if f.subject} == {
        number for number, name in garden.species_of.items() if refused_by(garden.catalogue[name], "toxic to dogs")
    }
    assert before
    after = mended(refusing, "suits refused")
    swapped = {f.subject for f in before if f.remedy is not None}
    assert not swapped & {f.subject for f in said(after, "suits refused")}
    for subject in swapped:
        assert subject is not None
        assert not refused_by(after.catalogue[after.species_of[subject[1]]], "toxic to dogs")


def test_a_shade_plant_in_full_sun_is_swapped_and_a_locked_one_is_left_to_the_designer(garden: Garden) -> None:
    sunny = max(garden.plant_spots, key=lambda number: garden.plant_spots[number].sun_hours_now or 0)
    shady = next(s for s in garden.catalogue if "full" not in s.sun_range and s.layer == "perennial")
    wrong = Garden(planting.swap_plants(garden.project, int(sunny), shady), garden.folder)
    finding = next(f for f in said(wrong, "suits sun") if f.subject == ("plant", sunny))
    assert finding.remedy is not None
    done = Garden(edits.apply(wrong.project, finding.remedy), wrong.folder)
    assert all(f.subject != ("plant", sunny) for f in said(done, "suits sun"))
    assert (done.plant_spots[sunny].sun_hours_now or 0) > 6  # hours of direct sun a day: full sun by every publisher
    assert "full" in done.catalogue[done.species_of[sunny]].sun_range
    locked = Garden(planting.lock_plants(wrong.project, int(sunny)), wrong.folder)
    assert next(f for f in said(locked, "suits sun") if f.subject == ("plant", sunny)).remedy is None


def test_a_place_a_hair_beyond_what_a_kind_takes_is_not_called_wrong(garden: Garden) -> None:
    kind = garden.catalogue["Nepeta × faassenii"]
    edge = next(h / 10 for h in range(100, 0, -1) if suits(kind, Spot(sun_hours_now=h / 10)).verdict == "no")
    number = next(n for n, name in garden.species_of.items() if name == kind.botanical)
    plant = next(one for one in garden.planted if str(one[0].number) == number)

    assert place_findings([(plant, Spot(sun_hours_now=edge))]) == ()
    assert place_findings([(plant, Spot(sun_hours_now=edge - 2 * SLACK))])


def test_what_is_named_as_a_substitute_is_taken_before_what_is_only_like_it(garden: Garden) -> None:
    kind = next(s for s in garden.catalogue if s.substitutes and s.substitutes[0] in garden.catalogue)
    other = garden.catalogue[kind.substitutes[0]]
    spot = Spot(sun_hours_now=7.0 if "full" in other.sun_range else 3.0, zone="6b")
    found = stand_in(attrs.evolve(kind, layer=other.layer, role=other.role), spot, garden.catalogue)
    assert found is not None
    assert suits(found, spot).verdict != "no"
