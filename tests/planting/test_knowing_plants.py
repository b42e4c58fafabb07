"""What a designer knows of a plant beyond its looks: role, company, spreading, life, sizes in trade, harm, region."""

from pathlib import Path

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import Species, load_catalogue, shipped_rows
from gardenkit.planting.catalogue_columns import GRADES, NURSERY_SIZES
from gardenkit.planting.growth import is_herb
from gardenkit.planting.invasive import listed_in, listed_near
from gardenkit.planting.nursery import LITRES, nursery_size_named
from gardenkit.planting.own_plants import cells_of
from gardenkit.planting.sourcing import (
    GROUPS,
    by_halves,
    memory_shares,
    memory_words,
    publications,
    published,
    publisher,
    sources_of,
    twice_published,
)
from gardenkit.planting.species import species_from_row, toxicity_for, toxicity_text
from gardenkit.planting.substitutes import substitutes, unlikeness

PLANTS = load_catalogue().plants
FILLED = ("role", "spreads_by", "standing_start", "standing_end", "life_years", "nursery_sizes", "habit_source")
CUBIC_INCH = 0.016387064  # litres, exact


def plant(name: str) -> Species:
    return load_catalogue()[name]


def binomial_and_genus(species: Species) -> tuple[str, str]:
    return species.binomial, species.genus


# -- every row --


@pytest.mark.parametrize("column", FILLED)
def test_every_row_says_it(column: str) -> None:
    assert [row["botanical"] for row in shipped_rows() if not row[column]] == []


def test_every_plant_set_in_numbers_has_its_sociability() -> None:
    alone = ("tree", "climber", "wall fruit")
    assert [p.botanical for p in PLANTS if p.layer not in alone and not p.sociability and p.is_ornamental] == []


def test_sociability_follows_the_published_examples() -> None:
    """Hansen and Stahl's scale as read at the Bund deutscher Staudengärtner and two growers' glossaries."""
    seen = {
        "Paeonia lactiflora 'Sarah Bernhardt'": {"I"},
        "Yucca filamentosa": {"I"},
        "Actaea racemosa": {"I"},
        "Papaver orientale": {"I"},
        "Lamprocapnos spectabilis": {"I"},
        "Panicum virgatum": {"I"},
        "Phlox paniculata 'David'": {"I"},
        "Ajuga reptans": {"II", "III"},
        "Thymus serpyllum": {"II", "III"},
        "Waldsteinia ternata": {"III", "V"},
        "Epimedium × warleyense": {"III", "V"},
    }
    assert {name: set(plant(name).sociability) for name in seen} == seen


def test_how_many_stand_together_follows_from_the_level() -> None:
    """The same: I at most 5, II 3 to 10, III 10 to 20, IV over 20 as an area."""
    assert plant("Yucca filamentosa").together == (1, 5)
    assert plant("Ajuga reptans").together == (3, 20)
    assert plant("Waldsteinia ternata").together == (10, None)
    assert plant("Quercus rubra").together == (1, 1)


def test_substitutes_are_plants_of_the_catalogue_and_no_worse_in_the_place_they_are_taken_for() -> None:
    names = set(load_catalogue().names())
    for one in PLANTS:
        assert set(one.substitutes) <= names, one.botanical
        worse = [s for s in one.substitutes if set(one.invasive_in) & set(plant(s).invasive_in)]
        assert worse == [], one.botanical


def test_the_named_substitutes_come_first_and_the_found_ones_do_no_more_harm() -> None:
    assert [s.botanical for s in substitutes(plant("Digitalis purpurea"), PLANTS)][:2] == [
        "Penstemon digitalis 'Husker Red'",
        "Campanula persicifolia",
    ]
    for one in PLANTS[::7]:
        for other in substitutes(one, PLANTS):
            if other.botanical not in one.substitutes:
                assert (other.layer, other.role) == (one.layer, one.role)
                assert GRADES.index(other.toxicity or "mild") <= GRADES.index(one.toxicity or "mild")
                assert set(other.invasive_in) <= set(one.invasive_in), (one.botanical, other.botanical)


def test_the_likest_plant_is_tried_first() -> None:
    assert unlikeness(plant("Hosta 'Halcyon'"), plant("Hosta 'Halcyon'")) == 0
    assert substitutes(plant("Hosta 'Halcyon'"), PLANTS)[0].genus == "Hosta"
    assert substitutes(plant("Quercus rubra"), PLANTS, most=1)[0].layer == "tree"


def test_herbs_that_stand_through_winter_have_something_that_stands() -> None:
    for one in PLANTS:
        if is_herb(one) and one.leaf == "herbaceous" and one.layer != "bulb" and 1 in one.standing_months:
            assert {"seed heads", "bark", "berries"} & set(one.winter_interest), one.botanical


