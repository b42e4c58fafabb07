"""What flowers after what: dated records of gardens and arboreta beside the half months of the catalogue."""

import datetime as dt
from itertools import combinations, pairwise

import pytest

from gardenkit.planting.bloom import REFERENCE_PLACE, zone_shift_days
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.season import MONTH_DAYS, bloom_days
from gardenkit.site.phenology import hopkins_between

CATALOGUE = load_catalogue()
SPREAD = 10.0  # days between one year and the next: planted.md 5, of an Illinois garden 2010 to 2014
HALF = MONTH_DAYS / 2

# First flowers of one garden in central New Jersey in 2006, day by day (medamana.org, "Order of bloom in our garden")
NEW_JERSEY = {
    "Magnolia stellata": "03-30",
    "Magnolia × soulangeana": "04-09",
    "Rhododendron 'P.J.M.'": "04-09",
    "Muscari armeniacum": "04-09",
    "Pachysandra terminalis": "04-09",
    "Prunus sargentii": "04-13",
    "Cercis canadensis 'Forest Pansy'": "04-20",
    "Cornus florida": "04-22",
    "Prunus 'Kanzan'": "04-22",
    "Malus domestica 'Golden Delicious'": "04-22",
    "Syringa vulgaris": "04-28",
    "Aronia melanocarpa": "04-29",
    "Convallaria majalis": "04-29",
    "Cornus kousa": "05-13",
    "Iris sibirica 'Caesar's Brother'": "05-19",
    "Baptisia australis": "05-20",
    "Styrax japonicus": "05-20",
    "Chionanthus virginicus": "05-20",
    "Cladrastis kentukea": "05-27",
    "Nepeta × faassenii": "05-27",
    "Papaver orientale": "05-30",
    "Paeonia lactiflora 'Festiva Maxima'": "05-30",
    "Philadelphus coronarius": "05-30",
    "Stewartia pseudocamellia": "06-17",
    "Phlox paniculata 'David'": "06-25",
}
# A botanist's garden in central Illinois in 2010, an early year: phytophactor.fieldofscience.com, garden flowering log
ILLINOIS = {
    "Ilex glabra": "06-02",
    "Astrantia major": "06-02",
    "Coreopsis verticillata 'Moonbeam'": "06-04",
    "Hydrangea quercifolia": "06-06",
    "Echinacea purpurea": "06-09",
    "Yucca filamentosa": "06-10",
    "Hydrangea arborescens 'Annabelle'": "06-12",
    "Stokesia laevis": "06-12",
    "Rosa setigera": "06-14",
    "Stewartia pseudocamellia": "06-20",
    "Monarda didyma 'Jacob Cline'": "06-21",
    "Ratibida pinnata": "06-26",
    "Lilium lancifolium": "06-30",
    "Clematis terniflora": "09-02",
    "Anemone × hybrida 'Honorine Jobert'": "09-05",
    "Hylotelephium 'Herbstfreude'": "09-09",
    "Eurybia divaricata": "09-10",
    "Chelone glabra": "09-10",
    "Symphyotrichum novae-angliae": "09-18",
    "Tricyrtis hirta": "09-18",
}
# Days of the year of first flowers in Concord, Massachusetts: means of what is listed for 1888 to 1902 and 2004 to 2006
# (Primack Lab, after Hosmer and others)
CONCORD = {
    "Ajuga reptans": 121,
    "Actaea pachypoda": 145,
    "Acer pensylvanicum": 137,
    "Actaea rubra": 145,
    "Achillea millefolium": 158,
    "Apios americana": 222,
}
# Earliest and latest first flowers since 1958 in the Eloise Butler Wildflower Garden, Minneapolis, zone 4
MINNESOTA = {
    "Sanguinaria canadensis": ("03-31", "04-28"),
    "Erythronium albidum": ("04-07", "05-02"),
    "Dicentra cucullaria": ("04-13", "05-06"),
    "Viola canadensis": ("04-12", "05-10"),
    "Uvularia grandiflora": ("04-15", "05-07"),
    "Caltha palustris": ("04-16", "05-07"),
    "Trillium grandiflorum": ("04-10", "05-22"),
}
# What was in flower between two days in a garden: its latitude, longitude and metres, then the days and the kinds
IN_BLOOM = {
    "Missouri Botanical Garden (mobot.org, plants in bloom), 1999": (
        (38.6, -90.3, 150.0),
        ("04-16", "04-22"),
        (
            "Ajuga reptans",
            "Arabis alpina subsp. caucasica",
            "Aronia arbutifolia 'Brilliantissima'",
            "Bergenia cordifolia",
            "Brunnera macrophylla",
            "Cercis canadensis",
            "Fothergilla gardenii",
            "Iberis sempervirens",
            "Lamprocapnos spectabilis",
            "Phlox subulata",
            "Pulmonaria saccharata",
        ),
    ),
    "gardens of Chicago (Chicago Tribune, 22 July 2007)": (
        (41.8, -88.0, 210.0),
        ("07-22", "07-22"),
        (
            "Echinacea purpurea",
            "Hibiscus moscheutos",
            "Hydrangea paniculata",
            "Knautia macedonica",
            "Liatris spicata",
            "Platycodon grandiflorus",
            "Salvia yangii",
            "Veronicastrum virginicum",
        ),
    ),
    "Cleveland Botanical Garden (The garden in bloom), early March": (
        (41.5, -81.6, 210.0),
        ("03-01", "03-15"),
        (
            "Crocus tommasinianus",
            "Galanthus elwesii",
            "Galanthus nivalis",
            "Helleborus × hybridus",
            "Iris reticulata",
            "Sarcococca hookeriana var. humilis",
        ),
    ),
}
# Degree days above 50 F of the first flowers, Ohio State University (planting.md g, and bygl.osu.edu for Cornus mas)
OHIO = {
    "Cornus mas": 40,
    "Acer rubrum": 44,
    "Magnolia stellata": 83,
    "Forsythia × intermedia": 86,
    "Magnolia × soulangeana": 133,
    "Cercis canadensis": 191,
    "Halesia carolina": 213,
    "Syringa vulgaris": 234,
    "Cornus florida": 263,
    "Robinia pseudoacacia 'Frisia'": 467,
}
# Three-year averages of the Nichols Arboretum, south-east Michigan, kinds of one line in no order (planted.md 5)
MICHIGAN = (
    ("Galanthus nivalis", "Vinca minor"),
    ("Sanguinaria canadensis", "Crocus vernus", "Narcissus 'Dutch Master'", "Caltha palustris"),
    ("Arisaema triphyllum", "Convallaria majalis", "Podophyllum peltatum"),
    ("Hemerocallis 'Hyperion'",),
)
MICHIGAN_WOODY = (
    ("Cornus mas",),
    ("Forsythia × intermedia", "Magnolia stellata", "Amelanchier laevis", "Acer saccharum"),
    ("Malus floribunda", "Cornus florida", "Rhododendron catawbiense", "Chionanthus virginicus"),
    ("Kalmia latifolia", "Philadelphus coronarius", "Syringa reticulata"),
    ("Hydrangea paniculata",),
)
# Months of central Pennsylvania (planting.md f)
PENNSYLVANIA = {
    3: ("Iris reticulata", "Eranthis hyemalis", "Hamamelis × intermedia 'Pallida'"),
    4: ("Tulipa 'Madame Lefeber'", "Bergenia cordifolia", "Sanguinaria canadensis", "Brunnera macrophylla"),
    5: ("Camassia leichtlinii subsp. suksdorfii", "Tulipa 'Queen of Night'", "Amsonia tabernaemontana"),
}


