"""Every notebook's cells, run in order on every example, and the figures that must come out of them."""

import inspect
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from gardenkit.geometry import plane
from gardenkit.notebook import gardens
from gardenkit.site import site as sites
from gardenkit.site.frost import growing_season_days
from gardenkit.site.soil import drainage_class, ph_class, soil_texture

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(p.name for p in (ROOT / "examples").iterdir() if p.is_dir())
FENNEL = "fennel_street_corner"
SMALLEST = "lantern_lane_strip"  # choosing and composing the others takes a minute, and other tests do so


def start_00(start: Any) -> None:
    assert start.scene().marks


def inspiration_01(style: Any) -> None:
    assert all(len(colour) == 7 and colour.startswith("#") for colour in style.colours())


def wants_02(wants: Any, garden: Any) -> None:
    assert len(wants.judged()) == len(garden.project.brief.wants)


def ground_03(ground: Any, survey: Any, example: str) -> None:
    sites.check(ground.project.site)
    if example == FENNEL:
        open_ground = plane.area(sites.ground(ground.project.site))
        assert abs(open_ground - 174.56) < 0.05, open_ground  # square metres: 1,879 sq ft
        assert survey.adjusted.spare == 8 and abs(survey.adjusted.s0 - 0.50) < 0.05, survey.adjusted.s0
        assert max(p.long for p in survey.adjusted.points) < 0.04  # metres


def sun_03(sun: Any, garden: Any, example: str) -> None:
    if example == FENNEL:
        hours, june, december = sun.plan.map().hours, 5, 11
        # An open field from sunrise to sunset at 42.3 degrees north.
        assert hours[june].max() < 15.3 and hours[december].max() < 9.2
        bench = sun.plan.map().at(garden.project.structure.seats[0].at)
        assert abs(bench[june] - 7.3) < 0.3 and abs(bench[december] - 5.3) < 0.3, bench


def soil_and_climate_03(climate: Any, garden: Any, example: str) -> None:
    if example == FENNEL:
        tested, known = garden.project.site.soil, garden.project.site.climate
        assert soil_texture(tested) == "loam" and ph_class(tested.ph) == "slightly acid"
        assert drainage_class(tested.drainage_mm_per_hour) == "well drained"
        assert (known.zone, known.last_frost, known.first_frost) == ("6a", "05-05", "10-08")
        assert growing_season_days(known.last_frost, known.first_frost) == 156
        july = garden.garden.reference_water.mm_a_day[6]
        assert abs(july - 4.9) < 0.1, july  # FAO-56 Penman-Monteith


def areas_04(structure: Any, garden: Any) -> None:
    """Beds, hard surfaces, things, scraps and what blocks share the open ground without rest."""
    worked = structure.layout()
    assert not worked.problems and set(worked.routes) == {path.name for path in garden.project.structure.paths}
    shared = sum(bed.area for bed in worked.beds) + plane.area(plane.intersection(worked.hardscape, worked.ground))
    blocked = plane.union(plane.region(o.outline) for o in garden.project.site.obstacles)
    loose = plane.area(plane.intersection(plane.difference(blocked, worked.hardscape), worked.ground))
    things = sum(plane.area(region) for region in (*worked.things.values(), worked.walls))
    assert abs(shared + plane.area(worked.scraps) + loose + things - plane.area(worked.ground)) < 1e-6


def stones_04(structure: Any, garden: Any) -> None:
    worked = structure.layout()
    for path in garden.project.structure.paths:
        named = {f.where for f in worked.findings if f.topic == "gap"}
        for gap in worked.layings[path.name].gaps:
            within = path.stones.gap_low - 5e-4 <= gap.clear <= path.stones.gap_high + 5e-4
            where = f'path "{path.name}", stones {gap.first + 1} and {gap.second + 1}'
            assert within or path.surface != "stepping stones" or where in named
        for stone in worked.layings[path.name].stones:
            outside = plane.difference(plane.region(stone.outline), worked.routes[path.name].region)
            assert stone.held or plane.area(outside) < 1e-6