def test_evergreens_and_woody_plants_stand_all_year() -> None:
    for one in PLANTS:
        if one.leaf == "evergreen" or not is_herb(one):
            assert len(one.standing_months) == 12, one.botanical


def test_plants_green_all_winter_count_as_evergreen_and_half_green_ones_do_not() -> None:
    assert plant("Helleborus niger").is_evergreen
    assert plant("Tiarella cordifolia").is_evergreen
    assert not plant("Abelia × grandiflora").is_evergreen
    assert not plant("Hosta 'Halcyon'").is_evergreen


def test_no_foliage_colour_serves_more_than_a_twelfth_of_the_plants() -> None:
    summer = [p.foliage_summer for p in PLANTS if p.foliage_summer]
    assert max(summer.count(colour) for colour in set(summer)) <= len(PLANTS) / 12


def test_fruit_called_blue_or_black_looks_so() -> None:
    """Concord grape, creeper, dogwood and viburnum berries are far darker than sky blue: house limit, half of white."""
    for name in ("Vitis labrusca 'Concord'", "Parthenocissus quinquefolia", "Cornus alternifolia", "Viburnum dentatum"):
        colour = plant(name).fruit_colour
        red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
        assert max(red, green) < 0x80, name
        assert blue >= max(red, green), name


@pytest.mark.parametrize("zone", [3, 6, 9])
def test_cold_and_warm_gardens_find_every_role_as_well_as_temperate_ones(zone: int) -> None:
    """A house number: five times what a palette of twenty kinds takes of a role, ten of the climbers."""
    here = [p.role for p in PLANTS if p.zone_min <= zone <= p.zone_max]
    least = {"framework": 100, "accompanying": 80, "ground cover": 40, "filler": 20, "climber": 10}
    assert {role: here.count(role) for role in least if here.count(role) < least[role]} == {}


@pytest.mark.parametrize(
    "name",
    [  # the kinds the list of work names
        "Lavandula angustifolia 'Hidcote'",
        "Digitalis purpurea",
        "Alcea rosea",
        "Stachys byzantina",
        "Rudbeckia hirta",
        "Gypsophila paniculata",
        "Dianthus barbatus",
        "Calluna vulgaris",
        "Lathyrus odoratus",
        "Ipomoea tricolor 'Heavenly Blue'",
        "Betula papyrifera",
        "Cercidiphyllum japonicum",
        "Liquidambar styraciflua",
        "Picea abies",
        "Pinus strobus",
        "Cedrus atlantica",
        "Rosa 'Madame A. Meilland'",
        "Rhododendron 'Hino-crimson'",
        "Solanum lycopersicum",
        "Phormium tenax",
    ],
)
def test_kinds_every_home_designer_expects_are_there(name: str) -> None:
    assert plant(name).botanical == name


def test_what_is_grown_to_eat_is_told_apart_and_its_families_are_there() -> None:
    """Vegetables by family: nightshades, cabbages, gourds, peas, carrots, beets, daisies, onions, grasses."""
    kitchen = [p for p in PLANTS if not p.is_ornamental]
    families = {"Solanaceae", "Brassicaceae", "Cucurbitaceae", "Fabaceae", "Apiaceae", "Amaranthaceae", "Asteraceae"}
    assert families | {"Amaryllidaceae", "Poaceae", "Rosaceae"} <= {p.family for p in kitchen}
    assert plant("Salvia officinalis").is_ornamental


# -- who is hurt, and how much --


def test_every_toxic_row_grades_each_animal_and_the_grade_of_the_row_is_the_worst() -> None:
    for one in PLANTS:
        assert {who for who, _ in one.toxicity_by} == set(one.toxic_to), one.botanical
        if one.toxic_to:
            worst = max((grade for _, grade in one.toxicity_by), key=GRADES.index)
            assert one.toxicity == worst, one.botanical


@pytest.mark.parametrize(
    ("name", "who", "grade"),
    [  # printed by a vet-reviewed list and a veterinary poison service; see species for what else is listed
        ("Lilium regale", "cats", "severe"),
        ("Lilium regale", "dogs", "mild"),
        ("Hemerocallis 'Stella de Oro'", "cats", "severe"),
        ("Hemerocallis 'Stella de Oro'", "dogs", "mild"),
        ("Convallaria majalis", "dogs", "severe"),
        ("Taxus × media 'Hicksii'", "dogs", "severe"),
        ("Digitalis grandiflora", "cats", "severe"),
        ("Colchicum autumnale", "cats", "severe"),
        ("Narcissus poeticus", "dogs", "moderate"),
        ("Prunus persica 'Redhaven'", "dogs", "moderate"),
        ("Prunus persica 'Redhaven'", "cats", "mild"),
        ("Humulus lupulus 'Aureus'", "dogs", "severe"),
        ("Paeonia suffruticosa", "dogs", "mild"),
        ("Salvia nemorosa", "dogs", ""),
    ],
)
def test_grades_follow_the_printed_ones(name: str, who: str, grade: str) -> None:
    assert toxicity_for(plant(name), who) == grade


