"""Balance, height order, crowding, setbacks, diversity, bloom and colour: each says what a designer would see."""

import attrs
import numpy as np
import pytest

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting import balance, bloom, colour, crowding, diversity, layering, setbacks
from gardenkit.planting.catalogue import Species, load_catalogue
from gardenkit.planting.growth import size
from gardenkit.planting.planting import Plant
from gardenkit.planting.standing import Planted, mature, standing
from gardenkit.site.climate import Climate

CATALOGUE = load_catalogue()
SALVIA, MAPLE = CATALOGUE["Salvia nemorosa"], CATALOGUE["Acer campestre"]
SHRUB = CATALOGUE["Abelia × grandiflora"]
WAY = ((0.0, 0.0), (10.0, 0.0))  # walked from left to right: its left side is y above 0


def planted(*where: tuple[Species, float, float]) -> list[Planted]:
    return [(Plant(number=i, species=s.botanical, at=(x, y)), s) for i, (s, x, y) in enumerate(where, start=1)]


def texts(findings: tuple[Finding, ...]) -> str:
    return "\n".join(finding.sentence() for finding in findings)


# ---- balance


def test_mass_is_counted_on_the_side_it_stands_on() -> None:
    now = standing(planted((SHRUB, 5, 1), (SHRUB, 6, 1), (SHRUB, 5, -1)), 10)
    mass = balance.mass_beside(now, WAY, 7)
    assert mass.left == pytest.approx(2 * mass.right)
    backwards = balance.mass_beside(now, WAY[::-1], 7)
    assert (backwards.left, backwards.right) == pytest.approx((mass.right, mass.left))


def test_a_deciduous_tree_weighs_less_in_winter_and_a_perennial_nothing() -> None:
    tree, herb = standing(planted((MAPLE, 5, 1), (SALVIA, 5, -1)), 10)
    assert 0 < balance.visual_mass(tree, 1) < 0.5 * balance.visual_mass(tree, 7)
    assert balance.visual_mass(herb, 1) == 0 < balance.visual_mass(herb, 7)


def test_plants_out_of_reach_do_not_count() -> None:
    assert balance.mass_beside(standing(planted((SHRUB, 5, 7)), 10), WAY, 7) == balance.Mass(left=0, right=0)


def test_one_sided_planting_without_evergreens_is_found() -> None:
    now = standing(planted((MAPLE, 5, 3)), 10)
    assert "on the left" in texts(balance.balance_findings(now, WAY))
    assert "0% of the plants are evergreen, few" in texts(balance.whole_findings(now))


def test_a_kind_at_three_places_is_a_repeat_and_a_drift_is_one_place() -> None:
    now = standing(planted(*((SALVIA, x, 1) for x in (1, 1.4, 1.8, 5, 9)), (SHRUB, 3, 1)), 5)
    assert balance.repeats(now, WAY)[0] == balance.Repeat(botanical="Salvia nemorosa", places=(1, 5, 9))


# ---- height order and groups


def test_the_taller_in_front_is_a_violation_and_behind_is_not() -> None:
    wrong = layering.height_order(mature(planted((SHRUB, 5, 1), (SALVIA, 5, 2.2))), WAY)
    right = layering.height_order(mature(planted((SALVIA, 5, 0.5), (SHRUB, 5, 2.2))), WAY)
    assert (wrong.pairs, wrong.share) == (1, 1.0)
    assert (right.pairs, right.share) == (1, 0.0)


def test_even_groups_are_noted_odd_ones_are_not() -> None:
    def found(n: int) -> str:
        return texts(layering.group_findings(mature(planted(*((SALVIA, 0.4 * i, 1) for i in range(n))))))

    assert "even groups (4)" in found(4)
    assert [found(n) for n in (1, 3, 5, 7)] == [""] * 4


# ---- crowding


def test_two_shrubs_crowd_as_they_grow_and_the_first_year_is_named() -> None:
    pair = planted((SHRUB, 0, 0), (SHRUB, 0.6, 0))
    assert crowding.overlaps(standing(pair, 0)) == ()
    (meet,) = crowding.overlaps(standing(pair, 15))
    r = meet.first.radius
    both = plane.area(plane.intersection(plane.circle((0, 0), r, sides=720), plane.circle((0.6, 0), r, sides=720)))
    assert meet.share == pytest.approx(both / (3.14159265 * r * r), abs=1e-3)
    assert "from year" in texts(crowding.crowding_findings(pair))