def seen_and_climbs_04(seen: Any, climbs: Any, alternatives: Any, structure: Any, garden: Any) -> None:
    assert 0 < seen.view().measures.area <= plane.area(plane.region(garden.project.site.boundary)) + 1e-6
    assert seen.shown() is None or 0 <= seen.shown().share <= 1
    if garden.project.site.heights:
        climb = climbs.lie.climb()
        flight = climbs.steps.flight(climb)
        assert abs(flight.risers * flight.riser - climb.height) < 1e-9
        assert 26 <= flight.two_risers_and_tread / 0.0254 <= 27 + 1e-9
    assert alternatives.figures("as it stands").beds == len(structure.layout().beds)


def judged_05(layering: Any, suits: Any, plants: Any, seasons: Any, garden: Any) -> None:
    kinds = [layering.catalogue[p.species] for p in garden.project.planting.plants]
    assert not kinds or any(row.months for row in layering.bloom_rows(kinds))
    judged = suits.judgements()
    assert len(judged) == len(plants.catalogue) >= 400
    assert all(any(r.ok is False and r.hard for r in j.reasons) for j in judged if j.verdict == "no")
    assert not any("safe" in r.text and "not mean safe" not in r.text for j in judged for r in j.reasons)
    assert seasons.view.scene().description.endswith(".")


def palette_05(palette: Any, example: str) -> None:
    if example != SMALLEST:
        return
    found = palette.found(palette.wishes())[0].palette
    least, most = palette.amounts.number.bar.value
    assert found.proven and found.gap < 1e-6
    assert least <= len(found.choices) <= most or found.relaxed
    assert set(palette.wishes().locked) <= set(found.names)


def arranging_05(arrange: Any, garden: Any, example: str) -> None:
    before = garden.project
    if example == SMALLEST:
        arrange.bed.bar.value = garden.garden.beds[0].name
        made = arrange.composed()
        assert len({one.taste.words for one in made.found}) == 4
        assert all(garden.garden.layout.bed_at(p.at) for one in made.found for p in one.new if not p.support)
    assert garden.project == before


def quantities_06(care: Any, garden: Any) -> None:
    plants = care.table_named("plant schedule")
    assert (plants is None) == (not garden.project.planting.plants)
    assert plants is None or len(plants.rows) >= len({p.species for p in garden.project.planting.plants})


def client_07(client: Any, garden: Any) -> None:
    text = client.target.read_text(encoding="utf-8")
    assert garden.project.name in text and len(text) < 8_000_000
    assert "http://" not in text.split("</style>")[0]


CHECKS: dict[str, tuple[Callable[..., None], ...]] = {
    "00_start": (start_00,),
    "01_inspiration_and_style": (inspiration_01,),
    "02_wants_list": (wants_02,),
    "03_site_measurement": (ground_03, sun_03, soil_and_climate_03),
    "04_structure": (areas_04, stones_04, seen_and_climbs_04),
    "05_layering": (judged_05, palette_05, arranging_05),
    "06_quantities_and_care": (quantities_06,),
    "07_client_copy": (client_07,),
}


@pytest.mark.parametrize("example", EXAMPLES)
@pytest.mark.parametrize("notebook", CHECKS)
def test_the_notebook_runs_and_its_figures_come_out(
    notebook: str, example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gardens.copy_garden(gardens.example(example), tmp_path / example)
    monkeypatch.setenv("GARDENKIT_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("GARDENKIT_GARDEN", str(tmp_path / example))
    known: dict[str, Any] = {}
    for cell in json.loads((ROOT / "workbook" / f"{notebook}.ipynb").read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), known)
    desk = known.pop("desk", None)
    known.update({name: desk.open(name) for name in desk.names} if desk else {})
    pages = {name: thing for name, thing in known.items() if hasattr(thing, "failures")}
    assert pages and not any(page.failures for page in pages.values())
    known["example"] = example
    for check in CHECKS[notebook]:
        check(**{name: known[name] for name in inspect.signature(check).parameters})