def test_the_caution_names_the_worst_first_and_never_overstates_the_rest() -> None:
    text = toxicity_text(plant("Acer rubrum 'Bowhall'"))
    assert text.startswith("severe toxicity listed for horses; others are not named")
    assert toxicity_text(plant("Hosta 'Halcyon'")).startswith("mild toxicity listed for dogs, cats, horses; others")


def test_a_row_without_grades_of_its_own_has_its_one_grade_for_all() -> None:
    row = {**cells_of(plant("Lilium regale")), "toxicity_by": ""}
    assert toxicity_for(species_from_row(row), "dogs") == "severe"


def test_a_plant_written_as_cells_is_read_back_the_same() -> None:
    for one in PLANTS:
        assert species_from_row(cells_of(one)) == one


# -- where the values come from --


def test_less_than_half_of_the_plants_are_wholly_from_memory_and_the_readme_says_how_many() -> None:
    """The wish of the workbook's own list of work: the share from memory falls below half and is shown."""
    shares = memory_shares(PLANTS)
    assert shares["every"] < 0.5
    readme = (Path(__file__).parents[2] / "gardenkit" / "data" / "README.md").read_text("utf-8")
    assert memory_words(PLANTS) in " ".join(readme.split())


def test_every_kind_of_the_reference_zone_says_to_the_half_month_when_it_flowers() -> None:
    kinds = [p for p in PLANTS if p.is_ornamental and p.bloom_start and p.zone_min <= 6 <= p.zone_max]
    assert len(kinds) > 700  # the test looks at something
    assert [p.botanical for p in kinds if not p.bloom_by_halves] == []


def test_of_bloom_to_the_half_month_only_dates_count_as_published() -> None:
    flowering, known, dated = by_halves(PLANTS)
    assert dated < known < flowering
    hop = attrs.evolve(plant("Humulus lupulus 'Aureus'"), bloom_start=7, bloom_start_half="late")
    told = attrs.evolve(hop, season_source="from memory; agrees with first flowers of a garden in Ohio, 2017")
    assert [by_halves([p]) for p in (hop, told)] == [(1, 1, 0), (1, 1, 1)]


def test_only_what_names_a_publication_counts_as_published() -> None:
    assert published("from memory") == ()
    assert published("from memory; not found in TPPT") == ()
    assert published("from memory; agrees with USDA PLANTS; agrees with TPPT bloom months") == (
        "agrees with USDA PLANTS",
        "agrees with TPPT bloom months",
    )
    assert memory_shares([]) == dict.fromkeys((*GROUPS, "every"), 0.0)


def test_one_publication_counts_once_however_many_columns_it_agrees_with() -> None:
    said = {
        "agrees with USDA PLANTS": "USDA PLANTS",
        "agrees with USDA PLANTS (species)": "USDA PLANTS",
        "agrees with TPPT bloom months (Guenthardt et al. 2018)": "TPPT",
        "agrees with TPPT (Guenthardt et al. 2018) for the species": "TPPT",
        "agrees with Sunset, shrub roses": "Sunset",
        "spacing from Iowa State University Extension, 2002": "Iowa State University Extension",
    }
    assert {part: publisher(part) for part in said} == said
    assert sum(len(publications(one)) >= 2 for one in PLANTS) == round(twice_published(PLANTS) * len(PLANTS)) >= 200
    assert twice_published([]) == 0.0


def test_every_source_says_from_memory_or_names_a_publication() -> None:
    for one in PLANTS:
        for group, parts in sources_of(one).items():
            assert getattr(one, f"{group}_source").startswith("from memory"), (one.botanical, group)
            assert all(part.startswith(("agrees with", "spacing from", "planting depth from")) for part in parts)


# -- regions --


def test_a_listing_holds_in_its_own_state_and_not_in_another() -> None:
    """Oregon OAC 603-052-1200 and New York 6 NYCRR 575; a Swiss flag says nothing of a native in the US."""
    assert listed_in(plant("Buddleja davidii"), "US-OR") == ("US-OR",)
    assert listed_in(plant("Buddleja davidii"), "US-MA") == ()
    assert listed_in(plant("Miscanthus sinensis 'Gracillimus'"), "us-ny") == ("US-NY",)
    assert listed_in(plant("Cornus sericea"), "CH") == ("CH",)
    assert listed_in(plant("Cornus sericea"), "US-MA") == ()


def test_the_country_alone_tells_of_every_state() -> None:
    assert "US-MA" in listed_in(plant("Euonymus alatus 'Compactus'"), "US")