def test_a_mass_at_its_on_centre_distance_knits_and_set_closer_it_crowds() -> None:
    # half the on-centre distance is four times the plants that published tables give for the ground
    apart = SHRUB.spacing_m
    assert SHRUB.spread > apart  # so the crowns do meet
    row = standing(planted((SHRUB, 0, 0), (SHRUB, apart, 0), (SHRUB, 2 * apart, 0)), 15)
    assert crowding.overlaps(row) == ()
    close = standing(planted((SHRUB, 0, 0), (SHRUB, apart / 2, 0)), 15)
    assert len(crowding.overlaps(close)) == 1


def test_two_drifts_side_by_side_knit_at_the_mean_of_their_on_centre_distances() -> None:
    catmint, sage = CATALOGUE["Nepeta × faassenii"], CATALOGUE["Salvia nemorosa 'Caradonna'"]
    apart = (catmint.spacing_m + sage.spacing_m) / 2
    assert crowding.overlaps(standing(planted((catmint, 0, 0), (sage, 0.95 * apart, 0)), 5)) == ()
    (meet,) = crowding.overlaps(standing(planted((catmint, 0, 0), (sage, 0.4 * apart, 0)), 5))
    assert meet.share > crowding.HARD_OVERLAP


def test_plants_meant_to_knit_want_the_same_air_within_nine_tenths_of_their_distance_and_others_at_any() -> None:
    catmint, sage = CATALOGUE["Nepeta × faassenii"], CATALOGUE["Salvia nemorosa 'Caradonna'"]
    other = CATALOGUE["Hydrangea paniculata"]
    shrub, again, one, two, beside = standing(
        planted((SHRUB, 0, 0), (SHRUB, 9, 0), (catmint, 0, 9), (sage, 9, 9), (other, 5, 5)), 15
    )
    assert crowding.competes_within(shrub, again) == pytest.approx(0.9 * SHRUB.spacing_m)
    assert crowding.competes_within(one, two) == pytest.approx(0.9 * (catmint.spacing_m + sage.spacing_m) / 2)
    assert crowding.competes_within(shrub, beside) == float("inf")
    assert crowding.competes_within(one, one) == 0.0  # herbs of one kind close up


def test_what_bears_shade_runs_in_under_a_shrub_and_what_needs_sun_is_crowded_there() -> None:
    low, sunny = CATALOGUE["Helleborus × hybridus"], CATALOGUE["Nepeta × faassenii"]
    assert low.layer == sunny.layer == "perennial"  # no carpet: those never compete
    under = 0.5 * size(SHRUB, 15).spread / 2
    assert crowding.overlaps(standing(planted((SHRUB, 0, 0), (low, under, 0)), 15)) == ()
    (meet,) = crowding.overlaps(standing(planted((SHRUB, 0, 0), (sunny, under, 0)), 15))
    assert meet.share > crowding.HARD_OVERLAP


def test_a_tall_plant_that_bears_shade_is_still_crowded_by_a_shrub() -> None:
    tall = CATALOGUE["Actaea racemosa"]
    assert "shade" in tall.sun_range
    assert len(crowding.overlaps(standing(planted((SHRUB, 0, 0), (tall, 0.3, 0)), 15))) == 1


def test_herbs_under_a_tree_do_not_crowd_it() -> None:
    assert crowding.overlaps(standing(planted((MAPLE, 0, 0), (SALVIA, 1, 0)), 15)) == ()


def test_low_branches_over_a_path_and_a_covered_window_are_found_once() -> None:
    path = ("front path", plane.region([(0, -0.5), (10, -0.5), (10, 0.5), (0, 0.5)]))
    window = setbacks.Glass(name="kitchen window", line=((4, 1.5), (6, 1.5)), sill=0.9)
    found = crowding.crowding_findings(planted((SHRUB, 5, 0.9)), paths=[path], windows=[window])
    assert [f.where for f in found] == ["plant 1, Abelia × grandiflora"] * 2
    assert "hangs over front path" in texts(found)
    assert "covers part of kitchen window" in texts(found)