def first_half(name: str) -> int:
    """The half month of the first flower, 1 (early January) to 24."""
    return CATALOGUE[name].bloom_halves[0]


def day_of(date: str) -> int:
    return dt.date.fromisoformat(f"2006-{date}").timetuple().tm_yday


@pytest.mark.parametrize("record", [NEW_JERSEY, ILLINOIS], ids=["New Jersey 2006", "Illinois 2010"])
def test_what_a_garden_saw_weeks_apart_comes_in_the_same_order_here(record: dict[str, str]) -> None:
    pairs = [(a, b) for a, b in combinations(record, 2) if day_of(record[b]) - day_of(record[a]) >= HALF + SPREAD]
    assert len(pairs) > 50  # the test looks at something
    assert [(a, b) for a, b in pairs if first_half(a) > first_half(b)] == []


@pytest.mark.parametrize("record", [NEW_JERSEY, ILLINOIS], ids=["New Jersey 2006", "Illinois 2010"])
def test_the_first_flower_is_a_half_month_off_a_record_at_most_and_the_spread_of_the_years(
    record: dict[str, str],
) -> None:
    """From the day seen to the nearest day of our half month; both years were early ones, so ours may be later."""
    off = {}
    for name, date in record.items():
        days = bloom_days(CATALOGUE[name])
        assert days is not None
        late = days[0] - HALF / 2 - day_of(date)  # from the day seen to the beginning of our half
        if not -HALF - SPREAD <= late <= HALF + SPREAD:
            off[name] = late
    assert off == {}


def test_wild_flowers_open_when_they_did_in_concord() -> None:
    for name, day in CONCORD.items():
        days = bloom_days(CATALOGUE[name])
        assert days is not None
        begins = days[0] - HALF / 2
        assert begins - SPREAD <= day <= begins + HALF + SPREAD, name