def test_a_garden_is_told_of_listings_in_its_own_country_only() -> None:
    """The time zone database (zone.tab) says which country a zone lies in."""
    assert listed_near(plant("Cornus sericea"), "America/New_York") == ()
    assert listed_near(plant("Cornus sericea"), "Europe/Zurich") == ("CH",)
    assert listed_near(plant("Cornus sericea"), "Europe/Berlin") == ("EU",)
    assert listed_near(plant("Lantana camara"), "Pacific/Auckland") == ("NZ",)
    assert "US-MA" in listed_near(plant("Euonymus alatus 'Compactus'"), "America/Los_Angeles")
    assert (
        listed_near(plant("Cornus sericea"), "UTC") == plant("Cornus sericea").invasive_in
    )  # a garden without a place


def test_no_native_is_barred_at_home_by_an_overseas_listing() -> None:
    """North American natives with nothing but a Swiss or European flag in the toxic-plant list."""
    overseas = [p for p in PLANTS if p.native_na and p.invasive and set(p.invasive_in) <= {"CH", "EU"}]
    assert len(overseas) >= 4
    assert [p.botanical for p in overseas if listed_near(p, "America/Chicago")] == []


def test_a_region_in_words_is_refused() -> None:
    with pytest.raises(GardenError, match='the region is "Oregon"; give a country or state by its ISO code'):
        listed_in(plant("Hedera helix"), "Oregon")


def test_every_jurisdiction_of_a_listing_is_found_by_its_region() -> None:
    for one in PLANTS:
        for entry in one.invasive:
            if entry.jurisdiction.count("-") == 1 and entry.jurisdiction != "US-South":
                assert listed_in(one, entry.jurisdiction), (one.botanical, entry.jurisdiction)
            elif entry.jurisdiction == "US-South":
                assert listed_in(one, "US-GA"), one.botanical


@pytest.mark.parametrize(
    ("name", "region", "word"),
    [  # state rules as published, with their dates in the entry
        ("Berberis thunbergii 'Atropurpurea Nana'", "US-IN", "312 IAC 18-3-25, 2019"),
        ("Berberis thunbergii 'Atropurpurea Nana'", "US-NY", "6 NYCRR Part 575, 2015"),
        ("Euonymus alatus 'Compactus'", "US-NH", "Agr 3800"),
        ("Euonymus alatus 'Compactus'", "US-PA", "January 2023"),
        ("Miscanthus sinensis 'Gracillimus'", "US-NY", "6 NYCRR Part 575, 2015"),
        ("Buddleja davidii", "US-OR", "OAC 603-052-1200"),
        ("Hedera helix", "US-OR", "June 2010"),
        ("Sorbus aucuparia", "US-MN", "2026"),
    ],
)
def test_kinds_a_state_regulates_name_its_rule_and_date(name: str, region: str, word: str) -> None:
    said = [entry.sentence() for entry in plant(name).invasive if entry.jurisdiction == region]
    assert any(word in entry for entry in said), said
    assert listed_in(plant(name), region) == (region,)


def test_kinds_a_state_looked_at_does_not_list_are_not_said_to_be_listed_there() -> None:
    """Ohio's rule of 2018 names Berberis vulgaris but not Berberis thunbergii (codes.ohio.gov, 901:5-30-01)."""
    assert listed_in(plant("Berberis thunbergii 'Atropurpurea Nana'"), "US-OH") == ()


# -- sizes in trade --


def test_pots_of_the_list_fall_within_the_classes_of_the_standard() -> None:
    """ANSI Z60.1 limits in cubic inches, from memory: #1 152-251, #2 320-474, #5 785-1242, SP4 51-63."""
    limits = {"#SP4": (51, 63), "#1": (152, 251), "#2": (320, 474), "#5": (785, 1242)}
    for name, (low, high) in limits.items():
        assert low <= LITRES[name] / CUBIC_INCH <= high, name


def test_larger_classes_hold_more_and_every_size_has_words() -> None:
    classes = [name for name in NURSERY_SIZES if name in LITRES]
    assert [float(LITRES[n]) for n in classes] == sorted(float(LITRES[n]) for n in classes)
    assert nursery_size_named("#1").words("imperial") == "#1"
    assert nursery_size_named("#1").words("metric") == "3 L pot"
    assert nursery_size_named("2 in cal.").words("imperial") == "2 in cal. (about 4.0 m)"
    assert nursery_size_named("2 in cal.").words("metric") == "about 4.0 m tall"
    assert nursery_size_named("bulb").words("metric") == nursery_size_named("bulb").words("imperial") == "bulb"
    with pytest.raises(GardenError, match='no nursery size "#4"'):
        nursery_size_named("#4")