def test_a_plant_that_loses_its_sun_is_found_and_one_that_never_had_it_is_not() -> None:
    sun = next(p for p in CATALOGUE.layer("perennial") if p.sun_range == ("full",))
    two = planted((sun, 0, 0), (sun, 5, 0))
    years = (0, 10)
    lost = crowding.losing_sun(two, lambda y, _: [8 if y == 0 else 4] * 9 + [2] * 9, years=years)
    assert [(one.one.plant.number, one.year, one.before, one.after) for one in lost] == [(1, 10, 8, 4)]


def test_years_between_are_asked_backwards_for_what_is_there_and_only_while_it_still_lacks_sun() -> None:
    sun = next(p for p in CATALOGUE.layer("perennial") if p.sun_range == ("full",))
    early, late, new = planted((sun, 0, 0), (sun, 5, 0), (sun, 9, 0))
    plants = [early, late, (attrs.evolve(new[0], year=6), sun)]
    beside = {0: (8, 8, 8), 3: (8, 8, 8), 5: (4, 7, 4), 10: (2, 2, 2)}
    asked = []

    def hours(year: float, places: object) -> FloatArray:
        at = np.asarray(places).reshape(-1, 9, 2)[:, 0, 0]
        asked.append((year, len(at)))
        return np.repeat([float(beside[int(year)][[0, 5, 9].index(x)]) for x in at], 9)

    lost = crowding.losing_sun(plants, hours, years=(0, 1, 3, 5, 10))
    assert [(one.one.plant.number, one.year) for one in lost] == [(1, 5), (2, 10), (3, 10)]
    assert asked == [(0, 3), (10, 3), (5, 2), (3, 1)]


# ---- setbacks


def test_a_tree_by_the_house_and_a_shrub_by_the_wall_are_found() -> None:
    house = ("the house", plane.region([(0, 0), (10, 0), (10, -8), (0, -8)]))
    around = setbacks.Around(walls=(house,))
    near = setbacks.setback_findings(planted((MAPLE, 2, 1), (SHRUB, 7, 0.3)), around)
    assert [f.where.split(",")[0] for f in near] == ["plant 1", "plant 2"]
    assert setbacks.setback_findings(planted((MAPLE, 2, 5), (SHRUB, 7, 1.2)), around) == ()


def test_a_tree_under_wires_and_over_a_pipe_is_warned_of_with_what_to_do() -> None:
    wires = setbacks.Service(name="the street wires", kind="overhead line", line=((0, 0), (10, 0)))
    pipe = setbacks.Service(name="the gas pipe", kind="buried service", line=((0, 1), (10, 1)))
    tall = next(p for p in CATALOGUE.layer("tree") if p.height > 12)
    found = texts(setbacks.setback_findings(planted((tall, 5, 1)), setbacks.Around(services=(wires, pipe))))
    assert "ask the line's owner" in found
    assert "have buried services marked before digging" in found
    with pytest.raises(GardenError, match="nearest known"):
        odd = attrs.evolve(pipe, kind="hydrent")
        setbacks.setback_findings(planted((tall, 5, 1)), setbacks.Around(services=(odd,)))


def test_a_tall_plant_before_a_window_is_found_and_a_low_one_is_not() -> None:
    glass = setbacks.Glass(name="the bay window", line=((4, 0), (6, 0)), sill=0.9)
    around = setbacks.Around(windows=(glass,))
    assert "bay window" in texts(setbacks.setback_findings(planted((SHRUB, 5, 0.8)), around))
    assert setbacks.setback_findings(planted((SALVIA, 5, 0.8)), around) == ()


# ---- diversity


def test_below_twenty_woody_plants_the_shares_are_only_notes() -> None:
    few, many = ([SHRUB] * n for n in (5, 25))
    assert {f.seriousness for f in diversity.diversity_findings(few)} == {"note"}
    assert {f.seriousness for f in diversity.diversity_findings(many)} == {"caution"}
    assert diversity.diversity_findings([SALVIA] * 50) == ()