@pytest.mark.parametrize("garden", IN_BLOOM)
def test_moved_to_a_garden_by_hopkins_they_are_in_flower_when_it_saw_them(garden: str) -> None:
    place, (first, last), names = IN_BLOOM[garden]
    for name in names:
        days = bloom_days(CATALOGUE[name], hopkins_between(REFERENCE_PLACE, place))
        assert days is not None
        assert days[0] - HALF / 2 - SPREAD <= day_of(last) and days[1] + HALF / 2 + SPREAD >= day_of(first), name


def test_moved_to_minnesota_they_open_within_the_dates_of_half_a_century() -> None:
    """By our own ten days a zone (house value): the half month moved there touches the days seen."""
    for name, (first, last) in MINNESOTA.items():
        days = bloom_days(CATALOGUE[name], zone_shift_days("4"))
        assert days is not None
        assert days[0] + HALF / 2 >= day_of(first) and days[0] - HALF / 2 <= day_of(last), name


def test_trees_and_shrubs_flower_in_the_order_of_ohios_degree_days() -> None:
    assert [(a, b) for a, b in pairwise(OHIO) if first_half(a) > first_half(b) + 1] == []
    pairs = [(a, b) for a, b in combinations(OHIO, 2) if OHIO[b] >= 1.5 * OHIO[a]]
    assert [(a, b) for a, b in pairs if first_half(a) > first_half(b)] == []


@pytest.mark.parametrize("lines", [MICHIGAN, MICHIGAN_WOODY], ids=["herbs", "woody"])
def test_groups_of_the_nichols_arboretum_follow_each_other(lines: tuple[tuple[str, ...], ...]) -> None:
    for earlier, later in pairwise(lines):
        assert max(map(first_half, earlier)) <= min(map(first_half, later)) + 1, (earlier, later)
        mean_before, mean_after = (sum(map(first_half, line)) / len(line) for line in (earlier, later))
        assert mean_before < mean_after, (earlier, later)


def test_kinds_of_the_pennsylvania_calendar_flower_in_its_month() -> None:
    for month, names in PENNSYLVANIA.items():
        for name in names:
            assert {2 * month - 1, 2 * month} & set(CATALOGUE[name].bloom_halves), name


def test_the_cornelian_cherry_flowers_in_the_span_of_the_arnold_arboretum() -> None:
    """Boston, 3 to 25 April in 1914 to 1920 (planted.md 5); late March in Michigan and Ohio since."""
    assert CATALOGUE["Cornus mas"].bloom_halves == (6, 7)


def test_tulips_and_daffodils_come_in_the_order_of_their_classes() -> None:
    """Fosteriana, then Darwin hybrid and Triumph, then late ones (Eden Brothers, types of tulips)."""
    early, middle, late = (
        ("Tulipa 'Madame Lefeber'", "Narcissus 'Tête-à-tête'"),
        ("Tulipa 'Apeldoorn'", "Tulipa 'Negrita'", "Narcissus 'Thalia'"),
        ("Tulipa 'Queen of Night'", "Tulipa 'Angélique'", "Tulipa 'White Triumphator'"),
    )
    assert max(map(first_half, early)) < min(map(first_half, middle))
    assert max(map(first_half, middle)) < min(map(first_half, late))


def test_fruit_trees_follow_each_other_from_apricot_to_apple() -> None:
    """Casa del Mell, Okanagan: apricots early April, peaches, plums and pears mid April, apples late April."""
    order = ("Prunus armeniaca 'Moorpark'", "Prunus persica 'Redhaven'", "Prunus domestica 'Victoria'")
    order += ("Malus domestica 'Golden Delicious'", "Cydonia oblonga 'Vranja'")
    halves = [first_half(name) for name in order]
    assert halves == sorted(halves)
    assert first_half("Pyrus communis 'Conference'") <= first_half("Malus domestica 'Liberty'")


def test_lilacs_follow_each_other() -> None:
    """Common, then the dwarf ones, then Preston lilacs (Montana State University Extension MT199805AG), tree lilac."""
    order = ("Syringa vulgaris", "Syringa meyeri 'Palibin'", "Syringa × prestoniae 'Miss Canada'")
    halves = [first_half(name) for name in order]
    assert halves == sorted(halves) and len(set(halves)) == 3
    assert first_half("Syringa pubescens subsp. patula 'Miss Kim'") == 10  # "second half of May" (Root Concerns, 2020)
    last = [CATALOGUE[name].bloom_halves[-1] for name in (order[-1], "Syringa reticulata")]
    assert last[0] < last[1]