# ---- bloom


def test_gaps_and_overlaps_of_a_small_calendar() -> None:
    rows = bloom.bloom_calendar({SALVIA: 9, CATALOGUE["Crocus chrysanthus"]: 50})
    assert [(row.botanical, row.count, row.months) for row in rows] == [
        ("Crocus chrysanthus", 50, CATALOGUE["Crocus chrysanthus"].bloom_months),
        ("Salvia nemorosa", 9, (5, 6, 7)),
    ]
    assert bloom.gaps(rows, wanted=(5, 6, 9)) == (9,)
    assert "nothing flowers in Sep" in texts(bloom.bloom_findings(rows, wanted=(5, 6, 9)))


def test_a_half_month_between_two_kinds_without_flowers_is_told() -> None:
    early, late = (
        attrs.evolve(SALVIA, botanical=f"Salvia {name}", bloom_start=month, bloom_end=month, **halves)
        for name, month, halves in (
            ("prima", 4, {"bloom_start_half": "early", "bloom_end_half": "late"}),
            ("altera", 5, {"bloom_start_half": "late", "bloom_end_half": "late"}),
        )
    )
    rows = bloom.bloom_calendar([early, late])
    assert bloom.gaps(rows, wanted=(4, 5)) == ()
    assert bloom.half_gaps(rows, wanted=(4, 5, 6)) == (9,)
    assert bloom.half_gaps(rows, wanted=(5, 6)) == bloom.half_gaps([]) == ()
    assert "nothing flowers in early May" in texts(bloom.bloom_findings(rows, wanted=(4, 5)))


def test_a_colder_zone_flowers_later_and_a_milder_one_earlier() -> None:
    assert bloom.site_shift(Climate(zone="4")).days == 20
    assert bloom.site_shift(Climate(zone="8")).days == -20
    assert bloom.site_shift(Climate(zone="6")).days == 0
    assert bloom.site_shift(Climate(zone="4", last_frost="05-11")).days == pytest.approx(10)
    with pytest.raises(GardenError, match="last frost"):
        bloom.site_shift(Climate(zone="4"), way="last frost")


def test_winter_interest_lists_what_is_left_and_misses_what_is_not() -> None:
    holly = next(p for p in CATALOGUE if "berries" in p.winter_interest)
    assert [row.botanical for row in bloom.winter_rows([holly, SALVIA])][:1] == [holly.botanical]
    annual = CATALOGUE["Ageratum houstonianum"]
    assert "nothing is left to look at" in texts(bloom.winter_findings([annual]))


# ---- colour


@pytest.mark.parametrize(
    ("colours", "scheme"),
    [
        (("#ff0000",), "monochromatic"),
        (("#ff0000", "#00ff00"), "complementary"),
        (("#ff0000", "#ff7000", "#ffffff"), "analogous"),
        (("#ff0000", "#ffff00", "#0000ff"), "triadic"),
    ],
)
def test_harmonies_on_the_painters_wheel(colours: tuple[str, ...], scheme: str) -> None:
    found = colour.harmony(colours, wheel="painters")
    assert (found.scheme, found.fit) == (scheme, 1.0)


def test_red_and_green_are_complementary_for_painters_only() -> None:
    assert colour.harmony(("#ff0000", "#00ff00"), wheel="CIELAB hue").scheme != "complementary"


def test_white_goes_with_everything_and_unknown_wheels_are_named() -> None:
    assert colour.harmony(("#ffffff", "#888888")) == colour.Harmony(scheme="monochromatic", fit=1.0, wheel="CIELAB hue")
    with pytest.raises(GardenError, match='nearest known is "painters"'):
        colour.hue("#ff0000", wheel="painter")
    with pytest.raises(GardenError, match="write it as #rrggbb"):
        colour.lab("reddish")


def test_a_plant_fits_a_palette_of_its_own_colours() -> None:
    assert colour.palette_distance(SALVIA, SALVIA.flower_colours) == 0
    assert colour.palette_fit(SALVIA, SALVIA.flower_colours) == 1
    assert colour.palette_fit(SALVIA, ("#ffe000",)) == 0
